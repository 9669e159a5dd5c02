package drawing

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"stowbay/geometry"
)

// Lines of a hatch a distance apart cover the area in strips: their lengths times the distance come to the area,
// as in a planimeter's or Cavalieri's sum, here for a polygon with a hole and any direction.
func TestHatchLinesMeasureTheArea(t *testing.T) {
	area := geometry.Polygon{
		Outer: geometry.Ring{{X: 0, Y: 0}, {X: 400, Y: -30}, {X: 500, Y: 200}, {X: 250, Y: 120}, {X: 60, Y: 300}},
		Holes: []geometry.Ring{geometry.NewRect(150, 40, 260, 90).Outer},
	}
	rapid.Check(t, func(t *rapid.T) {
		deg := rapid.Float64Range(-180, 180).Draw(t, "deg")
		sum := 0.0
		for _, l := range (Hatch{Area: area, Deg: deg}).Lines(0.5) {
			sum += l[1].Sub(l[0]).Norm() * 0.5
		}
		if want := area.Area(); math.Abs(sum-want) > 0.01*want {
			t.Fatalf("hatched %v, want %v", sum, want)
		}
	})
}

func TestHatchStaysInside(t *testing.T) {
	area := geometry.Polygon{Outer: geometry.NewRect(0, 0, 300, 200).Outer, Holes: []geometry.Ring{geometry.NewRect(100, 50, 200, 150).Outer}}
	for _, l := range (Hatch{Area: area, Deg: 37, Cross: true}).Lines(7) {
		if area.Contains(l[0].Add(l[1]).Mul(0.5)) == geometry.Outside {
			t.Fatalf("line %v runs outside", l)
		}
	}
}

func TestHugeHatchIsBounded(t *testing.T) {
	h := Hatch{Area: geometry.NewRect(0, 0, 1e6, 1e6)}
	if n := len(h.Lines(0.1)); n > mostHatchLines+1 {
		t.Errorf("%d lines", n)
	}
}

// A dimension 1000 long, 60 to its left: the dimension line lies 60 off, texts read from below or from the right
// (ISO 129-1; from memory, not checked against the text).
func TestDimensionLiesOffAndReads(t *testing.T) {
	st := Print().Style(Tag{Role: RoleDimension})
	d := Dimension{A: r2.Point{X: 1000}, B: r2.Point{}, Offset: 60}
	strokes, text := d.Parts(20, st)
	found := false
	for _, s := range strokes {
		a, b := s.Points[0], s.Points[1]
		found = found || a == r2.Point{X: 1000, Y: -60} && b == r2.Point{Y: -60}
	}
	if !found || text.S != "1000" || math.Abs(text.Deg) > 1e-9 {
		t.Errorf("strokes %v, text %+v", strokes, text)
	}
	for deg := -180.0; deg < 180; deg += 15 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		_, x := Dimension{B: r2.Point{X: 500 * cos, Y: 500 * sin}}.Parts(10, st)
		if x.Deg > 90.02 || x.Deg <= -89.99 {
			t.Errorf("a dimension at %v degrees has text at %v", deg, x.Deg)
		}
	}
}

func TestShortDimensionPutsItsTextOutside(t *testing.T) {
	st := Print().Style(Tag{Role: RoleDimension})
	_, text := Dimension{B: r2.Point{X: 5}}.Parts(20, st)
	if text.At.X < 5+PaperMM(TextWidth("5")*st.Size/2, 20) {
		t.Errorf("text at %v lies over the dimension", text.At)
	}
}

func TestStandardScales(t *testing.T) {
	for _, c := range []struct{ long, field, want float64 }{{4500, 260, 20}, {600, 180, 5}, {200, 190, 2}, {100, 190, 1}, {12000, 260, 50}} {
		if got := StandardScale(r2.RectFromPoints(r2.Point{}, r2.Point{X: c.long, Y: 1}), c.field, 100); got != c.want {
			t.Errorf("%v mm into %v mm: 1:%v, want 1:%v", c.long, c.field, got, c.want)
		}
	}
}

func TestShiftedAndScaledLists(t *testing.T) {
	l := Plan(inventedScene(2, 2), fullOptions())
	d := pt(100, -50)
	m := l.Shifted(d)
	for i, it := range m.Items {
		for k, q := range pointsOf(it) {
			if q.Sub(pointsOf(l.Items[i])[k]).Sub(d).Norm() > 1e-9 {
				t.Fatalf("item %d moved wrongly", i)
			}
		}
	}
	half := l.Scaled(0.5)
	if got, want := half.Bounds.Size().X, l.Bounds.Size().X/2; math.Abs(got-want) > 1e-9 {
		t.Errorf("half as large is %v wide, want %v", got, want)
	}
}
