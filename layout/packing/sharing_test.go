package packing

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
	"time"
)

// Work is spent in every budget that a context is in, and each ends when its own is spent; one without a limit never does.
func TestWorkIsSpentInEveryBudget(t *testing.T) {
	outer := &budget{Context: context.Background(), limit: 100}
	middle := &budget{Context: outer}
	inner := &budget{Context: middle, limit: 30}
	spend(inner, 29)
	if inner.Err() != nil || inner.spent.Load() != 29 || middle.spent.Load() != 29 || outer.spent.Load() != 29 {
		t.Fatalf("spent %d, %d and %d", inner.spent.Load(), middle.spent.Load(), outer.spent.Load())
	}
	stop := costing(inner, 1)
	if !stop() || inner.Err() != context.DeadlineExceeded || middle.Err() != nil || outer.Err() != nil {
		t.Error("the inner budget of 30 is not spent by 30, or another is")
	}
	spend(middle, 69)
	if outer.Err() != nil || inner.spent.Load() != 30 {
		t.Errorf("after %d the outer budget of 100 is spent", outer.spent.Load())
	}
	if spend(middle, 1); outer.Err() == nil || middle.Err() == nil {
		t.Error("the outer budget of 100 is not spent by 100, or the one in it goes on")
	}
	spend(context.Background(), 5)
}

// A part of the work left is so much of the least that any budget still has: six tenths of the limit where there is none, and a
// millisecond at least. By hand.
func TestPortionsOfTheWorkLeft(t *testing.T) {
	s := newSession(t.Context(), &Problem{}, nil, time.Now(), time.Second)
	const ms = int64(time.Millisecond)
	if s.left() != 600*ms {
		t.Fatalf("of a second %d ns are left", s.left())
	}
	spend(s.ctx, 100*ms)
	lift := s.portion(0.3, true)
	if b, ok := s.ctx.(*budget); !ok || b.limit != 150*ms || s.left() != 150*ms {
		t.Fatalf("three tenths of 500 ms are %d ns", s.left())
	}
	spend(s.ctx, 40*ms)
	if s.left() != 110*ms {
		t.Errorf("after 40 of 150 ms %d ns are left", s.left())
	}
	same := s.portion(0.5, false)
	if same(); s.left() != 110*ms {
		t.Errorf("without a limit %d ns are left", s.left())
	}
	spend(s.ctx, 200*ms)
	if s.left() != ms {
		t.Errorf("when all is spent %d ns are left", s.left())
	}
	if lift(); s.left() != 260*ms {
		t.Errorf("after 340 of 600 ms %d ns are left", s.left())
	}
	s.sole = true
	if done := s.share(); s.left() != 260*ms {
		t.Errorf("a sole plane has %d ns", s.left())
	} else {
		done()
	}
	s.sole = false
	if done := s.share(); s.left() != 260*ms/3 {
		t.Errorf("one of several planes has %d ns, a third of 260 ms is meant", s.left())
	} else {
		done()
	}
}

// As many goroutines work as there are cores, or as are asked for.
func TestWorkersOfASession(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(3))
	if s := newSession(t.Context(), &Problem{}, nil, time.Now(), time.Second); s.workers != 3 || runtime.GOMAXPROCS(0) != 3 {
		t.Errorf("%d work on 3 cores", s.workers)
	}
	if s := newSession(t.Context(), &Problem{Workers: 2}, nil, time.Now(), time.Second); s.workers != 2 {
		t.Errorf("%d work, 2 are asked for", s.workers)
	}
}

// Floors deserve time by the room over them and a little each: by hand, in cubes of 100 mm.
func TestFloorsDeserveTimeByTheirRoom(t *testing.T) {
	p := Problem{Bays: []Bay{{ID: "bay", Levels: []Level{
		{Region: Region{Outline: rectangleMM(0, 0, 300, 200)}, FloorMM: 0, CeilingMM: 400},
		{Region: Region{Outline: []Point{{300, 0}, {500, 0}, {300, 100}}}, FloorMM: 100, CeilingMM: 300},
		{Region: Region{Outline: rectangleMM(500, 0, 600, 100)}, FloorMM: 100, CeilingMM: 250},
	}}}, Postures: []Posture{{Name: "m", LengthMM: 10, WidthMM: 10, HeightMM: 10}}}
	s := newSession(t.Context(), &p, nil, time.Now(), time.Second)
	s.lat = lattice{100}
	floors := s.floors(&p.Bays[0])
	if len(floors) != 2 || floors[0].ceiling != 40_000 || floors[1].ceiling != 30_000 || len(floors[1].levels) != 2 || floors[1].z != 10_000 {
		t.Fatalf("%+v", floors)
	}
	// 3 x 2 x 4; half of 2 x 1 x 2 and 1 x 1 x 1.5.
	for i, want := range []float64{1 + 24, 1 + 2 + 1.5} {
		if got := s.weight(floors[i : i+1]); math.Abs(got-want) > 1e-9 {
			t.Errorf("floor %d weighs %g, want %g", i, got, want)
		}
	}
	if got := s.weight(floors); math.Abs(got-29.5) > 1e-9 {
		t.Errorf("both weigh %g, want 29.5", got)
	}
	// Ceilings below nought are ceilings, too.
	p.Bays[0].Levels = []Level{{Region: p.Bays[0].Levels[0].Region, FloorMM: -400, CeilingMM: -100}, {Region: p.Bays[0].Levels[0].Region, FloorMM: -400, CeilingMM: -200},
		{Region: p.Bays[0].Levels[0].Region, FloorMM: -500, CeilingMM: -300}}
	if floors := s.floors(&p.Bays[0]); len(floors) != 2 || floors[0].z != -50_000 || floors[0].ceiling != -30_000 || floors[1].ceiling != -10_000 {
		t.Errorf("below nought: %+v", floors)
	}
}

// What is said of a result, by hand for each kind.
func TestWhatIsSaidOfAResult(t *testing.T) {
	const a, b, c = "reason a", "reason b", "reason c"
	for _, args := range []struct {
		in   []string
		want string
	}{
		{nil, ""}, {[]string{a}, a}, {[]string{a, b}, a + "; elsewhere " + b}, {[]string{a, b, c}, a + "; other parts rest on further arguments of the same kinds"},
		{[]string{byNoPlace}, byNoPlace}, {[]string{byNoPlace, a}, a}, {[]string{a, byNoPlace, b}, a + "; elsewhere " + b},
	} {
		if got := sentence(args.in); got != args.want {
			t.Errorf("%q: %q, want %q", args.in, got, args.want)
		}
	}
	if got := unique([]string{a, "", b, a, ""}); !slices.Equal(got, []string{a, b}) {
		t.Errorf("each once: %q", got)
	}
	for _, k := range []struct {
		name           string
		count, target  int
		in             Result
		want           string
		proved, onGrid bool
	}{
		{"met", 3, 3, Result{Bound: 9}, "the target of 3 is met", true, false},
		{"met and more", 4, 3, Result{Bound: 9}, "the target of 3 is met", true, false},
		{"met by one", 1, 1, Result{Bound: 9}, "the target of 1 is met", true, false},
		{"not met", 2, 3, Result{Bound: 9}, "best found 2, bound 9: " + a, false, false},
		{"nothing", 0, 0, Result{}, "no module fits, which is proved: " + a, true, false},
		{"proved", 5, 0, Result{Bound: 5, GridProved: true, GridMM: 2}, "5 fit; 6 is proved impossible: " + a, true, false},
		{"in layers", 5, 0, Result{Bound: 7, Layered: true, LayeredBound: 5}, "5 fit; 6 in whole layers is proved impossible, and more than 7 at any heights: " + a, false, false},
		{"best in layers", 5, 0, Result{Bound: 7, Layered: true, LayeredBound: 6}, "best layered 5, bound 7: " + a, false, false},
		{"on a grid", 5, 0, Result{Bound: 7, GridProved: true, GridMM: 2.5}, "best found 5, bound 7; no more fit with positions on a grid of 2.5 mm: " + a, false, true},
		{"open", 5, 0, Result{Bound: 7, GridMM: 2.5}, "best found 5, bound 7: " + a, false, false},
	} {
		s := newSession(t.Context(), &Problem{Target: k.target}, nil, time.Now(), time.Second)
		r := k.in
		r.Placements, r.Bays = make([]Placement, k.count), []BayResult{{arguments: []string{a}}}
		s.finish(&r)
		if r.Argument != k.want || r.Count != k.count || r.Proved != k.proved || r.GridProved != k.onGrid || r.Stopped || (r.GridMM != 0) != k.onGrid {
			t.Errorf("%s: %q, count %d, proved %v, on a grid %v of %g mm, stopped %v; want %q", k.name, r.Argument, r.Count, r.Proved, r.GridProved, r.GridMM, r.Stopped, k.want)
		}
	}
}

// More modules are reported once each, with those of other bays; the bound counts those placed before.
func TestReportsOfProgress(t *testing.T) {
	var got []string
	s := newSession(t.Context(), &Problem{}, func(g Progress) {
		got = append(got, fmt.Sprint(g.Bay, " ", g.Count, " ", g.Bound, " ", len(g.Placements)))
	}, time.Now(), time.Second)
	s.settled, s.count = make([]Placement, 2), 2
	for _, c := range []struct{ layer, bound int }{{0, 5}, {1, 5}, {1, 4}, {3, 1}, {2, 9}, {4, 4}} {
		s.report("b", make([]Placement, c.layer), c.bound)
	}
	if want := []string{"b 2 7 2", "b 3 7 3", "b 5 5 5", "b 6 6 6"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	s.p = &Problem{Target: 5}
	for _, c := range [][2]int{{2, 3}, {5, 0}, {9, 0}} {
		if s.count = c[0]; s.want() != c[1] {
			t.Errorf("after %d of 5 %d are wanted", c[0], s.want())
		}
	}
	if s.p = (&Problem{}); s.want() != -1 {
		t.Errorf("without a target %d are wanted", s.want())
	}
	for _, c := range []struct {
		spots, bound, target int
		want                 bool
	}{{3, 3, 0, true}, {2, 3, 0, false}, {2, 3, 11, true}, {1, 3, 11, false}, {0, 3, 9, true}, {0, 0, 0, true}} {
		s.p, s.count = &Problem{Target: c.target}, 9
		if s.enough(&planeResult{spots: make([]spot, c.spots), bound: c.bound}) != c.want {
			t.Errorf("%d of at most %d beside 9 with the target %d are enough: %v", c.spots, c.bound, c.target, !c.want)
		}
	}
}

// Of searches side by side the first in order that reaches its target decides, whatever comes of those behind it; a proof ends all.
func TestTheFirstInOrderWins(t *testing.T) {
	ends := func(found, target int, proved bool) job {
		return job{target: target, run: func(func() bool) outcome { return outcome{make([]int32, found), proved} }}
	}
	for _, c := range []struct {
		jobs []job
		want []int // what each found
	}{
		{[]job{ends(2, 3, false), ends(3, 3, false), ends(4, 4, false)}, []int{2, 3, 0}},
		{[]job{ends(2, 3, false), ends(2, 3, false)}, []int{2, 2}},
		{[]job{ends(1, 1, false), ends(4, 4, false)}, []int{1, 0}},
		{[]job{ends(0, 3, true), ends(4, 4, false)}, []int{0, 0}},
	} {
		for _, workers := range []int{1, 3} {
			if workers > 1 && c.jobs[0].target == 3 && len(c.want) == 2 && c.want[1] == 0 {
				continue // the other may be done before
			}
			s := &solver{ctx: t.Context(), workers: workers}
			for i, out := range s.race(c.jobs) {
				if len(out.found) != c.want[i] {
					t.Errorf("%d workers, job %d: %d found, want %d", workers, i, len(out.found), c.want[i])
				}
			}
		}
	}
	r := &raceState{winner: 2}
	if r.over(2) || !r.over(3) {
		t.Error("a winner's own search is over, or the one behind it is not")
	}
	if r.finish(1, outcome{found: make([]int32, 2)}, 2); r.winner != 1 {
		t.Errorf("the winner is %d", r.winner)
	}
	if r.finish(0, outcome{found: make([]int32, 2)}, 3); r.winner != 1 {
		t.Errorf("the winner is %d, short of its target", r.winner)
	}
}

// Solving ends where the bound is met, the target is, or nothing stands; each lowering of the bound and each better packing is reported.
// Against brute force.
func TestSolverAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(191, 192))
	for k := range 16 {
		_, p, spots := smallPlane(r, k%2 == 0)
		var m model
		if env, plain := p.envelopes(); plain {
			m = newGrid(spots, env)
		} else {
			g := newGraph(p, spots)
			m, spots = g, g.spots
		}
		want := most(p, spots)
		s := newSolver(t.Context(), m, 1)
		last, lowest := 0, m.columns()
		s.report = func(best []int32, bound int) {
			if len(best) < last || bound > lowest || len(best) == last && bound == lowest {
				t.Fatalf("%d of at most %d after %d of %d", len(best), bound, last, lowest)
			}
			last, lowest = len(best), bound
		}
		s.solve()
		if s.count() != want || s.bound != want || !s.done() || last != want || lowest != want {
			t.Fatalf("%d of at most %d (%s), brute force packs %d", s.count(), s.bound, s.by, want)
		}
		wantPacking(t, p, spots, s.best)
		if s.by != byArea && s.by != byRelaxation && s.by != bySweep && want < m.columns() {
			t.Fatalf("by %q", s.by)
		}
		few := newSolver(t.Context(), m, 2)
		if few.want = want - 1; few.want < 0 {
			continue
		}
		if few.solve(); !few.done() || few.count() < want-1 || few.bound < want {
			t.Fatalf("%d of at most %d where %d are wanted of %d", few.count(), few.bound, want-1, want)
		}
		if few.want, few.best, few.floor = 0, nil, 0; !few.done() {
			t.Fatal("nothing is wanted and it is not done")
		}
		known := newSolver(t.Context(), m, 1)
		known.floor = want
		if known.solve(); known.count() != want || known.bound != want {
			t.Fatalf("%d of at most %d where %d are known", known.count(), known.bound, want)
		}
	}
	none := newSolver(t.Context(), newGrid(nil, nil), 1)
	if none.solve(); none.bound != 0 || none.count() != 0 || none.by != "no place is free" {
		t.Errorf("without places at most %d: %s", none.bound, none.by)
	}
}

// A plane with unequal gaps or strips is solved as brute force solves it, from nothing and from packings known; what is left out of a
// search by its price could not have been in such a packing.
func TestGeneralPlanesAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(193, 194))
	for k := range 14 {
		_, p, spots := smallPlane(r, false)
		want := most(p, spots)
		s := newSession(t.Context(), &Problem{Workers: 1}, nil, time.Now(), time.Minute)
		s.lat = lattice{1}
		var start []spot
		if k%2 == 0 {
			start = spots[:1]
		}
		got := s.general(p, spots, start)
		if len(got.spots) != want || got.bound != want || got.gridBound != want || !p.stands(got.spots) || got.argument == "" {
			t.Fatalf("%d of at most %d, brute force packs %d: %s", len(got.spots), got.bound, want, got.argument)
		}
		first := s.takeInOrder(p, spots)
		if !p.stands(first) || len(first) > want {
			t.Fatalf("%v do not stand", first)
		}
		for _, c := range spots { // nothing more has room
			if !slices.ContainsFunc(first, func(u spot) bool { return p.conflict(c, u) || c == u }) {
				t.Fatalf("beside %v there is room for %v", first, c)
			}
		}
		// From one too few it climbs to as many as stand, and two too many are refuted.
		e := newDualSolver(newFamilies(p, spots))
		e.run(0, 300)
		up := planeResult{spots: got.spots[1:], bound: want + 1}
		if s.climb(p, spots, e, &up, 3); len(up.spots) != want || !p.stands(up.spots) {
			t.Fatalf("from %d it climbs to %d, %d stand", want-1, len(up.spots), want)
		}
		down := planeResult{spots: got.spots, bound: want + 2}
		if s.refute(p, spots, e, &down, 3); down.bound != want {
			t.Fatalf("from %d the bound comes down to %d, %d stand", want+2, down.bound, want)
		}
		// A search for one more, and for as many, by prices near the relaxation.
		d := newDualSolver(newFamilies(p, spots))
		d.run(0, 300)
		one := planeResult{spots: first, bound: want + 1}
		if found, refuted := s.narrowed(p, spots, d, &one, want+1, 4); found || !refuted || one.bound != want {
			t.Fatalf("one more than %d: found %v, refuted %v, bound %d", want, found, refuted, one.bound)
		}
		less := planeResult{spots: first[:1], bound: want + 3}
		if found, refuted := s.narrowed(p, spots, d, &less, want, 4); !found || refuted || len(less.spots) < want || less.bound != want+3 || !p.stands(less.spots) {
			t.Fatalf("%d: found %v (%d), refuted %v, bound %d", want, found, len(less.spots), refuted, less.bound)
		}
	}
	s := newSession(t.Context(), &Problem{Workers: 1}, nil, time.Now(), time.Minute)
	if got := s.general(nil, nil, []spot{{}}); got.bound != 1 || len(got.spots) != 1 || got.argument != byNoPlace {
		t.Errorf("without places: %+v", got)
	}
	// By price: those at most so much dearer than 1, in their order; of too many the cheapest.
	spots, cost := make([]spot, maxGraph+2), make([]float64, maxGraph+2)
	for i := range spots {
		spots[i].x, cost[i] = int64(i), 1+float64(len(spots)-i)/float64(len(spots))
	}
	if kept, complete := affordable(spots[:4], []float64{1.2, 1.5, 1.500001, 0.3}, 0.5); !complete || !slices.Equal(kept, []spot{spots[0], spots[1], spots[3]}) {
		t.Errorf("%v (%v) are kept", kept, complete)
	}
	if kept, complete := affordable(spots[:maxGraph], cost[:maxGraph], 5); !complete || len(kept) != maxGraph {
		t.Errorf("of %d %d are kept (%v)", maxGraph, len(kept), complete)
	}
	if kept, complete := affordable(spots, cost, 5); complete || len(kept) != maxGraph || slices.Contains(kept, spots[0]) || kept[0] != spots[len(spots)-1] {
		t.Errorf("of %d %d are kept (%v), first %v", len(spots), len(kept), complete, kept[0])
	}
}

// The lattice is found from every length of a problem: one with three decimals anywhere makes it finer.
func TestEveryLengthCounts(t *testing.T) {
	const fine = 1.125
	for name, set := range map[string]func(*Problem){
		"outline x": func(p *Problem) { p.Bays[0].Levels[0].Region.Outline[0].X = fine }, "outline y": func(p *Problem) { p.Bays[0].Levels[0].Region.Outline[0].Y = fine },
		"keep-out": func(p *Problem) { p.Bays[0].Levels[0].Region.KeepOuts = [][]Point{{{1, 1}, {2, fine}, {2, 3}}} },
		"floor":    func(p *Problem) { p.Bays[0].Levels[0].FloorMM = fine }, "ceiling": func(p *Problem) { p.Bays[0].Levels[0].CeilingMM = fine },
		"forbidden": func(p *Problem) { p.Bays[0].Forbidden = []Forbidden{{Region: Region{Outline: []Point{{fine, 0}}}}} },
		"from":      func(p *Problem) { p.Bays[0].Forbidden = []Forbidden{{FromMM: fine}} }, "to": func(p *Problem) { p.Bays[0].Forbidden = []Forbidden{{ToMM: fine}} },
		"length": func(p *Problem) { p.Postures[0].LengthMM = fine }, "width": func(p *Problem) { p.Postures[0].WidthMM = fine }, "height": func(p *Problem) { p.Postures[0].HeightMM = fine },
		"side": func(p *Problem) { p.Postures[0].Gaps.SideMM = fine }, "end": func(p *Problem) { p.Postures[0].Gaps.EndMM = fine },
		"top": func(p *Problem) { p.Postures[0].Gaps.TopMM = fine }, "wall": func(p *Problem) { p.Postures[0].Gaps.WallMM = fine },
		"depth": func(p *Problem) { p.Postures[0].Strips = []Strip{{DepthMM: fine}} }, "strip from": func(p *Problem) { p.Postures[0].Strips = []Strip{{FromMM: fine}} },
		"strip to": func(p *Problem) { p.Postures[0].Strips = []Strip{{ToMM: fine}} },
		"fixed x":  func(p *Problem) { p.Fixed = []Placement{{X: fine}} }, "fixed y": func(p *Problem) { p.Fixed = []Placement{{Y: fine}} }, "fixed z": func(p *Problem) { p.Fixed = []Placement{{Z: fine}} },
	} {
		p := soundProblem()
		p.Hundredths = true
		if p.lattice().perMM != 100 {
			t.Fatal("no decimals, and a finer lattice")
		}
		if set(&p); p.lattice().perMM != 1000 {
			t.Errorf("%s of %g: %g steps in a millimetre", name, fine, p.lattice().perMM)
		}
	}
	p := soundProblem()
	p.Bays[0].Levels[0].Region.KeepOuts = [][]Point{{{0, 0}, {3, 0}, {0, 7}}}
	if on := p.lattice().perMM; on != 2100 {
		t.Errorf("%g steps in a millimetre beside a slant of 7 to 3, want 2100", on)
	}
}
