package search

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/electric"
	"stowbay/vehicles"
)

// What the checks say of empty boxes tells which do not fit and which stand in each other: a finding that fails, of the right rule, about boxes
// of the search.
func TestWhatTheChecksSayOfEmptyBoxes(t *testing.T) {
	g := &ground{boxes: []*layout.Box{{ID: "a"}, {ID: "b"}, {ID: "c"}}, always: make([]bool, 3)}
	of := func(rule string, s check.Severity, subject string, refs ...string) check.Finding {
		return check.Finding{Rule: rule, Severity: s, Subject: subject, Refs: refs, Text: rule + " " + subject}
	}
	e := &check.Evaluation{Findings: []check.Finding{
		of("fit.boxes", check.Fails, "b", "a", "b"), of("fit.boxes", check.Fails, "c", "c", "a"), of("fit.boxes", check.Warns, "c", "c", "b"), of("fit.boxes", check.Fails, "a", "a", "tank"),
		of("fit.boxes", check.Fails, "a", "tank", "a"), of("fit.boxes", check.Fails, "a", "a"), of("fit.bay", check.Fails, "b", "b", "c"),
		of("fit.bay", check.Warns, "a"), of("mass.axle", check.Fails, "a"), of("place.ground", check.Fails, "c"), of("place.other", check.Fails, "a"),
	}}
	g.findClashes(e)
	if got := fmt.Sprint(g.clashes); got != "[[0 1] [2 0]]" {
		t.Errorf("clashes %s", got)
	}
	for box, want := range map[string]string{"a": "", "b": "fit.bay b", "c": "place.ground c", "d": ""} {
		if got := misfit(e, box); got != want {
			t.Errorf("%s: %q, not %q", box, got, want)
		}
	}
	for _, c := range []struct {
		set    []int
		always []bool
		want   bool
	}{
		{[]int{0, 1}, []bool{false, false, false}, true}, {[]int{0, 1}, []bool{true, false, false}, true}, {[]int{0, 1}, []bool{false, true, false}, true}, {[]int{0, 1}, []bool{true, true, false}, false},
		{[]int{0, 1, 2}, []bool{true, true, false}, true}, {[]int{1, 2}, []bool{false, false, false}, false}, {[]int{0}, []bool{false, false, false}, false}, {[]int{0, 2}, []bool{true, false, true}, false},
	} {
		if g.always = c.always; g.clash(c.set) != c.want {
			t.Errorf("%v, always %v: clash %v", c.set, c.always, !c.want)
		}
	}
}

// Strings lead to a junction where there is one, whatever comes first, else to the inverter, else nowhere.
func TestWhereStringsLead(t *testing.T) {
	body := func(kind string, x float64) *layout.GearBody {
		return &layout.GearBody{Gear: &vehicles.Gear{Kind: kind}, CG: r3.Vector{X: x}}
	}
	inverter, charger, junction := body("inverter", 1), body("charger", 2), body("junction", 3)
	for _, c := range []struct {
		at   *layout.GearBody
		gear []*layout.GearBody
		want float64
	}{{nil, nil, 0}, {inverter, []*layout.GearBody{inverter}, 1}, {inverter, []*layout.GearBody{charger, inverter, junction}, 3}, {nil, []*layout.GearBody{junction}, 3}, {nil, []*layout.GearBody{charger}, 0}} {
		g := &ground{load: electric.Load{InverterAt: c.at}}
		g.findHub(&check.Evaluation{Scene: &layout.Scene{Gear: c.gear}})
		if (g.hub == nil) != (c.want == 0) || g.hub != nil && g.hub.X != c.want {
			t.Errorf("%v: %v", c.gear, g.hub)
		}
	}
}

// A box always stays where it or a module in it is locked, or where it holds gear that serves more than the box.
func TestBoxesThatAlwaysStay(t *testing.T) {
	for name, c := range map[string]struct {
		set  func(b *layout.Box)
		want bool
	}{
		"an empty one":        {func(*layout.Box) {}, false},
		"a locked one":        {func(b *layout.Box) { b.Locked = true }, true},
		"with a loose module": {func(b *layout.Box) { b.Modules = []layout.Placement{{ID: "x", Module: "b"}} }, false},
		"with a locked module": {func(b *layout.Box) {
			b.Modules = []layout.Placement{{ID: "x", Module: "b"}, {ID: "y", Module: "b", Locked: true}}
		}, true},
		"with its own board": {func(b *layout.Box) { b.Gear = []layout.PlacedGear{{ID: "g", Gear: "contactor-250", Role: "box"}} }, false},
		"with a contactor":   {func(b *layout.Box) { b.Gear = []layout.PlacedGear{{ID: "g", Gear: "contactor-250", Role: "positive"}} }, true},
		"with a board and no contact": {func(b *layout.Box) {
			b.Gear = []layout.PlacedGear{{ID: "g", Gear: "contactor-250", Role: "box"}, {ID: "h", Gear: "contactor-250"}}
		}, true},
	} {
		y := newYard(t, []site{{700, -300, 220, 1, 1, 1, false}, {1700, -300, 220, 1, 1, 1, false}}, block("b", 300, 150, 100, 11, 50, 1, vehicles.Flat))
		c.set(y.a.Boxes[1])
		g, err := groundOf(y.plan, y.a, y.lib, y.a.Boxes, false)
		if err != nil {
			t.Fatal(err)
		}
		if g.always[0] || g.always[1] != c.want {
			t.Errorf("%s: stays %v", name, g.always)
		}
	}
}

// By hand: boxes of 320 x 170 x 120 mm have their middles 160, 85 and 60 mm from their corners, one turned the other way round on the other side; a metre of 50 mm2 of copper weighs
// 0.4445 kg at 8.89 kg a litre (IEC 60028, from memory), with a third more for its cover 0.578 kg; of 95 mm2 1.098 kg. The gear whose windows
// count is inverter, charger and every converter.
func TestWhatArrangementsHaveInCommon(t *testing.T) {
	for mm2, want := range map[float64]float64{0: 0.578, 95: 1.098} {
		y := newYard(t, []site{{700, -300, 220, 1, 1, 1, false}, {1700, 100, 250, 1, 1, 1, false}}, block("b", 300, 150, 100, 11, 50, 1, vehicles.Flat))
		y.a.Boxes[1].TurnDeg = 180
		y.plan.Settings.Electric.CableMM2, y.plan.Settings.Mass.FrontTargetPct = mm2, 47
		gear := func(kind string) *vehicles.Gear {
			return &vehicles.Gear{Format: 1, ID: "the-" + kind, Name: kind, Kind: kind, LengthMM: 100, WidthMM: 100, HeightMM: 50, MassKg: 3, VoltageMinV: 90}
		}
		y.lib = y.lib.With(vehicles.Records{Gear: []*vehicles.Gear{gear("dc_dc"), gear("pump"), gear("charger")}})
		for i, id := range []string{"the-dc_dc", "the-pump", "the-charger", "the-dc_dc"} {
			y.a.Gear = append(y.a.Gear, layout.PlacedGear{ID: fmt.Sprint("g", i), Gear: id, At: vehicles.XYZ{0, 200 * float64(i), 900}, Posture: vehicles.Flat})
		}
		g, err := groundOf(y.plan, y.a, y.lib, y.a.Boxes, false)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(g.cableKg/want-1) > 0.003 || g.target != 47 {
			t.Errorf("%g mm2: %g kg a metre; target %g", mm2, g.cableKg, g.target)
		}
		for i, want := range []r3.Vector{{X: 860, Y: -215, Z: 280}, {X: 1540, Y: 15, Z: 310}} {
			if g.at[i].Sub(want).Norm() > 0.02 {
				t.Errorf("box %d: middle at %v, not %v", i, g.at[i], want)
			}
		}
		kinds := ""
		for _, q := range g.gear {
			kinds += q.Kind + " "
		}
		if kinds != "inverter charger dc_dc dc_dc " {
			t.Errorf("gear %s", kinds)
		}
		if *g.hub != (r3.Vector{X: 50, Z: 760}) {
			t.Errorf("strings lead to %v", *g.hub)
		}
	}
}
