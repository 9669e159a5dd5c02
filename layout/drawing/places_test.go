package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// What is said of places lies over nothing selected and over nothing else that is said, in any view and at any scale of names, and
// leads to its place; what cannot be said is counted.
func TestNotesKeepOffWhatIsSelected(t *testing.T) {
	s := inventedScene(3, 2)
	for _, scale := range []float64{0.5, 1, 1.6} {
		o := Options{Marks: map[string]Mark{}, NameScale: scale, MorePlaces: 7}
		var first r3.Vector
		for _, b := range s.Boxes {
			for _, m := range b.Modules {
				o.Marks[m.ID] = Selected | Breached
				c := m.Prism.Base.Bounds().Center()
				first = r3.Vector{X: c.X, Y: c.Y, Z: (m.Prism.Bottom + m.Prism.Top) / 2}
			}
		}
		for i := range 3 {
			at := first.Add(r3.Vector{X: float64(i)})
			o.Places = append(o.Places, Place{A: at, B: at, Text: fmt.Sprintf("%d mm, needs 9 mm", i), Mark: Breached, Ref: "fit.gap"})
		}
		for _, v := range []View{PlanView, SideView, RearView} {
			l := v.Draw(s, o)
			notes := map[string]r2.Rect{}
			for text, r := range texts(l) {
				if strings.Contains(text, "mm, needs") || strings.Contains(text, "see the findings") {
					notes[text] = r
				}
			}
			if len(notes) != 4 || notes["and 7 more, see the findings"] == (r2.Rect{}) {
				t.Errorf("%v at %v: %v", v, scale, notes)
			}
			p := newPen(v, &o)
			for text, r := range notes {
				for _, b := range s.Boxes {
					for _, m := range b.Modules {
						if p.prismExtent(m.Prism).InteriorIntersects(r) {
							t.Errorf("%v at %v: %q lies over %s", v, scale, text, m.ID)
						}
					}
				}
				for other, q := range notes {
					if other != text && q.InteriorIntersects(r) {
						t.Errorf("%v at %v: %q lies over %q", v, scale, text, other)
					}
				}
			}
			if n := leadersTo(l, v.Point(first)); n != 3 {
				t.Errorf("%v at %v: %d leaders, want one for each note", v, scale, n)
			}
		}
	}
}

// leadersTo counts the leaders that end within 3 mm of a place.
func leadersTo(l *List, at r2.Point) int {
	n := 0
	for _, it := range l.Items {
		if k, ok := it.(Stroke); ok && k.Of.Role == RoleBreach && k.Pt == noteLeaderPt && k.Points[1].Sub(at).Norm() < 3 {
			n++
		}
	}
	return n
}

// What is said keeps off what is selected and what the caller wants clear, or off all bodies where nothing is selected and up to three
// places are said something of.
func TestWhatNotesKeepOff(t *testing.T) {
	s := inventedScene(1, 1)
	bodies := s.Count()
	clear := r2.RectFromPoints(pt(0, 0), pt(10, 10))
	m := s.Boxes[0].Modules[0]
	for _, c := range []struct {
		places int
		marks  map[string]Mark
		clear  []r2.Rect
		want   int
	}{
		{0, map[string]Mark{m.ID: Selected}, nil, 0}, {1, nil, nil, bodies}, {3, nil, nil, bodies}, {4, nil, nil, 0},
		{4, map[string]Mark{m.ID: Selected}, nil, 1}, {4, map[string]Mark{m.ID: Breached}, nil, 0}, {2, map[string]Mark{m.ID: Selected, "left": Selected | Warned}, []r2.Rect{clear}, 3},
		{2, map[string]Mark{m.ID: Warned}, []r2.Rect{clear}, 1},
	} {
		p := newPen(PlanView, &Options{Marks: c.marks, Clear: c.clear, Places: make([]Place, c.places)})
		if got := p.clearForPlaces(s); len(got) != c.want {
			t.Errorf("%d places, marks %v: %d to keep off, want %d", c.places, c.marks, len(got), c.want)
		}
	}
}

// A place is a ring where its ends are less than a millimetre apart, else a line with bars across its ends.
func TestPlaceIsALineOrARing(t *testing.T) {
	for apart, want := range map[float64]int{0: 1, 0.9: 1, 1.1: 3, 1.9: 3} {
		p := newPen(PlanView, &Options{})
		if p.place(&Place{B: r3.Vector{X: apart}}, nil); len(p.items) != want {
			t.Errorf("%g apart: %d lines", apart, len(p.items))
		}
	}
}

// How many findings are not said anything of is worded by their number, and by whether something is said beside it.
func TestFindingsWithoutWordsAreCounted(t *testing.T) {
	at := func(text string) Place {
		return Place{A: r3.Vector{X: 100}, B: r3.Vector{X: 100}, Text: text, Mark: Breached}
	}
	for _, c := range []struct {
		places []Place
		more   int
		want   string
	}{
		{[]Place{at("")}, 0, ""}, {[]Place{at("")}, 1, "a finding here"}, {[]Place{at("")}, 2, "2 findings here"}, {nil, 2, ""},
		{[]Place{at("x")}, 1, "and 1 more, see the findings"}, {[]Place{at("x")}, 0, ""}, {[]Place{at("x"), at("")}, 3, "and 3 more, see the findings"},
	} {
		p := newPen(PlanView, &Options{Places: c.places, MorePlaces: c.more})
		p.places(nil)
		p.grantAll()
		p.morePlaces(nil)
		got := ""
		for _, it := range p.items {
			if x, ok := it.(Text); ok && x.S != "x" {
				got = x.S
			}
		}
		if got != c.want {
			t.Errorf("%d places and %d more: %q, want %q", len(c.places), c.more, got, c.want)
		}
	}
}

// What is counted stands under or over a note as large as it, flush with one of its ends, a fifth of its letters' size off.
func TestCountsStandBesideNotes(t *testing.T) {
	for _, k := range []float64{1, 2} {
		p := newPen(PlanView, &Options{NameScale: k})
		r := r2.RectFromPoints(pt(100, 200), pt(400, 200+noteMM*k))
		p.noted = []r2.Rect{r}
		for i, s := range p.besideNotes() {
			q := p.nameAt(wish{s: "and 3 more", size: noteMM}, s).extent()
			gap := max(r.Y.Lo-q.Y.Hi, q.Y.Lo-r.Y.Hi)
			flush := math.Min(math.Abs(q.X.Lo-r.X.Lo), math.Abs(q.X.Hi-r.X.Hi))
			if math.Abs(gap-0.2*46*k) > 1e-9 || flush > 1e-9 || (q.Y.Hi < r.Y.Lo) != (i%2 == 0) {
				t.Errorf("names %g times as large: %v beside %v", k, q, r)
			}
		}
	}
}

// Where there is room for none, all are counted.
func TestNotesWithoutRoomAreCounted(t *testing.T) {
	s := inventedScene(3, 2)
	c := s.Boxes[0].Modules[0].Prism.Base.Bounds().Center()
	o := Options{Marks: map[string]Mark{s.Boxes[0].Modules[0].ID: Selected}, MorePlaces: 2,
		Places: []Place{{A: r3.Vector{X: c.X, Y: c.Y}, B: r3.Vector{X: c.X, Y: c.Y}, Text: strings.Repeat("a long note ", 40), Mark: Breached}}}
	o.Within = r2.RectFromCenterSize(c, r2.Point{X: 3000, Y: 3000})
	got := texts(PlanView.Draw(s, o))
	if _, ok := got["3 findings here"]; !ok {
		t.Errorf("texts %v", got)
	}
}
