package search

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"stowbay/layout"
	"stowbay/layout/electric"
	"stowbay/vehicles"
)

// Every series and parallel count that there is room for is usable or excluded once, by the first of its limits: the voltages are those
// of the modules in series, the currents of a string those of the pack shared out among the strings (Kirchhoff).
func TestEveryCountIsUsableOrExcludedOnce(t *testing.T) {
	m := block("b", 300, 150, 100, 11, 50, 1, vehicles.Flat) // 18 to 25.2 V, nominal 21.6 V, 1.08 kWh
	m.Current = vehicles.Currents{ContinuousA: 60, PeakA: 90, ChargeA: 19}
	inverter := &vehicles.Gear{Kind: "inverter", VoltageMinV: 70, VoltageMaxV: 160}
	charger := &vehicles.Gear{Kind: "charger", PowerKW: 3.3}
	seen := map[Limit]int{}
	for _, c := range []struct {
		room  int
		least float64
		lo    float64
	}{{12, 7, 70}, {24, 9, 70}, {24, 16 * 1.08, 70}, {6, 0, 18}, {6, 0, 20}, {6, 0, 0}, {40, 20, 70}} {
		inverter.VoltageMinV = c.lo
		g := &ground{plan: &layout.Plan{}, gear: []*vehicles.Gear{inverter, charger}, load: electric.Load{Inverter: inverter, Charger: charger}}
		g.plan.Settings.Electric.ContinuousA, g.plan.Settings.Electric.PeakA = 100, 200
		usable, out := g.counts(m, c.room, c.least)
		said := map[[2]int][]string{}
		for _, u := range usable {
			said[[2]int{u.Series, u.Parallel}] = append(said[[2]int{u.Series, u.Parallel}], "usable")
		}
		for _, e := range out {
			what := fmt.Sprintf("%s %.2f of %.2f %s", e.Limit, e.Actual, e.Need, e.Unit)
			switch e.Limit {
			case Voltage:
				for s := e.Series; s <= e.SeriesTo; s++ {
					said[[2]int{s, 0}] = append(said[[2]int{s, 0}], what)
				}
			default:
				said[[2]int{e.Series, e.Parallel}] = append(said[[2]int{e.Series, e.Parallel}], what)
			}
			seen[e.Limit]++
		}
		lows, highs := 0, 7 // of 25.2 V each are more than 160 V
		for s := 1; s <= c.room && float64(s)*18 < c.lo; s++ {
			lows = s
		}
		for s := 1; s <= c.room; s++ {
			var want []string
			switch {
			case s <= lows:
				want = append(want, fmt.Sprintf("%s %.2f of %.2f V", Voltage, float64(lows)*18, c.lo))
			case s >= highs:
				want = append(want, fmt.Sprintf("%s %.2f of %.2f V", Voltage, float64(highs)*25.2, 160.0))
			}
			if got := said[[2]int{s, 0}]; fmt.Sprint(got) != fmt.Sprint(want) {
				t.Errorf("room for %d: %d in series: %v, want %v", c.room, s, got, want)
			}
			for p := 1; want == nil && s*p <= c.room+s; p++ {
				amps := 3300 / (21.6 * float64(s)) / float64(p)
				one := "usable"
				switch {
				case s*p > c.room:
					one = fmt.Sprintf("%s %d.00 of %d.00 ", Room, s*p, c.room)
				case 100/float64(p) > 60:
					one = fmt.Sprintf("%s %.2f of 60.00 A", Current, 100/float64(p))
				case 200/float64(p) > 90:
					one = fmt.Sprintf("%s %.2f of 90.00 A", Current, 200/float64(p))
				case amps > 19:
					one = fmt.Sprintf("%s %.2f of 19.00 A", Current, amps)
				case float64(s*p)*1.08 < c.least:
					one = fmt.Sprintf("%s %.2f of %.2f kWh", LeastEnergy, math.Round(float64(s*p)*108)/100, c.least)
				}
				if got := said[[2]int{s, p}]; len(got) != 1 || got[0] != one {
					t.Errorf("room for %d: %d in series, %d in parallel: %v, want %s", c.room, s, p, got, one)
				}
			}
		}
	}
	for _, l := range []Limit{Voltage, Current, LeastEnergy, Room} {
		if seen[l] == 0 {
			t.Errorf("nothing was excluded by %s", l)
		}
	}
}

// By hand: where the plan states no currents, an inverter of 18 kW at 90 % asks a pack of 100 V for 200 A, at 36 kW for 400 A; one without
// a power asks for what it is rated for. What the plan states goes before. A charger of 3 kW gives 30 A. Strings share them evenly.
func TestCurrentsThatTheGearAsksFor(t *testing.T) {
	powered := &vehicles.Gear{PowerKW: 18, PeakPowerKW: 36, EfficiencyPct: 90, ContinuousA: 1, PeakA: 1}
	rated := &vehicles.Gear{ContinuousA: 120, PeakA: 260}
	charger := &vehicles.Gear{PowerKW: 3, ContinuousA: 7}
	plain := &vehicles.Gear{ContinuousA: 40}
	for name, c := range map[string]struct {
		stated               [2]float64
		inverter, charger    *vehicles.Gear
		cont, peak, charging float64
	}{
		"by power":          {inverter: powered, charger: charger, cont: 200, peak: 400, charging: 30},
		"as rated":          {inverter: rated, charger: plain, cont: 120, peak: 260, charging: 40},
		"as stated":         {stated: [2]float64{90, 150}, inverter: powered, charger: plain, cont: 90, peak: 150, charging: 40},
		"half stated":       {stated: [2]float64{0.5, 0}, inverter: powered, charger: plain, cont: 0.5, peak: 400, charging: 40},
		"peak alone stated": {stated: [2]float64{0, 0.5}, inverter: rated, charger: plain, cont: 120, peak: 120, charging: 40},
		"little":            {inverter: rated, charger: &vehicles.Gear{PowerKW: 0.9, ContinuousA: 50}, cont: 120, peak: 260, charging: 9},
		"no gear":           {stated: [2]float64{50, 60}, cont: 50, peak: 60},
	} {
		g := &ground{plan: &layout.Plan{}, load: electric.Load{Inverter: c.inverter, Charger: c.charger}}
		g.plan.Settings.Electric.ContinuousA, g.plan.Settings.Electric.PeakA = c.stated[0], c.stated[1]
		if e, short := g.currentShort(&vehicles.Module{Current: vehicles.Currents{ContinuousA: 500, PeakA: 500, ChargeA: 0.5}}, electric.Choice{Parallel: 1, NominalV: 100}); short != (c.charging > 0) {
			t.Errorf("%s: a module that is charged with half an ampere: %+v, %v", name, e, short)
		}
		for parallel := 1; parallel < 4; parallel++ {
			choice := electric.Choice{Series: 5, Parallel: parallel, NominalV: 100}
			for i, asked := range []float64{c.cont, c.peak, c.charging} {
				for _, allowed := range []float64{0.99, 1.01} { // of what a string is asked for
					var m vehicles.Module
					a := asked / float64(parallel)
					of := []*float64{&m.Current.ContinuousA, &m.Current.PeakA, &m.Current.ChargeA}
					*of[i] = allowed * a
					if i == 0 {
						m.Current.PeakA = 1e6
					}
					e, short := g.currentShort(&m, choice)
					if want := a > 0 && allowed < 1; short != want || short && (e.Limit != Current || math.Abs(e.Actual-a) > 1e-9 || math.Abs(e.Need-allowed*a) > 1e-9) {
						t.Errorf("%s, %d in parallel, limit %d: %+v, short %v, asked %g A", name, parallel, i, e, short, a)
					}
				}
			}
		}
	}
}

// Within 1e-9 A of what it allows, as in the checks, a module is not asked for too much.
func TestCurrentsWithinRounding(t *testing.T) {
	for over, want := range map[float64]bool{0.95e-9: false, 1.05e-9: true} {
		g := &ground{plan: &layout.Plan{}}
		g.plan.Settings.Electric.ContinuousA = 64 + over
		if e, short := g.currentShort(&vehicles.Module{Current: vehicles.Currents{ContinuousA: 64, PeakA: 100}}, electric.Choice{Parallel: 1}); short != want {
			t.Errorf("%g A over: %+v, %v", over, e, short)
		}
	}
}

// By hand: what is said of counts that are left out, for modules of 18 to 25.2 V and 1.08 kWh, gear of 70 to 160 V and room for nine.
func TestCountsInWords(t *testing.T) {
	m := block("b", 300, 150, 100, 11, 50, 1, vehicles.Flat)
	m.Current = vehicles.Currents{ContinuousA: 60, PeakA: 200}
	g := &ground{plan: &layout.Plan{}, gear: []*vehicles.Gear{{VoltageMinV: 70, VoltageMaxV: 160}}}
	g.plan.Settings.Electric.ContinuousA = 100
	usable, out := g.counts(m, 9, 9)
	var got []string
	for _, e := range out {
		got = append(got, e.Text)
		if !e.All || e.Module != "b" {
			t.Errorf("%+v", e)
		}
	}
	want := []string{
		"b, 1 to 3 in series: no more than 54 V when empty; inverter, charger and converters need 70 V.",
		"b, 7 to 9 in series: at least 176 V when full; inverter, charger and converters take 160 V.",
		"b, 4 in series, 1 in parallel: a string is asked for 100 A continuous; the module allows 60 A.",
		"b, 5 in series, 1 in parallel: a string is asked for 100 A continuous; the module allows 60 A.",
		"b, 6 in series, 1 in parallel: a string is asked for 100 A continuous; the module allows 60 A.",
		"b, 4 in series, 2 in parallel: 8.6 kWh, less than the 9.0 kWh wanted.",
		"b, 4 in series, 3 or more in parallel: 12 modules or more; the boxes take 9.",
		"b, 5 in series, 2 or more in parallel: 10 modules or more; the boxes take 9.",
		"b, 6 in series, 2 or more in parallel: 12 modules or more; the boxes take 9.",
	}
	if len(usable) != 0 || !slices.Equal(got, want) {
		t.Errorf("%d usable, %q", len(usable), got)
	}
	usable, out = g.counts(m, 0, 0)
	if len(usable) != 0 || len(out) != 1 || out[0].Text != "b, 4 in series, 1 or more in parallel: 4 modules or more; the boxes take 0." {
		t.Errorf("no room: %v, %+v", usable, out)
	}
	g.gear[0].VoltageMinV = 0
	if usable, out = g.counts(m, 0, 0); len(usable) != 0 || len(out) != 1 || out[0].Series != 1 || out[0].Parallel != 1 || out[0].Limit != Room {
		t.Errorf("no room for one module: %v, %+v", usable, out)
	}
}
