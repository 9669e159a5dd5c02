package ui

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout/drawing"
	"stowbay/layout/fill"
	"stowbay/layout/search"
	"stowbay/ui/view"
)

// askSearch asks what to search for.
func (w *Window) askSearch() {
	ids, names := w.moduleChoices()
	ticks, rows := make([]*tickBox, len(ids)), container.NewVBox()
	for i, id := range ids {
		ticks[i] = newTickBox(names[i], nil)
		ticks[i].Checked = slices.Contains(w.usualSearch(), id)
		rows.Add(ticks[i])
	}
	ticked := func() (out []string) {
		for i, t := range ticks {
			if t.Checked {
				out = append(out, ids[i])
			}
		}
		return out
	}
	list := container.NewVScroll(rows)
	list.SetMinSize(fyne.NewSize(420, 230))
	least := newField()
	least.SetText(label(w.model.Plan().Settings.Search.EnergyKWh))
	strict := newTickBox("Leave out what would only warn as well", nil)
	energy := widget.NewFormItem("Least energy", least)
	energy.HintText = "in kWh; 0: any"
	items := []*widget.FormItem{widget.NewFormItem("Modules to try", list), energy, widget.NewFormItem("", strict)}
	d := dialog.NewForm("Search for the best arrangements", "Search", "Cancel", items, func(ok bool) {
		kwh, err := view.Metric.Evaluate(least.Text, view.Plain)
		switch {
		case !ok:
		case err != nil || kwh < 0:
			w.model.Say("Not searched: the least energy is a number of kWh.")
		case len(ticked()) == 0:
			w.model.Say("Not searched: choose one module at least.")
		default:
			w.search(search.Options{Modules: ticked(), MinEnergyKWh: kwh, Strict: strict.Checked})
		}
	}, w.win)
	d.Resize(fyne.NewSize(620, 440))
	w.ask(d)
}

// usualSearch are the modules that the plan's settings name, or else the one it uses.
func (w *Window) usualSearch() []string {
	if ms := w.model.Plan().Settings.Search.Modules; len(ms) > 0 {
		return ms
	}
	return []string{fill.UsualModule(w.model.Plan(), w.model.Arrangement())}
}

// search runs in the background with a way to stop it.
func (w *Window) search(o search.Options) {
	ctx, cancel := context.WithCancel(context.Background())
	p, a, lib := w.model.Document().Plan(), w.model.Kept(), w.model.Library()
	text, bar := widget.NewLabel("Looking …"), widget.NewProgressBar()
	stop := newPush("Stop and show what was found", cancel)
	d := dialog.NewCustomWithoutButtons("Searching", container.NewVBox(text, bar, stop), w.win)
	d.Resize(fyne.NewSize(460, 160))
	w.busy = true
	w.ask(d)
	w.hear(d, func(k fyne.KeyName) bool {
		if k == fyne.KeyEscape || returns(k) {
			cancel()
			return true
		}
		return false
	})
	var latest atomic.Pointer[search.Progress]
	shown, hide := context.WithCancel(context.Background())
	go tick(shown, progressEvery, func() {
		if p := latest.Load(); p != nil {
			text.SetText(searchText(*p))
			bar.SetValue(float64(p.Done) / float64(max(p.Total, 1)))
		}
	})
	go func() {
		r, err := search.Run(ctx, p, a, lib, o, func(p search.Progress) { latest.Store(&p) })
		fyne.Do(func() {
			cancel()
			hide()
			w.busy = false
			d.Hide()
			w.searched(&r, err)
		})
	}()
}

func searchText(p search.Progress) string {
	if p.Stage == "packing" {
		return fmt.Sprintf("Packing boxes: %d of %d, %s", p.Done, p.Total, p.Elapsed.Round(time.Second))
	}
	return fmt.Sprintf("Comparing: %d of %d, %d not beaten so far, %s", p.Done, p.Total, p.Found, p.Elapsed.Round(time.Second))
}

func (w *Window) searched(r *search.Result, err error) {
	switch {
	case err != nil:
		w.showError("Nothing to search", err)
	case len(r.Found) == 0:
		pane := newPagePane(w, fyne.NewSize(300, 200), func(wide float64) *view.Page { return view.ExcludedPage(wide, w.pages.fonts, w.model.Units(), r) }, nil)
		d := dialog.NewCustom("No arrangement is within all limits", "Close", pane, w.win)
		d.Resize(fyne.NewSize(760, 460))
		w.ask(d)
	default:
		w.showFound(r)
	}
}

// finds is the dialog on what a search found.
type finds struct {
	w       *Window
	r       *search.Result
	weights search.Weights
	order   []int
	chosen  map[int]bool
	list    *pagePane
	scatter *preview
	spots   func() // shows the scatter anew
	selects map[search.Objective]*choice
	open    *push
	dialog  dialog.Dialog
}

// weightNames are the weights to choose from, each the figure it stands for.
var weightNames = []string{"0", "1", "2", "5", "10"}

func (w *Window) showFound(r *search.Result) {
	w.ask(w.findsOf(r).dialog)
}

// findsOf makes the dialog.
func (w *Window) findsOf(r *search.Result) *finds {
	f := &finds{w: w, r: r, weights: search.Weights{}, chosen: map[int]bool{}, selects: map[search.Objective]*choice{}}
	for _, o := range r.Objectives {
		f.weights[o] = 1
	}
	f.list = newPagePane(w, fyne.NewSize(300, 200), func(wide float64) *view.Page {
		return view.FoundPage(wide, w.pages.fonts, w.model.Units(), w.model.Plan().Settings.Money, r, f.order, f.chosen)
	}, f.click)
	f.scatter = newPreview(w, fyne.NewSize(300, 200))
	out := newPagePane(w, fyne.NewSize(300, 200), func(wide float64) *view.Page { return view.ExcludedPage(wide, w.pages.fonts, w.model.Units(), r) }, nil)
	tabs := container.NewAppTabs(container.NewTabItem("Not beaten", f.list), container.NewTabItem("Energy against", f.scatterTab()),
		container.NewTabItem("Left out", out))
	summary := widget.NewLabel(view.FoundSummary(r))
	summary.Wrapping = fyne.TextWrapWord
	f.open = newPush("", nil)
	d := dialog.NewCustomWithoutButtons("What the search found", container.NewBorder(summary, nil, f.weightsPane(), nil, tabs), w.win)
	f.open.OnTapped = func() { f.put(d) }
	d.SetButtons([]fyne.CanvasObject{newPush("Close", d.Hide), f.open})
	size := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(size.Width-60, 1600), size.Height-70))
	f.rank()
	f.dialog = d
	return f
}

// weightsPane has a weight for each objective.
func (f *finds) weightsPane() fyne.CanvasObject {
	box := container.NewVBox(widget.NewLabelWithStyle("How much each counts", fyne.TextAlignLeading, fyne.TextStyle{Bold: true}))
	for _, o := range f.r.Objectives {
		s := newChoice(weightNames, nil)
		s.SetSelected("1")
		s.OnChanged = func(v string) {
			f.w.letGo()
			f.weights[o], _ = strconv.ParseFloat(v, 64)
			f.rank()
		}
		f.selects[o] = s
		name := widget.NewLabel(weightLabels[o])
		box.Add(container.NewBorder(nil, nil, nil, s, name))
	}
	box.Add(newPush("All alike", func() {
		f.w.letGo()
		f.weigh(func(search.Objective) float64 { return 1 })
	}))
	return container.NewVScroll(container.New(&fixedWidth{weightsWide}, box))
}

// weigh sets all weights at once.
func (f *finds) weigh(of func(search.Objective) float64) {
	for o, s := range f.selects {
		f.weights[o] = of(o)
		s.Selected = strconv.FormatFloat(f.weights[o], 'g', -1, 64)
		s.Refresh()
	}
	f.rank()
}

// weightsWide is the width of the pane of weights in units of the screen.
const weightsWide = 246

// weightLabels name the objectives in the narrow pane of weights.
var weightLabels = map[search.Objective]string{
	search.Energy: "Much energy", search.Mass: "Little mass", search.FrontOff: "Front on target", search.Height: "Low centre",
	search.Side: "Left as right", search.Cable: "Short cables", search.Boxes: "Few boxes", search.LiveSteps: "Few live joints", search.Cost: "Low cost",
}

func (f *finds) scatterTab() fyne.CanvasObject {
	var names []string
	var which []search.Objective
	for _, o := range f.r.Objectives {
		if o != search.Energy {
			names, which = append(names, view.ObjectiveName(o)), append(which, o)
		}
	}
	s := newChoice(names, nil)
	f.spots = func() {
		if len(which) == 0 {
			return
		}
		f.scatter.show(drawing.FoundScatter(f.r, which[max(s.SelectedIndex(), 0)], f.chosen, 180, 110))
	}
	s.OnChanged = func(string) {
		f.w.letGo()
		f.spots()
	}
	f.scatter.picked = f.pickSpot
	if len(names) > 0 {
		s.SetSelectedIndex(0)
	}
	return container.NewBorder(container.NewHBox(s), nil, nil, nil, f.scatter)
}

func (f *finds) rank() {
	f.order = f.r.Rank(f.weights)
	f.list.update()
	f.named()
}

// click ticks an arrangement, or ranks by the figure whose head was clicked alone.
func (f *finds) click(key string) {
	if o, ok := search.ObjectiveOf(strings.TrimPrefix(key, "rank ")); ok {
		f.weigh(func(p search.Objective) float64 {
			if p == o {
				return 1
			}
			return 0
		})
		return
	}
	i, err := strconv.Atoi(strings.TrimPrefix(key, "found "))
	if err != nil {
		return
	}
	f.tick(i)
}

// tick ticks an arrangement, or takes the tick away.
func (f *finds) tick(i int) {
	f.chosen[i] = !f.chosen[i]
	f.list.update()
	f.spots()
	f.named()
}

// pickSpot ticks the arrangement of a point that was clicked.
func (f *finds) pickSpot(ref string) {
	if i := slices.IndexFunc(f.r.Found, func(g search.Found) bool { return g.Name() == ref }); i >= 0 {
		f.tick(i)
		f.w.model.Say(ref)
	}
}

func (f *finds) picked() []int {
	var out []int
	for _, i := range f.order {
		if f.chosen[i] {
			out = append(out, i)
		}
	}
	return out
}

func (f *finds) named() {
	n := len(f.picked())
	switch n {
	case 0:
		f.open.SetText("Tick those to open")
		f.open.Disable()
		return
	case 1:
		f.open.SetText("Open as an arrangement")
	default:
		f.open.SetText(fmt.Sprintf("Open %d arrangements", n))
	}
	f.open.Importance = widget.HighImportance
	f.open.Enable()
}

// put opens those ticked.
func (f *finds) put(d dialog.Dialog) {
	d.Hide()
	if err := f.w.model.OpenFound(f.r, f.picked()); err != nil {
		f.w.showError("Not opened", err)
	}
}
