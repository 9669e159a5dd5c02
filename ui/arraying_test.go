package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowbay/ui/view"
)

// Rows and columns are worked by the keyboard alone, show while they are typed and leave nothing behind when given up.
func TestRowsAndColumnsAtTheLeft(t *testing.T) {
	w, _ := testWindow(t)
	c := w.win.Canvas()
	was := w.left.front
	w.model.Pick("mid/m1")
	before := w.model.Document().Plan()
	typed := func(f *field, s string) {
		f.TypedShortcut(&fyne.ShortcutSelectAll{})
		test.Type(f, s)
	}
	w.Do("array")
	p := w.left.array
	if c.Focused() != fyne.Focusable(p.counts[0]) || w.left.front != arrayPane {
		t.Fatalf("the keyboard is at %T, pane %d is in front", c.Focused(), w.left.front)
	}
	if p.units[0].Text != "Gap, mm" {
		t.Errorf("over the gap stands %q", p.units[0].Text)
	}
	typed(p.counts[0], "20")
	if !w.model.Previewing() || w.model.Scene().Count() != 21 {
		t.Errorf("%d modules are shown while 20 along are typed", w.model.Scene().Count())
	}
	if !strings.Contains(p.lines.Text, "19 more: ") || !strings.Contains(p.lines.Text, "none of them fits") {
		t.Errorf("it says %q", p.lines.Text)
	}
	typed(p.counts[0], "2.5")
	if w.model.Previewing() || !p.enter.Disabled() || !strings.Contains(p.lines.Text, "whole number") {
		t.Errorf("two and a half are shown: %q", p.lines.Text)
	}
	pressed(p.counts[0], fyne.KeyEscape)
	if w.model.Document().Plan() != before || w.model.Plan() != before || w.left.front != was {
		t.Error("Escape leaves a trace")
	}
	if _, ok := w.model.Tool().(*view.Select); !ok {
		t.Error("Escape leaves the array in hand")
	}
	across := func(only bool) int {
		w.Do("array")
		p.only.SetChecked(only)
		typed(p.counts[0], "1")
		typed(p.counts[1], "20")
		pressed(p.counts[1], fyne.KeyReturn)
		n := w.model.Scene().Count()
		w.Do("undo")
		w.model.Pick("mid/m1")
		return n
	}
	// The box is 800 mm wide, the first module 152 mm and 100 mm from one side: of 20 across 4 stand within it.
	if some, all := across(true), across(false); some != 1+4 || all != 1+20 {
		t.Errorf("of 20 across %d are put in where only those that fit are wanted, %d where all are", some-1, all-1)
	}
	w.Do("array")
	typed(p.counts[0], "1")
	c.FocusNext()
	if c.Focused() != fyne.Focusable(p.gaps[0]) {
		t.Errorf("Tab leads to %T", c.Focused())
	}
	typed(p.counts[1], "2")
	typed(p.gaps[1], "2*10+4")
	if !p.only.Checked {
		t.Error("an array begins with what does not fit")
	}
	pressed(p.gaps[1], fyne.KeyReturn)
	if w.model.Scene().Count() != 3 || w.left.front != was || !w.model.Document().CanUndo() {
		t.Errorf("%d modules after Return, pane %d in front", w.model.Scene().Count(), w.left.front)
	}
	m := w.model.Arrangement().Boxes[0].Modules
	if got := m[2].At[1] - m[0].At[1]; got != w.model.Library().Module("nmc-355").WidthMM+24 {
		t.Errorf("the next one stands %v mm across", got)
	}
}

// Another pane, another tool and an edit made meanwhile end an array or show it again; nothing of it stays.
func TestRowsAndColumnsInterrupted(t *testing.T) {
	w, _ := testWindow(t)
	w.model.Pick("mid/m1")
	w.Do("turn")
	w.Do("array")
	if !w.model.Previewing() {
		t.Fatal("nothing is shown")
	}
	w.showLeft(historyPane)
	if w.model.Previewing() || w.left.front != historyPane {
		t.Error("another pane does not end it")
	}
	w.Do("array")
	w.win.Canvas().Unfocus()
	w.Do("undo")
	if w.model.Previewing() || w.left.front == arrayPane || w.model.Scene().Count() != 2 {
		t.Errorf("undo leaves it: %d modules, pane %d", w.model.Scene().Count(), w.left.front)
	}
	w.Do("array")
	w.Do("lock")
	if !w.model.Previewing() || w.model.Scene().Count() != 3 {
		t.Errorf("after another step %d modules are shown", w.model.Scene().Count())
	}
	w.Do("array")
	if !w.model.Previewing() || w.left.front != arrayPane {
		t.Error("asked for again, it is gone")
	}
	w.Do("delete")
	if w.model.Previewing() || w.left.front == arrayPane {
		t.Error("it stays though what is repeated is gone")
	}
}
