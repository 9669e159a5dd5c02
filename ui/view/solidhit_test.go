package view

import (
	"slices"
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
			if got := SolidTop(m.Scene(), 0, e, at); got != b.ID {
				t.Errorf("yaw %v: picked %q, want %q", yaw, got, b.ID)
			}
		}
		if got := SolidTop(m.Scene(), 0, e, e.Point(r3.Vector{X: -5000})); got != "" {
			t.Errorf("yaw %v: picked %q beside the vehicle", yaw, got)
		}
	}
	e := drawing.Eye{YawDeg: 0, PitchDeg: 28}
	if got := SolidTop(testModel(t, 0).Scene(), 0, e, e.Point(r3.Vector{X: 1000, Y: 0, Z: 270})); got != "low" {
		t.Errorf("picked %q, want the box", got)
	}
}

// Of two bodies in line the nearer one is picked: from the left the one further left.
func TestPickTheNearer(t *testing.T) {
	m := testModel(t, 16)
	e := drawing.Eye{YawDeg: 0, PitchDeg: 5}
	p := m.Scene().Body("low/m1").Prism
	b := p.Base.Bounds()
	if got := SolidTop(m.Scene(), 0, e, e.Point(r3.Vector{X: b.Center().X, Y: b.Y.Lo, Z: (p.Bottom + p.Top) / 2})); got != "low/m1" {
		t.Errorf("picked %q, want low/m1", got)
	}
}

// What is on a layer that is off is not seen, and not picked: not in a view, by a band or from a corner.
func TestHiddenThingsAreNotPicked(t *testing.T) {
	m := testModel(t, 1)
	c := m.Scene().Body("low/m1").Prism
	at := c.Base.Bounds().Center()
	e := drawing.Eye{YawDeg: 35, PitchDeg: 28}
	for _, step := range []struct {
		off       drawing.Layer
		top, eyed string
		in        []string
	}{
		{0, "low/m1", "low/m1", []string{"low/m1"}},
		{drawing.LayerModules, "low", "low", []string{"low"}},
		{drawing.LayerModules | drawing.LayerBoxes, "mid", "", nil},
		{drawing.LayerModules | drawing.LayerBoxes | drawing.LayerBays, "", "", nil},
		{drawing.LayerBays, "low/m1", "low/m1", []string{"low/m1"}},
	} {
		x := NewIndex(m.Scene(), drawing.PlanView)
		x.Off = step.off
		if got := x.Top(at, 3).Ref; got != step.top {
			t.Errorf("layers %b off: %q is picked, want %q", step.off, got, step.top)
		}
		if hits := x.At(at, 3); len(hits) > 0 && hits[0].Ref != step.top || len(hits) == 0 && step.top != "" {
			t.Errorf("layers %b off: %v lie there", step.off, hits)
		}
		if got := x.In(x.Bounds("low").ExpandedByMargin(1)); !slices.Equal(got, step.in) {
			t.Errorf("layers %b off: %q lie in a band, want %q", step.off, got, step.in)
		}
		if got := SolidTop(m.Scene(), step.off, e, e.Point(r3.Vector{X: at.X, Y: at.Y, Z: c.Top})); got != step.eyed {
			t.Errorf("layers %b off: %q is picked from a corner, want %q", step.off, got, step.eyed)
		}
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
	if d := SolidPlace(m.Scene(), 0, e, e.Point(top), r3.Vector{}).Sub(top).Norm(); d > 1e-6 {
		t.Errorf("%v mm off the module's top", d)
	}
	beside := r3.Vector{X: -5000, Y: 20, Z: 300}
	if d := SolidPlace(m.Scene(), 0, e, e.Point(beside), beside).Sub(beside).Norm(); d > 1e-6 {
		t.Errorf("%v mm off the place beside the vehicle", d)
	}
}
