package packing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// scaled is a plane with all lengths so many times as long, since columns are exact but for a lattice step.
func (w rawPlane) scaled(k int64) rawPlane {
	out := w.mirroredRaw(func(v vec) vec { return vec{k * v.x, k * v.y} })
	for i := range out.options {
		out.options[i].gx, out.options[i].gy = k*w.options[i].gx, k*w.options[i].gy
	}
	out.gap = k * w.gap
	return out
}

// Searched column by column, small bays hold what brute force says, and one more is refuted; what is found stands, seen upright. The
// steps taken are as few as they were found to be.
func TestColumnsAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(151, 152))
	steps, bays := 0.0, 0
	for bays < 24 {
		w, small, spots := smallPlane(r, true)
		p := w.scaled(20).plane()
		c, upright := p.byColumns(t.Context())
		if c == nil {
			t.Fatal("walls along the axes and no columns")
		}
		want := most(small, spots)
		if want < 3 || want > 8 {
			continue
		}
		bays++
		found, refuted := c.search(want, 1000, 30_000, never)
		if refuted || len(found) < want {
			t.Fatalf("%d of %d found; refuted: %v", len(found), want, refuted)
		}
		for i := range found {
			found[i] = upright(found[i])
		}
		if !p.stands(found) {
			t.Fatalf("%v do not stand", found)
		}
		if found, refuted := c.search(want+1, 1000, 30_000, never); !refuted || found != nil {
			t.Fatalf("%d found where brute force packs %d; refuted: %v", len(found), want, refuted)
		}
		if bays%4 == 0 { // the least work with which it is sure
			for _, target := range []int{want, want + 1} {
				lo, hi := 0, 30_000
				for hi-lo > 1+hi/50 {
					if f, no := c.search(target, 1000, (lo+hi)/2, never); no || f != nil {
						hi = (lo + hi) / 2
					} else {
						lo = (lo + hi) / 2
					}
				}
				steps += math.Log2(float64(hi))
			}
		}
		// Few states kept: what is found still stands, and nothing is refuted that is there.
		if found, refuted := c.search(want, 2, 30_000, never); refuted || len(found) > want {
			t.Fatalf("with two states a column %d of %d; refuted: %v", len(found), want, refuted)
		}
	}
	t.Logf("%g steps, added up in powers of two", steps)
	if steps > 81 {
		t.Errorf("it takes %g steps, added up in powers of two", steps)
	}
}

// Loads of a column are all sets of kinds across it whose heights fit, however they are ordered, with the most that can still follow:
// against listing every set of kinds whose columns hold no more than fits.
func TestMoreThatCanFollowALoad(t *testing.T) {
	r := rand.New(rand.NewPCG(153, 154))
	for range 25 {
		_, p, spots := smallPlane(r, true)
		c, _ := p.byColumns(t.Context())
		want := most(p, spots)
		l := &loads{c: c, target: want, work: 100_000, stop: never}
		if !l.find() {
			t.Fatal("the work is used up")
		}
		if first := l.layers[0].list[0]; first.more < want {
			t.Fatalf("%d can follow, %d stand", first.more, want)
		}
		for i, layer := range l.layers[:len(c.xs)] {
			for _, from := range layer.list {
				more := 0
				for _, s := range from.next {
					to := s.to
					more = max(more, len(s.added)+to.more)
					across := slices.Concat(from.across, s.added)
					left, ended := []int32{}, false
					for _, k := range across {
						switch {
						case i+1 == len(c.xs):
						case c.kinds[k].end > c.xs[i+1]:
							left = append(left, k)
						case c.kinds[k].end == c.xs[i+1]:
							ended = true
						}
					}
					slices.Sort(left)
					if !slices.Equal(to.across, left) || to.ended != ended || to.count < from.count+len(s.added) {
						t.Fatalf("%v and %v at column %d go on as %v (%v) with %d", from.across, s.added, i, to.across, to.ended, to.count)
					}
				}
				if from.more != more {
					t.Fatalf("after %v at column %d %d more, want %d", from.across, i, from.more, more)
				}
			}
		}
	}
}

// Kinds fit across a column where their heights add up to no more than lies between the lowest place of one and the top of another at
// its highest. By hand.
func TestKindsThatFitAcross(t *testing.T) {
	c := &columns{kinds: []kind{{high: 4, lo: 0, hi: 10}, {high: 5, lo: 2, hi: 6}, {high: 3, lo: 0, hi: 2}, {high: 6, lo: 0, hi: 20}, {high: 6, lo: 3, hi: 2}}}
	for _, s := range []struct {
		across []int32
		want   bool
	}{
		{nil, true}, {[]int32{0}, true}, {[]int32{0, 1}, true}, // 9 between 0 and 11, or 2 and 14
		{[]int32{1, 2}, true},        // 8 between 0 and 11
		{[]int32{2, 2}, false},       // 6 between 0 and 5
		{[]int32{1, 1}, false},       // 10 between 2 and 11
		{[]int32{1, 1, 2}, false},    // 13 between 0 and 11
		{[]int32{0, 0, 1}, true},     // 13: between 0 and 14
		{[]int32{0, 0, 1, 2}, false}, // 16
		{[]int32{3, 3, 3, 3}, true},  // 24 between 0 and 26
		{[]int32{4}, false},          // 6 between 3 and 8
	} {
		if c.fitsAcross(s.across) != s.want {
			t.Errorf("%v fit: %v", s.across, !s.want)
		}
	}
}

// Demands close to their longest chains: against all heights tried one by one. A state leaves as much open as another where it holds
// every choice of heights that the other holds.
func TestDemandsOnHeightsAreThoseOfAllHeights(t *testing.T) {
	r := rand.New(rand.NewPCG(155, 156))
	seen, dominated := map[bool]int{}, 0
	var before *stackState
	heights := func(u *stackState) map[[3]int64]bool {
		out := map[[3]int64]bool{}
		var h [3]int64
		var every func(a int)
		every = func(a int) {
			if a == len(u.across) {
				out[h] = true
				return
			}
			for v := u.lo[a]; v <= u.hi[a]; v++ {
				ok := true
				for b := range a {
					ok = ok && v-h[b] >= u.apart[b][a]
				}
				if h[a] = v; ok {
					every(a + 1)
				}
			}
		}
		every(0)
		return out
	}
	for range 1500 {
		n := 1 + r.IntN(3)
		u := &stackState{across: make([]int32, n), count: r.IntN(2)}
		for a := range n {
			u.lo = append(u.lo, r.Int64N(6))
			u.hi = append(u.hi, u.lo[a]+r.Int64N(8))
			row := make([]int64, n)
			for b := a + 1; b < n; b++ {
				row[b] = r.Int64N(5)
			}
			u.apart = append(u.apart, row)
		}
		all := heights(u)
		ok := u.close()
		if seen[ok]++; ok != (len(all) > 0) {
			t.Fatalf("%+v can be met: %v", u, ok)
		}
		if !ok {
			continue
		}
		for a := range n { // every bound is reached, and every demand
			lo, hi := int64(math.MaxInt64), int64(math.MinInt64)
			for h := range all {
				lo, hi = min(lo, h[a]), max(hi, h[a])
			}
			if lo != u.lo[a] || hi != u.hi[a] {
				t.Fatalf("%+v: the %d-th stands from %d to %d, not %d to %d", u, a, lo, hi, u.lo[a], u.hi[a])
			}
			for b := a + 1; b < n; b++ {
				for k := a + 1; k < b; k++ {
					if u.apart[a][b] < u.apart[a][k]+u.apart[k][b] {
						t.Fatalf("%+v: a chain is longer", u)
					}
				}
			}
		}
		if before != nil && len(before.across) == n {
			same := before.count >= u.count
			for a := range n {
				same = same && before.lo[a] <= u.lo[a] && before.hi[a] >= u.hi[a]
				for b := a + 1; b < n; b++ {
					same = same && before.apart[a][b] <= u.apart[a][b]
				}
			}
			if got := before.leavesAll(u); got != same {
				t.Fatalf("%+v leaves what %+v does: %v", before, u, got)
			} else if got {
				dominated++
				first := heights(before)
				for h := range all {
					if !first[h] {
						t.Fatalf("%+v does not leave %v", before, h)
					}
				}
			}
		}
		if before == nil || r.IntN(4) == 0 {
			before = u
		}
	}
	if min(seen[true], seen[false]) < 200 || dominated < 10 {
		t.Errorf("drawn too one-sidedly: %v, %d dominated", seen, dominated)
	}
}

// The room from each column on is the sum, unit by unit, of the tallest stack of modules across it.
func TestRoomOfColumns(t *testing.T) {
	r := rand.New(rand.NewPCG(157, 158))
	for range 30 {
		w, p, _ := smallPlane(r, true)
		c, _ := p.byColumns(t.Context())
		least := math.Inf(1)
		for i := range w.usable {
			o := &w.options[i]
			least = math.Min(least, float64((o.w+o.gx)*(o.h+o.gy)))
		}
		if c.least != least {
			t.Fatalf("the least envelope is %g, want %g", c.least, least)
		}
		last := int64(0)
		for _, k := range c.kinds {
			last = max(last, k.end)
		}
		for i, from := range c.xs {
			sum := 0.0
			for x := from; x < last; x++ {
				lo, hi := int64(math.MaxInt64), int64(math.MinInt64)
				fits := map[int64]bool{0: true}
				for _, k := range c.kinds {
					if k.start <= x && x < k.end {
						lo, hi = min(lo, k.lo), max(hi, k.hi+k.high)
					}
				}
				best := int64(0)
				for h := int64(1); h <= hi-lo && hi > lo; h++ { // heights that modules here can add up to
					for _, k := range c.kinds {
						if k.start <= x && x < k.end && fits[h-k.high] {
							fits[h], best = true, h
						}
					}
				}
				sum += float64(best)
			}
			if c.room[i] != sum {
				t.Fatalf("from column %d on there is room for %g, want %g", i, c.room[i], sum)
			}
		}
		if c.room[len(c.xs)] != 0 {
			t.Fatal("room beyond the last column")
		}
	}
}

// A kind starts at a coordinate that pushed modules reach, ends where the next may start, and stands between the heights that walls
// leave it, a step further down for real positions.
func TestKindsOfColumns(t *testing.T) {
	r := rand.New(rand.NewPCG(159, 160))
	for range 30 {
		w := randomPlane(r, false)
		for i := range w.options {
			o := &w.options[i]
			o.gx, o.gy, o.strips, o.parts = 1, 1, nil, o.parts[:1]
		}
		w.outer, w.fixed = w.outer[:1], nil
		p := w.plane()
		xs, _ := p.domains(t.Context())
		c := newColumns(p, xs)
		n := 0
		for opt := range p.usable {
			for _, iv := range xs[opt] {
				at := false // at a wall on its left
				for _, rings := range [][][]vec{w.outer, w.keepOuts, w.forbidden} {
					for k, ring := range rings {
						for _, v := range ring {
							g := w.gap
							if k < len(w.forbidden) && &rings[0] == &append(w.forbidden[:0:0], w.forbidden...)[0] {
								g = 0
							}
							at = at || v.x == iv.lo || v.x+g == iv.lo || v.x-g == iv.lo
						}
					}
				}
				for y := int64(-2); y < 20; y++ { // runs of free places
					if w.free(opt, float64(iv.lo), float64(y)) && !w.free(opt, float64(iv.lo), float64(y-1)) {
						to := y
						for w.free(opt, float64(iv.lo), float64(to+1)) {
							to++
						}
						n++
						o := &w.options[opt]
						if !slices.ContainsFunc(c.kinds, func(k kind) bool {
							return k.opt == opt && k.start == iv.lo && k.end == iv.lo+o.w+1 && k.high == o.h+1 && k.lo == y-1 && k.hi >= to && (at || !k.atWall)
						}) {
							t.Fatalf("%+v: option %d at %d, %d to %d is no kind of %+v", w, opt, iv.lo, y, to, c.kinds)
						}
					}
				}
			}
		}
		for i, k := range c.kinds {
			if i > 0 && k.start < c.kinds[i-1].start || !slices.Contains(c.from[slices.Index(c.xs, k.start)], int32(i)) {
				t.Fatalf("kind %d starts at %d", i, k.start)
			}
		}
		if len(c.kinds) < n/2 {
			t.Fatalf("%d kinds, %d runs", len(c.kinds), n)
		}
	}
}

// At the next column old modules keep all demands between them, also those of modules that stood between them and have ended; a new one
// adds its own. By hand: over a module at index 0 the one at index 1 must be 9 higher, though the first is but 4 high.
func TestDemandsOutlastTheModulesBetween(t *testing.T) {
	c := &columns{xs: []int64{0, 5, 10}, kinds: []kind{{start: 0, end: 20, high: 4, lo: 0, hi: 30}, {start: 0, end: 20, high: 3, lo: 0, hi: 30}, {start: 5, end: 20, high: 6, lo: 0, hi: 30}}}
	old := func() *stackState {
		return &stackState{across: []int32{0, 1}, count: 3, lo: []int64{0, 9}, hi: []int64{21, 30}, apart: [][]int64{{0, 9}, {0, 0}}}
	}
	for name, k := range map[string]struct {
		built []int32
		apart [][]int64
		lo    []int64
	}{
		"nothing new": {[]int32{0, 1}, [][]int64{{0, 9}, {0, 0}}, []int64{0, 9}},
		"one above":   {[]int32{0, 1, -3}, [][]int64{{0, 9, 12}, {0, 0, 3}, {0, 0, 0}}, []int64{0, 9, 12}},
		"one between": {[]int32{0, -3, 1}, [][]int64{{0, 4, 10}, {0, 0, 6}, {0, 0, 0}}, []int64{0, 4, 10}},
		"one below":   {[]int32{-3, 0, 1}, [][]int64{{0, 6, 15}, {0, 0, 9}, {0, 0, 0}}, []int64{0, 6, 15}},
	} {
		s := &columnSearch{c: c, layer: map[string][]*stackState{}}
		s.arrive(1, old(), k.built)
		for _, list := range s.layer {
			for _, u := range list {
				for a := range k.apart {
					if u.lo[a] != k.lo[a] || !slices.Equal(u.apart[a][a+1:], k.apart[a][a+1:]) || u.count != 3+len(k.built)-2 {
						t.Errorf("%s: demands %v above %v, want %v above %v", name, u.apart, u.lo, k.apart, k.lo)
						break
					}
				}
			}
		}
		if len(s.layer) != 1 {
			t.Errorf("%s: %d states", name, len(s.layer))
		}
	}
}

// Searched by columns a plane's packing becomes one that stands, with as many as brute force packs, and the bound comes down to it. The
// packing known before is left as it was.
func TestPlanesBetteredByColumns(t *testing.T) {
	r := rand.New(rand.NewPCG(161, 162))
	bays := 0
	for bays < 8 {
		w, small, spots := smallPlane(r, true)
		want := most(small, spots)
		if want < 3 || want > 7 {
			continue
		}
		bays++
		p := w.scaled(20).plane()
		c, upright := p.byColumns(t.Context())
		s := newSession(t.Context(), &Problem{Workers: 1}, nil, time.Now(), time.Minute)
		heard := 0
		s.improved = func(spots []spot, bound int) { heard = len(spots) }
		before := []spot{{0, vec{7, 7}}}
		res := planeResult{spots: before, bound: want + 1, argument: "before"}
		if s.stacked(c, upright, 1000, 30_000, &res); len(res.spots) != want || res.bound != want || res.argument != byStacks || !p.stands(res.spots) || heard != want {
			t.Fatalf("%d of at most %d (%s), brute force packs %d; %d were heard of", len(res.spots), res.bound, res.argument, want, heard)
		}
		if before[0] != (spot{0, vec{7, 7}}) {
			t.Fatalf("the packing before is %v now", before)
		}
		if s.stacked(nil, nil, 1000, 30_000, &res); res.bound != want {
			t.Fatalf("without columns at most %d", res.bound)
		}
	}
}
