package packing

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// A module at a whole hundredth of a millimetre along one axis touches a slanted wall at a whole step along the other. The steps in
// a hundredth are found by trying one number after the other: the least that serves both axes, or one of them where that would be
// more than a hundred.
func TestStepsOfTheLatticeMeetSlantedWalls(t *testing.T) {
	least := func(serves func(k int64) bool) int64 {
		for k := int64(1); k <= 100; k++ {
			if serves(k) {
				return k
			}
		}
		return 0
	}
	seen := map[int]int{}
	rng := rand.New(rand.NewPCG(13, 14))
	for range 20_000 {
		most := 1 + rng.Int64N(120)
		walls := [][2]int64{{1 + rng.Int64N(most), 1 + rng.Int64N(most)}, {1 + rng.Int64N(most), 1 + rng.Int64N(most)}}
		overX := func(k int64) bool { return k*walls[0][1]%walls[0][0] == 0 && k*walls[1][1]%walls[1][0] == 0 } // a step along x is so many along y
		overY := func(k int64) bool { return k*walls[0][0]%walls[0][1] == 0 && k*walls[1][0]%walls[1][1] == 0 }
		want, which := int64(1), 3
		for i, serves := range []func(int64) bool{func(k int64) bool { return overX(k) && overY(k) }, overX, overY} {
			if k := least(serves); k > 0 {
				want, which = k, i
				break
			}
		}
		seen[which]++
		var rings [][]Point
		for _, w := range walls {
			rings = append(rings, []Point{{0, 0}, {float64(w[0]) / 100, 0}, {0, float64(w[1]) / 100}})
		}
		if got := (lattice{100}).onSlants(rings); got.perMM != float64(100*want) {
			t.Fatalf("walls %v along x and y: %g steps in a millimetre, want %d", walls, got.perMM, 100*want)
		}
	}
	for which := range 4 {
		if seen[which] < 200 {
			t.Errorf("drawn too one-sidedly: %v", seen)
		}
	}
}

func TestCornersThatRepeatAreOne(t *testing.T) {
	l := lattice{100}
	want := []vec{{0, 0}, {1000, 0}, {1000, 1000}}
	for _, ring := range [][]Point{
		{{0, 0}, {10, 0}, {10, 10}}, {{0, 0}, {10, 0}, {10, 10}, {0, 0}}, {{0, 0}, {0.001, 0}, {10, 0}, {10, 0}, {10, 10}, {10, 10.004}},
		{{0, 0}, {0, 0}, {10, 0}, {10, 10}, {10, 10}, {0, 0.001}},
	} {
		if got := l.ring(ring); !slices.Equal(got, want) {
			t.Errorf("%v: %v, want %v", ring, got, want)
		}
	}
}

// Rounding down and up to whole quotients, by the definition of the remainder.
func TestQuotientsRoundedDownAndUp(t *testing.T) {
	for a := int64(-20); a <= 20; a++ {
		for b := int64(1); b <= 7; b++ {
			if q := floorDiv(a, b); q*b > a || (q+1)*b <= a {
				t.Errorf("%d / %d is at least %d", a, b, q)
			}
			if q := ceilDiv(a, b); q*b < a || (q-1)*b >= a {
				t.Errorf("%d / %d is at most %d", a, b, q)
			}
		}
	}
}

// Lengths of up to two decimals lie on hundredths of a millimetre, of three on thousandths, and of more on ten-thousandths.
func TestLatticeOfTheDecimalsGiven(t *testing.T) {
	for _, c := range []struct {
		values []float64
		want   float64
	}{{nil, 100}, {[]float64{1, 2.5, 3.25, -0.01}, 100}, {[]float64{1, 0.125}, 1000}, {[]float64{0.0625}, 10_000}, {[]float64{1.0 / 3}, 10_000}} {
		if got := newLattice(c.values); got.perMM != c.want {
			t.Errorf("%v: %g steps in a millimetre, want %g", c.values, got.perMM, c.want)
		}
	}
}
