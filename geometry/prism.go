package geometry

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Prism is the upright prism over Base from height Bottom to height Top, mm.
type Prism struct {
	Base        Polygon
	Bottom, Top float64
}

// NewBox is the axis-parallel box with the two given opposite corners.
func NewBox(a, b r3.Vector) Prism {
	return Prism{Base: NewRect(a.X, a.Y, b.X, b.Y), Bottom: min(a.Z, b.Z), Top: max(a.Z, b.Z)}
}

// Height is the height in mm.
func (p Prism) Height() float64 { return p.Top - p.Bottom }

// Volume is the volume in mm³.
func (p Prism) Volume() float64 { return p.Base.Area() * p.Height() }

// Centroid is the centre of volume.
func (p Prism) Centroid() r3.Vector {
	return at(p.Base.Centroid(), (p.Bottom+p.Top)/2)
}

// Translate moves the prism by d.
func (p Prism) Translate(d r3.Vector) Prism {
	return Prism{Base: p.Base.Translate(r2.Point{X: d.X, Y: d.Y}), Bottom: p.Bottom + d.Z, Top: p.Top + d.Z}
}

// Contains tells where a point lies, exactly on the lattice.
func (p Prism) Contains(v r3.Vector) Location {
	z, lo, hi := steps(v.Z), steps(p.Bottom), steps(p.Top)
	if z < lo || z > hi {
		return Outside
	}
	l := p.Base.Contains(flatten(v))
	if l == Inside && (z == lo || z == hi) {
		return Boundary
	}
	return l
}

// Overlaps tells whether the interiors share a point: heights exactly on the
// lattice, bases as [Polygon.Overlaps] has it.
func (p Prism) Overlaps(q Prism) bool {
	return levels(p.Bottom, p.Top, q.Bottom, q.Top) && p.Base.Overlaps(q.Base)
}

// levels tells whether two ranges of height share more than a level.
func levels(lo, hi, lo2, hi2 float64) bool {
	return max(steps(lo), steps(lo2)) < min(steps(hi), steps(hi2))
}

// Distance is the least distance in mm between the closed prisms, zero when
// they touch or overlap.
func (p Prism) Distance(q Prism) float64 {
	return math.Hypot(p.Base.Distance(q.Base), rise(p, q))
}

// rise is the difference of height between two prisms one of which is above
// the other; 0 when they share a level on the lattice.
func rise(p, q Prism) float64 {
	if max(steps(p.Bottom), steps(q.Bottom)) <= min(steps(p.Top), steps(q.Top)) {
		return 0
	}
	return max(p.Bottom-q.Top, q.Bottom-p.Top)
}

// Nearest gives a pair of points, a in p and b in q, at the least distance d in
// mm. A prism is a product of its base and its height, so the pair is the
// nearest of the bases with the nearest of the heights. Where heights overlap,
// the pair is in the middle of what they share.
func (p Prism) Nearest(q Prism) (a, b r3.Vector, d float64) {
	pa, pb, across := p.Base.Nearest(q.Base)
	up := rise(p, q)
	za := min(max((max(p.Bottom, q.Bottom)+min(p.Top, q.Top))/2, p.Bottom), p.Top)
	zb := min(max(za, q.Bottom), q.Top)
	return at(pa, za), at(pb, zb), math.Hypot(across, up)
}

// DistancePointPrism is the least distance in mm from a point to a closed
// prism, with the nearest point of the prism: the point itself when it is
// inside.
func DistancePointPrism(v r3.Vector, q Prism) (d float64, nearest r3.Vector) {
	n, across := q.Base.nearestPoint(flatten(v))
	z := min(max(v.Z, q.Bottom), q.Top)
	return math.Hypot(across, v.Z-z), at(n, z)
}

// SegmentPrism tells whether the segment from a to b passes through the
// interior of the prism; running along a face or touching it does not count.
// The part of the segment between the levels of the prism is rounded to the
// lattice and then judged exactly.
func SegmentPrism(a, b r3.Vector, q Prism) bool {
	lo, hi := steps(q.Bottom), steps(q.Top)
	za, zb := steps(a.Z), steps(b.Z)
	if max(za, zb) <= lo || min(za, zb) >= hi || lo >= hi {
		return false
	}
	p, r := toNode(clip(a, b, q.Bottom, q.Top)), toNode(clip(b, a, q.Bottom, q.Top))
	var buf room
	m := meshOf(q.Base, &buf)
	if p == r {
		return m.locate(p.doubled()) == Inside
	}
	return m.walk(p, r).inside
}

// clip is the plan of the segment's end a, drawn along towards b until its
// height is between lo and hi.
func clip(a, b r3.Vector, lo, hi float64) r2.Point {
	z := min(max(a.Z, lo), hi)
	if z == a.Z || a.Z == b.Z {
		return flatten(a)
	}
	t := (z - a.Z) / (b.Z - a.Z)
	return flatten(a).Add(flatten(b).Sub(flatten(a)).Mul(t))
}

func flatten(v r3.Vector) r2.Point { return r2.Point{X: v.X, Y: v.Y} }

func at(p r2.Point, z float64) r3.Vector { return r3.Vector{X: p.X, Y: p.Y, Z: z} }
