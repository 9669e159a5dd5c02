package packing

import "math/rand/v2"

// sweep looks for a packing of at least target candidates of a grid, or proves
// that there is none. It fills the grid from the lowest, then leftmost, free point:
// a candidate whose lower left corner lies there, or nothing. What is filled so far
// is a skyline. For each set of prices under which every candidate costs 1 at least,
// the count so far and the price of all that lies above the skyline bound the count
// to come; and of two ways to one skyline only the one with more candidates counts.
type sweep struct {
	g      *grid
	target int
	prices []priced
	at     [][]int32 // candidates by corner
	top    []int32   // skyline: filled rows of each column
	chosen []int32
	left   []float64 // price of what is free, by price set
	key    [2]uint64
	zob    [][2]uint64
	memo   []sweepEntry
	nodes  int
	stop   func() bool
	gaveUp bool
	found  []int32
}

type sweepEntry struct {
	key [2]uint64
	n   int32
}

// slack keeps rounding in sums of prices from pruning a packing.
const slack = 1e-6

func newSweep(g *grid, prices []priced, target, nodes int, stop func() bool) *sweep {
	s := &sweep{g: g, target: target, prices: prices, nodes: nodes, stop: stop}
	s.at = cornerLists(g)
	s.top = make([]int32, g.nx)
	for _, p := range prices {
		s.left = append(s.left, p.sum)
	}
	s.zob = hashes(g)
	size := 1
	for size < nodes && size < 1<<20 {
		size *= 2
	}
	s.memo = make([]sweepEntry, size)
	return s
}

// hashes gives random words for each column and height of a skyline.
func hashes(g *grid) [][2]uint64 {
	rng := rand.New(rand.NewPCG(1, 2))
	out := make([][2]uint64, g.nx*(g.ny+1))
	for i := range out {
		out[i] = [2]uint64{rng.Uint64(), rng.Uint64()}
	}
	return out
}

// run gives a packing of target candidates or more, if there is one; proved says
// that the answer, of either kind, is sure.
func (s *sweep) run() (packing []int32, proved bool) {
	s.fill()
	return s.found, s.found != nil || !s.gaveUp
}

// fill explores the skyline as it stands; it returns true to stop everything.
func (s *sweep) fill() bool {
	var wasted []int32
	done := false
	for {
		p, ok := s.lowest()
		if !ok {
			if len(s.chosen) >= s.target {
				s.found = append([]int32{}, s.chosen...)
				done = true
			}
			break
		}
		if fits := s.at[p]; len(fits) > 0 {
			if s.nodes--; s.nodes < 0 || (s.nodes&1023 == 0 && s.stop()) {
				s.gaveUp, done = true, true
				break
			}
			if s.seen() {
				break
			}
			if done = s.try(fits); done {
				break
			}
		}
		x := int32(p % s.g.nx)
		s.raise(int(x), s.top[x]+1)
		wasted = append(wasted, x)
		if s.hopeless() {
			break
		}
	}
	for i := len(wasted) - 1; i >= 0; i-- {
		x := wasted[i]
		s.lower(int(x), s.top[x]-1)
	}
	return done
}

func (s *sweep) try(fits []int32) bool {
	for _, c := range fits {
		b := s.g.blocks[c]
		if !s.free(b) {
			continue
		}
		s.chosen = append(s.chosen, c)
		for x := b.x0; x < b.x1; x++ {
			s.raise(int(x), b.y1)
		}
		if !s.hopeless() && s.fill() {
			return true
		}
		for x := b.x0; x < b.x1; x++ {
			s.lower(int(x), b.y0)
		}
		s.chosen = s.chosen[:len(s.chosen)-1]
	}
	return false
}

func (s *sweep) free(b cells) bool {
	for x := b.x0; x < b.x1; x++ {
		if s.top[x] != b.y0 {
			return false
		}
	}
	return true
}

// lowest is the lowest, leftmost free point.
func (s *sweep) lowest() (point int, ok bool) {
	best := 0
	for x, t := range s.top {
		if t < s.top[best] {
			best = x
		}
	}
	t := int(s.top[best])
	return t*s.g.nx + best, t < s.g.ny
}

func (s *sweep) raise(x int, to int32) {
	for y := s.top[x]; y < to; y++ {
		for v := range s.left {
			s.left[v] -= s.prices[v].price[int(y)*s.g.nx+x]
		}
	}
	s.rekey(x, to)
}

func (s *sweep) lower(x int, to int32) {
	for y := s.top[x] - 1; y >= to; y-- {
		for v := range s.left {
			s.left[v] += s.prices[v].price[int(y)*s.g.nx+x]
		}
	}
	s.rekey(x, to)
}

func (s *sweep) rekey(x int, to int32) {
	a, b := s.zob[int(s.top[x])*s.g.nx+x], s.zob[int(to)*s.g.nx+x]
	s.key[0] ^= a[0] ^ b[0]
	s.key[1] ^= a[1] ^ b[1]
	s.top[x] = to
}

func (s *sweep) hopeless() bool {
	for _, l := range s.left {
		if float64(len(s.chosen))+l < float64(s.target)-slack {
			return true
		}
	}
	return false
}

// seen reports whether this skyline was explored with as many candidates or more.
func (s *sweep) seen() bool {
	e := &s.memo[s.key[0]&uint64(len(s.memo)-1)]
	n := int32(len(s.chosen)) + 1
	if e.key == s.key && e.n >= n {
		return true
	}
	*e = sweepEntry{s.key, n}
	return false
}
