package drawing

import (
	"math"
	"slices"
	"strings"
	"testing"

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
