package ui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/ui/view"
)

// say puts an error into the status line.
func (w *Window) say(err error) {
	if err != nil {
		w.model.Say(w.model.Units().Problem(err))
	}
}

// inUnits is an error of an edit with its text in the units shown.
func (w *Window) inUnits(err error) error { return errors.New(w.model.Units().Problem(err)) }

// act makes a step with the references picked.
func (w *Window) act(f func(p *layout.Plan, a string, refs []string) (layout.Edit, error)) {
	refs := w.model.Selection.Refs()
	w.say(w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return f(p, a, refs) }))
}

func (w *Window) turnPicked(quarters float64) {
	w.act(func(p *layout.Plan, a string, refs []string) (layout.Edit, error) {
		return layout.Turn(p, w.model.Library(), a, refs, 90*quarters)
	})
}

// posture stands the modules picked in the next posture that the maker of the first one allows.
func (w *Window) posture() {
	w.act(func(p *layout.Plan, a string, refs []string) (layout.Edit, error) {
		body := w.model.Scene().Body(refs[0])
		if body == nil {
			return nil, errors.New("pick modules first")
		}
		ps := body.Module.Postures
		if len(ps) < 2 {
			return nil, fmt.Errorf("the maker of %s allows no other posture", body.Module.Name)
		}
		next := ps[(slices.Index(ps, body.Placement.Posture)+1)%len(ps)]
		return layout.SetPosture(p, w.model.Library(), a, refs, next)
	})
}

// lock locks what is picked, or frees it where all of it is locked.
func (w *Window) lock() {
	marks := w.model.Marks()
	w.act(func(p *layout.Plan, a string, refs []string) (layout.Edit, error) {
		free := slices.ContainsFunc(refs, func(r string) bool { return marks[r]&drawing.Locked == 0 })
		return layout.SetLocked(p, a, refs, free)
	})
}

func (w *Window) align(l layout.Line) {
	w.act(func(p *layout.Plan, a string, refs []string) (layout.Edit, error) {
		return layout.Align(p, w.model.Library(), a, refs, l)
	})
}

func (w *Window) spread(along layout.Axis) {
	w.act(func(p *layout.Plan, a string, refs []string) (layout.Edit, error) {
		return layout.Distribute(p, w.model.Library(), a, refs, along)
	})
}

// remove takes out what is picked: bodies, or a bay or keep-out.
func (w *Window) remove() {
	w.act(func(p *layout.Plan, a string, refs []string) (layout.Edit, error) {
		var edits []layout.Edit
		var bodies []string
		now := p.Arrangement(a)
		for _, ref := range refs {
			switch {
			case now.Bay(ref) != nil && now.Box(ref) == nil:
				e, err := layout.RemoveBay(p, a, ref)
				if err != nil {
					return nil, err
				}
				edits = append(edits, e)
			case now.Box(ref) == nil && now.KeepOut(ref) != nil:
				e, err := view.RemoveKeepOut(p, a, ref)
				if err != nil {
					return nil, err
				}
				edits = append(edits, e)
			default:
				bodies = append(bodies, ref)
			}
		}
		if len(edits) == 1 && len(bodies) == 0 {
			return edits[0], nil
		}
		if len(edits) > 0 {
			return nil, errors.New("take out bays and keep-outs one at a time")
		}
		return layout.Remove(p, a, bodies...)
	})
}

// copy puts what is picked on the system's clipboard and reports whether it did.
func (w *Window) copy() bool {
	c, err := w.model.Copy(w.model.Selection.Refs())
	var text string
	if err == nil {
		text, err = c.Text()
	}
	if err != nil {
		w.say(err)
		return false
	}
	w.app.Clipboard().SetContent(text)
	w.model.Say("Copied " + c.Words() + ". Paste puts it here, into another arrangement or into another plan.")
	return true
}

func (w *Window) cut() {
	if w.copy() {
		w.remove()
	}
}

// paste puts in what the system's clipboard holds; modules go into the box picked.
func (w *Window) paste() {
	c, err := view.ReadClip(w.app.Clipboard().Content())
	if err != nil {
		w.say(err)
		return
	}
	var made []string
	err = w.model.Do(func(p *layout.Plan, a string) (e layout.Edit, err error) {
		e, made, err = c.Paste(p, w.model.Library(), a, w.boxPicked())
		return e, err
	})
	if err == nil {
		w.model.Pick(made...)
		w.model.Say("Put in " + c.Words() + ": " + strings.Join(made, ", ") + ".")
	}
}

func (w *Window) repeat() {
	refs := w.model.Selection.Refs()
	w.copies("Repeat "+w.model.Things(refs), refs, []r3.Vector{w.beside(refs)})
}

// beside is the shift that puts another of the things picked behind them.
func (w *Window) beside(refs []string) r3.Vector {
	all := r2.EmptyRect()
	for _, ref := range refs {
		all = all.Union(view.PlanBounds(w.model.Scene(), ref))
	}
	if all.IsEmpty() {
		return r3.Vector{X: 20, Y: 20}
	}
	return r3.Vector{X: all.Size().X + 10}
}

func (w *Window) copies(label string, refs []string, by []r3.Vector) {
	var made []string
	err := w.model.Do(func(p *layout.Plan, a string) (e layout.Edit, err error) {
		e, made, err = view.Copies(p, w.model.Library(), a, label, view.CopiesOf(refs, by))
		return e, err
	})
	if err == nil {
		w.model.Pick(made...)
	}
}

func (w *Window) pickAll() {
	var refs []string
	w.model.Scene().Bodies(func(_ *layout.BoxScene, b *layout.Body) { refs = append(refs, b.ID) })
	w.model.Pick(refs...)
}

// step picks the next or the one before among boxes, modules and gear.
func (w *Window) step(by int) {
	var refs []string
	s := w.model.Scene()
	for _, b := range s.Boxes {
		refs = append(refs, b.Box.ID)
		for _, m := range b.Modules {
			refs = append(refs, m.ID)
		}
		for _, g := range b.Gear {
			refs = append(refs, g.ID)
		}
	}
	for _, g := range s.Gear {
		refs = append(refs, g.ID)
	}
	for _, b := range s.Bays {
		refs = append(refs, b.Bay.ID)
	}
	if len(refs) == 0 {
		return
	}
	i := slices.Index(refs, w.model.Selection.Last())
	if i < 0 && by < 0 {
		i = 0
	}
	w.model.Pick(refs[((i+by)%len(refs)+len(refs))%len(refs)])
}

func (w *Window) pickBox() {
	box, _ := view.Split(w.model.Selection.Last())
	w.model.Pick(box)
}

// boxPicked is the box picked, or that of a module picked; "" for none.
func (w *Window) boxPicked() string {
	box, _ := view.Split(w.model.Selection.Last())
	if w.model.Arrangement().Box(box) == nil {
		return ""
	}
	return box
}

func (w *Window) mirror() {
	box := w.boxPicked()
	id := ""
	err := w.model.Do(func(p *layout.Plan, a string) (e layout.Edit, err error) {
		e, id, err = layout.Mirrored(p, w.model.Library(), a, box, true)
		return e, err
	})
	if err == nil {
		w.model.Pick(id)
	}
}

func (w *Window) unmirror() {
	box := w.boxPicked()
	w.say(w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.Unlink(p, a, box) }))
}

func (w *Window) duplicate() {
	id := ""
	err := w.model.Do(func(p *layout.Plan, a string) (e layout.Edit, err error) {
		e, id, err = layout.DuplicateArrangement(p, a)
		return e, err
	})
	if err == nil {
		w.model.SetArrangement(id)
	}
}

func (w *Window) removeArrangement() {
	w.say(w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.RemoveArrangement(p, a) }))
}

func (w *Window) jump(key string) {
	n := 0
	fmt.Sscan(key, &n)
	w.say(w.model.JumpTo(n))
}

// showViews shows one view alone, or all.
func (w *Window) showViews(one int) {
	w.grid.one = one
	w.views.Refresh()
	w.fitAll()
	w.menuTicks()
	w.rail.repaint()
}

func (w *Window) showLeft(i int) {
	if w.shell.leftOff {
		w.shell.leftOff = false
		w.win.Content().Refresh()
	}
	w.left.show(i)
}

func (w *Window) showPicked() {
	for _, p := range w.panes {
		all := r2.EmptyRect()
		for _, ref := range w.model.Selection.Refs() {
			all = all.Union(p.sceneIndex().Bounds(ref))
		}
		if p == w.under && !all.IsEmpty() {
			p.cam = p.cam.Fit(all.ExpandedByMargin(60), 40*p.scale)
			w.link(p)
			p.repaint()
		}
	}
}

func (w *Window) toggleDark() {
	if w.skin.dark {
		w.skin = lightSkin
	} else {
		w.skin = darkSkin
	}
	w.app.Preferences().SetBool(darkKey, w.skin.dark)
	w.app.Settings().SetTheme(look{w.skin})
	for _, s := range w.seams {
		s.rect.FillColor = w.skin.ink.rule
	}
	w.model.MarkRepaint()
	w.menuTicks()
	w.win.Content().Refresh()
}

func (w *Window) toggleUnits() {
	s := w.model.Plan().Settings
	u := view.Imperial
	if w.model.Units() == view.Imperial {
		u = view.Metric
	}
	s.Units = u.Setting()
	w.say(w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutSettings(p, s) }))
	w.menuTicks()
}

func (w *Window) toggleLayer(l drawing.Layer) {
	w.model.Display.Off ^= l
	w.model.MarkRepaint()
	w.menuTicks()
}

// goToFinding shows a finding's place; a second click on the same one explains it.
func (w *Window) goToFinding(key string) {
	switch n := w.findingAt(key); {
	case n == 0:
	case w.model.Display.Focus == n:
		w.explainFinding(n)
	default:
		w.goTo(n)
	}
}

// findingAt is the number of the finding that a row stands for, 0 where there is none.
func (w *Window) findingAt(key string) int {
	n := 0
	fmt.Sscan(key, &n)
	if n < 1 || n > len(w.model.Eval().Findings) {
		return 0
	}
	return n
}

// goTo picks what a finding is about and brings its place into sight.
func (w *Window) goTo(n int) {
	w.model.Display.Focus = n
	f := w.model.Eval().Findings[n-1]
	w.model.Pick(f.Refs...)
	if f.Place != nil {
		for _, p := range w.panes {
			r := r2.RectFromPoints(p.view.Point(*f.Place))
			if f.To != nil {
				r = r.AddPoint(p.view.Point(*f.To))
			}
			if !p.cam.Visible().Contains(r) {
				p.show(r.ExpandedByMargin(100))
			}
		}
	} else if len(f.Refs) > 0 {
		w.showPicked()
	}
	w.right.findings.update()
	w.right.findings.reveal(fmt.Sprint(n))
}

// goToGravest goes to the first finding in the list.
func (w *Window) goToGravest() {
	if len(w.model.Eval().Findings) == 0 {
		w.model.Say("There is no finding yet.")
		return
	}
	w.goTo(1)
}

// findingMenu shows what can be done with a finding.
func (w *Window) findingMenu(key string, at fyne.Position) {
	n := w.findingAt(key)
	if n == 0 {
		return
	}
	f := w.model.Eval().Findings[n-1]
	items := []*fyne.MenuItem{
		fyne.NewMenuItem("Go to the place", func() { w.goTo(n) }),
		fyne.NewMenuItem("Rule and source …", func() { w.explainFinding(n) }),
		fyne.NewMenuItem("Copy as text", func() { w.app.Clipboard().SetContent(view.FindingText(w.model.Units(), f)) }),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("List only those of "+f.Rule, func() { w.right.words.SetText(f.Rule) }),
		fyne.NewMenuItem("List only those about "+f.Subject, func() { w.right.words.SetText(f.Subject) }),
		fyne.NewMenuItem("List all again", func() { w.right.words.SetText("") }),
	}
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), at)
}

// contextMenu shows what can be done with what lies under the pointer.
func (w *Window) contextMenu(p *pane, e *desktop.MouseEvent) {
	if items := w.cornerItems(p, e); len(items) > 0 {
		widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), e.AbsolutePosition)
		return
	}
	hit := p.sceneIndex().Top(p.toMM(e.Position), p.pointer(e.Position).Slack)
	if hit.Ref != "" && !w.model.Selection.Has(hit.Ref) {
		w.model.Pick(hit.Ref)
	}
	var items []*fyne.MenuItem
	switch hit.Kind {
	case view.ModuleKind, view.GearKind:
		items = w.contextItems("turn", "posture", "lock", "", "copy", "paste", "double", "array", "delete", "", "alignfront", "alignleft", "spreadx", "spready", "", "box", "details")
	case view.BoxKind:
		items = w.contextItems("pack", "turn", "lock", "", "copy", "paste", "double", "mirror", "unmirror", "step", "delete", "", "details")
	case view.BayKind:
		items = w.contextItems("boxbay", "pack", "step", "", "copy", "paste", "delete", "", "details")
	case view.KeepOutKind:
		items = w.contextItems("copy", "paste", "delete", "", "details")
	default:
		items = w.contextItems("paste", "", "bay", "keepout", "drawbox", "measure", "", "pack", "", "fit", "four")
	}
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), e.AbsolutePosition)
}

// cornerItems are the menu items for a corner or an edge of the one thing picked, none where there is neither.
func (w *Window) cornerItems(p *pane, e *desktop.MouseEvent) []*fyne.MenuItem {
	if p.view != drawing.PlanView {
		return nil
	}
	at, reach := p.toMM(e.Position), view.CornerReach*p.pointer(e.Position).Slack
	var items []*fyne.MenuItem
	if _, ok := w.model.CornerAt(at, reach); ok {
		items = append(items, fyne.NewMenuItem("Take out this corner", func() { _ = w.model.RemoveCornerHere(at, reach) }))
	} else if _, _, ok := w.model.EdgeAt(at, reach); ok {
		items = append(items, fyne.NewMenuItem("Put a corner here", func() { _ = w.model.AddCornerHere(at, reach) }))
	}
	if len(items) == 0 {
		return nil
	}
	return append(append(items, fyne.NewMenuItemSeparator()), w.contextItems("delete", "details")...)
}

func (w *Window) railButtons() []button {
	tool := func(id, icon, tip string, on func(view.Tool) bool) button {
		return button{icon: icon, tip: tip, do: func() { w.Do(id) }, on: func() bool { return on != nil && on(w.model.Tool()) }}
	}
	named := func(name string) func(view.Tool) bool { return func(t view.Tool) bool { return t.Name() == name } }
	sep := func(b button) button { b.gap = true; return b }
	snap := button{icon: "snap", tip: "Snap to gaps, walls, edges and the grid (S)", do: func() { w.Do("snap") }, on: func() bool { return w.model.Display.Snap }}
	return []button{
		tool("pick", "pick", "Pick and move (V)", named("Pick and move")),
		tool("bay", "bay", "Draw a bay (B)", named(bayToolName)),
		tool("keepout", "keepout", "Draw a keep-out (K)", named(keepOutToolName)),
		tool("drawbox", "box", "Draw a box (X)", named(boxToolName)),
		tool("measure", "measure", "Measure (M)", named("Measure")),
		sep(tool("pack", "pack", "Pack modules (P)", nil)),
		tool("turn", "turn", "Turn a quarter (R)", nil),
		tool("posture", "posture", "Next posture (T)", nil),
		tool("mirror", "mirror", "Mirror the box to the other side", nil),
		sep(snap),
		tool("fit", "fit", "Show all (F)", nil),
		{icon: "views", tip: "Four views, or the plan alone (0, 1)", do: func() {
			if w.grid.one < 0 {
				w.showViews(planAt)
			} else {
				w.showViews(-1)
			}
		}, on: func() bool { return w.grid.one < 0 }},
		sep(tool("undo", "undo", "Undo (Ctrl+Z)", nil)),
		tool("redo", "redo", "Redo (Ctrl+Y)", nil),
		sep(tool("five", "help", "From donor to report in five steps", nil)),
	}
}

// tabButtons are the arrangements, as index tabs.
func (w *Window) tabButtons() []button {
	if w.idle() {
		return []button{w.tabs.textButton(button{text: "Welcome", tab: true, on: func() bool { return true }})}
	}
	var out []button
	for _, a := range w.model.Plan().Arrangements {
		b := button{text: w.pages.fonts.Cut(a.Name, 12.5, 200, true), tip: arrangementTip(a), tab: true,
			on: func() bool { return w.model.Arrangement().ID == a.ID },
			do: func() { w.model.SetArrangement(a.ID) },
			menu: func(at fyne.Position) {
				w.model.SetArrangement(a.ID)
				menu := fyne.NewMenu("", w.contextItems("duparr", "renarr", "strings", "", "gallery", "compare", "", "arrleft", "arrright", "", "delarr")...)
				widget.ShowPopUpMenuAtPosition(menu, w.win.Canvas(), at)
			}}
		out = append(out, w.tabs.textButton(b))
	}
	return append(out, button{icon: "plus", tip: "Duplicate this arrangement to try another idea (Ctrl+Shift+D)", do: func() { w.Do("duparr") }})
}

// storesMenu shows what can be done with a row of the stores.
func (w *Window) storesMenu(key string, at fyne.Position) {
	place := fyne.NewMenuItem("Place", func() { w.left.take(key) })
	edit := fyne.NewMenuItem("Look at it, or make one like it …", func() { w.editRecord(key) })
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", place, edit), w.win.Canvas(), at)
}
