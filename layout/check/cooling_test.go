package check_test

import (
	"math"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/cooling"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// cooledVan is the invented van with cooling, changed.
func cooledVan(t *testing.T, change func(*layout.Plan, *layout.Arrangement)) *check.Evaluation {
	t.Helper()
	p := demo.Cooled()
	a := p.Arrangements[0]
	if change != nil {
		change(p, a)
	}
	return check.Evaluate(p, a, vehicles.Catalogue(), nil)
}

func TestCoolantReachesEveryModule(t *testing.T) {
	e := cooledVan(t, nil)
	only(t, of(e, "cooling.loop"), check.Passes)
	r := e.Cooling
	if !r.Flows || len(r.Plates) != 4 || len(r.Branches) != 1 {
		t.Fatalf("%+v", r)
	}
	for i := 1; i < len(r.Plates); i++ {
		if d := r.Plates[i].InC - r.Plates[i-1].OutC; math.Abs(d) > 1e-9 {
			t.Errorf("plate %d takes in %g K more than the one before gave out", i, d)
		}
	}
	if r.Plates[r.Worst].Body.ID != "two/b" {
		t.Errorf("hottest %s, want the last", r.Plates[r.Worst].Body.ID)
	}
	only(t, of(e, "cooling.radiator"), check.Passes)
	only(t, of(e, "cooling.spread"), check.Passes)
	if got := of(e, "cooling.air"); len(got) > 0 {
		t.Errorf("%+v", got)
	}
}

// Heat balance of the loop: the coolant carries off what the strings' resistances give, R I^2.
func TestCoolantCarriesTheModulesHeat(t *testing.T) {
	e := cooledVan(t, nil)
	r := e.Cooling
	m := e.Scene.Boxes[0].Modules[0].Module
	if want := 4 * 150 * 150 * m.Ohmic.MilliOhm / 1000; math.Abs(r.HeatW-want) > 1e-6*want || math.Abs(r.LoopW-want) > 1e-6*want {
		t.Errorf("%g W in the modules, %g in the loop, want %g", r.HeatW, r.LoopW, want)
	}
	c := r.Coolant
	carried := r.FlowLPM / 60000 * c.DensityKgM3(r.InletC) * c.HeatCapacityJKgK((r.InletC+r.OutC)/2) * (r.OutC - r.InletC)
	if math.Abs(carried-r.LoopW) > 0.002*r.LoopW {
		t.Errorf("%g W carried off, %g given", carried, r.LoopW)
	}
}

// Half the current gives a quarter of the heat.
func TestHeatAtAStatedCurrent(t *testing.T) {
	full := cooledVan(t, nil).Cooling
	half := cooledVan(t, func(p *layout.Plan, _ *layout.Arrangement) { p.Settings.Cooling.HeatA = 75 }).Cooling
	if math.Abs(half.HeatW-full.HeatW/4) > 1e-6*full.HeatW || half.CurrentA != 75 {
		t.Errorf("%g W at 75 A, %g W at 150 A", half.HeatW, full.HeatW)
	}
}

// Two equal branches share the flow and cool both ends alike; parallel plates lose less pressure than plates in series.
func TestBranches(t *testing.T) {
	branch := func(modules string) *check.Evaluation {
		return cooledVan(t, func(_ *layout.Plan, a *layout.Arrangement) {
			a.Loop.Branches = []layout.LoopBranch{{ID: "f", Boxes: []string{"one"}, Modules: modules}, {ID: "r", Boxes: []string{"two"}, Modules: modules}}
		})
	}
	e := branch("")
	if bs := e.Cooling.Branches; len(bs) != 2 || math.Abs(bs[0].FlowLPM+bs[1].FlowLPM-e.Cooling.FlowLPM) > 1e-6 {
		t.Fatalf("%+v, together %g", bs, e.Cooling.FlowLPM)
	}
	if p := branch("parallel"); p.Cooling.FlowLPM <= e.Cooling.FlowLPM {
		t.Errorf("parallel plates %g L/min, in series %g", p.Cooling.FlowLPM, e.Cooling.FlowLPM)
	}
	if n := len(e.Cooling.Sensors); n != 5 {
		t.Errorf("%d sensors, want inlet and outlet of two branches and the hottest", n)
	}
}

func TestWhatTheLoopLeavesOut(t *testing.T) {
	e := cooledVan(t, func(_ *layout.Plan, a *layout.Arrangement) {
		a.Loop.Branches = []layout.LoopBranch{{ID: "f", Boxes: []string{"one"}}}
	})
	if f := about(t, e, "cooling.loop", "two"); f.Severity != check.Fails {
		t.Errorf("%+v", f)
	}
	e = cooledVan(t, func(_ *layout.Plan, a *layout.Arrangement) { a.Gear = nil })
	f := only(t, of(e, "cooling.loop"), check.Fails)
	if !strings.Contains(f.Text, "no pump") {
		t.Error(f.Text)
	}
	e = cooledVan(t, func(_ *layout.Plan, a *layout.Arrangement) { a.Gear = a.Gear[:1] })
	only(t, of(e, "cooling.radiator"), check.Warns)
}

// Water freezes at 0 C; the plan says -20 C.
func TestFrost(t *testing.T) {
	e := cooledVan(t, func(p *layout.Plan, _ *layout.Arrangement) {
		p.Settings.Cooling.GlycolPct, p.Settings.Electric.ColdC = 10, -20
	})
	only(t, of(e, "cooling.frost"), check.Fails)
	only(t, of(cooledVan(t, nil), "cooling.frost"), check.Passes)
}

// By hand: heat capacity of four modules of 35 kJ/K and the coolant, 15 K, 5 kW.
func TestWarmUpByHand(t *testing.T) {
	e := cooledVan(t, func(_ *layout.Plan, a *layout.Arrangement) {
		a.Gear = append(a.Gear, layout.PlacedGear{ID: "heater", Gear: "heater-5k", At: vehicles.XYZ{0, 300, 500}})
	})
	w, r := e.Cooling.Warm, e.Cooling
	c := cooling.Coolant{Glycol: 0.5}
	want := (4*35000 + r.VolumeL/1000*c.DensityKgM3(7.5)*c.HeatCapacityJKgK(7.5)) * 15 / 5000
	if math.Abs(w.Seconds-want) > 0.01 {
		t.Errorf("%g s, want %g", w.Seconds, want)
	}
	if v, ok := e.Reading("warm_up_min"); !ok || math.Abs(v.Value-want/60) > 0.001 {
		t.Errorf("%+v", v)
	}
}

// The maker's limit for air is compared with R I^2 of a module, and modules without a limit are noted.
func TestAirLimit(t *testing.T) {
	e := demonstration(t, func(p *layout.Plan) { p.Settings.Cooling.HeatA = 50 })
	for _, f := range of(e, "cooling.air") {
		if f.Severity != check.Passes {
			t.Errorf("%+v", f)
		}
	}
	e = demonstration(t, func(p *layout.Plan) { p.Settings.Cooling.HeatA = 95 })
	if f := about(t, e, "cooling.air", "mid-box"); f.Severity != check.Fails || f.Required != 20 {
		t.Errorf("%+v", f)
	}
}

func TestRangeRestsOnEstimates(t *testing.T) {
	e := demonstration(t, nil)
	f := only(t, of(e, "range.estimate"), check.Notes)
	if !strings.Contains(f.Text, "estimate") || !strings.Contains(f.Text, "One module more") {
		t.Error(f.Text)
	}
	if v := e.Value("range_km.wltc"); math.Abs(v-f.Actual) > 1e-9 || v <= 0 {
		t.Errorf("%g km read, %g km found", v, f.Actual)
	}
	e = demonstration(t, func(p *layout.Plan) { p.Donor = "nowhere" })
	only(t, of(e, "range.known"), check.Notes)
}
