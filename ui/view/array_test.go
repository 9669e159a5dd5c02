package view

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/drawing"
)

// arrayModel is a model with one module picked in a box of 1000 by 600 mm inside walls of 2 mm, and the array of it.
func arrayModel(t *testing.T) (*Model, *Array, ArrayWish) {
	t.Helper()
	m := testModel(t, 1)
	m.Pick("low/m1")
	a, w, err := NewArray(m)
	if err != nil {
		t.Fatal(err)
	}
	m.SetTool(a)
	return m, a, w
}

// In a box whose inside is 996 by 596 mm, a module of 100 by 50 mm at (20, 20) with 5 mm to the walls and 6 and 4 mm
// between them leaves room for 9 along (20 + 8*106 + 100 = 968 <= 993; a tenth would end at 1074) and 11 across
// (20 + 10*54 + 50 = 610 > 593, so 10).
func TestArrayShowsWhatFits(t *testing.T) {
	m, a, w := arrayModel(t)
	before := m.Document().Plan()
	if w.GapMM != [3]float64{6, 4, 0} || w.Count != [3]int{2, 1, 1} {
		t.Fatalf("it begins with %+v", w)
	}
	for _, c := range []struct {
		count     [3]int
		made, bad int
	}{{[3]int{9, 1, 1}, 8, 0}, {[3]int{10, 1, 1}, 9, 1}, {[3]int{1, 10, 1}, 9, 0}, {[3]int{1, 12, 1}, 11, 2}, {[3]int{9, 10, 1}, 89, 0}, {[3]int{10, 11, 1}, 109, 20}} {
		w.Count = c.count
		if err := a.Set(w); err != nil {
			t.Fatal(err)
		}
		if len(a.made) != c.made || len(a.Misfits()) != c.bad {
			t.Errorf("%v: %d shown, %d of them do not fit; want %d and %d\n%v", c.count, len(a.made), len(a.Misfits()), c.made, c.bad, a.Lines())
		}
	}
	if s := a.Lines()[0]; !strings.HasPrefix(s, "109 more: 89 fit, 20 would not.") {
		t.Errorf("it says %q", s)
	}
	for _, v := range []drawing.View{drawing.PlanView, drawing.SideView, drawing.RearView} {
		if n := len(a.Overlay(v)); n != 89+20*3 {
			t.Errorf("%v: %d lines, want an outline for each and a cross over 20", v, n)
		}
	}
	if m.Marks()["low/m2"]&drawing.Ghost == 0 || m.Marks()["low/m1"]&drawing.Ghost != 0 {
		t.Error("copies are not told from what is there")
	}
	if m.Document().Plan() != before || m.Document().CanUndo() {
		t.Error("showing changed the plan")
	}
}

// Leaving an array, in whatever way, leaves the plan, the scene and the history as they were.
func TestArrayLeavesNoTrace(t *testing.T) {
	for name, leave := range map[string]func(*Model, *Array){
		"another tool": func(m *Model, _ *Array) { m.SetTool(NewSelect(m)) },
		"undo":         func(m *Model, _ *Array) { _ = m.Undo() },
		"given up":     func(m *Model, a *Array) { a.Cancel() },
	} {
		m, a, w := arrayModel(t)
		before, marks := m.Document().Plan(), len(m.Marks())
		w.Count = [3]int{5, 5, 2}
		if err := a.Set(w); err != nil {
			t.Fatal(err)
		}
		leave(m, a)
		if m.Plan() != before || m.Scene().Count() != 1 || m.Document().CanUndo() || m.Document().CanRedo() || m.Previewing() {
			t.Errorf("%s leaves a trace", name)
		}
		if err := a.Set(w); err != nil || m.Previewing() || a.Overlay(drawing.PlanView) != nil {
			t.Errorf("%s: what is typed later still shows", name)
		}
		m.SetTool(NewSelect(m))
		if len(m.Marks()) != marks || !reflect.DeepEqual(m.Selection.Refs(), []string{"low/m1"}) {
			t.Errorf("%s: marks %v, picked %v", name, m.Marks(), m.Selection.Refs())
		}
	}
}

func TestArrayIsOneStep(t *testing.T) {
	m, a, w := arrayModel(t)
	w.Count, w.GapMM, w.Back = [3]int{3, 2, 1}, [3]float64{10, 8, 0}, [3]bool{false, true, false}
	a.SetOnly(false)
	if err := a.Set(w); err != nil {
		t.Fatal(err)
	}
	if !a.Key("Return") {
		t.Fatal("Return means nothing")
	}
	if m.Scene().Count() != 6 || m.Selection.Len() != 5 || m.Previewing() {
		t.Fatalf("%d modules, %d picked", m.Scene().Count(), m.Selection.Len())
	}
	if _, ok := m.Tool().(*Select); !ok {
		t.Error("the array is still in hand")
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range m.Arrangement().Boxes[0].Modules {
		least, most = min(least, p.At[1]), max(most, p.At[0])
	}
	if most != 20+2*110 || least != 20-58 {
		t.Errorf("the rearmost stands at x = %v, the leftmost at y = %v", most, least)
	}
	_ = m.Undo()
	if m.Scene().Count() != 1 {
		t.Errorf("%d modules after undo", m.Scene().Count())
	}
}

// Of ten by eleven, nine by ten fit beside the walls; the others are left out unless they are wanted all the same.
func TestArrayLeavesOutWhatDoesNotFit(t *testing.T) {
	for only, want := range map[bool]int{true: 90, false: 110} {
		m, a, w := arrayModel(t)
		w.Count = [3]int{10, 11, 1}
		a.SetOnly(only)
		if err := a.Set(w); err != nil {
			t.Fatal(err)
		}
		if left := strings.Contains(a.Lines()[0], "left out"); left != only {
			t.Errorf("it says %q", a.Lines()[0])
		}
		if err := a.Enter(); err != nil {
			t.Fatal(err)
		}
		if m.Scene().Count() != want || m.Selection.Len() != want-1 {
			t.Errorf("only what fits %v: %d modules, %d picked, want %d", only, m.Scene().Count(), m.Selection.Len(), want)
		}
		inside := true
		for _, p := range m.Arrangement().Boxes[0].Modules {
			inside = inside && p.At[0] <= 20+8*106 && p.At[1] <= 20+9*54
		}
		if inside != only {
			t.Errorf("only what fits %v: all inside %v", only, inside)
		}
	}
}

// Where nothing fits there is nothing to confirm, unless it is wanted all the same.
func TestArrayWhereNothingFits(t *testing.T) {
	_, a, w := arrayModel(t)
	w.GapMM[0] = 900
	if err := a.Set(w); err != nil {
		t.Fatal(err)
	}
	if s := a.Lines()[0]; a.Ready() || s != "1 more: none of them fits. They are crossed out in the views and left out." {
		t.Errorf("ready %v, it says %q", a.Ready(), s)
	}
	if a.SetOnly(false); !a.Ready() {
		t.Error("it cannot be put in all the same")
	}
}

// Confirmed before it is known what fits, it waits for that.
func TestArrayConfirmedEarly(t *testing.T) {
	m, a, w := arrayModel(t)
	var later func() func()
	m.Background = func(work func() func()) { later = work }
	w.Count = [3]int{10, 1, 1}
	if err := a.Set(w); err != nil {
		t.Fatal(err)
	}
	if err := a.Enter(); err != nil || a.Over() || a.Asked() || m.Document().CanUndo() {
		t.Fatal("it did not wait")
	}
	later()()
	if !a.Asked() {
		t.Fatal("it forgot that it was confirmed")
	}
	if err := a.Enter(); err != nil || m.Scene().Count() != 9 {
		t.Errorf("%d modules, %v", m.Scene().Count(), err)
	}
}

func TestArrayRefuses(t *testing.T) {
	m, a, w := arrayModel(t)
	for _, spoil := range []func(*ArrayWish){
		func(w *ArrayWish) { w.Count[1] = 0 }, func(w *ArrayWish) { w.Count = [3]int{1e9, 1e9, 1e9} },
		func(w *ArrayWish) { w.Count = [3]int{2001, 1, 1} }, func(w *ArrayWish) { w.GapMM[0] = -100 },
	} {
		bad := w
		spoil(&bad)
		if a.Set(bad) == nil || m.Previewing() {
			t.Errorf("%+v is taken", bad)
		}
	}
	if a.Set(w) != nil || !m.Previewing() {
		t.Error("what can be done is not shown after what cannot")
	}
	m.SetTool(NewSelect(m))
	m.Pick("mid")
	if _, _, err := NewArray(m); err == nil {
		t.Error("a bay is repeated")
	}
}

// Turned by a quarter meanwhile, a module of 100 by 50 mm is repeated at its new width: 50 mm and a gap of 6.
func TestArrayFollowsWhatItRepeats(t *testing.T) {
	m, a, w := arrayModel(t)
	if err := a.Set(w); err != nil {
		t.Fatal(err)
	}
	if err := m.Do(func(p *layout.Plan, id string) (layout.Edit, error) {
		return layout.Turn(p, m.Library(), id, []string{"low/m1"}, 90)
	}); err != nil {
		t.Fatal(err)
	}
	if !a.Again() || len(a.made) != 1 {
		t.Fatalf("%v shown", a.made)
	}
	if got := PlanBounds(m.Scene(), a.made[0]).X.Lo - PlanBounds(m.Scene(), "low/m1").X.Lo; math.Abs(got-56) > 0.01 {
		t.Errorf("the copy stands %g mm on, want 56", got)
	}
}
