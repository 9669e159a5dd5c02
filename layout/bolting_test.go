package layout

import (
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/vehicles"
)

// The frame: x rearward, y to the right, z up. Bolts point where their name says.
func TestBoltsPointWhereTheirNameSays(t *testing.T) {
	for name, want := range map[string]r3.Vector{
		"": {Z: -1}, "down": {Z: -1}, "up": {Z: 1}, "left": {Y: -1}, "right": {Y: 1}, "front": {X: -1}, "rear": {X: 1},
	} {
		if got := (&Foot{Normal: name}).Bolting(); got != want {
			t.Errorf("%q: %v, want %v", name, got, want)
		}
	}
}

// A foot outside a wall looks at the wall; one under the box runs along x, or along y where its bolts point along x.
func TestFootLooksAtTheNearestWall(t *testing.T) {
	b := &Box{ID: "b", Levels: []vehicles.Level{{Outline: rectangle(0, 0, 800, 400), CeilingMM: 200}}}
	for _, c := range []struct {
		at     vehicles.XYZ
		normal string
		want   r3.Vector
	}{
		{vehicles.XYZ{400, -25, 0}, "down", r3.Vector{Y: 1}},
		{vehicles.XYZ{400, 430, 0}, "down", r3.Vector{Y: -1}},
		{vehicles.XYZ{-30, 200, 0}, "down", r3.Vector{X: 1}},
		{vehicles.XYZ{830, 200, 0}, "up", r3.Vector{X: -1}},
		{vehicles.XYZ{400, 200, 0}, "down", r3.Vector{X: 1}},
		{vehicles.XYZ{400, 200, 0}, "left", r3.Vector{X: 1}},
		{vehicles.XYZ{400, 200, 0}, "rear", r3.Vector{Y: 1}},
	} {
		if got := b.FootInward(&Foot{At: c.at, Normal: c.normal}); got.Sub(c.want).Norm() > 1e-9 {
			t.Errorf("at %v, bolts %s: %v, want %v", c.at, c.normal, got, c.want)
		}
	}
}

// An event tells of pictures only where they changed.
func TestEventTellsOfPictures(t *testing.T) {
	with := func(us ...Underlay) *Plan { p := *testPlan(); p.Underlays = us; return &p }
	u := Underlay{ID: "u", View: "plan", File: "a.png", MMPerPx: 2}
	v := u
	v.MMPerPx = 3
	same := with(u)
	shared := *same
	for _, c := range []struct {
		before, after *Plan
		want          bool
	}{
		{with(), with(), false}, {with(u), with(u), false}, {same, &shared, false}, {with(u), with(), true}, {with(), with(u), true}, {with(u), with(v), true},
	} {
		if got := (Event{Before: c.before, After: c.after}).Underlays(); got != c.want {
			t.Errorf("%v to %v: %v", c.before.Underlays, c.after.Underlays, got)
		}
	}
}
