package report

import (
	"math"

	"github.com/golang/geo/r3"
)

// direction says which way a unit vector of a vehicle's or a box's frame looks.
func direction(v r3.Vector) string {
	switch a := v.Abs(); {
	case a.X >= a.Y && a.X >= a.Z:
		return wayOf(v.X, "rear", "front")
	case a.Y >= a.Z:
		return wayOf(v.Y, "right", "left")
	}
	return wayOf(v.Z, "up", "down")
}

func wayOf(v float64, plus, minus string) string {
	if math.Signbit(v) {
		return minus
	}
	return plus
}
