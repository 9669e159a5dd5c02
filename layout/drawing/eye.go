package drawing

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Eye is a direction from which a scene is seen in parallel projection.
type Eye struct {
	YawDeg   float64 // 0: from the left; 90: from the front; -90: from behind
	PitchDeg float64 // above the horizontal; 90: from above
}

// axes returns the directions to the right, upward and towards the eye.
func (e Eye) axes() (right, up, towards r3.Vector) {
	sy, cy := math.Sincos(e.YawDeg * math.Pi / 180)
	sp, cp := math.Sincos(e.PitchDeg * math.Pi / 180)
	right = r3.Vector{X: cy, Y: -sy}
	towards = r3.Vector{X: -sy * cp, Y: -cy * cp, Z: sp}
	return right, towards.Cross(right), towards
}

// Point projects a place of the vehicle's frame.
func (e Eye) Point(p r3.Vector) r2.Point {
	right, up, _ := e.axes()
	return r2.Point{X: p.Dot(right), Y: p.Dot(up)}
}
