package packing

import "testing"

// rodsOn is the most rods 1 by k on a board, by trying each free cell in turn: left free, or the first of a rod along or across.
func rodsOn(X, Y, k int) int {
	known := map[[2]uint64]int{}
	var from func(cell int, taken uint64) int
	from = func(cell int, taken uint64) int {
		for cell < X*Y && taken>>cell&1 == 1 {
			cell++
		}
		if cell == X*Y {
			return 0
		}
		key := [2]uint64{uint64(cell), taken >> cell}
		if v, ok := known[key]; ok {
			return v
		}
		best := from(cell+1, taken)
		for _, step := range []int{1, X} {
			rod, ok := uint64(0), step == X || cell%X+k <= X
			for i := range k {
				at := cell + i*step
				if ok = ok && at < X*Y && taken>>at&1 == 0; ok {
					rod |= 1 << at
				}
			}
			if ok {
				best = max(best, 1+from(cell+1, taken|rod))
			}
		}
		known[key] = best
		return best
	}
	return from(0, 0)
}

// Rods 1 by k leave as much of a board free as Barnes (1979) says: against trying all ways to lay them.
func TestWasteOfRods(t *testing.T) {
	for k := 2; k <= 4; k++ {
		for X := k; X <= 6; X++ {
			for Y := k; Y <= min(X, 5); Y++ {
				if want := X*Y - k*rodsOn(X, Y, k); rodWaste(X, Y, k) != want || rodWaste(Y, X, k) != want {
					t.Errorf("rods of %d leave %d of %d by %d free, want %d", k, rodWaste(X, Y, k), X, Y, want)
				}
			}
		}
	}
}

// Blocks are made of rods of both their lengths, and so leave at least as much free as either. By hand: on 8 by 8, rods of 5 leave
// (5-3)(5-3) = 4 of 64 and rods of 3 leave 1, so that four blocks of 5 by 3 have room and 60 cells for them; on 7 by 7 rods of 5 leave 4
// and three have room; on 3 by 3 less is left than nought.
func TestBoundsByRods(t *testing.T) {
	for _, c := range []struct{ X, Y, a, b, want int }{{8, 8, 5, 3, 4}, {7, 7, 5, 3, 3}, {3, 3, 5, 4, 0}, {10, 10, 10, 1, 10}, {19, 19, 10, 1, 36}, {5, 5, 5, 4, 1}, {13, 9, 5, 4, 5}, {7, 8, 5, 3, 3}, {13, 7, 5, 3, 5}} {
		if got := barnes(c.X, c.Y, c.a, c.b); got != c.want {
			t.Errorf("%d by %d in %d by %d: at most %d, want %d", c.a, c.b, c.X, c.Y, got, c.want)
		}
		for k := 2; k < 5; k++ { // the same in larger units, and with less than a unit more
			if got := barnesReduced(pallet{k*c.X + k - 1, k*c.Y + 1, k * c.a, k * c.b}); got != c.want {
				t.Errorf("%d by %d in %d by %d, %d times as large: at most %d, want %d", c.a, c.b, c.X, c.Y, k, got, c.want)
			}
		}
	}
	// Lengths in a row, with the most widths beside them; the longest row that other sides make of them.
	if got := efficient(17, 5, 3); len(got) != 4 || got[0] != (combination{0, 5}) || got[1] != (combination{1, 4}) || got[2] != (combination{2, 2}) || got[3] != (combination{3, 0}) {
		t.Errorf("rows of 17: %v", got)
	}
	if got := longest(efficient(2, 5, 3), 4, 3); got != 0 {
		t.Errorf("in a row of 2 stand %d", got)
	}
	if got := longest([]combination{{0, 5}, {1, 4}, {2, 2}, {3, 0}}, 4, 3); got != 16 {
		t.Errorf("the longest row of 4 and 3 is %d, want 16", got)
	}
}

// What five blocks come to is asked of a board in no more cuts than are allowed, and stops when told.
func TestFiveBlocksStop(t *testing.T) {
	for _, m := range []pallet{{43, 26, 7, 3}, {57, 34, 7, 4}} {
		all, bound := solvePallet(m, boardWork, nil)
		few, _ := solvePallet(m, 0, nil)
		none, same := solvePallet(m, boardWork, func() bool { return true })
		if len(few) >= len(all) || len(none) > len(all) || len(few) < (m.X/m.a)*(m.Y/m.b) || bound != same || len(all) > bound {
			t.Errorf("%+v: %d of at most %d; without work %d, stopped at once %d", m, len(all), bound, len(few), len(none))
		}
	}
	for _, m := range []pallet{{1, 5, 5, 1}, {5, 1, 5, 1}} {
		if blocks, bound := solvePallet(m, boardWork, nil); len(blocks) != 1 || bound != 1 {
			t.Errorf("%+v: %v of at most %d", m, blocks, bound)
		}
	}
	for _, m := range []pallet{{0, 5, 2, 1}, {5, 0, 2, 1}} {
		if blocks, bound := solvePallet(m, boardWork, nil); blocks != nil || bound != 0 {
			t.Errorf("%+v: %v of at most %d", m, blocks, bound)
		}
	}
}

// Blocks in rows, by hand.
func TestBlocksInRows(t *testing.T) {
	got := fill(nil, 10, 20, 2, 3, 5, 4, true)
	want := []block{{10, 20, true}, {10, 24, true}, {10, 28, true}, {15, 20, true}, {15, 24, true}, {15, 28, true}}
	for i := range want {
		if len(got) != len(want) || got[i] != want[i] {
			t.Fatalf("%v, want %v", got, want)
		}
	}
}

// Blocks of a board lie on it and overlap nowhere, are no more than the published optimum and no bound is below it. On the boards
// taken here five blocks are as many short, in as many cuts, as they were found to be, and the simple bounds are the optimum.
func TestBlocksOfPublishedBoards(t *testing.T) {
	short, loose, boards, cuts := 0, 0, 0, 0
	for i, row := range palletRows(t) {
		if i%197 != 0 && (row.simple || i%17 != 0) {
			continue
		}
		boards++
		f := newFiveBlock(row.pallet, 100_000)
		x, y := f.index[row.X], f.index[row.Y]
		s := f.at(x, y)
		for depth := 0; depth <= 3 && s.count < s.bound; depth++ {
			f.solve(x, y, depth)
		}
		cuts += 100_000 - f.work
		blocks, bound := f.place(row.X, row.Y, 0, 0, nil), equivalentBound(row.pallet)
		if len(blocks) != int(s.count) || len(blocks) > row.optimum || bound < row.optimum {
			t.Errorf("%+v: %d blocks, %d counted, at most %d", row, len(blocks), s.count, bound)
		}
		short, loose = short+row.optimum-len(blocks), loose+bound-row.optimum
		taken := make([]bool, row.X*row.Y)
		for _, b := range blocks {
			w, h := row.a, row.b
			if b.standing {
				w, h = h, w
			}
			if b.x < 0 || b.y < 0 || b.x+w > row.X || b.y+h > row.Y {
				t.Fatalf("%+v: %v lies beyond the board", row, b)
			}
			for x := b.x; x < b.x+w; x++ {
				for y := b.y; y < b.y+h; y++ {
					if taken[y*row.X+x] {
						t.Fatalf("%+v: %v lies on another", row, b)
					}
					taken[y*row.X+x] = true
				}
			}
		}
	}
	t.Logf("%d boards: %d short, %d loose, %d cuts", boards, short, loose, cuts)
	if short > 6 || loose > 0 || cuts > 2_950_000 {
		t.Errorf("%d boards: %d short, %d loose, %d cuts", boards, short, loose, cuts)
	}
}

// Boards are solved as such while counts fit: 173 by 173 modules are fewer than 30,000, 200 by 200 are more.
func TestBoardsOfManyModules(t *testing.T) {
	for n, want := range map[float64]bool{173: true, 200: false} {
		p := planeOf(t, oneBay(Region{Outline: rectangleMM(0, 0, 10*n, 10*n)}, Posture{Name: "m", LengthMM: 10, WidthMM: 10, HeightMM: 1}))
		if _, _, _, ok := asPallet(p); ok != want {
			t.Errorf("%g by %g modules are a board: %v", n, n, ok)
		}
	}
}
