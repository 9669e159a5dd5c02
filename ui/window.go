package ui

import (
	"path/filepath"
	"sync"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
)

// Window is a window on one plan.
type Window struct {
	app   fyne.App
	win   fyne.Window
	model *view.Model
	path  string // of the plan's file; "" for one never saved

	shared string // a plan's file that another window has open, too

	skin   *skin
	halves *paint.Halves
	pages  pagePainter
	cache  *drawing.Cache

	shell  *shell
	grid   *viewsLayout
	seams  [2]*seam
	views  *fyne.Container
	solid  *solid
	panes  []*pane
	rail   *strip
	tabs   *strip
	status *status
	tips   *tips
	left   *leftDock
	right  *rightDock
	under  *pane // the view that the pointer was in last

	commands []command
	session  *session
	start    *startPage
	pictures map[string]*picture // underlays by file
	held     fyne.KeyModifier
	dialogs  []dialog.Dialog
	ears     map[dialog.Dialog]func(fyne.KeyName) bool // dialogs that hear keys of their own
	accepts  map[dialog.Dialog]func()                  // what Return does in a dialog
	busy     bool                                      // work goes on that a dialog shows
	turn     int                                       // counts the steps of drags
	space    bool
	shown    bool            // on the screen
	resting  *time.Timer     // see catchUpLater
	reported map[string]bool // arrangements that a report was written of
	timings  timings
	pulse    pulse
	aside    aside
	working  sync.WaitGroup // evaluations for dialogs under way
	painting bool           // a frame is being painted
}

// Options says how a window opens.
type Options struct {
	Path    string  // plan file; "": the first-start page, or with Unnamed the plan itself
	Unnamed bool    // show the plan though it has no file yet
	Timings Timings // what is printed to standard error, for measuring
}

// welcomes tells whether the window begins with the first-start page.
func (o Options) welcomes() bool { return o.Path == "" && !o.Unnamed }

// New makes a window on a plan. The window is not shown yet.
func New(app fyne.App, plan *layout.Plan, o Options) *Window {
	w := &Window{app: app, reported: map[string]bool{}, cache: &drawing.Cache{}}
	w.timings = timings{on: o.Timings != NoTimings, each: o.Timings == AllTimings, after: w.pulse.after}
	w.skin = lightSkin
	if app.Preferences().Bool(darkKey) {
		w.skin = darkSkin
	}
	app.Settings().SetTheme(look{w.skin})
	w.halves = paint.NewHalves(w.skin)
	w.pages = pagePainter{paint.New(onPane{w.skin}), paint.NewFonts()}
	w.win = app.NewWindow("Stowbay")
	w.win.SetPadded(false)
	w.use(layout.NewDocument(plan, catalogue()))
	w.commands = w.commandTable()
	w.build(o)
	w.win.SetMainMenu(w.mainMenu())
	w.keys()
	w.win.Resize(fyne.NewSize(1280, 800))
	w.win.SetOnDropped(w.dropped)
	w.win.SetCloseIntercept(func() { w.askBeforeLosing(w.quit) })
	if o.welcomes() {
		w.begin(nil)
		w.offerUnnamed()
	} else {
		w.adopt(plan, o.Path)
	}
	w.titled()
	return w
}

// quit ends the program; the plan is saved, or its changes are not wanted.
func (w *Window) quit() {
	w.end()
	w.app.Quit()
}

// Preference keys.
const (
	darkKey    = "dark"
	recentsKey = "recent_plans"
)

// Show shows the window and, in a program, runs it until it is closed.
func (w *Window) Show() {
	w.shown = true
	go w.watch()
	w.win.Show()
}

// use puts a document into the window.
func (w *Window) use(doc *layout.Document) {
	w.model = view.NewModel(doc)
	w.model.Display.Off = drawing.LayerZones
	w.model.Listen(w.changed)
	w.model.Background = w.inBackground
	w.pulse.each = w.collect
}

func (w *Window) build(o Options) {
	for _, v := range []drawing.View{drawing.PlanView, drawing.SideView, drawing.RearView} {
		w.panes = append(w.panes, newPane(w, v))
	}
	w.solid = newSolid(w)
	w.grid = &viewsLayout{one: -1, order: [4]fyne.CanvasObject{planAt: w.panes[0], sideAt: w.panes[1], solidAt: w.solid, rearAt: w.panes[2]}}
	w.views = container.New(w.grid, w.panes[0], w.panes[1], w.solid, w.panes[2])
	w.status = newStatus(w)
	w.rail = newStrip(w, true, railWidth, w.railButtons)
	w.tabs = newStrip(w, false, tabsHeight, w.tabButtons)
	w.left, w.right = newLeftDock(w), newRightDock(w)
	w.start = newStartPage(w)
	w.shell = &shell{rail: w.rail, tabs: w.tabs, left: w.left.root, views: container.NewStack(w.views, w.start.root), right: w.right.root, status: w.status,
		leftWidth: 262, rightWidth: 306}
	w.seams[0] = newSeam(w.skin.ink.rule, func(dx float32) { w.pull(&w.shell.leftWidth, dx) })
	w.seams[1] = newSeam(w.skin.ink.rule, func(dx float32) { w.pull(&w.shell.rightWidth, -dx) })
	w.shell.seamL, w.shell.seamR = w.seams[0], w.seams[1]
	w.start.setShown(o.welcomes())
	w.tips = newTips(w)
	w.win.SetContent(container.NewStack(container.New(w.shell, w.shell.objects()...), w.tips.root))
	w.under = w.panes[0]
}

func (w *Window) pull(width *float32, dx float32) {
	*width = min(max(*width+dx, leastDock), mostDock)
	w.win.Content().Refresh()
}

// changed repaints what shows a change of the model. While a drag goes on, the view that it goes on in and the
// readings follow at every step, the other views and the list of findings take turns.
func (w *Window) changed(what view.What) {
	if w.shell == nil {
		return
	}
	began := time.Now()
	switch what {
	case view.ThePreview:
		w.previewed()
	case view.TheReadings:
		w.lit()
	default:
		w.repaintAll(what)
	}
	w.timings.took("changed", began)
}

// lit repaints what shows readings and findings, after they changed. The rest of a frame that is being painted is left for
// the next.
func (w *Window) lit() {
	if w.model.Previewing() {
		w.catchUpLater()
	}
	rest := func() {
		w.under.stale()
		w.status.repaint()
		w.left.array.changed(view.TheReadings)
	}
	if w.painting {
		w.right.gauges.page = nil
		w.pulse.after(rest)
		return
	}
	w.right.gauges.update()
	rest()
}

// previewed repaints after a step of a drag.
func (w *Window) previewed() {
	w.turn++
	w.timings.stepped(w.model.Plan())
	w.under.stale()
	w.right.gauges.repaint()
	var rest []interface{ stale() }
	for _, p := range w.panes {
		if p != w.under && p.Visible() {
			rest = append(rest, p)
		}
	}
	if w.solid.Visible() {
		rest = append(rest, w.solid)
	}
	rest = append(rest, w.right)
	rest[w.turn%len(rest)].stale()
	w.catchUpLater()
}

// restAfter is how long a drag rests before what took turns catches up.
const restAfter = 250 * time.Millisecond

// catchUpLater has all views and the findings show what a drag would make once it rests.
func (w *Window) catchUpLater() {
	if !w.shown {
		return
	}
	if w.resting != nil {
		w.resting.Stop()
	}
	w.resting = time.AfterFunc(restAfter, func() { fyne.Do(w.catchUp) })
}

// catchUp does nothing while a step of the mouse waits: the drag only seemed to rest, because a frame took long.
func (w *Window) catchUp() {
	if w.model.Previewing() && w.pulse.next == nil {
		w.repaintViews()
		w.right.stale()
	}
}

// repaintViews has every view drawn anew.
func (w *Window) repaintViews() {
	for _, p := range w.panes {
		p.stale()
	}
	w.solid.stale()
}

func (w *Window) repaintAll(what view.What) {
	const seen = view.ThePlan | view.ThePreview | view.TheSelection | view.TheView
	switch {
	case what&(seen|view.TheHover) != 0:
		for _, p := range w.panes {
			p.stale()
		}
	case what&view.TheTool != 0:
		w.under.repaint()
	}
	if what&(seen|view.TheHover) != 0 {
		w.solid.stale()
	}
	if what&(view.ThePlan|view.ThePreview|view.TheView) != 0 {
		w.right.update()
	}
	if what&view.TheSelection != 0 && w.right.filter.Picked {
		w.right.findings.update()
	}
	w.left.changed(what)
	if what&(view.ThePlan|view.TheView|view.TheTool) != 0 && !w.model.Previewing() {
		w.rail.repaint()
		w.tabs.repaint()
		w.titled()
	}
	w.status.repaint()
}

func (w *Window) titled() {
	name := w.model.Plan().Name + " (no file yet)"
	if w.idle() {
		w.win.SetTitle("Stowbay")
		return
	}
	if w.path != "" {
		name = filepath.Base(w.path)
	}
	mark := ""
	if w.model.Document().Dirty() {
		mark = "* "
	}
	w.win.SetTitle(mark + name + " - Stowbay")
}

// drawList draws a view of the arrangement shown, with names larger by a factor.
func (w *Window) drawList(p *pane, names float64) *drawing.List {
	began := time.Now()
	v, o := p.view, w.model.Options()
	o.Cache, o.NameScale, o.OnScreen, o.Within = w.cache, names, true, p.within()
	pics, _ := p.pictured()
	o.Hollow = len(pics) > 0
	o.Coarse = names > mostSigns
	if names > mostNames {
		o.Off |= drawing.LayerLabels
	}
	if names == noNames {
		o.NameScale = 1
		o.Off |= drawing.LayerLoads | drawing.LayerDimensions | drawing.LayerBalance
	}
	if t, ok := w.model.Tool().(*view.Select); ok {
		o.Ghosts = t.Ghosts()
		if r := t.NoteArea(v); !r.IsEmpty() {
			o.Clear = append(o.Clear, r)
		}
	}
	l := v.Draw(w.model.Scene(), o)
	w.timings.took("list "+v.String(), began)
	return l
}

// link brings the other views along: they zoom by as much, the plan and the side view share x, the side and the rear
// view z, the plan and the rear view y.
func (w *Window) link(from *pane) {
	for _, p := range w.panes {
		p.fitted = false
	}
	if from.whole == 0 {
		return
	}
	for _, p := range w.panes {
		if p == from || p.cam.Scale == 0 {
			continue
		}
		p.cam.Scale = p.whole * from.cam.Scale / from.whole
		shareAxes(from, p)
		p.repaint()
	}
	w.solid.follow(from.cam.Scale/from.whole, w.middle())
}

// middle is the place in the vehicle that the plan and the side view have in their middles.
func (w *Window) middle() r3.Vector {
	plan, side := w.panes[0].cam.Centre, w.panes[1].cam.Centre
	return r3.Vector{X: plan.X, Y: plan.Y, Z: side.Y}
}

func shareAxes(from, to *pane) {
	a, b := from.cam.Centre, &to.cam.Centre
	switch [2]drawing.View{from.view, to.view} {
	case [2]drawing.View{drawing.PlanView, drawing.SideView}, [2]drawing.View{drawing.SideView, drawing.PlanView}:
		b.X = a.X
	case [2]drawing.View{drawing.SideView, drawing.RearView}, [2]drawing.View{drawing.RearView, drawing.SideView}:
		b.Y = a.Y
	case [2]drawing.View{drawing.PlanView, drawing.RearView}:
		b.X = a.Y
	case [2]drawing.View{drawing.RearView, drawing.PlanView}:
		b.Y = a.X
	}
}

// fitAll shows the whole vehicle in every view.
func (w *Window) fitAll() {
	for _, p := range w.panes {
		p.fit = true
		p.repaint()
	}
	w.solid.zoom, w.solid.off, w.solid.pivot = 1, r2.Point{}, nil
	w.solid.repaint()
}

// mods are the modifier keys held down.
func (w *Window) mods() fyne.KeyModifier { return w.held }

// keys hears the keyboard while no field has it.
func (w *Window) keys() {
	c := w.win.Canvas()
	c.SetOnTypedKey(w.typedKey)
	c.SetOnTypedRune(w.typedRune)
	if d, ok := c.(desktop.Canvas); ok {
		d.SetOnKeyDown(func(e *fyne.KeyEvent) { w.hold(e.Name, true) })
		d.SetOnKeyUp(func(e *fyne.KeyEvent) { w.hold(e.Name, false) })
	}
}

var modifierKeys = map[fyne.KeyName]fyne.KeyModifier{
	desktop.KeyShiftLeft: fyne.KeyModifierShift, desktop.KeyShiftRight: fyne.KeyModifierShift,
	desktop.KeyControlLeft: fyne.KeyModifierControl, desktop.KeyControlRight: fyne.KeyModifierControl,
	desktop.KeyAltLeft: fyne.KeyModifierAlt, desktop.KeyAltRight: fyne.KeyModifierAlt,
}

func (w *Window) hold(k fyne.KeyName, down bool) {
	if k == fyne.KeySpace {
		w.space = down
	}
	if m := modifierKeys[k]; down {
		w.held |= m
	} else {
		w.held &^= m
	}
}

func (w *Window) typedKey(e *fyne.KeyEvent) {
	if w.blocked() {
		if w.heard(e.Name) {
			return
		}
		switch {
		case e.Name == fyne.KeyEscape:
			w.dismiss()
		case w.reached(e.Name):
		case returns(e.Name):
			w.accept()
		}
		return
	}
	if w.model.Tool().Key(string(e.Name)) {
		return
	}
	switch e.Name {
	case fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight:
		w.nudge(string(e.Name))
	case fyne.KeyEscape:
		w.escape()
	default:
		w.runKey(e.Name)
	}
}

// escape lets go of the tool first, then of what is picked.
func (w *Window) escape() {
	if _, ok := w.model.Tool().(*view.Select); !ok {
		w.model.SetTool(view.NewSelect(w.model))
		return
	}
	w.model.Display.Focus = 0
	w.model.Pick()
}

// Steps of the arrow keys in mm.
const (
	nudgeMM     = 1
	bigNudgeMM  = 10
	nudgeInch   = 25.4 / 16
	bigNudgeInc = 25.4 / 2
)

// bigStep is the step of an arrow key with Shift in the units shown, mm.
func (w *Window) bigStep() float64 {
	if w.model.Units() == view.Imperial {
		return bigNudgeInc
	}
	return bigNudgeMM
}

func (w *Window) nudge(key string) {
	step := float64(nudgeMM)
	if w.model.Units() == view.Imperial {
		step = nudgeInch
	}
	if w.held&fyne.KeyModifierShift != 0 {
		step = w.bigStep()
	}
	_ = w.model.Nudge(view.ArrowShift(w.under.view, key, step))
}

func (w *Window) typedRune(r rune) {
	if w.blocked() || w.model.Tool().Type(r) {
		return
	}
	w.runRune(r)
}

// inView returns the view under a place of the window.
func (w *Window) inView(at fyne.Position) *pane {
	for _, p := range w.panes {
		if !p.Visible() {
			continue
		}
		o := fyne.CurrentApp().Driver().AbsolutePositionForObject(p)
		size := p.Size()
		if at.X >= o.X && at.Y >= o.Y && at.X < o.X+size.Width && at.Y < o.Y+size.Height {
			return p
		}
	}
	return nil
}

// dragOver brings what is dragged from the stores over the views.
func (w *Window) dragOver(at fyne.Position) {
	p := w.inView(at)
	if p == nil {
		return
	}
	w.under = p
	o := fyne.CurrentApp().Driver().AbsolutePositionForObject(p)
	p.last = at.Subtract(o)
	w.model.Tool().Move(p.pointer(p.last), true)
}

// drop leaves what is dragged from the stores where it is.
func (w *Window) drop() {
	if t, ok := w.model.Tool().(*view.Place); ok {
		t.Drop()
		w.model.SetTool(view.NewSelect(w.model))
	}
}
