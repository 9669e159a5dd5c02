package packing

import (
	"math/rand/v2"
	"testing"
)

// The rows of a grid are all that excludes one another: bodies under one point overlap, and bodies of which every two overlap lie
// under one point (rectangles along the axes have that property: Helly). Cores begin before, at or beyond their bodies' corners.
func TestBodiesThatOverlapLieUnderOneRow(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	between := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	together := 0
	for range 60 {
		var cores []rect
		for range 3 {
			lo := vec{between(-9, 5), between(-9, 5)}
			cores = append(cores, rect{lo, vec{lo.x + between(5, 20), lo.y + between(5, 20)}})
		}
		var spots []spot
		for range 14 {
			spots = append(spots, spot{r.IntN(3), vec{between(0, 40), between(0, 40)}})
		}
		g := newGrid(spots, cores)
		box := func(i int) rect { return cores[spots[i].opt].at(spots[i].vec) }
		overlap := func(i, j int) bool {
			a, b := box(i), box(j)
			return a.lo.x < b.hi.x && b.lo.x < a.hi.x && a.lo.y < b.hi.y && b.lo.y < a.hi.y
		}
		under := func(row int, of ...int) bool {
			x, y := int32(row%g.nx), int32(row/g.nx)
			for _, i := range of {
				b := g.blocks[i]
				if x < b.x0 || x >= b.x1 || y < b.y0 || y >= b.y1 {
					return false
				}
			}
			return true
		}
		for i := range spots {
			for j := range i + 1 {
				for k := range j + 1 {
					all, one := overlap(i, j) && overlap(j, k) && overlap(i, k), false
					for row := range g.rows() {
						one = one || under(row, i, j, k)
					}
					if all != one {
						t.Fatalf("%v, %v and %v overlap: %v; under one row: %v", box(i), box(j), box(k), all, one)
					}
					if all && i != j && j != k {
						together++
					}
				}
			}
		}
	}
	if together < 500 {
		t.Errorf("only %d times three overlap", together)
	}
}
