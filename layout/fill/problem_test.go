package fill

import (
	"testing"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// Forward in the vehicle is rearward in a box that is turned by more than a quarter.
func TestGoalTurnsWithTheBox(t *testing.T) {
	for turn, want := range map[float64]bool{0: true, 89.5: true, 90: true, 90.5: false, 180: false, 269.5: false, 270: true, 270.5: true,
		-89.5: true, -90: true, -90.5: false, -180: false, -269.5: false, 450: true, 450.5: false, -450: true, -450.5: false, 720: true} {
		g := goalInBox(packing.Goal{Forward: true}, turn)
		if g.Forward != want || g.Rearward == want {
			t.Errorf("turned by %g: %+v", turn, g)
		}
	}
}

// Half of the swelling is kept from each wall, and all of it between two modules, where that exceeds the gaps.
func TestSwellingIsPartOfTheGaps(t *testing.T) {
	for _, c := range []struct {
		axis string
		mm   float64
		want packing.Gaps
	}{
		{"length", 3, packing.Gaps{EndMM: 5, SideMM: 4, TopMM: 6, WallMM: 2}},
		{"length", 10, packing.Gaps{EndMM: 10, SideMM: 4, TopMM: 6, WallMM: 5}},
		{"width", 10, packing.Gaps{EndMM: 5, SideMM: 10, TopMM: 6, WallMM: 5}},
		{"height", 10, packing.Gaps{EndMM: 5, SideMM: 4, TopMM: 10, WallMM: 2}},
	} {
		m := &vehicles.Module{ID: "m", LengthMM: 300, WidthMM: 150, HeightMM: 100, Postures: []vehicles.Posture{vehicles.Flat},
			Gaps: vehicles.Gaps{EndMM: 5, SideMM: 4, TopMM: 6, WallMM: 2}, Swelling: vehicles.Swelling{Axis: c.axis, MM: c.mm}}
		ps := postures(Wish{Module: m})
		if len(ps) != 1 || ps[0].Gaps != c.want {
			t.Errorf("%s swells by %g: %+v", c.axis, c.mm, ps)
		}
	}
}

// Where each face of a module lying flat looks; turns 0 and 180 are told apart where its ends or sides differ.
func TestStripsOfAPosture(t *testing.T) {
	for _, c := range []struct {
		strips map[vehicles.Face]float64
		want   []packing.Strip
		differ bool
	}{
		{map[vehicles.Face]float64{vehicles.Front: 40}, []packing.Strip{{Face: packing.MinusX, DepthMM: 40}}, true},
		{map[vehicles.Face]float64{vehicles.Back: 40}, []packing.Strip{{Face: packing.PlusX, DepthMM: 40}}, true},
		{map[vehicles.Face]float64{vehicles.Left: 0.8}, []packing.Strip{{Face: packing.MinusY, DepthMM: 0.8}}, true},
		{map[vehicles.Face]float64{vehicles.Right: 40}, []packing.Strip{{Face: packing.PlusY, DepthMM: 40}}, true},
		{map[vehicles.Face]float64{vehicles.Top: 40}, []packing.Strip{{Face: packing.Top, DepthMM: 40}}, false},
		{map[vehicles.Face]float64{vehicles.Front: 40, vehicles.Back: 40}, []packing.Strip{{Face: packing.MinusX, DepthMM: 40}, {Face: packing.PlusX, DepthMM: 40}}, false},
		{map[vehicles.Face]float64{vehicles.Front: 40, vehicles.Back: 30}, []packing.Strip{{Face: packing.MinusX, DepthMM: 40}, {Face: packing.PlusX, DepthMM: 30}}, true},
		{map[vehicles.Face]float64{vehicles.Left: 40, vehicles.Right: 40}, []packing.Strip{{Face: packing.MinusY, DepthMM: 40}, {Face: packing.PlusY, DepthMM: 40}}, false},
		{map[vehicles.Face]float64{vehicles.Left: 40, vehicles.Right: 30}, []packing.Strip{{Face: packing.MinusY, DepthMM: 40}, {Face: packing.PlusY, DepthMM: 30}}, true},
		{map[vehicles.Face]float64{vehicles.Front: 0}, nil, true},
		{map[vehicles.Face]float64{vehicles.Front: 0, vehicles.Back: 0}, nil, false},
		{map[vehicles.Face]float64{vehicles.Right: 0}, nil, true},
		{map[vehicles.Face]float64{vehicles.Left: 0, vehicles.Right: 0}, nil, false},
	} {
		m := &vehicles.Module{ID: "m", LengthMM: 300, WidthMM: 150, HeightMM: 100}
		for _, f := range []vehicles.Face{vehicles.Front, vehicles.Back, vehicles.Left, vehicles.Right, vehicles.Top} {
			if depth, ok := c.strips[f]; ok {
				m.Terminals = append(m.Terminals, vehicles.Terminal{ID: string(f), Face: f, StripMM: depth})
			}
		}
		p, ok := posture(m, vehicles.Flat)
		if !ok || len(p.Strips) != len(c.want) || p.EndsDiffer != c.differ {
			t.Errorf("%v: %+v, %v", c.strips, p, ok)
			continue
		}
		for i, s := range c.want {
			if p.Strips[i] != s {
				t.Errorf("%v: %+v", c.strips, p.Strips)
			}
		}
	}
	m := &vehicles.Module{ID: "m", LengthMM: 300, WidthMM: 150, HeightMM: 100, Terminals: []vehicles.Terminal{{ID: "+", Face: vehicles.Bottom, StripMM: 30}}}
	if p, ok := posture(m, vehicles.Flat); ok {
		t.Errorf("stands on its terminals: %+v", p)
	}
	m.Terminals = nil
	m.Ports = []vehicles.Port{{ID: "in", Face: vehicles.Back, StripMM: 30}, {ID: "out", Face: vehicles.Back, StripMM: 60}}
	if p, ok := posture(m, vehicles.Flat); !ok || len(p.Strips) != 1 || p.Strips[0] != (packing.Strip{Face: packing.PlusX, DepthMM: 60}) {
		t.Errorf("the deeper of two strips: %+v, %v", p.Strips, ok)
	}
}

// What stands on a floor, within a millimetre, takes the height away; what hangs leaves room below it; a strip forbids only itself.
func TestObstaclesInABay(t *testing.T) {
	square := packing.Region{Outline: []packing.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}}
	gap := packing.Gaps{SideMM: 5, TopMM: 7, WallMM: 2}
	at := func(x, y, z, height float64) obstacle {
		o := obstacle{}
		o.lo.X, o.lo.Y, o.lo.Z = x, y, z
		o.hi.X, o.hi.Y, o.hi.Z = x+10, y+20, z+height
		return o
	}
	first := func(r packing.Region) [2]packing.Point { return [2]packing.Point{r.Outline[0], r.Outline[2]} }
	for _, c := range []struct {
		name      string
		o         obstacle
		strip     bool
		keepOut   [2]packing.Point
		forbidden [2]packing.Point
		from, to  float64
	}{
		{"stands", at(30, 40, 50, 60), false, [2]packing.Point{{X: 27, Y: 37}, {X: 43, Y: 63}}, [2]packing.Point{}, 0, 0},
		{"stands on feet", at(30, 40, 50.9, 60), false, [2]packing.Point{{X: 27, Y: 37}, {X: 43, Y: 63}}, [2]packing.Point{}, 0, 0},
		{"hangs", at(30, 40, 51.5, 60), false, [2]packing.Point{}, [2]packing.Point{{X: 25, Y: 35}, {X: 45, Y: 65}}, 44.5, 111.5},
		{"hangs high", at(30, 40, 100, 60), false, [2]packing.Point{}, [2]packing.Point{{X: 25, Y: 35}, {X: 45, Y: 65}}, 93, 160},
		{"is a strip", at(30, 40, 50, 60), true, [2]packing.Point{}, [2]packing.Point{{X: 30, Y: 40}, {X: 40, Y: 60}}, 50, 110},
		{"lies below", at(30, 40, 20, 30), false, [2]packing.Point{}, [2]packing.Point{}, 0, 0},
		{"lies above", at(30, 40, 200, 30), false, [2]packing.Point{}, [2]packing.Point{}, 0, 0},
		{"touches from the front", at(-10, 40, 50, 30), false, [2]packing.Point{}, [2]packing.Point{}, 0, 0},
		{"touches from the rear", at(100, 40, 50, 30), false, [2]packing.Point{}, [2]packing.Point{}, 0, 0},
		{"touches from the left", at(30, -20, 50, 30), false, [2]packing.Point{}, [2]packing.Point{}, 0, 0},
		{"touches from the right", at(30, 100, 50, 30), false, [2]packing.Point{}, [2]packing.Point{}, 0, 0},
		{"reaches in from the front", at(-9, 40, 50, 30), false, [2]packing.Point{{X: -12, Y: 37}, {X: 4, Y: 63}}, [2]packing.Point{}, 0, 0},
		{"reaches in from the right", at(30, 99, 50, 30), false, [2]packing.Point{{X: 27, Y: 96}, {X: 43, Y: 122}}, [2]packing.Point{}, 0, 0},
	} {
		b := packing.Bay{Levels: []packing.Level{{Region: square, FloorMM: 50, CeilingMM: 200}}}
		c.o.strip = c.strip
		add(&b, c.o, gap)
		var keepOut, forbidden [2]packing.Point
		if k := b.Levels[0].Region.KeepOuts; len(k) > 0 {
			keepOut = [2]packing.Point{k[0][0], k[0][2]}
		}
		from, to := 0.0, 0.0
		if len(b.Forbidden) > 0 {
			forbidden, from, to = first(b.Forbidden[0].Region), b.Forbidden[0].FromMM, b.Forbidden[0].ToMM
		}
		if keepOut != c.keepOut || forbidden != c.forbidden || from != c.from || to != c.to {
			t.Errorf("%s: keeps out %v, forbids %v from %g to %g", c.name, keepOut, forbidden, from, to)
		}
	}
	wide := packing.Bay{Levels: []packing.Level{{Region: square, FloorMM: 50, CeilingMM: 200}}}
	add(&wide, at(30, 40, 50, 60), packing.Gaps{SideMM: 2, WallMM: 5})
	if k := wide.Levels[0].Region.KeepOuts[0]; k[0] != (packing.Point{X: 30, Y: 40}) {
		t.Errorf("a wall's gap wider than the side's shrinks an obstacle to %v", k)
	}
}

// A step and a notch: each part of the plan with its own floor and ceiling, nothing of it lost, no splinter kept.
func TestColumns(t *testing.T) {
	rect := geometry.NewRect
	s := geometry.Space{Solids: []geometry.Prism{{Base: rect(0, 0, 400, 300), Bottom: 0, Top: 200}, {Base: rect(400, 0, 600, 300), Bottom: 50, Top: 260}},
		KeepOuts: []geometry.Prism{{Base: rect(0, 0, 100, 300), Bottom: 120, Top: 200}}}
	cs, err := columnsOf(s)
	if err != nil {
		t.Fatal(err)
	}
	volume, area := 0.0, 0.0
	for _, c := range cs {
		volume += c.base.Area() * (c.ceiling - c.floor)
		area += c.base.Area()
	}
	if want := 100*300*120. + 300*300*200 + 200*300*210; volume != want || area != 600*300 || len(cs) != 3 {
		t.Errorf("%d columns over %g mm² hold %g mm³, not %g", len(cs), area, volume, want)
	}
	for side, want := range map[float64]int{0.5: 0, 1: 0, 1.2: 1, 2: 1} {
		if got := len(appendColumns(nil, []geometry.Polygon{rect(0, 0, side, side)}, 0, 100)); got != want {
			t.Errorf("a square of %g mm: %d columns", side, got)
		}
	}
}

func TestWords(t *testing.T) {
	for want, r := range map[string]packing.Result{
		"14 fit; 15 is proved impossible": {Count: 14, Bound: 14, Proved: true},
		"14 fit; 15 is proved impossible on a 0.5 mm grid, and no more than 16 at any position": {Count: 14, Bound: 16, GridProved: true, GridMM: 0.5},
		"14 fit; 15 in whole layers is proved impossible, and more than 16 at any heights":      {Count: 14, Bound: 16, Layered: true, LayeredBound: 14},
		"14 fit in layers; no more than 15 in whole layers, nor than 16 at any heights":         {Count: 14, Bound: 16, Layered: true, LayeredBound: 15},
		"14 found when stopped; no more than 16":                                                {Count: 14, Bound: 16, Stopped: true},
		"best found 14; no more than 16":                                                        {Count: 14, Bound: 16},
	} {
		if got := Words(r); got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
}

// usual is an arrangement with so many modules of each kind.
func usual(n map[string]int) *layout.Arrangement {
	b := &layout.Box{ID: "b"}
	for id, k := range n {
		for range k {
			b.Modules = append(b.Modules, layout.Placement{Module: id})
		}
	}
	return &layout.Arrangement{ID: "a", Boxes: []*layout.Box{b}}
}

func TestUsualModule(t *testing.T) {
	none := usual(nil)
	for _, c := range []struct {
		name string
		p    layout.Plan
		a    *layout.Arrangement
		want string
	}{
		{"most used", layout.Plan{}, usual(map[string]int{"a": 2, "b": 3, "c": 1}), "b"},
		{"used as often", layout.Plan{}, usual(map[string]int{"c": 2, "b": 2}), "b"},
		{"in the plan", layout.Plan{Arrangements: []*layout.Arrangement{none, usual(map[string]int{"a": 1, "d": 2})}}, none, "d"},
		{"searched for", layout.Plan{Settings: layout.Settings{Search: layout.Search{Modules: []string{"s"}}}}, none, "s"},
		{"in the library", layout.Plan{Library: layout.Library{Modules: []*vehicles.Module{{ID: "l"}}}}, none, "l"},
		{"none", layout.Plan{}, none, ""},
	} {
		if got := UsualModule(&c.p, c.a); got != c.want {
			t.Errorf("%s: %q, not %q", c.name, got, c.want)
		}
	}
}
