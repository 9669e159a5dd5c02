package packing

import (
	"cmp"
	"math/rand/v2"
	"slices"
)

// graphSearch is branch and bound on a graph under prices: a row is chosen, and
// one of its live candidates is taken or the row is left, at its price.
type graphSearch struct {
	g      *graph
	price  []float64
	target int
	nodes  int
	stop   func() bool
	gaveUp bool
	chosen []int32
	found  []int32
	pool   []bitset
}

// run finds target candidates without conflict; proved says the answer is sure.
func (s *graphSearch) run() (packing []int32, proved bool) {
	live := newBitset(len(s.g.spots))
	for i := range s.g.spots {
		live.set(int32(i))
	}
	s.branch(live)
	return s.found, s.found != nil || !s.gaveUp
}

// branch explores what is live; it returns true to stop everything.
func (s *graphSearch) branch(live bitset) bool {
	for {
		if s.nodes--; s.nodes < 0 || (s.nodes&63 == 0 && s.stop()) {
			s.gaveUp = true
			return true
		}
		row, potential := s.pick(live)
		if float64(len(s.chosen))+potential < float64(s.target)-slack {
			return false
		}
		if row < 0 {
			if len(s.chosen) < s.target {
				return false
			}
			s.found = slices.Clone(s.chosen)
			return true
		}
		for _, c := range s.g.members[row] {
			if !live.has(c) {
				continue
			}
			next := s.get()
			copy(next, live)
			next.without(s.g.against[c])
			s.chosen = append(s.chosen, c)
			over := s.branch(next)
			s.chosen = s.chosen[:len(s.chosen)-1]
			s.pool = append(s.pool, next)
			if over {
				return true
			}
		}
		live.without(s.g.in[row])
	}
}

func (s *graphSearch) get() bitset {
	if n := len(s.pool); n > 0 {
		b := s.pool[n-1]
		s.pool = s.pool[:n-1]
		return b
	}
	return newBitset(len(s.g.spots))
}

// pick chooses the priced row with the fewest live candidates, the dearest of
// those, and sums the prices of all rows that have any.
func (s *graphSearch) pick(live bitset) (row int, potential float64) {
	row = -1
	fewest := 1 << 30
	for r, in := range s.g.in {
		u := s.price[r]
		if u <= 0 {
			continue
		}
		n := in.common(live)
		if n == 0 {
			continue
		}
		potential += u
		if n < fewest || (n == fewest && u > s.price[row]) {
			row, fewest = r, n
		}
	}
	return row, potential
}

// graphBeam keeps the most promising partial packings of each size, filling rows
// in the order of their corners as seen from one side.
type graphBeam struct {
	g      *graph
	price  []float64
	order  []int32
	target int
	width  int
	stop   func() bool
}

type graphState struct {
	live      bitset
	potential float64
	next      int // first row in order that may still be filled
	from      int32
	added     int32
}

func newGraphBeam(g *graph, price []float64, v view, target, width int, stop func() bool) *graphBeam {
	b := &graphBeam{g: g, price: price, target: target, width: width, stop: stop}
	for r := range g.members {
		if price[r] > 0 {
			b.order = append(b.order, int32(r))
		}
	}
	slices.SortStableFunc(b.order, func(p, q int32) int {
		return v.compare(g.corner[p], g.corner[q])
	})
	return b
}

// compare orders places from the view's corner.
func (v view) compare(p, q vec) int {
	x, y := cmp.Compare(p.x, q.x), cmp.Compare(p.y, q.y)
	if v.flipX {
		x = -x
	}
	if v.flipY {
		y = -y
	}
	if v.swap {
		return cmp.Or(x, y)
	}
	return cmp.Or(y, x)
}

func (b *graphBeam) run() []int32 {
	live := newBitset(len(b.g.spots))
	for i := range b.g.spots {
		live.set(int32(i))
	}
	levels := [][]graphState{{{live: live, from: -1, added: -1}}}
	for len(levels) <= b.target && !b.stop() {
		var next []graphState
		seen := map[uint64]bool{}
		for k := range levels[len(levels)-1] {
			if b.stop() {
				return b.trace(levels)
			}
			next = b.children(&levels[len(levels)-1][k], int32(k), len(levels)-1, next, seen)
		}
		if len(next) == 0 {
			break
		}
		slices.SortStableFunc(next, func(p, q graphState) int { return cmp.Compare(q.potential, p.potential) })
		for k := range levels[len(levels)-1] {
			levels[len(levels)-1][k].live = nil
		}
		levels = append(levels, next[:min(len(next), b.width)])
	}
	return b.trace(levels)
}

func (b *graphBeam) trace(levels [][]graphState) []int32 {
	var out []int32
	k := int32(0)
	for l := len(levels) - 1; l > 0; l-- {
		out = append(out, levels[l][k].added)
		k = levels[l][k].from
	}
	return out
}

// branchesPerState bounds the rows left free one after another from one state.
const branchesPerState = 12

func (b *graphBeam) children(s *graphState, index int32, n int, next []graphState, seen map[uint64]bool) []graphState {
	live := slices.Clone(s.live)
	for left := 0; left < branchesPerState; left++ {
		at := s.next
		for at < len(b.order) && !b.g.in[b.order[at]].meets(live) {
			at++
		}
		if at == len(b.order) {
			return next
		}
		row := b.order[at]
		for _, c := range b.g.members[row] {
			if !live.has(c) {
				continue
			}
			child := graphState{live: slices.Clone(live), next: at, from: index, added: c}
			child.live.without(b.g.against[c])
			h := hashOfBits(child.live)
			if seen[h] {
				continue
			}
			seen[h] = true
			child.potential = b.potential(child.live, at)
			if float64(n+1)+child.potential >= float64(b.target)-slack {
				next = append(next, child)
			}
		}
		live.without(b.g.in[row])
		if float64(n)+b.potential(live, at) < float64(b.target)-slack {
			return next
		}
	}
	return next
}

func (b *graphBeam) potential(live bitset, from int) float64 {
	var sum float64
	for _, r := range b.order[from:] {
		if b.g.in[r].meets(live) {
			sum += b.price[r]
		}
	}
	return sum
}

func hashOfBits(b bitset) uint64 {
	h := uint64(14695981039346656037)
	for _, w := range b {
		h = (h ^ w) * 1099511628211
		h ^= h >> 29
	}
	return h
}

// greedy takes candidates in the order of their corners from each side.
func (g *graph) greedy(offer func([]int32)) {
	order := make([]int32, len(g.spots))
	for i := range order {
		order[i] = int32(i)
	}
	for _, v := range views {
		slices.SortStableFunc(order, func(a, b int32) int { return v.compare(g.spots[a].vec, g.spots[b].vec) })
		free := newBitset(len(g.spots))
		var out []int32
		for _, c := range order {
			if !free.has(c) {
				out = append(out, c)
				for i, w := range g.against[c] {
					free[i] |= w
				}
			}
		}
		offer(out)
	}
}

func (g *graph) exact(_ int, prices priced, target, nodes int, stop func() bool) outcome {
	s := graphSearch{g: g, price: prices.price, target: target, nodes: nodes / 4, stop: stop}
	found, proved := s.run()
	return outcome{found, proved && found == nil}
}

func (g *graph) beam(view int, prices priced, target, width int, stop func() bool) []int32 {
	return newGraphBeam(g, prices.price, views[view%len(views)], target, max(10, width/3), stop).run()
}

// improve takes out modules near a random one and searches the hole for one more.
func (g *graph) improve(start []int32, seed uint64, target, tries int, stop func() bool) []int32 {
	rng := rand.New(rand.NewPCG(seed, 78))
	best := slices.Clone(start)
	for k := 0; k < tries && len(best) < target && !stop(); k++ {
		best = g.repacked(best, rng)
	}
	return best
}

// repacked is a packing with one hole packed again, better if that was found.
func (g *graph) repacked(best []int32, rng *rand.Rand) []int32 {
	size := min(len(best), 4+rng.IntN(7))
	at := g.spots[best[rng.IntN(len(best))]]
	far := func(c int32) int64 { return abs64(g.spots[c].x-at.x) + abs64(g.spots[c].y-at.y) }
	order := slices.Clone(best)
	slices.SortFunc(order, func(a, b int32) int { return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a, b)) })
	kept := order[size:]
	live := newBitset(len(g.spots))
	for i := range g.spots {
		live.set(int32(i))
	}
	for _, c := range kept {
		live.without(g.against[c])
	}
	for want := size + 1; want >= size; want-- {
		if found := g.independent(live, want, 400, rng); found != nil {
			return append(slices.Clone(kept), found...)
		}
	}
	return best
}

// independent looks for want live candidates without conflict by random greedy
// choice of the ones that exclude least.
func (g *graph) independent(live bitset, want, tries int, rng *rand.Rand) []int32 {
	var pool []int32
	live.each(func(c int32) { pool = append(pool, c) })
	if len(pool) < want {
		return nil
	}
	out := make([]int32, 0, want)
	left := slices.Clone(live)
	for range min(tries, 4*len(pool)) / 4 {
		copy(left, live)
		out = out[:0]
		for {
			c := g.leastExcluding(left, pool, rng)
			if c < 0 {
				break
			}
			out = append(out, c)
			left.without(g.against[c])
		}
		if len(out) >= want {
			return slices.Clone(out)
		}
	}
	return nil
}

// leastExcluding samples live candidates and picks the one with the fewest live conflicts.
func (g *graph) leastExcluding(live bitset, pool []int32, rng *rand.Rand) int32 {
	best, fewest := int32(-1), 1<<30
	for tries := 0; tries < 40; tries++ {
		c := pool[rng.IntN(len(pool))]
		if !live.has(c) {
			continue
		}
		if n := live.common(g.against[c]); n < fewest {
			best, fewest = c, n
		}
		if tries > 12 && best >= 0 {
			break
		}
	}
	if best < 0 {
		return live.first()
	}
	return best
}
