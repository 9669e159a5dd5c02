package geometry

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// Rect is an oriented rectangle: Half holds its half sizes in mm along its own
// axes, which are turned anticlockwise by Turn about Centre.
type Rect struct {
	Centre r2.Point
	Half   r2.Point
	Turn   s1.Angle
}

// corners are the corners, anticlockwise, from the least of its own axes.
func (r Rect) corners() [4]r2.Point {
	t := turnOf(r.Turn)
	u, v := r2.Point{X: t.cos * r.Half.X, Y: t.sin * r.Half.X}, r2.Point{X: -t.sin * r.Half.Y, Y: t.cos * r.Half.Y}
	return [4]r2.Point{
		{X: r.Centre.X - u.X - v.X, Y: r.Centre.Y - u.Y - v.Y},
		{X: r.Centre.X + u.X - v.X, Y: r.Centre.Y + u.Y - v.Y},
		{X: r.Centre.X + u.X + v.X, Y: r.Centre.Y + u.Y + v.Y},
		{X: r.Centre.X - u.X + v.X, Y: r.Centre.Y - u.Y + v.Y},
	}
}

// Corners are the corners, anticlockwise, from the least of its own axes.
func (r Rect) Corners() Ring {
	c := r.corners()
	return c[:]
}

// Polygon is the rectangle as a polygon.
func (r Rect) Polygon() Polygon { return Polygon{Outer: r.Corners()} }

// Area is the area in mm².
func (r Rect) Area() float64 { return 4 * r.Half.X * r.Half.Y }

// Bounds is the smallest axis-parallel rectangle around it.
func (r Rect) Bounds() r2.Rect {
	e := r.reach(turnOf(r.Turn))
	return boundsOf(r.Centre.Sub(e), r.Centre.Add(e))
}

// reach is half the size of the bounds.
func (r Rect) reach(t rotation) r2.Point {
	c, s := math.Abs(t.cos), math.Abs(t.sin)
	return r2.Point{X: c*r.Half.X + s*r.Half.Y, Y: s*r.Half.X + c*r.Half.Y}
}

// Grown is the rectangle with each side moved outward by d mm (inward when d
// is negative, to no less than nothing).
func (r Rect) Grown(d float64) Rect {
	r.Half = r2.Point{X: max(0, r.Half.X+d), Y: max(0, r.Half.Y+d)}
	return r
}

// Overlaps tells whether the interiors share a point. Rectangles turned by
// whole quarter turns are judged exactly on the lattice; for others an overlap
// no deeper than two lattice steps counts as touching. It does not allocate.
func (r Rect) Overlaps(o Rect) bool {
	tr, to := turnOf(r.Turn), turnOf(o.Turn)
	if tr.square() && to.square() {
		return r.box(tr).overlaps(o.box(to))
	}
	d := o.Centre.Sub(r.Centre)
	er, eo := r.reach(tr), o.reach(to)
	if math.Abs(d.X) >= er.X+eo.X || math.Abs(d.Y) >= er.Y+eo.Y {
		return false
	}
	return r.depth(o, tr, to) > touching
}

// touching is the depth in mm up to which an overlap of turned shapes counts
// as contact: rounding each of two shapes moves it by up to 0.71 steps.
const touching = 2 * Lattice

// box is the rectangle on the lattice; t must be its turn, and square.
func (r Rect) box(t rotation) box {
	e := r.reach(t)
	return box{toNode(r.Centre.Sub(e)), toNode(r.Centre.Add(e))}
}

// depth is the least distance in mm by which o must move along a side of
// either rectangle for the two to come apart; negative when they are apart.
// The axes of the sides are enough for convex shapes (separating axis theorem,
// Gottschalk, Lin and Manocha, SIGGRAPH 1996).
func (r Rect) depth(o Rect, tr, to rotation) float64 {
	d := o.Centre.Sub(r.Centre)
	c := math.Abs(tr.cos*to.cos + tr.sin*to.sin)
	s := math.Abs(tr.sin*to.cos - tr.cos*to.sin)
	a := r.Half.X + c*o.Half.X + s*o.Half.Y - math.Abs(d.X*tr.cos+d.Y*tr.sin)
	b := r.Half.Y + s*o.Half.X + c*o.Half.Y - math.Abs(d.Y*tr.cos-d.X*tr.sin)
	e := o.Half.X + c*r.Half.X + s*r.Half.Y - math.Abs(d.X*to.cos+d.Y*to.sin)
	f := o.Half.Y + s*r.Half.X + c*r.Half.Y - math.Abs(d.Y*to.cos-d.X*to.sin)
	return min(a, b, e, f)
}

// Distance is the least distance in mm between the rectangles, zero when they
// touch or overlap. It does not allocate.
func (r Rect) Distance(o Rect) float64 {
	tr, to := turnOf(r.Turn), turnOf(o.Turn)
	if tr.square() && to.square() {
		er, eo := r.reach(tr), o.reach(to)
		dx := max(0, math.Abs(o.Centre.X-r.Centre.X)-er.X-eo.X)
		dy := max(0, math.Abs(o.Centre.Y-r.Centre.Y)-er.Y-eo.Y)
		return math.Hypot(dx, dy)
	}
	if r.depth(o, tr, to) >= 0 {
		return 0
	}
	return math.Sqrt(min(r.nearest(o, to), o.nearest(r, tr)))
}

// nearest is the least squared distance from the corners of r to o, whose turn
// is t.
func (r Rect) nearest(o Rect, t rotation) float64 {
	best := math.Inf(1)
	for _, c := range r.corners() {
		d := c.Sub(o.Centre)
		x := max(0, math.Abs(d.X*t.cos+d.Y*t.sin)-o.Half.X)
		y := max(0, math.Abs(d.Y*t.cos-d.X*t.sin)-o.Half.Y)
		best = min(best, x*x+y*y)
	}
	return best
}
