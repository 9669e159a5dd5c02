package search

import (
	"math/rand/v2"
	"testing"
)

// What the table says is reached is reached by a spot, pair by pair; together with the list of spots nothing reached is missed. Where
// there are more steps than cells a cell is several steps wide.
func TestReachedIsReachedByASpot(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	wide := map[bool]int{}
	for range 300 {
		lo := spot{r.Int32N(50) - 25, r.Int32N(50), 0}
		steps := [2]int32{1 + r.Int32N(900), 1 + r.Int32N(900)}
		hi := spot{lo[0] + steps[0] - 1, lo[1] + steps[1] - 1, 0}
		var f front
		f.table.reset(lo, hi)
		anywhere := func() spot { return spot{lo[0] + r.Int32N(steps[0]), lo[1] + r.Int32N(steps[1]), r.Int32N(40)} }
		var marked []spot
		for range r.IntN(12) {
			s := anywhere()
			f.mark(s)
			marked = append(marked, s)
		}
		wide[!f.table.exact()]++
		for k := range 200 {
			s := anywhere()
			if k < len(marked) {
				s = marked[k]
				s[k%3] += int32(k%2) - int32(k/3%2)
			}
			want := false
			for _, m := range marked {
				want = want || m[0] <= s[0] && m[1] <= s[1] && m[2] <= s[2]
			}
			if f.table.reached(s) && !want || f.reached(s) != want {
				t.Fatalf("%d x %d steps, %v marked: %v is reached: %v, by the table %v, pair by pair %v", steps[0], steps[1], marked, s, f.reached(s), f.table.reached(s), want)
			}
		}
	}
	if min(wide[true], wide[false]) < 20 {
		t.Errorf("drawn too one-sidedly: %v", wide)
	}
}
