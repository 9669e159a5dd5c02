package mass

import (
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// A connector that an opening names weighs once: at the opening, or where it is placed as gear.
func TestConnectorOfAnOpeningWeighsOnce(t *testing.T) {
	plug := &vehicles.Gear{ID: "plug", Name: "invented connector", Kind: "connector", LengthMM: 60, WidthMM: 60, HeightMM: 60, MassKg: 0.7}
	lib := (&vehicles.Library{}).With(vehicles.Records{Donors: []*vehicles.Donor{donor()}, Modules: []*vehicles.Module{module()}, Gear: []*vehicles.Gear{plug}})
	entries := func(b *layout.Box) []Entry {
		a := &layout.Arrangement{ID: "a", Name: "a", Boxes: []*layout.Box{b}}
		p := &layout.Plan{Donor: "van", Arrangements: []*layout.Arrangement{a}}
		var out []Entry
		for _, e := range Evaluate(layout.Resolve(p, a, lib, nil), nil, nil).Ledger() {
			if e.Name == plug.Name {
				out = append(out, e)
			}
		}
		return out
	}
	b := box("b", 2, vehicles.XYZ{1000, 100, 300})
	b.Openings[0].Gear = "plug"
	got := entries(b)
	if len(got) != 1 || got[0].Kg != 0.7 || got[0].Count != 1 {
		t.Fatalf("in the opening: %+v", got)
	}
	if at := got[0].At; at.X != 1000 || at.Y != 300 || at.Z != 375 { // the opening's centre [0, 200, 75] in the box
		t.Errorf("in the opening it weighs at %v", at)
	}
	b = box("b", 2, vehicles.XYZ{1000, 100, 300})
	b.Openings[0].Gear = "plug"
	b.Gear = []layout.PlacedGear{{ID: "plug", Gear: "plug", At: vehicles.XYZ{5, 170, 45}}}
	if got := entries(b); len(got) != 1 || got[0].Kg != 0.7 || got[0].Count != 1 {
		t.Errorf("placed as gear: %+v", got)
	}
}
