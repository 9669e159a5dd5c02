package drawing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
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

// The least of 1, 2 and 5 times a power of ten that makes no more steps than asked for, found by trying them all.
func TestNiceStepsAreTheLeastOfAll(t *testing.T) {
	var all []float64
	for k := -8; k < 9; k++ {
		for _, m := range []float64{1, 2, 5} {
			all = append(all, m*math.Pow(10, float64(k)))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		span, n := math.Pow(10, rapid.Float64Range(-5, 5).Draw(t, "digits")), rapid.IntRange(1, 9).Draw(t, "steps")
		i := slices.IndexFunc(all, func(s float64) bool { return span/s <= float64(n)*(1+1e-9) })
		if got := niceStep(span, n); math.Abs(got/all[i]-1) > 1e-9 {
			t.Fatalf("%g in %d: %g, want %g", span, n, got, all[i])
		}
	})
}

// Ticks are the multiples of the step from one end to the other, ends included, and are written to the step's last figure.
func TestTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi, step float64
		want         string
	}{
		{0, 10, 5, "0 5 10"}, {0.3, 1.1, 0.2, "0.4 0.6 0.8 1.0"}, {-0.1, 0.1, 0.1, "-0.1 0.0 0.1"}, {100, 171, 20, "100 120 140 160"},
		{0, 0.02, 0.01, "0.00 0.01 0.02"}, {0, 0.0029995, 0.001, "0.000 0.001 0.002"}, {0, 2, 1, "0 1 2"}, {0.5, 1, 0.5, "0.5 1.0"},
	} {
		var got []string
		for _, v := range ticks(c.lo, c.hi, c.step) {
			got = append(got, tickText(v, c.step))
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%g to %g by %g: %s, want %s", c.lo, c.hi, c.step, s, c.want)
		}
	}
}

// By hand: no data go from 0 to 1, data that are alike one up and one down; then 8 % to spare and out to the next round number.
func TestEndsOfAxes(t *testing.T) {
	for _, c := range []struct {
		vs       []float64
		from, to float64
	}{
		{nil, 0, 1.5},                                     // 1.08, by halves
		{[]float64{0, 92.5}, 0, 100},                      // 99.9
		{[]float64{100, 184}, 80, 200},                    // 93.28 to 190.72, by twenties as 97.44 is less than five of them
		{[]float64{1e6, 1e6 + 1e-5}, 999998.5, 1000001.5}, // alike but for rounding
		{[]float64{0, 1.5e-9}, 0, 2e-9},                   // small, but not alike
		{[]float64{-5, -5}, -6.5, -3.5},                   //
	} {
		if a := (Axis{}).spanning(c.vs); math.Abs(a.Lo-c.from) > 1e-12*(1+math.Abs(c.from)) || math.Abs(a.Hi-c.to) > 1e-12*(1+math.Abs(c.to)) {
			t.Errorf("%v: axis from %v to %v, not %v to %v", c.vs, a.Lo, a.Hi, c.from, c.to)
		}
	}
}

// A chart's place is linear in both figures, also where its axes begin above nought; ticks stand at their values.
func TestPlacesInAChart(t *testing.T) {
	x, y := Axis{Lo: 100, Hi: 170}, Axis{Lo: 40, Hi: 100}
	l := Scatter("", x, y, []Spot{{X: 135, Y: 55, Ref: "s"}, {X: 0, Y: 0, Ref: ""}}[:1], 140, 80)
	for _, it := range l.Items {
		if s, ok := it.(Stroke); ok && s.Of.Ref == "s" {
			if c := r2.RectFromPoints(s.Points...).Center(); c.Sub(pt(70, 20)).Norm() > 1e-9 {
				t.Errorf("135, 55 stands at %v", c)
			}
		}
	}
	want := map[string]r2.Point{"100": {X: 0}, "120": {X: 40}, "140": {X: 80}, "160": {X: 120}, // by twenties, as tens would be seven
		"40": {Y: 0}, "60": {Y: 80.0 / 3}, "80": {Y: 160.0 / 3}} // 100 stands on both axes
	n := 0
	for _, it := range l.Items {
		s, ok := it.(Text)
		if !ok {
			continue
		}
		n++
		q, known := want[s.S]
		if s.Anchor == North && math.Abs(s.At.X-q.X) < 1e-9 || s.Anchor == East && math.Abs(s.At.Y-q.Y) < 1e-9 {
			continue
		}
		if s.S != "100" || !known || s.At.Y != 80 {
			t.Errorf("%q at %v, want %v", s.S, s.At, q)
		}
	}
	if n != 8 {
		t.Errorf("%d ticks, want 8", n)
	}
}

// The spot that is nearest to a place is told by its reference, whatever its sign, and none beyond the distance given.
func TestSpotAtAPlace(t *testing.T) {
	spots := []Spot{{X: 2, Y: 2, Ref: "ring"}, {X: 8, Y: 2, Ref: "cross", Mark: Breached}, {X: 5, Y: 8, Ref: "diamond", Best: true}}
	l := Scatter("", Axis{Hi: 10}, Axis{Hi: 10}, spots, 100, 100)
	for x := 0.0; x <= 100; x += 7 {
		for y := 0.0; y <= 100; y += 7 {
			want, least := "", 30.0
			for _, s := range spots {
				if d := math.Hypot(10*s.X-x, 10*s.Y-y); d < least {
					want, least = s.Ref, d
				}
			}
			if got := l.SpotAt(pt(x, y), 30); got != want {
				t.Errorf("at %g, %g: %q, want %q", x, y, got, want)
			}
		}
	}
}

// The line of what has been reached joins two spots already, and one alone has none.
func TestOneBestSpotHasNoLine(t *testing.T) {
	for n, want := range map[int]bool{1: false, 2: true} {
		got := false
		for _, it := range Scatter("", Axis{}, Axis{}, []Spot{{X: 1, Y: 9, Best: true}, {X: 4, Y: 6, Best: true}}[:n], 100, 100).Items {
			s, ok := it.(Stroke)
			got = got || ok && s.Of.Role == RoleChartBest && !s.Closed
		}
		if got != want {
			t.Errorf("%d best spots: a line %v", n, got)
		}
	}
}

// A name keeps off the square of 3.2 mm about another spot, with its halo, and goes to the next place where it would touch it.
func TestNamesKeepOffOtherSpots(t *testing.T) {
	size := chartPt * mmPerPt
	end, low := 2.4+TextWidth("name")*size+haloEm*size, 1.8-size/2-haloEm*size
	for _, c := range []struct {
		off  r2.Point // of the other spot
		keep bool
	}{{pt(end+1.61, 1.8), true}, {pt(end+1.59, 1.8), false}, {pt(5, low-1.61), true}, {pt(5, low-1.59), false}} {
		l := Scatter("", Axis{Hi: 100}, Axis{Hi: 100}, []Spot{{X: 50, Y: 50, Name: "name", Best: true}, {X: 50 + c.off.X, Y: 50 + c.off.Y}}, 100, 100)
		for _, it := range l.Items {
			if x, ok := it.(Text); ok && x.S == "name" && (x.At == pt(52.4, 51.8)) != c.keep {
				t.Errorf("another spot at %v: the name at %v", c.off, x.At)
			}
		}
	}
}

// Values are written whole from a hundred on, else to a tenth where they have one.
func TestFiguresOfCharts(t *testing.T) {
	for v, want := range map[float64]string{100: "100", 100.4: "100", 99.4: "99.4", -100.4: "-100", -99.4: "-99.4", 7: "7", 0: "0", 0.25: "0.2", -3: "-3", 1234.5: "1234"} {
		if got := figure(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}

// A bar is to its field as its value to the greatest of all figures, be they less than one; a limit is met exactly without being
// over it, and what is not stated is not drawn.
func TestBarsOfSmallFigures(t *testing.T) {
	const room = 160 - barNames - barTexts
	for _, unit := range []float64{1, 1000} {
		l := Bars("", []Bar{{Name: "a", Value: 0.4 * unit, Was: 0.3 * unit, Limit: 0.2 * unit, Ref: "a"}, {Name: "b", Value: 0.5 * unit, Ref: "b"}, {Name: "c", Value: 0.1 * unit, Limit: 0.1 * unit, Ref: "c"}}, 160)
		k := room / (1.04 * 0.5)
		for ref, v := range map[string]float64{"a": 0.4, "b": 0.5, "c": 0.1} {
			if got := markRect(t, l, RoleChartMark, ref).X.Length(); math.Abs(got-k*v) > 1e-9 {
				t.Errorf("bar %s is %g long, want %g", ref, got, k*v)
			}
		}
		was, limits, over := 0, map[Role]int{}, 0
		for _, it := range l.Items {
			switch s := it.(type) {
			case Stroke:
				if s.Of.Role == RoleCGDonor {
					was++
					if r := r2.RectFromPoints(s.Points...); r.Center().Sub(pt(k*0.3, 0)).Norm() > 1e-9 || len(s.Points) != 4 || math.Abs(r.Size().X-2*0.42*barThick) > 1e-9 {
						t.Errorf("what it was is marked by %v", s.Points)
					}
				} else if len(s.Points) == 4 && !s.Closed {
					limits[s.Of.Role]++
				}
			case Hatch:
				over++
				if r := s.Area.Bounds(); math.Abs(r.X.Lo-k*0.2) > 1e-9 || math.Abs(r.X.Hi-k*0.4) > 1e-9 {
					t.Errorf("over its limit from %g to %g", r.X.Lo, r.X.Hi)
				}
			}
		}
		if s := textsOf(l); unit == 1 && (!strings.Contains(s, "0.4  of 0.2, over\n") || !strings.Contains(s, "0.1  of 0.1\n") || !strings.Contains(s, "0.5 \n")) {
			t.Errorf("texts %q", s)
		}
		if was != 1 || over != 1 || limits[RoleBreach] != 1 || limits[RoleChartBest] != 1 {
			t.Errorf("%d marks of what was, %d bars over, limits %v", was, over, limits)
		}
	}
}

// The same voltages in another unit are drawn alike; a pack without a stated sag does not reach down to nought.
func TestVoltageScaleInAnyUnit(t *testing.T) {
	draw := func(unit, sag float64) *List {
		return VoltageScale("", Band{Name: "pack", Lo: 0.6 * unit, Hi: 0.9 * unit, Nominal: 0.75 * unit, Sag: sag * unit, Ref: "p"}, []Band{{Name: "inverter", Lo: 0.55 * unit, Hi: 0.95 * unit, Ref: "i"}}, 170)
	}
	for _, sag := range []float64{0, 0.5} {
		a, b := draw(1, sag), draw(1000, sag)
		if len(a.Items) != len(b.Items) {
			t.Fatalf("sag %g: %d and %d items", sag, len(a.Items), len(b.Items))
		}
		for i := range a.Items {
			for k, q := range pointsOf(a.Items[i]) {
				if q.Sub(pointsOf(b.Items[i])[k]).Norm() > 1e-9 {
					t.Errorf("sag %g: %v of %v and %v", sag, a.Items[i].Tag(), q, pointsOf(b.Items[i])[k])
				}
			}
		}
		if s := textsOf(a); !strings.Contains(s, "0.6 / 0.8 / 0.9 V") || strings.Contains(s, "0.5 under load") != (sag > 0) {
			t.Errorf("sag %g: texts %q", sag, s)
		}
		s := textsOf(b)
		if strings.Contains(s, "600 / 750 / 900 V, 500 under load") != (sag > 0) || strings.Contains(s, "pack under") != (sag > 0) {
			t.Errorf("sag %g: texts %q", sag, s)
		}
	}
	if s := textsOf(draw(1000, 0)); !strings.Contains(s, "\n500\n600\n700\n800\n900\n1000\n") {
		t.Errorf("ticks %q, want them by hundreds from 500", s)
	}
}

// Lists of different sizes share the scale at which the largest just fits its cell less 6 mm for the words; small ones are made
// larger, and there is one column at least.
func TestMultiplesFillTheirCells(t *testing.T) {
	area := func(w, h float64) *List {
		p := newPen(PlanView, &Options{})
		p.fill(Tag{Role: RoleBody}, p.rect(pt(0, 0), pt(w, h)))
		return p.list("x")
	}
	for _, c := range []struct{ w, h, want float64 }{{10, 4, 80}, {10, 10, 44}, {900, 90, 80}, {100, 440, 10}} {
		var rs []r2.Rect
		for _, it := range Multiples("", []*List{area(c.w, c.h), area(c.w, c.h)}, 0, 80, 50).Items {
			if f, ok := it.(Fill); ok {
				rs = append(rs, f.Area.Bounds())
			}
		}
		if len(rs) != 2 || math.Abs(rs[0].Size().X-c.want) > 1e-9 || math.Abs(rs[0].X.Lo-rs[1].X.Lo) > 1e-9 || rs[0].Y.Lo <= rs[1].Y.Hi {
			t.Errorf("%g x %g: %v, want them %g wide", c.w, c.h, rs, c.want)
		}
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
