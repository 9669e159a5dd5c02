package packing

import (
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// bruteForceInSpace counts the most blocks of any posture at whole positions in a
// box, standing on one another or hanging in the air, where a test lets them.
func bruteForceInSpace(w, h, high int, postures []Posture, fits func(lo, hi [3]int) bool, nodes *int) int {
	type block struct{ lo, hi [3]int }
	var all []block
	for _, q := range postures {
		for _, d := range [2][3]int{{int(q.LengthMM), int(q.WidthMM), int(q.HeightMM)}, {int(q.WidthMM), int(q.LengthMM), int(q.HeightMM)}} {
			for x := 0; x+d[0] <= w; x++ {
				for y := 0; y+d[1] <= h; y++ {
					for z := 0; z+d[2] <= high; z++ {
						if b := (block{[3]int{x, y, z}, [3]int{x + d[0], y + d[1], z + d[2]}}); fits(b.lo, b.hi) {
							all = append(all, b)
						}
					}
				}
			}
		}
	}
	meets, live := make([][]bool, len(all)), make([]int, len(all))
	for i, a := range all {
		live[i], meets[i] = i, make([]bool, len(all))
		for j, b := range all {
			apart := false
			for k := range 3 {
				apart = apart || a.hi[k] <= b.lo[k] || b.hi[k] <= a.lo[k]
			}
			meets[i][j] = !apart
		}
	}
	best := 0
	tryAll(live, meets, 0, &best, nodes)
	return best
}

// TestBoundInSpaceAgainstBruteForce holds the bound to what brute force packs in
// small boxes without any rule about layers.
func TestBoundInSpaceAgainstBruteForce(t *testing.T) {
	tight, all := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		w, h, high := rapid.IntRange(3, 6).Draw(rt, "w"), rapid.IntRange(2, 4).Draw(rt, "h"), rapid.IntRange(2, 6).Draw(rt, "high")
		a, b, c := float64(rapid.IntRange(2, 3).Draw(rt, "a")), float64(rapid.IntRange(1, 2).Draw(rt, "b")), float64(rapid.IntRange(1, 2).Draw(rt, "c"))
		p := oneBay(Region{Outline: rectangle(0, 0, float64(w), float64(h))}, Posture{Name: "flat", LengthMM: a, WidthMM: b, HeightMM: c})
		p.Postures = append(p.Postures, Posture{Name: "side", LengthMM: a, WidthMM: c, HeightMM: b})
		p.Bays[0].Levels[0].CeilingMM = float64(high)
		p.Limit = 100 * time.Millisecond
		res := solved(rt, t, p)
		nodes := 3_000
		best := bruteForceInSpace(w, h, high, p.Postures, func(_, _ [3]int) bool { return true }, &nodes)
		if res.Bound < best {
			rt.Errorf("bound %d, brute force packs %d: %s", res.Bound, best, res.Argument)
		}
		all++
		if res.Bound == res.Count {
			tight++
		}
	})
	t.Logf("%d of %d boxes closed", tight, all)
}

// TestBoundUnderTwoCeilings holds the bound, by level cuts there, to what brute force packs where the ceiling has a step: blocks reach
// from one side to the other only where they are low enough for both.
func TestBoundUnderTwoCeilings(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	between := func(lo, hi int) int { return lo + r.IntN(hi-lo+1) }
	cuts, tight := 0, 0
	for range 24 {
		left, right, h := between(2, 3), between(1, 3), between(2, 3)
		ceilings := [2]int{between(2, 5), between(2, 5)}
		a, b, c := float64(between(2, 3)), float64(between(1, 2)), float64(between(1, 2))
		p := oneBay(Region{Outline: rectangle(0, 0, float64(left), float64(h))}, Posture{Name: "flat", LengthMM: a, WidthMM: b, HeightMM: c})
		p.Postures = append(p.Postures, Posture{Name: "side", LengthMM: a, WidthMM: c, HeightMM: b})
		p.Bays[0].Levels[0].CeilingMM = float64(ceilings[0])
		p.Bays[0].Levels = append(p.Bays[0].Levels, Level{Region: Region{Outline: rectangle(float64(left), 0, float64(left+right), float64(h))}, CeilingMM: float64(ceilings[1])})
		p.Limit = 100 * time.Millisecond
		res := mustSolve(t, p)
		nodes := 3_000
		fits := func(lo, hi [3]int) bool {
			return (lo[0] >= left || hi[2] <= ceilings[0]) && (hi[0] <= left || hi[2] <= ceilings[1])
		}
		best := bruteForceInSpace(left+right, h, max(ceilings[0], ceilings[1]), p.Postures, fits, &nodes)
		if res.Bound < best {
			t.Errorf("%d and %d wide under %v: bound %d, brute force packs %d: %s", left, right, ceilings, res.Bound, best, res.Argument)
		}
		if ceilings[0] != ceilings[1] {
			cuts++
			if res.Bound == best {
				tight++
			}
		}
	}
	t.Logf("of %d steps %d are bounded by what brute force packs", cuts, tight)
	if cuts < 12 || tight < 4 {
		t.Errorf("only %d steps drawn, %d bounded by what brute force packs", cuts, tight)
	}
}
