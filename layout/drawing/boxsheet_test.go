package drawing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/vehicles"
)

func dimensionTexts(l *List) []string {
	var out []string
	for _, it := range l.Items {
		if d, ok := it.(Dimension); ok {
			if d.S == "" {
				d.S = length(d.B.Sub(d.A).Norm(), false)
			}
			out = append(out, d.S)
		}
	}
	return out
}

// A box of 1255 x 334 x 250 with feet 80 mm from its ends carries just these figures.
func TestBoxSheetIsDimensioned(t *testing.T) {
	s := inventedScene(3, 2)
	got := dimensionTexts(BoxSheet(s, s.Boxes[0], Options{}))
	for _, want := range []string{"1255", "334", "250", "80", "1095", "25", "120", "167"} {
		if !slices.Contains(got, want) {
			t.Errorf("no dimension %s among %v", want, got)
		}
	}
}

func textsOf(l *List) string {
	var b strings.Builder
	for _, it := range l.Items {
		if x, ok := it.(Text); ok {
			b.WriteString(x.S + "\n")
		}
	}
	return b.String()
}

// A sheet is laid out for the scale stated, or for the largest standard one at which the views, with eight rows of 6 mm across and nine
// up, fit 178 x 190 mm: 130 mm are left for the length and the width, 136 for the width and the height.
func TestScaleOfASheet(t *testing.T) {
	s := inventedScene(1, 1)
	for _, n := range []float64{0.5, 1, 7} {
		if h := newSheet(s, s.Boxes[0], Options{Scale: n}); math.Abs(h.scale()-n) > 1e-12 {
			t.Errorf("1:%g became 1:%g", n, h.scale())
		}
	}
	for _, c := range []struct{ x, y, z, want float64 }{
		{450, 200, 100, 5}, {450.1, 200, 100, 10}, {400, 200, 480, 5}, {400, 200, 480.1, 10}, {100, 30, 20, 1}, {100.1, 30, 20, 2}, {1e6, 10, 10, 1000},
	} {
		h := sheet{size: r3.Vector{X: c.x, Y: c.y, Z: c.z}}
		if got := h.pageScale(); got != c.want {
			t.Errorf("%g x %g x %g: 1:%g, want 1:%g", c.x, c.y, c.z, got, c.want)
		}
	}
}

// From the ends of the box to its feet where these are farther than half a millimetre from them; feet beyond the ends as well.
func TestDistancesOfFeet(t *testing.T) {
	h := sheet{row: 60, name: 27}
	for _, c := range []struct {
		feet []float64
		want []step // without how far out
	}{
		{[]float64{180, 820}, []step{{from: 180, to: 820}, {from: 180, to: 100}, {from: 820, to: 900}}},
		{[]float64{100, 900}, []step{{from: 100, to: 900}}},
		{[]float64{100.52, 899.48}, []step{{from: 100.52, to: 899.48}, {from: 100.52, to: 100}, {from: 899.48, to: 900}}},
		{[]float64{100.48, 899.52}, []step{{from: 100.48, to: 899.52}}},
		{[]float64{75, 925}, []step{{from: 75, to: 925}, {from: 100, to: 75}, {from: 900, to: 925}}},
		{[]float64{500}, []step{{from: 500, to: 100}, {from: 500, to: 900}}},
	} {
		got := h.footSteps(c.feet, r1.Interval{Lo: 100, Hi: 900})
		for i := range got {
			if want := 0.7 * 60.0; got[i].out != want && (got[i].out != want+60 || len(c.feet) < 2 || i == 0) {
				t.Errorf("feet %v: step %d lies %g out", c.feet, i, got[i].out)
			}
			got[i].out = 0
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("feet %v: %v, want %v", c.feet, got, c.want)
		}
	}
}

// Chains along both axes lie alike: short steps side by side alternate, outward; three places have a chain and the whole beyond it, two
// the whole alone.
func TestChainsLieAlikeAlongBothAxes(t *testing.T) {
	h := sheet{row: 60, name: 27}
	vs := []float64{0, 20, 40, 60, 500}
	for _, off := range []float64{42, -42} {
		p, q := newPen(PlanView, &Options{}), newPen(PlanView, &Options{})
		h.chainX(p, vs, 0, off)
		h.chainY(q, vs, 0, off)
		for i, want := range []float64{0, 0.6 * 60, 0, 0} {
			x, y := p.items[i].(Dimension), q.items[i].(Dimension)
			if x.Offset != y.Offset || math.Abs(math.Abs(x.Offset)-42-want) > 1e-9 || x.Offset*off < 0 || x.A.X != y.A.Y || x.B.X != y.B.Y {
				t.Errorf("step %d: %+v and %+v", i, x, y)
			}
		}
	}
	for n, want := range map[int]int{1: 0, 2: 1, 3: 3} {
		p, q := newPen(PlanView, &Options{}), newPen(PlanView, &Options{})
		p.reach(pt(0, 0))
		q.reach(pt(0, 0))
		h.atLeft(p, []float64{0, 300, 700}[:n])
		h.below(q, []float64{0, 300, 700}[:n])
		if len(p.items) != want || len(q.items) != want {
			t.Errorf("%d places: %d and %d dimensions, want %d", n, len(p.items), len(q.items), want)
		}
	}
}

// A segment runs through a rectangle where it has an end in it or crosses one of its diagonals, by the signs of the areas that its ends
// span with them (whole numbers, so without rounding).
func TestLinesThroughARectangle(t *testing.T) {
	side := func(a, b, c r2.Point) float64 { return b.Sub(a).Cross(c.Sub(a)) }
	within := func(a, b, c r2.Point) bool { // c on the line of a and b
		return r2.RectFromPoints(a, b).ContainsPoint(c)
	}
	cross := func(a, b, c, d r2.Point) bool {
		s, u, v, w := side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
		return s*u < 0 && v*w < 0 || s == 0 && within(a, b, c) || u == 0 && within(a, b, d) || v == 0 && within(c, d, a) || w == 0 && within(c, d, b)
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(-4, 6)
		draw := func(name string) r2.Point { return pt(float64(n.Draw(t, name+"x")), float64(n.Draw(t, name+"y"))) }
		r := r2.RectFromPoints(pt(0, 0), pt(3, 2))
		v := r.Vertices()
		ps := []r2.Point{draw("a"), draw("b"), draw("c")}[:rapid.IntRange(1, 3).Draw(t, "places")]
		want := false
		for i := 0; i+1 < len(ps); i++ {
			a, b := ps[i], ps[i+1]
			hit := r.ContainsPoint(a) || r.ContainsPoint(b) || cross(a, b, v[0], v[2]) || cross(a, b, v[1], v[3])
			want = want || hit
			if got := clipped(a, b, r); got != hit {
				t.Fatalf("%v to %v: %v", a, b, got)
			}
		}
		if got := runsThrough(ps, r); got != want {
			t.Fatalf("%v: %v", ps, got)
		}
	})
}

// The name of a thing goes out on the side of the box that it lies on, be it just past the middle.
func TestNamesGoOutOnTheirSide(t *testing.T) {
	s := inventedScene(2, 1)
	h := newSheet(s, s.Boxes[0], Options{Scale: 10})
	for share, want := range map[float64]Anchor{0.48: East, 0.52: West} {
		p := h.pen(PlanView)
		h.nameAt(p, vehicles.XYZ{share * h.size.X, share * h.size.Y, 0}, "", "name", RoleFoot)
		first, second := p.wishes[0].at[0], p.wishes[0].at[1]
		if first.Anchor != want || second.Anchor == want || (first.At.X > share*h.size.X) != (want == West) || (first.At.Y > share*h.size.Y) != (want == West) {
			t.Errorf("at %g of the box: %v, then %v", share, first, second)
		}
	}
}

func TestBoxSheetNamesEverything(t *testing.T) {
	s := inventedScene(3, 2)
	got := textsOf(BoxSheet(s, s.Boxes[0], Options{}))
	for _, want := range []string{"7\n", "flat, over 1", "connector dia 45", "vent dia 25", "drain dia 12", "f1: 1 x M10 8.8", "wall 1.5, flange 20", "front"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in %q", want, got)
		}
	}
}

// A turned box is drawn straight, and a link's route handed in with the vehicle's places follows it.
func TestBoxSheetTurnsTheBoxStraight(t *testing.T) {
	s := inventedScene(3, 2)
	straight := BoxSheet(s, s.Boxes[0], Options{})
	turned := *s.Boxes[0].Box
	turned.TurnDeg, turned.At = 33, vehicles.XYZ{900, 50, 300}
	a := &layout.Arrangement{ID: "b", Boxes: []*layout.Box{&turned}}
	scene := layout.Resolve(s.Plan, a, s.Library, nil)
	places := []r3.Vector{scene.Boxes[0].Modules[0].CG, scene.Boxes[0].Modules[1].CG}
	l := BoxSheet(scene, scene.Boxes[0], Options{Lines: []Line{{Role: RoleLink, Points: places}}})
	if d := l.Bounds.Size().Sub(straight.Bounds.Size()).Norm(); d > 1e-6 {
		t.Errorf("the turned box's sheet has another size: %v", d)
	}
	for _, it := range l.Items {
		if k, ok := it.(Stroke); ok && k.Of.Role == RoleLink {
			want := pt(50+355.0/2, 8+152.0/2)
			if k.Points[0].Sub(want).Norm() > 1e-6 {
				t.Errorf("the link begins at %v, want the middle of module 1 at %v", k.Points[0], want)
			}
			return
		}
	}
	t.Error("the link is not drawn")
}

// A segment meets a rectangle just where one of many places along it lies inside.
func TestClippedAgreesWithSampling(t *testing.T) {
	r := r2.RectFromPoints(pt(-10, -5), pt(20, 15))
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) r2.Point {
			return pt(rapid.Float64Range(-50, 50).Draw(t, name+"x"), rapid.Float64Range(-50, 50).Draw(t, name+"y"))
		}
		a, b := at("a"), at("b")
		in := false
		for k := range 2001 {
			in = in || r.ContainsPoint(a.Add(b.Sub(a).Mul(float64(k)/2000)))
		}
		if got := clipped(a, b, r); in && !got || got && !in && clipped(a, b, r.ExpandedByMargin(-0.2)) {
			t.Fatalf("%v to %v: clipped %v, sampled %v", a, b, got, in)
		}
	})
}

// Figures of a chain that would run into each other go to two levels, wherever the chain lies: a figure needs its own width and a
// third of a row besides.
func TestFiguresOfAChainKeepApart(t *testing.T) {
	h := &sheet{row: 40, name: 20}
	enough := TextWidth("45")*h.name + 0.3*h.row
	for _, from := range []float64{0, -2000, 5000} {
		var vs []float64
		for _, step := range []float64{0, 300, 10, 10, 10, 300, 10, 300} {
			from += step
			vs = append(vs, from)
		}
		if got, want := h.levels(vs), []float64{0, 0, 24, 0, 0, 0, 0}; !slices.Equal(got, want) {
			t.Errorf("from %g: levels %v, not %v", vs[0], got, want)
		}
	}
	if wide := math.Ceil(enough); h.levels([]float64{0, wide, 2 * wide})[1] != 0 || h.levels([]float64{0, wide - 2, 2*wide - 4})[1] == 0 {
		t.Errorf("figures of two digits need %g mm", enough)
	}
}
