package geometry

import (
	"math"
	"slices"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
)

// Ring is a simple closed curve of straight edges, in millimetres. The last
// corner joins the first and is not repeated. A ring of fewer than three
// corners has no area.
type Ring []r2.Point

// Area is the signed area of the ring in mm², positive when it runs
// anticlockwise (from x towards y): half the sum of the cross products of
// successive corners, taken about the first corner so that rings far from the
// origin lose no digits.
func (r Ring) Area() float64 {
	sum := 0.0
	for i := 2; i < len(r); i++ {
		sum += r[i-1].Sub(r[0]).Cross(r[i].Sub(r[0]))
	}
	return sum / 2
}

// Reversed gives the ring run the other way round, from the same first corner.
func (r Ring) Reversed() Ring {
	out := slices.Clone(r)
	slices.Reverse(out[min(1, len(out)):])
	return out
}

// Perimeter is the length of the ring in mm.
func (r Ring) Perimeter() float64 {
	sum := 0.0
	for i := range r {
		sum += r.corner(i + 1).Sub(r[i]).Norm()
	}
	return sum
}

// Bounds is the smallest axis-parallel rectangle around the ring; it is empty
// for an empty ring.
func (r Ring) Bounds() r2.Rect {
	if len(r) == 0 {
		return r2.EmptyRect()
	}
	lo, hi := r[0], r[0]
	for _, p := range r[1:] {
		lo.X, hi.X = min(lo.X, p.X), max(hi.X, p.X)
		lo.Y, hi.Y = min(lo.Y, p.Y), max(hi.Y, p.Y)
	}
	return r2.Rect{X: r1.Interval{Lo: lo.X, Hi: hi.X}, Y: r1.Interval{Lo: lo.Y, Hi: hi.Y}}
}

// Polygon is the region the ring encloses, oriented anticlockwise.
func (r Ring) Polygon() Polygon { return Polygon{Outer: r}.Normalised() }

// moment is the area of the ring and its first moment about the point o.
func (r Ring) moment(o r2.Point) (area float64, m r2.Point) {
	for i := range r {
		a, b := r[i].Sub(o), r.corner(i+1).Sub(o)
		c := a.Cross(b)
		area += c / 2
		m = m.Add(a.Add(b).Mul(c / 6))
	}
	return area, m
}

// corner is the i-th corner, counted round the ring; i must be below 2*len(r).
func (r Ring) corner(i int) r2.Point {
	if i >= len(r) {
		i -= len(r)
	}
	return r[i]
}

func (r Ring) turned(ccw bool) Ring {
	if (r.Area() > 0) == ccw {
		return r
	}
	return r.Reversed()
}

func (r Ring) mapped(f func(r2.Point) r2.Point) Ring {
	if r == nil {
		return nil
	}
	out := make(Ring, len(r))
	for i, p := range r {
		out[i] = f(p)
	}
	return out
}

func finite(p r2.Point) bool {
	return !math.IsNaN(p.X) && !math.IsNaN(p.Y) && !math.IsInf(p.X, 0) && !math.IsInf(p.Y, 0)
}
