package fabricate

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout/mass"
)

// The shell of a box is looked at with its lid on top. Where the lid is below, panels are mirrored in height: a
// panel's own v runs up in either case, so that only the sign of its origin's height changes.

// upright is +1 for a box with its lid on top, -1 for one with its lid below.
type upright float64

func uprightOf(lidBelow bool) upright {
	if lidBelow {
		return -1
	}
	return 1
}

// height is a panel's height at the middle of its sheet, lid on top.
func (u upright) height(p *mass.Panel) float64 { return float64(u) * p.Origin.Z }

// near tells whether two lengths are the same for making things.
func near(a, b float64) bool { return math.Abs(a-b) < 4*geometry.Lattice }

// side is an edge of a floor in plan, with what is beside it on its left.
type side struct {
	a, dir       r2.Point
	length       float64
	turnA, turnB float64 // tangent of half the turn at each end, positive where the corner sticks out
}

func sidesOf(r geometry.Ring) []side {
	out := make([]side, len(r))
	for i, a := range r {
		d := r[(i+1)%len(r)].Sub(a)
		out[i] = side{a: a, dir: d.Normalize(), length: d.Norm()}
	}
	for i := range out {
		next := &out[(i+1)%len(out)]
		t := out[i].dir.Cross(next.dir) / math.Max(1e-9, 1+out[i].dir.Dot(next.dir))
		out[i].turnB, next.turnA = t, t
	}
	return out
}

// out is the direction away from the region.
func (s side) out() r2.Point { return r2.Point{X: s.dir.Y, Y: -s.dir.X} }

// at is a place by its distance along the side and outward from it.
func (s side) at(along, outward float64) r2.Point {
	return s.a.Add(s.dir.Mul(along)).Add(s.out().Mul(outward))
}

func plan(v r3.Vector) r2.Point { return r2.Point{X: v.X, Y: v.Y} }

// along is where a panel's u = 0 lies on a line from a along dir, and whether the panel's outer face, off to the
// right of the line by less than nothing, lies on it.
func along(p *mass.Panel, faceOut float64, a, dir r2.Point) (shift float64, ok bool) {
	d := plan(p.Origin.Add(p.Normal.Mul(faceOut))).Sub(a)
	if plan(p.U).Dot(dir) < 1-1e-9 || math.Abs(dir.Cross(d)) > 4*geometry.Lattice {
		return 0, false
	}
	return dir.Dot(d), true
}
