package vehicles

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// XY is a point in one of the vehicle's planes, in millimetres: [x, y] in plan, [x, z] in side view,
// [y, z] in rear view.
type XY [2]float64

// Point returns p as a planar vector.
func (p XY) Point() r2.Point { return r2.Point{X: p[0], Y: p[1]} }

// XYZ is a place in the vehicle's frame (or in a box's or a module's own frame where a field says so), in millimetres.
type XYZ [3]float64

// Vector returns p as a spatial vector.
func (p XYZ) Vector() r3.Vector { return r3.Vector{X: p[0], Y: p[1], Z: p[2]} }

// Points returns a list of planar points as planar vectors.
func Points(ps []XY) []r2.Point {
	out := make([]r2.Point, len(ps))
	for i, p := range ps {
		out[i] = p.Point()
	}
	return out
}
