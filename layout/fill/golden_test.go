package fill

import (
	"testing"

	"stowbay/layout"
	"stowbay/layout/goldentest"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// Every figure of the problems that boxes pose, and where gear goes, so that none changes unnoticed. That what is packed passes
// the rules of fit, layout/check tests.
func TestNoFigureChangesUnnoticed(t *testing.T) {
	lib := vehicles.Catalogue()
	room := func(id string, turn float64) *layout.Box {
		return &layout.Box{ID: id, TurnDeg: turn, At: vehicles.XYZ{500, -400, 300}, Shell: layout.Shell{WallMM: 2, LinerMM: 3, LidMM: 1.5},
			Levels: []vehicles.Level{
				{Outline: []vehicles.XY{{0, 0}, {900, 0}, {900, 700}, {0, 700}}, CeilingMM: 320},
				{Outline: []vehicles.XY{{900, 0}, {1500, 100}, {1500, 700}, {900, 700}}, FloorMM: 60, CeilingMM: 250},
			},
			Modules: []layout.Placement{
				{ID: "m1", Module: "nmc-355", Posture: vehicles.Flat, At: vehicles.XYZ{20, 20, 6}, Locked: true},
				{ID: "m2", Module: "lfp-8s", Posture: vehicles.Flat, At: vehicles.XYZ{420, 20, 6}, Turn: 90, Locked: true},
				{ID: "m3", Module: "nmc-355", Posture: vehicles.Flat, At: vehicles.XYZ{20, 300, 6}},
			},
			Gear:     []layout.PlacedGear{{ID: "fuse", Gear: "fuse-200", At: vehicles.XYZ{600, 600, 6}}},
			Barriers: []layout.Barrier{{ID: "w", Outline: []vehicles.XY{{700, 10}, {702, 10}, {702, 300}, {700, 300}}, FloorMM: 5, CeilingMM: 200}},
		}
	}
	var values []any
	for _, turn := range []float64{0, 90, 180, 269, 270} {
		for _, keep := range []bool{false, true} {
			w := Wish{Module: lib.Module("nmc-355"), Target: 7, KeepAll: keep, Goal: packing.Goal{Forward: true, Rows: true}}
			p, err := Problem(room("box", turn), lib, w)
			if err != nil {
				t.Fatal(err)
			}
			values = append(values, p)
		}
	}
	for _, id := range []string{"lfp-8s", "lfp-590"} {
		p, err := Problem(room("box", 0), lib, Wish{Module: lib.Module(id)})
		if err != nil {
			t.Fatal(err)
		}
		values = append(values, p)
	}
	pieces := []layout.PlacedGear{{ID: "c", Gear: "contactor-250", Role: "positive"}, {ID: "f", Gear: "fuse-200"}, {ID: "d", Gear: "service-disconnect-250"}}
	for _, end := range []Corner{ToFront, ToRear} {
		b, err := Gear(room("box", 0), lib, pieces, end)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range b.Gear {
			values = append(values, g.ID, [3]float64(g.At), int(g.Turn), string(g.Posture))
		}
	}
	values = append(values, Words(packing.Result{Bound: 8, Proved: true}), Words(packing.Result{Bound: 3}))
	goldentest.Compare(t, "boxes", nil, values...)
}
