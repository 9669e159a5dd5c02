package geometry

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"
)

// brute is the distance of two regions by plain loops over all edges.
func brute(p, q Polygon) float64 {
	if insideByBrute(p, q.Outer[0]) || insideByBrute(q, p.Outer[0]) {
		return 0
	}
	return bruteBoundaries(p, q)
}

func bruteBoundaries(p, q Polygon) float64 {
	best := math.Inf(1)
	for i := range p.ringCount() {
		for k := range q.ringCount() {
			r, s := p.ring(i), q.ring(k)
			for m := range r {
				for n := range s {
					best = min(best, distanceByBrute(r[m], r.corner(m+1), s[n], s.corner(n+1)))
				}
			}
		}
	}
	return best
}

func TestDistanceAgreesWithBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, "p")
		q := drawStar(t, "q")
		want := brute(p, q)
		if want < 3*Lattice {
			return
		}
		a, b, d := p.Nearest(q)
		if math.Abs(d-want) > 1e-6 {
			t.Fatalf("distance %v, plain loops say %v", d, want)
		}
		if math.Abs(a.Sub(b).Norm()-d) > 1e-9 {
			t.Fatalf("pair %v %v is not %v apart", a, b, d)
		}
		if boundaryByBrute(p, a) > 1e-6 || boundaryByBrute(q, b) > 1e-6 {
			t.Fatalf("pair %v %v is not on the boundaries", a, b)
		}
		if e := q.Distance(p); math.Abs(e-d) > 1e-9 {
			t.Fatalf("distance %v one way and %v the other", d, e)
		}
		c := pt(rapid.Float64Range(-600, 600).Draw(t, "cx"), rapid.Float64Range(-600, 600).Draw(t, "cy"))
		small := Rect{Centre: c, Half: pt(0.5, 0.5)}.Polygon()
		if dp, dq := p.Distance(small), q.Distance(small); d > dp+dq+math.Sqrt2+1e-6 {
			t.Fatalf("%v from p to q, but %v and %v over %v", d, dp, dq, c)
		}
	})
}

func TestSmallDistancesAgreeWithBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawStar(t, "p").mapped(thousandth), drawStar(t, "q").mapped(thousandth)
		if want := brute(p, q); want > 3*Lattice && math.Abs(p.Distance(q)-want) > 1e-9 {
			t.Fatalf("distance %v, plain loops say %v", p.Distance(q), want)
		}
	})
}

func thousandth(p r2.Point) r2.Point { return p.Mul(1e-3) }

func TestNearestOnSegment(t *testing.T) {
	for _, c := range []struct {
		name string
		p    r2.Point
		a, b r2.Point
		want r2.Point
	}{
		{"beside it", pt(0.5, 1), pt(0, 0), pt(1, 0), pt(0.5, 0)},
		{"beyond its end", pt(3, 1), pt(0, 0), pt(1, 0), pt(1, 0)},
		{"before its start", pt(-3, 1), pt(0, 0), pt(1, 0), pt(0, 0)},
		{"of no length", pt(3, 1), pt(2, 2), pt(2, 2), pt(2, 2)},
	} {
		if got := nearestOnSegment(c.p, c.a, c.b); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestNearestOfShapesThatMeetIsSharedPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := Polygon{Outer: drawRing(t, "p")}, Polygon{Outer: drawRing(t, "q")}
		a, b, d := p.Nearest(q)
		if d > 0 {
			return
		}
		if a != b {
			t.Fatalf("%v and %v differ at distance 0", a, b)
		}
		for _, s := range []Polygon{p, q} {
			if !insideByBrute(s, a) && boundaryByBrute(s, a) > 1e-9 {
				t.Fatalf("%v is said to be shared but is not in %v", a, s)
			}
		}
	})
}

func TestDistanceToBoundary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, "p")
		q := Rect{Centre: p.Centroid(), Half: pt(rapid.Float64Range(0.5, 20).Draw(t, "hx"), 5), Turn: degrees(rapid.Float64Range(0, 90).Draw(t, "turn"))}.Polygon()
		if !p.ContainsPolygon(q) {
			return
		}
		from, to, d := p.DistanceToBoundary(q)
		if want := bruteBoundaries(p, q); math.Abs(d-want) > 2*Lattice {
			t.Fatalf("%v, plain loops say %v", d, want)
		}
		if d > 0 && (math.Abs(from.Sub(to).Norm()-d) > 1e-9 || boundaryByBrute(p, to) > 1e-6 || boundaryByBrute(q, from) > 1e-6) {
			t.Fatalf("pair %v %v does not stand for %v", from, to, d)
		}
	})
}

func TestDistanceToBoundaryKnown(t *testing.T) {
	room := Polygon{Outer: NewRect(0, 0, 100, 100).Outer, Holes: []Ring{NewRect(40, 40, 60, 60).Outer}}
	for _, c := range []struct {
		name string
		q    Polygon
		want float64
	}{
		{"nearest the outer wall", NewRect(5, 20, 15, 30), 5},
		{"nearest the hole", NewRect(20, 45, 33, 55), 7},
		{"on the wall", NewRect(0, 20, 10, 30), 0},
		{"across the wall", NewRect(-5, 20, 10, 30), 0},
		{"around the hole", NewRect(30, 30, 70, 70), 0},
		{"outside", NewRect(110, 20, 120, 30), 10},
		{"a dot on the wall", Rect{Centre: pt(0, 50), Half: pt(0.001, 0.001)}.Polygon(), 0},
	} {
		if _, _, d := room.DistanceToBoundary(c.q); math.Abs(d-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", c.name, d, c.want)
		}
	}
}

func TestDotInsideIsAtNoDistance(t *testing.T) {
	p, dot := NewRect(0, 0, 100, 100), Rect{Centre: pt(50, 50), Half: pt(0.001, 0.001)}.Polygon()
	if d, e := p.Distance(dot), dot.Distance(p); d != 0 || e != 0 {
		t.Errorf("distances %v and %v, want 0", d, e)
	}
}

func TestNoHoleMayBeInWhatIsContained(t *testing.T) {
	p := Polygon{Outer: NewRect(0, 0, 100, 50).Outer, Holes: []Ring{NewRect(20, 20, 30, 30).Outer, NewRect(70, 20, 80, 30).Outer}}
	for _, c := range []struct {
		q    Polygon
		want bool
	}{{NewRect(10, 10, 40, 40), false}, {NewRect(60, 10, 90, 40), false}, {NewRect(35, 10, 65, 40), true}, {NewRect(20, 20, 30, 30), false}, {p, true}} {
		if got := p.ContainsPolygon(c.q); got != c.want {
			t.Errorf("%v: %v, want %v", c.q, got, c.want)
		}
	}
}

func TestPointAsSegment(t *testing.T) {
	p := NewRect(0, 0, 10, 10)
	for q, want := range map[r2.Point]bool{pt(5, 5): true, pt(10, 5): true, pt(11, 5): false} {
		if got := p.ContainsSegment(q, q); got != want {
			t.Errorf("%v: %v, want %v", q, got, want)
		}
	}
}

func TestEmptyPolygonsAreFar(t *testing.T) {
	if d := (Polygon{}).Distance(NewRect(0, 0, 1, 1)); !math.IsInf(d, 1) {
		t.Errorf("distance from nothing is %v", d)
	}
	if (Polygon{}).Overlaps(NewRect(0, 0, 1, 1)) || (Polygon{}).ContainsPolygon(NewRect(0, 0, 1, 1)) ||
		NewRect(0, 0, 1, 1).ContainsPolygon(Polygon{}) {
		t.Error("nothing overlaps or contains something")
	}
	if l := (Polygon{}).Contains(pt(0, 0)); l != Outside {
		t.Errorf("a point is %v nothing", l)
	}
	if ps, err := (Polygon{}).Inset(1); ps != nil || err != nil {
		t.Errorf("inset of nothing: %v, %v", ps, err)
	}
}

func TestMovesChangeNoAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := Polygon{Outer: drawRing(t, "p")}, Polygon{Outer: drawRing(t, "q")}
		d := pt(float64(rapid.IntRange(-50000, 50000).Draw(t, "dx")), float64(rapid.IntRange(-50000, 50000).Draw(t, "dy")))
		quarter := degrees(90 * float64(rapid.IntRange(-5, 5).Draw(t, "quarters")))
		odd := degrees(rapid.Float64Range(-360, 360).Draw(t, "turn"))
		about := pt(3, -7)
		exact := map[string]func(Polygon) Polygon{
			"translated": func(p Polygon) Polygon { return p.Translate(d) },
			"quartered":  func(p Polygon) Polygon { return p.Rotate(about, quarter) },
			"mirrored":   Polygon.MirrorY,
		}
		for name, move := range exact {
			pm, qm := move(p), move(q)
			if p.Overlaps(q) != pm.Overlaps(qm) || p.ContainsPolygon(q) != pm.ContainsPolygon(qm) {
				t.Fatalf("%s shapes are judged otherwise", name)
			}
			sameMeasures(t, name, p, q, pm, qm)
		}
		pm, qm := p.Rotate(about, odd), q.Rotate(about, odd)
		if p.Distance(q) > 2*Lattice {
			sameMeasures(t, "turned", p, q, pm, qm)
		}
	})
}

func sameMeasures(t *rapid.T, name string, p, q, pm, qm Polygon) {
	t.Helper()
	if math.Abs(p.Area()-pm.Area()) > 1e-6 || math.Abs(p.Perimeter()-pm.Perimeter()) > 1e-6 {
		t.Fatalf("%s area or perimeter differs", name)
	}
	if math.Abs(p.Distance(q)-pm.Distance(qm)) > 1e-6 {
		t.Fatalf("%s distance %v, was %v", name, pm.Distance(qm), p.Distance(q))
	}
	if (p.Outer.Area() > 0) != (pm.Outer.Area() > 0) {
		t.Fatalf("%s ring runs the other way", name)
	}
}

func TestCentroidMovesAlong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, "p")
		turn, about := degrees(rapid.Float64Range(-360, 360).Draw(t, "turn")), pt(11, 23)
		want := about.Add(turnOf(turn).apply(p.Centroid().Sub(about)))
		if got := p.Rotate(about, turn).Centroid(); got.Sub(want).Norm() > 1e-6 {
			t.Fatalf("centroid %v, want %v", got, want)
		}
	})
}

func TestRectAgreesWithPolygon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawRect(t, "a"), drawRect(t, "b")
		p, q := a.Polygon(), b.Polygon()
		if got, want := a.Distance(b), p.Distance(q); math.Abs(got-want) > 2*Lattice {
			t.Fatalf("distance %v, polygons say %v", got, want)
		}
		if gap := bruteBoundaries(p, q); gap > 3*Lattice && a.Overlaps(b) != (brute(p, q) == 0) {
			t.Fatalf("Overlaps = %v, plain loops say otherwise", a.Overlaps(b))
		}
		if a.Overlaps(b) != b.Overlaps(a) || a.Distance(b)-b.Distance(a) > 1e-9 {
			t.Fatal("not symmetric")
		}
		if math.Abs(a.Area()-p.Area()) > 1e-6 {
			t.Fatalf("area %v, polygon says %v", a.Area(), p.Area())
		}
		if w, g := p.Bounds(), a.Bounds(); w.Lo().Sub(g.Lo()).Norm() > 1e-9 || w.Hi().Sub(g.Hi()).Norm() > 1e-9 {
			t.Fatalf("bounds %v, polygon says %v", g, w)
		}
	})
}

// Rectangles placed flush at any turn touch and do not overlap, and those
// pushed further in do.
func TestFlushTurnedRects(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawRect(t, "a")
		half := rapid.Float64Range(1, 200).Draw(t, "half")
		into := func(depth float64) Rect {
			b := Rect{Half: pt(half, rapid.Float64Range(1, 200).Draw(t, "hy")), Turn: a.Turn}
			b.Centre = a.Centre.Add(turnOf(a.Turn).apply(pt(a.Half.X+half-depth, 0)))
			return b
		}
		touch, deepIn := into(0), into(3*Lattice)
		if a.Overlaps(touch) && !turnOf(a.Turn).square() {
			t.Fatal("flush rectangles overlap")
		}
		if !turnOf(a.Turn).square() && a.Polygon().Overlaps(touch.Polygon()) {
			t.Fatal("flush rectangles overlap as polygons")
		}
		if !a.Overlaps(deepIn) || !a.Polygon().Overlaps(deepIn.Polygon()) {
			t.Fatal("rectangles three steps into each other do not overlap")
		}
	})
}

// The rectangles' shadows on each of the four directions of their sides.
func TestRectDepthAgreesWithShadows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawRect(t, "a"), drawRect(t, "b")
		want := math.Inf(1)
		for _, turn := range []s1.Angle{a.Turn, a.Turn + degrees(90), b.Turn, b.Turn + degrees(90)} {
			s, c := math.Sincos(turn.Radians())
			alo, ahi := shadow(a.Corners(), pt(c, s))
			blo, bhi := shadow(b.Corners(), pt(c, s))
			want = min(want, ahi-blo, bhi-alo)
		}
		if got := a.depth(b, turnOf(a.Turn), turnOf(b.Turn)); math.Abs(got-want) > 1e-9 {
			t.Fatalf("depth %v, shadows say %v", got, want)
		}
	})
}

// shadow is the least and the greatest of the corners along a direction.
func shadow(r Ring, along r2.Point) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range r {
		lo, hi = min(lo, p.Dot(along)), max(hi, p.Dot(along))
	}
	return lo, hi
}

// A corner that stands out a little beyond a thin bar: no corner of either is
// in the other.
func TestCornerThroughABarIsAtNoDistance(t *testing.T) {
	square := Rect{Half: pt(50, 50), Turn: degrees(45)} // its corner is at 70.71
	bar := Rect{Centre: pt(70.2, 0), Half: pt(0.2, 100)}
	if d, e := square.Distance(bar), bar.Distance(square); d != 0 || e != 0 {
		t.Errorf("distances %v and %v, want 0", d, e)
	}
}

func TestGrownMovesEachSide(t *testing.T) {
	r := Rect{Centre: pt(1, 2), Half: pt(30, 10), Turn: degrees(20)}
	for _, c := range []struct {
		d    float64
		want r2.Point
	}{{5, pt(35, 15)}, {-5, pt(25, 5)}, {-20, pt(10, 0)}, {-40, pt(0, 0)}} {
		if got := r.Grown(c.d); got.Half != c.want || got.Centre != r.Centre || got.Turn != r.Turn {
			t.Errorf("grown by %v: %v, want halves of %v", c.d, got, c.want)
		}
	}
}

func TestRectOnTheLatticeIsExact(t *testing.T) {
	a := Rect{Centre: pt(100, 50), Half: pt(100, 50)}
	for _, c := range []struct {
		x    float64
		want bool
	}{{300, false}, {300 - Lattice, true}, {300 + Lattice, false}} {
		b := Rect{Centre: pt(c.x, 50), Half: pt(50, 100), Turn: degrees(90)}
		if got := a.Overlaps(b); got != c.want {
			t.Errorf("at %v: Overlaps = %v, want %v", c.x, got, c.want)
		}
		if got := a.Polygon().Overlaps(b.Polygon()); got != c.want {
			t.Errorf("at %v: polygons overlap = %v, want %v", c.x, got, c.want)
		}
	}
}

func drawPrism(t *rapid.T, label string) Prism {
	z := rapid.Float64Range(-200, 200).Draw(t, label+" z")
	return Prism{Base: drawRect(t, label).Polygon(), Bottom: z, Top: z + rapid.Float64Range(1, 200).Draw(t, label+" h")}
}

func TestPrismDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawPrism(t, "p"), drawPrism(t, "q")
		a, b, d := p.Nearest(q)
		if math.Abs(p.Distance(q)-d) > 1e-9 || math.Abs(q.Distance(p)-d) > 1e-9 {
			t.Fatalf("Nearest %v, Distance %v and %v", d, p.Distance(q), q.Distance(p))
		}
		if math.Abs(a.Sub(b).Norm()-d) > 2*Lattice {
			t.Fatalf("pair %v %v is not %v apart", a, b, d)
		}
		if p.Overlaps(q) && d > 0 {
			t.Fatal("overlapping prisms are apart")
		}
		if e, _ := DistancePointPrism(a, p); e > 2*Lattice {
			t.Fatalf("%v is not in the first prism", a)
		}
		if e, _ := DistancePointPrism(b, q); e > 2*Lattice {
			t.Fatalf("%v is not in the second prism", b)
		}
		v := r3.Vector{X: rapid.Float64Range(-500, 500).Draw(t, "x"), Y: rapid.Float64Range(-500, 500).Draw(t, "y"), Z: rapid.Float64Range(-500, 500).Draw(t, "z")}
		dp, np := DistancePointPrism(v, p)
		if math.Abs(np.Sub(v).Norm()-dp) > 1e-9 {
			t.Fatalf("%v is not %v from %v", np, dp, v)
		}
		dq, _ := DistancePointPrism(v, q)
		if d > dp+dq+1e-6 {
			t.Fatalf("%v apart, but %v and %v over a point", d, dp, dq)
		}
		for range 30 { // no sampled point is nearer
			s, u := sampleIn(t, p), sampleIn(t, q)
			if s.Sub(u).Norm() < d-2*Lattice || s.Sub(v).Norm() < dp-2*Lattice {
				t.Fatalf("points %v and %v are nearer than %v", s, u, d)
			}
		}
	})
}

// sampleIn is a point of a prism over a rectangle.
func sampleIn(t *rapid.T, p Prism) r3.Vector {
	f := rapid.Float64Range(0, 1)
	o, u, v := p.Base.Outer[0], p.Base.Outer[1], p.Base.Outer[3]
	s := o.Add(u.Sub(o).Mul(f.Draw(t, "s"))).Add(v.Sub(o).Mul(f.Draw(t, "t")))
	return at(s, p.Bottom+p.Height()*f.Draw(t, "h"))
}

func TestSegmentPrismAgreesWithSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrism(t, "p")
		c := rapid.Float64Range(-400, 400)
		a := r3.Vector{X: c.Draw(t, "ax"), Y: c.Draw(t, "ay"), Z: c.Draw(t, "az")}
		b := r3.Vector{X: c.Draw(t, "bx"), Y: c.Draw(t, "by"), Z: c.Draw(t, "bz")}
		if rapid.Bool().Draw(t, "level") {
			b.Z = a.Z
		}
		if rapid.Bool().Draw(t, "upright") {
			b.X, b.Y = a.X, a.Y
		}
		got, deepest := SegmentPrism(a, b, p), -math.MaxFloat64
		for i := range 2001 {
			v := a.Add(b.Sub(a).Mul(float64(i) / 2000))
			deepest = max(deepest, depthIn(p, v))
		}
		step := b.Sub(a).Norm() / 4000
		if deepest > 3*Lattice && !got {
			t.Fatalf("misses a segment %v deep inside", deepest)
		}
		if got && deepest < -step-3*Lattice {
			t.Fatalf("sees a segment that stays %v away", -deepest)
		}
	})
}

// depthIn is how deep a point is in a prism; negative outside.
func depthIn(p Prism, v r3.Vector) float64 {
	q := flatten(v)
	across := boundaryByBrute(p.Base, q)
	if !insideByBrute(p.Base, q) {
		across = -across
	}
	return min(across, v.Z-p.Bottom, p.Top-v.Z)
}

func TestSegmentAlongAFaceStaysOutside(t *testing.T) {
	p := NewBox(r3.Vector{}, r3.Vector{X: 10, Y: 10, Z: 10})
	for _, c := range []struct {
		name string
		a, b r3.Vector
		want bool
	}{
		{"along a side", r3.Vector{X: -5, Y: 0, Z: 5}, r3.Vector{X: 15, Y: 0, Z: 5}, false},
		{"along the top", r3.Vector{X: -5, Y: 5, Z: 10}, r3.Vector{X: 15, Y: 5, Z: 10}, false},
		{"along an edge", r3.Vector{X: 0, Y: 0, Z: -5}, r3.Vector{X: 0, Y: 0, Z: 15}, false},
		{"through", r3.Vector{X: -5, Y: 5, Z: 5}, r3.Vector{X: 15, Y: 5, Z: 5}, true},
		{"upright through", r3.Vector{X: 5, Y: 5, Z: -5}, r3.Vector{X: 5, Y: 5, Z: 15}, true},
		{"from face to face", r3.Vector{X: 0, Y: 5, Z: 5}, r3.Vector{X: 5, Y: 0, Z: 5}, true},
		{"up to a face", r3.Vector{X: 5, Y: 5, Z: 20}, r3.Vector{X: 5, Y: 5, Z: 10}, false},
		{"corner to corner", r3.Vector{}, r3.Vector{X: 10, Y: 10, Z: 10}, true},
		{"a point inside", r3.Vector{X: 5, Y: 5, Z: 5}, r3.Vector{X: 5, Y: 5, Z: 5}, true},
	} {
		if got := SegmentPrism(c.a, c.b, p); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestContainsRectAgreesWithBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, r := drawStar(t, "p"), drawRect(t, "r")
		r.Half = r2.Point{X: r.Half.X / 3, Y: r.Half.Y / 3}
		r.Centre = p.Centroid().Add(r.Centre.Mul(0.3))
		q := r.Polygon()
		if bruteBoundaries(p, q) < 3*Lattice {
			if p.ContainsRect(r) && bruteBoundaries(p, q) == 0 && crossesDeeply(p, q) {
				t.Fatalf("contains a rectangle that crosses its boundary: %v %v", p, r)
			}
			return
		}
		if got, want := p.ContainsRect(r), insideByBrute(p, q.Outer[0]); got != want {
			t.Fatalf("ContainsRect = %v, angles say %v", got, want)
		}
	})
}

// crossesDeeply tells whether a corner of either stands well across the other's
// boundary: a corner of q outside p, or one of p inside q.
func crossesDeeply(p, q Polygon) bool {
	for _, c := range q.Outer {
		if !insideByBrute(p, c) && boundaryByBrute(p, c) > 3*Lattice {
			return true
		}
	}
	for _, c := range p.Outer {
		if insideByBrute(q, c) && boundaryByBrute(q, c) > 3*Lattice {
			return true
		}
	}
	return false
}
