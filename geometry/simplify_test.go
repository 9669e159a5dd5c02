package geometry

import (
	"slices"
	"testing"
)

// rotations are the same ring started at each of its corners.
func rotations(r Ring) []Ring {
	out := make([]Ring, len(r))
	for k := range r {
		out[k] = slices.Concat(r[k:], r[:k])
	}
	return out
}

func TestSimplifiedIsTheSameWhereverARingStarts(t *testing.T) {
	for _, c := range []struct {
		name    string
		r, want Ring
	}{
		{"corners on straight sides", ringOf(0, 0, 5, 0, 10, 0, 10, 3, 10, 7, 10, 10, 0, 10, 0, 4), ringOf(0, 0, 10, 0, 10, 10, 0, 10)},
		{"a spike", ringOf(0, 0, 10, 0, 10, 5, 30, 5, 10, 5, 10, 10), ringOf(0, 0, 10, 0, 10, 10)},
		{"repeated corners", ringOf(0, 0, 0, 0, 10, 0, 10, 0, 10, 0, 5, 10), ringOf(0, 0, 10, 0, 5, 10)},
		{"two corners of least x", ringOf(2, 9, 2, 1, 8, 5), ringOf(2, 1, 8, 5, 2, 9)},
		{"the corner of least x is not the lowest", ringOf(4, 0, 8, 6, 1, 5), ringOf(1, 5, 4, 0, 8, 6)},
	} {
		for _, r := range rotations(c.r) {
			for _, r := range []Ring{r, r.Reversed()} {
				if got := (Polygon{Outer: r}).Simplified(); !slices.Equal(got.Outer, c.want) {
					t.Errorf("%s: %v becomes %v, want %v", c.name, r, got.Outer, c.want)
				}
			}
		}
	}
}

func TestCornerStaysFromATenMillionthOffTheLine(t *testing.T) {
	for _, length := range []float64{4, 400} {
		for _, c := range []struct {
			off     float64
			corners int
		}{{0, 4}, {0.95e-7, 4}, {-0.95e-7, 4}, {1.05e-7, 5}, {-1.05e-7, 5}} {
			r := ringOf(0, 0, length/2, c.off, length, 0, length, 3, 0, 3)
			if got := len(r.simplified()); got != c.corners {
				t.Errorf("%v off a side of %v: %d corners stay, want %d", c.off, length, got, c.corners)
			}
		}
	}
}

// A ring must hold more than a strip of half a lattice step, 0.005 mm, along
// its length.
func TestStripStaysFromHalfALatticeStep(t *testing.T) {
	for _, length := range []float64{1, 100, 1000} {
		for width, stays := range map[float64]bool{0.0046: false, 0.0054: true} {
			for _, r := range []Ring{NewRect(0, 0, length, width).Outer, NewRect(0, 0, length, width).Outer.Reversed()} {
				if got := r.simplified() != nil; got != stays {
					t.Errorf("%v by %v: stays is %v, want %v", length, width, got, stays)
				}
			}
		}
	}
}
