package geometry

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestValidateTellsEveryFault(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	square := NewRect(0, 0, 100, 100).Outer
	many := make(Ring, MaxCorners+1)
	for _, c := range []struct {
		name string
		p    Polygon
		want []string
	}{
		{"a square", Polygon{Outer: square}, nil},
		{"run the other way", Polygon{Outer: square.Reversed()}, nil},
		{"nothing", Polygon{}, []string{"outer: 0 corners: at least 3"}},
		{"two corners", Polygon{Outer: ringOf(0, 0, 1, 1)}, []string{"outer: 2 corners"}},
		{"no numbers", Polygon{Outer: ringOf(nan, 0, 10, inf, 10, 10)}, []string{"outer[0]: (NaN, 0)", "outer[1]: (10, +Inf)"}},
		{"too far", Polygon{Outer: ringOf(0, 0, 1.1e6, 0, 0, 10)}, []string{"outer[1]", "within ±1000000 mm"}},
		{"repeated", Polygon{Outer: ringOf(0, 0, 10, 0, 10, 0.004, 10, 10)}, []string{"outer[1]: repeats"}},
		{"last repeats first", Polygon{Outer: ringOf(0, 0, 10, 0, 10, 10, 0, 0)}, []string{"outer[3]: repeats"}},
		{"on one line", Polygon{Outer: ringOf(0, 0, 10, 0, 20, 0)}, []string{"encloses no area"}},
		{"a bow tie", Polygon{Outer: ringOf(0, 0, 10, 10, 10, 0, 0, 20)}, []string{"outer[0]: the edge from here crosses outer edge 2"}},
		{"a spike", Polygon{Outer: ringOf(0, 0, 10, 0, 20, 0, 10, 0.001, 10, 10)}, []string{"runs along"}},
		{"touches itself", Polygon{Outer: ringOf(0, 0, 10, 0, 10, 10, 5, 0, 0, 10)}, []string{"touches"}},
		{"hole outside", Polygon{Outer: square, Holes: []Ring{NewRect(200, 0, 210, 10).Outer}}, []string{"holes[0]: lies outside"}},
		{"hole across", Polygon{Outer: square, Holes: []Ring{NewRect(90, 10, 110, 20).Outer}}, []string{"crosses holes[0] edge 0", "crosses holes[0] edge 2"}},
		{"hole along the wall", Polygon{Outer: square, Holes: []Ring{NewRect(90, 10, 100, 20).Outer}}, []string{"runs along"}},
		{"hole in a hole", Polygon{Outer: square, Holes: []Ring{NewRect(10, 10, 90, 90).Outer, NewRect(20, 20, 30, 30).Outer}}, []string{"holes[1]: overlaps holes[0]"}},
		{"hole touches the wall", Polygon{Outer: square, Holes: []Ring{ringOf(100, 50, 90, 60, 90, 40)}}, nil},
		{"two corners in one place", Polygon{Outer: ringOf(1, 1, 1, 1)}, []string{"outer: 2 corners", "outer[0]: repeats"}},
		{"told from the earlier edge", Polygon{Outer: ringOf(5, 0, 8, 9, 0, 3, 10, 2)}, []string{"outer[0]: the edge from here crosses outer edge 2"}},
		{"told from the earlier ring", Polygon{Outer: ringOf(0, 0, 10, 0, 10, 10, 0, 10), Holes: []Ring{ringOf(-5, 4, 4, 4, 4, 6)}},
			[]string{"outer[3]: the edge from here crosses holes[0] edge 0", "outer[3]: the edge from here crosses holes[0] edge 2"}},
		{"small hole", Polygon{Outer: square, Holes: []Ring{ringOf(1, 1)}}, []string{"holes[0]: 1 corners"}},
		{"too many corners", Polygon{Outer: many}, []string{"10001 corners: at most 10000"}},
	} {
		faults := c.p.Validate()
		text := errors.Join(faults...)
		if (text == nil) != (c.want == nil) {
			t.Errorf("%s: %v", c.name, text)
		}
		for _, w := range c.want {
			if text == nil || !strings.Contains(text.Error(), w) {
				t.Errorf("%s: %v does not say %q", c.name, text, w)
			}
		}
		for _, err := range faults {
			var f *Fault
			if !errors.As(err, &f) {
				t.Errorf("%s: %T is not a *Fault", c.name, err)
			}
		}
	}
}

// A fault of a whole part has no corner: -1.
func TestFaultsOfTheWholeNameNoCorner(t *testing.T) {
	square, top := NewRect(0, 0, 100, 100).Outer, math.NaN()
	for _, c := range []struct {
		part   string
		faults []error
	}{
		{"", Polygon{Outer: make(Ring, MaxCorners+1)}.Validate()},
		{"outer", Polygon{}.Validate()},
		{"outer", Polygon{Outer: ringOf(0, 0, 10, 0, 20, 0)}.Validate()},
		{"holes[0]", Polygon{Outer: square, Holes: []Ring{NewRect(200, 0, 210, 10).Outer}}.Validate()},
		{"holes[1]", Polygon{Outer: square, Holes: []Ring{NewRect(10, 10, 90, 90).Outer, NewRect(20, 20, 30, 30).Outer}}.Validate()},
		{"height", Prism{NewRect(0, 0, 1, 1), 1, 0}.Validate()},
		{"height", Prism{NewRect(0, 0, 1, 1), 1, top}.Validate()},
		{"solids", Space{}.Validate()},
	} {
		var f *Fault
		if len(c.faults) != 1 || !errors.As(c.faults[0], &f) || f.Part != c.part || f.Corner != -1 {
			t.Errorf("%v, want one fault of %q without a corner", c.faults, c.part)
		}
	}
	if faults := (Space{Solids: []Prism{{NewRect(0, 0, 1, 1), 0, 1}}}).Validate(); faults != nil {
		t.Errorf("a space of one prism: %v", faults)
	}
}

func TestValidateLimitsCrossings(t *testing.T) {
	var star Ring
	for i := range 101 {
		a := float64(i) * 2 * math.Pi * 50 / 101
		star = append(star, pt(1000*math.Cos(a), 1000*math.Sin(a)))
	}
	faults := Polygon{Outer: star}.Validate()
	if len(faults) != 51 {
		t.Fatalf("%d faults, want 51", len(faults))
	}
	var f *Fault
	if !errors.As(faults[50], &f) || f.Corner != -1 || f.Part != "" {
		t.Errorf("the last is %#v", f)
	}
}

func TestValidateAgreesWithPlainLoops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 8).Draw(t, "n")
		r := make(Ring, n)
		for i := range r {
			r[i] = pt(float64(rapid.IntRange(0, 9).Draw(t, "x")), float64(rapid.IntRange(0, 9).Draw(t, "y")))
		}
		faults := Polygon{Outer: r}.Validate()
		if simple := simpleByBrute(r); simple != (len(faults) == 0) {
			t.Fatalf("plain loops say simple is %v, but %v: %v", simple, faults, r)
		}
		if err := toGeom(Polygon{Outer: r}).Validate(); err == nil && len(faults) > 0 && !strings.Contains(errors.Join(faults...).Error(), "repeats") {
			t.Fatalf("the library accepts %v, but %v", r, faults)
		}
	})
}

func TestValidatePrism(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Prism
		n    int
	}{
		{"good", Prism{NewRect(0, 0, 1, 1), 0, 1}, 0},
		{"upside down", Prism{NewRect(0, 0, 1, 1), 1, 0}, 1},
		{"flat", Prism{NewRect(0, 0, 1, 1), 1, 1.001}, 1},
		{"no number", Prism{NewRect(0, 0, 1, 1), 1, math.NaN()}, 1},
		{"too high", Prism{NewRect(0, 0, 1, 1), 1, 1e7}, 1},
		{"all wrong", Prism{Polygon{}, 1, 0}, 2},
	} {
		if faults := c.p.Validate(); len(faults) != c.n {
			t.Errorf("%s: %v, want %d", c.name, faults, c.n)
		}
	}
	s := Space{Solids: []Prism{{}}, KeepOuts: []Prism{{NewRect(0, 0, 1, 1), 1, 0}}}
	text := errors.Join(s.Validate()...).Error()
	for _, w := range []string{"solids[0]: outer: 0 corners", "solids[0]: height: top", "keep_outs[0]: height: top"} {
		if !strings.Contains(text, w) {
			t.Errorf("%q does not say %q", text, w)
		}
	}
}

func TestPredicatesNeverPanic(t *testing.T) {
	coord := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-10, 10), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, 0}))
	ring := rapid.Custom(func(t *rapid.T) Ring {
		r := make(Ring, rapid.IntRange(0, 6).Draw(t, "n"))
		for i := range r {
			r[i] = pt(coord.Draw(t, "x"), coord.Draw(t, "y"))
		}
		return r
	})
	rapid.Check(t, func(t *rapid.T) {
		p := Polygon{Outer: ring.Draw(t, "p"), Holes: rapid.SliceOfN(ring, 0, 2).Draw(t, "holes")}
		q := Polygon{Outer: ring.Draw(t, "q")}
		p.Validate()
		p.Overlaps(q)
		p.Inset(coord.Draw(t, "d"))
		p.Inset(1)
		Union(p, q)
		Difference(p, q)
		Intersection(p, q)
		s := Space{Solids: []Prism{{p, coord.Draw(t, "z2"), coord.Draw(t, "z3")}}, KeepOuts: []Prism{{q, 0, 1}}}
		s.ContainsPrism(Prism{q, 0, 1})
		s.Inset(1, 1, 1)
		p.ContainsPolygon(q)
		p.Nearest(q)
		p.DistanceToBoundary(q)
		p.Centroid()
		p.Simplified()
		p.Contains(pt(coord.Draw(t, "x"), coord.Draw(t, "y")))
		SegmentPrism(r3Of(coord, t), r3Of(coord, t), Prism{p, coord.Draw(t, "z0"), coord.Draw(t, "z1")})
	})
}
