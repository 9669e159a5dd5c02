package cooling

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// rig is a small invented loop: modules with a plate in boxes, a pump, and whatever else is put to it.
type rig struct {
	module vehicles.Module
	gear   []*vehicles.Gear
	plan   layout.Plan
	a      layout.Arrangement
	heat   map[string]float64
}

// newRig has one box for each number, with that many modules, 700 mm apart.
func newRig(modules ...int) *rig {
	g := &rig{heat: map[string]float64{}}
	g.module = vehicles.Module{ID: "m", Name: "invented module", LengthMM: 300, WidthMM: 100, HeightMM: 100, MassKg: 10, Series: 12, Parallel: 1,
		Cooling: vehicles.Cooling{Kind: "plate", ChannelMM: 8, ChannelLenMM: 1200, Channels: 2, LossK: 5, WPerK: 40}}
	g.add(vehicles.Gear{ID: "pump", Kind: "pump", FlowLPerMin: 20, HeadKPa: 30}, vehicles.XYZ{-500, 0, 200})
	g.a = layout.Arrangement{ID: "a", Name: "a", Gear: g.a.Gear}
	for i, n := range modules {
		id := string(rune('a' + i))
		b := &layout.Box{ID: id, At: vehicles.XYZ{700 * float64(i), 0, 200}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {600, 0}, {600, 700}, {0, 700}}, CeilingMM: 200}}}
		for k := range n {
			m := string(rune('1' + k))
			b.Modules = append(b.Modules, layout.Placement{ID: m, Module: "m", At: vehicles.XYZ{10, 10 + 110*float64(k), 10}, Posture: vehicles.Flat})
			g.heat[id+"/"+m] = 30
		}
		g.a.Boxes = append(g.a.Boxes, b)
	}
	return g
}

// add puts a piece of gear into the vehicle.
func (g *rig) add(one vehicles.Gear, at vehicles.XYZ) {
	one.Name, one.LengthMM, one.WidthMM, one.HeightMM, one.MassKg = "invented "+one.ID, 100, 100, 100, 1
	g.gear = append(g.gear, &one)
	g.a.Gear = append(g.a.Gear, layout.PlacedGear{ID: one.ID, Gear: one.ID, At: at})
}

func (g *rig) result() *Result {
	lib := (&vehicles.Library{}).With(vehicles.Records{Donors: []*vehicles.Donor{{ID: "cart", Name: "cart"}}, Modules: []*vehicles.Module{&g.module}, Gear: g.gear})
	g.plan.Donor, g.plan.Arrangements = "cart", []*layout.Arrangement{&g.a}
	return Evaluate(layout.Resolve(&g.plan, &g.a, lib, nil), Heat{CurrentA: 100, W: g.heat})
}

// value is a reading's, NaN where there is none.
func value(r *Result, key string) float64 {
	for _, x := range r.Readings() {
		if x.Key == key {
			return x.Value
		}
	}
	return math.NaN()
}

// Gear that the coolant passes warms it, and what hoses and plates hold adds up.
func TestHeatAndVolumeAddUp(t *testing.T) {
	g := newRig(2)
	g.add(vehicles.Gear{ID: "inverter", Kind: "inverter", HeatW: 400}, vehicles.XYZ{-500, 500, 200})
	g.a.Loop.Branches = []layout.LoopBranch{{ID: "one", Boxes: []string{"inverter", "a"}}}
	r := g.result()
	if !r.Flows {
		t.Fatal(r.Stopped)
	}
	near(t, "heat", r.LoopW, 2*30+400, 1e-9)
	carried := r.FlowLPM / 60000 * r.Coolant.DensityKgM3(r.InletC) * r.Coolant.HeatCapacityJKgK((r.InletC+r.OutC)/2) * (r.OutC - r.InletC)
	near(t, "carried", carried, 460, 0.5)
	plates := 2 * 2 * math.Pi / 4 * 8 * 8 * 1200 * 1e-6
	near(t, "volume", r.VolumeL, plates+math.Pi/4*16*16*r.HoseMM*1e-6, 1e-9)
	g.module.Cooling.VolumeL = 0.4
	near(t, "volume as stated", g.result().VolumeL, 2*0.4+math.Pi/4*16*16*r.HoseMM*1e-6, 1e-9)
	if words := strings.Join(r.Assumed, "\n"); !strings.Contains(words, "16 mm bore") || strings.Contains(words, "one branch") || !strings.Contains(words, "in which they were placed") {
		t.Errorf("assumed:\n%s", words)
	}
	g.a.Loop = layout.Loop{HoseMM: 12}
	if words := strings.Join(g.result().Assumed, "\n"); strings.Contains(words, "mm bore") || !strings.Contains(words, "one branch") || strings.Contains(words, "modules in a box passed") {
		t.Errorf("assumed of one branch with hoses of 12 mm:\n%s", words)
	}
}

// A branch that names nothing that is there is left out; one that passes only gear is not.
func TestBranchesThatLeadSomewhere(t *testing.T) {
	g := newRig(1)
	g.add(vehicles.Gear{ID: "first", Kind: "charger"}, vehicles.XYZ{-500, 500, 200})
	g.add(vehicles.Gear{ID: "second", Kind: "charger", HeatW: 50}, vehicles.XYZ{-500, 800, 200})
	g.a.Loop.Branches = []layout.LoopBranch{{ID: "one", Boxes: []string{"a"}}, {ID: "gear", Boxes: []string{"second"}}, {ID: "nowhere", Boxes: []string{"nothing"}}}
	r := g.result()
	if len(r.Branches) != 2 || r.Branches[1].ID != "gear" || r.LoopW != 80 {
		t.Errorf("%+v, %v W", r.Branches, r.LoopW)
	}
	for _, route := range r.Routes {
		if route.From == "first" || route.To == "first" {
			t.Errorf("a hose goes where no branch does: %+v", route)
		}
	}
}

// The pump that the loop names, else the first; a weak one still moves something, one that states nothing does not.
func TestPumpOfTheLoop(t *testing.T) {
	g := newRig(1)
	g.add(vehicles.Gear{ID: "spare", Kind: "pump", FlowLPerMin: 0.5, HeadKPa: 0.5}, vehicles.XYZ{-500, 500, 200})
	for named, want := range map[string]string{"": "pump", "pump": "pump", "spare": "spare"} {
		g.a.Loop.Pump = named
		if r := g.result(); r.Pump == nil || r.Pump.ID != want || !r.Flows || r.FlowLPM <= 0 {
			t.Errorf("%q: %+v, flows %v", named, r.Pump, r.Flows)
		}
	}
	g.a.Loop.Pump = "spare"
	for _, none := range []vehicles.Gear{{FlowLPerMin: 0.5}, {HeadKPa: 0.5}} {
		g.gear[1].FlowLPerMin, g.gear[1].HeadKPa = none.FlowLPerMin, none.HeadKPa
		if r := g.result(); r.Flows || !strings.Contains(r.Stopped, "states no flow or no pressure") {
			t.Errorf("%+v: %q", none, r.Stopped)
		}
	}
}

// A plate is unsized where it lacks the width or the length of its channels, however small they may be.
func TestUnsizedPlates(t *testing.T) {
	for _, c := range []struct {
		mm, length float64
		unsized    int
	}{{8, 1200, 0}, {0.8, 0.8, 0}, {0, 1200, 1}, {8, 0, 1}} {
		g := newRig(1)
		g.module.Cooling.ChannelMM, g.module.Cooling.ChannelLenMM = c.mm, c.length
		r := g.result()
		if len(r.Unsized) != c.unsized {
			t.Errorf("%v by %v: %d unsized", c.mm, c.length, len(r.Unsized))
		}
		if r.Flows && (r.Plates[0].Re > 0) != (c.mm > 0) {
			t.Errorf("%v by %v: Reynolds number %v", c.mm, c.length, r.Plates[0].Re)
		}
	}
}

// The hottest module may be the first that the coolant passes; the spread is to the coolest.
func TestHottestModuleMayBeTheFirst(t *testing.T) {
	g := newRig(3)
	g.heat = map[string]float64{"a/1": 90, "a/2": 10, "a/3": 30}
	r := g.result()
	if r.Worst != 0 || r.Plates[0].Body.ID != "a/1" {
		t.Fatalf("hottest is %d of %+v", r.Worst, r.Plates)
	}
	var cells []float64
	for _, p := range r.Plates {
		near(t, p.Body.ID, p.CellC, (p.InC+p.OutC)/2+p.HeatW/40, 1e-9)
		cells = append(cells, p.CellC)
	}
	near(t, "hottest", value(r, "hottest_c"), slices.Max(cells), 1e-12)
	near(t, "spread", value(r, "spread_k"), slices.Max(cells)-slices.Min(cells), 1e-12)
	if s := r.Sensors[len(r.Sensors)-1]; s.Kind != "hottest" || s.Module != "a/1" {
		t.Errorf("the last sensor is %+v", s)
	}
	g.module.Cooling.WPerK = 0.8
	if r = g.result(); !r.Plates[0].Known {
		t.Error("a conductance of 0.8 W/K does not count")
	}
	g.module.Cooling.WPerK = 0
	if r = g.result(); r.Worst != -1 || len(r.Sensors) != 2 || !math.IsNaN(value(r, "hottest_c")) {
		t.Errorf("without conductances: hottest %d, sensors %+v", r.Worst, r.Sensors)
	}
}

// A box with one opening for hoses is entered and left there; with two it is entered by the first.
func TestHosesPassTheOpenings(t *testing.T) {
	g := newRig(1)
	mouths := []r3.Vector{{X: 0, Y: 100, Z: 300}, {X: 0, Y: 400, Z: 300}}
	for n, want := range map[int][2]r3.Vector{1: {mouths[0], mouths[0]}, 2: {mouths[0], mouths[1]}} {
		g.a.Boxes[0].Openings = []layout.Opening{{ID: "v", Kind: "vent", Face: "top", At: vehicles.XYZ{50, 50, 200}}}
		for _, m := range mouths[:n] {
			g.a.Boxes[0].Openings = append(g.a.Boxes[0].Openings, layout.Opening{ID: "h", Kind: "hose", Face: "front", At: vehicles.XYZ{m.X, m.Y, m.Z - 200}})
		}
		r := g.result()
		if len(r.Routes) != 4 {
			t.Fatalf("%d openings: %d hoses, want to the box, to the module, from it and back", n, len(r.Routes))
		}
		in, out := r.Routes[0].Path, r.Routes[3].Path
		if in[len(in)-1] != want[0] || out[0] != want[1] {
			t.Errorf("%d openings: in at %v, out at %v", n, in[len(in)-1], out[0])
		}
	}
}

// Warming up by hand: 10 kg modules without a stated heat capacity count with 1000 J/(kg K), others with theirs; a heater of half a watt
// needs long.
func TestWarmUpOfModulesByHand(t *testing.T) {
	g := newRig(2)
	g.add(vehicles.Gear{ID: "heater", Kind: "heater", PowerKW: 0.0005}, vehicles.XYZ{-500, 500, 200})
	g.plan.Settings.Cooling = layout.Cooling{WarmFromC: -10, WarmToC: 10}
	coolant := func(r *Result) float64 {
		return r.VolumeL / 1000 * r.Coolant.DensityKgM3(0) * r.Coolant.HeatCapacityJKgK(0)
	}
	r := g.result()
	near(t, "heat capacity", r.Warm.JPerK, 2*10*1000+coolant(r), 1e-6)
	near(t, "minutes", value(r, "warm_up_min"), r.Warm.JPerK*20/0.5/60, 1e-6)
	near(t, "kJ/K as explained", r.whyWarm().Inputs[0].Value, r.Warm.JPerK/1000, 1e-9)
	if !r.Warm.Estimated {
		t.Error("taken by mass and not called an estimate")
	}
	g.module.Cooling.JPerK = 0.5
	r = g.result()
	near(t, "heat capacity as stated", r.Warm.JPerK, 2*0.5+coolant(r), 1e-6)
	if r.Warm.Estimated {
		t.Error("as stated and called an estimate")
	}
}
