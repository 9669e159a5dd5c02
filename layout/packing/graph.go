package packing

import (
	"cmp"
	"hash/maphash"
	"math/bits"
	"slices"
)

// bitset is a set of small numbers.
type bitset []uint64

func newBitset(n int) bitset      { return make(bitset, (n+63)/64) }
func (b bitset) has(i int32) bool { return b[i>>6]>>(uint(i)&63)&1 == 1 }
func (b bitset) set(i int32)      { b[i>>6] |= 1 << (uint(i) & 63) }
func (b bitset) and(c bitset) {
	for i, w := range c {
		b[i] &= w
	}
}
func (b bitset) without(c bitset) {
	for i, w := range c {
		b[i] &^= w
	}
}
func (b bitset) meets(c bitset) bool {
	for i, w := range c {
		if b[i]&w != 0 {
			return true
		}
	}
	return false
}

// common counts the members of both sets.
func (b bitset) common(c bitset) int {
	n := 0
	for i, w := range c {
		n += bits.OnesCount64(b[i] & w)
	}
	return n
}

// first is the least member, or -1.
func (b bitset) first() int32 {
	for i, w := range b {
		if w != 0 {
			return int32(i*64 + bits.TrailingZeros64(w))
		}
	}
	return -1
}

// each calls f for every member.
func (b bitset) each(f func(int32)) {
	for i, w := range b {
		for ; w != 0; w &= w - 1 {
			f(int32(i*64 + bits.TrailingZeros64(w)))
		}
	}
}

// graph is the set-packing model of any plane: candidates, the pairs of them that
// conflict, and cliques of conflicting candidates as rows. It serves where gaps are
// unequal or strips are shared, so that no envelope rectangle tells the conflicts.
type graph struct {
	p       *plane
	spots   []spot
	against []bitset  // conflicts of each candidate, itself among them
	members [][]int32 // of each row
	in      []bitset  // the same as sets
	rowsOf  [][]int32
	corner  []vec // of each row, for sweeping
}

// newGraph sorts the candidates and finds conflicts and cliques.
func newGraph(p *plane, spots []spot) *graph {
	g := &graph{p: p, spots: slices.Clone(spots)}
	slices.SortFunc(g.spots, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a.opt, b.opt), cmp.Compare(a.y, b.y), cmp.Compare(a.x, b.x))
	})
	g.findConflicts()
	g.findCliques()
	g.rowsOf = make([][]int32, len(g.spots))
	for r, ms := range g.members {
		for _, c := range ms {
			g.rowsOf[c] = append(g.rowsOf[c], int32(r))
		}
	}
	return g
}

// line is the run of candidates of one option at one y.
type line struct {
	y        int64
	from, to int // candidates
}

// lines lists the runs of each option.
func (g *graph) lines() [][]line {
	out := make([][]line, g.p.usable)
	for i := 0; i < len(g.spots); {
		j := i
		for j < len(g.spots) && g.spots[j].opt == g.spots[i].opt && g.spots[j].y == g.spots[i].y {
			j++
		}
		out[g.spots[i].opt] = append(out[g.spots[i].opt], line{g.spots[i].y, i, j})
		i = j
	}
	return out
}

// within calls f with each run of candidates of an option in an open rectangle.
func (g *graph) within(lines []line, r rect, f func(from, to int)) {
	k, _ := slices.BinarySearchFunc(lines, r.lo.y+1, func(l line, y int64) int { return cmp.Compare(l.y, y) })
	for ; k < len(lines) && lines[k].y < r.hi.y; k++ {
		run := g.spots[lines[k].from:lines[k].to]
		byX := func(s spot, x int64) int { return cmp.Compare(s.x, x) }
		a, _ := slices.BinarySearchFunc(run, r.lo.x+1, byX)
		b, _ := slices.BinarySearchFunc(run, r.hi.x, byX)
		if a < b {
			f(lines[k].from+a, lines[k].from+b)
		}
	}
}

func (g *graph) findConflicts() {
	lines := g.lines()
	g.against = make([]bitset, len(g.spots))
	for i, s := range g.spots {
		b := newBitset(len(g.spots))
		for o := range g.p.usable {
			for _, z := range g.p.zone[s.opt][o] {
				g.within(lines[o], z.at(s.vec), func(from, to int) {
					for k := from; k < to; k++ {
						b.set(int32(k))
					}
				})
			}
		}
		g.against[i] = b
	}
}

// findCliques starts from each corner with the candidates whose cores hold it, and
// adds to them until no more conflict with all. Conflicts not met by such a clique
// get cliques of their own.
func (g *graph) findCliques() {
	lines := g.lines()
	cores := g.p.coreFamilies()
	seen := map[uint64]bool{}
	met := make([]bitset, len(g.spots))
	for i := range met {
		met[i] = newBitset(len(g.spots))
		met[i].set(int32(i))
	}
	for _, family := range cores {
		for o, core := range family {
			for i, s := range g.spots {
				if s.opt != o {
					continue
				}
				at := vec{s.x + core.lo.x, s.y + core.lo.y}
				if ms := g.under(lines, family, at); len(ms) > 0 {
					g.addClique(ms, g.spots[i].vec, seen, met)
				}
			}
		}
	}
	for i := range g.spots {
		for {
			open := slices.Clone(g.against[i])
			open.without(met[i])
			j := open.first()
			if j < 0 {
				break
			}
			g.addClique([]int32{int32(i), j}, g.spots[i].vec, seen, met)
		}
	}
}

// under lists the candidates whose cores hold a point.
func (g *graph) under(lines [][]line, cores []rect, at vec) []int32 {
	var ms []int32
	for o, core := range cores {
		r := rect{vec{at.x - core.hi.x, at.y - core.hi.y}, vec{at.x - core.lo.x + 1, at.y - core.lo.y + 1}}
		g.within(lines[o], r, func(from, to int) {
			for k := from; k < to; k++ {
				ms = append(ms, int32(k))
			}
		})
	}
	return ms
}

// addClique extends a clique to a maximal one and adds it unless it is known.
func (g *graph) addClique(ms []int32, corner vec, seen map[uint64]bool, met []bitset) {
	common := slices.Clone(g.against[ms[0]])
	for _, c := range ms[1:] {
		common.and(g.against[c])
	}
	set := newBitset(len(g.spots))
	for _, c := range ms {
		set.set(c)
	}
	rest := slices.Clone(common)
	rest.without(set)
	for c := rest.first(); c >= 0; c = rest.first() {
		set.set(c)
		rest.and(g.against[c])
		rest[c>>6] &^= 1 << (uint(c) & 63)
	}
	var all []int32
	set.each(func(c int32) { all = append(all, c) })
	for _, c := range all {
		for i, w := range set {
			met[c][i] |= w
		}
	}
	h := hashOf(all)
	if seen[h] {
		return
	}
	seen[h] = true
	g.members = append(g.members, all)
	g.in = append(g.in, set)
	g.corner = append(g.corner, corner)
}

var cliqueSeed = maphash.MakeSeed()

func hashOf(list []int32) uint64 {
	var h maphash.Hash
	h.SetSeed(cliqueSeed)
	for _, c := range list {
		h.Write([]byte{byte(c), byte(c >> 8), byte(c >> 16)})
	}
	return h.Sum64()
}

func (g *graph) columns() int { return len(g.spots) }
func (g *graph) rows() int    { return len(g.members) }

func (g *graph) cover(price, out []float64) {
	for c, rs := range g.rowsOf {
		var sum float64
		for _, r := range rs {
			sum += price[r]
		}
		out[c] = sum
	}
}

func (g *graph) load(weight, out []float64) {
	for r, ms := range g.members {
		var sum float64
		for _, c := range ms {
			sum += weight[c]
		}
		out[r] = sum
	}
}
