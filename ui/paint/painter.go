package paint

import (
	"image"
	"math"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// Painter paints display lists. It keeps glyphs and buffers from one picture to the next and is used by one
// goroutine at a time.
type Painter struct {
	look    Look
	regular *face
	medium  *face
	fill    filler

	// of the picture being painted
	picture *image.RGBA
	dst     surface
	cam     Camera
	off     r2.Point // top left pixel of the part that is painted
	pxPerPt float64
	view    r2.Rect
}

// New returns a painter that paints with a look.
func New(look Look) *Painter {
	return &Painter{look: look, regular: regular(), medium: medium()}
}

// SetLook changes the look of the pictures painted from now on.
func (p *Painter) SetLook(look Look) { p.look = look }

// Begin takes a picture to paint on, how places map to it and how many of its pixels a point measures, and paints
// the paper.
func (p *Painter) Begin(dst *image.RGBA, cam Camera, pxPerPt float64) {
	p.On(dst, cam, pxPerPt)
	p.dst.clear(inkOf(p.look.Paper()))
}

// On takes a picture to go on painting on, as [Painter.Begin] does but for the paper.
func (p *Painter) On(dst *image.RGBA, cam Camera, pxPerPt float64) {
	p.picture, p.dst, p.cam, p.pxPerPt = dst, surfaceOf(dst), cam, pxPerPt
	p.off, p.view = r2.Point{}, cam.Visible()
}

// onPart takes a part of a picture to go on painting on; cam is that of the whole picture.
func (p *Painter) onPart(dst *image.RGBA, part image.Rectangle, cam Camera, pxPerPt float64) {
	part = part.Add(dst.Rect.Min)
	p.On(dst.SubImage(part).(*image.RGBA), cam, pxPerPt)
	lo, hi := part.Min.Sub(dst.Rect.Min), part.Max.Sub(dst.Rect.Min)
	p.off = r2.Point{X: float64(lo.X), Y: float64(lo.Y)}
	p.view = r2.RectFromPoints(cam.ToMM(p.off), cam.ToMM(r2.Point{X: float64(hi.X), Y: float64(hi.Y)}))
}

// Paint paints the items of a list in their order.
func (p *Painter) Paint(list *drawing.List) {
	if list != nil {
		p.Items(list.Items)
	}
}

// Items paints items in their order.
func (p *Painter) Items(items []drawing.Item) {
	for _, it := range items {
		p.item(it)
	}
}

func (p *Painter) item(it drawing.Item) {
	if p.sane(it) {
		p.put(it)
	}
}

// put paints an item whose places are numbers that can be painted.
func (p *Painter) put(it drawing.Item) {
	st := p.look.Style(it.Tag())
	switch v := it.(type) {
	case drawing.Fill:
		if p.seen(v.Area) {
			p.fill.polygon(p.dst, v.Area, p.at, inkOf(st.Fill))
		}
	case drawing.Stroke:
		p.stroke(v, st)
	case drawing.Hatch:
		if p.seen(v.Area) {
			p.hatch(v, st)
		}
	case drawing.Text:
		p.text(v, st)
	case drawing.Dimension:
		p.dimension(v, st)
	}
}

// farPx is how far from the picture a coordinate may lie, so that sums of coordinates keep their meaning.
const farPx = 1e9

// sane reports whether all places of an item are numbers that can be painted; items with others are left out.
func (p *Painter) sane(it drawing.Item) bool {
	switch v := it.(type) {
	case drawing.Fill:
		return p.nearAll(v.Area.Outer)
	case drawing.Hatch:
		return p.nearAll(v.Area.Outer) && math.Abs(v.Deg) < farPx && v.PitchPt >= 0
	case drawing.Stroke:
		return p.nearAll(v.Points)
	case drawing.Text:
		return p.near(v.At) && math.Abs(v.Deg) < farPx
	case drawing.Dimension:
		return p.near(v.A) && p.near(v.B) && math.Abs(v.Offset)*p.cam.Scale < farPx
	}
	return false
}

func (p *Painter) nearAll(ps []r2.Point) bool {
	for _, q := range ps {
		if !p.near(q) {
			return false
		}
	}
	return true
}

func (p *Painter) near(q r2.Point) bool {
	return math.Abs(q.X-p.cam.Centre.X)*p.cam.Scale < farPx && math.Abs(q.Y-p.cam.Centre.Y)*p.cam.Scale < farPx
}

// at is where a place lies in the part that is painted. Taking whole pixels off is exact, so that parts fit together.
func (p *Painter) at(q r2.Point) r2.Point { return p.cam.ToPx(q).Sub(p.off) }

// seen reports whether any of an area, or the ends of lines in it, can lie in the picture.
func (p *Painter) seen(a geometry.Polygon) bool {
	return p.view.ExpandedByMargin(edgePx / p.cam.Scale).Intersects(a.Outer.Bounds())
}

// edgePx is how far lines reach beyond an area that they fill, at most, in pixels.
const edgePx = 8

func (p *Painter) line(pt float64, st drawing.Style) float64 {
	if pt == 0 {
		pt = st.Pt
	}
	return pt * p.pxPerPt
}

func (p *Painter) stroke(v drawing.Stroke, st drawing.Style) {
	var buf [16]r2.Point
	ps := buf[:0]
	for _, q := range v.Points {
		ps = append(ps, p.at(q))
	}
	dash := v.Dash
	if dash == nil {
		dash = st.Dash
	}
	p.dst.polyline(ps, v.Closed, p.line(v.Pt, st), p.scaled(dash), inkOf(st.Line))
}

func (p *Painter) scaled(dash []float64) []float64 {
	if len(dash) == 0 {
		return nil
	}
	out := make([]float64, len(dash))
	for i, d := range dash {
		out[i] = d * p.pxPerPt
	}
	return out
}

func (p *Painter) hatch(v drawing.Hatch, st drawing.Style) {
	rings := [][]r2.Point{pixels(v.Area.Outer, p.at)}
	for _, h := range v.Area.Holes {
		rings = append(rings, pixels(h, p.at))
	}
	pitch := v.PitchPt
	if pitch == 0 {
		pitch = st.Pitch
	}
	pitch *= p.pxPerPt
	k, w, o := inkOf(st.Line), p.line(0, st), p.at(r2.Point{})
	p.dst.hatch(rings, o, v.Deg, pitch, w, k)
	if v.Cross {
		p.dst.hatch(rings, o, v.Deg+90, pitch, w, k)
	}
}

// smallestPx is the size below which a text cannot be read and is left out.
const smallestPx = 6

func (p *Painter) text(v drawing.Text, st drawing.Style) {
	if l, f, ok := p.label(v, st); ok {
		p.dst.text(f, l, inkOf(st.Text), inkOf(p.look.Paper()))
	}
}

// label is a text ready to be painted, with its font; false for one too small to be read.
func (p *Painter) label(v drawing.Text, st drawing.Style) (label, *face, bool) {
	px := v.InMM * p.cam.Scale
	if v.InMM == 0 {
		pt := v.Pt
		if pt == 0 {
			pt = st.Size
		}
		px = pt * p.pxPerPt
	}
	f := p.regular
	if st.Bold {
		f = p.medium
	}
	return label{s: v.S, at: p.at(v.At), px: px, deg: v.Deg, anchor: v.Anchor, halo: v.Halo}, f, px >= smallestPx
}
