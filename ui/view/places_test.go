package view

import (
	"cmp"
	"slices"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
)

// In a crowded drag the three worst distances are worded, the worst first, and the others counted; none is lost.
func TestCrowdedDragWordsTheWorst(t *testing.T) {
	m := testModel(t, 16)
	m.Display.Snap = false
	m.Pick("low/m2", "low/m3")
	p := m.pointer(780, -270)
	m.Tool().Press(p)
	p.At = r2.Point{X: 798, Y: -251}
	m.Tool().Move(p, true)
	var all, distances []check.Finding
	for i, f := range m.Eval().Findings {
		if f.Place != nil && m.shows(i, f) {
			all = append(all, f)
			if f.Compare != "" && f.Unit == "mm" {
				distances = append(distances, f)
			}
		}
	}
	if len(distances) < 5 {
		t.Fatalf("%d distances: that is not crowded", len(distances))
	}
	places, more := m.Places()
	var words []string
	for _, p := range places {
		if p.Text != "" {
			words = append(words, p.Text)
		}
	}
	if len(words) != 3 || more != len(all)-3 || len(places) != min(len(all), maxPlaces) {
		t.Fatalf("%d of %d places, %q worded, %d more", len(places), len(all), words, more)
	}
	slices.SortStableFunc(distances, func(a, b check.Finding) int { return cmp.Compare(a.Margin(), b.Margin()) })
	for i, w := range words {
		if want := placeText(distances[i], Metric); w != want {
			t.Errorf("number %d is %q, want %q", i+1, w, want)
		}
	}
}

// The finding that was clicked is worded whatever else is wrong.
func TestTheFindingLookedAtIsWorded(t *testing.T) {
	m := testModel(t, 16)
	m.Pick("low/m2")
	drag(m, 780, -270, 798, -251)
	last := -1
	for i, f := range m.Eval().Findings {
		if f.Place != nil && f.Compare != "" && severityMarks[f.Severity] != 0 {
			last = i
		}
	}
	m.Display.Focus = last + 1
	places, _ := m.Places()
	if want := placeText(m.Eval().Findings[last], Metric); places[0].Text != want || places[0].Ref != m.Eval().Findings[last].Rule {
		t.Errorf("first comes %+v, want %q", places[0], want)
	}
	if m.Options().MorePlaces == 0 || len(m.Options().Places) == 0 || m.Options().Places[0] != (drawing.Place(places[0])) {
		t.Error("the views are not told")
	}
}

// What a drag says of itself stands beside what is dragged, not over it, as long as that is in sight.
func TestDragsNoteStandsBeside(t *testing.T) {
	m := testModel(t, 16)
	m.Display.Snap = false
	p := m.pointer(630, -270)
	p.Seen = r2.RectFromPoints(r2.Point{}, r2.Point{X: 3000, Y: -1500}).AddPoint(r2.Point{Y: 1500})
	m.Tool().Press(p)
	p.At = r2.Point{X: 650, Y: -250}
	m.Tool().Move(p, true)
	tool := m.Tool().(*Select)
	note, over := tool.NoteArea(drawing.PlanView), PlanBounds(m.Scene(), "low/m1")
	if note.IsEmpty() || note.InteriorIntersects(over) {
		t.Errorf("the note covers %v, what is dragged %v", note, over)
	}
	if !tool.NoteArea(drawing.SideView).IsEmpty() {
		t.Error("there is a note in a view in which nothing is dragged")
	}
	p.Seen = r2.RectFromCenterSize(p.At, r2.Point{X: 60, Y: 60})
	m.Tool().Move(p, true)
	if !p.Seen.Intersects(tool.NoteArea(drawing.PlanView)) {
		t.Error("the note is out of sight")
	}
}
