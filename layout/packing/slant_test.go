package packing

import (
	"math/rand/v2"
	"testing"
	"time"
)

// On squares, packings are found and bounds proved as brute force has them: where the step divides every distance as many as stand, with
// a bound that is never below them; by prices, by search, and by refuting one too many.
func TestSquaresAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(241, 242))
	byPrices, refuted := 0, 0
	for k := range 6 {
		w, small, spots := smallPlane(r, k%2 == 0)
		want := most(small, spots)
		p := w.scaled(2).plane()
		s := newSession(t.Context(), &Problem{Workers: 1}, nil, time.Now(), time.Minute)
		e := s.newSlant(p, 2, newRaster(t.Context(), p, 2))
		if !e.exact || k%2 == 0 && !e.plain || e.late {
			t.Fatalf("exact %v, plain %v, late %v", e.exact, e.plain, e.late)
		}
		r := planeResult{bound: want + 4, gridBound: 1000, argument: "before"}
		if e.bound(s, 0, &r); r.bound < want || (r.bound == want+4) != (r.argument == "before") {
			t.Fatalf("at most %d (%s), %d stand", r.bound, r.argument, want)
		}
		byPrices += r.bound - want
		low := planeResult{bound: want - 1, argument: "before"}
		if e.bound(s, 0, &low); low.bound != want-1 || low.argument != "before" {
			t.Fatalf("a bound of %d becomes %d", want-1, low.bound)
		}
		r.bound = want + 1
		if e.places(s, 3, &r); len(r.spots) != want || !p.stands(r.spots) {
			t.Fatalf("%d are found, %d stand", len(r.spots), want)
		}
		few := planeResult{spots: r.spots, bound: want, gridBound: 1000}
		if e.places(s, 1, &few); len(few.spots) != want || e.plain && (few.gridBound != want || few.gridStep != 2) {
			t.Fatalf("%d of %d are kept; on a grid of %d at most %d", len(few.spots), want, few.gridStep, few.gridBound)
		}
		over := planeResult{spots: r.spots, bound: want + 2, argument: "before"}
		if e.refute(s, &over); over.bound < want || e.plain && over.bound != want+2 {
			t.Fatalf("of %d at most %d are left by refuting", want, over.bound)
		}
		one := planeResult{spots: r.spots, bound: want + 1, argument: "before"}
		if e.refute(s, &one); one.bound < want || one.bound > want+1 || (one.bound == want) != (one.argument == byRelaxation) {
			t.Fatalf("of %d at most %d are left by refuting: %s", want, one.bound, one.argument)
		}
		if one.bound == want {
			refuted++
		}
		met := planeResult{spots: r.spots, bound: want}
		if e.refute(s, &met); met.bound != want {
			t.Fatalf("the bound of %d is refuted", want)
		}
	}
	t.Logf("%d too many by prices, %d of one too many refuted", byPrices, refuted)
	if byPrices > 0 || refuted < 6 {
		t.Errorf("%d too many by prices, %d of one too many refuted", byPrices, refuted)
	}
}

// Where no square can be reached nothing stands.
func TestNoSquareNoModule(t *testing.T) {
	w := rawPlane{outer: [][]vec{{{0, 0}, {9, 0}, {0, 9}}}, usable: 1, options: []option{{w: 6, h: 6, gx: 1}}}
	w.options[0].parts = []part{{w.options[0].body(), 0}}
	p := w.plane()
	s := newSession(t.Context(), &Problem{}, nil, time.Now(), time.Minute)
	for _, plain := range []bool{true, false} {
		e := s.newSlant(p, 1, newRaster(t.Context(), p, 1))
		e.cover, e.plain = nil, plain
		if e.bounds = newSolver(t.Context(), newGrid(nil, nil), 1); !plain {
			e.bounds = nil
		}
		r := planeResult{bound: 5}
		if e.bound(s, 0, &r); r.bound != 0 {
			t.Errorf("at most %d where there is no square", r.bound)
		}
	}
	if got := s.weighed(&weigher{p: p}, []float64{3}); got != 0 {
		t.Errorf("worth %g where there is no square", got)
	}
	e := s.newSlant(p, 1, newRaster(t.Context(), p, 1))
	e.cover, e.plain = []spot{{0, vec{1, 1}}}, false
	r := planeResult{spots: make([]spot, 1), bound: 5}
	if e.bound(s, 0, &r); r.bound != 1 || r.argument != byRelaxation {
		t.Errorf("at most %d where there is one square: %s", r.bound, r.argument)
	}
}
