package drawing

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// On a screen, names of keep-outs give way to those of boxes however small the views are.
func TestEveryBoxIsNamedOnAScreen(t *testing.T) {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	s := layout.Resolve(p, p.Arrangements[0], p.LibraryOver(vehicles.Catalogue()), nil)
	for v, within := range map[View]r2.Rect{
		PlanView: r2.RectFromPoints(pt(-1500, -1250), pt(4100, 1250)),
		SideView: r2.RectFromPoints(pt(-1300, -1200), pt(3900, 2500)),
		RearView: r2.RectFromPoints(pt(-1300, -900), pt(1300, 2500)),
	} {
		for step := -3; step <= 4; step++ {
			o := Options{OnScreen: true, Within: within, NameScale: math.Pow(2, float64(step)/3),
				CG: &r3.Vector{X: 1291, Y: -14, Z: 550}, CGDonor: &r3.Vector{X: 1284, Z: 604}, WheelKg: &[4]float64{413, 388, 470, 447}}
			named := map[string]bool{}
			for _, it := range v.Draw(s, o).Items {
				if t, ok := it.(Text); ok && t.Of.Role == RoleLabel {
					named[t.Of.Ref] = true
				}
			}
			for _, b := range s.Boxes {
				if !named[b.Box.ID] {
					t.Errorf("%s, names larger by %.2f: %s is not named", v, o.NameScale, b.Box.ID)
				}
			}
		}
	}
}
