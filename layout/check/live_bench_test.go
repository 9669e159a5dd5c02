package check_test

import (
	"testing"

	"stowbay/layout/check"
	"stowbay/layout/cooling"
	"stowbay/layout/demo"
	"stowbay/layout/restraint"
	"stowbay/vehicles"
)

// BenchmarkSubjects are the subjects that follow an edit, for the demonstration plan.
func BenchmarkSubjects(b *testing.B) {
	p, err := demo.Plan()
	if err != nil {
		b.Fatal(err)
	}
	p.Settings.Restraint.Set = "iso12991-m1n1"
	e := check.Evaluate(p, p.Arrangements[0], vehicles.Catalogue(), nil)
	var ws []restraint.Weight
	for _, m := range e.Mass.Boxes {
		ws = append(ws, restraint.Weight{Box: m.ID, Kg: m.Body.Kg.Value, CG: m.Body.CG()})
	}
	b.Run("restraint", func(b *testing.B) {
		for b.Loop() {
			restraint.Evaluate(e.Scene, ws, nil)
		}
	})
	b.Run("restraint taken over", func(b *testing.B) {
		for b.Loop() {
			restraint.Evaluate(e.Scene, ws, e.Restraint)
		}
	})
	b.Run("cooling", func(b *testing.B) {
		for b.Loop() {
			cooling.Evaluate(e.Scene, cooling.Heat{})
		}
	})
	for _, prefix := range []string{"restraint.", "place.", "cooling.", "range."} {
		b.Run("rules "+prefix, func(b *testing.B) {
			for b.Loop() {
				for _, r := range check.Table() {
					if len(r.Name) > len(prefix) && r.Name[:len(prefix)] == prefix {
						r.Run(e)
					}
				}
			}
		})
	}
}
