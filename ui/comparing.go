package ui

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/search"
	"stowbay/ui/view"
)

// comparing is the dialog that sets arrangements side by side.
type comparing struct {
	w       *Window
	plan    *layout.Plan
	known   map[string]*check.Evaluation
	chosen  []string // ids, the first is what the others are compared with
	table   *search.Table
	all     bool
	busy    bool
	size    fyne.Size // of the dialog when it was opened
	pages   []*pagePane
	scatter *preview
	over    *preview
	plans   *preview
	against *choice
	keys    []string
	pair    [2]*choice
}

// showCompare shows arrangements side by side: the one shown and the next ones up to the most there is room for.
func (w *Window) showCompare() {
	c := &comparing{w: w, plan: w.model.Document().Plan(), known: map[string]*check.Evaluation{}}
	if len(c.plan.Arrangements) < 2 {
		w.model.Say("There is one arrangement only. Duplicate it (Ctrl+Shift+D) and change the copy: then there are two to compare.")
		return
	}
	c.chosen = []string{w.model.Arrangement().ID}
	c.known[c.chosen[0]] = w.model.Eval()
	for _, a := range c.plan.Arrangements {
		if len(c.chosen) < view.MostCompared && a.ID != c.chosen[0] {
			c.chosen = append(c.chosen, a.ID)
		}
	}
	d := dialog.NewCustom("Arrangements side by side", "Close", container.NewBorder(nil, nil, c.choice(), nil, c.tabs()), w.win)
	size := w.win.Canvas().Size()
	c.size = fyne.NewSize(min(size.Width-30, 1600), size.Height-60)
	d.Resize(c.size)
	w.ask(d)
	c.workOut()
}

// choice is the list of arrangements with those ticked that are compared.
func (c *comparing) choice() fyne.CanvasObject {
	box := container.NewVBox(widget.NewLabelWithStyle("Compare (two to six)", fyne.TextAlignLeading, fyne.TextStyle{Bold: true}))
	for _, a := range c.plan.Arrangements {
		tick := newTickBox(c.w.pages.fonts.Cut(a.Name, 13, chooserWide-46, false), nil)
		tick.Checked = slices.Contains(c.chosen, a.ID)
		tick.OnChanged = func(on bool) {
			c.w.letGo()
			if !c.choose(a.ID, on) {
				tick.Checked = !on
				tick.Refresh()
			}
		}
		box.Add(tick)
	}
	all := newTickBox("Every reading", func(on bool) {
		c.w.letGo()
		c.all = on
		c.update()
	})
	return container.NewBorder(nil, all, nil, nil, container.NewVScroll(container.New(&fixedWidth{chooserWide}, box)))
}

// chooserWide is the width of the list of arrangements in units of the screen.
const chooserWide = 240

// choose takes an arrangement into the comparison or leaves it out; it reports whether it can.
func (c *comparing) choose(id string, on bool) bool {
	switch n := len(c.chosen); {
	case c.busy:
		return false
	case on && n >= view.MostCompared:
		c.w.model.Say(fmt.Sprintf("At most %d arrangements stand side by side. Untick one first.", view.MostCompared))
		return false
	case !on && n <= 2:
		c.w.model.Say("Two arrangements at least are compared. Tick another one first.")
		return false
	case on:
		c.chosen = append(c.chosen, id)
	default:
		c.chosen = slices.DeleteFunc(slices.Clone(c.chosen), func(o string) bool { return o == id })
	}
	c.workOut()
	return true
}

func (c *comparing) tabs() fyne.CanvasObject {
	page := func(build func(width float64) *view.Page) *pagePane {
		p := newPagePane(c.w, fyne.NewSize(300, 200), func(width float64) *view.Page {
			if c.table == nil {
				return view.Note(width, c.w.pages.fonts, "Working out the arrangements …")
			}
			return build(width)
		}, nil)
		c.pages = append(c.pages, p)
		return p
	}
	u, fonts := c.w.model.Units(), c.w.pages.fonts
	readings := page(func(width float64) *view.Page { return view.Comparison(width, fonts, u, c.table, c.all) })
	findings := page(func(width float64) *view.Page { return view.ComparedFindings(width, fonts, u, c.table) })
	more := page(func(width float64) *view.Page { return view.OneMorePage(width, fonts, u, c.table) })
	c.plans = newPreview(c.w, fyne.NewSize(300, 200))
	return container.NewAppTabs(container.NewTabItem("Readings", readings), container.NewTabItem("Pictures", c.plans), container.NewTabItem("Findings that differ", findings),
		container.NewTabItem("One more module", more), container.NewTabItem("Energy against", c.scatterTab()), container.NewTabItem("One over the other", c.overTab()))
}

// wide gives a choice room for a name.
func wide(s *choice) fyne.CanvasObject { return container.New(&fixedWidth{300}, s) }

func (c *comparing) scatterTab() fyne.CanvasObject {
	c.scatter, c.against = newPreview(c.w, fyne.NewSize(300, 200)), newChoice(nil, nil)
	c.against.OnChanged = func(string) {
		c.w.letGo()
		c.showScatter()
	}
	return container.NewBorder(container.NewHBox(wide(c.against)), nil, nil, nil, c.scatter)
}

func (c *comparing) overTab() fyne.CanvasObject {
	c.over = newPreview(c.w, fyne.NewSize(300, 200))
	for i := range c.pair {
		c.pair[i] = newChoice(nil, nil)
		c.pair[i].OnChanged = func(string) {
			c.w.letGo()
			c.showOver()
		}
	}
	return container.NewBorder(container.NewHBox(wide(c.pair[0]), widget.NewLabel("and dashed over it"), wide(c.pair[1])), nil, nil, nil, c.over)
}

// workOut evaluates in the background what is not known yet, and shows the comparison.
func (c *comparing) workOut() {
	var missing []*layout.Arrangement
	for _, id := range c.chosen {
		if c.known[id] == nil {
			missing = append(missing, c.plan.Arrangement(id))
		}
	}
	if len(missing) == 0 {
		c.compared()
		return
	}
	c.busy = true
	lib := c.w.model.Library()
	c.w.working.Go(func() {
		es := make([]*check.Evaluation, len(missing))
		for i, a := range missing {
			es[i] = check.Evaluate(c.plan, a, lib, nil)
		}
		fyne.Do(func() {
			for i, a := range missing {
				c.known[a.ID] = es[i]
			}
			c.busy = false
			c.compared()
		})
	})
}

// compared shows the comparison of what is chosen.
func (c *comparing) compared() {
	size := c.size
	var es []*check.Evaluation
	var names []string
	for i, id := range c.chosen {
		es = append(es, c.known[id])
		names = append(names, fmt.Sprintf("%d  %s", i+1, c.known[id].Arrangement.Name))
	}
	t := search.Compare(es)
	c.table = &t
	var choices []string
	c.keys, choices = view.ScatterChoices(c.table)
	c.against.SetOptions(choices)
	c.against.SetSelectedIndex(max(slices.Index(choices, c.against.Selected), 0))
	for i, s := range c.pair {
		s.SetOptions(names)
		s.SetSelectedIndex(i)
	}
	c.update()
	c.plans.show(view.Pictured(es, c.w.model.Units(), float64(size.Width-chooserWide), float64(size.Height)))
	c.showScatter()
	c.showOver()
}

func (c *comparing) update() {
	for _, p := range c.pages {
		p.update()
	}
}

func (c *comparing) showScatter() {
	if i := c.against.SelectedIndex(); c.table != nil && i >= 0 && i < len(c.keys) {
		c.scatter.show(view.Scattered(c.table, c.keys[i]))
	}
}

func (c *comparing) showOver() {
	i, k := c.pair[0].SelectedIndex(), c.pair[1].SelectedIndex()
	if i >= 0 && k >= 0 && max(i, k) < len(c.chosen) {
		c.over.show(view.Overlaid(c.known[c.chosen[i]], c.known[c.chosen[k]], c.w.model.Units()))
	}
}
