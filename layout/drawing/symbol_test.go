package drawing

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
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

// The way from the donor's centre of gravity is drawn where it is longer than 2.2 radii of the symbol, 92.4 mm. Symbols grow with
// names, to three times their size.
func TestWayOfTheCentreOfGravity(t *testing.T) {
	for mm, want := range map[float64]bool{92: false, 93: true} {
		a, b := r3.Vector{X: 1300, Z: 500}, r3.Vector{X: 1300 + mm, Z: 500}
		got := false
		for _, it := range PlanView.Draw(&layout.Scene{}, Options{CGDonor: &a, CG: &b}).Items {
			s, ok := it.(Stroke)
			got = got || ok && s.Of == Tag{Role: RoleCGDonor} && len(s.Points) == 2
		}
		if got != want {
			t.Errorf("%g mm: a way %v", mm, got)
		}
	}
	for k, want := range map[float64]float64{0.5: 21, 1: 42, 3: 126, 4: 126} {
		if got := newPen(PlanView, &Options{NameScale: k}).cgRadius(RoleCG); got != want {
			t.Errorf("names %g times as large: a radius of %g mm, want %g", k, got, want)
		}
	}
}

// Loads with the wheels' names fit where their boxes, half a track to either side of the middle, do not touch and stay in what is
// seen. The width reckoned with is that of the box drawn.
func TestLoadsBehindFitTheirTrack(t *testing.T) {
	kg := [4]float64{412, 405, 518, 530}
	o := Options{WheelKg: &kg}
	p := newPen(RearView, &o)
	p.wheelLoad(rearLeft, pt(0, 0))
	left, right := p.loadWidth(rearLeft, false), p.loadWidth(rearRight, false)
	if got := p.items[0].(Fill).Area.Bounds().Size().X; math.Abs(got-left) > 1e-9 || left == right {
		t.Errorf("a box %g wide, reckoned %g; the right one %g", got, left, right)
	}
	half := (left + right) / 2
	for _, c := range []struct {
		track  float64
		within r2.Rect
		want   bool
	}{
		{half + 1, r2.Rect{}, true}, {half - 1, r2.Rect{}, false},
		{1400, r2.RectFromPoints(pt(-(1400+left)/2-1, -0.5), pt((1400+right)/2+1, 0.5)), true},
		{1400, r2.RectFromPoints(pt(-(1400+left)/2+1, -0.5), pt((1400+right)/2+1, 0.5)), false},
		{1400, r2.RectFromPoints(pt(-(1400+left)/2-1, -0.5), pt((1400+right)/2-1, 0.5)), false},
	} {
		o.Within = c.within
		if got := p.loadsFit(c.track); got != c.want {
			t.Errorf("track %g within %v: %v", c.track, c.within, got)
		}
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
