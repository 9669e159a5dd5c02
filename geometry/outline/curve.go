package outline

import (
	"math"

	"github.com/golang/geo/r2"
)

// chords is how many chords of equal parameter keep within tol of a curve whose
// second derivative is at most bend: a chord over a step h is off by at most
// bend·h²/8. It is 0 when that is more than a curve may have.
func chords(bend, tol float64) int {
	n := math.Ceil(math.Sqrt(bend / (8 * tol)))
	if !(n <= maxCurve) {
		return 0
	}
	return max(1, int(n))
}

// quadratic appends the chords of a quadratic Bézier curve, without its start.
func quadratic(to []r2.Point, a, b, c r2.Point, tol float64) ([]r2.Point, bool) {
	n := chords(2*a.Sub(b.Mul(2)).Add(c).Norm(), tol)
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		to = append(to, a.Mul(u*u).Add(b.Mul(2*u*t)).Add(c.Mul(t*t)))
	}
	return to, n > 0
}

// cubic appends the chords of a cubic Bézier curve, without its start.
func cubic(to []r2.Point, a, b, c, d r2.Point, tol float64) ([]r2.Point, bool) {
	bend := 6 * max(a.Sub(b.Mul(2)).Add(c).Norm(), b.Sub(c.Mul(2)).Add(d).Norm())
	n := chords(bend, tol)
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		to = append(to, a.Mul(u*u*u).Add(b.Mul(3*u*u*t)).Add(c.Mul(3*u*t*t)).Add(d.Mul(t*t*t)))
	}
	return to, n > 0
}

// ellipse is an arc of an ellipse in centre form: at angle a from start over
// sweep the point is centre + turned(rx·cos a, ry·sin a).
type ellipse struct {
	centre       r2.Point
	rx, ry       float64
	turn         float64 // radians
	start, sweep float64 // radians
}

func (e ellipse) at(a float64) r2.Point {
	s, c := math.Sincos(a)
	ts, tc := math.Sincos(e.turn)
	x, y := e.rx*c, e.ry*s
	return e.centre.Add(r2.Point{X: x*tc - y*ts, Y: x*ts + y*tc})
}

// flatten appends the chords of the arc, without its start and ending exactly
// at end.
func (e ellipse) flatten(to []r2.Point, end r2.Point, tol float64) ([]r2.Point, bool) {
	n := chords(max(e.rx, e.ry)*e.sweep*e.sweep, tol)
	if n == 0 {
		return to, false
	}
	n = max(n, int(math.Ceil(math.Abs(e.sweep)/(math.Pi/4))))
	for i := 1; i < n; i++ {
		to = append(to, e.at(e.start+e.sweep*float64(i)/float64(n)))
	}
	return append(to, end), true
}

// arcBetween is the elliptical arc of SVG from a to b, by the conversion from
// end points to centre of the SVG 1.1 recommendation, appendix F.6, radii too
// small being scaled up. It answers no when the arc is a straight line or
// nothing.
func arcBetween(a, b r2.Point, rx, ry, turn float64, large, positive bool) (ellipse, bool) {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if a == b || rx == 0 || ry == 0 {
		return ellipse{}, false
	}
	s, c := math.Sincos(turn)
	h := a.Sub(b).Mul(0.5)
	x, y := (c*h.X+s*h.Y)/rx, (c*h.Y-s*h.X)/ry // half the chord on the unit circle
	l := x*x + y*y
	if l > 1 {
		k := math.Sqrt(l)
		rx, ry, x, y = rx*k, ry*k, x/k, y/k
	}
	k := math.Sqrt(max(0, (1-l)/l))
	if large == positive {
		k = -k
	}
	ux, uy := k*y, -k*x // centre on the unit circle, from the middle of the chord
	m := a.Add(b).Mul(0.5)
	start := math.Atan2(y-uy, x-ux)
	sweep := math.Atan2(-y-uy, -x-ux) - start
	if positive && sweep < 0 {
		sweep += 2 * math.Pi
	}
	if !positive && sweep > 0 {
		sweep -= 2 * math.Pi
	}
	centre := m.Add(r2.Point{X: c*rx*ux - s*ry*uy, Y: s*rx*ux + c*ry*uy})
	return ellipse{centre, rx, ry, turn, start, sweep}, true
}

// bulged is the circular arc of a DXF polyline from a to b: the bulge is the
// tangent of a quarter of its angle, positive anticlockwise.
func bulged(a, b r2.Point, bulge float64) ellipse {
	chord := b.Sub(a)
	angle := 4 * math.Atan(bulge)
	centre := a.Add(b).Mul(0.5).Add(chord.Ortho().Mul((1 - bulge*bulge) / (4 * bulge)))
	r := a.Sub(centre)
	return ellipse{centre: centre, rx: r.Norm(), ry: r.Norm(), start: math.Atan2(r.Y, r.X), sweep: angle}
}
