package view

import (
	"strconv"

	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// Steps sets the history pane, the latest step on top. A row's key is how many steps are in the plan after
// clicking it.
func (m *Model) Steps(width float64, fonts *paint.Fonts) *Page {
	w := newWriter(width, fonts)
	w.y = 6
	steps, done := m.doc.History()
	for i := len(steps); i > 0; i-- {
		s := steps[i-1]
		w.step(strconv.Itoa(i), s.Label, s.Saved, i == done, s.Done)
	}
	label := "Opened"
	if len(steps) == 0 {
		label = "Opened. Every change you make will be listed here, and can be taken back."
	}
	w.step("0", label, false, done == 0, true)
	return w.done()
}

func (w *writer) step(key, label string, saved, now, done bool) {
	top, at := w.y, len(w.page.Items)
	w.y += 5
	role := RoleBody
	if !done {
		role = RoleFaint
	}
	if now {
		w.shape(w.pad+4, w.y+8, RoleBar, [][2]float64{{-4, -5}, {4, 0}, {-4, 5}})
	}
	right := w.w - w.pad
	if saved {
		w.text(right, w.y+8, RoleFaint, 10.5, drawing.East, "saved")
		right -= 40
	}
	w.wrapped(w.pad+14, right, role, 12, label, 2)
	w.y += 4
	if now {
		w.under(at, top, RoleChosen)
	}
	w.row(top, key, "Go back or forward to here")
}
