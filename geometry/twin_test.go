package geometry

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"
)

func degrees(d float64) s1.Angle { return s1.Angle(d) * s1.Degree }

// both runs a check on the grid as it is and on the slanted grid.
func both(t *rapid.T, check func(scale float64, view func(Polygon) Polygon)) {
	if rapid.Bool().Draw(t, "slanted") {
		check(25, slanted)
		return
	}
	check(1, func(p Polygon) Polygon { return p })
}

func TestPredicatesAgreeWithSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawCells(t, 6, "s")
		o := drawCells(t, 4, "o").shifted(rapid.IntRange(-4, 6).Draw(t, "dx"), rapid.IntRange(-4, 6).Draw(t, "dy"))
		both(t, func(_ float64, view func(Polygon) Polygon) {
			p, q := view(s.polygon()), view(o.polygon())
			if faults := p.Validate(); faults != nil {
				t.Fatalf("traced outline is refused: %v", faults)
			}
			if got, want := p.Overlaps(q), s.and(o) > 0; got != want {
				t.Fatalf("Overlaps = %v, squares say %v\n%v\n%v", got, want, p, q)
			}
			if got, want := p.ContainsPolygon(q), s.and(o) == len(o); got != want {
				t.Fatalf("ContainsPolygon = %v, squares say %v\n%v\n%v", got, want, p, q)
			}
			if got, want := p.Simplified().ContainsPolygon(q.Simplified()), s.and(o) == len(o); got != want {
				t.Fatalf("ContainsPolygon of simplified = %v, squares say %v", got, want)
			}
			if p.Overlaps(q) != q.Overlaps(p) {
				t.Fatal("Overlaps is not symmetric")
			}
		})
	})
}

func TestOverlayAgreesWithSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawCells(t, 5, "s")
		o := drawCells(t, 4, "o").shifted(rapid.IntRange(-3, 4).Draw(t, "dx"), rapid.IntRange(-3, 4).Draw(t, "dy"))
		both(t, func(scale float64, view func(Polygon) Polygon) {
			p, q := view(s.polygon()), view(o.polygon())
			common := s.and(o)
			u, err1 := Union(p, q)
			d, err2 := Difference(p, q)
			i, err3 := Intersection(p, q)
			if err1 != nil || err2 != nil || err3 != nil {
				t.Fatal(err1, err2, err3)
			}
			wantArea(t, "union", u, scale*float64(len(s)+len(o)-common))
			wantArea(t, "difference", d, scale*float64(len(s)-common))
			wantArea(t, "intersection", i, scale*float64(common))
		})
	})
}

func totalArea(ps []Polygon) float64 {
	sum := 0.0
	for _, p := range ps {
		sum += p.Area()
	}
	return sum
}

func wantArea(t *rapid.T, what string, ps []Polygon, want float64) {
	t.Helper()
	if got := totalArea(ps); math.Abs(got-want) > 1e-6 {
		t.Fatalf("%s has area %v, squares say %v: %v", what, got, want, ps)
	}
	for _, p := range ps {
		for _, err := range p.Validate() {
			t.Fatalf("%s is not valid: %v: %v", what, err, p)
		}
	}
}

// On outlines along the axes a mitred inset is exactly the erosion by a square,
// and an outset the growth by one.
func TestInsetAgreesWithSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawCells(t, 9, "s")
		k := rapid.IntRange(1, 2).Draw(t, "k")
		both(t, func(scale float64, view func(Polygon) Polygon) {
			p := view(s.polygon())
			d := float64(k) * math.Sqrt(scale)
			in, err := p.Inset(d)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := totalArea(in), scale*float64(len(s.shrunk(k))); math.Abs(got-want) > 1e-6 {
				t.Fatalf("inset by %v has area %v, squares say %v\n%v\n%v", d, got, want, p, in)
			}
			out, err := p.Inset(-d)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := totalArea(out), scale*float64(len(s.grown(k))); math.Abs(got-want) > 1e-6 {
				t.Fatalf("outset by %v has area %v, squares say %v\n%v\n%v", d, got, want, p, out)
			}
		})
	})
}

// Pick's theorem: a polygon with h holes and corners on the whole-number grid
// has area I + B/2 + h - 1, of which I grid points lie inside and B on the
// boundary (G. Pick, Geometrisches zur Zahlenlehre, 1899).
func TestContainsByPick(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Polygon{Outer: drawRing(t, "p")}
		if rapid.Bool().Draw(t, "cells") {
			p = slanted(drawCells(t, 5, "s").polygon())
		}
		b, inside, boundary := p.Bounds(), 0, 0
		for x := b.X.Lo - 1; x <= b.X.Hi+1; x++ {
			for y := b.Y.Lo - 1; y <= b.Y.Hi+1; y++ {
				switch p.Contains(pt(x, y)) {
				case Inside:
					inside++
				case Boundary:
					boundary++
				}
			}
		}
		if want := float64(inside) + float64(boundary)/2 + float64(len(p.Holes)) - 1; p.Area() != want {
			t.Fatalf("area %v, Pick says %v: %v", p.Area(), want, p)
		}
	})
}

func TestContainsAgreesWithAngles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, "p")
		for range 20 {
			q := p.Centroid().Add(pt(rapid.Float64Range(-300, 300).Draw(t, "x"), rapid.Float64Range(-300, 300).Draw(t, "y")))
			if boundaryByBrute(p, q) < 2*Lattice {
				continue
			}
			if got, want := p.Contains(q) == Inside, insideByBrute(p, q); got != want {
				t.Fatalf("Contains(%v) = %v, angles say %v: %v", q, got, want, p)
			}
		}
	})
}

// segmentByRationals judges a segment by cutting it, in exact rationals, at
// every place where the line of an edge meets it.
func segmentByRationals(p Polygon, a, b r2.Point) (inside, outside bool) {
	ts := []*big.Rat{rat(0), rat(1)}
	for i := range p.ringCount() {
		r := p.ring(i)
		for k := range r {
			c, d := r[k], r.corner(k+1)
			den := b.Sub(a).Cross(d.Sub(c))
			if den != 0 {
				ts = append(ts, new(big.Rat).Quo(rat(c.Sub(a).Cross(d.Sub(c))), rat(den)))
			}
			for _, v := range []r2.Point{c, d} {
				if l := squared(b.Sub(a)); l > 0 {
					ts = append(ts, new(big.Rat).Quo(rat(v.Sub(a).Dot(b.Sub(a))), rat(l)))
				}
			}
		}
	}
	slices.SortFunc(ts, (*big.Rat).Cmp)
	for i := 1; i < len(ts); i++ {
		m := new(big.Rat).Quo(new(big.Rat).Add(ts[i-1], ts[i]), rat(2))
		if m.Sign() < 0 || m.Cmp(rat(1)) > 0 || ts[i-1].Cmp(ts[i]) == 0 {
			continue
		}
		x := new(big.Rat).Add(rat(a.X), new(big.Rat).Mul(m, rat(b.X-a.X)))
		y := new(big.Rat).Add(rat(a.Y), new(big.Rat).Mul(m, rat(b.Y-a.Y)))
		switch locateByRationals(p, x, y) {
		case Inside:
			inside = true
		case Outside:
			outside = true
		}
	}
	return inside, outside
}

func rat(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }

// locateByRationals counts crossings of a ray upward.
func locateByRationals(p Polygon, x, y *big.Rat) Location {
	in := false
	for i := range p.ringCount() {
		r := p.ring(i)
		for k := range r {
			a, b := r[k], r.corner(k+1)
			if a.X > b.X {
				a, b = b, a
			}
			if x.Cmp(rat(a.X)) < 0 || x.Cmp(rat(b.X)) > 0 {
				continue
			}
			if a.X == b.X {
				if y.Cmp(rat(min(a.Y, b.Y))) >= 0 && y.Cmp(rat(max(a.Y, b.Y))) <= 0 {
					return Boundary
				}
				continue
			}
			f := new(big.Rat).Quo(new(big.Rat).Sub(x, rat(a.X)), rat(b.X-a.X))
			h := new(big.Rat).Add(rat(a.Y), f.Mul(f, rat(b.Y-a.Y)))
			c := h.Cmp(y)
			if c == 0 {
				return Boundary
			}
			if c > 0 && x.Cmp(rat(b.X)) < 0 {
				in = !in
			}
		}
	}
	if in {
		return Inside
	}
	return Outside
}

func TestContainsSegmentAgreesWithRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Polygon{Outer: drawRing(t, "p")}
		if rapid.Bool().Draw(t, "cells") {
			p = drawCells(t, 6, "s").polygon()
		}
		coord := rapid.IntRange(-1, 7)
		for range 10 {
			a := pt(float64(coord.Draw(t, "ax")), float64(coord.Draw(t, "ay")))
			b := pt(float64(coord.Draw(t, "bx")), float64(coord.Draw(t, "by")))
			if a == b {
				continue
			}
			inside, outside := segmentByRationals(p, a, b)
			if got := p.ContainsSegment(a, b); got == outside {
				t.Fatalf("ContainsSegment(%v, %v) = %v, rationals say %v: %v", a, b, got, !outside, p)
			}
			q := Prism{Base: p, Bottom: 0, Top: 2}
			if got := SegmentPrism(at(a, 1), at(b, 1), q); got != inside {
				t.Fatalf("SegmentPrism(%v, %v) = %v, rationals say %v: %v", a, b, got, inside, p)
			}
		}
	})
}

// The outside check: the DE-9IM relation of simplefeatures, itself checked by
// its authors against GEOS.
func TestPredicatesAgreeWithLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := Polygon{Outer: drawRing(t, "p")}, Polygon{Outer: drawRing(t, "q")}
		gp, gq := toGeom(p), toGeom(q)
		rel, err := geom.Relate(gp, gq)
		if err != nil {
			t.Skip(err)
		}
		if got, want := overlapExactly(p, q), rel[0] == '2'; got != want {
			t.Fatalf("overlap %v, library says %v (%s)\n%v\n%v", got, want, rel, p, q)
		}
		covers, err := geom.Covers(gp, gq)
		if got := p.ContainsPolygon(q); err == nil && got != covers {
			t.Fatalf("ContainsPolygon = %v, library says %v (%s)\n%v\n%v", got, covers, rel, p, q)
		}
		if got, want := p.Area(), gp.Area(); math.Abs(got-want) > 1e-9 {
			t.Fatalf("area %v, library says %v", got, want)
		}
		c, _ := gp.Centroid().XY()
		if got := p.Centroid(); got.Sub(pt(c.X, c.Y)).Norm() > 1e-9 {
			t.Fatalf("centroid %v, library says %v", got, c)
		}
		d, _ := geom.Distance(gp, gq)
		if got := p.Distance(q); math.Abs(got-d) > 1e-9 {
			t.Fatalf("distance %v, library says %v\n%v\n%v", got, d, p, q)
		}
	})
}

func TestMeasuresOfHolesAgreeWithLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := slanted(drawCells(t, 6, "p").polygon())
		q := slanted(drawCells(t, 2, "q").polygon()).Translate(pt(float64(rapid.IntRange(-40, 40).Draw(t, "x")), float64(rapid.IntRange(-20, 60).Draw(t, "y"))))
		gp, gq := toGeom(p), toGeom(q)
		c, _ := gp.Centroid().XY()
		if got := p.Centroid(); got.Sub(pt(c.X, c.Y)).Norm() > 1e-9 {
			t.Fatalf("centroid %v, library says %v", got, c)
		}
		if math.Abs(p.Area()-gp.Area()) > 1e-9 {
			t.Fatalf("area %v, library says %v", p.Area(), gp.Area())
		}
		if d, _ := geom.Distance(gp, gq); math.Abs(p.Distance(q)-d) > 1e-9 {
			t.Fatalf("distance %v, library says %v\n%v\n%v", p.Distance(q), d, p, q)
		}
		if d, _ := geom.Distance(gp.Boundary(), gq); true {
			_, _, got := p.DistanceToBoundary(q)
			if math.Abs(got-d) > 1e-9 {
				t.Fatalf("distance to boundary %v, library says %v\n%v\n%v", got, d, p, q)
			}
		}
	})
}

// A point is in an overlay as its places in the two shapes have it.
func TestOverlayAgreesWithPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawStar(t, "p"), drawStar(t, "q")
		q = q.Translate(p.Centroid().Sub(q.Centroid()).Mul(rapid.Float64Range(0.3, 1).Draw(t, "nearer")))
		u, err1 := Union(p, q)
		d, err2 := Difference(p, q)
		i, err3 := Intersection(p, q)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		if got, want := totalArea(u)+totalArea(i), p.Area()+q.Area(); math.Abs(got-want) > 1e-2 {
			t.Fatalf("union and intersection hold %v, the shapes %v", got, want)
		}
		for range 50 {
			c := p.Centroid().Add(pt(rapid.Float64Range(-300, 300).Draw(t, "x"), rapid.Float64Range(-300, 300).Draw(t, "y")))
			if min(boundaryByBrute(p, c), boundaryByBrute(q, c)) < 3*Lattice {
				continue
			}
			inP, inQ := insideByBrute(p, c), insideByBrute(q, c)
			if inAny(u, c) != (inP || inQ) || inAny(d, c) != (inP && !inQ) || inAny(i, c) != (inP && inQ) {
				t.Fatalf("%v: in p %v, in q %v; union %v, difference %v, intersection %v", c, inP, inQ, inAny(u, c), inAny(d, c), inAny(i, c))
			}
		}
	})
}

// Areas may differ by a ten-millionth of a millimetre along the boundaries,
// and as much again.
func TestAreasMustAddUp(t *testing.T) {
	none, square := geom.Geometry{}, toGeom(NewRect(0, 0, 1, 1))
	for _, c := range []struct {
		off  float64
		a, b geom.Geometry
		ok   bool
	}{
		{0.95e-7, none, none, true}, {1.05e-7, none, none, false},
		{4.95e-7, square, none, true}, {5.05e-7, square, none, false},
		{8.95e-7, square, square, true}, {9.05e-7, square, square, false}, {-9.05e-7, square, square, false},
	} {
		if err := addsUp(1+c.off, 1, c.a, c.b); (err == nil) != c.ok {
			t.Errorf("%v off: %v", c.off, err)
		}
	}
}
