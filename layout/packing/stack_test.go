package packing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// stackerOf is the stacker of a problem's lowest floor, with so much work.
func stackerOf(t *testing.T, p *Problem) *stacker {
	t.Helper()
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	p.Workers = 1
	s := newSession(t.Context(), p, nil, time.Now(), time.Minute)
	s.ctx = &budget{Context: s.ctx, limit: int64(40 * time.Millisecond)}
	floors := s.floors(&p.Bays[0])
	return &stacker{s: s, bay: &p.Bays[0], f: &floors[0], memo: map[int64]stacked{}, layers: map[string]*layerPlane{}, cuts: map[string]int{}, weighers: map[string]*weigher{}, grid: true, exact: true}
}

// What stands on a floor by height: told in millimetres, with top gaps and head room.
func TestRisesOfPostures(t *testing.T) {
	r := rand.New(rand.NewPCG(201, 202))
	seen := map[bool]int{}
	for range 200 {
		p := heightsProblem(r, 1+r.IntN(3))
		if r.IntN(2) == 0 {
			p.Postures[0].HeightMM = p.Postures[1].HeightMM
		}
		k := stackerOf(t, &p)
		rise := func(i int) float64 { return tall(p, Placement{Posture: p.Postures[i].Name}) }
		ceiling := 0.0
		for _, l := range p.Bays[0].Levels {
			ceiling = max(ceiling, l.CeilingMM)
		}
		for i := range p.Postures {
			if k.s.lat.mm(k.s.rise(&p.Postures[i])) != rise(i) {
				t.Fatalf("%+v rises %g, want %g", p.Postures[i], k.s.lat.mm(k.s.rise(&p.Postures[i])), rise(i))
			}
		}
		low := min(rise(0), rise(1))
		if k.s.lat.mm(k.lowestRise()) != low {
			t.Fatalf("the lowest rises %d, want %g", k.lowestRise(), low)
		}
		stacks := 2+2*low <= ceiling
		if seen[stacks]++; k.canStack() != stacks {
			t.Fatalf("under %g modules of %g stand one over another: %v", ceiling, low, !stacks)
		}
		for z := 2.0; z < 14; z++ {
			var want []int
			for i := range p.Postures {
				if z+rise(i) <= ceiling {
					want = append(want, i)
				}
			}
			if got := k.fitting(k.s.lat.steps(z)); !slices.Equal(got, want) {
				t.Fatalf("from %g under %g %v fit, want %v", z, ceiling, got, want)
			}
		}
		want := [][]int{{0}, {1}}
		if rise(1) < rise(0) {
			want = [][]int{{1}, {0}}
		} else if rise(1) == rise(0) {
			want = [][]int{{0, 1}}
		}
		if got := k.byRise([]int{0, 1}); !slices.EqualFunc(got, want, slices.Equal[[]int]) {
			t.Fatalf("by rise: %v, want %v", got, want)
		}
	}
	if min(seen[true], seen[false]) < 8 {
		t.Errorf("drawn too one-sidedly: %v", seen)
	}
}

// In a bay as wide as the modules, layers of one posture hold as many as its length does; the best stack of layers is the best of all
// stacks of rises. So counted with a ceiling, a floor other than nought and top gaps.
func TestBestStacksOfLayers(t *testing.T) {
	r := rand.New(rand.NewPCG(203, 204))
	more := 0
	for range 14 {
		between := func(lo, hi int) float64 { return float64(lo + r.IntN(hi-lo+1)) }
		length, high, at := between(6, 16), between(4, 12), between(0, 3)
		p := oneBay(Region{Outline: rectangleMM(0, 0, length, 7)}, Posture{})
		p.Bays[0].Levels[0].FloorMM, p.Bays[0].Levels[0].CeilingMM = at, at+high
		p.Postures = nil
		var rises []int64
		var holds []float64
		for k := range 2 {
			q := Posture{Name: string(rune('a' + k)), LengthMM: between(2, 6), WidthMM: 7, HeightMM: between(1, 4) + float64(k)/2, Turns: []int{0}}
			p.Postures = append(p.Postures, q)
			rises, holds = append(rises, int64(2*q.HeightMM)), append(holds, math.Floor(length/q.LengthMM))
		}
		want := 0.0
		for _, s := range everyStack(rises, int64(2*high)) {
			want = math.Max(want, s[0]*holds[0]+s[1]*holds[1])
		}
		k := stackerOf(t, &p)
		best := k.stacked()
		if float64(best.count) < want || float64(best.bound) < want || len(best.solids) != best.count {
			t.Errorf("%+v: %d in layers, at most %d; the best stack holds %g", p, best.count, best.bound, want)
		}
		if float64(best.bound) > want {
			more++ // the topmost layer may mix both
		}
	}
	if more > 3 {
		t.Errorf("%d of 14 may hold more than the best stack of layers of one posture", more)
	}
}

// Bounds in space are not below what brute force packs in small boxes, each by itself: by mixes, by shares and by level cuts. In all they
// are no further above it than they were found to be.
func TestBoundsInSpaceOneByOne(t *testing.T) {
	r := rand.New(rand.NewPCG(205, 206))
	between := func(lo, hi int) int { return lo + r.IntN(hi-lo+1) }
	mixes, shares, cuts, packed, boxes := 0, 0, 0, 0, 0
	for boxes < 10 {
		w, h, high := between(3, 5), between(2, 3), between(3, 5)
		a, b, c := float64(between(2, 3)), float64(between(1, 2)), float64(between(1, 2))
		p := oneBay(Region{Outline: rectangle(0, 0, float64(w), float64(h))}, Posture{Name: "flat", LengthMM: a, WidthMM: b, HeightMM: c})
		p.Postures = append(p.Postures, Posture{Name: "side", LengthMM: a, WidthMM: c, HeightMM: b})
		p.Bays[0].Levels[0].FloorMM, p.Bays[0].Levels[0].CeilingMM = 4, float64(4+high)
		nodes := 1500
		best := bruteForceInSpace(w, h, high, p.Postures, func(_, _ [3]int) bool { return true }, &nodes)
		k := stackerOf(t, &p)
		if nodes < 0 || !k.canStack() {
			continue
		}
		boxes++
		lift := k.s.portion(0.1, true)
		mix, share := k.mixBound(), k.bestShares()
		cut, _ := k.cutBound()
		total, why := k.spaceBound()
		lift()
		for name, bound := range map[string]int{"mixes": mix, "shares": share, "level cuts": cut, why: total} {
			if bound < best {
				t.Errorf("%d by %d under %d, %+v: at most %d by %s, brute force packs %d", w, h, high, p.Postures, bound, name, best)
			}
		}
		if total > min(mix, share) && total > mix {
			t.Errorf("at most %d, by mixes %d, by shares %d", total, mix, share)
		}
		mixes, shares, cuts, packed = mixes+mix, shares+share, cuts+cut, packed+best
	}
	t.Logf("%d packed, at most %d by mixes, %d by shares, %d by cuts", packed, mixes, shares, cuts)
	if mixes > packed || shares > packed || cuts > packed+21 {
		t.Errorf("%d packed, at most %d by mixes, %d by shares, %d by cuts", packed, mixes, shares, cuts)
	}
}

// Shares of the height: over every stack that fits they add up to 1 at most. One way gives each posture one part of as many as stand
// alone, scaled; too high a posture has the whole.
func TestSharesOfTheHeight(t *testing.T) {
	r := rand.New(rand.NewPCG(207, 208))
	for range 100 {
		p := heightsProblem(r, 1)
		for i := range p.Postures {
			p.Postures[i].HeightMM = float64(2+r.IntN(9)) / 2
		}
		k := stackerOf(t, &p)
		height := k.f.ceiling - k.f.z
		var rises []int64
		var of []int
		for i := range p.Postures {
			if rise := k.s.rise(&p.Postures[i]); rise <= height {
				rises, of = append(rises, rise), append(of, i)
			}
		}
		ways := k.shares()
		for _, u := range ways {
			most := 0.0
			for _, s := range everyStack(rises, height) {
				sum := 0.0
				for n, i := range of {
					sum += s[n] * u[i]
				}
				most = max(most, sum)
			}
			if most > 1+1e-9 || len(rises) > 0 && most < 1-1e-9 && len(ways) > 1 {
				t.Fatalf("rises %v under %d: shares %v add up to %g", rises, height, u, most)
			}
			for i, v := range u {
				if !slices.Contains(of, i) && v != 1 {
					t.Fatalf("rises %v under %d: shares %v", rises, height, u)
				}
			}
		}
		if len(of) == 1 && math.Abs(ways[0][of[0]]-1/float64(height/rises[0])) > 1e-9 {
			t.Fatalf("one posture of %d under %d has the share %g", rises[0], height, ways[0][of[0]])
		}
		if len(of) == 2 && rises[0] != rises[1] { // by parts of as many as stand alone, and by rises
			a, b := ways[0], ways[1]
			if math.Abs(a[0]*float64(height/rises[0])-a[1]*float64(height/rises[1])) > 1e-9 || math.Abs(b[0]*float64(rises[1])-b[1]*float64(rises[0])) > 1e-6 {
				t.Fatalf("rises %v under %d have the shares %v and %v", rises, height, a, b)
			}
		}
		if n := len(sortedUnique(rises)); len(ways) != max(1, n) {
			t.Fatalf("%d rises are shared in %d ways", n, len(ways))
		}
	}
	// Very low modules under a high ceiling: their rise as a part of the height, at once.
	p := soundProblem()
	p.Postures[0].HeightMM = 0.4
	k := stackerOf(t, &p)
	if ways := k.shares(); len(ways) != 1 || math.Abs(ways[0][0]-0.04) > 1e-12 {
		t.Errorf("0.4 mm under 10 mm: %v", ways)
	}
	p.Postures[0].HeightMM = 0.47 // twenty-one stand over one another
	if ways := stackerOf(t, &p).shares(); len(ways) != 1 || math.Abs(ways[0][0]-0.047) > 1e-12 {
		t.Errorf("0.47 mm under 10 mm: %v", ways)
	}
	p.Postures[0].HeightMM = 0.49
	if ways := stackerOf(t, &p).shares(); len(ways) != 1 || math.Abs(ways[0][0]-1.0/20) > 1e-12 {
		t.Errorf("0.49 mm under 10 mm: %v, twenty stand over one another", ways)
	}
}

// Worths of options are those of their postures, the dearest where turns of several are alike.
func TestWorthsOfOptions(t *testing.T) {
	p := &plane{usable: 2, options: []option{{posture: 0, same: []turned{{2, 90}, {1, 0}}}, {posture: 1, same: []turned{{0, 0}}}, {posture: 3}}}
	of := []float64{2, 5, 3, 9}
	if got := p.worths(func(i int) float64 { return of[i] }); !slices.Equal(got, []float64{5, 5}) {
		t.Errorf("%v, want 5 and 5", got)
	}
}

// The area bounds counts and worths: by hand, 41 by 30 with a hole of 10 by 13 for bodies of 7 by 5 and 4 by 20.
func TestAreasBoundCountsAndWorths(t *testing.T) {
	w := rawPlane{outer: [][]vec{square(0, 0, 41, 30)}, usable: 2, options: []option{
		{w: 7, h: 5, parts: []part{{rect{vec{}, vec{7, 5}}, 0}}}, {w: 4, h: 20, parts: []part{{rect{vec{}, vec{4, 20}}, 0}}}, {w: 1, h: 1}}}
	p := w.plane()
	if got := p.areaBound(); got != 35 { // 1230 / 35 is 35.1
		t.Errorf("at most %d, want 35", got)
	}
	if got := p.areaWorth([]float64{1, 3}); math.Abs(got-1230*3/80.0) > 1e-9 {
		t.Errorf("worth at most %g, want %g", got, 1230*3/80.0)
	}
	if got := p.areaWorth([]float64{2, 3}); math.Abs(got-1230*2/35.0) > 1e-9 {
		t.Errorf("worth at most %g, want %g", got, 1230*2/35.0)
	}
	if got := p.coarseStep(); got != 1 {
		t.Errorf("a step of %d in 41", got)
	}
	w.outer = [][]vec{square(0, 0, 1000, 1230)}
	if got := w.plane().coarseStep(); got != 41 {
		t.Errorf("a step of %d in 1230, a thirtieth is meant", got)
	}
}

// Worths that are tried for groups of rises, by hand: alike, by area, one over each share scaled to 1 at least, and each alone.
func TestWorthsThatAreTried(t *testing.T) {
	p := oneBay(Region{Outline: rectangleMM(0, 0, 60, 60)}, Posture{Name: "low", LengthMM: 20, WidthMM: 12, HeightMM: 4})
	p.Postures = append(p.Postures, Posture{Name: "high", LengthMM: 16, WidthMM: 10, HeightMM: 6})
	k := stackerOf(t, &p)
	got := k.worths([][]int{{0}, {1}}, []int64{400, 600}, [][]float64{{0.5, 0.25}, {0, 1}, {0.3, 0.6}})
	want := [][]float64{{1, 1}, {1.5, 1}, {1, 2}, {2, 1}, {1, 0}, {0, 1}}
	if !slices.EqualFunc(got, want, func(a, b []float64) bool {
		return math.Abs(a[0]-b[0]) < 1e-9 && math.Abs(a[1]-b[1]) < 1e-9
	}) {
		t.Errorf("%v, want %v", got, want)
	}
}

// What a search proved of the layer on the floor bounds worths of nought and one of the same postures, where nothing is in the way at
// some heights only.
func TestSearchedLayersBoundWorths(t *testing.T) {
	p := heightsProblem(rand.New(rand.NewPCG(209, 210)), 1)
	p.Fixed, p.Bays[0].Forbidden = nil, nil
	k := stackerOf(t, &p)
	k.planes = []*layerPlane{{postures: []int{0, 1}, z: k.f.z, bound: 7}, {postures: []int{1}, z: k.f.z + 5, bound: 2}, {postures: []int{1}, z: k.f.z, bound: 4}}
	groups := [][]int{{1}, {0}}
	for _, c := range []struct {
		y    []float64
		want float64
	}{{[]float64{1, 1}, 7}, {[]float64{1, 0}, 4}, {[]float64{0, 1}, math.Inf(1)}, {[]float64{1, 2}, math.Inf(1)}, {[]float64{0.5, 1}, math.Inf(1)}} {
		if got := k.searched(groups, c.y); got != c.want {
			t.Errorf("worths %v: at most %g, want %g", c.y, got, c.want)
		}
	}
	for name, spoil := range map[string]func(){
		"fixed":     func() { p.Fixed = make([]Placement, 1) },
		"forbidden": func() { p.Fixed = nil; k.bay.Forbidden = make([]Forbidden, 1) },
		"beside":    func() { k.bay.Forbidden = nil; k.beside = make([]solid, 1) },
	} {
		p.Fixed, k.bay.Forbidden, k.beside = nil, nil, nil
		if spoil(); !math.IsInf(k.searched(groups, []float64{1, 1}), 1) {
			t.Errorf("%s modules or regions, and the layer still bounds", name)
		}
	}
}

// The greatest worth of a plane in which one module has room, of either posture, is the dearer's, rounded down only where worths are
// whole; where none has any nothing is worth anything, and nothing stands in space.
func TestGreatestWorthOfAPlane(t *testing.T) {
	p := oneBay(Region{Outline: rectangleMM(0, 0, 12, 7)}, Posture{Name: "a", LengthMM: 11, WidthMM: 6, HeightMM: 4})
	p.Postures = append(p.Postures, Posture{Name: "b", LengthMM: 10, WidthMM: 6, HeightMM: 3})
	k := stackerOf(t, &p)
	groups := [][]int{{0}, {1}}
	for _, c := range []struct {
		y            []float64
		least, below float64
	}{{[]float64{1.5, 1}, 1.5, 2}, {[]float64{1, 1}, 1, 1.001}, {[]float64{1, 1.75}, 1.75, 2.5}, {[]float64{2, 1}, 2, 2.001}} {
		w := k.weigherAt(k.f.z)
		if !w.prepare(t.Context()) {
			t.Fatal("not prepared")
		}
		if got := k.mostWorth(w, groups, c.y); got < c.least-1e-9 || got > c.below {
			t.Errorf("worths %v: at most %g, %g stands", c.y, got, c.least)
		}
	}
	one := oneBay(Region{Outline: rectangleMM(0, 0, 62, 31)}, Posture{Name: "flat", LengthMM: 30, WidthMM: 15, HeightMM: 10})
	one.Bays[0].Levels[0].CeilingMM = 33
	if got := stackerOf(t, &one).mixBound(); got != 12 { // four in each of three layers
		t.Errorf("at most %d of one posture, want 12", got)
	}
	p.Bays[0].Levels[0].CeilingMM = 2
	if k := stackerOf(t, &p); k.mixBound() != 0 || k.bestShares() != 0 || k.oneCut(k.f.z) != 0 {
		t.Errorf("nothing fits under the ceiling, and %d, %d or %d do", k.mixBound(), k.bestShares(), k.oneCut(k.f.z))
	}
}

// Two modules of 4 mm x 4 mm that share a strip of 3 mm between them stand in 12 mm x 7 mm: a level cut bounds them by no fewer, and by
// fewer than the area does.
func TestLevelCutsOfModulesWithStrips(t *testing.T) {
	p := oneBay(Region{Outline: rectangleMM(0, 0, 12, 7)}, Posture{Name: "m", LengthMM: 4, WidthMM: 4, HeightMM: 3, EndsDiffer: true, Strips: []Strip{{Face: PlusX, DepthMM: 3}}})
	k := stackerOf(t, &p)
	if got := k.oneCut(k.f.z); got < 2 || got > 3 {
		t.Errorf("at most %d, 2 stand and the area allows 5", got)
	}
}

// The bound of a floor may not rest on where modules of other floors stand: beside one of them, a gap of 1 mm off, none stands on the
// upper floor, where one would stand alone.
func TestBoundsBesideOtherFloors(t *testing.T) {
	p := oneBay(Region{Outline: rectangleMM(0, 0, 10, 10)}, Posture{Name: "m", LengthMM: 10, WidthMM: 10, HeightMM: 8, Gaps: Gaps{SideMM: 1, EndMM: 1}})
	p.Bays[0].Levels = append(p.Bays[0].Levels, Level{Region: Region{Outline: rectangleMM(10, 0, 20, 10)}, FloorMM: 1, CeilingMM: 10})
	res := mustSolve(t, p)
	if res.Count != 1 || res.Bound != 2 || res.Proved || res.LayeredBound != 2 {
		t.Errorf("%d of at most %d, in layers %d, proved %v; want 1 of at most 2", res.Count, res.Bound, res.LayeredBound, res.Proved)
	}
	p.Bays[0].Levels[1].FloorMM, p.Bays[0].Levels[1].CeilingMM = 9, 19 // above it: nothing is in the way
	wantCount(t, mustSolve(t, p), 2, true)
}

// Shares are valid where none is negative but for rounding and no stack adds up to more than 1 but for rounding, which is made up for.
func TestValidShares(t *testing.T) {
	stacks := [][]float64{{2, 0}, {1, 1}, {0, 3}}
	for _, c := range []struct{ u, want []float64 }{
		{[]float64{0.5, 0.3}, []float64{0.5, 0.3}}, {[]float64{0.5, 0.4}, nil}, {[]float64{-0.1, 0.3}, nil}, {[]float64{0.51, 0.3}, nil},
		{[]float64{-1e-12, 0.3}, []float64{0, 0.3}}, {[]float64{0.5 + 4e-10, 0}, []float64{0.5, 0}}, {[]float64{0.25, 1.0 / 3}, []float64{0.25, 1.0 / 3}},
		{[]float64{0.5 + 1e-9, 0}, nil}, {[]float64{-2e-9, 0}, nil},
	} {
		u := slices.Clone(c.u)
		if ok := validShares(u, stacks); ok != (c.want != nil) || ok && (math.Abs(u[0]-c.want[0]) > 1e-13 || math.Abs(u[1]-c.want[1]) > 1e-13) {
			t.Errorf("%v are valid: %v, %v; want %v", c.u, ok, u, c.want)
		}
	}
	all := [][]float64{{0.5, 0.25}, {0.5, 0.2}, {0.25, 0.3}, {0.5, 0.25}, {0.2, 0.3}, {0.25, 0.3 + 1e-12}}
	if got := undominated(all); len(got) != 2 || got[0][0] != 0.5 || got[1][0] != 0.25 {
		t.Errorf("of %v %v are kept", all, got)
	}
	n := map[string]int{}
	choose(5, 3, func(pick []int) {
		if len(pick) != 3 || !slices.IsSorted(pick) || pick[0] < 0 || pick[2] > 4 || pick[0] == pick[1] || pick[1] == pick[2] {
			t.Errorf("chosen: %v", pick)
		}
		n[string(rune(pick[0]))+string(rune(pick[1]))+string(rune(pick[2]))]++
	})
	if len(n) != 10 {
		t.Errorf("%d choices of 3 of 5", len(n))
	}
}

// A stack rests layer by layer: modules over nothing go, and room is filled from the layer below. By hand, in a bay 9 by 3 for modules
// of 3 by 3 by 2: over two modules at 0 and 3, one at 6 hangs in the air, one at 1 stands on both.
func TestStacksRestOnWhatIsBelow(t *testing.T) {
	p := oneBay(Region{Outline: rectangleMM(0, 0, 9, 3)}, Posture{Name: "m", LengthMM: 3, WidthMM: 3, HeightMM: 2})
	p.Bays[0].Levels[0].CeilingMM = 8
	at := func(k *stacker, layer int, x float64) solid {
		return solid{layer: layer, x: k.s.lat.steps(x), z: k.s.lat.steps(float64(2 * layer))}
	}
	for name, c := range map[string]struct{ first, second, third, want []float64 }{
		"all stand":       {[]float64{0, 3}, []float64{1, 4}, nil, []float64{0, 3, 1, 4}},
		"one in the air":  {[]float64{0, 3}, []float64{0, 6}, nil, []float64{0, 3, 0, 3}},
		"only touching":   {[]float64{0}, []float64{3}, nil, []float64{0, 0}},
		"by a hair":       {[]float64{0}, []float64{2.99, 6}, nil, []float64{0, 2.99}},
		"pattern instead": {[]float64{0, 3, 6}, []float64{1.5}, nil, []float64{0, 3, 6, 1.5}},
		"those on it go":  {[]float64{0}, []float64{0, 3}, []float64{3}, []float64{0, 0, 0}},
	} {
		k := stackerOf(t, &p)
		var in []solid
		for layer, xs := range [][]float64{c.first, c.second, c.third} {
			for _, x := range xs {
				in = append(in, at(k, layer, x))
			}
		}
		var got []float64
		for _, s := range k.propped(in) {
			got = append(got, k.s.lat.mm(s.x))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
