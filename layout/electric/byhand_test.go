package electric

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/vehicles"
)

func close9(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
		t.Errorf("%s: %g, want %g", what, got, want)
	}
}

// By hand, I = U/R: a block of 12 cells at 4.2 V is 50.4 V over 6 milliohm, 8400 A. Whatever a box holds of one kind in
// series shorts with the same current, also where the string passes another box first; strings side by side add up.
func TestFaultsByHand(t *testing.T) {
	r := Evaluate(resolve(withInverter(planOf(boxOf("front", vehicles.XYZ{0, 0, 300}, 1, 3), boxOf("rear", vehicles.XYZ{2000, 0, 300}, 1, 2)))), nil)
	close9(t, "module", r.Faults.ModuleA, 8400)
	close9(t, "string", r.Faults.StringA, 8400)
	close9(t, "pack", r.Faults.PackA, 8400)
	volts := map[string]float64{"front": 3 * 50.4, "rear": 2 * 50.4}
	if len(r.Faults.BoxA) != 2 {
		t.Fatalf("%d boxes", len(r.Faults.BoxA))
	}
	for _, f := range r.Faults.BoxA {
		close9(t, f.Box.Box.ID+" V", math.Abs(f.V), volts[f.Box.Box.ID])
		close9(t, f.Box.Box.ID+" A", math.Abs(f.A), 8400)
	}
	p := withInverter(planOf(boxOf("left", vehicles.XYZ{0, -900, 300}, 1, 3), boxOf("right", vehicles.XYZ{0, 300, 300}, 1, 3)))
	p.Arrangements[0].Series, p.Arrangements[0].Parallel = 3, 2
	two := Evaluate(resolve(p), nil)
	close9(t, "two strings", two.Faults.PackA, 16800)
	close9(t, "through one string", two.faultThroughString(), 8400)
}

// Of 90 A continuous two strings carry what their resistances leave them, 90 A together (Kirchhoff); each sees 260/90 of
// its own as peak.
func TestFuseOfAStringSeesItsShare(t *testing.T) {
	p := withInverter(planOf(boxOf("left", vehicles.XYZ{0, -900, 300}, 1, 3), boxOf("right", vehicles.XYZ{0, 300, 300}, 1, 3)))
	p.Arrangements[0].Series, p.Arrangements[0].Parallel = 3, 2
	p.Settings.Electric.ContinuousA, p.Settings.Electric.PeakA = 90, 260
	r := Evaluate(resolve(p), nil)
	if len(r.Fuses) != 2 {
		t.Fatalf("%d fuses", len(r.Fuses))
	}
	close9(t, "together", r.Fuses[0].LoadA+r.Fuses[1].LoadA, 90)
	for _, f := range r.Fuses {
		close9(t, "peak", f.PeakA, f.LoadA*260/90)
		close9(t, "voltage", f.NeedV, 3*50.4)
	}
}

// ISO 3, series R10: 1.00 1.25 1.60 2.00 2.50 3.15 4.00 5.00 6.30 8.00.
func TestLastPreferredNumber(t *testing.T) {
	for v, want := range map[float64]float64{1: 1, 0.999: 0.8, 9.99: 8, 10: 10, 7.99: 6.3, 124: 100, 125: 125, 3.15: 3.15, 0.05: 0.05, 0: 0, -3: 0} {
		close9(t, "last", LastR10(v), want)
	}
	for v, want := range map[float64]float64{1: 1, 1.01: 1.25, 8.01: 10, 101: 125, 0: 0, -1: 0} {
		close9(t, "next", NextR10(v), want)
	}
}

// A unit of a body of 100 by 50 by 40 mm at the origin.
func TestLineThroughABody(t *testing.T) {
	s := slot{hi: r3.Vector{X: 100, Y: 50, Z: 40}}
	for _, c := range []struct {
		what string
		a, b r3.Vector
		want bool
	}{
		{"straight through", r3.Vector{X: -10, Y: 25, Z: 20}, r3.Vector{X: 110, Y: 25, Z: 20}, true},
		{"the other way", r3.Vector{X: 110, Y: 25, Z: 20}, r3.Vector{X: -10, Y: 25, Z: 20}, true},
		{"down through", r3.Vector{X: 50, Y: 25, Z: 60}, r3.Vector{X: 50, Y: 25, Z: -5}, true},
		{"across a corner", r3.Vector{X: -10, Y: 20, Z: 20}, r3.Vector{X: 30, Y: -10, Z: 20}, true},
		{"past a corner", r3.Vector{X: -10, Y: 5, Z: 20}, r3.Vector{X: 5, Y: -10, Z: 20}, false},
		{"ends before it", r3.Vector{X: -50, Y: 25, Z: 20}, r3.Vector{X: -1, Y: 25, Z: 20}, false},
		{"begins behind it", r3.Vector{X: 101, Y: 25, Z: 20}, r3.Vector{X: 150, Y: 25, Z: 20}, false},
		{"before it on y", r3.Vector{X: 50, Y: -20, Z: 20}, r3.Vector{X: 50, Y: -1, Z: 20}, false},
		{"behind it on y", r3.Vector{X: 50, Y: 51, Z: 20}, r3.Vector{X: 50, Y: 80, Z: 20}, false},
		{"above it", r3.Vector{X: -10, Y: 25, Z: 41}, r3.Vector{X: 110, Y: 25, Z: 41}, false},
		{"below it", r3.Vector{X: -10, Y: 25, Z: -1}, r3.Vector{X: 110, Y: 25, Z: -1}, false},
		{"along its face", r3.Vector{X: -10, Y: 0, Z: 20}, r3.Vector{X: 110, Y: 0, Z: 20}, false},
		{"grazing it", r3.Vector{X: -10, Y: 0.05, Z: 20}, r3.Vector{X: 110, Y: 0.05, Z: 20}, false},
		{"just in it", r3.Vector{X: -10, Y: 0.2, Z: 20}, r3.Vector{X: 110, Y: 0.2, Z: 20}, true},
		{"a hair more than grazing it", r3.Vector{X: -10, Y: 0.105, Z: 20}, r3.Vector{X: 110, Y: 0.105, Z: 20}, true},
		{"a short step into it", r3.Vector{X: -0.5, Y: 25, Z: 20}, r3.Vector{X: 0.5, Y: 25, Z: 20}, true},
		{"ends just before it, aslant", r3.Vector{X: -100, Y: 80, Z: 20}, r3.Vector{X: 2, Y: 51, Z: 20}, false},
		{"ends where it would still graze it", r3.Vector{X: -10, Y: 25, Z: 20}, r3.Vector{X: 0.05, Y: 25, Z: 20}, false},
		{"begins in it", r3.Vector{X: 50, Y: 25, Z: 20}, r3.Vector{X: 50, Y: 80, Z: 20}, true},
	} {
		if got := s.crosses(c.a, c.b); got != c.want {
			t.Errorf("%s: %v", c.what, got)
		}
	}
}

// By hand: 30 and 40 mm across is 50 mm; from 20 and 35 mm up to 60 mm and down again is 40 + 25 mm more.
func TestWayOver(t *testing.T) {
	close9(t, "over", over(r3.Vector{X: 0, Y: 0, Z: 20}, r3.Vector{X: 30, Y: 40, Z: 35}, 60), 115)
	close9(t, "already above", over(r3.Vector{Z: 70}, r3.Vector{X: 30, Y: 40, Z: 20}, 60), 100)
	close9(t, "path", pathLength([]r3.Vector{{}, {X: 3, Y: 4}, {X: 3, Y: 4, Z: 12}}), 17)
}

// Poles of two bodies side by side with nothing between: 100 mm apart and 5 mm out of each; with the first body in the way
// of its own pole, over it at 10 mm above the higher one.
func TestLengthOfALinkByHand(t *testing.T) {
	pole := func(x, z float64) pole {
		return pole{p: r3.Vector{X: x, Z: z}, lifted: r3.Vector{X: x, Y: -stub, Z: z}}
	}
	a := slot{lo: r3.Vector{X: 0, Y: 0, Z: 0}, hi: r3.Vector{X: 50, Y: 50, Z: 40}, pos: nil}
	b := slot{lo: r3.Vector{X: 100, Y: 0, Z: 0}, hi: r3.Vector{X: 150, Y: 50, Z: 60}}
	a.pos, b.neg = append(a.pos, pole(25, 30)), append(b.neg, pole(125, 30))
	close9(t, "free", linkCost(&a, &b), 100+2*stub)
	behind := pole(25, 30)
	behind.lifted.Y = 50 + stub
	c := a
	c.pos = nil
	c.pos = append(c.pos, behind)
	straight := math.Hypot(100, 50+2*stub)
	close9(t, "round the back", linkCost(&c, &b), straight+2*(60+rise-30)+2*stub)
	c.pos = append(c.pos, pole(30, 30))
	close9(t, "the nearer of two", linkCost(&c, &b), 95+2*stub)
	p, q := bestPoles(&c, &b)
	if p != &c.pos[1] || q != &b.neg[0] {
		t.Error("not the nearer poles")
	}
}
