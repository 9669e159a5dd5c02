package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/ui/view"
)

// gallery shows the plan views of all arrangements side by side, each with its figures and notes.
type gallery struct {
	w      *Window
	dialog *dialog.CustomDialog
	wide   float32 // of one arrangement
}

// showGallery opens the arrangements side by side.
func (w *Window) showGallery() {
	g := &gallery{w: w}
	p := w.model.Document().Plan()
	size := w.win.Canvas().Size()
	size = fyne.NewSize(min(size.Width-30, 1500), size.Height-50)
	columns := min(max(len(p.Arrangements), 1), g.columns())
	g.wide = size.Width / float32(columns)
	cards := container.NewGridWithColumns(columns)
	for _, a := range p.Arrangements {
		cards.Add(g.card(p, a))
	}
	note := widget.NewLabel("")
	if len(p.Arrangements) == 1 {
		note.SetText("There is one arrangement so far. Duplicate it and change the copy: both then stand here side by side.")
	}
	note.Wrapping = fyne.TextWrapWord
	setShown(note, note.Text != "")
	g.dialog = dialog.NewCustom("Arrangements of "+p.Name, "Close", container.NewBorder(note, nil, nil, nil, container.NewVScroll(cards)), w.win)
	g.dialog.Resize(size)
	w.ask(g.dialog)
}

// columns are as many as have room side by side.
func (g *gallery) columns() int {
	if g.w.win.Canvas().Size().Width < 1500 {
		return 2
	}
	return 3
}

// galleryHigh is how high a picture of an arrangement is at most.
const galleryHigh = 380

func (g *gallery) card(p *layout.Plan, a *layout.Arrangement) fyne.CanvasObject {
	pic := newPreview(g.w, fyne.NewSize(300, min(0.5*g.wide, galleryHigh)))
	facts := widget.NewLabel("Working it out …")
	facts.Wrapping = fyne.TextWrapWord
	note := widget.NewLabel(a.Note)
	note.Wrapping = fyne.TextWrapWord
	if a.Note == "" {
		note.SetText("No notes yet.")
		note.Importance = widget.LowImportance
	}
	g.workOut(p, a, pic, facts)
	buttons := container.NewHBox(
		newPush("Show", func() { g.leave(a.ID, "") }),
		newPush("Duplicate", func() { g.leave(a.ID, "duparr") }),
		newPush("Name and notes …", func() { g.leave(a.ID, "renarr") }))
	name := a.Name
	if a.ID == g.w.model.Arrangement().ID {
		name += " (shown)"
	}
	return container.NewPadded(container.NewVBox(bold(name), pic, facts, buttons, note))
}

// workOut draws an arrangement and says its figures; another one than that shown is worked out in the background.
func (g *gallery) workOut(p *layout.Plan, a *layout.Arrangement, pic *preview, facts *widget.Label) {
	show := func(e *check.Evaluation) {
		pic.show(drawing.Plan(e.Scene, drawing.Options{Off: drawing.LayerZones | drawing.LayerLabels | drawing.LayerLoads, NameScale: previewNames,
			Imperial: g.w.model.Units() == view.Imperial}))
		facts.SetText(view.InBrief(e, g.w.model.Units()))
	}
	if a.ID == g.w.model.Arrangement().ID {
		show(g.w.model.Eval())
		return
	}
	lib := g.w.model.Library()
	g.w.working.Go(func() {
		e := check.Evaluate(p, a, lib, nil)
		fyne.Do(func() { show(e) })
	})
}

// leave closes the gallery on an arrangement and does a command with it.
func (g *gallery) leave(id, command string) {
	g.dialog.Hide()
	g.w.model.SetArrangement(id)
	if command != "" {
		g.w.Do(command)
	}
}

// nextArrangement shows the next arrangement, or the one before.
func (w *Window) nextArrangement(by int) {
	as := w.model.Plan().Arrangements
	for i, a := range as {
		if a.ID == w.model.Arrangement().ID {
			w.model.SetArrangement(as[((i+by)%len(as)+len(as))%len(as)].ID)
			return
		}
	}
}

// moveArrangement moves the arrangement shown among the tabs.
func (w *Window) moveArrangement(by int) {
	as := w.model.Plan().Arrangements
	for i, a := range as {
		if to := i + by; a.ID == w.model.Arrangement().ID && to >= 0 && to < len(as) {
			w.say(w.model.Do(func(p *layout.Plan, id string) (layout.Edit, error) { return layout.MoveArrangement(p, id, to) }))
			return
		}
	}
}

// arrangementTip says what resting on an arrangement's tab tells: its name and its notes.
func arrangementTip(a *layout.Arrangement) string {
	tip := a.Name
	if a.Note != "" {
		tip += fmt.Sprintf(": %s", a.Note)
	}
	return tip + " (secondary button: duplicate, name and notes, take out)"
}
