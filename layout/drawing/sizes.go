package drawing

import (
	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"

	"stowbay/layout"
)

func (p *pen) dimensioned(m Mark) bool {
	return m&Selected != 0 && p.o.Dimensions && p.o.on(LayerDimensions)
}

// sizes dimensions a selected thing under it and at its left.
func (p *pen) sizes(m Mark, r r2.Rect) {
	if !p.dimensioned(m) {
		return
	}
	off := max(40+0.06*max(r.Size().X, r.Size().Y), 1.4*p.dimensionMM())
	p.dimension(Dimension{A: pt(r.X.Hi, r.Y.Lo), B: pt(r.X.Lo, r.Y.Lo), Offset: off})
	p.dimension(Dimension{A: pt(r.X.Lo, r.Y.Hi), B: pt(r.X.Lo, r.Y.Lo), Offset: -off})
	w, h := TextWidth(length(r.Size().X, p.o.Imperial))*p.dimensionMM(), TextWidth(length(r.Size().Y, p.o.Imperial))*p.dimensionMM()
	p.taken = append(p.taken, r2.RectFromCenterSize(pt(r.Center().X, r.Y.Lo-off+0.5*p.dimensionMM()), pt(w, p.dimensionMM())),
		r2.RectFromCenterSize(pt(r.X.Lo-off-0.5*p.dimensionMM(), r.Center().Y), pt(p.dimensionMM(), h)))
}

// dimensionMM is about how high the text of a dimension stands in the view. Its size is one of the paper or screen;
// names, which are scaled so that they can be read there, tell what that is in the view.
func (p *pen) dimensionMM() float64 { return 40 * p.o.names() }

// gaps dimensions what is free on the four sides of a selected module: up to its neighbour or to the inside of
// the box, whichever comes first. Turned boxes are left out, where the gaps do not run along the view's axes.
func (p *pen) gaps(b *layout.BoxScene, m *layout.Body) {
	if !p.dimensioned(p.o.mark(m.ID)) || !square(b) {
		return
	}
	r := p.prismExtent(m.Prism)
	free := p.spaceExtent(b.Inner)
	for _, n := range b.Modules {
		if n != m && p.sameRow(m, n) {
			free = shrunk(free, r, p.prismExtent(n.Prism))
		}
	}
	x, y := r.X.Hi-0.2*r.Size().X, r.Y.Lo+0.25*r.Size().Y
	p.gap(pt(free.X.Lo, y), pt(r.X.Lo, y))
	p.gap(pt(r.X.Hi, y), pt(free.X.Hi, y))
	p.gap(pt(x, free.Y.Lo), pt(x, r.Y.Lo))
	p.gap(pt(x, r.Y.Hi), pt(x, free.Y.Hi))
}

func (p *pen) gap(a, b r2.Point) {
	d := b.Sub(a)
	text := length(d.Norm(), p.o.Imperial)
	switch size := p.dimensionMM(); {
	case d.Norm() <= 0.5:
	case d.Norm() > 1.3*TextWidth(text)*size:
		p.dimension(Dimension{A: a, B: b})
	default:
		p.narrowGap(a, b, text)
	}
}

// narrowGap dimensions a gap that is too narrow for its text: a line across it with its ends marked, and the text where
// there is room, with a leader.
func (p *pen) narrowGap(a, b r2.Point, text string) {
	t := Tag{Role: RoleDimension}
	p.segment(t, a, b)
	p.endMark(t, a, b)
	p.endMark(t, b, a)
	m := a.Add(b).Mul(0.5)
	off := p.dimensionMM()
	p.wish(wish{s: text, size: 40, role: RoleDimension, soft: true, tip: func(r2.Point) r2.Point { return m },
		at: []spot{{m.Add(pt(0, off)), Middle}, {m.Sub(pt(0, off)), Middle}, {m.Add(pt(off, 0)), West}, {m.Sub(pt(off, 0)), East}}})
}

// square tells whether a box stands along the vehicle's axes.
func square(b *layout.BoxScene) bool {
	d := b.Frame.Direction(directions["rear"])
	return d.X*d.Y == 0
}

// sameRow tells whether two modules stand at the same depth of the view, so that the gap between them is real.
func (p *pen) sameRow(m, n *layout.Body) bool { return p.depth(m).Intersects(p.depth(n)) }

func (p *pen) depth(m *layout.Body) r1.Interval {
	switch p.v {
	case SideView:
		return m.Prism.Base.Bounds().Y
	case RearView:
		return m.Prism.Base.Bounds().X
	}
	return r1.Interval{Lo: m.Prism.Bottom, Hi: m.Prism.Top}
}

// shrunk takes off the free space about r what a neighbour beside or above it stands in.
func shrunk(free, r, n r2.Rect) r2.Rect {
	if n.Y.InteriorIntersects(r.Y) {
		free.X = cut(free.X, r.X, n.X)
	}
	if n.X.InteriorIntersects(r.X) {
		free.Y = cut(free.Y, r.Y, n.Y)
	}
	return free
}

func cut(free, r, n r1.Interval) r1.Interval {
	if n.Hi <= r.Lo {
		free.Lo = max(free.Lo, n.Hi)
	}
	if n.Lo >= r.Hi {
		free.Hi = min(free.Hi, n.Lo)
	}
	return free
}
