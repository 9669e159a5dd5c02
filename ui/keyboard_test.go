package ui

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

func pressed(o fyne.Focusable, k fyne.KeyName) { o.TypedKey(&fyne.KeyEvent{Name: k}) }

// Wherever the keyboard is in a dialog, Escape closes it and Return goes ahead; the first field has the keyboard when
// the dialog opens, and Tab goes through fields, choices, ticks and buttons in the order that they stand in.
func TestDialogsHearTheKeyboard(t *testing.T) {
	w, _ := testWindow(t)
	c := w.win.Canvas()
	var f *field
	went := ""
	open := func() {
		f = newField()
		items := []*widget.FormItem{widget.NewFormItem("One", f), widget.NewFormItem("Two", newChoice([]string{"a", "b"}, nil)), widget.NewFormItem("Three", newTickBox("", nil))}
		w.ask(dialog.NewForm("Test", "Go", "Cancel", items, func(ok bool) {
			went = "cancelled"
			if ok {
				went = "gone ahead with " + f.Text
			}
		}, w.win))
	}
	open()
	if c.Focused() != fyne.Focusable(f) {
		t.Fatalf("the keyboard is at %T when the dialog opens", c.Focused())
	}
	test.Type(f, "x")
	c.FocusNext()
	c.FocusPrevious()
	if f.SelectedText() != "x" {
		t.Errorf("coming back by the keyboard picks %q", f.SelectedText())
	}
	pressed(f, fyne.KeyReturn)
	if went != "gone ahead with x" || w.blocked() {
		t.Errorf("Return in a field: %s", went)
	}
	for stops, want := range []string{"*ui.field", "*ui.choice", "*ui.tickBox", "*ui.push", "*ui.push"} {
		open()
		for range stops {
			c.FocusNext()
		}
		at := c.Focused()
		if got := typeName(at); got != want {
			t.Errorf("stop %d is %s, want %s", stops, got, want)
		}
		pressed(at, fyne.KeyEscape)
		if went != "cancelled" || w.blocked() {
			t.Errorf("Escape at stop %d: %s", stops, went)
		}
		hideAll(w)
	}
	open()
	for range 4 {
		c.FocusNext()
	}
	pressed(c.Focused(), fyne.KeyReturn)
	if went != "gone ahead with " || w.blocked() {
		t.Errorf("Return at the last button: %s", went)
	}
	w.ask(dialog.NewCustom("Test", "Close", widget.NewLabel("text"), w.win))
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if w.blocked() {
		t.Error("Return does not close what only informs")
	}
}

func typeName(o any) string {
	switch o.(type) {
	case *field:
		return "*ui.field"
	case *choice:
		return "*ui.choice"
	case *tickBox:
		return "*ui.tickBox"
	case *push:
		return "*ui.push"
	}
	return "something else"
}
