package view

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// outlineOf is the outline of a thing's first level in the vehicle's plan as the document has it.
func outlineOf(m *Model, ref string) []r2.Point {
	return shapes(m.Document().Plan().Arrangements[0], ref)[0].ring
}

// cornerNear is whether an outline has a corner at a place.
func cornerNear(ring []r2.Point, p r2.Point) bool {
	for _, c := range ring {
		if c.Sub(p).Norm() < 0.02 {
			return true
		}
	}
	return false
}

func TestDragACornerIsOneStep(t *testing.T) {
	m := testModel(t, 4)
	m.Display.Snap = false
	m.Pick("mid")
	drag(m, 2500, 700, 2400, 650)
	if ring := outlineOf(m, "mid"); len(ring) != 4 || !cornerNear(ring, r2.Point{X: 2400, Y: 650}) || cornerNear(ring, r2.Point{X: 2500, Y: 700}) {
		t.Fatalf("bay is now %v", ring)
	}
	if steps, done := m.Document().History(); done != 1 || steps[0].Label != "Move a corner of mid" {
		t.Errorf("history %v, %d", steps, done)
	}
	if got := m.Selection.Refs(); len(got) != 1 || got[0] != "mid" {
		t.Errorf("picked %v", got)
	}
	if err := m.Undo(); err != nil || !cornerNear(outlineOf(m, "mid"), r2.Point{X: 2500, Y: 700}) {
		t.Errorf("undo: %v, %v", err, outlineOf(m, "mid"))
	}
}

// A press on a corner that is not followed by a drag changes nothing.
func TestPressOnACornerIsNoStep(t *testing.T) {
	m := testModel(t, 4)
	m.Pick("mid")
	drag(m, 2500, 700, 2500, 700)
	if _, done := m.Document().History(); done != 0 || m.Previewing() {
		t.Errorf("%d steps, previewing %v", done, m.Previewing())
	}
}

// Corners snap to what is drawn there: here to y = 300, and the grid along x.
func TestCornerSnaps(t *testing.T) {
	m := testModel(t, 4)
	m.Pick("mid")
	drag(m, 2500, 700, 2203, 304)
	if ring := outlineOf(m, "mid"); !cornerNear(ring, r2.Point{X: 2200, Y: 300}) {
		t.Errorf("bay is now %v, want a corner at 2200, 300", ring)
	}
}

// The box is turned by 90 degrees: its corners are dragged as they are seen, and its modules stay.
func TestDragACornerOfATurnedBox(t *testing.T) {
	m := testModel(t, 4)
	m.Display.Snap = false
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		return layout.ChangeBox(p, a, "low", "Turn", func(b *layout.Box) error { b.At, b.TurnDeg = vehicles.XYZ{1500, -300, 260}, 90; return nil })
	}); err != nil {
		t.Fatal(err)
	}
	module := at(m, "low/m1")
	m.Pick("low")
	// Turned about (1500, -300), the corner (1000, 600) of the box's frame stands at (900, 700).
	drag(m, 900, 700, 880, 690)
	if ring := outlineOf(m, "low"); !cornerNear(ring, r2.Point{X: 880, Y: 690}) {
		t.Errorf("box is now %v", ring)
	}
	b := m.Arrangement().Box("low")
	if c := b.Levels[0].Outline[2]; math.Abs(c[0]-990) > 0.01 || math.Abs(c[1]-620) > 0.01 {
		t.Errorf("in its own frame the corner is at %v, want 990, 620", c)
	}
	if at(m, "low/m1") != module {
		t.Errorf("module moved to %v", at(m, "low/m1"))
	}
}

func TestDoubleClickOnAnEdgeAddsACorner(t *testing.T) {
	m := testModel(t, 4)
	m.Pick("mid")
	p := m.pointer(1700, 698)
	m.Tool().Press(p)
	m.Tool().Release(p)
	p.Twice = true
	m.Tool().Press(p)
	m.Tool().Release(p)
	if ring := outlineOf(m, "mid"); len(ring) != 5 || !cornerNear(ring, r2.Point{X: 1700, Y: 700}) {
		t.Fatalf("bay is now %v", ring)
	}
	if _, done := m.Document().History(); done != 1 {
		t.Errorf("%d steps, want 1", done)
	}
	if err := m.RemoveCornerHere(r2.Point{X: 1700, Y: 700}, 3); err != nil || len(outlineOf(m, "mid")) != 4 {
		t.Errorf("taking it out: %v, %v", err, outlineOf(m, "mid"))
	}
}

func TestCornerOfAKeepOut(t *testing.T) {
	m := testModel(t, 4)
	m.Display.Snap = false
	k := vehicles.KeepOut{ID: "shaft", Outline: square(2600, -100, 2800, 100), FloorMM: 200, CeilingMM: 300}
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.PutKeepOut(p, a, k) }); err != nil {
		t.Fatal(err)
	}
	m.Pick("shaft")
	drag(m, 2800, 100, 2850, 150)
	if ring := outlineOf(m, "shaft"); !cornerNear(ring, r2.Point{X: 2850, Y: 150}) {
		t.Errorf("keep-out is now %v", ring)
	}
}

func TestOutlinesStaySound(t *testing.T) {
	m := testModel(t, 4)
	m.Display.Snap = false
	m.Pick("mid")
	was := outlineOf(m, "mid")
	drag(m, 2500, 700, 1000, -900) // crosses the opposite side
	if got := outlineOf(m, "mid"); !cornerNear(got, was[2]) {
		t.Errorf("a crossed outline was taken: %v", got)
	}
	if m.Previewing() {
		t.Error("the preview of a drag that came to nothing is still shown")
	}
	for range 3 {
		_ = m.RemoveCornerHere(outlineOf(m, "mid")[0], 1)
	}
	if n := len(outlineOf(m, "mid")); n != 3 {
		t.Errorf("%d corners left, want 3", n)
	}
}

// A locked box and things of the donor show no handles; nor does more than one thing picked.
func TestHandles(t *testing.T) {
	m := testModel(t, 4)
	count := func() int { return len(m.Grips(drawing.PlanView, 5)) / 2 }
	m.Pick("low")
	if count() != 8 {
		t.Errorf("%d handles on a box, want its corners and its edges", count())
	}
	m.Pick("low", "mid")
	if count() != 0 {
		t.Errorf("%d handles on two things", count())
	}
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		return layout.SetLocked(p, a, []string{"low"}, true)
	}); err != nil {
		t.Fatal(err)
	}
	if m.Pick("low"); count() != 0 {
		t.Errorf("%d handles on a locked box", count())
	}
}

// A corner that levels of a box share stays shared when it is moved; the levels' other corners stand.
func TestMoveCornerTakesLevelsAlong(t *testing.T) {
	m := testModel(t, 1)
	p, a := m.Document().Plan(), m.Arrangement()
	box := *a.Boxes[0]
	low := box.Levels[0]
	high := low
	high.Outline = append(slices.Clone(low.Outline[:2]), vehicles.XY{low.Outline[2][0], low.Outline[2][1] - 50}, low.Outline[3])
	box.Levels = []vehicles.Level{low, high}
	q := *p
	q.Arrangements = []*layout.Arrangement{a.WithBox(&box)}
	was := shapes(q.Arrangements[0], box.ID)
	for index, along := range []bool{true, true, false, true} {
		to := was[1].ring[index].Add(r2.Point{X: 3, Y: 4})
		e, err := MoveCorner(&q, a.ID, Corner{Shape{box.ID, 1}, index}, to)
		if err != nil {
			t.Fatal(err)
		}
		after, err := e.Apply(&q)
		if err != nil {
			t.Fatal(err)
		}
		now := shapes(after.Arrangements[0], box.ID)
		for k := range was[0].ring {
			moved := now[0].ring[k].Sub(was[0].ring[k]).Norm() > togetherMM
			if moved != (along && k == index) {
				t.Errorf("corner %d of the upper level moved: corner %d of the lower one moved is %v", index, k, moved)
			}
		}
		if now[1].ring[index].Sub(to).Norm() > togetherMM {
			t.Errorf("corner %d is at %v, not %v", index, now[1].ring[index], to)
		}
	}
}
