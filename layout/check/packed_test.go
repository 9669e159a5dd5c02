package check_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/fill"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// testModule is an invented block with unlike gaps, swelling and a strip at its front.
func testModule() *vehicles.Module {
	return &vehicles.Module{
		Format: 1, ID: "block", Name: "block", LengthMM: 355, WidthMM: 151, HeightMM: 108, MassKg: 12, Series: 12, Parallel: 1,
		Cell:     vehicles.Cell{Chemistry: "NMC", NominalV: 3.7, MinV: 3, MaxV: 4.2, CapacityAh: 37},
		Postures: []vehicles.Posture{vehicles.Flat, vehicles.Side},
		Terminals: []vehicles.Terminal{
			{ID: "-", Polarity: "negative", Face: vehicles.Front, At: vehicles.XYZ{0, 30, 60}, StripMM: 40},
			{ID: "+", Polarity: "positive", Face: vehicles.Front, At: vehicles.XYZ{0, 120, 60}, StripMM: 40},
		},
		Gaps:     vehicles.Gaps{SideMM: 3, EndMM: 5, TopMM: 10, WallMM: 4},
		Swelling: vehicles.Swelling{Axis: "width", MM: 4},
	}
}

func testPlan(m *vehicles.Module, b *layout.Box) (*layout.Plan, *vehicles.Library) {
	d := &vehicles.Donor{ID: "cart", Name: "cart"}
	p := &layout.Plan{Format: 1, Name: "p", Donor: "cart", Arrangements: []*layout.Arrangement{{ID: "a", Name: "a", Boxes: []*layout.Box{b}}}}
	return p, vehicles.Catalogue().With(vehicles.Records{Donors: []*vehicles.Donor{d}, Modules: []*vehicles.Module{m}, Gear: []*vehicles.Gear{{ID: "board", LengthMM: 120, WidthMM: 80, HeightMM: 30}}})
}

func outline(xy ...float64) []vehicles.XY {
	var out []vehicles.XY
	for i := 0; i < len(xy); i += 2 {
		out = append(out, vehicles.XY{xy[i], xy[i+1]})
	}
	return out
}

func testBoxes() map[string]*layout.Box {
	shell := layout.Shell{WallMM: 1.5, LinerMM: 2}
	return map[string]*layout.Box{
		"plain":   {ID: "plain", At: vehicles.XYZ{900, -300, 250}, Levels: []vehicles.Level{{Outline: outline(0, 0, 1200, 0, 1200, 620, 0, 620), FloorMM: 0, CeilingMM: 140}}, Shell: shell},
		"turned":  {ID: "turned", At: vehicles.XYZ{900, 500, 250}, TurnDeg: 17, Levels: []vehicles.Level{{Outline: outline(0, 0, 1200, 0, 1000, 620, 0, 500), FloorMM: 0, CeilingMM: 150}}, Shell: shell},
		"stepped": {ID: "stepped", At: vehicles.XYZ{0, 0, 300}, Levels: []vehicles.Level{{Outline: outline(0, 0, 700, 0, 700, 800, 0, 800), FloorMM: 0, CeilingMM: 260}, {Outline: outline(700, 0, 1300, 0, 1300, 800, 700, 800), FloorMM: 90, CeilingMM: 260}}, Shell: shell},
		"geared": {ID: "geared", At: vehicles.XYZ{0, 0, 300}, Levels: []vehicles.Level{{Outline: outline(0, 0, 1000, 0, 1000, 800, 0, 800), FloorMM: 0, CeilingMM: 160}}, Shell: shell,
			Gear: []layout.PlacedGear{{ID: "g", Gear: "board", At: vehicles.XYZ{400, 300, 3.5}}}},
	}
}

// What the solver says fits must pass every fit rule: the two share no code.
func TestPackedBoxesPassTheFitRules(t *testing.T) {
	m := testModule()
	for name, b := range testBoxes() {
		t.Run(name, func(t *testing.T) {
			plan, lib := testPlan(m, b)
			out, err := fill.Box(context.Background(), b, lib, fill.Wish{Module: m, Limit: 3 * time.Second}, nil)
			if err != nil {
				t.Fatal(err)
			}
			t.Log(fill.Words(out.Result), out.Result.Argument)
			if out.Result.Count < 2 {
				t.Fatalf("only %d modules in a box that holds more", out.Result.Count)
			}
			a := *plan.Arrangements[0]
			a.Boxes = []*layout.Box{out.Box}
			e := check.Evaluate(plan, &a, lib, nil)
			for _, f := range e.Findings {
				if f.Severity == check.Fails && strings.HasPrefix(f.Rule, "fit.") {
					t.Errorf("%s: %s", f.Rule, f.Text)
				}
			}
		})
	}
}

// Moving one module of a packed box into its neighbour must be found.
func TestMovedModuleIsFound(t *testing.T) {
	m := testModule()
	b := testBoxes()["plain"]
	plan, lib := testPlan(m, b)
	out, err := fill.Box(context.Background(), b, lib, fill.Wish{Module: m, Limit: time.Second, Goal: packing.Goal{Low: true}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for shift, want := range map[float64]string{-2: "fit.gap", -60: "fit.overlap", 4000: "fit.outside"} {
		found := false
		for i := range out.Box.Modules {
			found = found || hasFailure(check.Evaluate(plan, shifted(plan, out.Box, i, shift), lib, nil), want)
		}
		if !found {
			t.Errorf("whichever module is moved by %g mm, there is no %s among the findings", shift, want)
		}
	}
}

// shifted returns the plan's arrangement with one module of the box moved along x and y.
func shifted(plan *layout.Plan, b *layout.Box, i int, by float64) *layout.Arrangement {
	moved := *b
	moved.Modules = append([]layout.Placement(nil), b.Modules...)
	moved.Modules[i].At[0] += by
	moved.Modules[i].At[1] += by
	a := *plan.Arrangements[0]
	a.Boxes = []*layout.Box{&moved}
	return &a
}

func hasFailure(e *check.Evaluation, rule string) bool {
	for _, f := range e.Findings {
		if f.Rule == rule && f.Severity == check.Fails {
			return true
		}
	}
	return false
}

// An evaluation that takes over from the one before must equal a fresh one.
func TestTakingOverChangesNothing(t *testing.T) {
	m := testModule()
	b := testBoxes()["turned"]
	plan, lib := testPlan(m, b)
	out, err := fill.Box(context.Background(), b, lib, fill.Wish{Module: m, Limit: time.Second}, nil)
	if err != nil {
		t.Fatal(err)
	}
	a := *plan.Arrangements[0]
	a.Boxes = []*layout.Box{out.Box}
	first := check.Evaluate(plan, &a, lib, nil)
	moved := *out.Box
	moved.At[0] += 37
	c := a
	c.Boxes = []*layout.Box{&moved}
	over, fresh := check.Evaluate(plan, &c, lib, first), check.Evaluate(plan, &c, lib, nil)
	if g, w := fmt.Sprint(texts(over)), fmt.Sprint(texts(fresh)); g != w {
		t.Errorf("taken over %s\nfresh %s", g, w)
	}
}

func texts(e *check.Evaluation) []string {
	var out []string
	for _, f := range e.Findings {
		out = append(out, fmt.Sprintf("%s %s %s %v", f.Rule, f.Severity, f.Text, f.Place))
	}
	return out
}

// A gap of less than a millimetre is looked at as any other: with nothing else to keep, it is the tightest.
func TestTightestOfSmallGaps(t *testing.T) {
	m := testModule()
	m.Gaps, m.Swelling = vehicles.Gaps{SideMM: 0.8}, vehicles.Swelling{}
	b := testBoxes()["plain"]
	for i, y := range []float64{50, 50 + 151 + 1.5} {
		b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", i+1), Module: m.ID, Posture: vehicles.Flat, At: vehicles.XYZ{100, y, 3.5}})
	}
	plan, lib := testPlan(m, b)
	f := only(t, of(check.Evaluate(plan, plan.Arrangements[0], lib, nil), "fit.gap"), check.Passes)
	if math.Abs(f.Actual-1.5) > 1e-9 || f.Required != 0.8 {
		t.Errorf("%+v", f)
	}
}
