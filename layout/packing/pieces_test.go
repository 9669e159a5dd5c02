package packing

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// A point lies on an edge but not at its ends where a walk along it comes by, asked of every point of a small lattice.
func TestPointsWithinAnEdge(t *testing.T) {
	r := rand.New(rand.NewPCG(221, 222))
	for range 400 {
		p, q := vec{r.Int64N(9) - 4, r.Int64N(9) - 4}, vec{r.Int64N(9) - 4, r.Int64N(9) - 4}
		steps := gcd64(abs64(q.x-p.x), abs64(q.y-p.y)) // whole points on the edge are so many steps apart
		on := map[vec]bool{}
		for k := int64(1); k < steps; k++ {
			on[vec{p.x + (q.x-p.x)/steps*k, p.y + (q.y-p.y)/steps*k}] = true
		}
		for x := int64(-6); x <= 6; x++ {
			for y := int64(-6); y <= 6; y++ {
				if v := (vec{x, y}); within(p, q, v) != on[v] {
					t.Fatalf("%v lies within %v to %v: %v", v, p, q, !on[v])
				}
			}
		}
	}
}

// A skyline comes again with as many candidates or fewer: it was seen. With more it was not, and counts from then on.
func TestSkylinesSeenBefore(t *testing.T) {
	g := newGrid([]spot{{0, vec{}}, {0, vec{3, 0}}, {0, vec{0, 3}}}, []rect{{vec{}, vec{3, 3}}})
	s := newSweep(g, nil, 3, 1000, never)
	for _, c := range []struct {
		key  uint64
		n    int
		want bool
	}{{7, 1, false}, {7, 1, true}, {7, 0, true}, {7, 2, false}, {7, 1, true}, {7, 2, true}, {7 + 1<<40, 2, false}, {7 + 1<<40, 1, true}, {7, 1, false}} {
		s.key, s.chosen = [2]uint64{c.key, 5}, make([]int32, c.n)
		if got := s.seen(); got != c.want {
			t.Errorf("key %d with %d: seen %v, want %v", c.key, c.n, got, c.want)
		}
	}
	if len(s.memo) != 1024 || len(newSweep(g, nil, 3, 1024, never).memo) != 1024 || len(newSweep(g, nil, 3, 1025, never).memo) != 2048 {
		t.Errorf("%d places to remember", len(s.memo))
	}
}

// The key and the prices left of a skyline are those of its columns, however it came about; raising and lowering undo one another.
func TestSkylinesKeepTheirPrices(t *testing.T) {
	r := rand.New(rand.NewPCG(223, 224))
	_, p, spots := smallPlane(r, true)
	env, _ := p.envelopes()
	g := newGrid(spots, env)
	prices := priced{make([]float64, g.rows()), 0}
	for i := range prices.price {
		prices.price[i] = float64(r.IntN(9))
		prices.sum += prices.price[i]
	}
	s := newSweep(g, []priced{prices}, 3, 1000, never)
	keys := map[[2]uint64]string{}
	for range 400 {
		x := r.IntN(g.nx)
		if to := int32(r.IntN(g.ny + 1)); to > s.top[x] {
			s.raise(x, to)
		} else {
			s.lower(x, to)
		}
		left := 0.0
		shape := ""
		for x, top := range s.top {
			shape += string(rune('a' + top))
			for y := int(top); y < g.ny; y++ {
				left += prices.price[y*g.nx+x]
			}
		}
		if left != s.left[0] {
			t.Fatalf("%g is left, want %g", s.left[0], left)
		}
		if before, ok := keys[s.key]; ok && before != shape {
			t.Fatal("two skylines have one key")
		}
		keys[s.key] = shape
		at, ok := s.lowest()
		low := slices.Min(s.top)
		if ok != (int(low) < g.ny) || ok && (int32(at/g.nx) != low || at%g.nx != slices.Index(s.top, low)) || lowestOf(s.top) != slices.Index(s.top, low) {
			t.Fatalf("the lowest of %v is %d (%v)", s.top, at, ok)
		}
		b := g.blocks[r.IntN(len(g.blocks))]
		flat := true
		for x := b.x0; x < b.x1; x++ {
			flat = flat && s.top[x] == b.y0
		}
		if s.free(b) != flat || flatUnder(s.top, b) != flat {
			t.Fatalf("%v rests on %v: %v", b, s.top, !flat)
		}
	}
	for _, c := range []struct {
		left []float64
		want bool
	}{{[]float64{1}, false}, {[]float64{1 - 0.5e-6, 2}, false}, {[]float64{2, 0.9}, true}, {[]float64{1 - 2e-6}, true}, {nil, false}} {
		s.chosen, s.left = make([]int32, 2), c.left
		if s.hopeless() != c.want {
			t.Errorf("2 of 3 with prices of %v left are hopeless: %v", c.left, !c.want)
		}
	}
}

// The top of a candidate is level with a neighbour column of the same height or with the top of the grid.
func TestTopsLevelWithANeighbour(t *testing.T) {
	g := &grid{nx: 6, ny: 9, blocks: []cells{{2, 4, 3, 5}, {0, 2, 3, 5}, {4, 6, 3, 5}, {2, 4, 6, 9}}}
	for _, c := range []struct {
		block int32
		top   []int32
		want  bool
	}{
		{0, []int32{0, 0, 3, 3, 0, 0}, false}, {0, []int32{0, 5, 3, 3, 0, 0}, true}, {0, []int32{5, 0, 3, 3, 0, 5}, false}, {0, []int32{0, 4, 3, 3, 5, 0}, true},
		{0, []int32{0, 6, 3, 3, 6, 0}, false}, {1, []int32{3, 3, 5, 0, 0, 0}, true}, {1, []int32{3, 3, 4, 0, 0, 5}, false}, {2, []int32{5, 0, 0, 5, 3, 3}, true},
		{2, []int32{5, 0, 0, 4, 3, 3}, false}, {3, []int32{0, 0, 6, 6, 0, 0}, true},
	} {
		if level(g, c.top, c.block) != c.want {
			t.Errorf("block %d over %v is level: %v", c.block, c.top, !c.want)
		}
	}
	if !better(g, nil, 0, 1, 1) || better(g, nil, 0, 1, 0) {
		t.Error("the last is taken as they come, or the first where the last is preferred")
	}
	top := []int32{3, 3, 3, 3, 5, 0}
	if !better(g, top, 0, 1, 2) || better(g, top, 1, 0, 2) || better(g, top, 0, 0, 2) {
		t.Error("the one that is level is not preferred")
	}
}

// Rows of a graph hold together what lies under any corner of a core, of every family.
func TestRowsHoldWhatLiesUnderACorner(t *testing.T) {
	r := rand.New(rand.NewPCG(225, 226))
	for range 30 {
		_, p, spots := smallPlane(r, false)
		g := newGraph(p, spots)
		lines := g.lines()
		for _, cores := range p.coreFamilies() {
			for range 20 { // any point at all
				at := vec{r.Int64N(24), r.Int64N(18)}
				var want []int32
				for j, u := range g.spots {
					if inRect(cores[u.opt].at(u.vec), at) {
						want = append(want, int32(j))
					}
				}
				got := g.under(lines, cores, at)
				if slices.Sort(got); !slices.Equal(got, want) {
					t.Fatalf("%v lie under %v, want %v", got, at, want)
				}
			}
			for i, s := range g.spots {
				at := cores[s.opt].at(s.vec).lo
				var under []int32
				for j, u := range g.spots {
					if inRect(cores[u.opt].at(u.vec), at) {
						under = append(under, int32(j))
					}
				}
				if !slices.ContainsFunc(g.in, func(row bitset) bool {
					return !slices.ContainsFunc(under, func(c int32) bool { return !row.has(c) })
				}) {
					t.Fatalf("%v lie under the corner of %d, and in no row together", under, i)
				}
			}
		}
	}
}

// Of more states than are kept those go that promise least: by count and what loads allow, then by how freely they move. By hand.
func TestStatesThatPromiseMost(t *testing.T) {
	state := func(count int, across []int32, free int64) *stackState {
		u := &stackState{count: count, across: across}
		for range across {
			u.lo, u.hi = append(u.lo, 50-8*free), append(u.hi, 50-7*free)
		}
		return u
	}
	a, b, c, d := state(3, []int32{1}, 2), state(2, []int32{2}, 9), state(3, []int32{1}, 5), state(1, []int32{3}, 0)
	known := map[string]*load{keyOf([]int32{2}, false): {more: 1}, keyOf([]int32{3}, false): {more: 4}}
	for width, want := range map[int][]*stackState{4: {a, b, c, d}, 3: {d, b, c}, 2: {d, b}, 1: {d}} {
		s := &columnSearch{width: width, layer: map[string][]*stackState{"x": {a, c}, "y": {b}, "z": {d}}}
		s.thin(known)
		var kept []*stackState
		for _, list := range s.layer {
			kept = append(kept, list...)
		}
		if len(kept) != len(want) || s.lossy != (width < 4) {
			t.Errorf("%d of 4 are kept, want %d; lossy: %v", len(kept), width, s.lossy)
		}
		for _, u := range want {
			if !slices.Contains(kept, u) {
				t.Errorf("of %d kept the one of %d is none", width, u.count)
			}
		}
	}
}

// Where no kind stands across a column there is room for nothing, and modules of the next column do not count before it. By hand.
func TestColumnsWithNothingAcross(t *testing.T) {
	c := &columns{least: 1, xs: []int64{0, 10}, from: [][]int32{{0}, {1, 2}}, kinds: []kind{
		{start: 0, end: 4, high: 3, lo: 0, hi: 5}, {start: 10, end: 16, high: 3, lo: 2, hi: 9}, {start: 10, end: 12, high: 5, lo: 2, hi: 7}}}
	c.findRoom() // 4 x 6 (two of 3 between 0 and 8); 2 x 10 (five twice, or 3 + 3 + ... between 2 and 12), 4 x 9
	if c.room[2] != 0 || c.room[1] != 2*10+4*9 || c.room[0] != c.room[1]+4*6 {
		t.Errorf("room %v, want 80, 56 and 0", c.room)
	}
	if c.stackOver(7) != 0 || c.stackOver(0) != 6 || c.stackOver(12) != 9 {
		t.Errorf("over 7, 0 and 12 stand %g, %g and %g", c.stackOver(7), c.stackOver(0), c.stackOver(12))
	}
}
