package assembly

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
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

// 2, 4, 4, 4, 5, 5, 7, 9 have mean 5 and standard deviation 2 (the usual textbook example), here as tenths; what is not
// measured counts as the mean, and one measured value alone has no spread.
func TestScaledCountsInSpreads(t *testing.T) {
	scale := func(vs ...float64) []float64 {
		rs := make([]layout.Received, len(vs))
		for i, v := range vs {
			rs[i].MilliOhm = v
		}
		return scaled(rs, func(r *layout.Received) float64 { return r.MilliOhm })
	}
	want := []float64{-1.5, -0.5, 0, -0.5, -0.5, 0, 0, 1, 2}
	for i, got := range scale(0.2, 0.4, 0, 0.4, 0.4, 0.5, 0.5, 0.7, 0.9) {
		near(t, "scaled", got, want[i])
	}
	for _, got := range append(scale(0, 7, 0), append(scale(3, 3), scale(0)...)...) {
		near(t, "scaled", got, 0)
	}
}

func TestTargetsAndCostsByHand(t *testing.T) {
	p := pool{places: []string{"a", "b", "c"}, group: []int{0, 0, 1}, modules: make([]layout.Received, 4), ah: []float64{1, 3, 5, -1}, mo: []float64{2, 6, 0, 4}}
	at := p.means([]int{1, 0, 3})
	if at[0] != (target{2, 4}) || at[1] != (target{-1, 4}) {
		t.Errorf("targets %v", at)
	}
	want := [][]float64{{1 + 4, 1 + 4, 9 + 16, 9}, {1 + 4, 1 + 4, 9 + 16, 9}, {4 + 4, 16 + 4, 36 + 16, 0}}
	for i, row := range p.costs(at) {
		if !slices.Equal(row, want[i]) {
			t.Errorf("place %d costs %v, want %v", i, row, want[i])
		}
	}
}

// Turns end where another turn gains nothing.
func TestTurnsEndWhereNothingGetsBetter(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 20))
	better := 0
	for range 60 {
		p := pool{places: make([]string, 6), group: []int{0, 0, 0, 1, 1, 2}, modules: make([]layout.Received, 8)}
		for range p.modules {
			p.ah, p.mo = append(p.ah, r.NormFloat64()), append(p.mo, r.NormFloat64())
		}
		start := p.means(r.Perm(8)[:6])
		column, sum, bound := p.turns(start)
		_, again, _, err := assign(p.costs(p.means(column)))
		if err != nil || again < sum-1e-9 || bound > sum+1e-9 {
			t.Errorf("costs %v, bound %v; another turn %v, %v", sum, bound, again, err)
		}
		if _, first, _, _ := assign(p.costs(start)); sum < first-1e-9 {
			better++
		}
	}
	if better == 0 {
		t.Error("turns never gained anything: the test shows nothing")
	}
}

// Two types in one string, each of capacities one spread to either side of its mean: four deviations of one, squared.
func TestMatchingCostsByHand(t *testing.T) {
	m := modelOf(boxWith("b1", "four", 2), boxWith("b2", "eight", 2))
	m.Scene.Plan.Build = &layout.Build{Received: []layout.Received{
		{Shop: "A1", Module: "four", CapacityAh: 98, MilliOhm: 0.5}, {Shop: "A2", Module: "four", CapacityAh: 100, MilliOhm: 0.5},
		{Shop: "B1", Module: "eight", CapacityAh: 99}, {Shop: "B2", Module: "eight", CapacityAh: 97},
	}}
	got, err := Match(m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cost", got.Cost, 4)
	near(t, "bound", got.Bound, 4)
	if g := got.Groups[0]; g != (Group{"S1", 97, 100, 0.5, 0.5, 1}) {
		t.Errorf("%+v", g)
	}
}

func TestProvedAllowsForRoundingAlone(t *testing.T) {
	for _, c := range []struct {
		cost, bound float64
		want        bool
	}{{0, 0, true}, {1000, 1000, true}, {1000.0000005, 1000, true}, {1.5, 1, false}, {1.00001, 1, false}, {0.001, 0, false}} {
		if got := (&Matching{Cost: c.cost, Bound: c.bound}).Proved(); got != c.want {
			t.Errorf("cost %v, bound %v: proved %v", c.cost, c.bound, got)
		}
	}
}

// Of results that are equally good the one of most capacity counts: a single slot gets the module of 100 Ah.
func TestMatchTakesMostCapacityOfEquals(t *testing.T) {
	m := modelOf(boxWith("b", "four", 1))
	m.Scene.Plan.Build = &layout.Build{Received: []layout.Received{{Shop: "A1", Module: "four", CapacityAh: 95}, {Shop: "A2", Module: "four", CapacityAh: 100}}}
	if got, err := Match(m); err != nil || got.Slots[0].Shop != "A2" || !slices.Equal(got.Spare, []string{"A1"}) {
		t.Errorf("%+v, %v", got, err)
	}
}

// Up to 1000 modules are matched at once, as the refusal says.
func TestMatchTakesAThousandModules(t *testing.T) {
	m := modelOf(boxWith("b", "four", 1))
	for n, want := range map[int]bool{1000: true, 1001: false} {
		m.Scene.Plan.Build = &layout.Build{Received: slices.Repeat([]layout.Received{{Module: "four"}}, n)}
		if _, err := Match(m); (err == nil) != want {
			t.Errorf("%d modules: %v", n, err)
		}
	}
}

func TestSpanOfMeasuredValues(t *testing.T) {
	for _, c := range [][5]float64{{0, 0, 0.5, 0.5, 0.5}, {5, 5, 7, 5, 7}, {5, 7, 3, 3, 7}, {5, 7, 6, 5, 7}, {5, 7, 0, 5, 7}} {
		if lo, hi := span(c[0], c[1], c[2]); lo != c[3] || hi != c[4] {
			t.Errorf("%v and %v to %v: %v to %v", c[2], c[0], c[1], lo, hi)
		}
	}
}

// Nothing to place costs nothing, and what cannot be placed has no cost either.
func TestAssignOfNothing(t *testing.T) {
	if column, sum, bound, err := assign(nil); len(column) != 0 || sum != 0 || bound != 0 || err != nil {
		t.Errorf("%v, %v, %v, %v", column, sum, bound, err)
	}
	if column, sum, bound, err := assign([][]float64{{1}, {1}}); column != nil || sum != 0 || bound != 0 || err == nil {
		t.Errorf("%v, %v, %v, %v", column, sum, bound, err)
	}
}

// The limits of the incoming inspection on both sides: 50 mV between cells, a quarter more than the sheet's 5 mohm, nine tenths
// of its 100 Ah.
func TestInspectionLimitsByHand(t *testing.T) {
	s := sceneOf(boxWith("b", "four", 1))
	level := []float64{3.3, 3.3, 3.3, 3.3}
	for _, c := range []struct {
		r                layout.Received
		required, actual float64 // 0: no remark
		text             string
	}{
		{layout.Received{CellsV: []float64{3.3, 3.35, 3.3, 3.3}}, 0, 0, ""},
		{layout.Received{CellsV: []float64{3.3, 3.352, 3.3, 3.3}}, 0.05, 0.052, "stand 52 mV apart"},
		{layout.Received{CellsV: []float64{2.6, 3.6, 3.3, 3.3}}, 0.05, 1, "stand 1000 mV apart"},
		{layout.Received{CellsV: level, MilliOhm: 6.25}, 0, 0, ""},
		{layout.Received{CellsV: level, MilliOhm: 6.3}, 6.25, 6.3, "has 6.3 mohm; its data sheet says 5 mohm"},
		{layout.Received{CellsV: level, CapacityAh: 90}, 0, 0, ""},
		{layout.Received{CellsV: level, CapacityAh: 89.9}, 90, 89.9, "has 89.9 Ah; its data sheet says 100 Ah"},
		{layout.Received{CellsV: level, CapacityAh: 0.5}, 90, 0.5, "has 0.5 Ah"},
	} {
		c.r.Shop, c.r.Module = "W1", "four"
		s.Plan.Build = &layout.Build{Received: []layout.Received{c.r}}
		got := Inspect(s)
		if len(got) == 0 && c.required == 0 {
			continue
		}
		if len(got) != 1 || got[0].Grade != "warns" || !strings.Contains(got[0].Text, c.text) {
			t.Errorf("%+v: %+v", c.r, got)
			continue
		}
		near(t, "required", got[0].Required, c.required)
		near(t, "actual", got[0].Actual, c.actual)
	}
}

// Means of 3.30, 3.34 and a third: up to 50 mV above the lowest are level. A module without cell voltages, one that was refused
// and one that never came do not count.
func TestModulesBuiltInAreLevel(t *testing.T) {
	for third, want := range map[float64]string{3.35: "", 3.352: "a cell of W3 has 52 mV more than one of W1", 2.6: "a cell of W2 has 740 mV more than one of W3"} {
		s := sceneOf(boxWith("b", "four", 6))
		b := &layout.Build{Received: []layout.Received{{Shop: "W1", CellsV: []float64{3.28, 3.32, 3.29, 3.31}}, {Shop: "W2", CellsV: alike(4, 3.34)}, {Shop: "W3", CellsV: alike(4, third)},
			{Shop: "W4"}, {Shop: "W5", CellsV: alike(4, 3), Refused: true}}}
		for i := range b.Received {
			b.Received[i].Module = "four"
		}
		for i := 1; i <= 6; i++ {
			b.Slots = append(b.Slots, layout.Slot{Arrangement: "a", Slot: fmt.Sprintf("b/m%d", i), Shop: fmt.Sprintf("W%d", i)})
		}
		s.Plan.Build = b
		var got []Remark
		for _, r := range Inspect(s) {
			if r.Grade == "warns" {
				got = append(got, r)
			}
		}
		if want == "" {
			if len(got) > 0 {
				t.Errorf("third at %v: %+v", third, got)
			}
			continue
		}
		if len(got) != 1 || !strings.Contains(got[0].Text, want) {
			t.Errorf("third at %v: %+v", third, got)
			continue
		}
		near(t, "required", got[0].Required, 0.05)
		near(t, "actual", got[0].Actual, max(third, 3.34)-min(third, 3.3))
	}
}
