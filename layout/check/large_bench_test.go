package check_test

import (
	"fmt"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/cooling"
	"stowbay/layout/restraint"
	"stowbay/layout/roadload"
	"stowbay/vehicles"
)

// BenchmarkLargeSubjects are the same subjects for eight boxes of fifty plated modules with eight feet each.
func BenchmarkLargeSubjects(b *testing.B) {
	a := &layout.Arrangement{ID: "a", Name: "a", Gear: []layout.PlacedGear{{ID: "pump", Gear: "pump-20"}, {ID: "radiator", Gear: "radiator-6k", At: vehicles.XYZ{-700, 0, 400}}}}
	for i := range 8 {
		x := &layout.Box{ID: fmt.Sprintf("b%d", i), At: vehicles.XYZ{float64(i) * 700, -400, 200}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {600, 0}, {600, 800}, {0, 800}}, CeilingMM: 300}}}
		for k := range 50 {
			x.Modules = append(x.Modules, layout.Placement{ID: fmt.Sprintf("m%d", k), Module: "lfp-590", At: vehicles.XYZ{0, float64(k), 5}, Posture: vehicles.Flat})
		}
		for k := range 8 {
			x.Feet = append(x.Feet, layout.Foot{ID: fmt.Sprintf("f%d", k), At: vehicles.XYZ{float64(k%2)*650 - 25, float64(k/2) * 250, 0}, Bolt: "M10", Class: "8.8"})
		}
		a.Boxes = append(a.Boxes, x)
		a.Loop.Branches = append(a.Loop.Branches, layout.LoopBranch{ID: x.ID, Boxes: []string{x.ID}})
	}
	p := &layout.Plan{Format: 1, Name: "p", Donor: "van-rear-engine", Arrangements: []*layout.Arrangement{a}}
	p.Settings.Restraint.Set = "r100-m1n1"
	lib := vehicles.Catalogue()
	s := layout.Resolve(p, a, lib, nil)
	heat := cooling.Heat{CurrentA: 100, W: map[string]float64{}}
	s.Bodies(func(_ *layout.BoxScene, m *layout.Body) { heat.W[m.ID] = 30 })
	var ws []restraint.Weight
	for _, x := range s.Boxes {
		lo, hi := x.Outer.Bounds()
		ws = append(ws, restraint.Weight{Box: x.Box.ID, Kg: 200, CG: lo.Add(hi).Mul(0.5)})
	}
	held := restraint.Evaluate(s, ws, nil)
	ws[0].Kg++
	b.Run("restraint after an edit in one box", func(b *testing.B) {
		for b.Loop() {
			restraint.Evaluate(s, ws, held)
		}
	})
	b.Run("cooling", func(b *testing.B) {
		for b.Loop() {
			cooling.Evaluate(s, heat)
		}
	})
	b.Run("range", func(b *testing.B) {
		for b.Loop() {
			roadload.Evaluate(s.Donor, p.Settings.Range, 2000, roadload.Pack{UsableKWh: 60, ModuleKWh: 2, ModuleKg: 20})
		}
	})
	e := &check.Evaluation{Plan: p, Arrangement: a, Scene: s, Restraint: held}
	b.Run("rules on mounts", func(b *testing.B) {
		for b.Loop() {
			for _, r := range check.Table() {
				if len(r.Name) > 10 && r.Name[:10] == "restraint." {
					r.Run(e)
				}
			}
		}
	})
	b.Run("way out", func(b *testing.B) {
		for b.Loop() {
			for _, r := range check.Table() {
				if r.Name == "place.removal" || r.Name == "place.crush" {
					r.Run(e)
				}
			}
		}
	})
}
