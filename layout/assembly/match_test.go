package assembly

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"

	"stowbay/layout"
)

// byLibrary solves an assignment as a linear programme with gonum's simplex. A last row of sums is left out, as it
// follows from the others and the solver wants full rank.
func byLibrary(t *testing.T, cost [][]float64) float64 {
	t.Helper()
	n := len(cost)
	c := make([]float64, 0, n*n)
	for _, row := range cost {
		c = append(c, row...)
	}
	a := mat.NewDense(2*n-1, n*n, nil)
	b := make([]float64, 2*n-1)
	for i := range n {
		b[i] = 1
		for j := range n {
			a.Set(i, i*n+j, 1)
			if j < n-1 {
				a.Set(n+j, i*n+j, 1)
				b[n+j] = 1
			}
		}
	}
	sum, _, err := lp.Simplex(c, a, b, 1e-10, nil)
	if err != nil {
		t.Fatal(err)
	}
	return sum
}

func TestAssignAgainstSimplex(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for n := 1; n <= 9; n++ {
		cost := randomCosts(r, n, n)
		_, sum, bound, err := assign(cost)
		if err != nil {
			t.Fatal(err)
		}
		if want := byLibrary(t, cost); math.Abs(sum-want) > 1e-6 || math.Abs(bound-want) > 1e-6 {
			t.Errorf("n = %d: %v, bound %v, simplex %v", n, sum, bound, want)
		}
	}
}

func randomCosts(r *rand.Rand, n, m int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, m)
		for k := range out[i] {
			out[i][k] = math.Round(r.Float64() * 100)
		}
	}
	return out
}

// 200 modules: the dual bound proves the assignment; columns are taken once each.
func TestAssignTwoHundred(t *testing.T) {
	cost := randomCosts(rand.New(rand.NewPCG(11, 12)), 200, 220)
	column, sum, bound, err := assign(cost)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(sum-bound) > 1e-6 {
		t.Errorf("costs %v, bound %v", sum, bound)
	}
	sorted := slices.Clone(column)
	slices.Sort(sorted)
	if len(slices.Compact(sorted)) != 200 {
		t.Error("a column is taken twice")
	}
	if _, _, _, err := assign(randomCosts(rand.New(rand.NewPCG(1, 1)), 3, 2)); err == nil {
		t.Error("three places were filled with two modules")
	}
}

func BenchmarkMatch200(b *testing.B) {
	m := matchModel(200, 2)
	for b.Loop() {
		if _, err := Match(m); err != nil {
			b.Fatal(err)
		}
	}
}

// matchModel has n modules in strings, and as many received and ten more, of two makes that differ.
func matchModel(n, strings int) *Model {
	s := sceneOf(boxWith("b", "eight", n))
	c := inOrder(s)
	all := c.Strings[0].Members
	c.Strings = nil
	for i := range strings {
		part := all[i*n/strings : (i+1)*n/strings]
		c.Strings = append(c.Strings, Chain{ID: fmt.Sprintf("S%d", i+1), Members: part, Passages: []Passage{{Box: s.Boxes[0], To: len(part)}}})
	}
	r := rand.New(rand.NewPCG(13, 14))
	b := &layout.Build{}
	for i := range n + 10 {
		ah := 98 + r.Float64()
		if i%2 == 0 {
			ah = 94 + r.Float64()
		}
		b.Received = append(b.Received, layout.Received{Shop: fmt.Sprintf("W%03d", i+1), Module: "eight", CapacityAh: ah, MilliOhm: 5 + r.Float64()/10})
	}
	s.Plan.Build = b
	return New(s, c)
}

func TestMatchBringsLikeTogether(t *testing.T) {
	m := matchModel(16, 2)
	got, err := Match(m)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Slots) != 16 || len(got.Spare) != 10 || !got.Proved() {
		t.Fatalf("%d slots, %d spare, cost %v, bound %v", len(got.Slots), len(got.Spare), got.Cost, got.Bound)
	}
	for _, g := range got.Groups {
		if g.MostAh-g.LeastAh > 1 {
			t.Errorf("string %s has modules from %v to %v Ah; the two makes are mixed", g.String, g.LeastAh, g.MostAh)
		}
	}
	m.Scene.Plan.Build.Received = m.Scene.Plan.Build.Received[:15]
	if _, err := Match(m); err == nil {
		t.Error("16 slots were filled with 15 modules")
	}
}

func TestMatchLeavesRefusedOut(t *testing.T) {
	m := matchModel(4, 1)
	for i := range m.Scene.Plan.Build.Received {
		m.Scene.Plan.Build.Received[i].Refused = i >= 4
	}
	got, err := Match(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range got.Slots {
		if s.Shop > "W004" {
			t.Errorf("refused module %s is in slot %s", s.Shop, s.Slot)
		}
	}
}

// A module is placed blind where neither its capacity nor its resistance was measured; one of the two will do.
func TestMatchCountsWhatWasNotMeasured(t *testing.T) {
	m := matchModel(6, 1)
	rs := m.Scene.Plan.Build.Received[:6]
	rs[0].CapacityAh, rs[3].CapacityAh = 0, 0
	rs[1].MilliOhm, rs[4].MilliOhm = 0, 0
	rs[2].CapacityAh, rs[2].MilliOhm = 0, 0
	m.Scene.Plan.Build.Received = rs
	got, err := Match(m)
	if err != nil || got.Blind != 1 {
		t.Errorf("%d placed blind, want 1; %v", got.Blind, err)
	}
}

func TestRegisterKeepsTheLast(t *testing.T) {
	b := &layout.Build{Slots: []layout.Slot{{Arrangement: "a", Slot: "b/m1", Shop: "W1"}, {Arrangement: "x", Slot: "b/m1", Shop: "W9"}, {Arrangement: "a", Slot: "b/m1", Shop: "W2", Reason: "swollen"}}}
	if got := Register(b, "a")["b/m1"].Shop; got != "W2" {
		t.Errorf("slot holds %s", got)
	}
}

func TestInspect(t *testing.T) {
	s := sceneOf(boxWith("b", "four", 3))
	s.Plan.Build = &layout.Build{
		Received: []layout.Received{
			{Shop: "W1", Serial: "A", Module: "four", CellsV: []float64{3.3, 3.3, 3.3, 3.3}, MilliOhm: 5, CapacityAh: 100},
			{Shop: "W2", Serial: "A", Module: "four", CellsV: []float64{3.3, 3.36, 3.3, 3.3}, MilliOhm: 6.3, CapacityAh: 89},
			{Shop: "W3", Module: "four", CellsV: []float64{2.4, 3.7, 3.3}},
			{Shop: "W4", Module: "four", Refused: true, CellsV: []float64{1, 1, 1, 1}},
			{Shop: "W5", Module: "none"},
			{Shop: "W6", Module: "eight"},
		},
		Slots: []layout.Slot{{Arrangement: "a", Slot: "b/m1", Shop: "W1"}, {Arrangement: "a", Slot: "b/m2", Shop: "W1"}, {Arrangement: "a", Slot: "b/m3", Shop: "W4"}, {Arrangement: "a", Slot: "b/m7", Shop: "W2"}},
	}
	got := map[string]int{}
	for _, r := range Inspect(s) {
		got[r.Of+" "+r.Grade]++
	}
	want := map[string]int{
		"W2 warns":   4, // serial twice, spread 60 mV, 6.3 over 6.25 mohm, 89 under 90 Ah
		"W3 fails":   3, // three of four cells, one too low, one too high
		"W3 warns":   1, // 1.3 V apart
		"W5 warns":   1, // unknown type
		"W6 notes":   1, // no cells entered
		"W1 fails":   1, // in two slots
		"b/m3 fails": 1, // refused
		"b/m7 warns": 1, // no such slot
	}
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%s: %d remarks, want %d", k, got[k], n)
		}
		delete(got, k)
	}
	if len(got) > 0 {
		t.Errorf("more remarks than expected: %v", got)
	}
}

// A module with a cell beyond its data sheet's limits is not proposed for any slot: LFP of ours, 2.5 to 3.65 V.
func TestMatchLeavesOutWhatFailsTheInspection(t *testing.T) {
	m := modelOf(boxWith("b", "four", 1))
	for _, c := range []struct {
		cell float64
		want bool
	}{{2.5, true}, {2.499, false}, {3.65, true}, {3.651, false}} {
		m.Scene.Plan.Build = &layout.Build{Received: []layout.Received{{Shop: "A1", Module: "four", CellsV: []float64{c.cell, c.cell, c.cell, c.cell}}}}
		out, err := Match(m)
		if (err == nil) != c.want || c.want && out.Slots[0].Shop != "A1" {
			t.Errorf("%g V: %+v, %v", c.cell, out, err)
		}
	}
}
