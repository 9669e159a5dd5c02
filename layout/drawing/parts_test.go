package drawing

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// The track of twin tyres is measured between the middles of the pairs.
func TestTwinTyresStandAboutTheTrack(t *testing.T) {
	d := &vehicles.Donor{TwinRearTyres: true}
	off := (tyreWidth(d) + twinGapMM) / 2
	if got := tyres(d, 1500, true); !slices.Equal(got, []float64{-750 - off, -750 + off, 750 - off, 750 + off}) {
		t.Errorf("twin tyres at %v", got)
	}
	if got := tyres(d, 1400, false); !slices.Equal(got, []float64{-700, 700}) {
		t.Errorf("front tyres at %v", got)
	}
}

// Tyres are 180 mm wide where nothing is stated (common practice), and twins stand 30 mm apart.
func TestTyresThatAreNotSurveyed(t *testing.T) {
	if a, b := tyreWidth(&vehicles.Donor{}), tyreWidth(&vehicles.Donor{TyreWidthMM: 0.9}); a != 180 || b != 0.9 {
		t.Errorf("%g and %g mm", a, b)
	}
	if got := tyres(&vehicles.Donor{TwinRearTyres: true, TyreWidthMM: 200}, 1500, true); got[1]-got[0] != 230 {
		t.Errorf("the middles of twins lie %g apart", got[1]-got[0])
	}
}

// Three surveyed points are an outline already; of two none is made, but the rectangle of the other views.
func TestOutlineBehindIsTheSurveyedOne(t *testing.T) {
	d := inventedDonor()
	d.RearOutline = []vehicles.XY{{-700, 300}, {700, 300}, {0, 1500}}
	if got := rearOutline(d); len(got) != 3 {
		t.Errorf("%v", got)
	}
	d.RearOutline = d.RearOutline[:2]
	if got := r2.RectFromPoints(rearOutline(d)...); got != r2.RectFromPoints(pt(-860, 350), pt(860, 1900)) {
		t.Errorf("%v", got)
	}
}

// The line of an approach angle touches the tyre, and runs on to the body's end, 50 mm at least; small angles have one too.
func TestRampLineTouchesTheTyre(t *testing.T) {
	for _, c := range []struct{ deg, overhang, run float64 }{{0.8, 1000, 1000 - 300*0.0139622}, {30, 1000, 850}, {80, 310, 50}} {
		p := newPen(SideView, &Options{})
		p.rampLine(2400, 1, c.deg, 300, c.overhang)
		if len(p.items) != 1 {
			t.Errorf("%g degrees: %d lines", c.deg, len(p.items))
			continue
		}
		ps := p.items[0].(Stroke).Points
		d := ps[1].Sub(ps[0])
		if off := pt(2400, 300).Sub(ps[0]).Cross(d.Normalize()); math.Abs(math.Abs(off)-300) > 1e-6 || math.Abs(d.X-c.run) > 0.01 || math.Abs(math.Atan2(d.Y, d.X)*57.29577951-c.deg) > 1e-6 {
			t.Errorf("%g degrees: from %v to %v, %g off the wheel's middle", c.deg, ps[0], ps[1], off)
		}
	}
	p := newPen(SideView, &Options{})
	p.rampLine(2400, 1, 0, 300, 1000)
	p.rampLine(2400, 1, 30, 300, 300)
	if len(p.items) != 0 {
		t.Error("a line without an angle, or under a body that ends over the tyre")
	}
}

// The name of a line may be six tenths as long as it.
func TestNameOfALineIsNoLongerThanSixTenthsOfIt(t *testing.T) {
	long := TextWidth("clearance") * 45 * 2 / 0.6
	for over, want := range map[float64]int{0.1: 1, -0.1: 0} {
		p := newPen(SideView, &Options{NameScale: 2})
		if p.clearanceName("clearance", pt(500, 100), pt(500+long+over, 100)); len(p.wishes) != want {
			t.Errorf("a line %g longer: %d names", over, len(p.wishes))
		}
	}
}

// From the side the arrow to the front stands at six tenths of the body's height.
func TestArrowToTheFrontFromTheSide(t *testing.T) {
	p := newPen(SideView, &Options{})
	p.front(r2.RectFromPoints(pt(0, 100), pt(1000, 1100)))
	if y := p.items[0].(Stroke).Points[0].Y; y != 700 {
		t.Errorf("at %g", y)
	}
}

// Symbols and numbers scale with what they stand on: a hidden neighbour in the pile hides the face, one aside does not.
func TestFaceUnderTheNextBodyIsNotFree(t *testing.T) {
	r, aside := r2.RectFromPoints(pt(0, 0), pt(10, 10)), r2.RectFromPoints(pt(20, 0), pt(30, 10))
	s := stack{rects: []r2.Rect{r, r, aside}}
	if s.faceFree(0) || !s.faceFree(1) || !s.faceFree(2) {
		t.Error("the first is hidden, the others are seen")
	}
	if s.cover(0) != 1 || s.cover(1) >= 0 || s.cover(2) >= 0 {
		t.Error("only the first is hidden")
	}
}

// A grid has 400 lines at most: one of more is drawn five times as coarse. Every fifth line is heavier.
func TestGridOfTooManyLinesIsCoarser(t *testing.T) {
	for width, want := range map[float64]int{1800: 402, 1806: 82} { // with 300 mm all round, (2400 + 1600) / 10 is 400 lines and one more in each direction
		p := newPen(PlanView, &Options{GridMM: 10})
		p.grid(r2.RectFromPoints(pt(0, 0), pt(width, 1000)))
		heavy := 0
		for _, it := range p.items {
			if it.(Stroke).Pt > 0 {
				heavy++
			}
		}
		if len(p.items) != want || heavy < want/5 || heavy > want/5+2 {
			t.Errorf("%g mm wide: %d lines, %d of them heavy, not %d", width, len(p.items), heavy, want)
		}
	}
}

// Of terminals that would run into one another in a view, the one nearest to the eye is drawn; of two as near, one.
func TestOneOfTwoTerminalsIsDrawn(t *testing.T) {
	up := r3.Vector{Z: 1}
	at := func(x, z float64) layout.TerminalAt { return layout.TerminalAt{Place: r3.Vector{X: x, Z: z}, Out: up} }
	p := newPen(PlanView, &Options{})
	for _, c := range []struct {
		ts   []layout.TerminalAt
		want []bool
	}{
		{[]layout.TerminalAt{at(0, 10), at(5, 10)}, []bool{false, true}},
		{[]layout.TerminalAt{at(0, 10), at(5, 20)}, []bool{true, false}},
		{[]layout.TerminalAt{at(0, 20), at(5, 10)}, []bool{false, true}},
		{[]layout.TerminalAt{at(0, 10), at(50, 10)}, []bool{false, false}},
	} {
		for i, want := range c.want {
			if got := p.behind(c.ts, i, 20); got != want {
				t.Errorf("%v: terminal %d behind another: %v", c.ts, i, got)
			}
		}
	}
}

// From afar every terminal is one item of a shape of its own, the positive filled and the negative a ring, and ports are
// left out.
func TestTerminalsFromAfar(t *testing.T) {
	s := inventedScene(2, 1)
	count := func(o Options) (filled, rings, other, ports int) {
		for _, it := range Plan(s, o).Items {
			_, fill := it.(Fill)
			switch r := it.Tag().Role; {
			case r == RolePort:
				ports++
			case r == RolePositive && fill:
				filled++
			case r == RoleNegative && !fill:
				rings++
			case r == RolePositive || r == RoleNegative:
				other++
			}
		}
		return
	}
	filled, rings, other, ports := count(Options{Coarse: true})
	if filled == 0 || filled != rings || other != 0 || ports != 0 {
		t.Errorf("%d filled, %d rings, %d other items of terminals, %d ports", filled, rings, other, ports)
	}
	if near, _, signs, ports := count(Options{}); near != filled || signs == 0 || ports == 0 {
		t.Errorf("near by %d positive ones of %d, %d signs, %d ports", near, filled, signs, ports)
	}
}
