package view

import (
	"slices"
	"testing"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// edge is the place of the line that something snaps to for a reason, low sides to a low one.
func edge(t *testing.T, es []Edge, why string, side int8) float64 {
	t.Helper()
	i := slices.IndexFunc(es, func(e Edge) bool { return e.Why == why && e.Side == side })
	if i < 0 {
		t.Fatalf("nothing to snap to is called %q", why)
	}
	return es[i].At
}

// From the side and from behind modules keep the 5 mm to the walls that they keep in plan; on the floor they stand. The box is
// at 600, -300, 260, of 2 mm sheet.
func TestWallsAreKeptOffInEveryView(t *testing.T) {
	m := testModel(t, 1)
	for v, want := range map[drawing.View][2]float64{drawing.PlanView: {607, -293}, drawing.SideView: {607, 262}, drawing.RearView: {-293, 262}} {
		s := m.Snapper([]string{"low/m1"}, v)
		if x, y := edge(t, s.X, "wall", -1), edge(t, s.Y, "wall", -1); x != want[0] || y != want[1] {
			t.Errorf("%v: walls at %g, %g, want %v", v, x, y, want)
		}
	}
}

// Modules that swell upward by 8 mm each are stacked 8 mm apart, half the growth of either: the lower one reaches up to 322.
func TestStackedModulesSnapAtTheirSwelling(t *testing.T) {
	m := testModel(t, 2)
	block := *m.Library().Module("block")
	block.Swelling = vehicles.Swelling{Axis: "height", MM: 8}
	if err := m.Do(func(p *layout.Plan, _ string) (layout.Edit, error) {
		return layout.PutRecords(p, vehicles.Records{Modules: []*vehicles.Module{&block}})
	}); err != nil {
		t.Fatal(err)
	}
	if got := edge(t, m.Snapper([]string{"low/m1"}, drawing.SideView).Y, "8 mm from m2", -1); got != 330 {
		t.Errorf("stacked at %g, want 330", got)
	}
}

// Boxes and gear outside them line up with other gear there.
func TestGearOutsideIsSnappedTo(t *testing.T) {
	m := testModel(t, 0)
	pump := &vehicles.Gear{Format: 1, ID: "pump", Name: "Pump", Kind: "pump", LengthMM: 80, WidthMM: 60, HeightMM: 50, MassKg: 1}
	for _, act := range []Act{
		func(p *layout.Plan, _ string) (layout.Edit, error) {
			return layout.PutRecords(p, vehicles.Records{Gear: []*vehicles.Gear{pump}})
		},
		func(p *layout.Plan, a string) (layout.Edit, error) {
			return layout.PutGear(p, a, "", layout.PlacedGear{ID: "k1", Gear: "pump", At: vehicles.XYZ{1700, 0, 300}})
		},
	} {
		if err := m.Do(act); err != nil {
			t.Fatal(err)
		}
	}
	if got := edge(t, m.Snapper([]string{"low"}, drawing.PlanView).X, "touching k1", +1); got != 1700 {
		t.Errorf("touched at %g, want 1700", got)
	}
	if s := m.Snapper([]string{"k1"}, drawing.PlanView); slices.ContainsFunc(s.X, func(e Edge) bool { return e.Why == "touching k1" }) {
		t.Error("what is moved snaps to itself")
	}
}
