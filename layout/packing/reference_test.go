package packing

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Loads and prices of a grid against sums over every point and every unit square, one at a time.
func TestGridSumsAreThoseOfPointByPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	for range 40 {
		env := []rect{{hi: vec{3 + r.Int64N(6), 3 + r.Int64N(6)}}, {hi: vec{3 + r.Int64N(6), 3 + r.Int64N(6)}}}
		var spots []spot
		for range 1 + r.IntN(12) {
			spots = append(spots, spot{r.IntN(2), vec{r.Int64N(20), r.Int64N(20)}})
		}
		g := newGrid(spots, env)
		weight, load := make([]float64, len(spots)), make([]float64, g.rows())
		least := math.Inf(1)
		squares := map[vec]bool{}
		for k := range spots {
			weight[k] = float64(r.IntN(4))
			b := g.boxes[k]
			least = math.Min(least, float64((b.hi.x-b.lo.x)*(b.hi.y-b.lo.y)))
			for x := b.lo.x; x < b.hi.x; x++ {
				for y := b.lo.y; y < b.hi.y; y++ {
					squares[vec{x, y}] = true
				}
			}
		}
		g.load(weight, load)
		for i, got := range load {
			x, y, want := g.xs[i%g.nx], g.ys[i/g.nx], 0.0
			for k, b := range g.boxes {
				if b.lo.x <= x && x < b.hi.x && b.lo.y <= y && y < b.hi.y {
					want += weight[k]
				}
			}
			if math.Abs(got-want) > 1e-9 {
				t.Fatalf("load %g at %d, %d, want %g", got, x, y, want)
			}
		}
		price, worth := g.areas(), make([]float64, len(spots))
		g.cover(price, worth)
		for k, b := range g.boxes {
			if want := float64((b.hi.x-b.lo.x)*(b.hi.y-b.lo.y)) / least; worth[k] < want-1e-9 {
				t.Fatalf("%v is priced %g, below its area %g", b, worth[k], want)
			}
		}
		sum := 0.0
		for _, v := range price {
			sum += v
		}
		if sum*least < float64(len(squares))-1e-9 {
			t.Fatalf("priced %g, below the covered area %d", sum*least, len(squares))
		}
	}
}

// A place is free if it lies strictly inside no zone of a placed module, told for each place by itself.
func TestRowsBesideModulesAgreeWithEachPlace(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 44))
	for range 2000 {
		w, h := 2+r.Int64N(5), 2+r.Int64N(5)
		p := &plane{zone: [][][]rect{{{{vec{-w, -h}, vec{w, h}}}}}}
		row := []span64{{0, r.Int64N(12)}, {15, 15 + r.Int64N(12)}}
		var placed []spot
		for range r.IntN(4) {
			placed = append(placed, spot{0, vec{r.Int64N(30), r.Int64N(12)}})
		}
		y := r.Int64N(12)
		got := p.freeBeside(0, y, row, placed)
		for x := int64(-3); x < 32; x++ {
			want, is := false, false
			for _, iv := range row {
				want = want || iv.lo <= x && x <= iv.hi
			}
			for _, f := range placed {
				want = want && (abs64(x-f.x) >= w || abs64(y-f.y) >= h)
			}
			for _, iv := range got {
				is = is || iv.lo <= x && x <= iv.hi
			}
			if is != want {
				t.Fatalf("row %v at %d beside %v (%d by %d): place %d is free: %v, want %v", row, y, placed, w, h, x, is, want)
			}
		}
	}
}

func TestLesserDivisorIsTheGreatestBelow(t *testing.T) {
	for n := int64(2); n < 500; n++ {
		want := n - 1
		for n%want != 0 {
			want--
		}
		if got := lesserDivisor(n); got != want {
			t.Errorf("of %d: %d, want %d", n, got, want)
		}
	}
}

// By hand: a body of 20 by 10 with a strip of 8 above its right face, one of 6 below its lower one and one within it.
func TestStripCoresReachAsFarAsTheirStrips(t *testing.T) {
	p := &plane{usable: 1, options: []option{{w: 20, h: 10, strips: []rect{
		{vec{20, 2}, vec{28, 8}}, {vec{3, -6}, vec{9, 0}}, {vec{4, 4}, vec{6, 6}},
	}}}}
	for _, c := range []struct {
		s      share
		alongX bool
		want   rect
	}{
		{0, true, rect{vec{0, 0}, vec{28, 10}}},
		{1, true, rect{vec{0, 0}, vec{24, 10}}},
		{2, true, rect{vec{0, 0}, vec{20, 10}}},
		{0, false, rect{vec{0, 0}, vec{20, 10}}},
		{1, false, rect{vec{0, -3}, vec{20, 10}}},
		{2, false, rect{vec{0, -6}, vec{20, 10}}},
	} {
		if got := p.stripCores(c.s, c.alongX)[0]; got != c.want {
			t.Errorf("share %d along x %v: %v, want %v", c.s, c.alongX, got, c.want)
		}
	}
	inside := &plane{usable: 1, options: []option{{w: 20, h: 10, strips: []rect{{vec{4, 4}, vec{6, 6}}}}}}
	for s := range share(3) {
		for _, alongX := range []bool{true, false} {
			if got := inside.stripCores(s, alongX)[0]; got != (rect{vec{}, vec{20, 10}}) {
				t.Errorf("share %d along x %v of a strip inside: %v", s, alongX, got)
			}
		}
	}
}
