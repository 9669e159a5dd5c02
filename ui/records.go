package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

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

// newModule, newGear and newDonor open the editor on a record with nothing in it but what every record has.
func (w *Window) newModule() {
	m := &vehicles.Module{Format: 1, ID: w.freshRecord("module-"), Postures: []vehicles.Posture{vehicles.Flat}}
	w.editor("New module", m, func() vehicles.Records { return vehicles.Records{Modules: []*vehicles.Module{m}} })
}

func (w *Window) newGear() {
	g := &vehicles.Gear{Format: 1, ID: w.freshRecord("gear-")}
	w.editor("New gear", g, func() vehicles.Records { return vehicles.Records{Gear: []*vehicles.Gear{g}} })
}

func (w *Window) newDonor() {
	d := &vehicles.Donor{Format: 1, ID: w.freshRecord("donor-")}
	w.editor("New donor", d, func() vehicles.Records { return vehicles.Records{Donors: []*vehicles.Donor{d}} })
}

// freshRecord is an id that no record of the library has.
func (w *Window) freshRecord(prefix string) string {
	lib := w.model.Library()
	return layout.FreshID(prefix, func(id string) bool {
		return lib.Module(id) != nil || lib.Gear(id) != nil || lib.Donor(id) != nil
	})
}

// editor edits a copy of a record; keeping it puts it into the plan's own library, in front of the catalogue. With
// another id it becomes a record of its own.
func (w *Window) editor(what string, value any, records func() vehicles.Records) {
	w.edit(what+" (kept in this plan; another id makes another one)", value, func() error {
		return w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutRecords(p, records()) })
	})
}

// editSettings opens the plan's settings.
func (w *Window) editSettings() {
	s := clone(&w.model.Plan().Settings)
	w.edit("Plan settings", s, func() error {
		err := w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutSettings(p, *s) })
		w.menuTicks()
		return err
	})
}

// edit edits a copy of a record in a dialog and keeps it when nothing is wrong with it. Leaving it after a change asks
// first.
func (w *Window) edit(title string, value any, keep func() error) {
	note, touched := problemsLabel(w), false
	f := &form{w: w, value: value, changed: func(string) { touched = true; note.set(value) }}
	note.set(value)
	scroll := container.NewVScroll(container.NewPadded(f.rows("")))
	d := dialog.NewCustomWithoutButtons(title, container.NewBorder(nil, note.root, nil, nil, scroll), w.win)
	leave := func() {
		w.win.Canvas().Unfocus() // takes what stands in the field that has the keyboard
		if !touched {
			d.Hide()
			return
		}
		w.askGiveUp(d.Hide)
	}
	keeping := newPush("Keep", func() {
		w.win.Canvas().Unfocus()
		if !note.set(value) {
			w.model.Say("Not kept yet: the lines below the fields say what is to be put right.")
			return
		}
		if err := keep(); err != nil {
			w.showError("Not kept", w.inUnits(err))
			return
		}
		d.Hide()
	})
	keeping.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{newPush("Cancel", leave), keeping})
	d.Resize(fyne.NewSize(700, min(660, w.win.Canvas().Size().Height-40)))
	w.ask(d)
	w.hear(d, func(k fyne.KeyName) bool {
		if k == fyne.KeyEscape {
			leave()
			return true
		}
		return false
	})
}

// askGiveUp asks before changes of a record are given up.
func (w *Window) askGiveUp(then func()) {
	d := dialog.NewCustomWithoutButtons("Give up the changes?", widget.NewLabel("What was changed in these fields is not kept yet."), w.win)
	back := newPush("Go on editing", d.Hide)
	back.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{newPush("Give them up", func() { d.Hide(); then() }), back})
	w.ask(d)
}
