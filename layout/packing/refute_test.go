package packing

import (
	"slices"
	"testing"
)

// Where prices sum to 6.5 and 6 modules are to stand, an oblong that costs more than 1.5 cannot be in such a packing: the five
// others cost at least 1 each. By hand, in 60 mm x 40 mm of six squares, priced at the lower left corner alone: that one costs
// the price, the others nothing. It is left out where it is dearer, and the search goes on with the five.
func TestDearOblongsAreLeftOut(t *testing.T) {
	p := planeOf(t, Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: Region{Outline: rectangleMM(0, 0, 60, 40)}, CeilingMM: 10}}}},
		Postures: []Posture{{Name: "m", LengthMM: 20, WidthMM: 20, HeightMM: 10}}})
	q := newRaster(t.Context(), p, 500)
	cells := q.reachable(func() bool { return false })
	cores := q.p.coreFamilies()
	g := q.grids(cells, cores)
	corner := slices.IndexFunc(cells, func(c spot) bool { return c.vec == q.anchor })
	if len(cells) != 6 || corner < 0 {
		t.Fatalf("the places are %v", cells)
	}
	for price, left := range map[float64]int{1.4: 6, 1.6: 5} {
		d := newDualSolver(g)
		clear(d.best.price)
		d.best.price[0], d.best.sum = price, 6.5
		f := newRefuter(t.Context(), q, cores, cells, d, 6)
		f.fix()
		if len(f.cells) != left || slices.Contains(f.cells, cells[corner]) != (left == 6) {
			t.Errorf("priced %g, %v of %v are gone on with", price, f.cells, cells)
		}
	}
}
