package drawing

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// The symbol of a centre of gravity has two of its four quarters filled, which lie opposite one another.
func TestSymbolOfTheCentreOfGravity(t *testing.T) {
	at := r3.Vector{X: 1300, Y: 0, Z: 500}
	var quarters []geometry.Polygon
	for _, it := range PlanView.Draw(inventedScene(1, 1), Options{CG: &at}).Items {
		if f, ok := it.(Fill); ok && f.Of.Role == RoleCG {
			quarters = append(quarters, f.Area)
		}
	}
	if len(quarters) != 2 {
		t.Fatalf("%d parts are filled", len(quarters))
	}
	a, b := quarters[0].Bounds().Center(), quarters[1].Bounds().Center()
	if mid := a.Add(b).Mul(0.5); math.Abs(mid.X-1300) > 1e-6 || math.Abs(mid.Y) > 1e-6 {
		t.Errorf("the quarters lie about %v", mid)
	}
	if d := a.Sub(b); math.Abs(math.Abs(d.X)-math.Abs(d.Y)) > 1e-6 || d.Norm() < 1 {
		t.Errorf("the quarters are %v apart", d)
	}
}

// In plan the wheels' loads stand beside the vehicle: the left ones on its left, the right ones on its right, as far out.
func TestWheelLoadsStandBesideTheVehicle(t *testing.T) {
	s := inventedScene(1, 1)
	kg := [4]float64{411, 405, 518, 530}
	for _, scale := range []float64{1, 2} {
		got := texts(PlanView.Draw(s, Options{WheelKg: &kg, NameScale: scale}))
		at := map[string]float64{}
		for name, r := range got {
			for _, end := range []string{"411 kg", "405 kg", "518 kg", "530 kg"} {
				if strings.HasSuffix(name, end) {
					at[end] = r.Center().Y
					if r.Y.Lo < 860 && r.Y.Hi > -860 { // the body's half width
						t.Errorf("%s lies over the vehicle at %v", name, r)
					}
				}
			}
		}
		if len(at) != 4 || at["411 kg"] >= 0 || at["518 kg"] != at["411 kg"] || at["405 kg"] <= 0 || at["530 kg"] != at["405 kg"] {
			t.Errorf("the loads stand at %v", at)
		}
		if math.Abs(at["411 kg"]+at["405 kg"]) > 40*scale { // they are set from the same distance, each by a text's height
			t.Errorf("left and right are not alike: %v", at)
		}
	}
}
