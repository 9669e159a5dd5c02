package ui

import (
	"errors"
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/ui/view"
	"stowbay/vehicles"
)

// Names of the tools that draw.
const (
	bayToolName     = "Draw a bay"
	keepOutToolName = "Draw a keep-out"
	boxToolName     = "Draw a box"
	stepToolName    = "Draw a step"
)

func (w *Window) bayTool() view.Tool { return w.outlineTool(bayToolName, "New bay", w.addBay) }

func (w *Window) keepOutTool() view.Tool {
	return w.outlineTool(keepOutToolName, "New keep-out", w.addKeepOut)
}

func (w *Window) boxTool() view.Tool { return w.outlineTool(boxToolName, "New box", w.addBox) }

// outlineTool draws an outline and asks for its heights.
func (w *Window) outlineTool(name, title string, done func(drawn)) view.Tool {
	return view.NewOutline(w.model, name, func(ps []r2.Point) { w.askHeights(title, ps, w.usualHeights(), done) })
}

// drawStep draws one more level of the bay or box picked, with a floor and a ceiling of its own.
func (w *Window) drawStep() {
	ref := w.model.Selection.Last()
	if len(view.Levels(w.model.Arrangement(), ref)) == 0 {
		w.model.Say("Pick a bay or a box first: a step is a part of it with a floor and a ceiling of its own.")
		return
	}
	w.model.SetTool(view.NewOutline(w.model, stepToolName, func(ps []r2.Point) {
		w.askHeights("Step of "+ref, ps, w.stepHeights(ref), func(d drawn) { w.addStep(ref, d) })
	}))
}

// drawn is an outline drawn with its name and heights.
type drawn struct {
	name           string
	points         []r2.Point
	floor, ceiling float64
}

func (d drawn) outline() []vehicles.XY {
	out := make([]vehicles.XY, len(d.points))
	for i, p := range d.points {
		out[i] = vehicles.XY{p.X, p.Y}
	}
	return out
}

// defaultHeight is how high a thing drawn is at first.
const defaultHeight = 300

// heights are a floor and a ceiling above the ground in mm.
type heights struct{ floor, ceiling float64 }

// usualHeights are those that a thing drawn has at first: from the ground clearance up.
func (w *Window) usualHeights() heights {
	floor := 200.0
	if d := w.model.Scene().Donor; d != nil {
		floor = d.GroundClearMM
	}
	return heights{floor, floor + defaultHeight}
}

// stepHeights are those of the last level of a bay or box.
func (w *Window) stepHeights(ref string) heights {
	ls := view.Levels(w.model.Arrangement(), ref)
	last := ls[len(ls)-1]
	return heights{last.FloorMM, last.CeilingMM}
}

// askHeights asks for the name and the heights of an outline just drawn, which stays in sight meanwhile. Cancelled, or
// with heights that cannot be, it goes back to the drawing tool with all its corners.
func (w *Window) askHeights(title string, ps []r2.Point, at heights, done func(drawn)) {
	name := newField()
	name.SetPlaceHolder("shown on drawings; may stay empty")
	lo, hi := w.numberEntry(at.floor, view.Length), w.numberEntry(at.ceiling, view.Length)
	above := hi.Validator
	hi.Validator = func(s string) error {
		a, err := w.model.Units().Evaluate(lo.Text, view.Length)
		if b, err2 := w.model.Units().Evaluate(s, view.Length); err == nil && err2 == nil && b <= a {
			return errors.New("must lie above the floor")
		}
		return above(s)
	}
	items := []*widget.FormItem{widget.NewFormItem("Name", name),
		w.numberItem("Floor above the ground", lo, "mm"), w.numberItem("Ceiling above the ground", hi, "mm")}
	d := dialog.NewForm(title, "Put in", "Cancel", items, func(ok bool) {
		a, err1 := w.model.Units().Evaluate(lo.Text, view.Length)
		b, err2 := w.model.Units().Evaluate(hi.Text, view.Length)
		if t, drawing := w.model.Tool().(*view.Outline); drawing && (!ok || err1 != nil || err2 != nil || b <= a) {
			t.Reopen()
			return
		}
		if ok {
			done(drawn{name: name.Text, points: ps, floor: a, ceiling: b})
		}
		w.model.SetTool(view.NewSelect(w.model))
	}, w.win)
	d.Resize(fyne.NewSize(520, 260))
	w.ask(d)
}

func (w *Window) addStep(ref string, d drawn) {
	level := vehicles.Level{Outline: d.outline(), FloorMM: d.floor, CeilingMM: d.ceiling}
	if w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return view.AddLevel(p, a, ref, level) }) == nil {
		w.model.Pick(ref)
	}
}

// numberEntry is a field for a number in mm or kg that takes sums and units.
func (w *Window) numberEntry(v float64, q view.Quantity) *field {
	unit := map[view.Quantity]string{view.Length: "mm", view.Mass: "kg"}[q]
	shown, _ := w.model.Units().Show(v, unit)
	e := newField()
	e.SetText(label(shown))
	e.Validator = func(s string) error {
		_, err := w.model.Units().Evaluate(s, q)
		return err
	}
	return e
}

func (w *Window) numberItem(text string, e *field, unit string) *widget.FormItem {
	_, shown := w.model.Units().Show(0, unit)
	item := widget.NewFormItem(text, e)
	item.HintText = "in " + shown + "; sums and units are understood: 2*151+8, 6in"
	return item
}

func (w *Window) addBay(d drawn) {
	id := layout.FreshID("bay", w.model.Arrangement().Named)
	bay := vehicles.Bay{ID: id, Name: d.name, Levels: []vehicles.Level{{Outline: d.outline(), FloorMM: d.floor, CeilingMM: d.ceiling}}, ClearanceMM: 10}
	if w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.PutBay(p, a, bay) }) == nil {
		w.model.Pick(id)
	}
}

func (w *Window) addKeepOut(d drawn) {
	id := layout.FreshID("keep-out-", w.model.Arrangement().Named)
	k := vehicles.KeepOut{ID: id, Name: d.name, Kind: "fixed", Outline: d.outline(), FloorMM: d.floor, CeilingMM: d.ceiling}
	if w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.PutKeepOut(p, a, k) }) == nil {
		w.model.Pick(id)
	}
}

// addBox puts in a box with its origin at the least corner of its outline.
func (w *Window) addBox(d drawn) {
	id := layout.FreshID("box", w.model.Arrangement().Named)
	lo := r2.RectFromPoints(d.points...).Lo()
	out := d.outline()
	for i := range out {
		out[i] = vehicles.XY{out[i][0] - lo.X, out[i][1] - lo.Y}
	}
	b := &layout.Box{ID: id, Name: d.name, Bay: w.bayUnder(d.points), At: vehicles.XYZ{lo.X, lo.Y, d.floor},
		Levels: []vehicles.Level{{Outline: out, CeilingMM: d.ceiling - d.floor}}}
	w.putBox(b)
}

func (w *Window) putBox(b *layout.Box) {
	if w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.PutBox(p, a, b) }) == nil {
		w.model.Pick(b.ID)
	}
}

// bayUnder is the bay that holds the middle of an outline, or "".
func (w *Window) bayUnder(ps []r2.Point) string {
	c := r2.RectFromPoints(ps...).Center()
	for _, hit := range w.panes[0].sceneIndex().At(c, 0) {
		if hit.Kind == view.BayKind {
			return hit.Ref
		}
	}
	return ""
}

// boxForBay fills the bay picked with a box at its clearance.
func (w *Window) boxForBay() {
	bay := w.model.Arrangement().Bay(w.model.Selection.Last())
	if bay == nil {
		w.model.Say("Pick a bay first.")
		return
	}
	a := w.model.Arrangement()
	b, remark, err := a.BoxFor(bay, w.model.Scene().Donor, layout.Shell{})
	if err != nil {
		w.showError("No box", w.inUnits(err))
		return
	}
	w.putBox(b)
	if remark != "" {
		w.model.Say(remark)
	}
}

func (w *Window) askRename() {
	a := w.model.Arrangement()
	name, note := newField(), newNote()
	name.SetText(a.Name)
	note.SetText(a.Note)
	note.SetMinRowsVisible(6)
	d := dialog.NewForm("Arrangement", "Keep", "Cancel", []*widget.FormItem{widget.NewFormItem("Name", name), widget.NewFormItem("Notes", note)}, func(ok bool) {
		if ok {
			w.say(w.model.Do(func(p *layout.Plan, id string) (layout.Edit, error) {
				return layout.RenameArrangement(p, id, name.Text, note.Text)
			}))
		}
	}, w.win)
	d.Resize(fyne.NewSize(520, 300))
	w.ask(d)
}

func (w *Window) askStrings() {
	a := w.model.Arrangement()
	series, parallel := newField(), newField()
	series.SetText(fmt.Sprint(a.Series))
	parallel.SetText(fmt.Sprint(max(a.Parallel, 1)))
	s := widget.NewFormItem("Modules in series", series)
	s.HintText = "0: as many as there are, over the parallel strings"
	d := dialog.NewForm("Series and parallel", "Keep", "Cancel", []*widget.FormItem{s, widget.NewFormItem("Strings in parallel", parallel)}, func(ok bool) {
		n, err := view.Metric.Evaluate(series.Text, view.Plain)
		k, err2 := view.Metric.Evaluate(parallel.Text, view.Plain)
		switch {
		case !ok:
		case err != nil || err2 != nil || n != math.Trunc(n) || k != math.Trunc(k):
			w.model.Say("Not set: these are whole numbers.")
		default:
			w.say(w.model.Do(func(p *layout.Plan, id string) (layout.Edit, error) { return layout.PutSplit(p, id, int(n), int(k)) }))
		}
	}, w.win)
	d.Resize(fyne.NewSize(480, 220))
	w.ask(d)
}
