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

// The lines of a hatch run in its direction, and those of a cross at right angles to them, at whole pitches from the origin.
func TestHatchRunsInItsDirection(t *testing.T) {
	area := geometry.NewRect(1000, 2000, 1300, 2200)
	for deg := -80.0; deg < 180; deg += 20 {
		sin, cos := math.Sincos(deg / 57.29577951308232)
		plain := len(Hatch{Area: area, Deg: deg}.Lines(7))
		lines := Hatch{Area: area, Deg: deg, Cross: true}.Lines(7)
		for i, l := range lines {
			along := l[1].Sub(l[0]).Normalize()
			turn, foot := along.Cross(pt(cos, sin)), l[0].Dot(pt(-sin, cos))
			if i >= plain {
				turn, foot = along.Dot(pt(cos, sin)), l[0].Dot(pt(cos, sin))
			}
			if math.Abs(turn) > 1e-9 || math.Abs(math.Remainder(foot, 7)) > 1e-6 {
				t.Fatalf("%g degrees: line %v", deg, l)
			}
		}
		if plain == 0 || len(lines) <= plain {
			t.Errorf("%g degrees: %d lines, %d with the cross", deg, plain, len(lines))
		}
	}
}

// A hatch has 2000 lines at most, wherever it lies: these are 2000 mm at a pitch of 1 mm.
func TestHatchHas2000LinesAtMost(t *testing.T) {
	for _, y := range []float64{0.5, 7000.5} {
		if n := len(Hatch{Area: geometry.NewRect(0, y, 10, y+2000)}.Lines(0.1)); n != 2000 {
			t.Errorf("from %g: %d lines", y, n)
		}
	}
}

// A dimension point by point, at a scale where a point is a millimetre: extension lines from 1.5 off the thing to 3 beyond the
// dimension line, none where it lies as near as 1; ticks of 2 either way at 45 degrees (ISO 129-1; from memory, not checked against the text).
func TestPartsOfADimension(t *testing.T) {
	st := Print().Style(Tag{Role: RoleDimension})
	d := Dimension{A: pt(100, 50), B: pt(300, 50), Offset: 20}
	strokes, text := d.Parts(1/mmPerPt, st)
	want := [][2]r2.Point{{pt(100, 51.5), pt(100, 73)}, {pt(300, 51.5), pt(300, 73)}, {pt(100, 70), pt(300, 70)},
		{pt(98, 68), pt(102, 72)}, {pt(298, 68), pt(302, 72)}}
	if len(strokes) != len(want) {
		t.Fatalf("%d strokes", len(strokes))
	}
	for i, w := range want {
		if got := strokes[i].Points; got[0].Sub(w[0]).Norm()+got[1].Sub(w[1]).Norm() > 1e-9 {
			t.Errorf("stroke %d: %v, want %v", i, got, w)
		}
	}
	if text.At.Sub(pt(200, 72.2)).Norm() > 1e-9 || text.Deg != 0 || text.Anchor != South {
		t.Errorf("the text %+v", text)
	}
	for off, n := range map[float64]int{0.9: 3, 1.1: 5, -1.1: 5} {
		d.Offset = off
		if strokes, _ := d.Parts(1/mmPerPt, st); len(strokes) != n {
			t.Errorf("%g off: %d strokes, want %d", off, len(strokes), n)
		}
	}
}

// The text stands 2.2 points square off the middle of its line, on the side that is up as it is read; where it is longer than the
// line less 3 points it goes beyond the end, by half its width and 4 points.
func TestPlaceOfADimensionsText(t *testing.T) {
	st := Print().Style(Tag{Role: RoleDimension})
	for deg := -85.0; deg < 275; deg += 12 {
		sin, cos := math.Sincos(deg / 57.29577951308232)
		_, x := Dimension{B: pt(200*cos, 200*sin)}.Parts(1/mmPerPt, st)
		off := x.At.Sub(pt(100*cos, 100*sin))
		up := pt(-sin, cos)
		if cos < 0 {
			up = up.Mul(-1)
		}
		if off.Sub(up.Mul(2.2)).Norm() > 1e-6 {
			t.Errorf("%g degrees: %v off the middle, want %v", deg, off, up.Mul(2.2))
		}
		if math.Abs(math.Remainder(x.Deg-deg, 180)) > 1e-9 || x.Deg > 90.01 || x.Deg <= -89.99 {
			t.Errorf("%g degrees: the text stands at %g", deg, x.Deg)
		}
	}
	w := TextWidth("words") * st.Size
	for over, outside := range map[float64]bool{0.01: false, -0.01: true} {
		n := w + 3 + over
		_, x := Dimension{B: pt(n, 0), S: "words"}.Parts(1/mmPerPt, st)
		want := pt(n/2, 2.2)
		if outside {
			want = pt(n+w/2+4, 0)
		}
		if x.At.Sub(want).Norm() > 1e-9 || (x.Anchor == Middle) != outside {
			t.Errorf("a line %g longer than its text: the text at %v, want %v", over, x.At, want)
		}
	}
}

// The scales of ISO 5455 from 1:1 to 1:1000, with 1:2.5, 1:15 and 1:25 between: what just fits at one does, and what is a hair larger
// takes the next; beyond the last any scale does.
func TestEveryStandardScale(t *testing.T) {
	all := []float64{1, 2, 2.5, 5, 10, 15, 20, 25, 50, 100, 200, 500, 1000}
	for i, n := range all {
		fits := func(size float64) float64 {
			return StandardScale(r2.RectFromPoints(pt(0, 0), pt(1, size)), 100, 50)
		}
		next := n * 1.0001
		if i+1 < len(all) {
			next = all[i+1]
		}
		if a, b := fits(50*n), fits(50*n*1.0001); math.Abs(a-n) > 1e-9 || math.Abs(b-next) > 1e-9 {
			t.Errorf("1:%g and 1:%g, want 1:%g and 1:%g", a, b, n, next)
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
