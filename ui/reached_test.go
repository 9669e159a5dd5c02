package ui

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"

	"stowbay/ui/view"
)

// In every dialog of the program Escape leaves it wherever Tab has led, and no stop swallows Tab: the keyboard goes round.
func TestEscapeLeavesEveryDialogFromEveryStop(t *testing.T) {
	w, _ := testWindow(t)
	c := w.win.Canvas()
	for _, id := range []string{"new", "report", "compare", "search", "settings", "heading", "donor", "newmodule", "newgear", "newdonor", "pack",
		"pictures", "gallery", "renarr", "strings", "play", "record", "readings", "help", "find", "keys", "rules", "five", "cautions"} {
		if id == "compare" && len(w.model.Plan().Arrangements) < 2 {
			w.Do("duparr")
		}
		for stop := range 400 {
			w.model.Pick("mid")
			w.Do(id)
			w.working.Wait() // the test's driver lets it draw beside us
			if len(w.dialogs) == 0 {
				if stop == 0 && id != "pictures" && id != "five" {
					t.Errorf("%s opens no dialog: %s", id, w.model.Status())
				}
				break
			}
			first := c.Focused()
			for range stop {
				c.FocusNext()
			}
			at, name := c.Focused(), fmt.Sprintf("%T", c.Focused())
			if at == nil {
				w.typedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
			} else {
				pressed(at, fyne.KeyEscape)
			}
			if w.blocked() {
				t.Errorf("%s: Escape at stop %d (%s) leaves it open", id, stop, name)
				hideAll(w)
			}
			if stop > 0 && (at == nil || at == first || stop >= 12) {
				break
			}
		}
	}
}

// The arrows choose among a few ways, without the space bar; Return goes ahead with what is chosen.
func TestRadiosByKeyboard(t *testing.T) {
	w, _ := testWindow(t)
	var said []string
	r := newRadios([]string{"one", "two", "three"}, func(s string) { said = append(said, s) })
	gone := ""
	w.ask(dialog.NewCustomConfirm("Test", "Go", "Cancel", container.NewVBox(r), func(ok bool) {
		if ok {
			gone = r.Selected
		}
	}, w.win))
	w.win.Canvas().Focus(r)
	for _, k := range []fyne.KeyName{fyne.KeySpace, fyne.KeyDown, fyne.KeyRight, fyne.KeyDown, fyne.KeyUp} {
		pressed(r, k)
	}
	if fmt.Sprint(said) != "[one two three two]" || r.Selected != "two" {
		t.Errorf("chosen one after the other: %v", said)
	}
	r.SetSelected("four")
	pressed(r, fyne.KeyReturn)
	if gone != "two" || w.blocked() {
		t.Errorf("Return goes ahead with %q", gone)
	}
	r.Resize(fyne.NewSize(100, 90))
	r.Tapped(&fyne.PointEvent{Position: fyne.NewPos(5, 75)})
	if r.Selected != "three" {
		t.Errorf("a click on the third chooses %q", r.Selected)
	}
}

// Rows of a page in a dialog are gone through by the arrows and clicked by Return; tabs are gone through by left and right.
func TestPagesAndTabsByKeyboard(t *testing.T) {
	w, _ := testWindow(t)
	clicked := ""
	page := newPagePane(w, fyne.NewSize(300, 200), func(float64) *view.Page {
		return &view.Page{Height: 60, Rows: []view.Row{{Key: "a", Bottom: 20, Right: 300}, {Key: "a", Top: 20, Bottom: 30, Right: 300}, {Key: "b", Top: 30, Bottom: 60, Right: 300}}}
	}, func(key string) { clicked = key })
	other := newPagePane(w, fyne.NewSize(300, 200), func(float64) *view.Page { return &view.Page{Height: 4000} }, nil)
	tabs := container.NewAppTabs(container.NewTabItem("One", page), container.NewTabItem("Two", other))
	d := dialog.NewCustom("Test", "Close", tabs, w.win)
	d.Resize(fyne.NewSize(500, 400))
	w.ask(d)
	w.win.Canvas().Capture()
	key := func(k fyne.KeyName) { w.typedKey(&fyne.KeyEvent{Name: k}) }
	key(fyne.KeyDown)
	key(fyne.KeyDown)
	key(fyne.KeyDown)
	key(fyne.KeyReturn)
	if clicked != "b" || !w.blocked() {
		t.Errorf("Return clicks %q", clicked)
	}
	key(fyne.KeyUp)
	key(fyne.KeySpace)
	if clicked != "a" {
		t.Errorf("the space bar clicks %q", clicked)
	}
	key(fyne.KeyRight)
	w.win.Canvas().Capture()
	key(fyne.KeyPageDown)
	if tabs.SelectedIndex() != 1 || other.scroll == 0 {
		t.Errorf("tab %d, scrolled to %v", tabs.SelectedIndex(), other.scroll)
	}
	key(fyne.KeyLeft)
	if tabs.SelectedIndex() != 0 {
		t.Error("left does not go back")
	}
}

// Wherever Tab leads in a form longer than its dialog, that is in sight.
func TestTabScrollsToWhereItLeads(t *testing.T) {
	w, _ := testWindow(t)
	c := w.win.Canvas()
	w.Do("donor")
	c.Capture()
	d, scrolled := fyne.CurrentApp().Driver(), false
	for stop := range 60 {
		c.FocusNext()
		o, ok := c.Focused().(fyne.CanvasObject)
		if !ok {
			t.Fatalf("stop %d is %T", stop, c.Focused())
		}
		for _, s := range scrollsAbout(w.frontBody(), o) {
			scrolled = scrolled || s.Offset.Y > 0
			top, edge := d.AbsolutePositionForObject(o).Y, d.AbsolutePositionForObject(s).Y
			if top < edge-1 || top+o.Size().Height > edge+s.Size().Height+1 {
				t.Errorf("stop %d, %T, stands at %v to %v, seen is %v to %v", stop, o, top, top+o.Size().Height, edge, edge+s.Size().Height)
			}
		}
	}
	if !scrolled {
		t.Error("nothing was scrolled")
	}
}
