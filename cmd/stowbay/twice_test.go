package main

import (
	"path/filepath"
	"testing"
	"time"

	"stowbay/layout"
	"stowbay/layout/journal"
	"stowbay/vehicles"
)

// beside is the same display for another window of the program.
func (d *desk) beside() *desk { return &desk{t: d.t, dir: d.dir, display: d.display} }

// focus gives the keyboard to the program's window.
func (d *desk) focus() {
	d.t.Helper()
	d.xdo("windowfocus", d.windows()[0])
	d.pause()
}

// ended waits until the program has ended by itself.
func (d *desk) ended() {
	d.t.Helper()
	select {
	case err := <-d.exited:
		d.exited <- err
		if err != nil {
			d.t.Fatalf("the program ended with %v\n%s", err, d.stderr.String())
		}
	case <-time.After(time.Minute):
		d.t.Fatal("the program does not end")
	}
}

// A plan with unsaved changes in one real window is opened in a second one: Return leaves it closed there, and opened all
// the same it has a journal of its own. The first window then asks what becomes of its changes: Escape stays, Return saves
// and ends the program.
func TestTwoRealWindowsOnOnePlan(t *testing.T) {
	d := newDesk(t, 1280, 800)
	path := filepath.Join(d.dir, "plan.yaml")
	was := testPlan(t, path).Arrangements[0].Boxes[0].Modules[0].At
	d.start(path)
	d.key("ctrl+a", "Right")
	d.unsaved(path)

	second := d.beside()
	second.start(path)
	second.focus()
	second.opened()
	second.step("twice-asked")
	second.key("Return")
	second.closed()
	second.step("twice-left")
	second.key("ctrl+q")
	second.ended()

	third := d.beside()
	third.start(path)
	third.focus()
	third.opened()
	third.key("Tab", "space") // the first button: open it here too
	third.closed()
	third.key("ctrl+a", "Up")
	third.step("twice-opened")
	third.key("ctrl+s")
	third.until("the second window's change in the file", func() bool { return firstAt(t, path)[1] == was[1]+1 })
	third.key("ctrl+q")
	third.ended()
	d.unsaved(path)

	d.focus()
	d.until("word that the file was changed", func() bool { return dimmed(d.shot()) })
	d.step("twice-changed")
	d.key("Return") // keeps the plan as it is here
	d.closed()
	d.key("ctrl+q")
	d.opened()
	d.step("leaving")
	d.key("Escape")
	d.closed()
	d.key("ctrl+q")
	d.opened()
	d.accept() // saves
	d.until("the question whether to write over the other window's change", func() bool { return dimmed(d.shot()) })
	d.step("leaving-over")
	d.key("Tab", "space")
	d.ended()
	if at := firstAt(t, path); at[0] != was[0]+1 || at[1] != was[1] {
		t.Errorf("saved is %v, want %v moved by 1 mm along x", at, was)
	}
	if left := journals(d.dir); len(left) != 0 {
		t.Errorf("journals left behind: %q", left)
	}
	if _, err := journal.TryLock(path); err != nil {
		t.Errorf("the mark is left behind: %v", err)
	}
}

// unsaved waits until the journal beside a plan holds one change that its file does not.
func (d *desk) unsaved(path string) {
	d.t.Helper()
	d.until("the change in the journal", func() bool {
		r, err := journal.Recover(journal.PathFor(path))
		return err == nil && r.Unsaved && r.Edits == 1
	})
}

// firstAt is where the first module of the plan on disk stands.
func firstAt(t *testing.T, path string) vehicles.XYZ {
	t.Helper()
	p, err := layout.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	return p.Arrangements[0].Boxes[0].Modules[0].At
}
