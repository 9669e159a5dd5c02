package layout

import (
	"math"

	"github.com/golang/geo/r3"

	"stowbay/vehicles"
)

// BodyGaps are the distances that a posed body keeps, along the axes of the box's frame, in mm.
type BodyGaps struct {
	Between r3.Vector // to the next body; Z is above it
	Wall    float64   // from an upright face to the wall or liner
	Swell   r3.Vector // whole growth over life along each axis
}

// GapsOf returns the gaps of a module in a pose. The end gap applies along the module's length, the side gap
// along its other horizontal axis, the top gap upward, whatever the posture. For gear, where m is nil, there are
// none.
func GapsOf(m *vehicles.Module, p Pose) BodyGaps {
	if m == nil {
		return BodyGaps{}
	}
	g := BodyGaps{Wall: m.Gaps.WallMM}
	side := r3.Vector{X: m.Gaps.SideMM, Y: m.Gaps.SideMM}
	length := absolute(p.Direction(r3.Vector{X: 1}))
	g.Between = r3.Vector{X: pick(length.X, m.Gaps.EndMM, side.X), Y: pick(length.Y, m.Gaps.EndMM, side.Y), Z: m.Gaps.TopMM}
	g.Swell = absolute(p.Direction(stackAxis(m.Swelling.Axis))).Mul(m.Swelling.MM)
	return g
}

func pick(along, end, side float64) float64 {
	if along > 0.5 {
		return end
	}
	return side
}

func absolute(v r3.Vector) r3.Vector {
	return r3.Vector{X: math.Abs(v.X), Y: math.Abs(v.Y), Z: math.Abs(v.Z)}
}

func stackAxis(axis string) r3.Vector {
	switch axis {
	case "length":
		return r3.Vector{X: 1}
	case "width":
		return r3.Vector{Y: 1}
	case "height":
		return r3.Vector{Z: 1}
	}
	return r3.Vector{}
}
