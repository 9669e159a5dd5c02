package packing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// A window takes out the modules nearest to one of them, stretched along one axis at random, between half and one and a half; what is
// free then overlaps none of those kept; and the grid of some places has the same ones exclude one another.
func TestWindowsOfAPacking(t *testing.T) {
	r := rand.New(rand.NewPCG(231, 232))
	for seed := range uint64(30) {
		_, p, spots := smallPlane(r, true)
		env, _ := p.envelopes()
		g := newGrid(spots, env)
		var all []int32
		g.greedy(func(found []int32) {
			if len(found) > len(all) {
				all = slices.Clone(found)
			}
		})
		w := newWindows(g, all, seed, never)
		aspect := 0.5 + rand.New(rand.NewPCG(seed, 77)).Float64()
		size := 1 + int(seed)%len(all)
		centre := all[int(seed)%len(all)]
		near := w.nearest(centre, size)
		far := func(c int32) float64 {
			return math.Abs(float64(spots[c].x-spots[centre].x))*aspect + math.Abs(float64(spots[c].y-spots[centre].y))/aspect
		}
		if len(near) != size || near[0] != centre {
			t.Fatalf("%d nearest to %d: %v", size, centre, near)
		}
		for _, c := range all {
			if !slices.Contains(near, c) && far(c) < far(near[size-1])-1e-9 {
				t.Fatalf("%v are taken as the nearest to %d, and %d is nearer", near, centre, c)
			}
		}
		kept := all[:len(all)-size]
		free := w.free(kept)
		for c := range spots {
			overlaps := slices.ContainsFunc(kept, func(k int32) bool { return p.conflict(spots[k], spots[c]) })
			if slices.Contains(free, int32(c)) == overlaps {
				t.Fatalf("%v beside %v is free: %v", spots[c], kept, overlaps)
			}
		}
		sub := g.part(free)
		covers := func(g *grid, a, b int) bool {
			u, v := g.blocks[a], g.blocks[b]
			return u.x0 < v.x1 && v.x0 < u.x1 && u.y0 < v.y1 && v.y0 < u.y1
		}
		if sub.columns() != len(free) || sub.nx != len(sub.xs) || sub.ny != len(sub.ys) {
			t.Fatalf("%d places of %d in %d by %d lines", sub.columns(), len(free), sub.nx, sub.ny)
		}
		for i, a := range free {
			if sub.xs[sub.blocks[i].x0] != g.xs[g.blocks[a].x0] || sub.ys[sub.blocks[i].y0] != g.ys[g.blocks[a].y0] || sub.boxes[i] != g.boxes[a] {
				t.Fatalf("place %d begins at %v", a, sub.blocks[i])
			}
			for j, b := range free {
				if covers(sub, i, j) != covers(g, int(a), int(b)) {
					t.Fatalf("%v and %v exclude one another: %v", spots[a], spots[b], covers(sub, i, j))
				}
			}
		}
		// Packed again the hole holds as many, or one more.
		hole := w.free(all[size:])
		if got := w.repack(hole, size); len(got) < size {
			t.Fatalf("%d where %d stood", len(got), size)
		} else {
			wantPacking(t, p, spots, append(slices.Clone(all[size:]), got...))
		}
	}
}

// Filled greedily from a corner no place is left at which a candidate fits, and what is filled stands; asked from all corners.
func TestGreedyFillingLeavesNoPlace(t *testing.T) {
	r := rand.New(rand.NewPCG(233, 234))
	for range 30 {
		_, p, spots := smallPlane(r, true)
		env, _ := p.envelopes()
		g := newGrid(spots, env)
		n := 0
		g.greedy(func(found []int32) {
			n++
			wantPacking(t, p, spots, found)
		})
		if n < 24 {
			t.Fatalf("%d packings are offered, three from each corner are meant", n)
		}
		for prefer := range 3 {
			out := greedyFill(g, prefer)
			if prefer < 2 { // as they come, and the last first
				at := cornerLists(g)
				for _, c := range out {
					b := g.blocks[c]
					for _, d := range at[int(b.y0)*g.nx+int(b.x0)] {
						e := g.blocks[d]
						if e.x1-e.x0 == b.x1-b.x0 && (prefer == 0 && d < c || prefer == 1 && d > c) {
							t.Fatalf("%d is taken, %d fits as well", c, d)
						}
					}
				}
			}
		}
	}
}
