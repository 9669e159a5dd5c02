package ui

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowbay/layout/assembly"
	"stowbay/layout/demo"
	"stowbay/ui/view"
)

// demoWindow opens a window on the demonstration plan.
func demoWindow(t *testing.T) *Window {
	t.Helper()
	app := test.NewTempApp(t)
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	w := New(app, p, Options{Unnamed: true})
	t.Cleanup(w.end)
	w.win.Resize(fyne.NewSize(1280, 800))
	w.win.Canvas().Capture()
	return w
}

// The player hears the arrow keys while it is in front, and no longer once it is closed.
func TestPlayerHearsKeys(t *testing.T) {
	w := demoWindow(t)
	m := w.model.Eval().Assembly.Model
	q, err := assembly.Plan(t.Context(), m)
	p := &view.Player{Model: m, Order: q}
	w.stepsKnown(p, err)
	press := func(ks ...fyne.KeyName) {
		for _, k := range ks {
			w.typedKey(&fyne.KeyEvent{Name: k})
		}
	}
	press(fyne.KeyRight, fyne.KeyRight, fyne.KeyLeft)
	if p.At() != 1 {
		t.Errorf("two steps forward and one back is step %d, want the second", p.At()+1)
	}
	press(fyne.KeyEnd)
	if p.At() != len(q.Steps)-1 {
		t.Errorf("the end is step %d of %d", p.At()+1, len(q.Steps))
	}
	press(fyne.KeyEscape, fyne.KeyHome)
	if len(w.dialogs) != 0 || p.At() != len(q.Steps)-1 {
		t.Errorf("%d dialogs, step %d: the player is closed", len(w.dialogs), p.At()+1)
	}
}
