package geometry

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/peterstace/simplefeatures/geom"
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
	if math.Abs(lowest-17) > 1e-6 { // one and a half times the inset below the notch
		t.Errorf("the mitre ends at %v, want 17", lowest)
	}
}

// A tip cut off square ends on both offset sides, across the axis at one and a
// half times the offset.
func TestSquareTipEndsOnTheOffsetSides(t *testing.T) {
	for _, half := range []float64{1, 10, 30, 41} { // degrees between the axis and a side
		s, c := math.Sincos(half * math.Pi / 180)
		for _, d := range []float64{2, -2} {
			a, b := pt(-c, math.Copysign(s, d)), pt(-c, -math.Copysign(s, d)) // a notch for d > 0, a spike for d < 0
			tip := mitre(pt(0, 0), normal(a, pt(0, 0)).Mul(d), normal(pt(0, 0), b).Mul(d), d)
			if len(tip) != 5 {
				t.Fatalf("half angle %v, d %v: %v", half, d, tip)
			}
			for _, p := range tip[2:4] {
				if along := p.Dot(a.Add(b).Normalize()); math.Abs(along+3) > 1e-9 {
					t.Errorf("half angle %v, d %v: %v is %v along the axis, want 3", half, d, p, -along)
				}
			}
			if e, f := lineByBrute(tip[2], a), lineByBrute(tip[3], b); math.Abs(e-2) > 1e-9 || math.Abs(f-2) > 1e-9 {
				t.Errorf("half angle %v, d %v: tip %v is %v and %v from its sides, want 2", half, d, tip, e, f)
			}
		}
	}
}

// lineByBrute is the distance of p from the line through the origin and a.
func lineByBrute(p, a r2.Point) float64 { return math.Abs(a.Cross(p)) / a.Norm() }

// A triangle shrinks about its incentre: inset by d, its area falls by the
// square of (r-d)/r, with r the radius of the circle in it, twice the area over
// the perimeter (Euclid IV.4).
func TestOffsetOfTriangleIsASmallerOne(t *testing.T) {
	for _, r := range []Ring{ringOf(0, 0, 100, 0, 80, 10), ringOf(0, 0, 60, 0, 0, 80), ringOf(0, 0, 30, 1, 0, 40)} {
		radius := 2 * r.Area() / r.Perimeter()
		q := r.offset(0.2 * radius)
		if want := 0.64 * r.Area(); math.Abs(q.Area()-want) > 1e-9*want {
			t.Errorf("%v: area %v, want %v", r, q.Area(), want)
		}
	}
}

func TestOffsetJoinsSidesWithinAThousandOffsets(t *testing.T) {
	wedge := func(half float64) Ring { return ringOf(0, -half, 1000, 0, 0, half) }
	if r := wedge(1.05).offset(0.1); len(r) != 3 {
		t.Errorf("sides that meet after 952 offsets are not joined: %v", r)
	}
	if r := wedge(0.95).offset(0.1); r != nil {
		t.Errorf("sides that meet after 1053 offsets are joined: %v", r)
	}
}

func TestOffsetLeavesWhatGoesTooFarOutToTheStrips(t *testing.T) {
	p := Polygon{Outer: ringOf(999970, -50, 999995, 0, 999970, 50)}
	if _, ok := p.offset(-3); !ok {
		t.Error("a corner within the range is refused")
	}
	if _, ok := p.offset(-8); ok {
		t.Error("a corner out of the range is accepted")
	}
}

// A moved side must be left longer than a lattice step, whatever its edge was.
func TestMovedSideIsForwardBeyondALatticeStep(t *testing.T) {
	for _, c := range []struct {
		left float64
		want bool
	}{{0.012, true}, {0.008, false}, {-5, false}} {
		for _, length := range []float64{0.1, 10} {
			if got := forward(pt(0, 0), pt(length, 0), pt(1, 1), pt(1+c.left, 1)); got != c.want {
				t.Errorf("%v left of %v: %v, want %v", c.left, length, got, c.want)
			}
		}
	}
}

func TestInsetMustKeepItsDistanceToTheMillionth(t *testing.T) {
	p := NewRect(0, 0, 100, 100)
	for _, c := range []struct {
		short float64
		want  bool
	}{{0, true}, {0.95e-6, true}, {1.05e-6, false}} {
		q := NewRect(10-c.short, 10, 90, 90)
		if got := p.keeps([]Polygon{q}, 10); got != c.want {
			t.Errorf("%v short: %v, want %v", c.short, got, c.want)
		}
	}
}

func TestUnionOneByOneTakesEach(t *testing.T) {
	squares := []geom.Geometry{toGeom(NewRect(0, 0, 1, 1)), toGeom(NewRect(2, 0, 4, 2)), toGeom(NewRect(6, 0, 9, 3))}
	if u, err := unionOneByOne(squares); err != nil || u.Area() != 1+4+9 {
		t.Errorf("area %v, want 14 (%v)", u.Area(), err)
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
