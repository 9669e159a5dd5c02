package ui

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/ui/view"
)

// What steps can be shown of.
const (
	stepsTogether = "Put the pack together"
	stepsBoxOut   = "Take a box out of the vehicle"
	stepsReplace  = "Replace one module"
)

// askSteps asks for what work the steps are wanted.
func (w *Window) askSteps() {
	if len(w.model.Eval().Electric.Strings) == 0 {
		w.model.Say("There is no string of modules yet, so there is nothing to put together.")
		return
	}
	boxes, modules := w.stepSubjects()
	of := newChoice(nil, nil)
	what := newRadios([]string{stepsTogether, stepsBoxOut, stepsReplace}, nil)
	what.OnChanged = func(s string) {
		offer(of, map[string][]string{stepsBoxOut: boxes, stepsReplace: modules}[s], w.model.Selection.Last())
	}
	what.SetSelected(stepsTogether)
	caution := widget.NewLabel(view.LiveCaution)
	caution.Wrapping = fyne.TextWrapWord
	items := []*widget.FormItem{widget.NewFormItem("Work", what), widget.NewFormItem("Which", of), widget.NewFormItem("", caution)}
	d := dialog.NewForm("Step by step", "Show the steps", "Cancel", items, func(ok bool) {
		if ok {
			w.workOutSteps(what.Selected, of.Selected)
		}
	}, w.win)
	d.Resize(fyne.NewSize(600, 310))
	w.ask(d)
}

// stepSubjects are the boxes that can be taken out and the modules that can be replaced.
func (w *Window) stepSubjects() (boxes, modules []string) {
	s := w.model.Scene()
	for _, b := range s.Boxes {
		if len(b.Modules)+len(b.Gear) > 0 {
			boxes = append(boxes, b.Box.ID)
		}
	}
	s.Bodies(func(_ *layout.BoxScene, b *layout.Body) { modules = append(modules, b.ID) })
	return boxes, modules
}

// offer gives a choice its options, the thing picked or its box first chosen; without options it is switched off.
func offer(s *choice, options []string, picked string) {
	s.SetOptions(options)
	s.ClearSelected()
	if len(options) == 0 {
		s.PlaceHolder = "the whole pack"
		s.Disable()
		s.Refresh()
		return
	}
	s.Enable()
	s.SetSelectedIndex(0)
	box, _ := view.Split(picked)
	for _, o := range options {
		if o == picked || o == box {
			s.SetSelected(o)
		}
	}
}

// workOutSteps works out a sequence in the background with a way to stop it, and shows it.
func (w *Window) workOutSteps(what, of string) {
	ctx, cancel := context.WithCancel(context.Background())
	m, u := w.model.Eval().Assembly.Model, w.model.Units()
	bar := widget.NewProgressBarInfinite()
	d := dialog.NewCustomWithoutButtons("Step by step", container.NewVBox(widget.NewLabel("Working out the order …"), bar, newPush("Stop", cancel)), w.win)
	d.Resize(fyne.NewSize(420, 150))
	w.busy = true
	w.ask(d)
	go func() {
		q, err := sequence(ctx, m, what, of)
		fyne.Do(func() {
			cancel()
			w.busy = false
			bar.Stop()
			d.Hide()
			w.stepsKnown(&view.Player{Model: m, Order: q, Units: u}, err)
		})
	}()
}

func sequence(ctx context.Context, m *assembly.Model, what, of string) (*assembly.Sequence, error) {
	switch what {
	case stepsBoxOut:
		return assembly.TakeBoxOut(ctx, m, of)
	case stepsReplace:
		return assembly.Replace(ctx, m, of)
	}
	return assembly.Plan(ctx, m)
}

func (w *Window) stepsKnown(p *view.Player, err error) {
	switch {
	case errors.Is(err, context.Canceled):
		w.model.Say("Stopped: no order of steps was worked out.")
	case err != nil:
		w.showError("No order of steps", err)
	case len(p.Order.Steps) == 0:
		w.model.Say("There is no step to show.")
	default:
		w.showPlayer(p)
	}
}

// player is the dialog that goes through the steps.
type player struct {
	*view.Player
	w           *Window
	list, facts *pagePane
	picture     *preview
	slider      *handedSlider
	number      *widget.Label
	back, on    *push
}

func (w *Window) showPlayer(of *view.Player) {
	size := w.win.Canvas().Size()
	size = fyne.NewSize(min(size.Width-30, 1600), size.Height-40)
	p := &player{Player: of, w: w, picture: newPreview(w, fyne.NewSize(300, 200)), number: widget.NewLabel("")}
	p.list = newPagePane(w, fyne.NewSize(listShare*size.Width, 200), func(wide float64) *view.Page { return of.StepList(wide, w.pages.fonts) }, p.click)
	p.facts = newPagePane(w, fyne.NewSize(factsWide, 200), func(wide float64) *view.Page { return of.StepFacts(wide, w.pages.fonts) }, nil)
	d := dialog.NewCustom(of.Order.Title, "Close", container.NewBorder(nil, p.controls(), p.list, p.facts, p.picture), w.win)
	d.Resize(size)
	p.show(0)
	w.ask(d)
	w.hear(d, p.key)
}

// The share of the dialog's width that the list of steps has, and the width of the facts in units of the screen.
const (
	listShare = 0.3
	factsWide = 316
)

// controls are the buttons and the slider under the picture.
func (p *player) controls() fyne.CanvasObject {
	p.back = newPush("‹ Back", func() { p.show(p.At() - 1) })
	p.on = newPush("Next ›", func() { p.show(p.At() + 1) })
	p.on.Importance = widget.HighImportance
	p.slider = newHandedSlider(1, float64(max(len(p.Order.Steps), 2)))
	p.slider.OnChanged = func(v float64) { p.show(int(v) - 1) }
	p.slider.OnChangeEnded = func(float64) { p.w.letGo() }
	jobs := container.NewHBox(newPush("« Job", func() { p.job(-1) }), p.back)
	on := container.NewHBox(p.number, p.on, newPush("Job »", func() { p.job(1) }))
	return container.NewBorder(nil, nil, jobs, on, p.slider)
}

func (p *player) job(by int) {
	p.GoJob(by)
	p.show(p.At())
}

// show shows a step everywhere.
func (p *player) show(i int) {
	p.Go(i)
	p.picture.show(p.Picture())
	p.list.update()
	p.list.reveal(view.StepKey(p.At()))
	p.facts.scroll = 0
	p.facts.update()
	p.number.SetText(fmt.Sprintf("%d of %d", p.At()+1, len(p.Order.Steps)))
	enable(p.back, p.At() > 0)
	enable(p.on, p.At() < len(p.Order.Steps)-1)
	if v := float64(p.At() + 1); p.slider.Value != v {
		p.slider.Value = v
		p.slider.Refresh()
	}
}

func enable(b fyne.Disableable, on bool) {
	if on {
		b.Enable()
	} else {
		b.Disable()
	}
}

func (p *player) click(key string) {
	if i, err := strconv.Atoi(strings.TrimPrefix(key, "step ")); err == nil {
		p.show(i)
	}
}

// key hears the keyboard: left and right go a step back and forward, Page Up and Page Down a job, Home and End to the ends.
func (p *player) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyLeft, fyne.KeyUp:
		p.show(p.At() - 1)
	case fyne.KeyRight, fyne.KeyDown, fyne.KeySpace:
		p.show(p.At() + 1)
	case fyne.KeyPageUp:
		p.job(-1)
	case fyne.KeyPageDown:
		p.job(1)
	case fyne.KeyHome:
		p.show(0)
	case fyne.KeyEnd:
		p.show(len(p.Order.Steps) - 1)
	default:
		return false
	}
	return true
}
