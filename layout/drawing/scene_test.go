package drawing

import (
	"fmt"

	"stowbay/layout"
	"stowbay/vehicles"
)

// inventedDonor is a forward-control van that exists nowhere.
func inventedDonor() *vehicles.Donor {
	return &vehicles.Donor{
		Format: 1, ID: "van", Name: "Invented van", Invented: true,
		WheelbaseMM: 2400, TrackFrontMM: 1380, TrackRearMM: 1370, WheelRadiusMM: 310, TyreWidthMM: 185, GroundClearMM: 190,
		ApproachDeg: 22, DepartureDeg: 20,
		PlanOutline: []vehicles.XY{{-1000, -700}, {-900, -860}, {3200, -860}, {3250, -800}, {3250, 800}, {3200, 860}, {-900, 860}, {-1000, 700}},
		SideOutline: []vehicles.XY{{-1000, 350}, {3250, 350}, {3250, 1000}, {3150, 1900}, {-500, 1900}, {-980, 1000}},
		Ratings:     vehicles.Ratings{FrontAxleKg: 1100, RearAxleKg: 1300, GrossKg: 2300},
		KeepOuts: []vehicles.KeepOut{
			{ID: "shaft", Name: "shaft swing", Kind: "moving", Outline: []vehicles.XY{{500, -70}, {2100, -70}, {2100, 70}, {500, 70}}, FloorMM: 250, CeilingMM: 420},
			{ID: "bump", Name: "bump travel", Kind: "moving", Outline: []vehicles.XY{{2150, -400}, {2650, -400}, {2650, 400}, {2150, 400}}, FloorMM: 250, CeilingMM: 470},
			{ID: "pipe", Name: "brake pipe", Kind: "fixed", Outline: []vehicles.XY{{300, 640}, {2000, 640}, {2000, 665}, {300, 665}}, FloorMM: 250, CeilingMM: 420},
		},
		Zones: []vehicles.Zone{{ID: "cab", Name: "cab", Kind: "passenger", Outline: []vehicles.XY{{-700, -800}, {400, -800}, {400, 800}, {-700, 800}}, FloorMM: 600, CeilingMM: 1850}},
		Rails: []vehicles.Rail{
			{ID: "l", Outline: []vehicles.XY{{-500, -480}, {3200, -480}, {3200, -430}, {-500, -430}}, FloorMM: 420, CeilingMM: 520},
			{ID: "r", Outline: []vehicles.XY{{-500, 430}, {3200, 430}, {3200, 480}, {-500, 480}}, FloorMM: 420, CeilingMM: 520},
		},
	}
}

// inventedModule has the outline of the 355 format.
func inventedModule() *vehicles.Module {
	return &vehicles.Module{
		Format: 1, ID: "block", Name: "Invented block", Invented: true,
		LengthMM: 355, WidthMM: 152, HeightMM: 108, MassKg: 11.5, Series: 4, Parallel: 3,
		Terminals: []vehicles.Terminal{
			{ID: "+", Polarity: "positive", Face: vehicles.Front, At: vehicles.XYZ{0, 38, 85}, StripMM: 35, DiameterMM: 14},
			{ID: "-", Polarity: "negative", Face: vehicles.Front, At: vehicles.XYZ{0, 114, 85}, StripMM: 35, DiameterMM: 14},
		},
		Ports: []vehicles.Port{
			{ID: "in", Kind: "coolant_in", Face: vehicles.Back, At: vehicles.XYZ{355, 30, 20}},
			{ID: "out", Kind: "coolant_out", Face: vehicles.Back, At: vehicles.XYZ{355, 122, 20}},
		},
	}
}

func inventedGear() *vehicles.Gear {
	return &vehicles.Gear{Format: 1, ID: "relay", Name: "Invented contactor", Kind: "contactor", LengthMM: 90, WidthMM: 70, HeightMM: 80, MassKg: 0.6,
		Terminals: []vehicles.Terminal{{ID: "1", Polarity: "none", Face: vehicles.Top, At: vehicles.XYZ{20, 35, 80}}, {ID: "2", Polarity: "none", Face: vehicles.Top, At: vehicles.XYZ{70, 35, 80}}}}
}

// inventedScene has three bays, each with a box of modules; nx by ny modules in each of two layers.
func inventedScene(nx, ny int) *layout.Scene {
	donor := inventedDonor()
	a := &layout.Arrangement{ID: "a", Name: "Invented arrangement"}
	w, l := 20+float64(ny)*157, 70+float64(nx)*395
	for i, y := range []float64{-840, 495 - 0} {
		a.Bays = append(a.Bays, bayAt(fmt.Sprintf("bay%d", i+1), 420, y, l+30, min(w+30, 345)))
	}
	a.Bays = append(a.Bays, bayAt("rear", 2680, -395, 460, 790))
	a.Boxes = append(a.Boxes, boxOf("left", 435, -840+15, nx, ny), boxOf("right", 435, 510, nx, ny), boxOf("rear", 2690, -385, 1, 4))
	a.Boxes[0].Name, a.Boxes[1].Name, a.Boxes[2].Name = "Left box", "Right box", "Rear box"
	p := &layout.Plan{Format: 1, Name: "Invented", Donor: "van", Arrangements: []*layout.Arrangement{a}}
	lib := (&vehicles.Library{}).With(vehicles.Records{Donors: []*vehicles.Donor{donor}, Modules: []*vehicles.Module{inventedModule()}, Gear: []*vehicles.Gear{inventedGear()}})
	return layout.Resolve(p, a, lib, nil)
}

func bayAt(id string, x, y, l, w float64) vehicles.Bay {
	return vehicles.Bay{ID: id, Name: "", ClearanceMM: 10,
		Levels: []vehicles.Level{{Outline: []vehicles.XY{{x, y}, {x + l, y}, {x + l, y + w}, {x, y + w}}, FloorMM: 200, CeilingMM: 520}}}
}

func boxOf(id string, x, y float64, nx, ny int) *layout.Box {
	l, w := 70+float64(nx)*395, 20+float64(ny)*157
	b := &layout.Box{ID: id, At: vehicles.XYZ{x, y, 205}, Bay: id,
		Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {l, 0}, {l, w}, {0, w}}, FloorMM: 0, CeilingMM: 250}},
		Shell:  layout.Shell{LinerMM: 2},
	}
	n := 0
	for layer := range 2 {
		for i := range nx {
			for j := range ny {
				n++
				b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprint(n), Module: "block", Posture: vehicles.Flat,
					At: vehicles.XYZ{50 + float64(i)*395, 8 + float64(j)*157, 6 + float64(layer)*118}})
			}
		}
	}
	b.Feet = []layout.Foot{{ID: "f1", At: vehicles.XYZ{80, -25, 250}, Normal: "up", Bolt: "M10", Class: "8.8"}, {ID: "f2", At: vehicles.XYZ{l - 80, -25, 250}, Normal: "up", Bolt: "M10", Class: "8.8"},
		{ID: "f3", At: vehicles.XYZ{80, w + 25, 250}, Normal: "up", Bolt: "M10", Class: "8.8"}, {ID: "f4", At: vehicles.XYZ{l - 80, w + 25, 250}, Normal: "up", Bolt: "M10", Class: "8.8"}}
	b.Openings = []layout.Opening{{ID: "plug", Kind: "connector", Face: "front", At: vehicles.XYZ{0, w / 2, 120}, DiameterMM: 45},
		{ID: "vent", Kind: "vent", Face: "rear", At: vehicles.XYZ{l, w / 2, 200}, DiameterMM: 25}, {ID: "drain", Kind: "drain", Face: "bottom", At: vehicles.XYZ{l - 30, 30, 0}, DiameterMM: 12}}
	return b
}
