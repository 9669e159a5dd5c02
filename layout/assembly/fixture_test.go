package assembly

import (
	"fmt"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// cellsOf is an invented module of n cells in series at most 3.65 V each, both terminals on its top.
func cellsOf(id string, n int) *vehicles.Module {
	return &vehicles.Module{
		ID: id, Name: id, Invented: true, LengthMM: 300, WidthMM: 150, HeightMM: 110, MassKg: 12, Series: n, Parallel: 1,
		Cell:     vehicles.Cell{Chemistry: "LFP", NominalV: 3.2, MinV: 2.5, MaxV: 3.65, CapacityAh: 100},
		Ohmic:    vehicles.Ohmic{MilliOhm: 5},
		Current:  vehicles.Currents{ContinuousA: 200},
		Postures: []vehicles.Posture{vehicles.Flat},
		Terminals: []vehicles.Terminal{
			{ID: "-", Polarity: "negative", Face: vehicles.Top, At: vehicles.XYZ{30, 75, 110}, DiameterMM: 12, Bolt: "M6", TorqueNm: 8},
			{ID: "+", Polarity: "positive", Face: vehicles.Top, At: vehicles.XYZ{270, 75, 110}, DiameterMM: 12, Bolt: "M6", TorqueNm: 8},
		},
	}
}

func gearOf(id, kind string) *vehicles.Gear {
	g := &vehicles.Gear{ID: id, Name: id, Kind: kind, LengthMM: 80, WidthMM: 40, HeightMM: 40, MassKg: 0.5, Terminals: []vehicles.Terminal{
		{ID: "1", Polarity: "none", Face: vehicles.Front, At: vehicles.XYZ{0, 20, 20}, DiameterMM: 12, Bolt: "M8", TorqueNm: 12},
		{ID: "2", Polarity: "none", Face: vehicles.Back, At: vehicles.XYZ{80, 20, 20}, DiameterMM: 12, Bolt: "M8", TorqueNm: 12},
	}}
	if kind == "connector" {
		g.Terminals[0].ID, g.Terminals[0].Polarity = "+", "positive"
		g.Terminals[1].ID, g.Terminals[1].Polarity = "-", "negative"
	}
	return g
}

var shelf = (&vehicles.Library{}).With(vehicles.Records{
	Modules: []*vehicles.Module{cellsOf("four", 4), cellsOf("eight", 8), cellsOf("twenty", 20), oneVolt(), steelCase()},
	Gear: []*vehicles.Gear{gearOf("contactor", "contactor"), gearOf("fuse", "fuse"), gearOf("link", "service_disconnect"), gearOf("connector", "connector"),
		gearOf("inertia", "inertia_switch"), {ID: "bare", Name: "bare", Kind: "fuse", LengthMM: 80, WidthMM: 40, HeightMM: 40}},
})

// oneVolt is a module of exactly 1 V.
func oneVolt() *vehicles.Module {
	m := cellsOf("one", 1)
	m.Cell.MaxV = 1
	return m
}

func steelCase() *vehicles.Module {
	m := cellsOf("steel", 4)
	m.Case = "metal"
	return m
}

// boxWith is a box with n modules in rows of four and gear along its rear side.
func boxWith(id, module string, n int, gear ...string) *layout.Box {
	rows := (n + 3) / 4
	w, l := 4*320.0+40, float64(rows)*170+120
	b := &layout.Box{ID: id, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {w, 0}, {w, l}, {0, l}}, CeilingMM: 200}}, Shell: layout.Shell{LinerMM: 2}}
	for i := range n {
		b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", i+1), Module: module, Posture: vehicles.Flat,
			At: vehicles.XYZ{20 + float64(i%4)*320, 20 + float64(i/4)*170, 4}})
	}
	for i, g := range gear {
		b.Gear = append(b.Gear, layout.PlacedGear{ID: fmt.Sprintf("%s%d", g, i+1), Gear: g, At: vehicles.XYZ{20 + float64(i)*100, l - 60, 4}})
	}
	return b
}

func sceneOf(boxes ...*layout.Box) *layout.Scene {
	p := &layout.Plan{Name: "test", Donor: "none", Arrangements: []*layout.Arrangement{{ID: "a", Boxes: boxes}}}
	for i, b := range boxes {
		b.At = vehicles.XYZ{float64(i%4) * 2000, float64(i/4) * 1500, 300}
	}
	return layout.Resolve(p, p.Arrangements[0], shelf, nil)
}

// inOrder runs one string through all boxes in the order of their modules. Gear is taken by its kind: contactors at the
// two poles, a fuse at the positive end of its box, connectors where they are, the first service link in the middle.
func inOrder(s *layout.Scene) Circuit {
	c := Chain{ID: "S1"}
	for bi, b := range s.Boxes {
		p := Passage{Box: b, From: len(c.Members)}
		for _, m := range b.Modules {
			x := Member{Body: m}
			for i := range m.Terminals {
				if m.Terminals[i].Polarity == "positive" {
					x.Pos = &m.Terminals[i]
				} else {
					x.Neg = &m.Terminals[i]
				}
			}
			c.Members = append(c.Members, x)
		}
		p.To = len(c.Members)
		for _, g := range b.Gear {
			switch g.Gear.Kind {
			case "fuse":
				p.Positive = append(p.Positive, g)
			case "contactor":
				if bi == 0 && len(p.Negative) == 0 {
					p.Negative = append(p.Negative, g)
				} else {
					p.Positive = append(p.Positive, g)
				}
			case "service_disconnect":
				c.Disconnect, c.After = g, (p.From+p.To)/2
			}
		}
		c.Passages = append(c.Passages, p)
	}
	return Circuit{Strings: []Chain{c}}
}

func modelOf(boxes ...*layout.Box) *Model {
	s := sceneOf(boxes...)
	return New(s, inOrder(s))
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if d := got - want; d > 1e-6 || d < -1e-6 {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}
