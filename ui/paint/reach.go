package paint

import (
	"image"
	"math"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// reach is a rectangle of pixels of the whole picture outside which an item paints nothing; empty for one that cannot be
// painted.
func (p *Painter) reach(it drawing.Item) image.Rectangle {
	if !p.sane(it) {
		return image.Rectangle{}
	}
	switch v := it.(type) {
	case drawing.Fill:
		return about(p.cover(v.Area.Outer), 1)
	case drawing.Hatch:
		return about(p.cover(v.Area.Outer), p.line(0, p.look.Style(v.Of))+2)
	case drawing.Stroke:
		width := v.Pt
		if width == 0 {
			width = p.look.Style(v.Of).Pt
		}
		return about(p.cover(v.Points), width*p.pxPerPt+2)
	case drawing.Text:
		return p.textReach(v)
	case drawing.Dimension:
		return p.dimensionReach(v)
	}
	return image.Rectangle{}
}

// cover is the rectangle of pixels about points.
func (p *Painter) cover(ps []r2.Point) r2.Rect {
	r := r2.EmptyRect()
	for _, q := range ps {
		r = r.AddPoint(p.at(q))
	}
	return r
}

func (p *Painter) textReach(v drawing.Text) image.Rectangle {
	l, f, ok := p.label(v, p.look.Style(v.Of))
	if !ok {
		return image.Rectangle{}
	}
	w := f.width(v.S, l.px)
	r := r2.RectFromCenterSize(l.at, r2.Point{X: w, Y: l.px})
	if v.Deg != 0 {
		r = r2.RectFromCenterSize(l.at, r2.Point{X: w + l.px, Y: w + l.px})
	}
	// an anchor moves it by half its size in any direction; glyphs reach beyond their widths and the size
	out := r2.Rect{X: r.X.Expanded(r.X.Length() / 2), Y: r.Y.Expanded(r.Y.Length() / 2)}
	return about(out, l.px/2+haloPx+2)
}

func (p *Painter) dimensionReach(d drawing.Dimension) image.Rectangle {
	along := d.B.Sub(d.A)
	if along.Norm() == 0 {
		return image.Rectangle{}
	}
	left := along.Ortho().Mul(d.Offset / along.Norm())
	st := p.look.Style(d.Of)
	px := st.Size * p.pxPerPt
	wide := max(p.regular.width(d.S, px), 12*px) // the distance, where the text is left to it, has fewer figures
	return about(p.cover([]r2.Point{d.A, d.B, d.A.Add(left), d.B.Add(left)}), wide+2*px+8*p.pxPerPt+8)
}

// about rounds a rectangle outward with a margin. What lies far outside any picture is cut.
func about(r r2.Rect, margin float64) image.Rectangle {
	if r.IsEmpty() {
		return image.Rectangle{}
	}
	whole := func(v float64) int { return int(min(max(v, -1e6), 1e6)) }
	return image.Rect(whole(math.Floor(r.X.Lo-margin)), whole(math.Floor(r.Y.Lo-margin)), whole(math.Ceil(r.X.Hi+margin)), whole(math.Ceil(r.Y.Hi+margin)))
}
