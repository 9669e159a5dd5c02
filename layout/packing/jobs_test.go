package packing

import (
	"fmt"
	"slices"
	"testing"
)

// heard is a model that notes what is asked of it and finds nothing.
type heard struct {
	*grid
	asked []string
}

func (h *heard) exact(view int, _ priced, target, nodes int, _ func() bool) outcome {
	h.asked = append(h.asked, fmt.Sprint("exact ", view, " ", target, " ", nodes))
	return outcome{}
}

func (h *heard) beam(view int, _ priced, target, width int, _ func() bool) []int32 {
	h.asked = append(h.asked, fmt.Sprint("beam ", view, " ", target, " ", width))
	return nil
}

func (h *heard) improve(start []int32, seed uint64, target, tries int, _ func() bool) []int32 {
	h.asked = append(h.asked, fmt.Sprint("improve ", len(start), " ", seed, " ", target, " ", tries))
	return nil
}

// Each round searches from two corners more, three times as hard; from the second on it betters what is known, too. Where the bound is
// further off than one more, one more is looked for as well. The work is what nodes, states and tries cost.
func TestRoundsOfASolver(t *testing.T) {
	g := newGrid([]spot{{0, vec{}}, {0, vec{1, 0}}}, []rect{{vec{}, vec{3, 3}}})
	for _, c := range []struct {
		round, effort, bound, floor, want int
		best                              []int32
		asked                             []string
		work                              int64
	}{
		{0, 1, 5, 4, -1, nil, []string{"exact 0 5 4000", "exact 1 5 4000", "beam 0 5 30", "beam 1 5 30"}, 2*4000*800 + 2*30*5*5000},
		{0, 1, 5, 4, -1, []int32{0}, []string{"exact 0 5 4000", "exact 1 5 4000", "beam 0 5 30", "beam 1 5 30"}, 2*4000*800 + 2*30*5*5000},
		{2, 9, 7, 6, -1, []int32{0}, []string{"exact 4 7 36000", "exact 5 7 36000", "beam 4 7 270", "beam 5 7 270", "improve 1 4 7 180", "improve 1 5 7 180"},
			2*36000*800 + 2*270*7*5000 + 2*180*200_000},
		{1, 3, 9, 3, -1, []int32{0}, []string{"exact 2 9 12000", "exact 3 9 12000", "beam 2 9 90", "beam 3 9 90", "improve 1 2 9 60", "improve 1 3 9 60",
			"exact 3 4 12000", "beam 2 4 90", "beam 3 4 90", "improve 1 2 4 60", "improve 1 3 4 60"},
			2*12000*800 + 2*90*9*5000 + 2*60*200_000 + 12000*800 + 2*90*4*5000 + 2*60*200_000},
		{0, 1, 9, 3, 6, nil, []string{"exact 0 6 4000", "exact 1 6 4000", "beam 0 6 30", "beam 1 6 30", "exact 1 4 4000", "beam 0 4 30", "beam 1 4 30"},
			3*4000*800 + 2*30*6*5000 + 2*30*4*5000},
		{0, 100_000, 5, 4, -1, nil, []string{"exact 0 5 30000000", "exact 1 5 30000000", "beam 0 5 1500", "beam 1 5 1500"}, 2*30_000_000*800 + 2*1500*5*5000},
	} {
		h := &heard{grid: g}
		whole := &budget{Context: t.Context()}
		s := newSolver(whole, h, 1)
		s.dual = newDualSolver(g)
		s.bound, s.floor, s.want, s.best = c.bound, c.floor, c.want, c.best
		if s.search(c.round, c.effort); !slices.Equal(h.asked, c.asked) {
			t.Errorf("round %d: %q, want %q", c.round, h.asked, c.asked)
		}
		if got := whole.spent.Load(); got != c.work {
			t.Errorf("round %d takes %d ns, want %d", c.round, got, c.work)
		}
	}
	whole := &budget{Context: t.Context()}
	s := newSolver(whole, quiet{g}, 2)
	s.dual, s.bound, s.floor = newDualSolver(g), 5, 4
	if s.search(0, 1); whole.spent.Load() != (2*4000*800+2*30*5*5000)/2 {
		t.Errorf("two workers take %d ns", whole.spent.Load())
	}
}

// quiet is a model that finds nothing and may be asked side by side.
type quiet struct{ *grid }

func (quiet) exact(int, priced, int, int, func() bool) outcome       { return outcome{} }
func (quiet) beam(int, priced, int, int, func() bool) []int32        { return nil }
func (quiet) improve([]int32, uint64, int, int, func() bool) []int32 { return nil }
