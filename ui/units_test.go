package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

// In inches what a field or an edit refuses is said in inches, and Page Up raises by half an inch.
func TestRefusalsInInches(t *testing.T) {
	w, _ := testWindow(t)
	w.Do("units")
	w.showLeft(1)
	w.model.Pick("mid")
	f := w.left.details.form
	fd := record1(t, f, "at_mm")
	w.left.details.form.set("at_mm[0]", fd, "100000000")
	if s := w.model.Status(); !strings.HasPrefix(s, "Not taken: at[0]: 100000000 in is out of range") || strings.Contains(s, "mm") {
		t.Errorf("a field refuses with %q", s)
	}
	w.model.Pick("mid/m1")
	was := moduleAt(w)[2]
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyPageUp})
	if got := moduleAt(w)[2] - was; got != 12.7 {
		t.Errorf("raised by %v mm, want half an inch", got)
	}
}
