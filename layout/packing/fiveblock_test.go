package packing

import "testing"

// everyCut is the five-block recursion in its plainest form: every cut at whole numbers, nothing left out by a bound or a
// pattern. Blocks of a pinwheel may be empty, so that a straight cut is one of them.
type everyCut struct {
	a, b int
	seen map[[3]int]int
}

func (c *everyCut) most(X, Y, depth int) int {
	if X < c.b || Y < c.b || X < c.a && Y < c.a {
		return 0
	}
	key := [3]int{X, Y, depth}
	if n, ok := c.seen[key]; ok {
		return n
	}
	n := max((X/c.a)*(Y/c.b), (X/c.b)*(Y/c.a))
	if depth > 0 {
		n = c.most(X, Y, depth-1)
	}
	for x := 1; depth == 0 && x < X; x++ {
		n = max(n, c.most(x, Y, 0)+c.most(X-x, Y, 0))
	}
	for y := 1; depth == 0 && y < Y; y++ {
		n = max(n, c.most(X, y, 0)+c.most(X, Y-y, 0))
	}
	for x1 := 1; depth > 0 && x1 < X; x1++ {
		for x2 := x1; x2 < X; x2++ {
			n = max(n, c.pinwheel(X, Y, x1, x2, depth-1))
		}
	}
	c.seen[key] = n
	return n
}

func (c *everyCut) pinwheel(X, Y, x1, x2, depth int) int {
	n := 0
	for y1 := 1; y1 < Y; y1++ {
		for y2 := y1; y2 < Y; y2++ {
			n = max(n, c.most(x1, Y-y1, depth)+c.most(X-x1, Y-y2, depth)+c.most(x2-x1, y2-y1, depth)+c.most(x2, y1, depth)+c.most(X-x2, y2, depth))
		}
	}
	return n
}

// Cutting at raster points alone and leaving out what a bound excludes loses no block: on every board up to a size the counts
// are those of every cut at every whole number, and the blocks placed are as many. Some boards hold the most only with blocks
// in the middle of a pinwheel.
func TestFiveBlocksAreThoseOfEveryCut(t *testing.T) {
	for _, m := range []pallet{{21, 21, 5, 2}, {24, 24, 4, 3}} {
		c := everyCut{m.a, m.b, map[[3]int]int{}}
		raised := 0
		for X := m.a; X <= m.X; X++ {
			for Y := m.a; Y <= X; Y++ {
				f := newFiveBlock(pallet{X, Y, m.a, m.b}, 1<<40)
				for depth := range 2 {
					want := c.most(X, Y, depth)
					if got := f.solve(f.index[X], f.index[Y], depth); got != want {
						t.Errorf("%d x %d of %d x %d, depth %d: %d, every cut gives %d", X, Y, m.a, m.b, depth, got, want)
					}
					if n := len(f.place(X, Y, 0, 0, nil)); n != want {
						t.Errorf("%d x %d of %d x %d, depth %d: %d placed of %d", X, Y, m.a, m.b, depth, n, want)
					}
				}
				if c.most(X, Y, 1) > c.most(X, Y, 0) {
					raised++
				}
			}
		}
		t.Logf("%d x %d: on %d boards five blocks hold more than straight cuts", m.a, m.b, raised)
	}
}

// These boards hold the most only with blocks in the middle of a pinwheel. That no more fit is plain from the area; for 97 x 62
// the optimum is a published one (testdata/packing/identical_rectangles.csv).
func TestBlocksInTheMiddleOfAPinwheel(t *testing.T) {
	for _, m := range []pallet{{59, 51, 9, 4}, {80, 43, 9, 5}, {83, 46, 8, 5}, {72, 54, 11, 4}, {66, 53, 9, 5}, {97, 62, 9, 7}} {
		blocks, bound := solvePallet(m, boardWork, nil)
		if most := m.X * m.Y / (m.a * m.b); len(blocks) != most || bound != most {
			t.Errorf("%+v: %d of at most %d, the area has room for %d", m, len(blocks), bound, most)
		}
		taken := make([]bool, m.X*m.Y)
		for _, b := range blocks {
			w, h := m.a, m.b
			if b.standing {
				w, h = h, w
			}
			if b.x < 0 || b.y < 0 || b.x+w > m.X || b.y+h > m.Y {
				t.Fatalf("%+v: %+v stands out of the board", m, b)
			}
			for k := range w * h {
				at := (b.y+k/w)*m.X + b.x + k%w
				if taken[at] {
					t.Fatalf("%+v: %+v stands in another", m, b)
				}
				taken[at] = true
			}
		}
	}
}
