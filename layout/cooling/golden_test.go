package cooling

import (
	"fmt"
	"testing"

	"stowbay/layout"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// Every figure of two loops, so that none changes unnoticed. What they ought to be other tests check.
func TestNoFigureChangesUnnoticed(t *testing.T) {
	for _, stated := range []bool{false, true} {
		a := &layout.Arrangement{ID: "a", Name: "a", Gear: []layout.PlacedGear{{ID: "pump", Gear: "pump-20"}, {ID: "radiator", Gear: "radiator-6k", At: vehicles.XYZ{-700, 0, 400}}}}
		for i := range 3 {
			b := &layout.Box{ID: fmt.Sprintf("b%d", i), At: vehicles.XYZ{float64(i) * 700, -400, 200}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {600, 0}, {600, 800}, {0, 800}}, CeilingMM: 300}}}
			for k := range 2 + i {
				b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", k), Module: "lfp-590", At: vehicles.XYZ{5, 200 * float64(k), 5}, Posture: vehicles.Flat})
			}
			a.Boxes = append(a.Boxes, b)
			a.Loop.Branches = append(a.Loop.Branches, layout.LoopBranch{ID: b.ID, Boxes: []string{b.ID}})
		}
		p := &layout.Plan{Format: 1, Name: "p", Donor: "van-rear-engine", Arrangements: []*layout.Arrangement{a}}
		name := "as-assumed"
		if stated {
			p.Settings.Cooling, name = layout.Cooling{GlycolPct: 40, InletC: 35, WarmFromC: -10, WarmToC: 5}, "as-stated"
		}
		t.Run(name, func(t *testing.T) {
			s := layout.Resolve(p, a, vehicles.Catalogue(), nil)
			heat := Heat{CurrentA: 100, W: map[string]float64{}}
			n := 0.0
			s.Bodies(func(_ *layout.BoxScene, m *layout.Body) { n++; heat.W[m.ID] = 20 + 3*n })
			r := Evaluate(s, heat)
			goldentest.Compare(t, name, []string{"stowbay/layout", "stowbay/vehicles"}, r.Readings(), r)
		})
	}
}
