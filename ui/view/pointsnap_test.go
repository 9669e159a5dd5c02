package view

import (
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// snapAt snaps a point of the plan; the bay mid reaches from 500, -700 to 2500, 700.
func snapAt(m *Model, v drawing.View, x, y float64) PointSnap {
	s := m.PointSnapper(v, []r2.Point{{X: 3111, Y: -213}}, false)
	s.Reach = 10
	return s.Point(r2.Point{X: x, Y: y})
}

func TestPointsSnapToWhatIsNamed(t *testing.T) {
	m := testModel(t, 0)
	for _, c := range []struct {
		v    drawing.View
		at   r2.Point
		want r2.Point
		kind SnapKind
		word string
	}{
		{drawing.PlanView, r2.Point{X: 2494, Y: 706}, r2.Point{X: 2500, Y: 700}, OnCorner, "corner of mid"},
		{drawing.PlanView, r2.Point{X: 2506, Y: 555.5}, r2.Point{X: 2500, Y: 555.5}, OnEdge, "edge of mid"},
		{drawing.PlanView, r2.Point{X: 2506, Y: 4}, r2.Point{X: 2500, Y: 0}, OnEdge, "mirror line"},
		{drawing.PlanView, r2.Point{X: 3304, Y: 4}, r2.Point{X: 3300, Y: 0}, OnLine, "mirror line"},
		{drawing.PlanView, r2.Point{X: 3006, Y: 218}, r2.Point{X: 3010, Y: 213}, OnLine, "in line"},
		{drawing.PlanView, r2.Point{X: -4, Y: 807}, r2.Point{X: 0, Y: 810}, OnLine, "front axle"},
		{drawing.PlanView, r2.Point{X: 3306, Y: 844}, r2.Point{X: 3310, Y: 840}, OnGrid, "grid"},
		{drawing.SideView, r2.Point{X: 3306, Y: 3}, r2.Point{X: 3310, Y: 0}, OnLine, "ground"},
		{drawing.RearView, r2.Point{X: 3, Y: 1206}, r2.Point{X: 0, Y: 1210}, OnLine, "mirror line"},
	} {
		got := snapAt(m, c.v, c.at.X, c.at.Y)
		if c.word == "in line" { // the corner drawn stands at y = -213: nothing lies at its mirror image
			if got.Kind == OnLine && got.At == c.want {
				t.Errorf("%v: %+v snapped to the mirror image of a corner only drawn", c.at, got)
			}
			continue
		}
		if got.Kind != c.kind || got.At.Sub(c.want).Norm() > 1e-9 || !strings.Contains(strings.Join(got.Words, "; "), c.word) {
			t.Errorf("%v, %v: %+v, want %v by %q", c.v, c.at, got, c.want, c.word)
		}
	}
}

func TestPointsSnapToCornersDrawn(t *testing.T) {
	got := snapAt(testModel(t, 0), drawing.PlanView, 3306, -209)
	if got.At.Y != -213 || got.Kind != OnLine || got.Words[0] != "in line with a corner drawn" {
		t.Errorf("%+v", got)
	}
}

// A slanted edge is snapped to at the nearest place on it.
func TestPointsSnapToSlantedEdges(t *testing.T) {
	var s PointSnapper
	s.Reach = 10
	s.AddRing([]r2.Point{{X: 0, Y: 0}, {X: 300, Y: 400}, {X: -500, Y: 400}}, "taper")
	got := s.Point(r2.Point{X: 150 + 8*0.8, Y: 200 - 8*0.6}) // 8 mm off the middle of the side of 500 mm
	if want := (r2.Point{X: 150, Y: 200}); got.Kind != OnEdge || got.At.Sub(want).Norm() > 1e-9 {
		t.Errorf("%+v, want %v", got, want)
	}
}

func TestEverySnapHasASignAndAWord(t *testing.T) {
	m := testModel(t, 0)
	p := m.pointer(0, 0)
	signs := map[int]bool{}
	for _, at := range []r2.Point{{X: 2494, Y: 706}, {X: 2506, Y: 555}, {X: 3304, Y: 4}, {X: 3306, Y: 844}} {
		got := snapAt(m, drawing.PlanView, at.X, at.Y)
		n := 0
		for _, it := range got.items(p) {
			if st, ok := it.(drawing.Stroke); ok && st.Of.Role == RoleSnap {
				n = 10*n + len(st.Points)
			}
		}
		if n == 0 || signs[n] && got.Kind != OnGrid || len(got.Words) == 0 {
			t.Errorf("%v: sign %d, words %v", at, n, got.Words)
		}
		signs[n] = true
	}
}

func TestOutlineShowsWhatIsTypedAndWhereItLeads(t *testing.T) {
	m := testModel(t, 0)
	o := NewOutline(m, "Draw a bay", func([]r2.Point) {})
	m.SetTool(o)
	p := m.pointer(3000, 0)
	o.Press(p)
	o.Release(p)
	o.Move(m.pointer(3200, 0), false)
	for _, r := range "450<90" {
		o.Type(r)
	}
	var texts []string
	for _, it := range o.Overlay(drawing.PlanView) {
		switch it := it.(type) {
		case drawing.Text:
			texts = append(texts, it.S)
		case drawing.Dimension:
			if it.B.Sub(r2.Point{X: 3000, Y: 450}).Norm() > 0.01 {
				t.Errorf("the side is shown to %v", it.B)
			}
		}
	}
	if !slices.Contains(texts, "450<90|") || !slices.ContainsFunc(texts, func(s string) bool { return strings.Contains(s, "450 mm at 90.0°") }) {
		t.Errorf("texts %q", texts)
	}
	if !o.Type('v') {
		t.Error("a letter in the middle of typing went elsewhere")
	}
}

func TestOutlineStaysInSightUntilItsHeightsAreKnown(t *testing.T) {
	m := testModel(t, 0)
	var got []r2.Point
	o := NewOutline(m, "Draw a bay", func(ps []r2.Point) { got = ps })
	m.SetTool(o)
	for _, s := range []string{"=3000,0", "200<0", "100<<90", "<180"} {
		o.Move(m.pointer(3000, 100), false)
		for _, r := range s {
			if !o.Type(r) {
				t.Fatalf("%q of %q is not taken", r, s)
			}
		}
		o.Key("Return")
	}
	o.Key("Return")
	want := []r2.Point{{X: 3000, Y: 0}, {X: 3200, Y: 0}, {X: 3200, Y: 100}, {X: 3000, Y: 100}}
	if !slices.EqualFunc(got, want, func(a, b r2.Point) bool { return a.Sub(b).Norm() < 0.02 }) {
		t.Fatalf("outline %v, want %v", got, want)
	}
	if len(o.Overlay(drawing.PlanView)) == 0 {
		t.Error("the outline is out of sight while its heights are asked")
	}
	o.Reopen()
	o.Key("BackSpace")
	if n := len(o.Points()); n != 3 {
		t.Errorf("%d corners after taking one back", n)
	}
}

func TestOutlineMadeElsewhereIsHandedOver(t *testing.T) {
	m := testModel(t, 0)
	var got []r2.Point
	o := NewOutline(m, "Draw a bay", func(ps []r2.Point) { got = ps })
	m.SetTool(o)
	ring := []r2.Point{{X: 0, Y: 0}, {X: 200, Y: 0}, {X: 200, Y: 100}}
	o.Take(ring)
	if !slices.Equal(got, ring) || len(o.Overlay(drawing.PlanView)) == 0 {
		t.Errorf("got %v", got)
	}
	o.Reopen() // and drawn on it stays as it was for whoever made it
	o.Key("BackSpace")
	for _, r := range "=150,150" {
		o.Type(r)
	}
	o.Key("Return")
	if ring[2] != (r2.Point{X: 200, Y: 100}) || len(o.Points()) != 3 {
		t.Errorf("the outline made elsewhere is now %v, drawn is %v", ring, o.Points())
	}
}
