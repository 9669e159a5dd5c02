package view

import (
	"cmp"
	"slices"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout"
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

// The finding looked at stays the same one while edits bring others before it and undo takes them away; in another
// arrangement none is looked at.
func TestTheFindingLookedAtStays(t *testing.T) {
	m := testModel(t, 16)
	focus := func() (f check.Finding) {
		if n := m.Display.Focus; n > 0 {
			f = m.Eval().Findings[n-1]
		}
		return f
	}
	m.Display.Focus = 1 + slices.IndexFunc(m.Eval().Findings, func(f check.Finding) bool { return f.Rule == "mass.split" })
	want := focus()
	if want.Rule == "" {
		t.Fatal("no such finding")
	}
	number := m.Display.Focus
	drag(m, 780, -270, 798, -251)
	if got := focus(); got.Rule != want.Rule || got.Subject != want.Subject || m.Display.Focus == number {
		t.Errorf("after a drag %s of %s is looked at, number %d", got.Rule, got.Subject, m.Display.Focus)
	}
	if err := m.Undo(); err != nil || m.Display.Focus != number {
		t.Errorf("after undo number %d is looked at, %d before: %v", m.Display.Focus, number, err)
	}
	if err := m.Do(func(p *layout.Plan, a string) (e layout.Edit, err error) {
		e, _, err = layout.DuplicateArrangement(p, a)
		return e, err
	}); err != nil {
		t.Fatal(err)
	}
	m.SetArrangement(m.Plan().Arrangements[1].ID)
	if m.Display.Focus != 0 {
		t.Errorf("%s is looked at in another arrangement", focus().Rule)
	}
}

// Of findings about the same things the one with as many before it is found again, else the last.
func TestRefound(t *testing.T) {
	of := func(subjects ...string) *check.Evaluation {
		e := &check.Evaluation{Arrangement: &layout.Arrangement{ID: "a"}}
		for _, s := range subjects {
			e.Findings = append(e.Findings, check.Finding{Rule: "fit.gap", Subject: s})
		}
		return e
	}
	was := of("m1", "m2", "m1", "m3")
	for _, c := range []struct {
		number, want int
		now          *check.Evaluation
	}{{1, 2, of("m2", "m1", "m1")}, {3, 3, of("m2", "m1", "m1")}, {3, 1, of("m1", "m2")}, {4, 0, of("m1")}, {5, 0, was}} {
		if got := refound(c.number, was, c.now); got != c.want {
			t.Errorf("number %d is %d, want %d", c.number, got, c.want)
		}
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
