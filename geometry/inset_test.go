package geometry

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

// Every point of the result keeps d from the boundary: its corners and points
// along its sides are measured by plain loops. And nothing is taken away that
// is at least d from the boundary and not near a mitre.
func TestInsetKeepsItsDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, "p")
		d := rapid.Float64Range(0.5, 60).Draw(t, "d")
		in, err := p.Inset(d)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range in {
			if faults := onLattice(q).Validate(); faults != nil {
				t.Fatalf("%v\n%v", faults, q)
			}
			eachAlong(q, 20, func(c r2.Point) {
				if e := boundaryByBrute(p, c); e < d-1e-6 || !insideByBrute(p, c) {
					t.Fatalf("%v is %v from the boundary, not %v", c, e, d)
				}
			})
		}
		for range 50 {
			c := p.Centroid().Add(pt(rapid.Float64Range(-300, 300).Draw(t, "x"), rapid.Float64Range(-300, 300).Draw(t, "y")))
			if insideByBrute(p, c) && boundaryByBrute(p, c) > d+0.02 && farFromCorners(p, c, mitreLimit*1.21*d) && !inAny(in, c) {
				t.Fatalf("%v is %v from the boundary, but taken away", c, boundaryByBrute(p, c))
			}
		}
	})
}

// onLattice is the polygon as predicates see it.
func onLattice(p Polygon) Polygon {
	var buf room
	m := meshOf(p, &buf)
	rings := make([]Ring, len(m.ends))
	for i := range m.ends {
		for _, n := range m.ring(i) {
			rings[i] = append(rings[i], n.point())
		}
	}
	return Polygon{Outer: rings[0], Holes: rings[1:]}
}

func eachAlong(p Polygon, n int, f func(r2.Point)) {
	for i := range p.ringCount() {
		r := p.ring(i)
		for k := range r {
			for m := range n {
				f(r[k].Add(r.corner(k + 1).Sub(r[k]).Mul(float64(m) / float64(n))))
			}
		}
	}
}

func farFromCorners(p Polygon, c r2.Point, d float64) bool {
	for _, v := range p.Outer {
		if v.Sub(c).Norm() < d {
			return false
		}
	}
	return true
}

func inAny(ps []Polygon, c r2.Point) bool {
	for _, p := range ps {
		if p.Contains(c) != Outside {
			return true
		}
	}
	return false
}

func TestOutsetKeepsItsDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, "p")
		d := rapid.Float64Range(0.5, 60).Draw(t, "d")
		out, err := p.Inset(-d)
		if err != nil {
			t.Fatal(err)
		}
		if len(out) != 1 {
			t.Fatalf("%d pieces: %v", len(out), out)
		}
		eachAlong(out[0], 20, func(c r2.Point) {
			e := boundaryByBrute(p, c)
			if e < d-1e-6 || e > mitreLimit*1.21*d || insideByBrute(p, c) {
				t.Fatalf("%v is %v from the boundary, not %v", c, e, d)
			}
		})
		if !out[0].ContainsPolygon(p) {
			t.Fatal("outset does not contain the polygon")
		}
	})
}

// An inset of an inset keeps the sum of the distances.
func TestInsetOfInset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, "p")
		a, b := rapid.Float64Range(0.5, 30).Draw(t, "a"), rapid.Float64Range(0.5, 30).Draw(t, "b")
		once, err := p.Inset(a)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range once {
			twice, err := q.Inset(b)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range twice {
				eachAlong(s, 10, func(c r2.Point) {
					if e := boundaryByBrute(p, c); e < a+b-1e-6 {
						t.Fatalf("%v is %v from the boundary, not %v", c, e, a+b)
					}
				})
			}
		}
	})
}

func TestInsetKnown(t *testing.T) {
	dumbbell := Ring{}.Polygon()
	dumbbell.Outer = ringOf(0, 0, 100, 0, 100, 45, 140, 45, 140, 0, 240, 0, 240, 100, 140, 100, 140, 55, 100, 55, 100, 100, 0, 100)
	holed := Polygon{Outer: NewRect(0, 0, 100, 100).Outer, Holes: []Ring{NewRect(40, 40, 60, 60).Outer}}
	for _, c := range []struct {
		name   string
		p      Polygon
		d      float64
		pieces int
		area   float64
	}{
		{"a square", NewRect(0, 0, 100, 100), 10, 1, 80 * 80},
		{"a neck of 10 holds at 4", dumbbell, 4, 1, 2*92*92 + 48*2},
		{"a neck of 10 splits at 6", dumbbell, 6, 2, 2 * 88 * 88},
		{"a hole grows", holed, 10, 1, 80*80 - 40*40},
		{"a hole meets the wall and leaves four ways round", holed, 19.5, 1, 61*61 - 59*59},
		{"a hole fills it", holed, 20, 0, 0},
		{"an outset closes a hole", holed, -10, 1, 120 * 120},
		{"an outset shrinks a hole", holed, -5, 1, 110*110 - 10*10},
		{"nothing left", NewRect(0, 0, 100, 20), 10, 0, 0},
		{"no inset", NewRect(0, 0, 100, 20), 0, 1, 2000},
	} {
		got, err := c.p.Inset(c.d)
		if err != nil || len(got) != c.pieces || math.Abs(totalArea(got)-c.area) > 1e-6 {
			t.Errorf("%s: %d pieces of area %v, want %d of %v (%v)", c.name, len(got), totalArea(got), c.pieces, c.area, err)
		}
	}
	for _, d := range []float64{math.NaN(), math.Inf(1), 2e6} {
		if _, err := holed.Inset(d); err == nil {
			t.Errorf("inset by %v is accepted", d)
		}
	}
}

// A sharp re-entrant notch: its mitre is cut off at the limit and still keeps
// the distance.
func TestInsetOfSharpNotch(t *testing.T) {
	p := Polygon{Outer: ringOf(0, 0, 200, 0, 200, 100, 102, 100, 100, 20, 98, 100, 0, 100)}
	in, err := p.Inset(2)
	if err != nil || len(in) != 1 {
		t.Fatal(in, err)
	}
	lowest := 100.0
	for _, c := range in[0].Outer {
		if c.X > 90 && c.X < 110 && c.Y > 3 {
			lowest = min(lowest, c.Y)
		}
	}
	if math.Abs(lowest-(20-2*mitreLimit)) > 1e-6 {
		t.Errorf("the mitre ends at %v, want %v", lowest, 20-2*mitreLimit)
	}
}

// The sides joined up directly enclose the same area as the overlay of strips.
func TestOffsetAgreesWithStrips(t *testing.T) {
	drawn, direct := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		drawn++
		p := drawStar(t, "p")
		if rapid.Bool().Draw(t, "cells") {
			p = slanted(drawCells(t, 5, "s").polygon()).mapped(func(q r2.Point) r2.Point { return q.Mul(10) })
		}
		p = p.Simplified()
		d := rapid.Float64Range(0.5, 25).Draw(t, "d")
		if rapid.Bool().Draw(t, "outward") {
			d = -d
		}
		q, ok := p.offset(d)
		if !ok {
			return
		}
		direct++
		want, err := p.insetByStrips(d)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(q.Area()-totalArea(want)) > 1e-6*p.Area() {
			t.Fatalf("area %v by offset, %v by strips\n%v\n%v", q.Area(), totalArea(want), p, q)
		}
	})
	if direct < drawn/4 {
		t.Errorf("only %d of %d insets were direct", direct, drawn)
	}
}

// An outline on which the union of all strips at once, of coordinates not
// rounded first, silently loses one strip: sides of the slanted grid coincide
// to within the last digit. Unit squares say that two squares of 25 are left.
func TestInsetWhereManySidesNearlyCoincide(t *testing.T) {
	p := Polygon{
		Outer: ringOf(-18, 51, -14, 48, -20, 40, -24, 43, -30, 35, -26, 32, -29, 28, -33, 31, -36, 27, -28, 21, -25, 25,
			-21, 22, -18, 26, -14, 23, -17, 19, -9, 13, -12, 9, 0, 0, 9, 12, 5, 15, 2, 11, -6, 17, 0, 25, 12, 16, 21, 28,
			17, 31, 20, 35, 24, 32, 27, 36, 19, 42, 16, 38, 12, 41, 6, 33, 14, 27, 11, 23, -1, 32, 5, 40, 1, 43, 4, 47,
			8, 44, 11, 48, -5, 60, -11, 52, -15, 55),
		Holes: []Ring{ringOf(-12, 34, -16, 37, -13, 41, -9, 38), ringOf(-11, 27, -8, 31, -4, 28, -7, 24)},
	}
	in, err := p.Inset(5)
	if err != nil || math.Abs(totalArea(in)-50) > 1e-6 {
		t.Fatalf("area %v, want 50 (%v)", totalArea(in), err)
	}
	one, err := unionOneByOne(p.strips(5))
	if err != nil || math.Abs(one.Area()-1325) > 1e-6 {
		t.Fatalf("strips one by one cover %v, want 1325 (%v)", one.Area(), err)
	}
}
