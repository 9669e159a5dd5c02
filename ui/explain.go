package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/ui/view"
)

// explain opens a reading that a row stands for: what it is now, at the start and in the donor, formula, inputs and
// source.
func (w *Window) explain(row string) {
	key, of := view.SplitReading(row)
	x, ok := w.model.Explain(key, of)
	if !ok {
		return
	}
	page := newPagePane(w, fyne.NewSize(300, 100), func(width float64) *view.Page { return x.Page(width, w.pages.fonts) }, nil)
	title := x.Name()
	if of != "" {
		title += " (" + of + ")"
	}
	place := 0
	if of == "" {
		place = w.model.FindingOf(key)
	}
	w.showExplained(title, page, x.Name(), x.Text, place)
}

// showExplained opens a page about a thing that can be copied as text and, where a finding has a place, left for it.
func (w *Window) showExplained(title string, page *pagePane, what string, text func() string, finding int) {
	d := dialog.NewCustomWithoutButtons(title, page, w.win)
	buttons := []fyne.CanvasObject{newPush("Copy as text", func() {
		w.app.Clipboard().SetContent(text())
		w.model.Say("Copied: " + what)
	})}
	if finding > 0 {
		buttons = append(buttons, newPush("Go to the place", func() { d.Hide(); w.goTo(finding) }))
	}
	closing := newPush("Close", d.Hide)
	closing.Importance = widget.HighImportance
	d.SetButtons(append(buttons, closing))
	w.fitPage(d, page)
	w.ask(d)
	w.hear(d, page.key)
}

// fitPage gives a dialog the size that its page wants, within the window.
func (w *Window) fitPage(d *dialog.CustomDialog, page *pagePane) {
	const frame = 96 // heading and buttons of the dialog
	room := w.win.Canvas().Size()
	high := float32(page.build(pageWidth-40).Height) + frame
	d.Resize(fyne.NewSize(min(pageWidth, room.Width-20), min(high, room.Height-40)))
}

// showReadings lists every reading, with a field to find one by its name.
func (w *Window) showReadings() {
	find := newField()
	find.SetPlaceHolder("Find a reading by its name")
	page := newPagePane(w, fyne.NewSize(300, 200), func(width float64) *view.Page {
		return w.model.AllReadings(width, w.pages.fonts, find.Text)
	}, w.explain)
	find.OnChanged = func(string) { page.scroll = 0; page.update() }
	d := dialog.NewCustom("All readings of "+w.model.Arrangement().Name, "Close", container.NewBorder(find, nil, nil, nil, page), w.win)
	d.Resize(fyne.NewSize(700, w.win.Canvas().Size().Height-60))
	w.ask(d)
	w.win.Canvas().Focus(find)
}

// explainFinding opens a finding: what was required and found, what the rule guards against, and its source.
func (w *Window) explainFinding(n int) {
	f := w.model.Eval().Findings[n-1]
	page := newPagePane(w, fyne.NewSize(300, 100), func(width float64) *view.Page { return view.FindingPage(width, w.pages.fonts, w.model.Units(), f) }, nil)
	place := n
	if f.Place == nil && len(f.Refs) == 0 {
		place = 0
	}
	w.showExplained("Finding about "+f.Subject, page, "the finding about "+f.Subject, func() string { return view.FindingText(w.model.Units(), f) }, place)
}

// Width of a text in a dialog, of what lies beside it there, and height of what lies above and below.
const (
	pageWidth = 680
	pageEdges = 44
	pageFrame = 110
)

// showPage shows a text in a dialog.
func (w *Window) showPage(title, markdown string) {
	text := widget.NewRichTextFromMarkdown(markdown)
	text.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustom(title, "Close", container.NewVScroll(text), w.win)
	text.Resize(fyne.NewSize(pageWidth-pageEdges, 1)) // wraps it, so that its height is known
	d.Resize(fyne.NewSize(pageWidth, min(text.MinSize().Height+pageFrame, w.win.Canvas().Size().Height-40)))
	w.ask(d)
}
