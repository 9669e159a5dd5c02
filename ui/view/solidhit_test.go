package view

import (
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout/drawing"
)

// From every side a module's top is picked where the drawing's own projection puts it; a box where it is empty.
func TestPickFromACorner(t *testing.T) {
	m := testModel(t, 72)
	for _, yaw := range []float64{-160, -90, -35, 0, 35, 120} {
		e := drawing.Eye{YawDeg: yaw, PitchDeg: 28}
		for _, b := range m.Scene().Boxes[0].Modules {
			c := b.Prism.Base.Bounds().Center()
			at := e.Point(r3.Vector{X: c.X, Y: c.Y, Z: b.Prism.Top})
			if got := SolidTop(m.Scene(), e, at); got != b.ID {
				t.Errorf("yaw %v: picked %q, want %q", yaw, got, b.ID)
			}
		}
		if got := SolidTop(m.Scene(), e, e.Point(r3.Vector{X: -5000})); got != "" {
			t.Errorf("yaw %v: picked %q beside the vehicle", yaw, got)
		}
	}
	e := drawing.Eye{YawDeg: 0, PitchDeg: 28}
	if got := SolidTop(testModel(t, 0).Scene(), e, e.Point(r3.Vector{X: 1000, Y: 0, Z: 270})); got != "low" {
		t.Errorf("picked %q, want the box", got)
	}
}

// Of two bodies in line the nearer one is picked: from the left the one further left.
func TestPickTheNearer(t *testing.T) {
	m := testModel(t, 16)
	e := drawing.Eye{YawDeg: 0, PitchDeg: 5}
	p := m.Scene().Body("low/m1").Prism
	b := p.Base.Bounds()
	if got := SolidTop(m.Scene(), e, e.Point(r3.Vector{X: b.Center().X, Y: b.Y.Lo, Z: (p.Bottom + p.Top) / 2})); got != "low/m1" {
		t.Errorf("picked %q, want low/m1", got)
	}
}

// What is seen at a place stands on the line of sight to it by the drawing's own projection: on a module's top where there
// is one, else as near as can be to the place given.
func TestPlaceSeenFromACorner(t *testing.T) {
	m := testModel(t, 16)
	e := drawing.Eye{YawDeg: 35, PitchDeg: 28}
	p := m.Scene().Body("low/m1").Prism
	c := p.Base.Bounds().Center()
	top := r3.Vector{X: c.X, Y: c.Y, Z: p.Top}
	if d := SolidPlace(m.Scene(), e, e.Point(top), r3.Vector{}).Sub(top).Norm(); d > 1e-6 {
		t.Errorf("%v mm off the module's top", d)
	}
	beside := r3.Vector{X: -5000, Y: 20, Z: 300}
	if d := SolidPlace(m.Scene(), e, e.Point(beside), beside).Sub(beside).Norm(); d > 1e-6 {
		t.Errorf("%v mm off the place beside the vehicle", d)
	}
}
