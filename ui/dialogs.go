package ui

import (
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// ask shows a dialog. Escape closes it like its own way out, Return goes ahead.
func (w *Window) ask(d dialog.Dialog) {
	w.tips.hide()
	w.dialogs = append(w.dialogs, d)
	d.Show()
	if w.accepts == nil {
		w.accepts = map[dialog.Dialog]func(){}
	}
	w.accepts[d] = w.wire()
	w.enter(d)
	w.enterLater(settle)
	d.SetOnClosed(func() {
		w.dialogs = slices.DeleteFunc(w.dialogs, func(o dialog.Dialog) bool { return o == d })
		delete(w.ears, d)
		delete(w.accepts, d)
	})
}

// confirm asks before something is done. The toolkit's own question sets its text over a large sign.
func (w *Window) confirm(title, text, yes string, then func()) {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustomConfirm(title, yes, "Cancel", l, func(ok bool) {
		if ok {
			then()
		}
	}, w.win)
	d.Resize(fyne.NewSize(520, 160))
	w.ask(d)
}

// settle is how long a click that opens a dialog takes to end.
const settle = 200 * time.Millisecond

// enterLater gives the keyboard to the dialog in front once more: where a press of the mouse opened it, the toolkit
// takes the keyboard away when the button goes up.
func (w *Window) enterLater(after time.Duration) {
	if !w.shown {
		return
	}
	time.AfterFunc(after, func() {
		fyne.Do(func() {
			if n := len(w.dialogs); n > 0 && w.win.Canvas().Focused() == nil {
				w.enter(w.dialogs[n-1])
			}
		})
	})
}

// focus gives the keyboard to something in the window now and, where a press of the mouse asked for it, once more when the
// button went up; see enterLater.
func (w *Window) focus(f fyne.Focusable) {
	w.win.Canvas().Focus(f)
	if !w.shown {
		return
	}
	time.AfterFunc(settle, func() {
		fyne.Do(func() {
			if !w.blocked() && w.win.Canvas().Focused() == nil {
				w.win.Canvas().Focus(f)
			}
		})
	})
}

// hear gives a dialog that is shown the keys pressed while it is in front and no field has the keyboard.
func (w *Window) hear(d dialog.Dialog, key func(fyne.KeyName) bool) {
	if w.ears == nil {
		w.ears = map[dialog.Dialog]func(fyne.KeyName) bool{}
	}
	w.ears[d] = key
}

// letGo gives the keyboard back to the window after a choice, a tick or a slider took it, so that Escape and the
// dialog's own keys work.
func (w *Window) letGo() { w.win.Canvas().Unfocus() }

// heard tells whether the dialog in front took a key.
func (w *Window) heard(k fyne.KeyName) bool {
	n := len(w.dialogs)
	return n > 0 && w.ears[w.dialogs[n-1]] != nil && w.ears[w.dialogs[n-1]](k)
}

// dismiss closes the dialog in front.
func (w *Window) dismiss() {
	if n := len(w.dialogs); n > 0 && !w.busy {
		w.dialogs[n-1].Dismiss()
	}
}

// accept goes ahead with the dialog in front.
func (w *Window) accept() {
	n := len(w.dialogs)
	if n == 0 || w.busy {
		return
	}
	if f := w.accepts[w.dialogs[n-1]]; f != nil {
		f()
	}
}

func (w *Window) blocked() bool { return w.win.Canvas().Overlays().Top() != nil }
