package packing

import (
	"cmp"
	"math"
	"slices"
)

// stackState is what stands across one column, from below to above, with the
// demands on heights that all stacks so far have left.
type stackState struct {
	across []int32 // kinds
	touch  uint64  // bit i: a module that ended just here stood below across[i]
	count  int
	lo, hi []int64   // of each module's least height
	apart  [][]int64 // apart[i][j], i < j: how much higher j must be than i
	// how the state came about, so that the packing can be told
	from  *stackState
	built []int32 // the stack in the column before: old modules by index, new as -1-kind
	kept  []int   // which of that stack are still across
}

// columnSearch looks for a packing of the target by stacks, column by column.
type columnSearch struct {
	c      *columns
	target int
	width  int // states kept a column
	work   int
	stop   func() bool
	layer  map[string][]*stackState
	lossy  bool // some state was let go that might have led to the target
}

// search looks for the target within a number of steps, keeping the most promising
// states of each column where there are more than width: a packing, at real
// positions but for a lattice step, or refuted, when none exists at any.
func (c *columns) search(target, width, work int, stop func() bool) (found []spot, refuted bool) {
	l := &loads{c: c, target: target, work: work, stop: stop}
	if !l.find() {
		return nil, false
	}
	s := &columnSearch{c: c, target: target, width: width, work: work, stop: stop}
	s.layer = map[string][]*stackState{"": {{}}}
	for i := range c.xs {
		if !s.advance(i, l.layers[i].index) {
			return nil, false
		}
		s.thin(l.layers[i+1].index)
	}
	for _, states := range s.layer {
		for _, t := range states {
			if t.count >= target {
				return c.packing(t), false
			}
		}
	}
	return nil, !s.lossy
}

// ranked is a state with what is hoped for from it.
type ranked struct {
	key   string
	state *stackState
	hope  int
	free  int64
}

// thin keeps the states of a column that promise most: by the count that loads
// allow, then by how freely the modules across it can still move.
func (s *columnSearch) thin(known map[string]*load) {
	n := 0
	for _, states := range s.layer {
		n += len(states)
	}
	if n <= s.width {
		return
	}
	s.lossy = true
	var all []ranked
	for _, key := range sortedKeys(s.layer) {
		for _, t := range s.layer[key] {
			r := ranked{key, t, t.count, 0}
			if l := t.load(known); l != nil {
				r.hope += l.more
			}
			for a := range t.across {
				r.free += t.hi[a] - t.lo[a]
			}
			all = append(all, r)
		}
	}
	slices.SortStableFunc(all, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(b.hope, a.hope), cmp.Compare(b.free, a.free))
	})
	s.layer = map[string][]*stackState{}
	for _, r := range all[:s.width] {
		s.layer[r.key] = append(s.layer[r.key], r.state)
	}
}

// load is what a state is without the order of its stack; nil when it is not known.
func (u *stackState) load(known map[string]*load) *load {
	sorted := slices.Clone(u.across)
	slices.Sort(sorted)
	return known[keyOf(sorted, u.touch != 0)]
}

// stacked betters the packing and the bound of a slanted plane by a search of its
// columns, from the bound down, each within some work.
func (s *session) stacked(c *columns, upright func(spot) spot, width, work int, r *planeResult) {
	for c != nil && !s.enough(r) && s.ctx.Err() == nil {
		found, refuted := c.search(r.bound, width, work, costing(s.ctx, stateCost))
		if refuted {
			r.bound, r.argument = r.bound-1, byStacks
			continue
		}
		if len(found) > len(r.spots) && c.p.stands(found) {
			r.spots = r.spots[:0:0]
			for _, t := range found {
				r.spots = append(r.spots, upright(t))
			}
			s.hear(r, r.bound)
		}
		return
	}
}

// stateCost estimates the nanoseconds for one load or state of a column.
const stateCost = 10_000

const byStacks = "stacks of modules across the bay were searched column by column, at any height, and none of them holds more"

// advance adds what starts at column i to every state.
func (s *columnSearch) advance(i int, known map[string]*load) bool {
	before := s.layer
	s.layer = map[string][]*stackState{}
	for _, key := range sortedKeys(before) {
		for _, t := range before[key] {
			l := t.load(known)
			if l == nil || t.count+l.more < s.target {
				continue
			}
			for _, step := range l.next {
				if t.count+len(step.added)+step.to.more >= s.target {
					s.insert(i, t, slices.Clone(step.added), nil, 0)
				}
			}
			if s.work <= 0 || s.stop() {
				return false
			}
		}
	}
	return true
}

func sortedKeys(m map[string][]*stackState) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// insert places the kinds left to add among the stack of a state, in every order;
// built is the stack so far, of old modules by their index and new ones by -1-kind.
func (s *columnSearch) insert(i int, t *stackState, left, built []int32, old int) {
	if s.work--; s.work <= 0 {
		return
	}
	if old == len(t.across) && len(left) == 0 {
		s.arrive(i, t, built)
		return
	}
	if old < len(t.across) {
		s.insert(i, t, left, append(slices.Clone(built), int32(old)), old+1)
	}
	touched := t.touch>>uint(old)&1 == 1
	for n, k := range left {
		if slices.Contains(left[:n], k) || !(touched || s.c.kinds[k].atWall) {
			continue
		}
		s.insert(i, t, slices.Delete(slices.Clone(left), n, n+1), append(slices.Clone(built), -1-k), old)
	}
}

// arrive closes the demands of a stack and keeps what is left of it at the next column.
func (s *columnSearch) arrive(i int, t *stackState, built []int32) {
	n := len(built)
	u := &stackState{from: t, built: built, count: t.count, across: make([]int32, n), lo: make([]int64, n), hi: make([]int64, n)}
	u.apart = make([][]int64, n)
	for a, v := range built {
		u.apart[a] = make([]int64, n)
		if v < 0 {
			k := -1 - v
			u.across[a], u.lo[a], u.hi[a] = k, s.c.kinds[k].lo, s.c.kinds[k].hi
			u.count++
			continue
		}
		u.across[a], u.lo[a], u.hi[a] = t.across[v], t.lo[v], t.hi[v]
	}
	for a, v := range built {
		for b := a + 1; b < n; b++ {
			if w := built[b]; v >= 0 && w >= 0 {
				u.apart[a][b] = t.apart[v][w]
			}
		}
		if a+1 < n {
			u.apart[a][a+1] = max(u.apart[a][a+1], s.c.kinds[u.across[a]].high)
		}
	}
	if !u.close() {
		return
	}
	s.keep(u.past(s.c, i+1))
}

// close takes the longest chains of demands; it reports whether they can be met.
func (u *stackState) close() bool {
	n := len(u.across)
	for length := 2; length < n; length++ {
		for a := 0; a+length < n; a++ {
			b := a + length
			for k := a + 1; k < b; k++ {
				u.apart[a][b] = max(u.apart[a][b], u.apart[a][k]+u.apart[k][b])
			}
		}
	}
	for b := range n {
		for a := range b {
			u.lo[b] = max(u.lo[b], u.lo[a]+u.apart[a][b])
		}
	}
	for a := n - 1; a >= 0; a-- {
		for b := a + 1; b < n; b++ {
			u.hi[a] = min(u.hi[a], u.hi[b]-u.apart[a][b])
		}
		if u.lo[a] > u.hi[a] {
			return false
		}
	}
	return true
}

// past is the state with the modules taken off that ended at the i-th column or before.
func (u *stackState) past(c *columns, i int) *stackState {
	v := &stackState{from: u.from, built: u.built, count: u.count}
	if i >= len(c.xs) {
		return v
	}
	for a, k := range u.across {
		end := c.kinds[k].end
		if end == c.xs[i] {
			v.touch |= 1 << uint(len(v.kept))
		}
		if end > c.xs[i] {
			v.kept = append(v.kept, a)
		}
	}
	for _, a := range v.kept {
		v.across = append(v.across, u.across[a])
		v.lo, v.hi = append(v.lo, u.lo[a]), append(v.hi, u.hi[a])
		row := make([]int64, len(v.kept))
		for n, b := range v.kept {
			row[n] = u.apart[a][b]
		}
		v.apart = append(v.apart, row)
	}
	return v
}

// keep adds a state unless another one leaves at least as much open.
func (s *columnSearch) keep(u *stackState) {
	key := keyOf(u.across, false) + string(rune(u.touch))
	states := s.layer[key]
	for _, t := range states {
		if t.leavesAll(u) {
			return
		}
	}
	kept := states[:0:0]
	for _, t := range states {
		if !u.leavesAll(t) {
			kept = append(kept, t)
		}
	}
	s.work -= len(states)
	s.layer[key] = append(kept, u)
}

// leavesAll reports whether every continuation of u is one of t, with no fewer modules.
func (t *stackState) leavesAll(u *stackState) bool {
	if t.count < u.count {
		return false
	}
	for a := range t.across {
		if t.lo[a] > u.lo[a] || t.hi[a] < u.hi[a] {
			return false
		}
		for b := a + 1; b < len(t.across); b++ {
			if t.apart[a][b] > u.apart[a][b] {
				return false
			}
		}
	}
	return true
}

// packing tells the modules of a state's whole history and stands each as low as
// the lattice lets it: each clear of walls, and higher than those demanded below it.
func (c *columns) packing(last *stackState) []spot {
	var history []*stackState
	for t := last; t.from != nil; t = t.from {
		history = append(history, t)
	}
	slices.Reverse(history)
	var kinds []int32
	below := map[int][]int{} // modules that a module must be above
	var across []int
	for _, t := range history {
		stack := make([]int, len(t.built))
		for a, v := range t.built {
			if v < 0 {
				stack[a] = len(kinds)
				kinds = append(kinds, -1-v)
			} else {
				stack[a] = across[v]
			}
			if a > 0 {
				below[stack[a]] = append(below[stack[a]], stack[a-1])
			}
		}
		across = across[:0:0]
		for _, a := range t.kept {
			across = append(across, stack[a])
		}
	}
	return c.standing(kinds, below)
}

// standing gives modules the least heights that walls and those below them allow.
func (c *columns) standing(kinds []int32, below map[int][]int) []spot {
	t := c.p.transposed()
	out := make([]spot, len(kinds))
	for i, k := range kinds {
		out[i] = spot{c.kinds[k].opt, vec{c.kinds[k].start, math.MinInt64}}
	}
	for range kinds {
		moved := false
		for i, k := range kinds {
			y := c.kinds[k].lo
			for _, j := range below[i] {
				y = max(y, out[j].y+c.kinds[kinds[j]].high)
			}
			for _, iv := range t.row(out[i].opt, out[i].x) {
				if y <= iv.hi {
					y = max(y, iv.lo)
					break
				}
			}
			if y > out[i].y {
				out[i].y, moved = y, true
			}
		}
		if !moved {
			break
		}
	}
	return out
}
