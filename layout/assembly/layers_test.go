package assembly

import (
	"slices"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Four modules 300 by 150 by 110 mm: m2 beside m1 on the floor, m3 on both, m4 on m3 over m2 alone. What stands above a module
// comes out before it, the topmost first.
func TestAboveIsWhatHasToComeOutFirst(t *testing.T) {
	b := boxWith("box", "four", 0)
	b.Levels[0].Outline = []vehicles.XY{{0, 0}, {800, 0}, {800, 400}, {0, 400}}
	b.Levels[0].CeilingMM = 400
	for id, at := range map[string]vehicles.XYZ{"m1": {20, 20, 4}, "m2": {330, 20, 4}, "m3": {180, 20, 116}, "m4": {470, 20, 228}} {
		b.Modules = append(b.Modules, layout.Placement{ID: id, Module: "four", Posture: vehicles.Flat, At: at})
	}
	slices.SortFunc(b.Modules, func(x, y layout.Placement) int { return int(x.ID[1]) - int(y.ID[1]) })
	s := sceneOf(b).Boxes[0]
	for i, want := range [][]string{{"box/m4", "box/m3"}, {"box/m4", "box/m3"}, {"box/m4"}, nil} {
		var got []string
		for _, x := range above(s, s.Modules[i]) {
			got = append(got, x.ID)
		}
		if !slices.Equal(got, want) {
			t.Errorf("above %s are %v, want %v", s.Modules[i].ID, got, want)
		}
	}
}
