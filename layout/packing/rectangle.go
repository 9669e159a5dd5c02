package packing

import "math"

// pallet is the manufacturer's pallet loading problem: rectangles a by b, turned
// by 90 degrees or not, in a rectangle X by Y.
type pallet struct{ X, Y, a, b int }

// gcd64 is the greatest common divisor.
func gcd64(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// barnes is Barnes' bound (1979): rods 1 by k leave at least min(rs, (k-r)(k-s))
// of an X by Y board free, r and s being the remainders of X and Y; a block is made
// of rods of both its lengths. With gcd(a, b) = 1 and whole sides.
func barnes(X, Y, a, b int) int {
	waste := max(rodWaste(X, Y, a), rodWaste(X, Y, b))
	if X*Y < waste {
		return 0
	}
	return (X*Y - waste) / (a * b)
}

func rodWaste(X, Y, k int) int {
	r, s := X%k, Y%k
	return min(r*s, (k-r)*(k-s))
}

// combination is how many lengths and widths stand in a row.
type combination struct{ i, j int }

// efficient lists the combinations of lengths and widths in a row of size X to
// which no width can be added.
func efficient(X, a, b int) []combination {
	var out []combination
	for i := 0; i*a <= X; i++ {
		out = append(out, combination{i, (X - i*a) / b})
	}
	return out
}

// equivalentBound is the least area or Barnes bound over boards into which every
// packing of this board can be carried. A packing pushed to the lower left is
// fixed by its chains of touching blocks; give the blocks sides p by q instead, and
// the board the longest chain that p and q make of the combinations that fitted,
// and the chains still fit (after Dowsland 1984, who takes the classes of boards
// with the very same combinations).
func equivalentBound(m pallet) int {
	best := barnesReduced(m)
	ex, ey := efficient(m.X, m.a, m.b), efficient(m.Y, m.a, m.b)
	most := max(12, min(60, 2*m.a/gcdInt(m.a, m.b)))
	for p := 1; p <= most; p++ {
		for q := 1; q <= most; q++ {
			if gcdInt(p, q) != 1 {
				continue
			}
			best = min(best, barnes(longest(ex, p, q), longest(ey, p, q), p, q))
		}
	}
	return best
}

func barnesReduced(m pallet) int {
	g := gcdInt(m.a, m.b)
	return barnes(m.X/g, m.Y/g, m.a/g, m.b/g)
}

func gcdInt(a, b int) int { return int(gcd64(int64(a), int64(b))) }

func longest(cs []combination, p, q int) int {
	most := 0
	for _, c := range cs {
		most = max(most, c.i*p+c.j*q)
	}
	return most
}

// fiveBlock solves a board by the recursive five-block heuristic of Birgin, Lobato
// and Morabito (2010): a board is cut into at most five boards, pinwheel fashion,
// and the cuts are tried at normal patterns only. A board whose bound is met is not
// cut further.
type fiveBlock struct {
	a, b  int
	sizes []int   // reachable sizes, from 0
	index []int   // of the greatest reachable size at or below a length
	cuts  [][]int // raster points of each size, as indices
	state []boardState
	work  int // cuts still allowed
	asked int // work left when stop was last asked
	stop  func() bool
}

type boardState struct {
	count, bound int16
	depth        int8 // how thoroughly searched
	known        bool
	cut          [4]int16 // sizes x1, x2, y1, y2
	whole        int8     // 0 cut, 1 rows of lying blocks, 2 of standing ones
}

// newFiveBlock prepares boards up to the greater side of m.
func newFiveBlock(m pallet, work int) *fiveBlock {
	top := max(m.X, m.Y)
	f := &fiveBlock{a: m.a, b: m.b, index: make([]int, top+1), work: work}
	reach := make([]bool, top+1)
	reach[0] = true
	for v := range top + 1 {
		if v >= m.a && reach[v-m.a] || v >= m.b && reach[v-m.b] {
			reach[v] = true
		}
		if reach[v] {
			f.sizes = append(f.sizes, v)
		}
		f.index[v] = len(f.sizes) - 1
	}
	f.cuts = make([][]int, len(f.sizes))
	f.state = make([]boardState, len(f.sizes)*len(f.sizes))
	return f
}

// raster lists the raster points strictly inside a size: the reachable sizes that
// remain when a reachable size is taken off its far end.
func (f *fiveBlock) raster(i int) []int {
	if f.cuts[i] == nil {
		f.cuts[i] = []int{}
		for k := i - 1; k > 0; k-- {
			r := f.index[f.sizes[i]-f.sizes[k]]
			if n := len(f.cuts[i]); r > 0 && (n == 0 || f.cuts[i][n-1] != r) {
				f.cuts[i] = append(f.cuts[i], r)
			}
		}
	}
	return f.cuts[i]
}

// most is the greatest count a board can have in a search of the given depth, as
// far as is known.
func (f *fiveBlock) most(s *boardState, depth int) int16 {
	if int(s.depth) > depth {
		return s.count
	}
	return s.bound
}

func (f *fiveBlock) at(i, j int) *boardState {
	s := &f.state[i*len(f.sizes)+j]
	if !s.known {
		f.start(s, f.sizes[i], f.sizes[j])
	}
	return s
}

// start fills a board with blocks of one turn.
func (f *fiveBlock) start(s *boardState, X, Y int) {
	s.known = true
	lying, standing := (X/f.a)*(Y/f.b), (X/f.b)*(Y/f.a)
	s.count, s.whole = int16(lying), 1
	if standing > lying {
		s.count, s.whole = int16(standing), 2
	}
	s.bound = int16(barnes(X, Y, f.a, f.b))
}

// solve is the best count of the board of sizes[i] by sizes[j]: by straight cuts
// at depth 0, by five blocks at each level of depth above.
func (f *fiveBlock) solve(i, j, depth int) int {
	s := f.at(i, j)
	if s.count >= s.bound || int(s.depth) > depth || f.work <= 0 {
		return int(s.count)
	}
	if s.depth == 0 {
		f.straight(s, i, j)
		s.depth = 1
	}
	for d := int(s.depth); d <= depth && s.count < s.bound && f.work > 0; d++ {
		f.pinwheels(s, i, j, d-1)
		s.depth = int8(d + 1)
	}
	return int(s.count)
}

// straight tries every cut in two.
func (f *fiveBlock) straight(s *boardState, i, j int) {
	X, Y := f.sizes[i], f.sizes[j]
	for _, k := range f.raster(i) {
		if 2*f.sizes[k] > X || s.count >= s.bound {
			break
		}
		rest := f.index[X-f.sizes[k]]
		if f.most(f.at(k, j), 0)+f.most(f.at(rest, j), 0) > s.count {
			f.offer(s, f.solve(k, j, 0)+f.solve(rest, j, 0), f.sizes[k], f.sizes[k], 0, 0)
		}
	}
	for _, k := range f.raster(j) {
		if 2*f.sizes[k] > Y || s.count >= s.bound {
			break
		}
		rest := f.index[Y-f.sizes[k]]
		if f.most(f.at(i, k), 0)+f.most(f.at(i, rest), 0) > s.count {
			f.offer(s, f.solve(i, k, 0)+f.solve(i, rest, 0), 0, 0, f.sizes[k], f.sizes[k])
		}
	}
}

func (f *fiveBlock) offer(s *boardState, count, x1, x2, y1, y2 int) {
	if count > int(s.count) {
		s.count, s.whole = int16(count), 0
		s.cut = [4]int16{int16(x1), int16(x2), int16(y1), int16(y2)}
	}
}

// pinwheels tries every cut in five, by blocks solved to the given depth. Turning
// the board by 180 degrees takes x1 to X-x2, so x1+x2 <= X is enough.
func (f *fiveBlock) pinwheels(s *boardState, i, j, depth int) {
	X := f.sizes[i]
	cuts := f.raster(i)
	for p, k1 := range cuts {
		for _, k2 := range cuts[p+1:] {
			if f.sizes[k1]+f.sizes[k2] > X {
				break
			}
			f.pinwheelRows(s, i, j, k1, k2, depth)
			if s.count >= s.bound || f.work <= 0 {
				return
			}
		}
	}
}

func (f *fiveBlock) pinwheelRows(s *boardState, i, j, p, q, depth int) {
	X, Y, x1, x2 := f.sizes[i], f.sizes[j], f.sizes[p], f.sizes[q]
	mid, right, far := f.index[x2-x1], f.index[X-x1], f.index[X-x2]
	cuts := f.raster(j)
	for n, u := range cuts {
		top := f.index[Y-f.sizes[u]]
		two := f.most(f.at(p, top), depth) + f.most(f.at(q, u), depth)
		if f.work -= len(cuts) - n; f.tired() {
			return
		}
		for _, v := range cuts[n+1:] {
			up, centre := f.index[Y-f.sizes[v]], f.index[f.sizes[v]-f.sizes[u]]
			three := f.most(f.at(right, up), depth) + f.most(f.at(mid, centre), depth) + f.most(f.at(far, v), depth)
			if two+three <= s.count {
				continue
			}
			f.fiveOf(s, [5][2]int{{p, top}, {right, up}, {mid, centre}, {q, u}, {far, v}}, depth, x1, x2, f.sizes[u], f.sizes[v])
			if s.count >= s.bound || f.work <= 0 {
				return
			}
		}
	}
}

// tired reports whether the work is used up; now and then it asks whether to stop.
func (f *fiveBlock) tired() bool {
	if f.work > f.asked-20_000 && f.asked != 0 {
		return f.work <= 0
	}
	if f.asked = f.work; f.stop != nil && f.stop() {
		f.work = 0
	}
	return f.work <= 0
}

// fiveOf adds up five blocks as long as their bounds can still beat the best.
func (f *fiveBlock) fiveOf(s *boardState, blocks [5][2]int, depth, x1, x2, y1, y2 int) {
	total := 0
	for _, b := range blocks {
		total += int(f.most(f.at(b[0], b[1]), depth))
	}
	for _, b := range blocks {
		total -= int(f.most(f.at(b[0], b[1]), depth))
		total += f.solve(b[0], b[1], depth)
		if total <= int(s.count) {
			return
		}
	}
	f.offer(s, total, x1, x2, y1, y2)
}

// place lists the blocks of a solved board with its lower left corner at (x, y).
func (f *fiveBlock) place(X, Y, x, y int, out []block) []block {
	if X <= 0 || Y <= 0 {
		return out
	}
	i, j := f.index[X], f.index[Y]
	s := f.at(i, j)
	X, Y = f.sizes[i], f.sizes[j]
	switch s.whole {
	case 1:
		return fill(out, x, y, X/f.a, Y/f.b, f.a, f.b, false)
	case 2:
		return fill(out, x, y, X/f.b, Y/f.a, f.b, f.a, true)
	}
	x1, x2, y1, y2 := int(s.cut[0]), int(s.cut[1]), int(s.cut[2]), int(s.cut[3])
	out = f.place(x1, Y-y1, x, y+y1, out)
	out = f.place(X-x1, Y-y2, x+x1, y+y2, out)
	out = f.place(x2-x1, y2-y1, x+x1, y+y1, out)
	out = f.place(x2, y1, x, y, out)
	return f.place(X-x2, y2, x+x2, y, out)
}

// block is a placed rectangle of a pallet; standing ones are b wide and a high.
type block struct {
	x, y     int
	standing bool
}

func fill(out []block, x, y, nx, ny, w, h int, standing bool) []block {
	for i := range nx {
		for j := range ny {
			out = append(out, block{x + i*w, y + j*h, standing})
		}
	}
	return out
}

// solvePallet packs a board by five blocks, and gives the best simple bound.
func solvePallet(m pallet, work int, stop func() bool) ([]block, int) {
	if m.X < 1 || m.Y < 1 {
		return nil, 0
	}
	bound := min(equivalentBound(m), math.MaxInt16)
	f := newFiveBlock(m, work)
	f.stop = stop
	i, j := f.index[m.X], f.index[m.Y]
	s := f.at(i, j)
	s.bound = min(s.bound, int16(bound))
	for depth := 0; depth <= 4 && s.count < s.bound && f.work > 0; depth++ {
		f.solve(i, j, depth)
	}
	return f.place(m.X, m.Y, 0, 0, nil), bound
}
