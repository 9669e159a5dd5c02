package outline

import (
	"bytes"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
	"stowbay/geometry"
	"stowbay/internal/inputs"
)

func TestSVGPathAreas(t *testing.T) {
	for _, c := range []struct {
		name, d string
		areas   []float64 // magnitude
		tol     float64
	}{
		{"absolute", "M0 0L100 0L100 50L0 50Z", []float64{5000}, 0},
		{"relative", "m10,10 100,0 0,50 -100,0z", []float64{5000}, 0},
		{"horizontal and vertical", "M0 0H100V50h-100v-50", []float64{5000}, 0},
		{"closed by its end", "M 0 0 L 100 0 L 100 50 L 0 0", []float64{2500}, 0},
		{"two parts", "M0 0H10V10H0Z m20 0h10v10h-10z", []float64{100, 100}, 0},
		{"numbers run together", "M0-0l1e1.0L10.5.5.5 10z", []float64{(10*0.5 + 10.5*10 - 0.5*0.5) / 2}, 1e-12},
		{"part after Z without M", "M0 0H10V10Z L 5 0 L 5 -5 Z", []float64{50, 12.5}, 0},
		{"move alone", "M5 5 M0 0H10V10Z M7 7", []float64{50}, 0},
		// Three quarters of a disc, the example of SVG 1.1, section 8.3.8.
		{"pie", "M300,200 h-150 a150,150 0 1,0 150,-150 z", []float64{0.75 * math.Pi * 150 * 150}, 40},
		{"ellipse turned", "M-80 0A80 40 30 1 1 80 0A80 40 30 1 1 -80 0Z", nil, 0},
		{"flags run together", "M0 50A50 50 0 11100 50 50 50 0 110 50z", []float64{math.Pi * 2500}, 20},
		{"radii too small grow", "M0 0A1 1 0 0 1 100 0A1 1 0 0 1 0 0", []float64{math.Pi * 2500}, 20},
		{"radius nothing is a line", "M0 0A0 5 0 0 1 100 0L100 50Z", []float64{2500}, 0},
		// A parabola's segment is two thirds of its box (Archimedes).
		{"quadratic", "M0 0Q50 100 100 0Z", []float64{2.0 / 3 * 100 * 50}, 5},
		{"quadratic to one side", "M0 0Q0 60 80 60Z", []float64{2.0 / 3 * 80 * 60 / 2}, 5},
		{"numbers with one figure on either side", "M0 0H1.5V2.5Z", []float64{1.5 * 2.5 / 2}, 0},
		{"relative moves near the edge", "M999990 0h5v5z m-999990 999990h5v5z", []float64{12.5, 12.5}, 1e-3},
		{"quadratic smooth", "M0 0Q25 50 50 0T100 0L50 -100Z", []float64{5000}, 1},
		// SVG 1.1, section 8.3.6 and 8.3.7: after a command that is none of its kind the first handle of S and of T is the pen itself:
		// what is left of S is the cubic with handles (0, 0) and (100, 100), of T the straight line.
		// Under that cubic lie 180000 times the integral of t^3 (1-t)^2, which is 3! 2!/6!: 3000.
		{"smooth after a line", "M-50 0L0 0T100 0L100 50L-50 50Z", []float64{7500}, 0},
		// After Q the handle of S is the pen as well: 2/3 of 50 by 25 lie under the parabola, half of those 3000 under the cubic.
		{"smooth cubic after a quadratic", "M0 0Q25 50 50 0S100 100 100 0L100 -10L0 -10Z", []float64{1000 + 2500/3.0 + 1500}, 5},
		{"smooth cubic after a line", "M0 100L0 0S100 100 100 0L100 100Z", []float64{10000 - 3000}, 5},
		// The area under a cubic with ends (0,0), (3a,0) and handles above its
		// thirds is 9/20 of 3a times the handles' height.
		{"cubic", "M0 0C0 60 100 60 100 0Z", []float64{100 * 60 * 0.6}, 5},
		{"cubic smooth circle", "M0 -50C27.614237 -50 50 -27.614237 50 0S27.614237 50 0 50S-50 27.614237 -50 0S-27.614237 -50 0 -50Z", []float64{math.Pi * 2500}, 20},
	} {
		rings, err := ParseSVGPath(c.d)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if c.areas == nil {
			continue
		}
		if len(rings) != len(c.areas) {
			t.Errorf("%s: %d outlines, want %d", c.name, len(rings), len(c.areas))
			continue
		}
		for i, want := range c.areas {
			if got := math.Abs(rings[i].Area()); math.Abs(got-want) > c.tol+1e-9 {
				t.Errorf("%s: area %v, want %v", c.name, got, want)
			}
		}
	}
}

func TestSVGPathFaults(t *testing.T) {
	for _, c := range []struct{ d, want string }{
		{"L0 0", "1:1: \"L\": a path starts with M"},
		{"M0 0 L10 x", "1:10: \"x\": a number is wanted"},
		{"M0 0 L10", "1:9: the end: a number is wanted"},
		{"M0 0\nL10 0\n? 1", "3:1: \"?\": a command"},
		{"M0 0H10V10", "1:1: the outline that starts here is not closed"},
		{"M0 0H10V10Z M1 1H5V5\nM9 9L5 5L1 7", "1:13: the outline that starts here is not closed: it needs a Z\n2:1: the outline"},
		{"M0 0H10Z", "1:1: the outline that starts here has 2 corners"},
		{"M0 0A5 5 0 2 1 9 9Z", "a flag, 0 or 1, is wanted"},
		{"M0 0L2e6 0L0 5Z", "too far out"},
		{"M0 0L1e999 0L0 5Z", "too great a number"},
		{"M0 0Q900000 900000 1000 0Z", "more than 2000 chords"},
		{"M0 0 L1 2,", "the end: a number is wanted"},
		{"M" + strings.Repeat("0 ", MaxPathBytes), "longer than a megabyte"},
		{"M0 0" + strings.Repeat("h1v1", geometry.MaxCorners) + "z", "at most 10000 are allowed"},
		{strings.Repeat("M0 0H9V9z", MaxOutlines+1), "more than 2000 outlines"},
		{"M1000000 0a5 5 0 01-11 9z", "1:1: the outline that starts here goes too far out"},
		{"M0 0" + strings.Repeat("h1", maxPoints), "more than 200000 corners"},
		{strings.Repeat("M0 0C0 1e5 1e5 1e5 1e5 0Z", 1000), "more than 200000 corners"},
	} {
		_, err := ParseSVGPath(c.d)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.40s: %v does not say %q", c.d, err, c.want)
		}
		var f *Fault
		if !errors.As(err, &f) {
			t.Errorf("%.40s: %T holds no *Fault", c.d, err)
		}
	}
	if rings, err := ParseSVGPath(""); rings != nil || err != nil {
		t.Errorf("an empty path: %v, %v", rings, err)
	}
}

// Every curve's points at any parameter are within the tolerance of the chords.
func TestChordsKeepTheTolerance(t *testing.T) {
	coord := rapid.Float64Range(-2000, 2000)
	point := rapid.Custom(func(t *rapid.T) r2.Point { return r2.Point{X: coord.Draw(t, "x"), Y: coord.Draw(t, "y")} })
	rapid.Check(t, func(t *rapid.T) {
		a, b, c, d := point.Draw(t, "a"), point.Draw(t, "b"), point.Draw(t, "c"), point.Draw(t, "d")
		quad, ok := quadratic([]r2.Point{a}, a, b, c, ChordTolerance)
		near(t, ok, quad, func(s float64) r2.Point { return lerp(s, lerp(s, a, b), lerp(s, b, c)) })
		cub, ok := cubic([]r2.Point{a}, a, b, c, d, ChordTolerance)
		near(t, ok, cub, func(s float64) r2.Point { // de Casteljau
			ab, bc, cd := lerp(s, a, b), lerp(s, b, c), lerp(s, c, d)
			return lerp(s, lerp(s, ab, bc), lerp(s, bc, cd))
		})
		e, round := arcBetween(a, b, rapid.Float64Range(1, 3000).Draw(t, "rx"), rapid.Float64Range(1, 3000).Draw(t, "ry"),
			rapid.Float64Range(-7, 7).Draw(t, "turn"), rapid.Bool().Draw(t, "large"), rapid.Bool().Draw(t, "sweep"))
		if !round || max(e.rx, e.ry) > 20000 {
			return
		}
		if e.at(e.start).Sub(a).Norm() > 1e-4 || e.at(e.start+e.sweep).Sub(b).Norm() > 1e-4 {
			t.Fatalf("arc from %v to %v, want %v to %v", e.at(e.start), e.at(e.start+e.sweep), a, b)
		}
		arc, ok := e.flatten([]r2.Point{a}, b, ChordTolerance)
		near(t, ok, arc, func(s float64) r2.Point { return e.at(e.start + s*e.sweep) })
	})
}

// A chord over a step h of a curve whose second derivative is b is off by b·h²/8 at most (the error of linear interpolation, as in
// any textbook of numerical analysis): steps of 1/n keep within 0.05 from n = √(b/0.4) on.
func TestChordsAreNoMoreThanTheToleranceWants(t *testing.T) {
	p := func(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }
	for _, c := range []struct {
		name string
		pts  func() ([]r2.Point, bool)
		n    int
	}{
		{"a parabola, second derivative 2·200", func() ([]r2.Point, bool) { return quadratic(nil, p(0, 0), p(50, 100), p(100, 0), ChordTolerance) }, 32},
		{"a parabola that is straight", func() ([]r2.Point, bool) { return quadratic(nil, p(0, 0), p(5, 5), p(10, 10), ChordTolerance) }, 1},
		{"a cubic, second derivatives 6·√13600", func() ([]r2.Point, bool) { return cubic(nil, p(0, 0), p(0, 60), p(100, 60), p(100, 0), ChordTolerance) }, 42},
		{"a cubic that is straight", func() ([]r2.Point, bool) { return cubic(nil, p(0, 0), p(3, 3), p(6, 6), p(9, 9), ChordTolerance) }, 1},
		{"a half circle of 100, second derivative 100·π²", func() ([]r2.Point, bool) {
			return ellipse{rx: 100, ry: 100, sweep: math.Pi}.flatten(nil, p(-100, 0), ChordTolerance)
		}, 50},
		{"a tiny circle, by eighths", func() ([]r2.Point, bool) {
			return ellipse{rx: 0.1, ry: 0.1, sweep: 2 * math.Pi}.flatten(nil, p(0.1, 0), ChordTolerance)
		}, 8},
		{"a bit more than a tiny quarter circle", func() ([]r2.Point, bool) {
			return ellipse{rx: 0.1, ry: 0.1, sweep: -1.6}.flatten(nil, p(0, -0.1), ChordTolerance)
		}, 3},
		{"a short arc", func() ([]r2.Point, bool) {
			return ellipse{rx: 1, ry: 1, sweep: 0.1}.flatten(nil, p(1, 0.1), ChordTolerance)
		}, 1},
	} {
		if pts, ok := c.pts(); !ok || len(pts) != c.n {
			t.Errorf("%s: %d chords, want %d", c.name, len(pts), c.n)
		}
	}
	if _, ok := (ellipse{rx: 1e6, ry: 1e6, sweep: 2}).flatten(nil, p(0, 0), ChordTolerance); ok {
		t.Error("an arc of more than 2000 chords is accepted")
	}
}

// An ellipse of half axes a and b turned by 45° is √((a²+b²)/2) to each side.
func TestEllipseTurnedByHalfARightAngle(t *testing.T) {
	rings, err := ParseSVGPath("M-141.4213562 -141.4213562A200 100 45 0 1 141.4213562 141.4213562A200 100 45 0 1 -141.4213562 -141.4213562Z")
	if err != nil || len(rings) != 1 {
		t.Fatal(rings, err)
	}
	if size, want := rings[0].Bounds().Size(), 2*math.Sqrt(25000); math.Abs(size.X-want) > 2*ChordTolerance || math.Abs(size.Y-want) > 2*ChordTolerance {
		t.Errorf("size %v, want %v both ways", size, want)
	}
}

// Two outlines in a larger one cross each other; what lies in both is inside an odd number of others, but in no outside.
func TestNestBearsRingsThatCross(t *testing.T) {
	rect := func(x0, y0, x1, y1 float64) geometry.Ring { return geometry.NewRect(x0, y0, x1, y1).Outer }
	got := Nest([]geometry.Ring{rect(0, 0, 100, 100), rect(10, 10, 60, 60), rect(40, 40, 80, 80), rect(45, 45, 50, 50)})
	if len(got) != 2 || len(got[0].Holes) != 2 || got[1].Area() != 25 {
		t.Errorf("%v", got)
	}
}

func TestArcFlags(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		large, positive := rapid.Bool().Draw(t, "large"), rapid.Bool().Draw(t, "sweep")
		e, ok := arcBetween(r2.Point{}, r2.Point{X: 10, Y: 3}, 20, 12, rapid.Float64Range(-3, 3).Draw(t, "turn"), large, positive)
		if !ok || (math.Abs(e.sweep) > math.Pi) != large || (e.sweep > 0) != positive {
			t.Fatalf("sweep %v for large %v, positive %v", e.sweep, large, positive)
		}
	})
}

func TestBulgeIsQuarterTangent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.Float64Range(0.01, 5).Draw(t, "bulge")
		if rapid.Bool().Draw(t, "clockwise") {
			b = -b
		}
		from, to := r2.Point{X: 3, Y: 4}, r2.Point{X: 103, Y: 54}
		e := bulged(from, to, b)
		if e.at(e.start).Sub(from).Norm() > 1e-6 || e.at(e.start+e.sweep).Sub(to).Norm() > 1e-6 {
			t.Fatal("the arc misses its ends")
		}
		// The sagitta is the bulge times half the chord, to the right of the
		// way for a positive bulge (DXF reference; from memory).
		sag := e.at(e.start + e.sweep/2).Sub(from.Add(to).Mul(0.5))
		half := to.Sub(from).Norm() / 2
		if want := to.Sub(from).Ortho().Normalize().Mul(-b * half); sag.Sub(want).Norm() > 1e-6 {
			t.Fatalf("sagitta %v, want %v", sag, want)
		}
	})
}

func lerp(s float64, a, b r2.Point) r2.Point { return a.Mul(1 - s).Add(b.Mul(s)) }

func near(t *rapid.T, ok bool, pts []r2.Point, at func(float64) r2.Point) {
	t.Helper()
	if !ok {
		return
	}
	for i := range 101 {
		p, best := at(float64(i)/100), math.Inf(1)
		for k := 1; k < len(pts); k++ {
			best = min(best, toSegment(p, pts[k-1], pts[k]))
		}
		if best > ChordTolerance+1e-4 {
			t.Fatalf("the curve is %v from its chords", best)
		}
	}
}

func toSegment(p, a, b r2.Point) float64 {
	ab := b.Sub(a)
	s := 0.0
	if l := ab.Dot(ab); l > 0 {
		s = math.Max(0, math.Min(1, p.Sub(a).Dot(ab)/l))
	}
	return p.Sub(lerp(s, a, b)).Norm()
}

func TestNest(t *testing.T) {
	square := func(lo, hi float64) geometry.Ring { return geometry.NewRect(lo, lo, hi, hi).Outer }
	got := Nest([]geometry.Ring{square(20, 30), square(0, 100), square(10, 90).Reversed(), square(200, 210), square(22, 24)})
	if len(got) != 3 {
		t.Fatalf("%d polygons, want 3: %v", len(got), got)
	}
	for i, want := range []float64{100*100 - 80*80, 10*10 - 2*2, 10 * 10} {
		if got[i].Area() != want || got[i].Validate() != nil {
			t.Errorf("polygon %d: area %v, want %v", i, got[i].Area(), want)
		}
	}
}

// Half an ellipse of radii 20 and 10 whose first axis is turned upright: its area is pi x 20 x 10 / 2, its width 10.
func TestTurnedEllipse(t *testing.T) {
	rings, err := ParseSVGPath("M0 0A20 10 90 0 1 0 40Z")
	if err != nil || len(rings) != 1 {
		t.Fatal(rings, err)
	}
	if got, want := math.Abs(rings[0].Area()), math.Pi*100; got > want || got < want-ChordTolerance*rings[0].Perimeter() {
		t.Errorf("area %v, want %v", got, want)
	}
	if size := rings[0].Bounds().Size(); math.Abs(size.X-10) > ChordTolerance || math.Abs(size.Y-40) > ChordTolerance {
		t.Errorf("size %v", size)
	}
}

// After Z the pen is where its part started (SVG 1.1 recommendation, section 8.3.3).
func TestPenReturnsToTheStart(t *testing.T) {
	rings, err := ParseSVGPath("M5 7h9v9z l9 0 0-9z m1 2 h3 v3 z")
	if err != nil || len(rings) != 3 {
		t.Fatal(rings, err)
	}
	for i, want := range []r2.Point{{X: 5, Y: 7}, {X: 5, Y: 7}, {X: 6, Y: 9}} {
		if rings[i][0] != want {
			t.Errorf("outline %d starts at %v, want %v", i, rings[i][0], want)
		}
	}
}

func FuzzParseSVGPath(f *testing.F) {
	seeds, err := os.ReadFile("testdata/paths.txt")
	if err != nil {
		f.Fatal(err)
	}
	for _, s := range strings.Split(string(seeds), "\n") {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, d string) { _ = tryPath(t, []byte(d)) })
}

func TestFloodOfSVGPaths(t *testing.T) {
	seeds, err := os.ReadFile("testdata/paths.txt")
	if err != nil {
		t.Fatal(err)
	}
	inputs.Flood{Target: "FuzzParseSVGPath", Most: 200, Words: inputs.SVGWords, Examples: bytes.Split(seeds, []byte("\n")), Read: tryPath}.Run(t)
}

func tryPath(t inputs.T, d []byte) error {
	rings, err := ParseSVGPath(string(d))
	if err != nil && rings != nil {
		t.Error("outlines beside an error")
	}
	for _, r := range rings {
		checkRing(t, r)
	}
	if len(rings) < 50 {
		Nest(rings)
	}
	return err
}

func checkRing(t inputs.T, r geometry.Ring) {
	t.Helper()
	if len(r) < 3 || len(r) > geometry.MaxCorners {
		t.Errorf("a ring of %d corners", len(r))
	}
	for _, p := range r {
		if !inRange(p) {
			t.Errorf("corner %v", p)
		}
	}
}
