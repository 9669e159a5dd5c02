package journal

import (
	"crypto/sha256"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// smallPlan is a plan for a donor that is invented and in no library.
func smallPlan() *layout.Plan {
	p := layout.NewPlan(&vehicles.Donor{ID: "dory"}, "Invented plan")
	p.Arrangements[0].Boxes = []*layout.Box{box("b1", 100)}
	return p
}

func box(id string, x float64) *layout.Box {
	return &layout.Box{ID: id, At: vehicles.XYZ{x, 0, 300},
		Levels:  []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {500, 0}, {500, 300}, {0, 300}}, CeilingMM: 200}},
		Modules: []layout.Placement{{ID: "m1", Module: "brick", Posture: vehicles.Flat}}}
}

// randomStep makes the next of a row of random edits that depends on nothing but r. It tells whether the plan changed.
func randomStep(d *layout.Document, r *rand.Rand) (bool, error) {
	a := d.Plan().Arrangements[0]
	kind, n := r.IntN(10), r.IntN(1000)
	var e layout.Edit
	var err error
	switch {
	case kind == 0 && d.CanUndo():
		return true, d.Undo()
	case kind == 1 && d.CanRedo():
		return true, d.Redo()
	case kind == 2 && len(a.Boxes) > 1:
		e, err = layout.Remove(d.Plan(), a.ID, a.Boxes[n%len(a.Boxes)].ID)
	case kind == 3 && len(a.Boxes) < 12:
		e, err = layout.PutBox(d.Plan(), a.ID, box(layout.FreshID("b", a.Taken), float64(n)))
	case kind == 4:
		e, err = layout.PutHeading(d.Plan(), layout.Heading{Name: fmt.Sprint("Plan ", n)})
	default:
		b := a.Boxes[n%len(a.Boxes)]
		e, err = layout.Move(d.Plan(), a.ID, []string{b.ID}, r3.Vector{X: float64(n%21-10) + 0.5})
	}
	if err != nil || layout.IsEmpty(e) {
		return false, err
	}
	return true, d.Do(e)
}

// sumOf is a short sum of a plan.
func sumOf(t testing.TB, p *layout.Plan) string {
	t.Helper()
	data, err := layout.Encode(p)
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf("%x", sha256.Sum256(data))
}
