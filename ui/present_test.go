package ui

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"stowbay/layout"
	"stowbay/ui/view"
	"stowbay/vehicles"
)

// secondPlan is a plan for another donor than testWindow's, with a bay, two arrangements and three modules of which the first
// two are picked when it is opened.
func secondPlan() *layout.Plan {
	p := layout.NewPlan(catalogue().Donor("estate-front-drive"), "Second")
	b := &layout.Box{ID: "tail", At: vehicles.XYZ{2300, -400, 250}, Levels: []vehicles.Level{{
		Outline: []vehicles.XY{{0, 0}, {1600, 0}, {1600, 800}, {0, 800}}, CeilingMM: 400}}}
	for i, at := range []vehicles.XYZ{{50, 50, 2}, {500, 90, 2}, {1150, 400, 2}} {
		b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", i+1), Module: "nmc-355", Posture: vehicles.Flat, At: at})
	}
	first := p.Arrangements[0]
	first.Boxes = []*layout.Box{b}
	other := *first
	other.ID, other.Name = "other", "Other"
	p.Arrangements = append(p.Arrangements, &other)
	return p
}

// firstPage opens a window on the first page: its model is the one that stood when the commands were made.
func firstPage(t *testing.T) *Window {
	t.Helper()
	w := New(test.NewTempApp(t), layout.NewPlan(catalogue().Donor("van-rear-engine"), "First"), Options{})
	t.Cleanup(w.end)
	return w
}

// openSecond opens the second plan and leaves nothing of the model of the plan before: whatever still asks it, panics.
func openSecond(w *Window) {
	hideAll(w)
	before := w.model
	w.load(secondPlan(), "", nil)
	w.model.Background = nil
	*before = view.Model{}
	w.model.Pick("tail/m1", "tail/m2", "tail/m3")
}

// changesAtOnce are the commands that change the plan without asking anything.
var changesAtOnce = strings.Fields(`cut double delete lock turn turnback up down alignfront alignrear alignleft alignright alignx aligny centre
	spreadx spready mirror duparr delarr arrright units`)

// After another plan was opened, every command is about that plan and none about the one before.
func TestCommandsAreAboutThePlanShown(t *testing.T) {
	w := firstPage(t)
	for i := range w.commands {
		c := &w.commands[i]
		openSecond(w)
		plan, was := w.model.Document(), w.model.Document().Plan()
		if c.can != nil && c.id != "undo" && c.id != "redo" && !c.can() {
			t.Errorf("%s: cannot be done with three modules picked", c.id)
		}
		doIt(t, w, c)
		for _, id := range changesAtOnce {
			if id == c.id && (w.model.Document() != plan || plan.Plan() == was) {
				t.Errorf("%s does not change the plan shown", id)
			}
		}
	}
}

// doIt does a command and the command that takes it back.
func doIt(t *testing.T, w *Window, c *command) {
	t.Helper()
	defer func() {
		if r := recover(); r != nil {
			t.Errorf("%s asks the plan that was shown before: %v", c.id, r)
		}
	}()
	w.model.Document().MarkDirty() // so that what would leave the plan asks first
	w.run(c)
	if c.on != nil {
		c.on()
	}
}

// Undo, redo and the clipboard work on the plan shown, too.
func TestStepsOfThePlanShown(t *testing.T) {
	w, _ := testWindow(t)
	nudge(w)
	openSecond(w)
	steps := []struct {
		id string
		n  int
	}{{"undo", 3}, {"copy", 3}, {"paste", 6}, {"undo", 3}, {"redo", 6}}
	for _, s := range steps {
		w.Do(s.id)
		if n := w.model.Scene().Count(); n != s.n {
			t.Errorf("%d modules after %s, want %d", n, s.id, s.n)
		}
	}
}

// The survey is that of the donor of the plan shown.
func TestDonorOfThePlanShown(t *testing.T) {
	w := firstPage(t)
	openSecond(w)
	w.Do("donor")
	want := catalogue().Donor("estate-front-drive").Name
	for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
		if f, ok := o.(*field); ok && f.Text == want {
			return
		}
	}
	t.Errorf("the survey is not that of %s", want)
}
