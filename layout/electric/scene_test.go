package electric

import (
	"fmt"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// block is an invented module: 12 cells in series, both terminals on its front face.
func block() *vehicles.Module {
	return &vehicles.Module{
		ID: "block", Name: "Block", Invented: true, LengthMM: 390, WidthMM: 150, HeightMM: 110, MassKg: 12,
		Series: 12, Parallel: 2,
		Cell: vehicles.Cell{Chemistry: "NMC", NominalV: 3.7, MinV: 3.0, MaxV: 4.2, CapacityAh: 50,
			OpenV: []vehicles.OpenVolt{{SOCPct: 0, V: 3.2}, {SOCPct: 50, V: 3.65}, {SOCPct: 100, V: 4.15}}},
		Ohmic:    vehicles.Ohmic{MilliOhm: 6, ColdFactor: 2},
		Current:  vehicles.Currents{ContinuousA: 200, PeakA: 400, PeakS: 10, ChargeA: 100, RegenA: 200},
		Postures: []vehicles.Posture{vehicles.Flat},
		Terminals: []vehicles.Terminal{
			{ID: "-", Polarity: "negative", Face: vehicles.Front, At: vehicles.XYZ{0, 30, 80}, DiameterMM: 12},
			{ID: "+", Polarity: "positive", Face: vehicles.Front, At: vehicles.XYZ{0, 120, 80}, DiameterMM: 12},
		},
	}
}

func inverter() *vehicles.Gear {
	return &vehicles.Gear{ID: "inv", Name: "Inverter", Kind: "inverter", LengthMM: 400, WidthMM: 300, HeightMM: 200, MassKg: 15,
		VoltageMinV: 200, VoltageMaxV: 450, PowerKW: 60, PeakPowerKW: 120, PeakS: 10, EfficiencyPct: 95, CapacitanceUF: 600}
}

// gearShelf is invented gear for a 450 V pack.
func gearShelf() []*vehicles.Gear {
	size := func(g vehicles.Gear) *vehicles.Gear {
		g.Name, g.LengthMM, g.WidthMM, g.HeightMM, g.MassKg = g.ID, 80, 60, 60, 0.5
		return &g
	}
	return []*vehicles.Gear{
		inverter(),
		size(vehicles.Gear{ID: "contactor", Kind: "contactor", VoltageMaxV: 750, ContinuousA: 250, MakeA: 600, BreakA: 1500, MilliOhm: 0.2}),
		size(vehicles.Gear{ID: "fuse", Kind: "fuse", VoltageMaxV: 500, ContinuousA: 250, BreakingKA: 20, MeltingA2S: 31000, ClearingA2S: 118000, MilliOhm: 0.3}),
		size(vehicles.Gear{ID: "disconnect", Kind: "service_disconnect", VoltageMaxV: 500, ContinuousA: 250, MilliOhm: 0.3}),
		size(vehicles.Gear{ID: "board", Kind: "monitoring_board", Channels: 24, Sensors: 8}),
		size(vehicles.Gear{ID: "precharge", Kind: "precharge", PrechargeOhm: 47, PrechargeJ: 400}),
		size(vehicles.Gear{ID: "inertia", Kind: "inertia_switch"}),
		size(vehicles.Gear{ID: "monitor", Kind: "isolation_monitor", IsolationMOhm: 5, YCapacitanceUF: 0.1}),
		size(vehicles.Gear{ID: "charger", Kind: "charger", VoltageMinV: 200, VoltageMaxV: 460, PowerKW: 6.6, CapacitanceUF: 100, IsolationMOhm: 10}),
	}
}

// boxOf is a box with modules in rows across, all flat with their fronts to the left in plan.
func boxOf(id string, at vehicles.XYZ, columns, rows int) *layout.Box {
	b := &layout.Box{ID: id, At: at, Shell: layout.Shell{LinerMM: 2}}
	w, l := 20+float64(columns)*430, 20+float64(rows)*160
	b.Levels = []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {w, 0}, {w, l}, {0, l}}, FloorMM: 0, CeilingMM: 200}}
	for c := range columns {
		for r := range rows {
			b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", len(b.Modules)+1), Module: "block",
				At: vehicles.XYZ{40 + float64(c)*430, 12 + float64(r)*160, 4}, Posture: vehicles.Flat})
		}
	}
	return b
}

func planOf(boxes ...*layout.Box) *layout.Plan {
	return &layout.Plan{Name: "test", Donor: "none", Arrangements: []*layout.Arrangement{{ID: "a", Boxes: boxes}}}
}

func resolve(p *layout.Plan) *layout.Scene { return resolveAfter(p, nil) }

func resolveAfter(p *layout.Plan, prev *layout.Scene) *layout.Scene {
	return layout.Resolve(p, p.Arrangements[0], testLibrary, prev)
}

var testLibrary = (&vehicles.Library{}).With(vehicles.Records{Modules: []*vehicles.Module{block()}, Gear: gearShelf()})

func withInverter(p *layout.Plan) *layout.Plan {
	a := p.Arrangements[0]
	a.Gear = append(a.Gear, layout.PlacedGear{ID: "inv1", Gear: "inv", At: vehicles.XYZ{-500, -150, 500}})
	return p
}

// bigPlan has n boxes of 50 modules each.
func bigPlan(n int) *layout.Plan {
	var boxes []*layout.Box
	for i := range n {
		boxes = append(boxes, boxOf(fmt.Sprintf("b%d", i+1), vehicles.XYZ{float64(i%4) * 2500, float64(i/4)*2000 - 1500, 300}, 5, 10))
	}
	p := withInverter(planOf(boxes...))
	p.Arrangements[0].Parallel = 5
	return p
}

func TestEvaluateSmoke(t *testing.T) {
	s := resolve(withInverter(planOf(boxOf("front", vehicles.XYZ{0, 0, 300}, 2, 3), boxOf("rear", vehicles.XYZ{2000, 0, 300}, 1, 3))))
	r := Evaluate(s, nil)
	if r.Series != 9 || r.Parallel != 1 || len(r.Problems) > 0 {
		t.Fatalf("series %d parallel %d problems %v", r.Series, r.Parallel, r.Problems)
	}
	for _, m := range r.Strings[0].Modules {
		t.Log(m.ID, m.NegV, m.PosV, m.Neg.Place, m.Pos.Place)
	}
	r.Strings[0].eachLink(func(l *Link) { t.Log(l.From, l.To, l.LengthMM, l.SectionMM2, l.Ohm, l.V) })
	for _, d := range r.Readings() {
		t.Logf("%s %s = %.3f %s", d.Key, d.Label, d.Value, d.Unit)
	}
}

func BenchmarkEvaluate400Cold(b *testing.B) {
	s := resolve(bigPlan(8))
	for b.Loop() {
		Evaluate(s, nil)
	}
}

func BenchmarkEvaluate400Drag(b *testing.B) {
	p := bigPlan(8)
	s := resolve(p)
	r := Evaluate(s, nil)
	a := *p.Arrangements[0]
	for i := 0; b.Loop(); i++ {
		b.StopTimer()
		moved := *a.Boxes[3]
		moved.Modules = append([]layout.Placement(nil), moved.Modules...)
		moved.Modules[7].At[2] += float64(i%20 + 1)
		next := a
		next.Boxes = append([]*layout.Box(nil), a.Boxes...)
		next.Boxes[3] = &moved
		s2 := layout.Resolve(p, &next, testLibrary, s)
		b.StartTimer()
		Evaluate(s2, r)
	}
}
