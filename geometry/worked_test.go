package geometry

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"
)

func r3Of(g *rapid.Generator[float64], t *rapid.T) r3.Vector {
	return r3.Vector{X: g.Draw(t, "x"), Y: g.Draw(t, "y"), Z: g.Draw(t, "z")}
}

// Standard results of the handbooks of mechanics (properties of plane areas,
// as in Beer and Johnston, Vector Mechanics for Engineers: Statics, table of
// centroids of common shapes). From memory, not checked against the text.
func TestCentroidsOfCommonShapes(t *testing.T) {
	const n = 4000 // chords of a half circle; their error is below 1e-6 of the radius
	arc := func(turn float64) Ring {
		r := make(Ring, n+1)
		for i := range r {
			a := turn * float64(i) / n
			r[i] = pt(100*math.Cos(a), 100*math.Sin(a))
		}
		return r
	}
	for _, c := range []struct {
		name string
		p    Polygon
		area float64
		at   r2.Point
	}{
		{"right-angled triangle, b/3 and h/3", Polygon{Outer: ringOf(0, 0, 90, 0, 0, 60)}, 90 * 60 / 2, pt(30, 20)},
		{"half circle, 4r/3π", Polygon{Outer: arc(math.Pi)}, math.Pi * 1e4 / 2, pt(0, 400/(3*math.Pi))},
		{"quarter circle, 4r/3π both ways", Polygon{Outer: append(arc(math.Pi/2), pt(0, 0))}, math.Pi * 1e4 / 4, pt(400/(3*math.Pi), 400/(3*math.Pi))},
		{"trapezium, h(a+2b)/3(a+b)", Polygon{Outer: ringOf(0, 0, 60, 0, 30, 45, 0, 45)}, 45 * 45, pt(70.0/3, 45*(60+2*30)/(3*90.0))},
		// T-section, flange 150 by 20 on a web 20 by 130: (150·20·140 + 130·20·65)/(5600).
		{"T-section", Polygon{Outer: ringOf(65, 0, 85, 0, 85, 130, 150, 130, 150, 150, 0, 150, 0, 130, 65, 130)}, 5600, pt(75, (150*20*140+130*20*65)/5600.0)},
	} {
		if got := c.p.Area(); math.Abs(got-c.area) > 1e-2 {
			t.Errorf("%s: area %v, want %v", c.name, got, c.area)
		}
		if got := c.p.Centroid(); got.Sub(c.at).Norm() > 1e-4 {
			t.Errorf("%s: centroid %v, want %v", c.name, got, c.at)
		}
	}
}

// A regular hexagon of side a has area 3√3/2·a² and apothem √3/2·a (Euclid IV;
// common knowledge).
func TestHexagon(t *testing.T) {
	var r Ring
	for i := range 6 {
		s, c := math.Sincos(math.Pi / 3 * float64(i))
		r = append(r, pt(100*c, 100*s))
	}
	p := Polygon{Outer: r}
	if want := 3 * math.Sqrt(3) / 2 * 1e4; math.Abs(p.Area()-want) > 1e-9*want {
		t.Errorf("area %v, want %v", p.Area(), want)
	}
	_, _, d := p.DistanceToBoundary(Polygon{Outer: ringOf(0, 0, 0.001, 0, 0, 0.001)})
	if want := 50 * math.Sqrt(3); math.Abs(d-want) > 0.002 {
		t.Errorf("apothem %v, want %v", d, want)
	}
	in, err := p.Inset(10)
	side := 100 - 20/math.Sqrt(3)
	if want := 3 * math.Sqrt(3) / 2 * side * side; err != nil || len(in) != 1 || math.Abs(in[0].Area()-want) > 1e-6 {
		t.Errorf("inset %v (%v), want area %v", in, err, want)
	}
}

// A polygon far from the origin loses nothing.
func TestCentroidFarOut(t *testing.T) {
	p := NewRect(0, 0, 3, 5).Translate(pt(999000, -999000))
	if got := p.Centroid(); got != pt(999001.5, -998997.5) {
		t.Errorf("centroid %v", got)
	}
	if got := p.Area(); got != 15 {
		t.Errorf("area %v", got)
	}
}

func TestQuarterTurnsAreExact(t *testing.T) {
	p := NewRect(0.1, 0.2, 77.7, 33.3)
	q := p
	for range 4 {
		q = q.Rotate(pt(0, 0), degrees(90))
	}
	for i := range p.Outer {
		if p.Outer[i] != q.Outer[i] {
			t.Errorf("corner %d: %v, want %v", i, q.Outer[i], p.Outer[i])
		}
	}
	for _, k := range []float64{-450, -90, 0, 90, 180, 270, 36090} {
		if !turnOf(degrees(k)).square() {
			t.Errorf("%v degrees is not a quarter turn", k)
		}
	}
	if turnOf(degrees(90.0001)).square() {
		t.Error("90.0001 degrees is a quarter turn")
	}
}

func TestTurns(t *testing.T) {
	for _, c := range []struct {
		degrees, cos, sin float64
	}{
		{90, 0, 1}, {180, -1, 0}, {270, 0, -1}, {360, 1, 0}, {-90, 0, -1}, {-270, 0, 1}, {450, 0, 1},
		{30, math.Sqrt(3) / 2, 0.5}, {180 / math.Pi, 0.54030230586814, 0.84147098480790}, // one radian: cos 1 and sin 1
	} {
		got := turnOf(degrees(c.degrees))
		if math.Abs(got.cos-c.cos) > 1e-14 || math.Abs(got.sin-c.sin) > 1e-14 {
			t.Errorf("%v degrees: %v, want %v and %v", c.degrees, got, c.cos, c.sin)
		}
	}
}

// What is off a quarter turn by no more than rounding is one.
func TestQuarterTurnsAllowForRounding(t *testing.T) {
	for _, quarters := range []float64{0, 1, 3} {
		turn := quarters * math.Pi / 2
		if !turnOf(s1.Angle(turn + 0.95e-12*max(1, quarters))).square() {
			t.Errorf("%v quarters and rounding are no quarter turns", quarters)
		}
		if turnOf(s1.Angle(turn + 1.05e-12*max(1, quarters))).square() {
			t.Errorf("%v quarters and more than rounding are quarter turns", quarters)
		}
	}
}

func TestLengthsOfRings(t *testing.T) {
	p := Polygon{Outer: ringOf(0, 0, 30, 0, 0, 40), Holes: []Ring{NewRect(2, 2, 5, 6).Outer}}
	if got := p.Perimeter(); got != 30+40+50+2*(3+4) {
		t.Errorf("perimeter %v, want 134", got)
	}
	if b := ringOf(3, 4).Bounds(); b.Lo() != pt(3, 4) || b.Hi() != pt(3, 4) {
		t.Errorf("bounds of one corner: %v", b)
	}
	if !(Ring{}).Bounds().IsEmpty() {
		t.Error("bounds of nothing are not empty")
	}
}

func TestReversedKeepsTheFirstCorner(t *testing.T) {
	for _, c := range []struct{ r, want Ring }{
		{nil, nil}, {ringOf(1, 1), ringOf(1, 1)}, {ringOf(1, 1, 2, 2), ringOf(1, 1, 2, 2)}, {ringOf(1, 1, 2, 2, 3, 0), ringOf(1, 1, 3, 0, 2, 2)},
	} {
		if got := c.r.Reversed(); !slices.Equal(got, c.want) {
			t.Errorf("%v reversed is %v, want %v", c.r, got, c.want)
		}
	}
}

func TestPrismMeasures(t *testing.T) {
	p := Prism{Base: Polygon{Outer: ringOf(0, 0, 90, 0, 0, 60)}, Bottom: 10, Top: 40}
	if p.Volume() != 2700*30 {
		t.Errorf("volume %v", p.Volume())
	}
	if got := p.Centroid(); got.Sub(r3.Vector{X: 30, Y: 20, Z: 25}).Norm() > 1e-12 {
		t.Errorf("centroid %v", got)
	}
	for _, c := range []struct {
		v    r3.Vector
		want Location
	}{
		{r3.Vector{X: 10, Y: 10, Z: 20}, Inside},
		{r3.Vector{X: 10, Y: 10, Z: 10}, Boundary},
		{r3.Vector{X: 10, Y: 10, Z: 40.004}, Boundary},
		{r3.Vector{X: 10, Y: 10, Z: 40.006}, Outside},
		{r3.Vector{X: 45, Y: 30, Z: 20}, Boundary},
		{r3.Vector{X: 46, Y: 30, Z: 20}, Outside},
	} {
		if got := p.Contains(c.v); got != c.want {
			t.Errorf("%v is %v, want %v", c.v, got, c.want)
		}
	}
}
