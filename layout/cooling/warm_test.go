package cooling

import (
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// oneBranch is a loop of a pump, one box of two modules with plates, and a heater of 3 kW.
func oneBranch(t *testing.T, set layout.Cooling) *Result { return branchOf(t, set, "m1", "m2") }

func branchOf(t *testing.T, set layout.Cooling, modules ...string) *Result {
	t.Helper()
	heater := &vehicles.Gear{ID: "heat", Name: "invented heater", Kind: "heater", LengthMM: 200, WidthMM: 100, HeightMM: 100, MassKg: 2, PowerKW: 3}
	lib := vehicles.Catalogue().With(vehicles.Records{Gear: []*vehicles.Gear{heater}})
	b := &layout.Box{ID: "b", At: vehicles.XYZ{0, -400, 200}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {600, 0}, {600, 800}, {0, 800}}, CeilingMM: 300}}}
	for k, id := range modules {
		b.Modules = append(b.Modules, layout.Placement{ID: id, Module: "lfp-590", At: vehicles.XYZ{5, 200 * float64(k), 5}, Posture: vehicles.Flat})
	}
	a := &layout.Arrangement{ID: "a", Name: "a", Boxes: []*layout.Box{b}, Gear: []layout.PlacedGear{
		{ID: "pump", Gear: "pump-20"}, {ID: "radiator", Gear: "radiator-6k", At: vehicles.XYZ{-700, 0, 400}}, {ID: "heat", Gear: "heat"},
	}}
	p := &layout.Plan{Format: 1, Name: "p", Donor: "van-rear-engine", Arrangements: []*layout.Arrangement{a}}
	p.Settings.Cooling = set
	return Evaluate(layout.Resolve(p, a, lib, nil), Heat{CurrentA: 100, W: map[string]float64{"b/m1": 30, "b/m2": 30}})
}

// Warm-up by hand: Q = m c dT, t = Q / P. Twice the rise takes twice the time, and the heat capacity is that of the modules and of
// the coolant in the loop.
func TestWarmUpByHand(t *testing.T) {
	r := oneBranch(t, layout.Cooling{WarmFromC: -10, WarmToC: 5})
	w := r.Warm
	near(t, "heater", w.HeaterW, 3000, 0)
	near(t, "seconds", w.Seconds, w.JPerK*15/3000, 1e-9)
	const mean = -2.5
	coolant := r.VolumeL / 1000 * r.Coolant.DensityKgM3(mean) * r.Coolant.HeatCapacityJKgK(mean)
	m := vehicles.Catalogue().Module("lfp-590")
	solid := 2 * m.Cooling.JPerK
	if m.Cooling.JPerK == 0 {
		solid = 2 * jPerKgK * m.MassKg
	}
	near(t, "heat capacity", w.JPerK, solid+coolant, 1e-6)
	if coolant <= 0 || solid <= 0 || w.Seconds < 60 {
		t.Errorf("coolant %v J/K, modules %v J/K, %v s", coolant, solid, w.Seconds)
	}
	if cold := oneBranch(t, layout.Cooling{WarmFromC: 10, WarmToC: 5}); cold.Warm.Seconds != 0 {
		t.Errorf("what is warm enough takes %v s", cold.Warm.Seconds)
	}
}

// One branch alone carries all that the pump moves.
func TestOneBranchCarriesAll(t *testing.T) {
	r := oneBranch(t, layout.Cooling{})
	if !r.Flows || len(r.Branches) != 1 || r.FlowLPM <= 0 {
		t.Fatalf("flows %v, %d branches, %v L/min", r.Flows, len(r.Branches), r.FlowLPM)
	}
	near(t, "flow", r.Branches[0].FlowLPM, r.FlowLPM, 1e-6*r.FlowLPM)
}

// A box with one module is cooled as well.
func TestOneModuleIsInTheLoop(t *testing.T) {
	r := branchOf(t, layout.Cooling{}, "m1")
	if !r.Flows || len(r.Plates) != 1 || len(r.Outside) != 0 {
		t.Errorf("flows %v, %d plates, %d modules outside the loop", r.Flows, len(r.Plates), len(r.Outside))
	}
}
