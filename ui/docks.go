package ui

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowbay/layout/check"
	"stowbay/ui/view"
)

// headHeight is the height of the strip on top of a dock's pane.
const headHeight = 34

// headed puts a strip above something.
func headed(head *strip, body fyne.CanvasObject) *fyne.Container {
	return container.NewBorder(head, nil, nil, nil, body)
}

// leftDock holds the stores, the details of what is picked and the history.
type leftDock struct {
	w       *Window
	head    *strip
	front   int
	search  *field
	stores  *pagePane
	steps   *pagePane
	guide   *pagePane
	details *details
	array   *arrayPanel
	bodies  []fyne.CanvasObject
	root    *fyne.Container
}

var leftNames = []struct{ name, tip string }{
	{"Stores", "Modules and gear to place (F2)"}, {"Details", "What is picked, in numbers (F3)"},
	{"History", "Everything done so far, to go back to (F4)"}, {"Guide", "From donor to report in five steps: what is done, what comes next (F5)"},
}

// The left dock's panes.
const (
	storesPane = iota
	detailsPane
	historyPane
	guidePane
	arrayPane // in front while rows and columns are asked for
)

func newLeftDock(w *Window) *leftDock {
	d := &leftDock{w: w}
	d.head = newStrip(w, false, headHeight, d.buttons)
	d.search = newField()
	d.search.SetPlaceHolder("Search the stores")
	d.stores = newPagePane(w, fyne.NewSize(leastDock, 100), d.storesPage, d.take)
	d.stores.pull = d.take
	d.stores.menu = w.storesMenu
	d.search.OnChanged = func(string) { d.stores.scroll = 0; d.stores.update() }
	d.steps = newPagePane(w, fyne.NewSize(leastDock, 100), func(width float64) *view.Page {
		return w.model.Steps(width, w.pages.fonts)
	}, w.jump)
	d.guide = newPagePane(w, fyne.NewSize(leastDock, 100), func(width float64) *view.Page {
		if w.idle() {
			return view.Note(width, w.pages.fonts, "Choose a donor or open a plan: the way from there to the report is shown here.")
		}
		return w.model.Guide(width, w.pages.fonts, w.reported[w.model.Arrangement().ID])
	}, w.Do)
	d.details, d.array = newDetails(w), newArrayPanel(w)
	d.bodies = []fyne.CanvasObject{
		container.NewBorder(container.NewPadded(d.search), nil, nil, nil, d.stores), d.details.root, d.steps, d.guide, d.array.root,
	}
	d.root = headed(d.head, container.NewStack(d.bodies...))
	d.show(0)
	return d
}

func (d *leftDock) storesPage(width float64) *view.Page {
	return d.w.model.Stores(width, d.w.pages.fonts, d.search.Text, view.PlaceKey(d.w.model.Tool()))
}

func (d *leftDock) buttons() []button {
	var out []button
	for i, n := range leftNames {
		b := d.head.textButton(button{text: n.name, tip: n.tip, tab: true, on: func() bool { return d.front == i }, do: func() { d.show(i) }})
		b.width -= closer
		out = append(out, b)
	}
	return out
}

// show brings one of the dock's panes to the front. Another one ends an array.
func (d *leftDock) show(i int) {
	d.front = i
	if t := d.array.tool(); t != nil && i != arrayPane && !t.Over() {
		d.array.leave()
	}
	for k, b := range d.bodies {
		setShown(b, k == i)
	}
	if i == detailsPane {
		d.details.update(true)
	}
	d.head.repaint()
}

// take takes what a row of the stores stands for in hand.
func (d *leftDock) take(key string) {
	d.w.model.SetTool(view.NewPlace(d.w.model, key))
}

func (d *leftDock) changed(what view.What) {
	if what&(view.ThePlan|view.TheView) != 0 {
		d.steps.update()
		d.stores.update()
	} else if what&view.TheTool != 0 && !d.w.model.Previewing() {
		d.stores.update()
	}
	d.array.changed(what)
	if d.front == guidePane && what&(view.ThePlan|view.TheView) != 0 {
		d.guide.update()
	}
	if d.front == detailsPane && what&(view.ThePlan|view.TheSelection) != 0 {
		d.details.update(false)
	}
}

// rightDock holds the readings and the findings, always in sight.
type rightDock struct {
	w          *Window
	filter     view.FindingFilter
	gauges     *pagePane
	findings   *pagePane
	words      *field          // what findings must hold to be listed; shown where it is asked for
	below      *fyne.Container // the words and the findings
	head, list *strip
	split      *container.Split
	root       *fyne.Container
}

func newRightDock(w *Window) *rightDock {
	d := &rightDock{w: w}
	d.filter.Severities = map[check.Severity]bool{check.Fails: true, check.Warns: true, check.Notes: true}
	d.gauges = newPagePane(w, fyne.NewSize(leastDock, 120), func(width float64) *view.Page {
		if w.idle() {
			return view.Note(width, w.pages.fonts, "Begin or open a plan, and its figures stand here: count and voltage, energy, mass, wheel loads, centre of gravity, clearances.")
		}
		w.timings.reads(w.model.Eval().Plan)
		return w.model.Gauges(width, w.pages.fonts)
	}, w.explain)
	d.gauges.before = w.collectPainting
	d.findings = newPagePane(w, fyne.NewSize(leastDock, 80), func(width float64) *view.Page {
		if w.idle() {
			return view.Note(width, w.pages.fonts, "What the rules say of the plan will be listed here, gravest first.")
		}
		return w.model.FindingList(width, w.pages.fonts, d.filter)
	}, w.goToFinding)
	d.findings.menu = w.findingMenu
	d.words = newField()
	d.words.SetPlaceHolder("Words, a rule or a box")
	d.words.OnChanged = func(s string) {
		d.filter.Words = s
		setShown(d.words, s != "" || d.words.Visible())
		d.findings.scroll = 0
		d.findings.update()
		d.list.repaint()
	}
	d.words.Hide()
	d.head = newStrip(w, false, headHeight, d.readingButtons)
	d.list = newStrip(w, false, headHeight, d.findingButtons)
	d.below = container.NewBorder(d.words, nil, nil, nil, d.findings)
	d.split = container.NewVSplit(headed(d.head, d.gauges), headed(d.list, d.below))
	d.split.SetOffset(0.7)
	d.root = container.NewStack(d.split)
	return d
}

// stale brings the findings up to date during a drag.
func (d *rightDock) stale() {
	d.findings.update()
	d.list.repaint()
}

func (d *rightDock) update() {
	d.gauges.update()
	d.findings.update()
	d.list.repaint()
}

func (d *rightDock) readingButtons() []button {
	title := d.head.textButton(button{text: "Readings", tip: "Live figures of this arrangement. Click one to see how it was worked out.", tab: true, on: func() bool { return true }})
	all := d.head.textButton(button{text: "All …", tip: "Every reading, with a field to find one by its name (F6)", do: func() { d.w.Do("readings") }})
	mark := d.head.textButton(button{text: "Count from now", tip: "Count the changes shown beside each figure from how it stands now", do: func() { d.w.Do("mark") }})
	return []button{title, all, mark}
}

func (d *rightDock) findingButtons() []button {
	out := []button{d.list.textButton(button{text: "Findings", tip: "What the rules say of this arrangement, gravest first", tab: true, on: func() bool { return true }})}
	if d.w.idle() {
		return out
	}
	counts := d.w.model.Eval().Counts()
	for _, s := range []struct {
		severity check.Severity
		sign     string
		name     string
	}{{check.Fails, "×", "fails"}, {check.Warns, "!", "warns"}, {check.Notes, "i", "notes"}, {check.Passes, "+", "passes"}} {
		b := d.list.textButton(button{text: s.sign + strconv.Itoa(counts[s.severity]), tip: "List what " + s.name + ", or not",
			on: func() bool { return d.filter.Severities[s.severity] },
			do: func() { d.filter.Severities[s.severity] = !d.filter.Severities[s.severity]; d.findings.update() }})
		b.width -= closer
		out = append(out, b)
	}
	return append(out,
		button{icon: "pick", tip: "List only findings about what is picked, or all", on: func() bool { return d.filter.Picked }, do: func() {
			d.filter.Picked = !d.filter.Picked
			d.findings.update()
		}},
		button{icon: "find", tip: "Find findings by their words", on: func() bool { return d.words.Visible() }, do: d.toggleWords})
}

// closer is how much closer the counts of findings stand than other texts on a strip.
const closer = 8

// toggleWords shows the field to find findings by, or hides it and lists all again.
func (d *rightDock) toggleWords() {
	if d.words.Visible() {
		d.words.SetText("")
		d.words.Hide()
		d.below.Refresh()
		return
	}
	d.words.Show()
	d.below.Refresh()
	d.w.focus(d.words)
}
