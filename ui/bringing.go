package ui

import (
	"errors"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

// broughtIn are the ways that names of files end which can be dropped on the window or brought in from the menu.
var broughtIn = []string{".yaml", ".yml", ".png", ".jpg", ".jpeg", ".dxf", ".svg", ".csv"}

// askBringIn asks for a file to do with what dropping it on the window does.
func (w *Window) askBringIn() { w.askFile(broughtIn, func(path string) { w.bringIn([]string{path}) }) }

// dropped takes what is dropped on the window.
func (w *Window) dropped(at fyne.Position, uris []fyne.URI) {
	if len(uris) == 0 {
		return
	}
	if w.blocked() {
		w.model.Say("Close the dialog first, then drop the file again.")
		return
	}
	if p := w.inView(at); p != nil {
		w.under = p
	}
	var paths []string
	for _, u := range uris {
		paths = append(paths, u.Path())
	}
	w.bringIn(paths)
}

// bringIn does with files what each is good for: a plan is opened, a donor, modules and gear go into the plan's
// library, pictures under a view, outlines of a drawing become bays, a table goes to the build record.
func (w *Window) bringIn(paths []string) {
	var records []string
	for _, path := range paths {
		ext := strings.ToLower(filepath.Ext(path))
		switch {
		case ext == ".yaml" || ext == ".yml":
			if !isRecord(path) {
				w.askBeforeLosing(func() { w.open(path) })
				return
			}
			records = append(records, path)
		case !slices.Contains(broughtIn, ext):
			w.model.Say(filepath.Base(path) + " is of no use here: plans and records (.yaml), pictures (.png, .jpg), drawings (.dxf, .svg) and tables of modules received (.csv) are.")
			return
		case w.idle():
			w.model.Say("Begin or open a plan first; then " + filepath.Base(path) + " can be brought into it.")
			return
		case ext == ".csv":
			w.showRecord().importFrom(path)
			return
		case ext == ".dxf" || ext == ".svg":
			w.importOutline(path)
			return
		default:
			w.addUnderlay(path)
		}
	}
	if len(records) > 0 {
		w.bringRecords(records)
	}
}

// recordMarks tell a record of a donor, a module or a piece of gear from a plan by fields that only they have.
var recordMarks = regexp.MustCompile(`(?m)^(wheelbase_mm|scales|cell|kind):`)

// planMark is a field that every plan has.
var planMark = regexp.MustCompile(`(?m)^arrangements:`)

func isRecord(path string) bool {
	data, err := readSome(path, record.MaxBytes)
	return err == nil && recordMarks.Match(data) && !planMark.Match(data)
}

// readRecord reads one record, whichever kind it is. Where it is none, the problems are those of the kind that it
// fits best.
func readRecord(path string) (r vehicles.Records, err error) {
	data, err := readSome(path, record.MaxBytes)
	if err != nil {
		return r, err
	}
	name := filepath.Base(path)
	var best error
	try := func(err error) bool {
		if err == nil {
			return true
		}
		if best == nil || len(err.Error()) < len(best.Error()) {
			best = err
		}
		return false
	}
	if d, err := vehicles.ReadDonor(name, data); try(err) {
		r.Donors = append(r.Donors, d)
	} else if m, err := vehicles.ReadModule(name, data); try(err) {
		r.Modules = append(r.Modules, m)
	} else if g, err := vehicles.ReadGear(name, data); try(err) {
		r.Gear = append(r.Gear, g)
	} else {
		return r, best
	}
	return r, nil
}

// bringRecords reads records and asks what becomes of them. Where one cannot be read none is taken.
func (w *Window) bringRecords(paths []string) {
	var all vehicles.Records
	var wrong []error
	for _, path := range paths {
		r, err := readRecord(path)
		if err != nil {
			wrong = append(wrong, err)
		}
		all.Donors, all.Modules, all.Gear = append(all.Donors, r.Donors...), append(all.Modules, r.Modules...), append(all.Gear, r.Gear...)
	}
	switch {
	case len(wrong) > 0:
		w.showError("Nothing was brought in", errors.Join(wrong...))
	case len(all.Donors) > 0:
		w.askDonorUse(all)
	case w.idle():
		w.model.Say("Begin or open a plan first; then modules and gear can be brought into its library.")
	default:
		w.keepRecords(all)
	}
}

// keepRecords puts records into the plan's own library.
func (w *Window) keepRecords(r vehicles.Records) {
	err := w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutRecords(p, r) })
	if err == nil {
		w.model.Say(recordNames(r) + " in the plan's library now.")
		w.showLeft(storesPane)
	}
}

func recordNames(r vehicles.Records) string {
	var names []string
	for _, d := range r.Donors {
		names = append(names, d.Name)
	}
	for _, m := range r.Modules {
		names = append(names, m.Name)
	}
	for _, g := range r.Gear {
		names = append(names, g.Name)
	}
	if len(names) == 1 {
		return names[0] + " is"
	}
	return fmt.Sprintf("%d records are", len(names))
}

// askDonorUse asks whether a donor read from a file begins a new plan or goes into this one's library.
func (w *Window) askDonorUse(r vehicles.Records) {
	donor := r.Donors[0]
	text := widget.NewLabel(donor.Name + ". " + donorFacts(w, donor))
	text.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustomWithoutButtons("A donor: what is it for?", text, w.win)
	begin := newPush("New plan for it", func() {
		d.Hide()
		w.askBeforeLosing(func() { w.beginPlanWith(r) })
	})
	begin.Importance = widget.HighImportance
	buttons := []fyne.CanvasObject{newPush("Cancel", d.Hide), begin}
	if !w.idle() {
		keep := newPush("Into this plan's library", func() { d.Hide(); w.keepRecords(r) })
		buttons = []fyne.CanvasObject{buttons[0], keep, begin}
	}
	d.SetButtons(buttons)
	d.Resize(fyne.NewSize(560, 220))
	w.ask(d)
}

// beginPlanWith begins a plan on the first donor of records that it carries itself.
func (w *Window) beginPlanWith(r vehicles.Records) {
	p := layout.NewPlan(r.Donors[0], r.Donors[0].Name)
	p.Library = layout.Library{Donors: r.Donors, Modules: r.Modules, Gear: r.Gear}
	w.load(p, "", nil)
	w.model.Document().MarkDirty()
	w.titled()
	w.showLeft(guidePane)
}
