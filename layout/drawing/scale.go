package drawing

import "github.com/golang/geo/r2"

// scales are the reducing scales of ISO 5455 (1:1, 1:2, 1:5 and their tenfolds; from memory, not checked against
// the text) with 1:2.5, 1:15 and 1:25 between them (common practice).
var scales = []float64{1, 2, 2.5, 5, 10, 15, 20, 25, 50, 100, 200, 500, 1000}

// StandardScale returns the n of the largest standard scale 1:n at which bounds fit a field of w by h
// millimetres on paper.
func StandardScale(bounds r2.Rect, w, h float64) float64 {
	need := max(bounds.Size().X/w, bounds.Size().Y/h)
	for _, n := range scales {
		if need <= n {
			return n
		}
	}
	return need
}
