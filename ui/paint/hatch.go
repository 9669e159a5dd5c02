package paint

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// hatch paints parallel lines inside rings of pixels, with a direction in degrees counter-clockwise as seen.
// The lines hang on the picture's origin given, so that they move with what they cover.
func (s surface) hatch(rings [][]r2.Point, origin r2.Point, deg, pitch, width float64, k ink) {
	if pitch < 2 {
		pitch = 2
	}
	sin, cos := math.Sincos(-deg * math.Pi / 180)
	dir, normal := r2.Point{X: cos, Y: sin}, r2.Point{X: -sin, Y: cos}
	rings = s.nearRings(rings, 2*width+4)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range rings {
		for _, p := range r {
			d := p.Sub(origin).Dot(normal)
			lo, hi = min(lo, d), max(hi, d)
		}
	}
	if hi-lo > 1e5 {
		return
	}
	for d := math.Ceil(lo/pitch) * pitch; d <= hi; d += pitch {
		s.hatchLine(rings, origin.Add(normal.Mul(d)), dir, normal, width, k)
	}
}

// nearRings cuts rings to the picture with a margin in pixels, so far out that the ends of lines there are not seen.
func (s surface) nearRings(rings [][]r2.Point, margin float64) [][]r2.Point {
	out := make([][]r2.Point, 0, len(rings))
	for _, r := range rings {
		if c := clipRing(r, -margin, -margin, float64(s.w)+margin, float64(s.h)+margin); len(c) > 2 {
			out = append(out, c)
		}
	}
	return out
}

// hatchLine paints the stretches of the line through p that lie inside the rings.
func (s surface) hatchLine(rings [][]r2.Point, p, dir, normal r2.Point, width float64, k ink) {
	var buf [32]float64
	ts := buf[:0]
	for _, r := range rings {
		for i, b := range r {
			a := r[(i+len(r)-1)%len(r)]
			da, db := a.Sub(p).Dot(normal), b.Sub(p).Dot(normal)
			if (da > 0) != (db > 0) {
				at := a.Add(b.Sub(a).Mul(da / (da - db)))
				ts = append(ts, at.Sub(p).Dot(dir))
			}
		}
	}
	slices.Sort(ts)
	for i := 0; i+1 < len(ts); i += 2 {
		s.segment(p.Add(dir.Mul(ts[i])), p.Add(dir.Mul(ts[i+1])), width, k)
	}
}
