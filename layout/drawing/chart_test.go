package drawing

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
)

// Heckbert's nice numbers: a span of 0 to 97 in at most five steps goes by twenties (Graphics Gems, 1990;
// from memory, not checked against the text).
func TestNiceSteps(t *testing.T) {
	for _, c := range []struct {
		span float64
		n    int
		want float64
	}{{97, 5, 20}, {1, 5, 0.2}, {430, 5, 100}, {0.034, 5, 0.01}, {10, 10, 1}, {0, 5, 1}} {
		if got := niceStep(c.span, c.n); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("span %v in %d: %v, want %v", c.span, c.n, got, c.want)
		}
	}
}

func TestTicksHoldTheData(t *testing.T) {
	a := Axis{}.spanning([]float64{268, 403, 200, 430})
	if a.Lo > 200 || a.Hi < 430 || a.Lo < 0 {
		t.Errorf("axis %v to %v", a.Lo, a.Hi)
	}
	if got := (Axis{}).spanning(nil); got.Lo >= got.Hi {
		t.Errorf("empty data give the axis %v to %v", got.Lo, got.Hi)
	}
}

// Ends of axes about data, worked out by hand: 8 % of the span to spare each side, then out to the next round number; none
// below nought where no value is. The same data in another unit has the same axis.
func TestAxesSpanTheData(t *testing.T) {
	for _, c := range []struct{ lo, hi, from, to float64 }{{0, 100, 0, 150}, {10, 97, 0, 150}, {20, 24, 19, 25}, {-3, 4, -4, 6}, {200, 430, 100, 500}, {7, 7, 5.5, 8.5}} {
		for _, unit := range []float64{1, 1e-3, 1e4} {
			a := Axis{}.spanning([]float64{c.hi * unit, c.lo * unit})
			if c.lo == c.hi && unit != 1 {
				continue
			}
			if math.Abs(a.Lo-c.from*unit) > 1e-9*unit || math.Abs(a.Hi-c.to*unit) > 1e-9*unit {
				t.Errorf("%g to %g: axis from %g to %g, not %g to %g", c.lo*unit, c.hi*unit, a.Lo, a.Hi, c.from*unit, c.to*unit)
			}
		}
	}
}

func markRect(t *testing.T, l *List, role Role, ref string) r2.Rect {
	t.Helper()
	for _, it := range l.Items {
		if f, ok := it.(Fill); ok && f.Of.Role == role && f.Of.Ref == ref {
			return f.Area.Bounds()
		}
	}
	t.Fatalf("no %s for %s", role, ref)
	return r2.Rect{}
}

// Bars are as long as their values: twice the load, twice the bar.
func TestBarsAreInProportion(t *testing.T) {
	l := Bars("loads", []Bar{{Name: "front", Value: 600, Limit: 1000, Unit: "kg", Ref: "f"}, {Name: "rear", Value: 1200, Limit: 1100, Unit: "kg", Ref: "r"}}, 160)
	f, r := markRect(t, l, RoleChartMark, "f"), markRect(t, l, RoleChartMark, "r")
	if got := r.X.Length() / f.X.Length(); math.Abs(got-2) > 1e-9 {
		t.Errorf("lengths in the ratio %v, want 2", got)
	}
	if s := textsOf(l); !strings.Contains(s, "1200 kg of 1100, over") || strings.Contains(s, "1000, over") {
		t.Errorf("texts %q", s)
	}
}

func TestVoltageScaleSaysWhatLeavesAWindow(t *testing.T) {
	l := VoltageScale("", Band{Name: "pack", Lo: 268, Hi: 403, Nominal: 355, Sag: 195, Ref: "p"},
		[]Band{{Name: "inverter", Lo: 200, Hi: 400, Ref: "i"}, {Name: "charger", Lo: 150, Hi: 430, Ref: "c"}}, 170)
	s := textsOf(l)
	if !strings.Contains(s, "200 to 400 V, pack under and over") || !strings.Contains(s, "150 to 430 V\n") {
		t.Errorf("texts %q", s)
	}
	pack, inverter := markRect(t, l, RoleChartMark, "p"), markRect(t, l, RoleWindow, "i")
	if got, want := pack.X.Length()/inverter.X.Length(), 135.0/200; math.Abs(got-want) > 1e-9 {
		t.Errorf("pack to window %v, want %v", got, want)
	}
}

// The stepped line leaves no unbeaten spot on its far side: every corner is reached by one of the best.
func TestScatterLineBoundsWhatIsReached(t *testing.T) {
	best := []Spot{{X: 1, Y: 9, Best: true}, {X: 4, Y: 6, Best: true}, {X: 8, Y: 2, Best: true}, {X: 2, Y: 2}}
	l := Scatter("", Axis{Title: "x", Lo: 0, Hi: 10}, Axis{Title: "y", Lo: 0, Hi: 10}, best, 100, 100)
	for _, it := range l.Items {
		s, ok := it.(Stroke)
		if !ok || s.Of.Role != RoleChartBest || s.Closed {
			continue
		}
		want := []r2.Point{{X: 10, Y: 90}, {X: 10, Y: 60}, {X: 40, Y: 60}, {X: 40, Y: 20}, {X: 80, Y: 20}}
		for i := range want {
			if s.Points[i].Sub(want[i]).Norm() > 1e-9 {
				t.Errorf("line %v, want %v", s.Points, want)
			}
		}
		return
	}
	t.Error("no line")
}

func TestMultiplesShareOneScale(t *testing.T) {
	big, small := Plan(inventedScene(3, 2), Options{}), Plan(inventedScene(1, 2), Options{})
	l := Multiples("two", []*List{big, small}, 2, 80, 50)
	var xs []float64
	for _, it := range l.Items {
		if f, ok := it.(Fill); ok && f.Of.Role == RoleBody {
			xs = append(xs, f.Area.Bounds().Size().X)
		}
	}
	if len(xs) != 2 || math.Abs(xs[0]-xs[1]) > 1e-9 {
		t.Errorf("the same vehicle is %v long", xs)
	}
}

func TestChartsTakeNothing(t *testing.T) {
	for _, l := range []*List{Bars("", nil, 100), VoltageScale("", Band{}, nil, 150), Scatter("", Axis{}, Axis{}, nil, 50, 50),
		Curves("", Axis{}, Axis{}, []Series{{}}, nil, 50, 50), Multiples("", nil, 0, 10, 10)} {
		for _, it := range l.Items {
			for _, q := range pointsOf(it) {
				if math.IsNaN(q.X) || math.IsNaN(q.Y) {
					t.Errorf("%v at %v", it.Tag(), q)
				}
			}
		}
	}
}
