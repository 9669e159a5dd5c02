package drawing

import (
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
