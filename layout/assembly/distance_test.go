package assembly

import (
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// One box 1320 by 290 by 200 mm that begins at z = 300, walls 1.5 mm, floor 2 mm, bare metal of 6 mm radius. By hand: the
// middle of it is 145 - 1.5 from the side walls; a liner leaves only the rim bare, however thin it is.
func TestNearestMetalByHand(t *testing.T) {
	plain, lined := layout.Shell{FloorMM: 2}, layout.Shell{FloorMM: 2, LinerMM: 1}
	under, linedUnder := plain, lined
	under.LidSide, linedUnder.LidSide = "bottom", "bottom"
	middle := func(z float64) r3.Vector { return r3.Vector{X: 660, Y: 145, Z: z} }
	for name, c := range map[string]struct {
		shell layout.Shell
		at    r3.Vector
		mm    float64
		what  string
		z     float64
	}{
		"low over a bare floor":          {plain, middle(330), 30 - 2 - 6, "floor", 302},
		"on the floor":                   {plain, middle(303), 0, "floor", 302},
		"in the floor's thickness":       {plain, middle(300.5), 0, "floor", 302},
		"in the middle of bare walls":    {plain, middle(490), 143.5 - 6, "wall", 490},
		"above the walls":                {plain, middle(540), hypot(143.5, 40) - 6, "wall", 500},
		"below the box":                  {plain, middle(280), hypot(143.5, 20) - 6, "wall", 300},
		"beside a bare wall":             {plain, r3.Vector{X: 660, Y: 12, Z: 400}, 12 - 1.5 - 6, "wall", 400},
		"in a wall's thickness":          {plain, r3.Vector{X: 660, Y: 1, Z: 400}, 0, "wall", 400},
		"over a wall's thickness":        {plain, r3.Vector{X: 660, Y: 1, Z: 550}, 50 - 6, "wall", 500},
		"past the wall, over no floor":   {plain, r3.Vector{X: 660, Y: -20, Z: 310}, 20 - 1.5 - 6, "wall", 310},
		"low over a lined floor":         {lined, middle(330), hypot(143.5, 170) - 6, "rim", 500},
		"lid below, low over its plane":  {under, middle(330), 143.5 - 6, "wall", 330},
		"lid below, near the sheet":      {under, middle(480), 20 - 2 - 6, "floor", 498},
		"lid below, near the lined rim":  {linedUnder, middle(330), hypot(143.5, 30) - 6, "rim", 300},
		"lid below, over the whole box":  {under, middle(540), hypot(143.5, 40) - 6, "wall", 500},
		"at a lined wall, in the corner": {lined, r3.Vector{X: 10, Y: 20, Z: 500}, 10 - 1.5 - 6, "rim", 500},
	} {
		b := boxWith("b", "four", 4)
		b.Shell = c.shell
		got := metalNear(&Conductor{Box: sceneOf(b).Boxes[0], At: c.at, RadiusMM: 6})
		if near(t, name, got.mm, c.mm); got.what != c.what || got.at.Z != c.z {
			t.Errorf("%s: %s at %v, want %s at height %v", name, got.what, got.at, c.what, c.z)
		}
	}
}

// Even a point without size is not past the floor's inner face.
func TestPointInTheFloorIsAtTheFloor(t *testing.T) {
	b := boxWith("b", "four", 4)
	b.Shell = layout.Shell{FloorMM: 2}
	near(t, "distance", metalNear(&Conductor{Box: sceneOf(b).Boxes[0], At: r3.Vector{X: 660, Y: 145, Z: 301}}).mm, 0)
}

// A module's metal case is at its terminals; another module's case is not looked at.
func TestMetalCaseIsAtItsOwnTerminals(t *testing.T) {
	b := boxWith("b", "four", 2)
	b.Modules[1].Module = "steel"
	m := modelOf(b)
	for id, want := range map[string]string{"b/m1/-": "rim", "b/m2/-": "case"} {
		c := m.Conductor(id)
		got := metalNear(c)
		if got.what != want || want == "case" && (got.mm != 0 || got.at != c.At) {
			t.Errorf("%s: %+v, want the %s", id, got, want)
		}
	}
}

// Between bare metal of 6 mm radius each; what overlaps is no distance apart.
func TestApartIsBetweenBareMetal(t *testing.T) {
	for mm, want := range map[float64]float64{40: 28, 12.5: 0.5, 12: 0, 5: 0} {
		near(t, "distance", apart(&Conductor{RadiusMM: 6}, &Conductor{At: r3.Vector{Y: mm}, RadiusMM: 6}), want)
	}
}

func TestNearestPointOfAnEdge(t *testing.T) {
	at := func(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }
	for _, c := range []struct{ p, a, b, want r2.Point }{
		{at(0.25, 3), at(0, 0), at(1, 0), at(0.25, 0)},
		{at(1.75, 3), at(0, 0), at(1, 0), at(1, 0)},
		{at(-2, 3), at(0, 0), at(1, 0), at(0, 0)},
		{at(4, 0), at(0, 0), at(4, 4), at(2, 2)},
		{at(4, 5), at(2, 2), at(2, 2), at(2, 2)},
	} {
		if got := nearestOnEdge(c.p, c.a, c.b); got != c.want {
			t.Errorf("nearest to %v from %v to %v is %v, want %v", c.p, c.a, c.b, got, c.want)
		}
	}
}
