package electric

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/vehicles"
)

// cellsAsModule is a module of one cell group: cells in parallel, one in series.
func cellsAsModule(v, lo, hi, ah float64, parallel int) *vehicles.Module {
	m := block()
	m.ID, m.Series, m.Parallel = "cells", 1, parallel
	m.Cell = vehicles.Cell{Chemistry: "NMC", NominalV: v, MinV: lo, MaxV: hi, CapacityAh: ah}
	return m
}

// row is a plan with n of a module in one string.
func row(m *vehicles.Module, n int) (*layout.Plan, *layout.Scene) {
	b := boxOf("b", vehicles.XYZ{}, 0, 0)
	for i := range n {
		b.Modules = append(b.Modules, layout.Placement{ID: "m" + string(rune('a'+i/26)) + string(rune('a'+i%26)), Module: m.ID,
			At: vehicles.XYZ{0, float64(i) * 160, 4}, Posture: vehicles.Flat})
	}
	p := planOf(b)
	return p, layout.Resolve(p, p.Arrangements[0], testLibrary.With(vehicles.Records{Modules: []*vehicles.Module{m}}), nil)
}

// Published packs: 96 cells at 3.75 V (2.70 to 4.125 V) make 360 V, 259 to 396 V; 96 x 120 Ah x 3.7 V is
// 42.62 kWh; three more packs from makers' published data, whose energies are rounded to whole kWh.
func TestPublishedPacks(t *testing.T) {
	limits := map[string][2]float64{"A": {2.70, 4.125}}
	for _, p := range table(t, "pack_examples.csv") {
		v, ah := must(t, p["cell_V"]), must(t, p["cell_Ah"])
		s, par, _ := strings.Cut(strings.TrimSuffix(p["config"], "p"), "s")
		lo, hi := v-1, v+0.5
		if l, ok := limits[p["id"][:1]]; ok {
			lo, hi = l[0], l[1]
		}
		m := cellsAsModule(v, lo, hi, ah, int(must(t, par)))
		_, scene := row(m, int(must(t, s)))
		r := Evaluate(scene, nil)
		near(t, p["id"]+" nominal", r.Window.NominalV, must(t, p["computed_V_nom"]), 1e-6)
		near(t, p["id"]+" energy", r.Energy.GrossKWh, must(t, p["computed_kWh"]), 1e-4)
		published := must(t, p["published_kWh"])
		near(t, p["id"]+" energy as published", r.Energy.GrossKWh, published, 0.012)
		if w, ok := num(t, p["published_V_min"]); ok {
			if math.Round(r.Window.MinV) != w || math.Round(r.Window.MaxV) != must(t, p["published_V_max"]) {
				t.Errorf("%s: %v to %v V", p["id"], r.Window.MinV, r.Window.MaxV)
			}
		}
	}
}

// The comparative table of lithium cells: windows follow for any count.
func TestChemistryWindows(t *testing.T) {
	for _, c := range table(t, "cell_chemistry.csv") {
		m := cellsAsModule(must(t, c["nominal_V"]), must(t, c["full_discharge_V"]), must(t, c["full_charge_V"]), 50, 1)
		m.Cell.Chemistry = c["chemistry"]
		_, scene := row(m, 14)
		r := Evaluate(scene, nil)
		near(t, c["chemistry"], r.Window.MaxV, 14*must(t, c["full_charge_V"]), 1e-12)
		near(t, c["chemistry"], r.Window.MinV, 14*must(t, c["full_discharge_V"]), 1e-12)
	}
}

// Sag by Ohm's law, written out by hand for one string of two modules of 6 mohm without an inverter: 12 cells at
// half charge have 12 x 3.65 V; cold doubles the resistance.
func TestSagByHand(t *testing.T) {
	p, _ := row(block(), 2)
	p.Settings.Electric.ContinuousA, p.Settings.Electric.PeakA = 100, 300
	r := Evaluate(resolve(p), nil)
	link := r.Strings[0].Links[0].Ohm
	near(t, "at rest", r.Window.OpenV, 2*12*3.65, 1e-12)
	at := func(tempC float64) float64 { return link * (1 + 0.00393*(tempC-20)) } // IEC 60028
	want := map[[2]float64]float64{
		{100, 25}: 87.6 - 100*(0.012+at(25)), {300, 25}: 87.6 - 300*(0.012+at(25)),
		{100, 0}: 87.6 - 100*(0.024+at(0)), {300, 0}: 87.6 - 300*(0.024+at(0)),
		{100, 45}: 87.6 - 100*(0.012+at(45)), {300, 45}: 87.6 - 300*(0.012+at(45)),
	}
	seen := 0
	for _, s := range r.Window.Sags {
		if s.SOCPct != 50 {
			continue
		}
		seen++
		near(t, s.Name, s.V, want[[2]float64{s.A, s.TempC}], 1e-12)
	}
	if seen != 6 {
		t.Errorf("%d sags at half charge", seen)
	}
	near(t, "heat", r.Energy.HeatW, 100*100*(0.012+at(25)), 1e-12)
	near(t, "C-rate", r.Energy.CRate, 1, 1e-12)
	near(t, "usable", r.Energy.UsableKWh, 0.85*r.Energy.GrossKWh, 1e-12)
	near(t, "short circuit", r.Faults.PackA, 2*50.4/0.012, 1e-12)
}

func TestCurrentFromInverter(t *testing.T) {
	r := Evaluate(resolve(twoBoxes()), nil)
	near(t, "continuous", r.Load.ContinuousA, 60000/0.95/(9*44.4), 1e-12)
	near(t, "peak", r.Load.PeakA, 120000/0.95/(9*44.4), 1e-12)
	if r.Load.Basis != layout.Computed {
		t.Error("an inverter's power is no assumption")
	}
	_, s := row(block(), 3)
	if r := Evaluate(s, nil); r.Load.Basis != layout.Assumed || r.Load.ContinuousA != 200 {
		t.Errorf("without an inverter: %v A, %v", r.Load.ContinuousA, r.Load.Basis)
	}
}

// The most power into a load is at half the open voltage (maximum power transfer): no current gives more.
func TestPowerLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := block()
		m.Current.PeakA = rapid.Float64Range(10, 20000).Draw(t, "peak")
		m.Cell.MinV = rapid.Float64Range(0.6, 3.1).Draw(t, "least")
		m.ID = "other"
		_, s := row(m, 3)
		r := Evaluate(s, nil)
		w := &r.Window
		for range 50 {
			a := rapid.Float64Range(0, m.Current.PeakA).Draw(t, "A")
			v := w.LowV - a*w.Ohm
			if v >= w.MinV && v*a/1000 > w.LowPowerKW+1e-9 {
				t.Fatalf("%v A at %v V is %v kW, said to be at most %v", a, v, v*a/1000, w.LowPowerKW)
			}
		}
	})
}

func TestOpenVoltsBetweenPoints(t *testing.T) {
	c := block().Cell
	for soc, want := range map[float64]float64{-5: 3.2, 0: 3.2, 25: 3.425, 50: 3.65, 75: 3.9, 100: 4.15, 120: 4.15} {
		if got, assumed := OpenVolts(&c, soc); math.Abs(got-want) > 1e-12 || assumed {
			t.Errorf("%v %%: %v", soc, got)
		}
	}
	c.OpenV = nil
	if got, assumed := OpenVolts(&c, 75); math.Abs(got-3.95) > 1e-12 || !assumed {
		t.Errorf("without a curve: %v", got)
	}
}

func TestModuleOhmCold(t *testing.T) {
	m := block()
	for c, want := range map[float64]float64{40: 6, 25: 6, 12.5: 9, 0: 12, -25: 18} {
		near(t, "mohm", ModuleOhm(m, c)*1000, want, 1e-12)
	}
	m.Ohmic.ColdFactor = 0
	near(t, "no factor", ModuleOhm(m, -20)*1000, 6, 1e-12)
}

// Every choice is inside all windows, and every count left out is not.
func TestChoicesAreAllOfThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := block()
		gear := []*vehicles.Gear{nil, {VoltageMinV: rapid.Float64Range(0, 400).Draw(t, "lo"), VoltageMaxV: rapid.Float64Range(100, 900).Draw(t, "hi")},
			{VoltageMaxV: rapid.Float64Range(100, 900).Draw(t, "hi 2")}}
		most := rapid.IntRange(1, 60).Draw(t, "most")
		got := map[[2]int]bool{}
		for _, c := range Choices(m, gear, most, 20) {
			got[[2]int{c.Series, c.Parallel}] = true
			if c.Fits != (c.Count <= 20) || math.Abs(c.EnergyKWh-float64(c.Count)*4.44) > 1e-9 || c.MassKg != float64(c.Count)*12 {
				t.Fatalf("%+v", c)
			}
		}
		for s := 1; s <= most; s++ {
			for p := 1; s*p <= most; p++ {
				lo, hi := 36*float64(s), 12*4.2*float64(s)
				want := lo >= gear[1].VoltageMinV && hi <= gear[1].VoltageMaxV && hi <= gear[2].VoltageMaxV
				if edge := math.Min(math.Abs(hi-gear[1].VoltageMaxV), math.Abs(hi-gear[2].VoltageMaxV)); edge > 1e-6 && got[[2]int{s, p}] != want {
					t.Fatalf("%ds%dp: listed %v, usable %v", s, p, got[[2]int{s, p}], want)
				}
			}
		}
	})
}

func TestReadingsExplainThemselves(t *testing.T) {
	r := Evaluate(resolve(twoBoxes()), nil)
	keys := map[string]bool{}
	for _, d := range r.Readings() {
		if keys[d.Key] {
			t.Errorf("%s stands twice", d.Key)
		}
		keys[d.Key] = true
		if d.Label == "" || d.Basis == "" || math.IsNaN(d.Value) {
			t.Errorf("%+v", d)
		}
		if d.Why == nil {
			t.Errorf("%s does not say how it was computed", d.Key)
		} else if w := d.Why(); w.Formula == "" || w.Source == "" {
			t.Errorf("%s: %+v", d.Key, w)
		}
	}
	for _, k := range []string{"count", "series", "parallel", "voltage_v.min", "voltage_v.nominal", "voltage_v.max", "energy_kwh", "usable_kwh"} {
		if !keys[k] {
			t.Errorf("no reading %s", k)
		}
	}
}
