package electric

import (
	"testing"

	"pgregory.net/rapid"
)

// The part of a line between two faces of a body, against points along it tried one by one: those inside the body by more than
// what counts as touching, and no others.
func TestSlabIsWhereTheLineRunsInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.Float64Range(-50, 50)
		a, b, lo := place.Draw(t, "a"), place.Draw(t, "b"), place.Draw(t, "lo")
		if rapid.IntRange(0, 3).Draw(t, "level") == 0 {
			b = a
		}
		hi := lo + rapid.Float64Range(1, 60).Draw(t, "size")
		t0, t1 := 0.0, 1.0
		some := slab(a, b, lo, hi, &t0, &t1)
		for i := range 101 {
			u := float64(i) / 100
			at := a + u*(b-a)
			if depth := min(at-lo, hi-at) - graze; depth > 1e-9 && (!some || u < t0-1e-9 || u > t1+1e-9) {
				t.Fatalf("%v of the way, at %v, lies inside %v to %v; found was %v, %v to %v", u, at, lo, hi, some, t0, t1)
			} else if depth < -1e-9 && some && u > t0+1e-9 && u < t1-1e-9 {
				t.Fatalf("%v of the way, at %v, lies outside %v to %v; found was %v to %v", u, at, lo, hi, t0, t1)
			}
		}
	})
}
