package geometry

import (
	"slices"

	"github.com/golang/geo/r2"
)

// flat is how far in mm a corner may stand off the line of its neighbours and
// still be dropped. It is far below a lattice step, so that dropping corners
// changes no answer, and far above the rounding of an overlay.
const flat = Lattice / 1e5

// Simplified drops repeated corners, corners on the straight line between
// their neighbours, and spikes; then rings too thin to hold a lattice step
// anywhere, and runs the rings the usual way, each from its corner of least x,
// then least y. It is the empty polygon when nothing is left.
func (p Polygon) Simplified() Polygon {
	outer := p.Outer.simplified()
	if outer == nil {
		return Polygon{}
	}
	out := Polygon{Outer: outer.turned(true).fromLeast()}
	for _, h := range p.Holes {
		if h = h.simplified(); h != nil {
			out.Holes = append(out.Holes, h.turned(false).fromLeast())
		}
	}
	return out
}

// simplified keeps a stack of corners and takes back the last as often as it
// proves needless, then does the same round the seam.
func (r Ring) simplified() Ring {
	out := make(Ring, 0, len(r))
	for _, c := range r {
		for len(out) > 0 && needless(out, c) {
			out = out[:len(out)-1]
		}
		out = append(out, c)
	}
	for len(out) >= 3 {
		n := len(out)
		if straight(out[n-2], out[n-1], out[0]) {
			out = out[:n-1]
		} else if straight(out[n-1], out[0], out[1]) {
			out = out[1:]
		} else {
			break
		}
	}
	if len(out) < 3 || out.sliver() {
		return nil
	}
	return out
}

// needless tells whether the last corner of out adds nothing before c.
func needless(out Ring, c r2.Point) bool {
	n := len(out)
	if squared(out[n-1].Sub(c)) <= flat*flat {
		return true
	}
	return n >= 2 && straight(out[n-2], out[n-1], c)
}

// straight tells whether b lies on the line through a and c, or a and c are
// the same.
func straight(a, b, c r2.Point) bool {
	ac := c.Sub(a)
	l := ac.Norm()
	if l <= flat {
		return true
	}
	off := ac.Cross(b.Sub(a))
	return off <= flat*l && off >= -flat*l
}

// sliver tells whether the ring is so thin that it encloses less than a strip
// half a lattice step wide along its length.
func (r Ring) sliver() bool {
	a := r.Area()
	if a < 0 {
		a = -a
	}
	return a <= Lattice/2*r.Perimeter()/2
}

// fromLeast is the ring started at its corner of least x, then least y.
func (r Ring) fromLeast() Ring {
	least := 0
	for i, c := range r {
		if c.X < r[least].X || (c.X == r[least].X && c.Y < r[least].Y) {
			least = i
		}
	}
	return slices.Concat(r[least:], r[:least])
}
