package demo

import (
	"stowbay/layout"
	"stowbay/vehicles"
)

// Cooled is an invented plan with cooling: a van with two boxes, "one" and "two", of two plated modules each, a pump and a
// radiator, at 150 A. Its loop has no branches stated.
func Cooled() *layout.Plan {
	a := &layout.Arrangement{ID: "a", Name: "a", Boxes: []*layout.Box{cooledBox("one", 300), cooledBox("two", 1300)}}
	a.Gear = []layout.PlacedGear{{ID: "pump", Gear: "pump-20", At: vehicles.XYZ{0, 0, 500}}, {ID: "radiator", Gear: "radiator-6k", At: vehicles.XYZ{-700, 0, 400}}}
	p := &layout.Plan{Format: 1, Name: "p", Donor: "van-rear-engine", Arrangements: []*layout.Arrangement{a}}
	p.Settings.Electric.ContinuousA = 150
	return p
}

// cooledBox is a box of two modules, x mm behind the front axle.
func cooledBox(id string, x float64) *layout.Box {
	b := &layout.Box{ID: id, At: vehicles.XYZ{x, -400, 200}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {700, 0}, {700, 800}, {0, 800}}, CeilingMM: 300}}}
	for i, y := range []float64{20, 400} {
		b.Modules = append(b.Modules, layout.Placement{ID: string(rune('a' + i)), Module: "lfp-590", At: vehicles.XYZ{40, y, 10}, Posture: vehicles.Flat})
	}
	return b
}
