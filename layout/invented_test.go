package layout

import (
	"fmt"

	"stowbay/vehicles"
)

// The donor, modules and gear of these tests are invented; they describe nothing that exists.

func testDonor() *vehicles.Donor {
	return &vehicles.Donor{
		Format: 1, ID: "dory", Name: "Dory, an invented small van", Invented: true,
		WheelbaseMM: 2400, TrackFrontMM: 1400, TrackRearMM: 1380, WheelRadiusMM: 310, GroundClearMM: 180,
		PlanOutline:     rectangle(-700, -800, 3000, 800),
		SideOutline:     rectangle(-700, 200, 3000, 1900),
		Scales:          vehicles.Scales{FrontLeftKg: 300, FrontRightKg: 305, RearLeftKg: 280, RearRightKg: 275},
		CentreOfGravity: vehicles.CGRise{HeightMM: 620, How: "estimate"},
		Ratings:         vehicles.Ratings{FrontAxleKg: 900, RearAxleKg: 1100, GrossKg: 1900},
		Bays: []vehicles.Bay{
			{ID: "under", Name: "Under the floor", ClearanceMM: 10, Levels: []vehicles.Level{{Outline: rectangle(600, -500, 1800, 500), FloorMM: 200, CeilingMM: 480}}},
			{ID: "rear", Name: "Engine bay", ClearanceMM: 8, Levels: []vehicles.Level{
				{Outline: rectangle(2200, -400, 2900, 400), FloorMM: 300, CeilingMM: 800},
				{Outline: rectangle(2000, -400, 2200, 400), FloorMM: 450, CeilingMM: 800},
			}},
		},
		KeepOuts: []vehicles.KeepOut{{ID: "shaft", Kind: "moving", Outline: rectangle(0, -60, 600, 60), FloorMM: 250, CeilingMM: 400, MarginMM: 25}},
	}
}

// testModule is a block with both terminals on its front face and a sense socket on its right side.
func testModule() *vehicles.Module {
	return &vehicles.Module{
		Format: 1, ID: "brick", Name: "Brick, an invented module", Invented: true,
		LengthMM: 355, WidthMM: 151, HeightMM: 108, MassKg: 11.8, Series: 6, Parallel: 2,
		Cell:     vehicles.Cell{Chemistry: "NMC", NominalV: 3.65, MinV: 2.8, MaxV: 4.2, CapacityAh: 50},
		Ohmic:    vehicles.Ohmic{MilliOhm: 3},
		Current:  vehicles.Currents{ContinuousA: 150},
		Postures: []vehicles.Posture{vehicles.Flat, vehicles.Side, vehicles.End},
		Terminals: []vehicles.Terminal{
			{ID: "+", Polarity: "positive", Face: vehicles.Front, At: vehicles.XYZ{0, 30, 80}, StripMM: 40},
			{ID: "-", Polarity: "negative", Face: vehicles.Front, At: vehicles.XYZ{0, 121, 80}, StripMM: 40},
		},
		Ports: []vehicles.Port{{ID: "sense", Kind: "sense", Face: vehicles.Right, At: vehicles.XYZ{300, 151, 50}, StripMM: 15}},
	}
}

// sideModule has its terminals on one long side, so that its mirror image has to be turned half round.
func sideModule() *vehicles.Module {
	m := testModule()
	m.ID = "slab"
	m.Terminals = []vehicles.Terminal{
		{ID: "+", Polarity: "positive", Face: vehicles.Left, At: vehicles.XYZ{60, 0, 80}, StripMM: 30},
		{ID: "-", Polarity: "negative", Face: vehicles.Left, At: vehicles.XYZ{295, 0, 80}, StripMM: 30},
	}
	m.Ports = nil
	return m
}

func testGear() *vehicles.Gear {
	return &vehicles.Gear{
		Format: 1, ID: "relay", Name: "Relay, an invented contactor", Invented: true, Kind: "contactor",
		LengthMM: 80, WidthMM: 60, HeightMM: 70, MassKg: 0.4,
		Terminals: []vehicles.Terminal{
			{ID: "1", Polarity: "none", Face: vehicles.Top, At: vehicles.XYZ{20, 30, 70}, StripMM: 25},
			{ID: "2", Polarity: "none", Face: vehicles.Top, At: vehicles.XYZ{60, 30, 70}, StripMM: 25},
		},
	}
}

func testLibrary() *vehicles.Library {
	return (&vehicles.Library{}).With(vehicles.Records{
		Donors:  []*vehicles.Donor{testDonor()},
		Modules: []*vehicles.Module{testModule(), sideModule()},
		Gear:    []*vehicles.Gear{testGear()},
	})
}

func rectangle(x0, y0, x1, y1 float64) []vehicles.XY {
	return []vehicles.XY{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// plainBox is a rectangular box with n modules in rows.
func plainBox(id string, at vehicles.XYZ, n int) *Box {
	b := &Box{ID: id, Bay: "under", At: at, Levels: []vehicles.Level{{Outline: rectangle(0, 0, 1150, 900), CeilingMM: 260}}}
	for i := range n {
		b.Modules = append(b.Modules, Placement{
			ID: fmt.Sprintf("m%d", i+1), Module: "brick", Posture: vehicles.Flat, Turn: 90 * (i % 4),
			At: vehicles.XYZ{float64(10 + 365*(i%3)), float64(10 + 160*(i/3)), 5},
		})
	}
	return b
}

// testPlan is a plan with two boxes of which the second follows nothing, gear in and outside, strings and a cable.
func testPlan() *Plan {
	p := NewPlan(testDonor(), "Invented plan")
	a := p.Arrangements[0]
	one, two := plainBox("one", vehicles.XYZ{620, -480, 205}, 6), plainBox("two", vehicles.XYZ{620, 500, 205}, 4)
	one.Gear = []PlacedGear{{ID: "k1", Gear: "relay", At: vehicles.XYZ{1000, 700, 5}}}
	one.Feet = SuggestFeet(one)
	one.Openings = []Opening{{ID: "o1", Kind: "vent", Face: "left", At: vehicles.XYZ{100, 0, 200}, DiameterMM: 20}}
	one.Barriers = []Barrier{{ID: "w1", Outline: rectangle(500, 0, 502, 100), FloorMM: 0, CeilingMM: 100}}
	a.Boxes = []*Box{one, two}
	a.Gear = []PlacedGear{{ID: "inv", Gear: "relay", At: vehicles.XYZ{100, 0, 700}, Posture: vehicles.Side, Turn: 90}}
	a.Strings = []String{{ID: "s1", Modules: []string{"one/m1", "one/m2", "two/m1"}}, {ID: "s2", Modules: []string{"two/m2"}}}
	a.Cables = []Cable{{ID: "c1", From: "one", To: "inv"}}
	a.Loop = Loop{Pump: "inv", Branches: []LoopBranch{{ID: "l1", Boxes: []string{"one", "two"}}}}
	return p
}

func recordsOf(m *vehicles.Module) vehicles.Records {
	return vehicles.Records{Modules: []*vehicles.Module{m}}
}
