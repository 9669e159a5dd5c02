package mass

import (
	"fmt"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// donor is an invented van with a survey, parts, seats and load places.
func donor() *vehicles.Donor {
	return &vehicles.Donor{
		ID: "van", Name: "invented van", WheelbaseMM: 2600, TrackFrontMM: 1440, TrackRearMM: 1400, WheelRadiusMM: 310,
		Scales:          vehicles.Scales{FrontLeftKg: 372, FrontRightKg: 358, RearLeftKg: 318, RearRightKg: 326, ResolutionKg: 1},
		CentreOfGravity: vehicles.CGRise{HeightMM: 690, How: "axle_lift", PlusMinusMM: 20},
		Ratings:         vehicles.Ratings{FrontAxleKg: 1050, RearAxleKg: 1300, GrossKg: 2200},
		Tyres:           vehicles.Tyres{FrontLoadIndex: 91, RearLoadIndex: 91},
		Springs:         vehicles.Springs{FrontNPerMM: 22, RearNPerMM: 28},
		Seats: []vehicles.Seat{
			{Name: "driver", At: vehicles.XYZ{700, -380, 900}}, {Name: "front passenger", At: vehicles.XYZ{700, 380, 900}},
			{Name: "rear left", At: vehicles.XYZ{1700, -380, 920}}, {Name: "rear right", At: vehicles.XYZ{1700, 380, 920}},
		},
		LoadPlaces: []vehicles.LoadPlace{{ID: "floor", At: vehicles.XYZ{2500, 0, 750}}},
		Removed: []vehicles.Part{
			{ID: "engine", MassKg: 162, At: vehicles.XYZ{2750, 10, 560}, Known: "weighed", SizeMM: &vehicles.XYZ{600, 500, 550}},
			{ID: "tank", MassKg: 55, At: vehicles.XYZ{1200, -200, 480}, Known: "guess"},
		},
		Added: []vehicles.Part{{ID: "motor", MassKg: 64, At: vehicles.XYZ{2700, 0, 480}, Known: "datasheet"}},
	}
}

func module() *vehicles.Module {
	return &vehicles.Module{
		ID: "m12", Name: "invented module", LengthMM: 355, WidthMM: 151, HeightMM: 108, MassKg: 11.6, Series: 12, Parallel: 1,
		Cooling: vehicles.Cooling{Kind: "plate", VolumeL: 0.3},
	}
}

func rect(x0, y0, x1, y1 float64) []vehicles.XY {
	return []vehicles.XY{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// box holds n modules in a row along its length, with feet and openings.
func box(id string, n int, at vehicles.XYZ) *layout.Box {
	l := 20 + 160*float64(n)
	b := &layout.Box{
		ID: id, At: at, Levels: []vehicles.Level{{Outline: rect(0, 0, l, 400), CeilingMM: 150}},
		Shell: layout.Shell{LinerMM: 2},
		Feet: []layout.Foot{
			{ID: "f1", At: vehicles.XYZ{50, -25, 0}, Bolt: "M10", Class: "8.8"}, {ID: "f2", At: vehicles.XYZ{l - 50, 425, 0}, Bolt: "M10", Class: "8.8"},
		},
		Openings: []layout.Opening{{ID: "hv", Kind: "connector", Face: "front", At: vehicles.XYZ{0, 200, 75}, DiameterMM: 60}},
	}
	for i := range n {
		b.Modules = append(b.Modules, layout.Placement{
			ID: fmt.Sprintf("m%d", i+1), Module: "m12", At: vehicles.XYZ{10 + 160*float64(i) + 4, 20, 6}, Posture: vehicles.Flat, Turn: 90,
		})
	}
	return b
}

func sceneOf(d *vehicles.Donor, a *layout.Arrangement, prev *layout.Scene) *layout.Scene {
	lib := (&vehicles.Library{}).With(vehicles.Records{Donors: []*vehicles.Donor{d}, Modules: []*vehicles.Module{module()}})
	p := &layout.Plan{Donor: d.ID, Arrangements: []*layout.Arrangement{a}}
	if prev != nil {
		lib, p = prev.Library, prev.Plan
	}
	return layout.Resolve(p, a, lib, prev)
}

// fleet is an arrangement of boxes of modules each, along the vehicle on alternating sides.
func fleet(boxes, each int) *layout.Arrangement {
	a := &layout.Arrangement{ID: "a", Name: "a"}
	for i := range boxes {
		at := vehicles.XYZ{200 + 150*float64(i), -500 + 700*float64(i%2), 250}
		a.Boxes = append(a.Boxes, box(fmt.Sprintf("b%d", i+1), each, at))
	}
	return a
}

func BenchmarkFull400(b *testing.B) {
	s := sceneOf(donor(), fleet(16, 25), nil)
	b.ReportAllocs()
	for b.Loop() {
		Evaluate(s, nil, nil)
	}
}

// One box of 25 modules is moved; all else is taken over.
func BenchmarkMove400(b *testing.B) {
	a := fleet(16, 25)
	s := sceneOf(donor(), a, nil)
	first := Evaluate(s, nil, nil)
	moved := *a
	moved.Boxes = append([]*layout.Box{}, a.Boxes...)
	one := *a.Boxes[3]
	one.At[0] += 40
	moved.Boxes[3] = &one
	s2 := sceneOf(donor(), &moved, s)
	b.ReportAllocs()
	for b.Loop() {
		Evaluate(s2, nil, first)
	}
}

func BenchmarkReadings400(b *testing.B) {
	r := Evaluate(sceneOf(donor(), fleet(16, 25), nil), nil, nil)
	b.ReportAllocs()
	for b.Loop() {
		r.Readings()
	}
}
