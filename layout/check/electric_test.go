package check

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/electric"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// wired is a small pack of ours, invented, with all the gear that the electrical rules ask for: nine modules in
// two boxes, 324 to 454 V.
type wired struct {
	plan   *layout.Plan
	module *vehicles.Module
	gear   map[string]*vehicles.Gear
}

func newWired() *wired {
	w := &wired{gear: map[string]*vehicles.Gear{}}
	w.module = &vehicles.Module{ID: "block", Name: "Block", LengthMM: 390, WidthMM: 150, HeightMM: 110, MassKg: 12, Series: 12, Parallel: 2,
		Cell: vehicles.Cell{Chemistry: "NMC", NominalV: 3.7, MinV: 2.7, MaxV: 4.2, CapacityAh: 60,
			OpenV: []vehicles.OpenVolt{{SOCPct: 0, V: 3.2}, {SOCPct: 50, V: 3.65}, {SOCPct: 100, V: 4.15}}},
		Ohmic: vehicles.Ohmic{MilliOhm: 6, ColdFactor: 2}, Current: vehicles.Currents{ContinuousA: 200, PeakA: 400, PeakS: 10, ChargeA: 100, RegenA: 100},
		Terminals: []vehicles.Terminal{
			{ID: "-", Polarity: "negative", Face: vehicles.Front, At: vehicles.XYZ{0, 30, 80}, DiameterMM: 12},
			{ID: "+", Polarity: "positive", Face: vehicles.Front, At: vehicles.XYZ{0, 120, 80}, DiameterMM: 12}}}
	for _, g := range []vehicles.Gear{
		{ID: "inverter", Kind: "inverter", VoltageMinV: 250, VoltageMaxV: 480, PowerKW: 60, PeakPowerKW: 100, PeakS: 10, EfficiencyPct: 95, CapacitanceUF: 600, IsolationMOhm: 20, YCapacitanceUF: 0.2},
		{ID: "charger", Kind: "charger", VoltageMinV: 200, VoltageMaxV: 480, PowerKW: 6.6, IsolationMOhm: 20},
		{ID: "contactor", Kind: "contactor", VoltageMaxV: 750, ContinuousA: 250, MakeA: 600, BreakA: 10000},
		{ID: "fuse", Kind: "fuse", VoltageMaxV: 500, ContinuousA: 250, BreakingKA: 20, MeltingA2S: 31000, ClearingA2S: 118000},
		{ID: "disconnect", Kind: "service_disconnect", VoltageMaxV: 500, ContinuousA: 250},
		{ID: "board", Kind: "monitoring_board", Channels: 36, Sensors: 12},
		{ID: "precharge", Kind: "precharge", VoltageMaxV: 500, PrechargeOhm: 47, PrechargeJ: 400},
		{ID: "inertia", Kind: "inertia_switch"},
		{ID: "monitor", Kind: "isolation_monitor", VoltageMaxV: 500, IsolationMOhm: 5},
	} {
		g.Name, g.LengthMM, g.WidthMM, g.HeightMM, g.MassKg = g.ID, 60, 60, 60, 0.5
		w.gear[g.ID] = &g
	}
	front, rear := w.box("front", 0, 6), w.box("rear", 2000, 3)
	rear.Gear = gearRow("contactor:negative", "fuse:", "board:")
	front.Gear = gearRow("contactor:positive", "fuse:", "disconnect:middle", "precharge:", "board:", "board:")
	w.plan = &layout.Plan{Arrangements: []*layout.Arrangement{{ID: "a", Boxes: []*layout.Box{front, rear}, Gear: gearRow("inverter:", "charger:", "inertia:", "monitor:")}}}
	return w
}

func (w *wired) box(id string, x float64, n int) *layout.Box {
	b := &layout.Box{ID: id, At: vehicles.XYZ{x, 0, 300}, Shell: layout.Shell{LinerMM: 2}}
	b.Levels = []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {800, 0}, {800, 1100}, {0, 1100}}, CeilingMM: 200}}
	for i := range n {
		b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", i+1), Module: "block", Posture: vehicles.Flat, At: vehicles.XYZ{40, 20 + 160*float64(i), 4}})
	}
	return b
}

func gearRow(specs ...string) []layout.PlacedGear {
	var out []layout.PlacedGear
	for i, s := range specs {
		kind, role, _ := strings.Cut(s, ":")
		out = append(out, layout.PlacedGear{ID: fmt.Sprintf("%s%d", kind, i+1), Gear: kind, Role: role, At: vehicles.XYZ{550, 30 + 150*float64(i), 10}})
	}
	return out
}

// judge runs the electrical rules alone.
func (w *wired) judge() []Finding {
	var gear []*vehicles.Gear
	for _, g := range w.gear {
		gear = append(gear, g)
	}
	lib := (&vehicles.Library{}).With(vehicles.Records{Modules: []*vehicles.Module{w.module}, Gear: gear})
	scene := layout.Resolve(w.plan, w.plan.Arrangements[0], lib, nil)
	e := &Evaluation{Plan: w.plan, Arrangement: w.plan.Arrangements[0], Scene: scene, Electric: electric.Evaluate(scene, nil)}
	var out []Finding
	for _, r := range electricRules {
		for _, f := range r.Run(e) {
			out = append(out, r.complete(f))
		}
	}
	return out
}

func (w *wired) arrangement() *layout.Arrangement { return w.plan.Arrangements[0] }

func gravest(fs []Finding, rule string) Severity {
	s := Severity("")
	for _, f := range fs {
		if f.Rule == rule && (s == "" || f.Severity.rank() < s.rank()) {
			s = f.Severity
		}
	}
	return s
}

func TestWiredPackPasses(t *testing.T) {
	fs := newWired().judge()
	seen := map[string]bool{}
	for _, f := range fs {
		seen[f.Rule] = true
		if f.Severity == Fails || f.Severity == Warns {
			t.Errorf("%s %s: %s", f.Rule, f.Severity, f.Text)
		}
		checkWording(t, f)
	}
	for _, r := range electricRules {
		if !seen[r.Name] {
			t.Errorf("%s says nothing about a complete pack", r.Name)
		}
	}
}

// checkWording asks every finding to be a sentence with a source, a subject and finite numbers.
func checkWording(t *testing.T, f Finding) {
	t.Helper()
	if f.Text == "" || !strings.HasSuffix(f.Text, ".") || f.Source == "" || f.Subject == "" {
		t.Errorf("%+v", f)
	}
	if strings.Contains(f.Text, "%!") || strings.Contains(f.Text, "NaN") || strings.Contains(f.Text, "Inf") {
		t.Errorf("%s: %s", f.Rule, f.Text)
	}
	for _, v := range []float64{f.Required, f.Actual} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%s: required %v, actual %v", f.Rule, f.Required, f.Actual)
		}
	}
	if f.Severity != Notes && f.Compare != "" && (f.Margin() < -1e-6*math.Max(1, math.Abs(f.Required))) != (f.Severity != Passes) {
		t.Errorf("%s says %s although actual %v is to be %s %v", f.Rule, f.Severity, f.Actual, f.Compare, f.Required)
	}
}

// Each breach is found by its rule, with the severity it deserves.
func TestElectricBreaches(t *testing.T) {
	drop := func(w *wired, box int, kind string) {
		b := w.arrangement().Boxes[box]
		b.Gear = slices.DeleteFunc(b.Gear, func(g layout.PlacedGear) bool { return g.Gear == kind })
	}
	dropOutside := func(w *wired, kind string) {
		a := w.arrangement()
		a.Gear = slices.DeleteFunc(a.Gear, func(g layout.PlacedGear) bool { return g.Gear == kind })
	}
	cases := []struct {
		rule  string
		want  Severity
		spoil func(*wired)
	}{
		{"electric.reference", Fails, func(w *wired) {
			w.arrangement().Strings = []layout.String{{ID: "A", Modules: []string{"front/m1", "front/m99"}}}
		}},
		{"electric.reference", Fails, func(w *wired) { w.arrangement().Cables = []layout.Cable{{ID: "c", From: "front", To: "moon"}} }},
		{"electric.strings", Fails, func(w *wired) { w.arrangement().Series = 10 }},
		{"electric.strings", Fails, func(w *wired) {
			w.arrangement().Strings = []layout.String{{ID: "A", Modules: []string{"front/m1"}}, {ID: "B", Modules: []string{"rear/m1", "rear/m2"}}}
		}},
		{"electric.leftover", Warns, func(w *wired) { w.arrangement().Series = 8 }},
		{"electric.inverter_window", Fails, func(w *wired) { w.gear["inverter"].VoltageMaxV = 450 }},
		{"electric.inverter_window", Warns, func(w *wired) { w.gear["inverter"].VoltageMinV = 345 }},
		{"electric.inverter_window", Fails, func(w *wired) { w.gear["inverter"].VoltageMinV = 400 }},
		{"electric.inverter_window", Notes, func(w *wired) { dropOutside(w, "inverter") }},
		{"electric.charger_window", Fails, func(w *wired) { w.gear["charger"].VoltageMaxV = 430 }},
		{"electric.charger_window", Warns, func(w *wired) { w.gear["charger"].VoltageMinV = 320 }},
		{"electric.sag", Warns, func(w *wired) { w.module.Ohmic.ColdFactor = 6 }},
		{"electric.regen", Notes, func(w *wired) { w.module.Current.RegenA = 390 }},
		{"electric.module_current", Fails, func(w *wired) { w.module.Current.ContinuousA = 150 }},
		{"electric.module_current", Fails, func(w *wired) { w.module.Current.PeakA = 250 }},
		{"electric.module_current", Fails, func(w *wired) { w.module.Current.ChargeA = 10 }},
		{"electric.conductor", Fails, func(w *wired) { w.plan.Settings.Electric.CableMM2 = 10 }},
		{"electric.conductor", Fails, func(w *wired) { w.plan.Settings.Electric.LinkMM2 = 16 }},
		{"electric.conductor", Fails, func(w *wired) { w.plan.Settings.Electric.ContinuousA = 5000 }},
		{"electric.drop", Warns, func(w *wired) {
			w.plan.Settings.Electric.CableMM2 = 1.5
		}},
		{"electric.fuse", Fails, func(w *wired) { drop(w, 1, "fuse") }},
		{"electric.fuse", Warns, func(w *wired) {
			w.arrangement().Boxes[1].Gear[1].At = vehicles.XYZ{720, 1030, 130}
			w.arrangement().Boxes[1].Modules = w.arrangement().Boxes[1].Modules[:1]
		}},
		{"electric.fuse_rating", Fails, func(w *wired) { w.gear["fuse"].VoltageMaxV = 400 }},
		{"electric.fuse_rating", Warns, func(w *wired) { w.gear["fuse"].ContinuousA = 200 }},
		{"electric.fuse_rating", Warns, func(w *wired) { w.gear["fuse"].ContinuousA = 1000 }},
		{"electric.fuse_rating", Fails, func(w *wired) { w.gear["fuse"].BreakingKA = 2 }},
		{"electric.fuse_rating", Fails, func(w *wired) { w.gear["fuse"].ClearingA2S = 1e9 }},
		{"electric.contactor", Fails, func(w *wired) { drop(w, 0, "contactor") }},
		{"electric.contactor_rating", Fails, func(w *wired) { w.gear["contactor"].VoltageMaxV = 300 }},
		{"electric.contactor_rating", Fails, func(w *wired) { w.gear["contactor"].ContinuousA = 100 }},
		{"electric.contactor_rating", Fails, func(w *wired) { w.gear["contactor"].MakeA = 100 }},
		{"electric.contactor_rating", Fails, func(w *wired) { w.gear["contactor"].BreakA = 100 }},
		{"electric.contactor_rating", Notes, func(w *wired) { w.gear["contactor"].BreakA = 0 }},
		{"electric.crossing", Notes, func(w *wired) {
			w.arrangement().Boxes[1].Modules[1].At = vehicles.XYZ{440, 20, 4}
			w.arrangement().Boxes[1].Modules[1].Turn = 180
			w.arrangement().Boxes[1].Modules[2].At = vehicles.XYZ{440, 180, 4}
			w.arrangement().Boxes[1].Modules[2].Turn = 180
			w.arrangement().Boxes[1].Modules = append(w.arrangement().Boxes[1].Modules, layout.Placement{ID: "m4", Module: "block", Posture: vehicles.Flat, At: vehicles.XYZ{40, 180, 4}})
			w.arrangement().Strings = []layout.String{{ID: "A", Modules: []string{"rear/m1", "rear/m3", "rear/m4", "rear/m2"}, Pinned: true}}
		}},
		{"electric.gear_rating", Fails, func(w *wired) { w.gear["disconnect"].VoltageMaxV = 400 }},
		{"electric.gear_rating", Fails, func(w *wired) { w.gear["disconnect"].ContinuousA = 100 }},
		{"electric.gear_rating", Fails, func(w *wired) { w.gear["inertia"].Kind, w.gear["inertia"].VoltageMinV = "dc_dc", 350 }},
		{"electric.gear_rating", Notes, func(w *wired) { w.gear["disconnect"].VoltageMaxV = 0 }},
		{"electric.precharge", Fails, func(w *wired) { drop(w, 0, "precharge") }},
		{"electric.precharge", Fails, func(w *wired) { w.gear["precharge"].PrechargeJ = 20 }},
		{"electric.clearance", Fails, func(w *wired) { w.arrangement().Boxes[0].Levels[0].CeilingMM = 95 }},
		{"electric.clearance", Fails, func(w *wired) {
			w.module.Case = "metal"
			w.arrangement().Boxes[0].Modules[0].At = vehicles.XYZ{434, 180, 4}
		}},
		{"electric.isolation", Fails, func(w *wired) { w.gear["charger"].IsolationMOhm = 0.1 }},
		{"electric.isolation_monitor", Warns, func(w *wired) { dropOutside(w, "monitor") }},
		{"electric.y_capacitors", Warns, func(w *wired) { w.gear["inverter"].YCapacitanceUF = 1 }},
		{"electric.disconnect", Fails, func(w *wired) { drop(w, 0, "disconnect") }},
		{"electric.disconnect", Warns, func(w *wired) {
			g := w.arrangement().Boxes[0].Gear[2]
			drop(w, 0, "disconnect")
			w.arrangement().Boxes[1].Gear = append(w.arrangement().Boxes[1].Gear, g)
		}},
		{"electric.inertia", Warns, func(w *wired) { dropOutside(w, "inertia") }},
		{"electric.monitoring", Fails, func(w *wired) { drop(w, 1, "board") }},
		{"electric.monitoring", Warns, func(w *wired) { drop(w, 1, "board"); w.gear["board"].Channels = 60 }},
		{"electric.sensors", Warns, func(w *wired) { w.gear["board"].Sensors = 2 }},
	}
	base := newWired().judge()
	lines := Figures(base)
	for i, c := range cases {
		w := newWired()
		c.spoil(w)
		fs := w.judge()
		lines = append(append(lines, fmt.Sprintf("%d %s", i, c.rule)), FiguresBeside(base, fs)...)
		if got := gravest(fs, c.rule); got != c.want {
			t.Errorf("case %d, %s: %q, want %q", i, c.rule, got, c.want)
			for _, f := range fs {
				if f.Rule == c.rule {
					t.Logf("  %s: %s", f.Severity, f.Text)
				}
			}
		}
		for _, f := range fs {
			checkWording(t, f)
		}
	}
	goldentest.Compare(t, "electric", nil, lines)
}

func TestMixedModulesAreFound(t *testing.T) {
	e := &Evaluation{Electric: &electric.Result{Strings: make([]electric.String, 1), Problems: []electric.Problem{
		{Kind: electric.MixedTypes, Of: "S1", Text: "a."}, {Kind: electric.MixedCapacity, Of: "S1", Text: "b."}, {Kind: electric.MixedChemistry, Of: "S1", Text: "c."}}}}
	var got []Severity
	for _, f := range mixedModules(e) {
		got = append(got, f.Severity)
	}
	if !slices.Equal(got, []Severity{Notes, Warns, Fails}) {
		t.Errorf("%v", got)
	}
}

func TestEmptyArrangementHasNoElectricFindings(t *testing.T) {
	w := &wired{plan: &layout.Plan{Arrangements: []*layout.Arrangement{{ID: "a"}}}, module: &vehicles.Module{ID: "x"}}
	for _, f := range w.judge() {
		t.Errorf("%s: %s", f.Rule, f.Text)
	}
}
