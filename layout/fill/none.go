package fill

import (
	"fmt"
	"math"
	"strconv"

	"stowbay/layout/packing"
)

// tooSmall says why not one module fits where the room's height or its bounds in plan are less than what one module needs;
// "" where they are not.
func tooSmall(p packing.Problem) string {
	lo, hi, height := boundsOf(p.Bays[0].Levels)
	least, low := math.Inf(1), []packing.Posture(nil)
	for _, q := range p.Postures {
		h := heightNeeded(q)
		least = min(least, h)
		if h <= height {
			low = append(low, q)
		}
	}
	if len(low) == 0 {
		return fmt.Sprintf("the height inside is %s mm, and the module needs %s mm in the lowest posture that it may stand in", figure(height), figure(least))
	}
	x, y := hi.X-lo.X, hi.Y-lo.Y
	for _, q := range low {
		if a, b := planNeeded(q); a <= x && b <= y || a <= y && b <= x {
			return ""
		}
	}
	a, b := planNeeded(smallest(low))
	return fmt.Sprintf("in plan the inside measures %s × %s mm, and the module needs %s × %s mm with its gaps to the walls", figure(x), figure(y), figure(a), figure(b))
}

// boundsOf returns the bounds of levels in plan and the greatest height of one, in mm.
func boundsOf(levels []packing.Level) (lo, hi packing.Point, height float64) {
	lo, hi = packing.Point{X: math.Inf(1), Y: math.Inf(1)}, packing.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, l := range levels {
		height = max(height, l.CeilingMM-l.FloorMM)
		for _, q := range l.Region.Outline {
			lo = packing.Point{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}
			hi = packing.Point{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
		}
	}
	return lo, hi, height
}

// heightNeeded is what a posture takes of the height in mm: its body and the larger of the gap and the strip above it.
func heightNeeded(q packing.Posture) float64 {
	return q.HeightMM + max(q.Gaps.TopMM, depth(q, packing.Top))
}

// planNeeded is what a posture takes at turn 0 along x and y in mm: its body and, at each face, the larger of the gap to a wall
// and the strip before it.
func planNeeded(q packing.Posture) (x, y float64) {
	beside := func(f packing.Face) float64 { return max(q.Gaps.WallMM, depth(q, f)) }
	return q.LengthMM + beside(packing.PlusX) + beside(packing.MinusX), q.WidthMM + beside(packing.PlusY) + beside(packing.MinusY)
}

func depth(q packing.Posture, f packing.Face) float64 {
	d := 0.0
	for _, s := range q.Strips {
		if s.Face == f {
			d = max(d, s.DepthMM)
		}
	}
	return d
}

// smallest is the posture that takes the least area.
func smallest(ps []packing.Posture) packing.Posture {
	best := ps[0]
	area := func(q packing.Posture) float64 { x, y := planNeeded(q); return x * y }
	for _, q := range ps[1:] {
		if area(q) < area(best) {
			best = q
		}
	}
	return best
}

// figure writes a length to a tenth of a millimetre at most.
func figure(mm float64) string { return strconv.FormatFloat(math.Round(10*mm)/10, 'f', -1, 64) }

// noneWords says a result without a module.
func noneWords(r packing.Result) string {
	switch {
	case r.Proved:
		return "none fits, which is proved"
	case r.GridProved:
		return fmt.Sprintf("none fits on a %g mm grid, which is proved; no more than %d at any position", r.GridMM, r.Bound)
	case r.Layered && r.LayeredBound == 0:
		return fmt.Sprintf("none fits in whole layers, which is proved; no more than %d at any heights", r.Bound)
	case r.Layered:
		return fmt.Sprintf("none found in layers; no more than %d in whole layers, nor than %d at any heights", r.LayeredBound, r.Bound)
	case r.Stopped:
		return fmt.Sprintf("none found when stopped; no more than %d", r.Bound)
	}
	return fmt.Sprintf("none found; no more than %d", r.Bound)
}
