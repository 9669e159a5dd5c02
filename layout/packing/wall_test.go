package packing

import (
	"math"
	"math/rand/v2"
	"testing"
)

// meetsOpen tells whether a convex polygon, or a segment, has a point in an open rectangle: it is cut by the four half-planes
// (Sutherland and Hodgman 1974), a hair's breadth inside them, and something is left.
func meetsOpen(ps []vec, x0, y0, x1, y1 float64) bool {
	const hair = 1e-7
	var poly []Point
	for _, p := range ps {
		poly = append(poly, Point{float64(p.x), float64(p.y)})
	}
	cut := func(inside func(Point) float64) {
		var out []Point
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			u, v := inside(a), inside(b)
			if u >= 0 {
				out = append(out, a)
			}
			if (u < 0) != (v < 0) {
				k := u / (u - v)
				out = append(out, Point{a.X + k*(b.X-a.X), a.Y + k*(b.Y-a.Y)})
			}
		}
		poly = out
	}
	for _, side := range []func(Point) float64{
		func(p Point) float64 { return p.X - x0 - hair }, func(p Point) float64 { return x1 - hair - p.X },
		func(p Point) float64 { return p.Y - y0 - hair }, func(p Point) float64 { return y1 - hair - p.Y },
	} {
		if cut(side); len(poly) == 0 {
			return false
		}
	}
	return true
}

// randomWall is a segment, or a convex polygon with its corners on a small lattice.
func randomWall(r *rand.Rand) wall {
	at := func() vec { return vec{r.Int64N(13) - 6, r.Int64N(13) - 6} }
	for {
		w := wall{at(), at()}
		if r.IntN(3) > 0 {
			w = append(w, at())
		}
		if r.IntN(3) == 0 && len(w) == 3 {
			w = append(w, vec{w[0].x + w[2].x - w[1].x, w[0].y + w[2].y - w[1].y}) // a parallelogram
		}
		if w[0] != w[1] && (len(w) == 2 || cross(w[0], w[1], w[2]) != 0) {
			return w
		}
	}
}

// A body of whole sides at whole places meets a wall exactly where it meets the wall's span in the body's band, and where meets
// says so; closed bodies meet also what they only touch.
func TestBodiesMeetWallsWhereCuttingThemSaysSo(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	met := 0
	for range 700 {
		w := randomWall(r)
		y0 := r.Int64N(14) - 7
		y1, wide := y0+1+r.Int64N(5), 1+r.Int64N(5)
		lo, hi, ok := w.span(y0, y1)
		f := &field{walls: []wall{w}}
		blocked := f.blocked(y0, y1, wide, nil)
		if ok != (len(blocked) == 1) {
			t.Fatalf("%v has a span %v and blocks %v", w, ok, blocked)
		}
		for x := int64(-14); x <= 14; x++ {
			want := meetsOpen(w, float64(x), float64(y0), float64(x+wide), float64(y1))
			if want {
				met++
			}
			if got := ok && lo < x+wide && x < hi; got != want {
				t.Fatalf("%v, body %d to %d wide at %d to %d: met %v, span %d to %d", w, x, x+wide, y0, y1, want, lo, hi)
			}
			if ok && (blocked[0].lo < x && x < blocked[0].hi) != want {
				t.Fatalf("%v blocks %v of bodies %d wide at %d to %d; met at %d: %v", w, blocked, wide, y0, y1, x, want)
			}
			body := rect{vec{x, y0}, vec{x + wide, y1}}
			if w.meets(body, true) != want {
				t.Fatalf("%v meets the open %v: %v", w, body, !want)
			}
			const more = 1e-4
			if touch := meetsOpen(w, float64(x)-more, float64(y0)-more, float64(x+wide)+more, float64(y1)+more); w.meets(body, false) != touch {
				t.Fatalf("%v meets the closed %v: %v", w, body, !touch)
			}
		}
	}
	if met < 2000 {
		t.Errorf("met only %d times", met)
	}
}

// A wall is slanted where some edge of it lies along neither axis.
func TestWallsThatLieAlongNeitherAxis(t *testing.T) {
	for _, c := range []struct {
		w    wall
		want bool
	}{
		{wall{{0, 0}, {5, 0}}, false}, {wall{{3, 1}, {3, 9}}, false}, {wall{{0, 0}, {5, 1}}, true},
		{wall{{0, 0}, {5, 0}, {5, 2}, {0, 2}}, false}, {wall{{0, 0}, {5, 0}, {5, 2}, {1, 2}}, true}, {wall{{1, 0}, {5, 0}, {5, 2}, {0, 2}}, true},
		{wall{{0, 0}, {5, 5}, {3, 7}, {-2, 2}}, true},
	} {
		if c.w.slanted() != c.want {
			t.Errorf("%v is slanted: %v", c.w, !c.want)
		}
	}
}

// A wall keeps bodies off by the gap, measured square to it, and round a corner that juts into free space by a mitre: it may reach
// as far as both walls moved inwards meet, but no further than the gap. By hand.
func TestThickenedWallsReachToTheMitre(t *testing.T) {
	// The corner (10, 10) of an L juts into it; the others do not. The walls are given counter-clockwise, thick to the left.
	ell := []vec{{0, 0}, {20, 0}, {20, 10}, {10, 10}, {10, 20}, {0, 20}}
	want := []wall{
		{{0, 0}, {20, 0}, {20, 3}, {0, 3}}, {{20, 0}, {20, 10}, {17, 10}, {17, 0}}, {{20, 10}, {7, 10}, {7, 7}, {20, 7}},
		{{10, 7}, {10, 20}, {7, 20}, {7, 7}}, {{10, 20}, {0, 20}, {0, 17}, {10, 17}}, {{0, 20}, {0, 0}, {3, 0}, {3, 20}},
	}
	for i, w := range ringWalls(ell, 3) {
		for k, v := range w {
			if v != want[i][k] {
				t.Errorf("wall %d is %v, want %v", i, w, want[i])
				break
			}
		}
	}
	for i, w := range ringWalls(ell, 0) {
		if len(w) != 2 || w[0] != ell[i] || w[1] != ell[(i+1)%len(ell)] {
			t.Errorf("without a gap wall %d is %v", i, w)
		}
	}
	for _, c := range []struct {
		p, q, r vec
		want    float64
	}{
		{vec{0, 0}, vec{10, 0}, vec{20, 0}, 0},                            // straight on
		{vec{0, 0}, vec{10, 0}, vec{10, 10}, 0},                           // to the left: free space has no corner there
		{vec{0, 0}, vec{10, 0}, vec{10, -10}, 8},                          // square: both moved walls meet a gap further on
		{vec{0, 0}, vec{10, 0}, vec{20, -10}, 8 * (math.Sqrt2 - 1)},       // half of that turn
		{vec{0, 0}, vec{10, 0}, vec{0, -10}, 8},                           // sharper than square: the gap and no more
		{vec{5, 5}, vec{15, 5}, vec{18, 1}, 8 * 0.5},                      // 3-4-5: the tangent of half the turn is 1/2
		{vec{15, -5}, vec{5, -5}, vec{2, -1}, 8 * 0.5},                    // the same turned half round
		{vec{-5, 15}, vec{-5, 5}, vec{-9, 2}, 8 * 0.5},                    // and by a quarter
		{vec{1, 1}, vec{4, 5}, vec{4, 10}, 0},                             // slanted, to the left
		{vec{1, 1}, vec{4, 5}, vec{7, 5 + 4}, 0},                          // slanted, straight on
		{vec{0, 0}, vec{12, 5}, vec{24, 0}, 8 * 5.0 / 12},                 // 5-12-13: half the turn is the slope
		{vec{0, 0}, vec{-12, -5}, vec{-24, 0}, 8 * 5.0 / 12},              // the same turned half round
		{vec{0, 0}, vec{300, 400}, vec{300 + 400, 400 + 300}, 8.0 / 7},    // between two 3-4-5 slopes: tan 16.26/2 = 1/7
		{vec{0, 0}, vec{400, 300}, vec{400 + 300, 300 + 400}, 0},          // the other way round
		{vec{0, 0}, vec{300, -400}, vec{300 - 400, -400 - 300}, 8},        // a right angle between slopes
		{vec{0, 0}, vec{300, -400}, vec{300 + 400, -400 - 300 + 600}, 0},  // to the left between slopes
		{vec{100, 0}, vec{100, 100}, vec{100 + 75, 100 + 100}, 8.0 / 3.0}, // from straight up: tan 36.87/2 = 1/3
	} {
		if got := mitre(c.p, c.q, c.r, 8); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("past %v, from %v to %v: %g, want %g", c.q, c.p, c.r, got, c.want)
		}
	}
	// Slanted walls are a step thicker and longer, so that rounding never lets a body nearer. On a slope of 3 to 4: lengths 30 and 40
	// make 50; a gap of 9 is ten steps square to it, (-6, 8); ends 4 and 9 further are five and ten steps along, (4, 3) and (8, 6).
	got := thickened(vec{0, 0}, vec{40, 30}, 9, 4, 9)
	for k, v := range (wall{{-4, -3}, {48, 36}, {42, 44}, {-10, 5}}) {
		if got[k] != v {
			t.Errorf("corner %d of a slanted wall is %v, want %v", k, got[k], v)
		}
	}
}

// Open intervals are united where they overlap and left apart where they only share an end: told at every half step.
func TestUnitedIntervalsHoldTheSamePlaces(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 54))
	for range 3000 {
		var in []span64
		for range r.IntN(6) {
			lo := r.Int64N(12)
			in = append(in, span64{lo, lo + r.Int64N(5) - 1})
		}
		holds := func(s []span64, twice int64) int {
			n := 0
			for _, iv := range s {
				if 2*iv.lo < twice && twice < 2*iv.hi {
					n++
				}
			}
			return n
		}
		given := append([]span64{}, in...)
		out := unite(in)
		for i, iv := range out {
			if iv.lo >= iv.hi || i > 0 && iv.lo < out[i-1].hi {
				t.Fatalf("%v united are %v", given, out)
			}
		}
		for twice := int64(-3); twice < 36; twice++ {
			if (holds(given, twice) > 0) != (holds(out, twice) == 1) {
				t.Fatalf("%v united are %v: they differ at %g", given, out, float64(twice)/2)
			}
		}
	}
}
