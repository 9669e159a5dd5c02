package ui

import (
	"image"
	"path/filepath"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"stowbay/layout"
	"stowbay/layout/journal"
	"stowbay/ui/view"
	"stowbay/vehicles"
)

// testWindow opens a window on a plan file with one box that holds two modules, on the toolkit's test driver.
func testWindow(t *testing.T) (*Window, string) {
	t.Helper()
	app := test.NewTempApp(t)
	path := filepath.Join(t.TempDir(), "plan.yaml")
	donor := catalogue().Donor("van-rear-engine")
	p := layout.NewPlan(donor, "Test")
	b := &layout.Box{ID: "mid", At: vehicles.XYZ{600, -400, 250}, Levels: []vehicles.Level{{
		Outline: []vehicles.XY{{0, 0}, {1400, 0}, {1400, 800}, {0, 800}}, CeilingMM: 200}}}
	for i, x := range []float64{100, 900} {
		b.Modules = append(b.Modules, layout.Placement{ID: []string{"m1", "m2"}[i], Module: "nmc-355", Posture: vehicles.Flat, At: vehicles.XYZ{x, 100, 1.5}})
	}
	p.Arrangements[0].Boxes = []*layout.Box{b}
	if err := layout.Save(path, p); err != nil {
		t.Fatal(err)
	}
	w := New(app, p, Options{Path: path})
	t.Cleanup(w.end)
	w.model.Background = nil // the test driver has no goroutine of its own to hand work back to
	w.win.Resize(fyne.NewSize(1280, 800))
	w.win.Canvas().Capture()
	return w, path
}

// middle is where the first module's middle is in the plan view's widget.
func (p *pane) middle() fyne.Position {
	at := p.cam.ToPx(view.PlanBounds(p.w.model.Scene(), "mid/m1").Center())
	return fyne.NewPos(float32(at.X/p.scale), float32(at.Y/p.scale))
}

func press(p *pane, at fyne.Position, b desktop.MouseButton, m fyne.KeyModifier) {
	p.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: b, Modifier: m})
}

func lift(p *pane, at fyne.Position, b desktop.MouseButton) {
	p.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: b})
}

func moduleAt(w *Window) vehicles.XYZ {
	return w.model.Document().Plan().Arrangements[0].Boxes[0].Modules[0].At
}

func TestMouseDragsModule(t *testing.T) {
	w, _ := testWindow(t)
	w.model.Display.Snap = false
	p := w.panes[0]
	at := p.middle()
	was := moduleAt(w)
	press(p, at, desktop.MouseButtonPrimary, 0)
	for i := 1; i <= 4; i++ {
		p.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at.AddXY(float32(5*i), float32(-3*i))}})
	}
	if moduleAt(w) != was {
		t.Error("the drag is in the plan before it ended")
	}
	if !w.model.Previewing() {
		t.Error("the drag does not show")
	}
	p.DragEnd()
	if now := moduleAt(w); now[0] <= was[0] || now[1] <= was[1] {
		t.Errorf("pulled to the right and up, from %v to %v", was, now)
	}
	w.Do("undo")
	if moduleAt(w) != was {
		t.Error("undo does not take the drag back")
	}
}

func TestKeysNudgeAndDelete(t *testing.T) {
	w, _ := testWindow(t)
	w.model.Pick("mid/m1")
	was := moduleAt(w)
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	w.hold(desktop.KeyShiftLeft, true)
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	w.hold(desktop.KeyShiftLeft, false)
	if now := moduleAt(w); now[0] != was[0]+1 || now[1] != was[1]+10 {
		t.Errorf("from %v to %v", was, now)
	}
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
	if n := w.model.Scene().Count(); n != 1 {
		t.Errorf("%d modules after taking one out", n)
	}
}

func TestWheelZoomsToThePointer(t *testing.T) {
	w, _ := testWindow(t)
	p := w.panes[0]
	at := fyne.NewPos(300, 200)
	before, scale := p.toMM(at), p.cam.Scale
	p.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: at}, Scrolled: fyne.NewDelta(0, 25)})
	if d := p.toMM(at).Sub(before).Norm(); d > 1e-6 || p.cam.Scale <= scale {
		t.Errorf("the place under the pointer moved by %v mm; scale %v to %v", d, scale, p.cam.Scale)
	}
	if side := w.panes[1]; side.cam.Centre.X != p.cam.Centre.X {
		t.Error("the side view does not follow along x")
	}
}

func TestSecondaryButtonPans(t *testing.T) {
	w, _ := testWindow(t)
	p := w.panes[0]
	at := fyne.NewPos(300, 200)
	before := p.toMM(at)
	press(p, at, desktop.MouseButtonSecondary, 0)
	to := at.AddXY(40, 25)
	p.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: to}, Button: desktop.MouseButtonSecondary})
	lift(p, to, desktop.MouseButtonSecondary)
	if d := p.toMM(to).Sub(before).Norm(); d > 1e-6 {
		t.Errorf("the view did not follow the pointer, by %v mm", d)
	}
	if w.blocked() {
		t.Error("a menu opened after a pan")
	}
}

func TestSaveAndRecover(t *testing.T) {
	w, path := testWindow(t)
	w.model.Pick("mid/m1")
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if err := w.session.journal.Flush(); err != nil {
		t.Fatal(err)
	}
	r, err := journal.Recover(journal.PathFor(path))
	if err != nil || !r.Unsaved || r.Plan.Arrangements[0].Boxes[0].Modules[0].At != moduleAt(w) {
		t.Fatalf("the journal does not hold the step: %v, %+v", err, r)
	}
	w.save()
	p, err := layout.Load(path)
	if err != nil || p.Arrangements[0].Boxes[0].Modules[0].At != moduleAt(w) {
		t.Errorf("saved: %v", err)
	}
	if w.model.Document().Dirty() {
		t.Error("unsaved after saving")
	}
}

func TestClosingAsks(t *testing.T) {
	w, _ := testWindow(t)
	gone := false
	w.askBeforeLosing(func() { gone = true })
	if !gone {
		t.Error("asked although nothing is unsaved")
	}
	w.model.Pick("mid/m1")
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	gone = false
	w.askBeforeLosing(func() { gone = true })
	if gone || !w.blocked() {
		t.Error("unsaved changes were about to be lost without a question")
	}
}

// Every command has a key or a place in a menu, no two share a key, and none panics where there is nothing to do it to.
func TestCommands(t *testing.T) {
	w, _ := testWindow(t)
	seen := map[string]string{}
	for i := range w.commands {
		c := &w.commands[i]
		if !slices.Contains(menuNames, c.menu) {
			t.Errorf("%s is in no menu", c.id)
		}
		if k := c.keyText(); k != "" {
			if other, ok := seen[k]; ok {
				t.Errorf("%s and %s share the key %s", c.id, other, k)
			}
			seen[k] = c.id
		}
	}
	skip := []string{"quit", "open", "underlay", "import"} // close the program, or open the toolkit's file dialog
	for i := range w.commands {
		if slices.Contains(skip, w.commands[i].id) {
			continue
		}
		w.model.Pick()
		w.run(&w.commands[i])
		for len(w.dialogs) > 0 {
			w.dialogs[len(w.dialogs)-1].Hide()
		}
	}
}

func TestDetailsSetField(t *testing.T) {
	w, _ := testWindow(t)
	w.showLeft(1)
	w.model.Pick("mid/m1")
	d := w.left.details
	if d.form == nil {
		t.Fatal("nothing to edit")
	}
	fd := record1(t, d.form, "at_mm")
	if !d.form.set("at_mm[0]", fd, "2*151+8") {
		t.Fatal("a sum is not taken")
	}
	if got := moduleAt(w)[0]; got != 310 {
		t.Errorf("x = %v, want 310", got)
	}
	if err := d.form.checked("at_mm[0]", fd, "1e9"); err == nil {
		t.Error("what the file's rules refuse is taken")
	}
	if d.form.set("at_mm[0]", fd, "apples") {
		t.Error("a word is taken for a number")
	}
}

// What is copied is on the system's clipboard, so that another window, on another plan, can take it.
func TestCopyGoesToAnotherPlan(t *testing.T) {
	w, _ := testWindow(t)
	w.model.Pick("mid/m1", "mid/m2")
	w.Do("copy")
	w.load(layout.NewPlan(catalogue().Donor("van-rear-engine"), "Other"), "", nil)
	w.Do("paste")
	if n := w.model.Scene().Count(); n != 0 {
		t.Errorf("%d modules without a box to hold them", n)
	}
	w.model.Pick(w.model.Arrangement().Bays[0].ID)
	w.Do("boxbay")
	w.Do("paste")
	if n := w.model.Scene().Count(); n != 2 {
		t.Errorf("%d modules pasted, want 2: %s", n, w.model.Status())
	}
	w.Do("cut")
	if n := w.model.Scene().Count(); n != 0 {
		t.Errorf("%d modules after cutting what was pasted", n)
	}
	w.Do("undo")
	w.Do("undo")
	if n := w.model.Scene().Count(); n != 0 {
		t.Errorf("%d modules after taking back cut and paste", n)
	}
}

// Each wheel, the tightest gap and each finding open; the filter of what is picked follows the selection.
func TestReadingsAndFindingsOpen(t *testing.T) {
	w, _ := testWindow(t)
	closeAll := func() {
		for len(w.dialogs) > 0 {
			w.dialogs[len(w.dialogs)-1].Hide()
		}
	}
	for _, key := range append(slices.Clone(view.WheelKeys[:]), "worst_gap_mm", "voltage_v.nominal", "axles_kg.front|gross") {
		w.explain(key)
		if len(w.dialogs) != 1 {
			t.Fatalf("%s does not open", key)
		}
		closeAll()
	}
	w.goToFinding("1")
	if len(w.dialogs) != 0 || w.model.Display.Focus != 1 {
		t.Error("the first click does not go to the place")
	}
	w.goToFinding("1")
	if len(w.dialogs) != 1 {
		t.Fatal("the second click does not explain")
	}
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.blocked() {
		t.Error("Escape does not close the explanation")
	}
	w.right.filter.Picked = true
	w.model.Pick("mid")
	w.right.findings.draw(image.NewRGBA(image.Rect(0, 0, 300, 200)), 1)
	some := len(w.right.findings.page.Rows)
	w.model.Pick()
	w.right.findings.draw(image.NewRGBA(image.Rect(0, 0, 300, 200)), 1)
	if none := len(w.right.findings.page.Rows); none != 0 || some == 0 {
		t.Errorf("%d findings about the box, %d about nothing", some, none)
	}
}

// While a drag moves the other views take turns; once it rests all of them show it.
func TestAllViewsShowADragAtRest(t *testing.T) {
	w, _ := testWindow(t)
	p := w.panes[0]
	at := p.middle()
	press(p, at, desktop.MouseButtonPrimary, 0)
	pull := func(dx float32) { p.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at.AddXY(dx, 0)}}) }
	pull(10)
	for _, v := range w.panes {
		v.draw(image.NewRGBA(image.Rect(0, 0, 300, 200)), 1)
	}
	pull(20)
	old := 0
	for _, v := range w.panes {
		if v.list != nil {
			old++
		}
	}
	if old == 0 {
		t.Fatal("every view is drawn anew at every step")
	}
	w.catchUp()
	for _, v := range w.panes {
		if v.list != nil {
			t.Errorf("%s still shows a step before", v.view)
		}
	}
}
