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
	return about(l.block(f), l.px/4+haloPx+2)
}

// block is the rectangle of pixels about a text: from below its descenders to above accents on capitals.
func (l label) block(f *face) r2.Rect {
	w := f.width(l.s, l.px)
	pen := l.start(w)
	sin, cos := math.Sincos(-l.deg * math.Pi / 180)
	along, up := r2.Point{X: cos, Y: sin}.Mul(w), r2.Point{X: sin, Y: -cos}.Mul(l.px)
	out := r2.EmptyRect()
	for _, q := range []r2.Point{pen, pen.Add(along)} {
		out = out.AddPoint(q.Add(up.Mul(1.1))).AddPoint(q.Sub(up.Mul(0.3)))
	}
	return out
}

func (p *Painter) dimensionReach(d drawing.Dimension) image.Rectangle {
	along := d.B.Sub(d.A)
	length := along.Norm()
	if length == 0 {
		return image.Rectangle{}
	}
	left := along.Ortho().Mul(d.Offset / length)
	st := p.look.Style(d.Of)
	l, f := p.dimensionLabel(d, p.at(d.A.Add(left)), p.at(d.B.Add(left)), length, st)
	out := p.cover([]r2.Point{d.A, d.B, d.A.Add(left), d.B.Add(left)}).Union(l.block(f))
	return about(out, max(l.px/4+haloPx, 5*p.pxPerPt+2*p.line(0, st))+2)
}

// about rounds a rectangle outward with a margin. What lies far outside any picture is cut.
func about(r r2.Rect, margin float64) image.Rectangle {
	if r.IsEmpty() {
		return image.Rectangle{}
	}
	whole := func(v float64) int { return int(min(max(v, -1e6), 1e6)) }
	return image.Rect(whole(math.Floor(r.X.Lo-margin)), whole(math.Floor(r.Y.Lo-margin)), whole(math.Ceil(r.X.Hi+margin)), whole(math.Ceil(r.Y.Hi+margin)))
}
