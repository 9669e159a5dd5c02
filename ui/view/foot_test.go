package view

import (
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// A mounting foot is picked and dragged in the plan like a module; its box stays, and undoing brings it back.
func TestDragAFoot(t *testing.T) {
	m := testModel(t, 4)
	m.Display.Snap = false
	foot := layout.Foot{ID: "f1", At: vehicles.XYZ{-25, 100, 0}, Bolt: "M8", Class: "8.8"}
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		return layout.ChangeBox(p, a, "low", "Foot", func(b *layout.Box) error { b.Feet = []layout.Foot{foot}; return nil })
	}); err != nil {
		t.Fatal(err)
	}
	box := at(m, "low")
	x, y := box.X-25, box.Y+100
	ref := layout.FootRef("low", "f1")
	if got := NewIndex(m.Scene(), drawing.PlanView).Top(r2.Point{X: x, Y: y}, 0); got != (Hit{ref, FootKind}) {
		t.Fatalf("hit %v, want the foot", got)
	}
	drag(m, x, y, x-10, y+50)
	now := func() vehicles.XYZ { return m.Arrangement().Box("low").Feet[0].At }
	if now() != (vehicles.XYZ{-35, 150, 0}) || at(m, "low") != box {
		t.Errorf("foot at %v, box at %v", now(), at(m, "low"))
	}
	if refs := m.Selection.Refs(); len(refs) != 1 || refs[0] != ref {
		t.Errorf("picked %v", refs)
	}
	m.Undo()
	if now() != foot.At {
		t.Errorf("after undoing at %v", now())
	}
}
