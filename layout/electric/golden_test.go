package electric

import (
	"testing"

	"stowbay/layout"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// inputs are what results are computed from.
var inputs = []string{"stowbay/layout", "stowbay/vehicles"}

// Every figure of some arrangements, so that none changes unnoticed. What they ought to be other tests check.
func TestNoFigureChangesUnnoticed(t *testing.T) {
	two := withInverter(planOf(boxOf("front", vehicles.XYZ{0, 0, 300}, 2, 3), boxOf("rear", vehicles.XYZ{2000, 100, 350}, 1, 4)))
	two.Settings.Electric = layout.Electric{ContinuousA: 90, PeakA: 260, HotC: 50}
	parallel := withInverter(planOf(boxOf("left", vehicles.XYZ{0, -900, 300}, 2, 3), boxOf("right", vehicles.XYZ{0, 300, 300}, 2, 3)))
	parallel.Arrangements[0].Series, parallel.Arrangements[0].Parallel = 6, 2
	geared := withInverter(planOf(boxOf("one", vehicles.XYZ{0, 0, 300}, 1, 5)))
	for i, id := range []string{"contactor", "fuse", "disconnect", "board", "precharge", "monitor"} {
		geared.Arrangements[0].Boxes[0].Gear = append(geared.Arrangements[0].Boxes[0].Gear, layout.PlacedGear{ID: id, Gear: id, At: vehicles.XYZ{20 + 90*float64(i), 830, 4}})
	}
	geared.Arrangements[0].Boxes[0].Levels[0].Outline = []vehicles.XY{{0, 0}, {600, 0}, {600, 920}, {0, 920}}
	turned := withInverter(planOf(boxOf("turned", vehicles.XYZ{100, 200, 300}, 1, 4)))
	turned.Arrangements[0].Boxes[0].TurnDeg = 30
	turned.Arrangements[0].Boxes[0].Modules[1].Turn = 180
	for name, p := range map[string]*layout.Plan{"two-boxes": two, "parallel": parallel, "geared": geared, "turned": turned} {
		t.Run(name, func(t *testing.T) {
			r := Evaluate(resolve(p), nil)
			goldentest.Compare(t, name, inputs, r.Readings(), r)
		})
	}
}
