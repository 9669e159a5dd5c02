package packing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// most counts by brute force the most places that exclude one another nowhere.
func most(p *plane, spots []spot) int {
	meets, live := make([][]bool, len(spots)), make([]int, len(spots))
	for i, a := range spots {
		live[i], meets[i] = i, make([]bool, len(spots))
		for j, b := range spots {
			meets[i][j] = i == j || p.conflict(a, b)
		}
	}
	best, nodes := 0, 1<<30
	tryAll(live, meets, 0, &best, &nodes)
	return best
}

// smallPlane is one with few places for its modules; a plain one has the same gap all round and no strips.
func smallPlane(r *rand.Rand, plain bool) (rawPlane, *plane, []spot) {
	for {
		w := randomPlane(r, false)
		w.outer, w.fixed = w.outer[:1], nil
		w.options = w.options[:w.usable]
		for i := range w.options {
			o := &w.options[i]
			o.w, o.h = 3+r.Int64N(4), 3+r.Int64N(3)
			o.parts = []part{{o.body(), 0}}
			if o.strips = nil; plain {
				o.gx, o.gy = w.options[0].gx, w.options[0].gx
			} else if r.IntN(2) == 0 {
				o.strips = []rect{{vec{o.w, 0}, vec{o.w + 1 + r.Int64N(2), o.h}}}
				o.parts = append(o.parts, part{o.strips[0], 1})
			}
		}
		p := w.plane()
		spots, ok := candidates(p)
		if ok && len(spots) > 12 && len(spots) < 60 {
			return w, p, spots
		}
	}
}

func never() bool { return false }

// wantPacking fails where places are taken twice or exclude one another.
func wantPacking(t *testing.T, p *plane, spots []spot, chosen []int32) {
	t.Helper()
	if out := pick(spots, chosen); !p.stands(out) {
		t.Fatalf("%v do not stand together", out)
	}
}

// The searches of both models against brute force: an exact search finds the most, and proves that there is no more, from every
// corner; what other searches find stands, and is not more. With prices that the relaxation gives, few nodes are enough; their number
// is what it was found to be, and a tenth.
func TestSearchesOfModelsAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(121, 122))
	beams, improved, greedy, all := 0, 0, 0, 0
	nodes := 0.0
	for k := range 14 {
		_, p, spots := smallPlane(r, k%2 == 0)
		var m model
		if env, plain := p.envelopes(); plain {
			m = newGrid(spots, env)
		} else {
			g := newGraph(p, spots)
			m, spots = g, g.spots
		}
		want := most(p, spots)
		d := newDualSolver(m)
		d.run(0, 200)
		if d.best.sum < float64(want)-1e-9 {
			t.Fatalf("prices allow %g, %d stand", d.best.sum, want)
		}
		first := 0
		m.greedy(func(found []int32) {
			wantPacking(t, p, spots, found)
			first = max(first, len(found))
		})
		for view := range 8 {
			out := m.exact(view, d.best, want, 20_000, never)
			if len(out.found) < want || out.proved {
				t.Fatalf("from corner %d %d are found, %d stand; proved that none do: %v", view, len(out.found), want, out.proved)
			}
			wantPacking(t, p, spots, out.found)
			if out := m.exact(view, d.best, want+1, 20_000, never); out.found != nil || !out.proved {
				t.Fatalf("from corner %d %d are found, %d stand; proved: %v", view, len(out.found), want, out.proved)
			}
			if view%4 == 0 {
				nodes += nodesFor(m, view, d.best, want+1) + nodesFor(m, view, d.best, want)
			}
			got := m.beam(view, d.best, want, 12, never)
			wantPacking(t, p, spots, got)
			if all++; len(got) == want {
				beams++
			}
			if got := m.beam(view, d.best, want+1, 12, never); len(got) > want {
				t.Fatalf("%d are found, %d stand", len(got), want)
			}
			start := []int32{int32(view % len(spots))}
			better := m.improve(start, uint64(view), want, 30, never)
			wantPacking(t, p, spots, better)
			if len(better) < 1 || len(better) > want {
				t.Fatalf("%d after 30 tries, %d stand", len(better), want)
			}
			full := m.exact(view, d.best, want, 20_000, never).found
			if kept := m.improve(full, 7, want+1, 5, never); len(kept) < want {
				t.Fatalf("%d of %d are left after 5 tries", len(kept), want)
			} else {
				wantPacking(t, p, spots, kept)
			}
			if len(better) == want {
				improved++
			}
			if first == want {
				greedy++
			}
		}
	}
	t.Logf("of %d: greedy %d, beam %d, improved %d; %g nodes", all, greedy, beams, improved, nodes)
	if nodes > 150 {
		t.Errorf("it takes %g nodes, added up in powers of two", nodes)
	}
	if beams < all || improved < all || greedy < all {
		t.Errorf("of %d most packings greedy filling found %d, beams %d, windows %d", all, greedy, beams, improved)
	}
}

// nodesFor is the least number of nodes, in powers of two, in which an exact search is sure.
func nodesFor(m model, view int, prices priced, target int) float64 {
	for n := 1; ; n *= 2 {
		if out := m.exact(view, prices, target, n, never); out.proved || out.found != nil {
			return math.Log2(float64(n))
		}
	}
}

// A packing and its image from another corner are one: blocks and prices seen from any corner cover the same sums.
func TestViewsOfAGrid(t *testing.T) {
	r := rand.New(rand.NewPCG(123, 124))
	for range 40 {
		_, p, spots := smallPlane(r, true)
		env, _ := p.envelopes()
		g := newGrid(spots, env)
		prices := priced{make([]float64, g.rows()), 0}
		for i := range prices.price {
			prices.price[i] = r.Float64()
			prices.sum += prices.price[i]
		}
		want := make([]float64, len(spots))
		g.cover(prices.price, want)
		for k := range 8 {
			v := g.view(k)
			seen := v.grid(g)
			got := make([]float64, len(spots))
			moved := v.prices(g, prices)
			seen.cover(moved.price, got)
			for i := range want {
				if math.Abs(got[i]-want[i]) > 1e-9 || moved.sum != prices.sum {
					t.Fatalf("from corner %d place %d is worth %g, not %g", k, i, got[i], want[i])
				}
			}
			if seen.nx > seen.ny && k < 4 || seen.nx < seen.ny && k >= 4 {
				t.Fatalf("from corner %d a grid of %d by %d is %d by %d", k, g.nx, g.ny, seen.nx, seen.ny)
			}
			for i, b := range seen.blocks { // the lower left corner as the view has it
				c := g.blocks[i]
				x, y := c.x0, c.y0
				if v.flipX {
					x = int32(g.nx) - c.x1
				}
				if v.flipY {
					y = int32(g.ny) - c.y1
				}
				if v.swap {
					x, y = y, x
				}
				if b.x0 != x || b.y0 != y {
					t.Fatalf("%+v of %v is %v", v, c, b)
				}
			}
		}
	}
}

// Places are ordered from a corner by rows, or by columns.
func TestOrderFromACorner(t *testing.T) {
	at := []vec{{0, 0}, {5, 0}, {0, 5}, {5, 5}}
	for v, want := range map[view][]vec{
		{}:                         {{0, 0}, {5, 0}, {0, 5}, {5, 5}},
		{swap: true}:               {{0, 0}, {0, 5}, {5, 0}, {5, 5}},
		{flipX: true}:              {{5, 0}, {0, 0}, {5, 5}, {0, 5}},
		{flipY: true}:              {{0, 5}, {5, 5}, {0, 0}, {5, 0}},
		{flipX: true, flipY: true}: {{5, 5}, {0, 5}, {5, 0}, {0, 0}},
		{flipX: true, swap: true}:  {{5, 0}, {5, 5}, {0, 0}, {0, 5}},
		{flipY: true, swap: true}:  {{0, 5}, {0, 0}, {5, 5}, {5, 0}},
		{true, true, true}:         {{5, 5}, {5, 0}, {0, 5}, {0, 0}},
	} {
		got := slices.Clone(at)
		slices.SortFunc(got, v.compare)
		if !slices.Equal(got, want) {
			t.Errorf("%+v: %v, want %v", v, got, want)
		}
	}
}
