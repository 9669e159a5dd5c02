package mass

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// lids are the areas of a box's lids, mm2, in the order of the panels.
func lids(levels []vehicles.Level, flange float64) []float64 {
	var out []float64
	for _, p := range Panels(&layout.Box{Levels: levels, Shell: layout.Shell{WallMM: 2, FlangeMM: flange}}) {
		if p.Kind == LidPanel {
			out = append(out, p.AreaMM2)
		}
	}
	return out
}

// A lid covers the flanges round it, by hand: 20 mm on every free side and over the corners between two such sides.
func TestLidCoversItsFlanges(t *testing.T) {
	left := []vehicles.Level{{Outline: rect(0, 0, 500, 300), CeilingMM: 300}, {Outline: rect(500, 0, 900, 500), CeilingMM: 180}}
	right := []vehicles.Level{{Outline: rect(0, 200, 500, 500), CeilingMM: 300}, {Outline: rect(500, 0, 900, 500), CeilingMM: 180}}
	for _, c := range []struct {
		name   string
		levels []vehicles.Level
		flange float64
		want   []float64
	}{
		{"rectangle", shapes()["rectangle"], 20, []float64{840 * 540}},
		{"half a millimetre", shapes()["rectangle"], 0.5, []float64{801 * 501}},
		{"L, whose notch grows smaller", shapes()["L"], 20, []float64{840*640 - 450*300}},
		{"against a step on a whole side", shapes()["lid step"], 20, []float64{420 * 540, 540 * 540}},
		{"against a step on the right part of a side", right, 20, []float64{440*540 - 20*320, 540 * 340}},
		{"against a step on the left part of a side", left, 20, []float64{440*540 - 20*320, 540 * 340}},
	} {
		got := lids(c.levels, c.flange)
		if len(got) != len(c.want) {
			t.Errorf("%s: lids %v, want %v", c.name, got, c.want)
			continue
		}
		for i := range got {
			near(t, c.name, got[i], c.want[i], 1e-3)
		}
	}
}

// A rectangle and an octagon moved outward and inward; nothing comes of a side that vanishes, of a corner that sticks in, of a hole, nor
// of a corner whose mitre would reach farther than four times the offset: one over the sine of half its angle.
func TestConvexOffset(t *testing.T) {
	octagon := make(geometry.Ring, 8)
	for i := range octagon {
		s, c := math.Sincos(math.Pi / 4 * float64(i))
		octagon[i] = r2.Point{X: 100 * c, Y: 100 * s}
	}
	apothem := 100 * math.Cos(math.Pi/8)
	ell := geometry.Ring{{X: 0, Y: 0}, {X: 80, Y: 0}, {X: 80, Y: 30}, {X: 35, Y: 30}, {X: 35, Y: 60}, {X: 0, Y: 60}}
	wedge := func(degrees float64) geometry.Polygon {
		return geometry.Polygon{Outer: geometry.Ring{{X: 0, Y: 0}, {X: 100, Y: -100 * math.Tan(degrees*math.Pi/360)}, {X: 100, Y: 100 * math.Tan(degrees*math.Pi/360)}}}
	}
	atLimit := 2 * math.Asin(0.25) * 180 / math.Pi
	plain := geometry.NewRect(0, 0, 100, 40)
	for _, c := range []struct {
		name string
		p    geometry.Polygon
		d    float64
		area float64 // 0: no answer
	}{
		{"outward", plain, 10, 120 * 60},
		{"inward", plain, -10, 80 * 20},
		{"all but gone", plain, -19.9, 60.2 * 0.2},
		{"gone", plain, -20.1, 0},
		{"octagon", geometry.Polygon{Outer: octagon}, 10, 8 * math.Tan(math.Pi/8) * (apothem + 10) * (apothem + 10)},
		{"octagon inward", geometry.Polygon{Outer: octagon}, -10, 8 * math.Tan(math.Pi/8) * (apothem - 10) * (apothem - 10)},
		{"corner that sticks in", geometry.Polygon{Outer: ell}, 10, 0},
		{"hole", geometry.Polygon{Outer: plain.Outer, Holes: []geometry.Ring{geometry.NewRect(10, 10, 20, 20).Outer.Reversed()}}, 1, 0},
		{"too sharp", wedge(atLimit - 0.2), 1, 0},
	} {
		r, ok := convexOffset(c.p, c.d)
		if ok != (c.area > 0) {
			t.Errorf("%s: answers %v", c.name, ok)
		} else if ok {
			near(t, c.name, r.Area(), c.area, 1e-6)
		}
	}
	if _, ok := convexOffset(wedge(atLimit+0.2), 1); !ok {
		t.Error("no answer for a corner that is just blunt enough")
	}
}

// straight is an edge along x from the origin, with those tangents of half the turns at its ends.
func straight(length, turnA, turnB float64) edge {
	return edge{dir: r2.Point{X: 1}, length: length, turnA: turnA, turnB: turnB}
}

// The bottom of a slot, 30 mm wide with a flange of 20 mm: the mitres from both ends meet before they are through.
func TestStripInANarrowSlotIsATriangle(t *testing.T) {
	s := stretch{straight(30, -1, -1), 0, 30}
	p := s.strip(20, true, true)
	for i, want := range []r2.Point{{X: 0}, {X: 15, Y: -20}, {X: 15, Y: -20}, {X: 30}} {
		if p.Outer[i].Sub(want).Norm() > 1e-9 {
			t.Errorf("corner %d at %v, want %v", i, p.Outer[i], want)
		}
	}
	near(t, "square where nothing joins", s.strip(20, false, false).Area(), 600, 1e-9)
}

// Ends nearer than two lattice steps, 0.02 mm, join.
func TestStretchesJoinWithinTwoSteps(t *testing.T) {
	all := []stretch{{straight(100, 0, 0), 10, 90}, {straight(50, 0, 0), 0, 5}}
	for x, want := range map[float64]bool{10.015: true, 10.025: false, 9.985: true, 90.015: true, 90.025: false, 50: false} {
		if got := joins(all, 1, r2.Point{X: x}); got != want {
			t.Errorf("at %v: joins is %v, want %v", x, got, want)
		}
	}
	if joins(all, 0, r2.Point{X: 10}) {
		t.Error("a stretch joins itself")
	}
}

// What is left of a stretch from 10 to 100, where it is longer than 0.02 mm.
func TestWithout(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   []stretch
	}{
		{20, 30, []stretch{{lo: 10, hi: 20}, {lo: 30, hi: 100}}},
		{10.015, 30, []stretch{{lo: 30, hi: 100}}},
		{10.025, 30, []stretch{{lo: 10, hi: 10.025}, {lo: 30, hi: 100}}},
		{20, 99.985, []stretch{{lo: 10, hi: 20}}},
		{20, 99.975, []stretch{{lo: 10, hi: 20}, {lo: 99.975, hi: 100}}},
		{0, 200, nil},
	} {
		got := without([]stretch{{straight(100, 0, 0), 10, 100}}, c.lo, c.hi)
		if len(got) != len(c.want) {
			t.Errorf("without %v to %v: %v", c.lo, c.hi, got)
			continue
		}
		for i := range got {
			near(t, "from", got[i].lo, c.want[i].lo, 1e-12)
			near(t, "to", got[i].hi, c.want[i].hi, 1e-12)
		}
	}
}

// Two edges have a stretch in common where both ends of one are within 0.02 mm of the other's line and it is longer than that.
func TestEdgesInCommon(t *testing.T) {
	to := func(x0, y0, x1, y1 float64) edge {
		d := r2.Point{X: x1 - x0, Y: y1 - y0}
		return edge{a: r2.Point{X: x0, Y: y0}, dir: d.Normalize(), length: d.Norm()}
	}
	e := to(0, 0, 100, 0)
	for _, c := range []struct {
		f        edge
		lo, hi   float64
		same, ok bool
	}{
		{to(20, 0, 50, 0), 20, 50, true, true},
		{to(50, 0, 20, 0), 20, 50, false, true},
		{to(-20, 0, 150, 0), 0, 100, true, true},
		{to(20, 0.015, 50, 0.015), 20, 50, true, true},
		{to(20, 0.025, 50, 0.025), 0, 0, true, false},
		{to(20, 0, 50, 0.025), 0, 0, true, false},
		{to(20, -0.025, 50, 0), 0, 0, true, false},
		{to(99.975, 0, 200, 0), 99.975, 100, true, true},
		{to(99.985, 0, 200, 0), 0, 0, true, false},
		{to(120, 0, 200, 0), 0, 0, true, false},
	} {
		lo, hi, same, ok := e.common(c.f)
		if ok != c.ok || ok && (same != c.same || math.Abs(lo-c.lo) > 1e-9 || math.Abs(hi-c.hi) > 1e-9) {
			t.Errorf("%v: from %v to %v, same way %v, %v; want %+v", c.f, lo, hi, same, ok, c)
		}
	}
}

// Pieces are gathered into one plane where their edges lie within 0.02 mm of a line and run the same way.
func TestPiecesOfAPlane(t *testing.T) {
	part := []geometry.Polygon{geometry.NewRect(0, 0, 10, 10)}
	tilt := func(oneLess float64) r2.Point { // of the direction's cosine
		s, c := math.Sincos(math.Acos(1 - oneLess))
		return r2.Point{X: c, Y: s}
	}
	for _, c := range []struct {
		name   string
		e      edge
		search bool
		planes int
	}{
		{"in line", edge{a: r2.Point{X: 40, Y: 0.015}, dir: r2.Point{X: 1}, length: 10}, true, 1},
		{"beside it", edge{a: r2.Point{X: 40, Y: 0.025}, dir: r2.Point{X: 1}, length: 10}, true, 2},
		{"the other way", edge{a: r2.Point{X: 40}, dir: r2.Point{X: -1}, length: 10}, true, 2},
		{"as good as the same way", edge{a: r2.Point{X: 40}, dir: tilt(0.95e-9), length: 10}, true, 1},
		{"not quite the same way", edge{a: r2.Point{X: 40}, dir: tilt(1.05e-9), length: 10}, true, 2},
		{"of one slab", edge{a: r2.Point{X: 40}, dir: r2.Point{X: 1}, length: 10}, false, 2},
	} {
		planes := collect(collect(nil, straight(20, 0, 0), part, c.search), c.e, part, c.search)
		if len(planes) != c.planes {
			t.Errorf("%s: %d planes, want %d", c.name, len(planes), c.planes)
		} else if c.planes == 1 {
			near(t, c.name, planes[0].parts[1].Bounds().X.Lo, 40, 1e-6)
		}
	}
}

// Sheets thinner than a millimetre fill the shell as thicker ones do.
func TestThinSheetFillsTheShell(t *testing.T) {
	for name, levels := range shapes() {
		b := &layout.Box{Levels: levels, Shell: layout.Shell{WallMM: 0.7, FloorMM: 0.8, LidMM: 0.6, FlangeMM: 1e-9, LinerMM: 0.5}}
		outer := geometry.Space{Solids: layout.Levels(levels)}
		bare, err := outer.Inset(0.7, 0.8, 0.6)
		if err != nil {
			t.Fatal(err)
		}
		inner, err := layout.BoxInterior(b)
		if err != nil {
			t.Fatal(err)
		}
		ps := Panels(b)
		within := 1.0
		if len(levels) > 1 {
			within = 50
		}
		near(t, name, sheetVolume(ps, WallPanel, FloorPanel, LidPanel), outer.Volume()-bare.Volume(), within)
		near(t, name+", liner", sheetVolume(ps, LinerPanel), bare.Volume()-inner.Volume(), within)
	}
}

// Sheets with the lid below lie within the box's height.
func TestPanelsOfABoxWithItsLidBelow(t *testing.T) {
	for name, levels := range shapes() {
		b := &layout.Box{Levels: levels, Shell: layout.Shell{WallMM: 2, LinerMM: 3, LidSide: "bottom"}}
		lo, hi := geometry.Space{Solids: layout.Levels(levels)}.Bounds()
		for _, p := range Panels(b) {
			for _, q := range p.Outline.Outer {
				if z := p.point(q).Z; z < lo.Z || z > hi.Z {
					t.Errorf("%s: %s has a corner at height %v", name, p.ID, z)
				}
			}
		}
	}
}

// An opening is in a panel that looks its face's way, or slants off it by 45° as a cut corner does, not by 60°.
func TestOpeningIsInThePanelOfItsFace(t *testing.T) {
	for face, v := range map[string]r3.Vector{"front": {X: -1}, "rear": {X: 1}, "left": {Y: -1}, "right": {Y: 1}, "bottom": {Z: -1}, "top": {Z: 1}} {
		for _, liner := range []bool{false, true} {
			for degrees, want := range map[float64]bool{0: true, 45: true, 60: false, 180: false} {
				s, c := math.Sincos(degrees * math.Pi / 180)
				u := r3.Vector{X: v.Y, Y: v.Z, Z: v.X} // square to v
				p := Panel{Kind: WallPanel, Normal: v.Mul(c).Add(u.Mul(s)), Outline: geometry.NewRect(-50, -50, 50, 50)}
				p.U, p.V = v.Cross(u), p.Normal.Cross(v.Cross(u))
				if liner {
					p.Kind = LinerPanel
				}
				o := &layout.Opening{Face: face, DiameterMM: 10}
				if got := facing([]Panel{p}, o, liner) != nil; got != want {
					t.Errorf("%s, %v° off: %v, want %v", face, degrees, got, want)
				}
				if facing([]Panel{p}, o, !liner) != nil {
					t.Errorf("%s: a liner is taken for sheet, or sheet for a liner", face)
				}
			}
		}
	}
}

// The moments of a rectangle and of a disc about their own middle and about another point (Beer and Johnston, table of moments of
// inertia of common shapes; from memory, not checked against the text): b³h/12 and πr⁴/4, and by Steiner's theorem.
func TestMomentsOfHoles(t *testing.T) {
	at := r2.Point{X: 7, Y: -5}
	for _, c := range []struct {
		h          Hole
		area, x, y float64
	}{
		{Hole{WidthMM: 40, HeightMM: 30}, 1200, 40 * 40 * 40 * 30 / 12.0, 30 * 30 * 30 * 40 / 12.0},
		{Hole{DiameterMM: 50}, math.Pi * 625, math.Pi * math.Pow(25, 4) / 4, math.Pi * math.Pow(25, 4) / 4},
		{Hole{DiameterMM: 0.5}, math.Pi / 16, math.Pi * math.Pow(0.25, 4) / 4, math.Pi * math.Pow(0.25, 4) / 4},
	} {
		p := c.h.plane()
		near(t, "area", p.area, c.area, 1e-9)
		near(t, "along u", p.xx, c.x, 1e-6)
		near(t, "along v", p.yy, c.y, 1e-6)
		c.h.At = at
		p = c.h.plane()
		near(t, "along u, off the middle", p.xx, c.x+49*c.area, 1e-6)
		near(t, "along v, off the middle", p.yy, c.y+25*c.area, 1e-6)
		near(t, "product, off the middle", p.xy, -35*c.area, 1e-6)
	}
}

// The square of TestPlaneWithHole, two hundred times smaller.
func TestSmallPlaneWithHole(t *testing.T) {
	outer, hole := geometry.NewRect(0, 0, 0.5, 0.5).Outer, geometry.NewRect(0.05, 0.05, 0.15, 0.15).Outer
	for _, p := range []geometry.Polygon{
		{Outer: outer, Holes: []geometry.Ring{hole}}, {Outer: outer, Holes: []geometry.Ring{hole.Reversed()}}, {Outer: outer.Reversed(), Holes: []geometry.Ring{hole}},
	} {
		a := planeOf(p)
		near(t, "area", a.area, 0.24, 1e-12)
		near(t, "first moment", a.first.X, 0.25*0.25-0.01*0.1, 1e-12)
	}
}

// A barrier as thick as long: its plan is a square.
func TestSquareBarrier(t *testing.T) {
	p := barrierPanel(&layout.Barrier{ID: "w", Outline: rect(0, 0, 0.6, 0.6), CeilingMM: 100})
	near(t, "thickness", p.ThicknessMM, 0.6, 1e-9)
	near(t, "length", p.Outline.Bounds().X.Length(), 0.6, 1e-9)
}

func TestLengthwiseIsAlongTheLongestEdge(t *testing.T) {
	for _, c := range []struct {
		p    geometry.Polygon
		want r3.Vector
	}{
		{geometry.NewRect(0, 0, 3, 380), r3.Vector{Y: 1}},
		{geometry.NewRect(0, 0, 380, 3), r3.Vector{X: 1}},
		{geometry.NewRect(0, 0, 0.1, 0.8), r3.Vector{Y: 1}},
		{geometry.Polygon{}, r3.Vector{X: 1}},
	} {
		if got := lengthwise(c.p); got != c.want {
			t.Errorf("%v: %v, want %v", c.p, got, c.want)
		}
	}
}

// Bolts over the box leave no side to run to: the plate lies along x, or along y where the bolts point that way.
func TestFootOverTheBoxRunsAlongAnAxis(t *testing.T) {
	b := box("b", 2, vehicles.XYZ{})
	for normal, want := range map[string]r3.Vector{"down": {X: 1}, "up": {X: 1}, "left": {X: 1}, "right": {X: 1}, "front": {Y: 1}, "rear": {Y: 1}} {
		if got := towards(b, &layout.Foot{At: vehicles.XYZ{100, 100, 0}}, bolting(normal)); got != want {
			t.Errorf("%s: along %v, want %v", normal, got, want)
		}
	}
}
