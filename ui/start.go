package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"stowbay/ui/view"
)

// startPage is what a window without a plan shows in place of the views.
type startPage struct {
	w    *Window
	root *fyne.Container
	back *canvas.Rectangle
	body *fyne.Container
}

func newStartPage(w *Window) *startPage {
	s := &startPage{w: w}
	s.body = container.NewVBox()
	s.back = canvas.NewRectangle(w.skin.ink.pane)
	s.root = container.NewStack(s.back, container.NewVScroll(container.NewPadded(container.NewPadded(s.body))))
	s.fill()
	w.app.Settings().AddListener(func(fyne.Settings) { s.refill() }) // light or dark
	return s
}

var startSteps = []struct{ title, text string }{
	{"Survey", "Choose the donor: its bays, keep-outs and wheel loads come along. Draw or measure what is missing."},
	{"Boxes", "Put a box into each bay at its clearance, or draw one."},
	{"Modules", "Pack the most that fit, with a proof where no more do, or place them by hand."},
	{"Readings and findings", "See voltage, energy, wheel loads and clearances change while you drag."},
	{"Report", "Write it for the fabricator, the assembler, the inspector and the owner."},
}

// refill makes the page anew after what it shows changed: the list of plans, the colours.
func (s *startPage) refill() {
	if s == nil || !s.root.Visible() {
		return
	}
	s.back.FillColor = s.w.skin.ink.pane
	s.body.RemoveAll()
	s.fill()
	s.root.Refresh()
}

func (s *startPage) fill() {
	k := s.w.skin.ink
	title := canvas.NewText("From donor to report in five steps", k.text)
	title.TextSize, title.TextStyle.Bold = 22, true
	s.body.Add(title)
	for i, step := range startSteps {
		s.body.Add(s.step(i+1, step.title, step.text))
	}
	begin := newPush("Choose a donor", func() { s.w.Do("new") })
	begin.Importance = widget.HighImportance
	open := newPush("Open a plan", func() { s.w.Do("open") })
	look := newPush("Look at the demonstration", func() { s.w.Do("demo") })
	s.body.Add(container.NewPadded(container.NewHBox(begin, open, look)))
	s.body.Add(widget.NewLabel("Or drop a plan, or the record of a donor, on the window."))
	for _, o := range s.w.recentList() {
		s.body.Add(o)
	}
	caution := widget.NewLabel(view.Caution)
	caution.Wrapping = fyne.TextWrapWord
	s.body.Add(caution)
}

func bold(s string) *widget.Label {
	l := widget.NewLabel(s)
	l.TextStyle.Bold = true
	return l
}

func (s *startPage) step(n int, title, text string) fyne.CanvasObject {
	num := canvas.NewText(string(rune('0'+n)), color.NRGBA{R: 0xe6, G: 0x9f, A: 0xff})
	num.TextSize, num.TextStyle.Bold = 30, true
	num.Alignment = fyne.TextAlignCenter
	body := widget.NewLabel(text)
	body.Wrapping = fyne.TextWrapWord
	return container.NewBorder(nil, nil, container.New(&fixedWidth{44}, num), nil, container.New(layout.NewCustomPaddedVBoxLayout(-6), bold(title), body))
}

func (s *startPage) setShown(shown bool) { setShown(s.root, shown) }

func (s *startPage) hide() { s.setShown(false) }

// idle reports whether there is no plan yet.
func (w *Window) idle() bool { return w.start != nil && w.start.root.Visible() }
