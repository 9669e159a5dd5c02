package view

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// pixelAt is where a pixel of a picture lies in the view's plane: columns to the right, rows down, turned clockwise, as
// the plan file defines it.
func pixelAt(u layout.Underlay, x, y float64) r2.Point {
	sin, cos := math.Sincos(-u.TurnDeg * math.Pi / 180)
	o := r2.Point{X: x, Y: -y}.Mul(u.MMPerPx)
	return u.At.Point().Add(r2.Point{X: o.X*cos - o.Y*sin, Y: o.X*sin + o.Y*cos})
}

func TestPictureComesToLieOnTheLandmarks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		u := layout.Underlay{MMPerPx: num("scale", 0.5, 20), TurnDeg: num("turn", -180, 180), At: vehicles.XY{num("x", -3000, 3000), num("y", -3000, 3000)}}
		ax, ay, bx, by := num("ax", 0, 500), num("ay", 0, 500), num("bx", 600, 1200), num("by", 0, 500)
		first, second := r2.Point{X: num("fx", -1000, 0), Y: num("fy", -500, 500)}, r2.Point{X: num("sx", 500, 4000), Y: num("sy", -500, 500)}
		got := Fitted(u, pixelAt(u, ax, ay), pixelAt(u, bx, by), Fitting{First: &first, Second: &second})
		if d := pixelAt(got, ax, ay).Sub(first).Norm(); d > 1e-6 {
			t.Errorf("the first point is %v mm off", d)
		}
		if d := pixelAt(got, bx, by).Sub(second).Norm(); d > 1e-6 {
			t.Errorf("the second point is %v mm off", d)
		}
	})
}

func TestPictureScaledAndTurnedByADistance(t *testing.T) {
	u := layout.Underlay{MMPerPx: 2, At: vehicles.XY{100, 200}}
	a, b := pixelAt(u, 10, 20), pixelAt(u, 310, 420) // 500 pixels, 1000 mm apart, down to the right
	got := Fitted(u, a, b, Fitting{Distance: 2400, Turn: Level})
	if p := pixelAt(got, 10, 20); p.Sub(a).Norm() > 1e-6 {
		t.Errorf("the first point moved to %v from %v", p, a)
	}
	if p := pixelAt(got, 310, 420); p.Sub(a.Add(r2.Point{X: 2400})).Norm() > 1e-6 {
		t.Errorf("the second point at %v, want 2400 mm to the right of %v", p, a)
	}
	second := r2.Point{X: 5, Y: 6}
	got = Fitted(u, a, b, Fitting{Distance: 100, Turn: Upright, Second: &second})
	if p := pixelAt(got, 10, 20); p.Sub(r2.Point{X: 5, Y: -94}).Norm() > 1e-6 {
		t.Errorf("the first point at %v, want 100 mm under the second", p)
	}
}

// Landmarks agree with the frame of reference: they are projections of places of the vehicle.
func TestLandmarksLieWhereTheViewsShowThem(t *testing.T) {
	d := testDonor()
	for _, c := range []struct {
		v    drawing.View
		name string
		at   r3.Vector
	}{
		{drawing.PlanView, "rear axle at the centre plane", r3.Vector{X: 2900}},
		{drawing.PlanView, "front left wheel's middle", r3.Vector{Y: -750}},
		{drawing.SideView, "rear wheel's centre", r3.Vector{X: 2900, Z: 320}},
		{drawing.RearView, "right wheel's centre", r3.Vector{Y: 750, Z: 320}},
	} {
		found := false
		for _, l := range Landmarks(d, c.v) {
			if l.Name == c.name {
				found = l.At == c.v.Point(c.at)
			}
		}
		if !found {
			t.Errorf("%v: %s is not at %v", c.v, c.name, c.v.Point(c.at))
		}
	}
}
