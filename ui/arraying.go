package ui

import (
	"errors"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"stowbay/ui/view"
)

// arrayPanel asks for rows and columns at the left, while the views show what they would put in.
type arrayPanel struct {
	w       *Window
	root    *fyne.Container
	counts  [3]*field
	gaps    [3]*field
	units   [3]*widget.Label // over the gaps
	ways    [3]*choice
	lines   *widget.Label
	only    *tickBox
	enter   *push
	before  int // the pane that was in front
	filling bool
}

// arrayAxes are the directions of an array: how each is called, and the two ways along it.
var arrayAxes = [3]struct{ name, on, back string }{
	{"Along the vehicle", "to the rear", "to the front"},
	{"Across the vehicle", "to the right", "to the left"},
	{"Upward", "up", "down"},
}

func newArrayPanel(w *Window) *arrayPanel {
	p := &arrayPanel{w: w}
	rows := container.NewVBox()
	for i, a := range arrayAxes {
		p.counts[i], p.gaps[i], p.units[i] = p.field(), p.field(), caption("")
		p.ways[i] = newChoice([]string{a.on, a.back}, func(string) { p.show() })
		rows.Add(p.axis(a.name, i))
	}
	p.lines = widget.NewLabel("")
	p.lines.Wrapping = fyne.TextWrapWord
	p.only = newTickBox("Only those that fit", p.setOnly)
	p.enter = newPush("Put them in", func() { p.confirm() })
	p.enter.Importance = widget.HighImportance
	leave := newPush("Cancel", p.leave)
	head := widget.NewLabel("Rows and columns of what is picked")
	head.TextStyle.Bold = true
	head.Wrapping = fyne.TextWrapWord
	body := container.NewVBox(head, rows, p.only, container.NewGridWithColumns(2, leave, p.enter), p.lines)
	p.root = container.NewStack(container.NewVScroll(container.NewPadded(body)))
	return p
}

// axis sets the fields of one direction.
func (p *arrayPanel) axis(name string, i int) fyne.CanvasObject {
	count := container.New(&tight{}, caption("How many"), p.counts[i])
	gap := container.New(&tight{}, p.units[i], p.gaps[i])
	return container.NewVBox(widget.NewLabel(name), container.NewGridWithColumns(2, count, gap), p.ways[i])
}

func caption(s string) *widget.Label {
	l := widget.NewLabel(s)
	l.SizeName = theme.SizeNameCaptionText
	return l
}

// field is one that shows what is typed in the views; Return puts the rows in and Escape gives them up.
func (p *arrayPanel) field() *field {
	e := newField()
	e.OnChanged = func(string) { p.show() }
	e.OnSubmitted = func(string) { p.confirm() }
	e.keys = func(k fyne.KeyName) bool {
		if k == fyne.KeyEscape {
			p.leave()
		}
		return k == fyne.KeyEscape
	}
	return e
}

// tool is the array in hand, or nil.
func (p *arrayPanel) tool() *view.Array {
	t, _ := p.w.model.Tool().(*view.Array)
	return t
}

// begin takes an array of what is picked in hand.
func (p *arrayPanel) begin() {
	t, wish, err := view.NewArray(p.w.model)
	if err != nil {
		p.w.say(err)
		return
	}
	p.w.model.SetTool(t)
	p.filling = true
	for i := range wish.Count {
		p.counts[i].SetText(fmt.Sprint(wish.Count[i]))
		gap, unit := p.w.model.Units().Show(wish.GapMM[i], "mm")
		p.gaps[i].SetText(label(gap))
		p.units[i].SetText("Gap, " + unit)
		p.ways[i].SetSelectedIndex(0)
	}
	p.only.SetChecked(t.Only())
	p.filling = false
	if p.w.left.front != arrayPane {
		p.before = p.w.left.front
	}
	p.w.showLeft(arrayPane)
	p.show()
	p.w.win.Canvas().Focus(p.counts[0])
}

// setOnly says whether copies that do not fit are left out.
func (p *arrayPanel) setOnly(on bool) {
	if t := p.tool(); t != nil && !p.filling {
		t.SetOnly(on)
		p.show()
	}
}

// wish reads what is typed.
func (p *arrayPanel) wish() (view.ArrayWish, error) {
	var w view.ArrayWish
	var wrong []string
	for i, a := range arrayAxes {
		n, err := view.Metric.Evaluate(p.counts[i].Text, view.Plain)
		w.Count[i] = int(min(n, view.MostInArray+1))
		if err != nil || n < 1 || float64(w.Count[i]) != min(n, view.MostInArray+1) {
			wrong = append(wrong, a.name+": how many is a whole number from 1 on")
		}
		if w.GapMM[i], err = p.w.model.Units().Evaluate(p.gaps[i].Text, view.Length); err != nil {
			wrong = append(wrong, a.name+": gap: "+err.Error())
		}
		w.Back[i] = p.ways[i].SelectedIndex() == 1
	}
	if len(wrong) > 0 {
		return w, errors.New(strings.Join(wrong, "\n"))
	}
	return w, nil
}

// show shows in the views what is typed, and says how many fit or what is wrong.
func (p *arrayPanel) show() {
	t := p.tool()
	if t == nil || p.filling {
		return
	}
	w, err := p.wish()
	if err == nil {
		err = t.Set(w)
	} else {
		t.Hide()
	}
	p.tell(t, err)
}

func (p *arrayPanel) tell(t *view.Array, err error) {
	p.lines.Importance = widget.MediumImportance
	lines := t.Lines()
	if err != nil {
		lines = []string{p.w.model.Units().Problem(err)}
		p.lines.Importance = widget.DangerImportance
	}
	p.lines.SetText(strings.Join(lines, "\n\n"))
	if ready := err == nil && t.Ready(); ready != !p.enter.Disabled() {
		if ready {
			p.enter.Enable()
		} else {
			p.enter.Disable()
		}
	}
	p.w.model.Say(lines[0])
}

// changed follows the model: findings that came in, another step made meanwhile, the tool put away.
func (p *arrayPanel) changed(what view.What) {
	t := p.tool()
	switch {
	case t == nil || t.Over():
		p.close()
	case what == view.TheReadings:
		p.tell(t, nil)
		p.w.repaintViews()
		if t.Asked() {
			p.confirm()
		}
	case what&view.ThePlan != 0 && !p.w.model.Previewing() && !t.Again():
		p.leave()
	}
}

// close goes back to the pane that was in front.
func (p *arrayPanel) close() {
	if p.w.left.front == arrayPane {
		p.w.win.Canvas().Unfocus()
		p.w.left.show(p.before)
	}
}

func (p *arrayPanel) confirm() {
	if t := p.tool(); t != nil && t.Ready() {
		p.w.say(t.Enter())
	}
}

func (p *arrayPanel) leave() { p.w.model.SetTool(view.NewSelect(p.w.model)) }
