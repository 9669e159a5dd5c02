package electric

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Segments that only touch do not cross: an end on the other's middle, a common end, one on the other. Worked by hand.
func TestTouchingIsNoCrossing(t *testing.T) {
	s := func(x0, y0, x1, y1 float64) [2]r2.Point { return [2]r2.Point{{X: x0, Y: y0}, {X: x1, Y: y1}} }
	for _, c := range []struct {
		a, b  [2]r2.Point
		cross bool
	}{
		{s(0, 0, 10, 10), s(0, 10, 10, 0), true},
		{s(0, 0, 10, 10), s(5, 5, 10, 0), false},
		{s(0, 0, 10, 10), s(0, 10, 5, 5), false},
		{s(0, 0, 10, 10), s(10, 10, 5, 20), false},
		{s(0, 0, 10, 10), s(2, 2, 20, 20), false},
		{s(0, 0, 10, 10), s(4, 5, 10, 0.01), true},
		{s(0, 0, 10, 10), s(4.9, 5, 6, 5), true},
	} {
		for _, a := range [][2]r2.Point{c.a, {c.a[1], c.a[0]}} {
			for _, b := range [][2]r2.Point{c.b, {c.b[1], c.b[0]}} {
				if properCross(a, b) != c.cross || properCross(b, a) != c.cross {
					t.Errorf("%v and %v: crossing %v, want %v", a, b, !c.cross, c.cross)
				}
			}
		}
	}
}

// The shortest way between two points by a line meets it so that both parts make the same angle with it (Heron of
// Alexandria, Catoptrics); the edge's ends bound where it can.
func TestShortestWayByAnEdge(t *testing.T) {
	z := func(v float64) r3.Vector { return r3.Vector{Z: v} }
	for _, c := range []struct {
		a, b, p, q, want r3.Vector
	}{
		{r3.Vector{X: -3, Z: 0.2}, r3.Vector{X: 3, Z: 0.8}, z(0), z(1), z(0.5)},
		{r3.Vector{X: -3, Z: 2}, r3.Vector{Y: 6, Z: 11}, z(0), z(10), z(5)},   // 3 to 6 as 3 to 6
		{r3.Vector{X: -3, Z: 12}, r3.Vector{X: 3, Z: 14}, z(0), z(10), z(10)}, // beyond the end
		{r3.Vector{X: -3, Z: 12}, r3.Vector{X: 3, Z: 14}, z(4), z(4), z(4)},   // an edge without length
	} {
		if got := bend(c.a, c.b, c.p, c.q); got.Sub(c.want).Norm() > 1e-12 {
			t.Errorf("from %v to %v: %v, want %v", c.a, c.b, got, c.want)
		}
	}
	// On the edge's own line any point between the two is on the way, which is as long as they are apart.
	a, b := z(6), z(8)
	got := bend(a, b, z(0), z(10))
	if l := got.Sub(a).Norm() + b.Sub(got).Norm(); math.Abs(l-2) > 1e-12 {
		t.Errorf("by %v it is %v, want 2", got, l)
	}
}
