package packing

import (
	"cmp"
	"slices"
)

// beam is the sweep as a heuristic: of all skylines with the same number of
// candidates only the most promising are kept, by the price of what is still free.
type beam struct {
	g      *grid
	target int
	price  []priced
	at     [][]int32
	zob    [][2]uint64
	width  int
	stop   func() bool
}

type beamState struct {
	top   []int32
	left  []float64
	key   uint64
	from  int32 // state of the level before
	added int32 // candidate taken
	score float64
}

func newBeam(g *grid, price priced, target, width int, stop func() bool) *beam {
	return &beam{g: g, target: target, price: []priced{price}, at: cornerLists(g), zob: hashes(g), width: width, stop: stop}
}

// run gives a packing of as many candidates as the beam reaches.
func (b *beam) run() []int32 {
	start := beamState{top: make([]int32, b.g.nx), from: -1, added: -1}
	for _, p := range b.price {
		start.left = append(start.left, p.sum)
	}
	levels := [][]beamState{{start}}
	for !b.stop() {
		next := b.expand(levels[len(levels)-1], len(levels)-1)
		if len(next) == 0 {
			break
		}
		forget(levels[len(levels)-1])
		levels = append(levels, next)
		if len(levels)-1 >= b.target {
			break
		}
	}
	return trace(levels)
}

// forget drops what only the expansion of a level needed.
func forget(level []beamState) {
	for k := range level {
		level[k].top, level[k].left = nil, nil
	}
}

func trace(levels [][]beamState) []int32 {
	var out []int32
	k := int32(0)
	for l := len(levels) - 1; l > 0; l-- {
		out = append(out, levels[l][k].added)
		k = levels[l][k].from
	}
	return out
}

// expand makes the best states of the next level.
func (b *beam) expand(level []beamState, n int) []beamState {
	var next []beamState
	seen := map[uint64]int{}
	for k := range level {
		if k%16 == 0 && b.stop() {
			return nil
		}
		next = b.children(&level[k], int32(k), n, next, seen)
	}
	slices.SortFunc(next, func(p, q beamState) int {
		return cmp.Or(cmp.Compare(q.score, p.score), cmp.Compare(p.key, q.key))
	})
	if len(next) > b.width {
		next = next[:b.width]
	}
	return next
}

// children takes each candidate that fits next after leaving points free one by one.
func (b *beam) children(s *beamState, index int32, n int, next []beamState, seen map[uint64]int) []beamState {
	top, left, key := slices.Clone(s.top), slices.Clone(s.left), s.key
	for {
		x := lowestOf(top)
		y := int(top[x])
		if y >= b.g.ny {
			return next
		}
		for _, c := range b.at[y*b.g.nx+x] {
			if !flatUnder(top, b.g.blocks[c]) {
				continue
			}
			if child, ok := b.take(top, left, key, c, n); ok {
				if _, dup := seen[child.key]; !dup {
					seen[child.key] = 1
					child.from = index
					next = append(next, child)
				}
			}
		}
		key ^= b.zob[y*b.g.nx+x][0] ^ b.zob[(y+1)*b.g.nx+x][0]
		top[x]++
		for v := range left {
			left[v] -= b.price[v].price[y*b.g.nx+x]
			if float64(n)+left[v] < float64(b.target)-slack {
				return next
			}
		}
	}
}

func (b *beam) take(top []int32, left []float64, key uint64, c int32, n int) (beamState, bool) {
	bl := b.g.blocks[c]
	s := beamState{added: c, key: key}
	s.left = slices.Clone(left)
	for y := bl.y0; y < bl.y1; y++ {
		row := int(y) * b.g.nx
		for v := range s.left {
			for _, p := range b.price[v].price[row+int(bl.x0) : row+int(bl.x1)] {
				s.left[v] -= p
			}
		}
	}
	for v := range s.left {
		if float64(n+1)+s.left[v] < float64(b.target)-slack {
			return s, false
		}
	}
	s.top = slices.Clone(top)
	for x := bl.x0; x < bl.x1; x++ {
		s.top[x] = bl.y1
		s.key ^= b.zob[int(bl.y0)*b.g.nx+int(x)][0] ^ b.zob[int(bl.y1)*b.g.nx+int(x)][0]
	}
	s.score = s.left[0]
	return s, true
}

func lowestOf(top []int32) int {
	best := 0
	for x, t := range top {
		if t < top[best] {
			best = x
		}
	}
	return best
}

func flatUnder(top []int32, b cells) bool {
	for x := b.x0; x < b.x1; x++ {
		if top[x] != b.y0 {
			return false
		}
	}
	return true
}
