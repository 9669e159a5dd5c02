package packing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Cut to whole multiples of a step, sides lose parts of themselves: by hand.
func TestWhatSidesLoseByASteps(t *testing.T) {
	for _, c := range []struct {
		step  int64
		sides []int64
		want  float64
	}{{4, []int64{8, 12}, 0}, {5, []int64{8, 12}, 3.0/8 + 2.0/12}, {9, []int64{8, 12}, 1 + 3.0/12}, {1, []int64{7}, 0}, {3, nil, 0}} {
		if got := lossBy(c.step, c.sides); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v cut to multiples of %d lose %g, want %g", c.sides, c.step, got, c.want)
		}
	}
}

// The step that fits is a whole part of a side, or the least allowed, of which all sides are most nearly multiples; and a multiple of
// eight: found by trying every part of every side.
func TestStepsThatFit(t *testing.T) {
	r := rand.New(rand.NewPCG(211, 212))
	for range 200 {
		w := rawPlane{usable: 1, options: []option{{w: 40 + r.Int64N(400), h: 30 + r.Int64N(300), gx: r.Int64N(9), gy: r.Int64N(9)}}}
		side := 500 + r.Int64N(2000)
		w.outer = [][]vec{square(3, 5, 3+side, 5+side-r.Int64N(200))}
		w.options[0].parts = []part{{w.options[0].body(), 0}}
		p := w.plane()
		var sides []int64
		for _, cores := range p.coreFamilies() {
			for _, c := range cores {
				sides = append(sides, c.hi.x-c.lo.x, c.hi.y-c.lo.y)
			}
		}
		squares := 10 + r.Int64N(90)
		least := (side + squares - 1) / squares
		best := math.Inf(1)
		var good []int64
		for _, s := range sides {
			for k := int64(1); s/k >= least; k++ {
				loss := 0.0
				for _, v := range sides {
					loss += float64(v-v/(s/k)*(s/k)) / float64(v)
				}
				if loss < best-1e-9 {
					best, good = loss, nil
				}
				if loss < best+1e-9 {
					good = append(good, s/k)
				}
			}
		}
		got := p.fittingStep(side, squares)
		if len(good) == 0 && got != max(8, least/8*8) || len(good) > 0 && !slices.ContainsFunc(good, func(v int64) bool { return got == max(8, v/8*8) }) {
			t.Fatalf("sides %v, at least %d: a step of %d, want one of %v", sides, least, got, good)
		}
		// The base step is taken where it is not too fine, and then half of it, too, where that is whole.
		base := p.baseStep()
		within, want := p.stepWithin(squares), got
		if side/base <= squares {
			want = base
		}
		if within != want {
			t.Fatalf("of a base step of %d in %d, at most %d squares: %d, want %d", base, side, squares, within, want)
		}
		var steps []int64
		switch {
		case side/base > 130:
			steps = []int64{p.fittingStep(side, 50)}
		case base%2 == 0:
			steps = []int64{base, base / 2}
		default:
			steps = []int64{base}
		}
		if got := p.steps(); !slices.Equal(got, steps) {
			t.Fatalf("of a base step of %d in %d: %v, want %v", base, side, got, steps)
		}
	}
	// By hand: in 1200 of at most 12 squares a step is 100 at least; 350 fits itself and 175, and a side of 105 fits best with 105.
	w := rawPlane{outer: [][]vec{square(0, 0, 1200, 900)}, usable: 1, options: []option{{w: 350, h: 105, parts: []part{{rect{vec{}, vec{350, 105}}, 0}}}}}
	if got := w.plane().fittingStep(1200, 12); got != 104 {
		t.Errorf("a step of %d, want 104 (3 x 116 and 105 lose 0.10, 3 x 105 and 105 lose 0.10, 350 and 105 lose 1)", got)
	}
	for _, c := range []struct{ side, base int64 }{{1300, 10}, {1309, 10}, {1310, 10}, {131, 1}, {130, 1}} {
		w.outer = [][]vec{square(0, 0, c.side, 100)}
		w.options[0].w, w.options[0].h = 3*c.base, 2*c.base
		w.options[0].parts[0].rect = w.options[0].body()
		if got := w.plane().steps(); (got[0] == c.base) != (c.side/c.base <= 130) {
			t.Errorf("%d in steps of %d: %v", c.side, c.base, got)
		}
	}
}

// Cores that gaps and strips allow, by hand: a body of 20 by 10 with gaps of 6 and 4 and a strip of 8 at its upper end.
func TestCoresOfGapsAndStrips(t *testing.T) {
	p := newPlane(nil, []option{{w: 20, h: 10, gx: 6, gy: 4, strips: []rect{{vec{20, 2}, vec{28, 9}}}}}, 1, nil)
	for _, c := range []struct {
		x, y share
		want rect
	}{{0, 0, rect{vec{0, 0}, vec{26, 14}}}, {1, 1, rect{vec{-3, -2}, vec{23, 12}}}, {2, 2, rect{vec{-6, -4}, vec{20, 10}}}, {0, 2, rect{vec{0, -4}, vec{26, 10}}}} {
		if got := p.gapCores(c.x, c.y)[0]; got != c.want {
			t.Errorf("gaps shared %d and %d: %v, want %v", c.x, c.y, got, c.want)
		}
	}
	for _, c := range []struct {
		s      share
		alongX bool
		want   rect
	}{{0, true, rect{vec{0, 0}, vec{28, 10}}}, {1, true, rect{vec{0, 0}, vec{24, 10}}}, {2, true, rect{vec{0, 0}, vec{20, 10}}}, {0, false, rect{vec{0, 0}, vec{20, 10}}}} {
		if got := p.stripCores(c.s, c.alongX)[0]; got != c.want {
			t.Errorf("strips shared %d (along x: %v): %v, want %v", c.s, c.alongX, got, c.want)
		}
	}
	q := newPlane(nil, []option{{w: 20, h: 10, strips: []rect{{vec{1, 10}, vec{15, 14}}, {vec{-6, 0}, vec{0, 10}}, {vec{3, -2}, vec{9, 0}}}}}, 1, nil)
	for _, c := range []struct {
		s      share
		alongX bool
		want   rect
	}{{0, true, rect{vec{0, 0}, vec{20, 10}}}, {1, true, rect{vec{-3, 0}, vec{20, 10}}}, {2, true, rect{vec{-6, 0}, vec{20, 10}}},
		{0, false, rect{vec{0, 0}, vec{20, 14}}}, {1, false, rect{vec{0, -1}, vec{20, 12}}}, {2, false, rect{vec{0, -2}, vec{20, 10}}}} {
		if got := q.stripCores(c.s, c.alongX)[0]; got != c.want {
			t.Errorf("three strips shared %d (along x: %v): %v, want %v", c.s, c.alongX, got, c.want)
		}
	}
	// Every family is sound, they differ, and the envelope is one of them.
	r := rand.New(rand.NewPCG(213, 214))
	several := 0
	for range 60 {
		w := randomPlane(r, false)
		p := w.plane()
		families := p.coreFamilies()
		for i, cores := range families {
			if !p.coresConflict(cores) && len(families) > 1 {
				t.Fatalf("%+v: cores %v", w.options, cores)
			}
			for _, other := range families[:i] {
				if slices.Equal(cores, other) {
					t.Fatalf("%v twice", cores)
				}
			}
		}
		if len(families) > 2 {
			several++
		}
		if env, plain := p.envelopes(); plain && !slices.ContainsFunc(families, func(c []rect) bool { return slices.Equal(c, env) }) {
			t.Fatalf("%v are not among %v", env, families)
		}
	}
	if several < 20 {
		t.Errorf("only %d have several families", several)
	}
	all := make([][]rect, 6)
	if len(fewer(all, 5000)) != 6 || len(fewer(all, 5001)) != 4 || len(fewer(all[:3], 5001)) != 3 {
		t.Error("four families are kept where places are more than 5000")
	}
}

// Sets of numbers against maps.
func TestSetsOfNumbers(t *testing.T) {
	r := rand.New(rand.NewPCG(215, 216))
	for range 200 {
		n := 1 + r.IntN(200)
		a, b := newBitset(n), newBitset(n)
		in, also := map[int32]bool{}, map[int32]bool{}
		for range r.IntN(2 * n) {
			i, j := int32(r.IntN(n)), int32(r.IntN(n))
			a.set(i)
			b.set(j)
			in[i], also[j] = true, true
		}
		both, first := 0, int32(-1)
		for i := range int32(n) {
			if a.has(i) != in[i] {
				t.Fatalf("%d of %d", i, n)
			}
			if in[i] && first < 0 {
				first = i
			}
			if in[i] && also[i] {
				both++
			}
		}
		if a.first() != first || a.common(b) != both || a.meets(b) != (both > 0) {
			t.Fatalf("first %d, want %d; %d common, want %d; meet: %v", a.first(), first, a.common(b), both, a.meets(b))
		}
		var listed []int32
		a.each(func(i int32) { listed = append(listed, i) })
		if len(listed) != len(in) || !slices.IsSorted(listed) || slices.ContainsFunc(listed, func(i int32) bool { return !in[i] }) {
			t.Fatalf("%v", listed)
		}
		c, d := slices.Clone(a), slices.Clone(a)
		c.and(b)
		d.without(b)
		for i := range int32(n) {
			if c.has(i) != (in[i] && also[i]) || d.has(i) != (in[i] && !also[i]) {
				t.Fatalf("%d of %d: in both %v, in the first alone %v", i, n, c.has(i), d.has(i))
			}
		}
	}
}

// Costs of steps, by hand: nanoseconds on a common core, as estimated when they were measured.
func TestEstimatedCosts(t *testing.T) {
	g := newGrid([]spot{{0, vec{}}, {0, vec{4, 2}}, {0, vec{9, 2}}}, []rect{{vec{}, vec{3, 3}}}) // three places, six rows
	if got := stepCost(g); got != 15*3+6*6 {
		t.Errorf("a step on a grid costs %d", got)
	}
	if got := stepCost(&families{grids: []*grid{g, g}}); got != 2*81 {
		t.Errorf("a step on two costs %d", got)
	}
	if n := (&families{grids: []*grid{g, g}}).rows(); n != 12 {
		t.Errorf("two grids have %d rows", n)
	}
	h := &graph{members: [][]int32{{0, 1}, {1, 2, 3}}, spots: make([]spot, 128)}
	if got := stepCost(h); got != 5*5+10*2 {
		t.Errorf("a step on a graph costs %d", got)
	}
	if got := nodeCost(h); got != 2*(1+2)/4 {
		t.Errorf("a node of a graph costs %d", got)
	}
	h.members = make([][]int32, 40)
	if got := nodeCost(h); got != 40*3/4 {
		t.Errorf("a node of a graph of 40 rows costs %d", got)
	}
	if nodeCost(g) != 800 || graphCost(30) != 9000 {
		t.Errorf("a node of a grid costs %d, a graph of 30 %d", nodeCost(g), graphCost(30))
	}
	q := &raster{p: &plane{usable: 2, fields: []*field{{walls: make([]wall, 3)}, {walls: make([]wall, 5)}}}, step: vec{2, 2}, xs: []domain{{{0, 7}}, {{1, 1}, {4, 5}}}}
	if got := q.rowCost(); got != 3*(200+500) { // four pieces and two, of two options
		t.Errorf("a row of oblongs costs %d", got)
	}
}
