package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"

	"stowbay/layout"
	"stowbay/ui/view"
	"stowbay/vehicles"
)

// editRecord opens the record that a row of the stores stands for.
func (w *Window) editRecord(key string) {
	kind, id, _ := strings.Cut(key, ":")
	lib := w.model.Library()
	switch kind + ":" {
	case view.ModuleKey:
		if m := lib.Module(id); m != nil {
			c := clone(m)
			w.editor("Module", c, func() vehicles.Records { return vehicles.Records{Modules: []*vehicles.Module{c}} })
		}
	case view.GearKey:
		if g := lib.Gear(id); g != nil {
			c := clone(g)
			w.editor("Gear", c, func() vehicles.Records { return vehicles.Records{Gear: []*vehicles.Gear{c}} })
		}
	}
}

// editDonor opens the survey of a donor.
func (w *Window) editDonor(id string) {
	donor := w.model.Library().Donor(id)
	if donor == nil {
		w.model.Say(fmt.Sprintf("There is no donor %q.", id))
		return
	}
	c := clone(donor)
	w.editor("Donor", c, func() vehicles.Records { return vehicles.Records{Donors: []*vehicles.Donor{c}} })
}

// editor edits a copy of a record; keeping it puts it into the plan's own library, in front of the catalogue. With
// another id it becomes a record of its own.
func (w *Window) editor(what string, value any, records func() vehicles.Records) {
	note := problemsLabel()
	f := &form{w: w, value: value, changed: func(string) { note.set(value) }}
	note.set(value)
	scroll := container.NewVScroll(container.NewPadded(f.rows("")))
	var d *dialog.ConfirmDialog
	d = dialog.NewCustomConfirm(what+" (kept in this plan; another id makes another one)", "Keep", "Cancel",
		container.NewBorder(nil, note.root, nil, nil, scroll), func(ok bool) {
			if !ok {
				return
			}
			w.win.Canvas().Unfocus()
			if !note.set(value) {
				w.ask(d)
				w.model.Say("Not kept: the lines below say what is wrong.")
				return
			}
			w.say(w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutRecords(p, records()) }))
		}, w.win)
	d.Resize(fyne.NewSize(680, 620))
	w.ask(d)
}

// editSettings opens the plan's settings.
func (w *Window) editSettings() {
	s := clone(&w.model.Plan().Settings)
	note := problemsLabel()
	f := &form{w: w, value: s, changed: func(string) { note.set(s) }}
	scroll := container.NewVScroll(container.NewPadded(f.rows("")))
	d := dialog.NewCustomConfirm("Plan settings", "Keep", "Cancel", container.NewBorder(nil, note.root, nil, nil, scroll), func(ok bool) {
		w.win.Canvas().Unfocus()
		if ok {
			w.say(w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutSettings(p, *s) }))
		}
	}, w.win)
	d.Resize(fyne.NewSize(680, 620))
	w.ask(d)
}
