package search

import (
	"maps"
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

// A table has a cell a step up to 256 steps; of more steps a cell is as few wide as make no more than 256 cells, which cover all of them.
func TestCellsOfATable(t *testing.T) {
	for _, steps := range [][2]int32{{1, 1}, {255, 1}, {256, 40}, {257, 256}, {512, 511}, {513, 1000}, {100000, 256}} {
		var tb table
		tb.reset(spot{-7, 30, 0}, spot{-7 + steps[0] - 1, 30 + steps[1] - 1, 0})
		for k := range 2 {
			wide, n := tb.wide[k], tb.n[k]
			if wide*n < steps[k] || wide*(n-1) >= steps[k] || n > 256 || wide > 1 && (steps[k]+wide-2)/(wide-1) <= 256 || tb.at[k] != []int32{-7, 30}[k] {
				t.Errorf("%d steps: %d cells of %d from %d on", steps[k], n, wide, tb.at[k])
			}
		}
		if tb.exact() != (max(steps[0], steps[1]) <= 256) || len(tb.side) != int(tb.n[0]*tb.n[1]) {
			t.Errorf("%v: exact %v, %d cells", steps, tb.exact(), len(tb.side))
		}
	}
	var tb table
	tb.reset(spot{-7, 30, 0}, spot{1000, 5000, 0})
	for k := range 2 { // the first cell that a spot reaches begins where the spot is no worse
		for v := tb.at[k] - 40; v < tb.at[k]+300; v++ {
			first := int32(0)
			for tb.at[k]+first*tb.wide[k] < v {
				first++
			}
			if got := tb.cell(spot{v, v, 0}, k); got != first {
				t.Errorf("cells of %d from %d on: %d reaches from cell %d on, not %d", tb.wide[k], tb.at[k], v, got, first)
			}
		}
	}
	tb.reset(spot{5, 5, 0}, spot{3, 2, 0}) // nothing between
	if tb.n != [2]int32{1, 1} || !tb.exact() {
		t.Errorf("%+v", tb)
	}
}

// Whatever is added, the members are those spots that no other one reaches, pair by pair, the last of equals not put in; a spot far out of the
// table is reached where one in it is no worse.
func TestMembersDoNotBeatEachOther(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 28))
	for range 200 {
		var f front
		wide := 1 + r.Int32N(600)
		f.table.reset(spot{0, 0, 0}, spot{wide - 1, 9, 9})
		var all []spot
		for range 30 {
			s := spot{r.Int32N(wide), r.Int32N(10), r.Int32N(10)}
			all = append(all, s)
			if !f.reached(s) {
				f.add(member{spot: s})
			}
		}
		want, got := map[spot]int{}, map[spot]int{}
		for _, s := range all {
			best := true
			for _, o := range all {
				best = best && (o == s || o[0] > s[0] || o[1] > s[1] || o[2] > s[2])
			}
			if best {
				want[s] = 1
			}
		}
		for _, m := range f.members {
			got[m.spot]++
			far := spot{m.spot[0] + 5000, m.spot[1] + 5000, m.spot[2]}
			if !f.reached(far) || f.reached(spot{-1, m.spot[1], m.spot[2]}) || f.reached(spot{m.spot[0], -1, m.spot[2]}) {
				t.Fatalf("%v is reached %v, and what is better than all", far, f.reached(far))
			}
		}
		if !maps.Equal(got, want) {
			t.Fatalf("%v leave %v, pair by pair %v", all, got, want)
		}
	}
}
