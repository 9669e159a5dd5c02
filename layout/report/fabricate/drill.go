package fabricate

import (
	"math"

	"stowbay/layout/mass"
)

// lidBolt is the thread that the lid is screwed down with: common practice for boxes of this size, no source.
const lidBolt = "M6"

// Lid bolts stand no further apart than lidPitch and lidMargin from the ends of their strip, mm: what keeps a
// flat seal tight between them (common practice, no source).
const (
	lidPitch  = 100.0
	lidMargin = 25.0
)

// clearanceHole is the diameter in mm of a bolt's clearance hole, medium fit of ISO 273 (from memory, not checked
// against the text).
func clearanceHole(bolt string) float64 {
	return map[string]float64{"M5": 5.5, "M6": 6.6, "M8": 9, "M10": 11, "M12": 13.5, "M14": 15.5, "M16": 17.5, "M20": 22}[bolt]
}

// boltPlaces are the places of the lid's bolts along a flange strip, in its own u: over the stretch that the strip
// has at half its width.
func boltPlaces(f *mass.Panel) []float64 {
	lo, hi := f.Outline.Bounds().X.Lo, f.Outline.Bounds().X.Hi
	ring := f.Outline.Outer
	if len(ring) == 4 {
		lo, hi = (ring[0].X+ring[1].X)/2, (ring[2].X+ring[3].X)/2
	}
	lo, hi = min(lo, hi)+lidMargin, max(lo, hi)-lidMargin
	if hi <= lo {
		return []float64{(lo + hi) / 2}
	}
	n := int(math.Ceil((hi-lo)/lidPitch - 1e-9))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = lo + (hi-lo)*float64(i)/float64(n)
	}
	return out
}
