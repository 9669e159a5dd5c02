package electric

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/vehicles"
)

func problemKinds(r *Result) []string {
	var out []string
	for _, p := range r.Problems {
		out = append(out, p.Kind)
	}
	slices.Sort(out)
	return out
}

func twoBoxes() *layout.Plan {
	return withInverter(planOf(boxOf("front", vehicles.XYZ{0, 0, 300}, 2, 3), boxOf("rear", vehicles.XYZ{2000, 0, 300}, 1, 3)))
}

func TestStatedStringsKeepTheirPinnedOrder(t *testing.T) {
	p := twoBoxes()
	want := []string{"front/m3", "rear/m1", "front/m1"}
	p.Arrangements[0].Strings = []layout.String{{ID: "A", Modules: want, Pinned: true}}
	r := Evaluate(resolve(p), nil)
	if got := r.Strings[0].ids(); !slices.Equal(got, want) {
		t.Errorf("order %v, want %v", got, want)
	}
	if len(r.Leftover) != 6 || len(r.Problems) != 0 {
		t.Errorf("left over %d, problems %v", len(r.Leftover), r.Problems)
	}
	if n := len(r.Strings[0].Passes); n != 3 {
		t.Errorf("the string passes %d boxes, want 3 (the front one twice)", n)
	}
}

// An order that is not pinned is free: no order of the same modules makes shorter conductors.
func TestFreeOrderIsShortest(t *testing.T) {
	p := planOf(boxOf("b", vehicles.XYZ{0, 0, 300}, 2, 2))
	ids := []string{"b/m1", "b/m2", "b/m3", "b/m4"}
	p.Arrangements[0].Strings = []layout.String{{ID: "A", Modules: []string{ids[2], ids[0], ids[3], ids[1]}}}
	free := Evaluate(resolve(p), nil).Strings[0].LinkMM
	var try func(order []string)
	try = func(order []string) {
		if len(order) == len(ids) {
			p.Arrangements[0].Strings = []layout.String{{ID: "A", Modules: order, Pinned: true}}
			if mm := Evaluate(resolve(p), nil).Strings[0].LinkMM; mm < free-1e-9 {
				t.Errorf("order %v has %.1f mm of links, the routed one %.1f", order, mm, free)
			}
			return
		}
		for _, id := range ids {
			if !slices.Contains(order, id) {
				try(append(slices.Clone(order), id))
			}
		}
	}
	try(nil)
}

func TestProblemsWithStrings(t *testing.T) {
	p := twoBoxes()
	a := p.Arrangements[0]
	a.Strings = []layout.String{
		{ID: "A", Modules: []string{"front/m1", "front/m2", "front/nowhere"}},
		{ID: "B", Modules: []string{"front/m2", "rear/m1"}},
	}
	a.Series = 2
	r := Evaluate(resolve(p), nil)
	want := []string{ShortString, UnequalStrings, UnknownModule, TwiceUsed}
	if got := problemKinds(r); !slices.Equal(got, want) {
		t.Errorf("problems %v, want %v", got, want)
	}
	if len(r.Leftover) != 6 {
		t.Errorf("left over %d, want 6", len(r.Leftover))
	}
	if c := r.Window.CirculatingA; c <= 0 {
		t.Errorf("unequal strings drive no current through each other: %v", c)
	}
}

func TestCountsLeaveModulesOver(t *testing.T) {
	p := twoBoxes()
	p.Arrangements[0].Series, p.Arrangements[0].Parallel = 4, 2
	r := Evaluate(resolve(p), nil)
	if r.Series != 4 || r.Parallel != 2 || len(r.Leftover) != 1 || len(r.Problems) != 0 {
		t.Errorf("%ds%dp, %d left over, %v", r.Series, r.Parallel, len(r.Leftover), r.Problems)
	}
	p.Arrangements[0].Series = 6
	r = Evaluate(resolve(p), nil)
	if got := problemKinds(r); !slices.Equal(got, []string{ShortString, UnequalStrings}) {
		t.Errorf("9 modules for 6s2p: %v", got)
	}
	p.Arrangements[0].Series, p.Arrangements[0].Parallel = 3, 5
	r = Evaluate(resolve(p), nil)
	if r.Parallel != 3 || !slices.Equal(problemKinds(r), []string{ShortString}) {
		t.Errorf("9 modules for 3s5p: %d strings, %v", r.Parallel, r.Problems)
	}
}

func TestMixedModules(t *testing.T) {
	cases := []struct {
		kind   string
		change func(*vehicles.Module)
	}{
		{MixedTypes, func(*vehicles.Module) {}},
		{MixedCapacity, func(m *vehicles.Module) { m.Cell.CapacityAh *= 0.9 }},
		{MixedChemistry, func(m *vehicles.Module) { m.Cell.Chemistry = "LFP" }},
		{MixedChemistry, func(m *vehicles.Module) { m.Cell.MaxV = 4.1 }},
	}
	for _, c := range cases {
		other := block()
		other.ID = "other"
		c.change(other)
		lib := testLibrary.With(vehicles.Records{Modules: []*vehicles.Module{other}})
		p := planOf(boxOf("b", vehicles.XYZ{}, 1, 3))
		p.Arrangements[0].Boxes[0].Modules[1].Module = "other"
		r := Evaluate(layout.Resolve(p, p.Arrangements[0], lib, nil), nil)
		if got := problemKinds(r); !slices.Equal(got, []string{c.kind}) {
			t.Errorf("%s: %v", c.kind, got)
		}
	}
}

func TestNothingPlaced(t *testing.T) {
	for _, p := range []*layout.Plan{planOf(), planOf(&layout.Box{ID: "empty"}), withInverter(planOf(boxOf("b", vehicles.XYZ{}, 0, 0)))} {
		r := Evaluate(resolve(p), nil)
		if r.Series != 0 || len(r.Strings) != 0 {
			t.Errorf("%+v", r)
		}
		for _, d := range r.Readings() {
			if math.IsNaN(d.Value) || math.IsInf(d.Value, 0) {
				t.Errorf("%s is %v", d.Key, d.Value)
			}
		}
	}
}

// drawPlan is a plan with random boxes, counts and gear.
func drawPlan(t *rapid.T) *layout.Plan {
	var boxes []*layout.Box
	for i := range rapid.IntRange(1, 4).Draw(t, "boxes") {
		b := boxOf(fmt.Sprintf("b%d", i+1), vehicles.XYZ{rapid.Float64Range(0, 4000).Draw(t, "x"), rapid.Float64Range(-700, 700).Draw(t, "y"), 300},
			rapid.IntRange(1, 3).Draw(t, "columns"), rapid.IntRange(1, 4).Draw(t, "rows"))
		b.TurnDeg = rapid.SampledFrom([]float64{0, 90, 180, 30}).Draw(t, "turn")
		for k := range b.Modules {
			b.Modules[k].Turn = rapid.SampledFrom([]int{0, 180}).Draw(t, "module turn")
		}
		boxes = append(boxes, b)
	}
	p := planOf(boxes...)
	if rapid.Bool().Draw(t, "inverter") {
		p = withInverter(p)
	}
	p.Arrangements[0].Parallel = rapid.IntRange(0, 3).Draw(t, "parallel")
	return p
}

// Every module is in exactly one string or left over; potentials rise module by module; links join them up.
func TestStringsHoldTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := resolve(drawPlan(t))
		r := Evaluate(s, nil)
		seen := map[string]int{}
		for _, str := range r.Strings {
			v := 0.0
			for i, m := range str.Modules {
				seen[m.ID]++
				if math.Abs(m.NegV-v) > 1e-9 || m.PosV <= m.NegV || m.Neg.Polarity != "negative" || m.Pos.Polarity != "positive" {
					t.Fatalf("%s: from %v to %v, %s to %s", m.ID, m.NegV, m.PosV, m.Neg.Polarity, m.Pos.Polarity)
				}
				v = m.PosV
				if i > 0 {
					checkLink(t, &str, i)
				}
			}
			if math.Abs(v-str.MaxV) > 1e-9 {
				t.Fatalf("%s ends at %v V, its modules make %v", str.ID, v, str.MaxV)
			}
		}
		for _, m := range r.Leftover {
			seen[m.ID]++
		}
		s.Bodies(func(_ *layout.BoxScene, m *layout.Body) {
			if seen[m.ID] != 1 {
				t.Fatalf("%s is counted %d times", m.ID, seen[m.ID])
			}
		})
	})
}

func checkLink(t *rapid.T, s *String, i int) {
	l := &s.Links[i-1]
	a, b := s.Modules[i-1], s.Modules[i]
	if l.From != a.ID || l.To != b.ID || math.Abs(l.V-a.PosV) > 1e-9 {
		t.Fatalf("link %d: %+v", i, l)
	}
	if l.Path[0].Sub(a.Pos.Place).Norm() > 1e-6 || l.Path[len(l.Path)-1].Sub(b.Neg.Place).Norm() > 1e-6 {
		t.Fatalf("link %s-%s runs from %v to %v, its terminals are at %v and %v", l.From, l.To, l.Path[0], l.Path[len(l.Path)-1], a.Pos.Place, b.Neg.Place)
	}
	if math.Abs(pathLength(l.Path)-l.LengthMM) > 1e-6 || l.LengthMM < a.Pos.Place.Sub(b.Neg.Place).Norm()-1e-6 {
		t.Fatalf("link %s-%s is %v mm long", l.From, l.To, l.LengthMM)
	}
}

// The voltage between any two points of the diagram does not depend on the way taken: from the negative bar, under
// load, every string comes out at the same positive bar, module by module and link by link.
func TestVoltageIsPathIndependent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		p.Arrangements[0].Series = rapid.IntRange(0, 5).Draw(t, "series")
		r := Evaluate(resolve(p), nil)
		load := rapid.Float64Range(-300, 300).Draw(t, "load")
		sol := r.parallel(atSOC, warm, load)
		for i := range r.Strings {
			s := &r.Strings[i]
			v := -sol.A[i] * r.gearOhm(s)
			for _, m := range s.Modules {
				open, _ := OpenVolts(&m.Module.Cell, r.Window.SOCPct)
				v += open*float64(m.Module.Series) - sol.A[i]*ModuleOhm(m.Module, 25)
			}
			s.eachLink(func(l *Link) { v -= sol.A[i] * l.Ohm * (1 + 0.00393*5) })
			if math.Abs(v-sol.V) > 1e-6 {
				t.Fatalf("string %s comes out at %v V, the bars have %v", s.ID, v, sol.V)
			}
		}
	})
}

// A string wired the other way round (every module turned, the order reversed) has the same voltages between its
// points with the other sign: seen from its other end.
func TestReversedStringInPlan(t *testing.T) {
	p := twoBoxes()
	ids := []string{"front/m2", "front/m1", "rear/m3", "rear/m1", "front/m5"}
	p.Arrangements[0].Strings = []layout.String{{ID: "A", Modules: ids, Pinned: true}}
	fwd := Evaluate(resolve(p), nil).Strings[0]
	slices.Reverse(ids)
	p.Arrangements[0].Strings = []layout.String{{ID: "A", Modules: ids, Pinned: true}}
	back := Evaluate(resolve(p), nil).Strings[0]
	n := len(ids)
	for i := range n {
		// The negative pole in one is as far above the start as the positive pole in the other is below the end.
		if a, b := fwd.Modules[i].NegV, back.Modules[n-1-i].PosV-back.MaxV; math.Abs(a+b) > 1e-9 {
			t.Errorf("%s: %v V forward, %v V reversed", fwd.Modules[i].ID, a, b)
		}
	}
}

// The result depends on the scene alone, whatever came before it.
func TestPreviousResultChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		s := resolve(p)
		r := Evaluate(s, nil)
		a := *p.Arrangements[0]
		a.Boxes = slices.Clone(a.Boxes)
		k := rapid.IntRange(0, len(a.Boxes)-1).Draw(t, "box")
		moved := *a.Boxes[k]
		moved.At[0] += rapid.Float64Range(-500, 500).Draw(t, "dx")
		moved.Modules = slices.Clone(moved.Modules)
		moved.Modules[0].At[2] += 3
		a.Boxes[k] = &moved
		s2 := layout.Resolve(p, &a, testLibrary, s)
		warm, cold := Evaluate(s2, r), Evaluate(layout.Resolve(p, &a, testLibrary, nil), nil)
		if fmt.Sprint(summary(warm)) != fmt.Sprint(summary(cold)) {
			t.Fatalf("after a drag:\n%v\nfrom scratch:\n%v", summary(warm), summary(cold))
		}
	})
}

func summary(r *Result) []string {
	var out []string
	for i := range r.Strings {
		out = append(out, fmt.Sprint(r.Strings[i].ids(), r.Strings[i].LinkMM))
	}
	for _, d := range r.Readings() {
		out = append(out, fmt.Sprint(d.Key, d.Value))
	}
	for i := range r.Insulation.Pairs {
		p := &r.Insulation.Pairs[i]
		out = append(out, fmt.Sprint(p.A, p.B, p.ActualMM, p.Required))
	}
	return out
}

// Several goroutines may evaluate from the same previous result.
func TestEvaluateFromSeveralGoroutines(t *testing.T) {
	s := resolve(bigPlan(2))
	prev := Evaluate(s, nil)
	want := fmt.Sprint(summary(prev))
	done := make(chan string)
	for range 4 {
		go func() { done <- fmt.Sprint(summary(Evaluate(s, prev))) }()
	}
	for range 4 {
		if <-done != want {
			t.Error("another answer")
		}
	}
}

func TestPolesHoldTheirBoxes(t *testing.T) {
	p := planOf(boxOf("a", vehicles.XYZ{0, 0, 0}, 1, 2), boxOf("b", vehicles.XYZ{1500, 0, 0}, 1, 2), boxOf("c", vehicles.XYZ{3000, 0, 0}, 1, 2))
	p.Arrangements[0].Boxes[1].Gear = []layout.PlacedGear{{ID: "k", Gear: "contactor", Role: "negative"}}
	p.Arrangements[0].Boxes[0].Gear = []layout.PlacedGear{{ID: "k", Gear: "contactor", Role: "positive"}}
	r := Evaluate(resolve(p), nil)
	s := r.Strings[0]
	if s.Passes[0].Box.Box.ID != "b" || s.Passes[2].Box.Box.ID != "a" {
		t.Errorf("passes %s, %s, %s", s.Passes[0].Box.Box.ID, s.Passes[1].Box.Box.ID, s.Passes[2].Box.Box.ID)
	}
	if !r.Protection.HasContactors() {
		t.Error("both poles have a contactor")
	}
}

// Two strings in a box of two columns take a column each: no link goes from one column to the other.
func TestStringsKeepTogether(t *testing.T) {
	p := planOf(boxOf("b", vehicles.XYZ{}, 2, 4))
	p.Arrangements[0].Parallel = 2
	r := Evaluate(resolve(p), nil)
	for i := range r.Strings {
		s := &r.Strings[i]
		for _, m := range s.Modules {
			if m.Placement.At[0] != s.Modules[0].Placement.At[0] {
				t.Errorf("string %s: %v", s.ID, s.ids())
			}
		}
		if s.Crossings != 0 {
			t.Errorf("string %s has %d crossings", s.ID, s.Crossings)
		}
	}
}

// A module without a negative pole cannot be wired: it is named and left over.
func TestModuleWithoutPole(t *testing.T) {
	odd := block()
	odd.ID, odd.Terminals = "odd", odd.Terminals[1:]
	lib := testLibrary.With(vehicles.Records{Modules: []*vehicles.Module{odd}})
	for _, stated := range []bool{false, true} {
		p := planOf(boxOf("b", vehicles.XYZ{}, 1, 3))
		p.Arrangements[0].Boxes[0].Modules[1].Module = "odd"
		if stated {
			p.Arrangements[0].Strings = []layout.String{{ID: "A", Modules: []string{"b/m1", "b/m2", "b/m3"}}}
		}
		r := Evaluate(layout.Resolve(p, p.Arrangements[0], lib, nil), nil)
		if got := problemKinds(r); !slices.Equal(got, []string{NoTerminal}) {
			t.Errorf("problems %v", got)
		}
		if r.Series != 2 || len(r.Leftover) != 1 || r.Leftover[0].ID != "b/m2" {
			t.Errorf("%d in series, left over %v", r.Series, r.Leftover)
		}
	}
}

func TestFind(t *testing.T) {
	r := Evaluate(resolve(twoBoxes()), nil)
	s, at := r.Find("rear/m2")
	if s == nil || s.Modules[at].ID != "rear/m2" {
		t.Errorf("%v %d", s, at)
	}
	if s, at := r.Find("nowhere"); s != nil || at != -1 {
		t.Errorf("%v %d", s, at)
	}
}
