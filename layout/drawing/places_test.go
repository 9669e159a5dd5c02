package drawing

import (
	"fmt"
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
