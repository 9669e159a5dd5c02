package search

import (
	"math"
	"testing"

	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// What each load case puts on board is what layout/mass puts there, with load places of the donor's own and without; the front
// axle has to steer where the clause is written for the category, and nobody drives an empty vehicle.
func TestLimitsOfTheLoadCases(t *testing.T) {
	for _, category := range []string{"", "M1", "N1"} {
		for _, places := range []string{"the donor's", "one of little", "none"} {
			y := newYard(t, []site{{x: 700, y: -300, z: 220, along: 2, across: 2, up: 1}}, block("b", 300, 150, 100, 11, 50, 1, vehicles.Flat))
			d := y.lib.Donor("yard-cart")
			d.Category = category
			switch places {
			case "one of little":
				d.LoadPlaces[0].MaxKg = 0.6
			case "none":
				d.LoadPlaces = nil
			}
			g, err := groundOf(y.plan, y.a, y.lib, y.a.Boxes, false)
			if err != nil {
				t.Fatal(err)
			}
			laden := g.rules.laden(g.bare.Cases[0].Now.Body.Kg.Value)
			for i := range g.bare.Cases {
				c := &g.bare.Cases[i]
				var want row
				for _, l := range c.Loads {
					want = want.plus(row{1, l.At.X, l.At.Y, 0}, l.Kg)
				}
				for k := range 3 { // heights are not needed
					if math.Abs(laden[i][k]-want[k]) > 1e-6*max(1, math.Abs(want[k])) {
						t.Errorf("%s, load places: %s: %v on board, not %v", c.ID, places, laden[i], want)
						break
					}
				}
				if got, want := g.rules.cases[i].steered, category == "N1" && c.ID != mass.CaseKerb; got != want {
					t.Errorf("category %q, %s: has to steer %v", category, c.ID, got)
				}
			}
		}
	}
}
