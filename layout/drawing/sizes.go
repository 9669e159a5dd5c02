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
	off := 40 + 0.06*max(r.Size().X, r.Size().Y)
	p.dimension(Dimension{A: pt(r.X.Hi, r.Y.Lo), B: pt(r.X.Lo, r.Y.Lo), Offset: off})
	p.dimension(Dimension{A: pt(r.X.Lo, r.Y.Hi), B: pt(r.X.Lo, r.Y.Lo), Offset: -off})
}

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
	if b.Sub(a).Norm() > 0.5 {
		p.dimension(Dimension{A: a, B: b})
	}
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
