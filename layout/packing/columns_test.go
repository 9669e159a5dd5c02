package packing

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestColumnsAgainstCBC searches bays whose walls lie along the axes by columns: the
// optimum that CBC proved must not be refuted, and one more must not be found.
func TestColumnsAgainstCBC(t *testing.T) {
	never := func() bool { return false }
	refuted, found, all := 0, 0, 0
	for _, in := range append(ownInstances(t), publishedInstances(t)...) {
		if in.Slanted || in.Optimum > 25 {
			continue
		}
		p := planarProblem(t, in)
		c, upright := p.byColumns(t.Context())
		if c == nil {
			continue
		}
		all++
		spots, no := c.search(in.Optimum, 200, 60_000, never)
		if no {
			t.Errorf("%s: %d is refuted, CBC packs them", in.Name, in.Optimum)
		}
		if len(spots) >= in.Optimum {
			found++
			standAll(t, in, p, spots, upright)
		}
		spots, no = c.search(in.Optimum+1, 200, 60_000, never)
		if len(spots) > in.Optimum {
			t.Errorf("%s: %d found, CBC refutes them", in.Name, len(spots))
		}
		if no {
			refuted++
		}
	}
	t.Logf("of %d bays %d packed and %d closed", all, found, refuted)
	if all < 10 || refuted < all/2 {
		t.Errorf("only %d of %d closed", refuted, all)
	}
}

func standAll(t *testing.T, in instance, p *plane, spots []spot, upright func(spot) spot) {
	t.Helper()
	out := make([]spot, len(spots))
	for i, s := range spots {
		out[i] = upright(s)
	}
	if !p.stands(out) {
		t.Errorf("%s: a packing by columns does not stand", in.Name)
	}
}

// TestTapersHoldMoreOffTheGrid has tapers in which more modules fit at real positions
// than the optimum of whole positions that CBC proved, by exact contact with both
// slanted walls. The verifier judges the packings.
func TestTapersHoldMoreOffTheGrid(t *testing.T) {
	more := map[string]int{"S01-tapered-bay-9x4": 48, "taper-23-9x4": 23, "taper-33-7x5": 28}
	for _, in := range append(ownInstances(t), publishedInstances(t)...) {
		if n, ok := more[in.Name]; ok {
			res := mustSolve(t, in.problem())
			wantCount(t, res, n, true)
			if n <= in.Optimum {
				t.Errorf("%s: not more than %d", in.Name, in.Optimum)
			}
		}
	}
}

// TestColumnsInTapers draws tapers on whole numbers: the count of any packing found
// by another way must not be refuted by columns.
func TestColumnsInTapers(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w, h := float64(rapid.IntRange(10, 24).Draw(rt, "w")), float64(rapid.IntRange(9, 15).Draw(rt, "h"))
		a, b := float64(rapid.IntRange(0, 3).Draw(rt, "a")), float64(rapid.IntRange(1, 4).Draw(rt, "b"))
		in := instance{Name: "taper", Outline: [][2]float64{{0, 0}, {w, a}, {w, h - b}, {0, h}},
			Length: float64(rapid.IntRange(4, 7).Draw(rt, "length")), Width: float64(rapid.IntRange(2, 3).Draw(rt, "width")),
			Wall: float64(rapid.IntRange(0, 1).Draw(rt, "wall"))}
		p := planarProblem(t, in)
		c, _ := p.byColumns(t.Context())
		if c == nil {
			rt.Skip("no columns")
		}
		s := newSession(t.Context(), &Problem{Workers: 1}, nil, time.Now(), time.Minute)
		spots := s.byContacts(p, p.areaBound())
		if _, no := c.search(len(spots), 100, 30_000, func() bool { return false }); no {
			rt.Errorf("%d modules stand, columns refute them", len(spots))
		}
	})
}
