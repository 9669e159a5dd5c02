package ui

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowbay/layout"
	"stowbay/layout/journal"
)

// secondWindow opens a window on a plan that another one has open and changed; the other one's change is in its journal.
func secondWindow(t *testing.T) (second *Window, first *Window, path string) {
	t.Helper()
	first, path = testWindow(t)
	nudge(first)
	if err := first.session.journal.Flush(); err != nil {
		t.Fatal(err)
	}
	plan, err := layout.LoadOver(path, catalogue())
	if err != nil {
		t.Fatal(err)
	}
	second = New(test.NewTempApp(t), plan, Options{Path: path})
	t.Cleanup(second.end)
	return second, first, path
}

// pushShown pushes a button of the dialog in front.
func pushShown(t *testing.T, w *Window, text string) {
	t.Helper()
	if top := w.win.Canvas().Overlays().Top(); top != nil {
		for _, o := range test.LaidOutObjects(top) {
			if b, ok := o.(*push); ok && b.Text == text {
				test.Tap(b)
				return
			}
		}
	}
	t.Fatalf("no button %q in:\n%s", text, shown(w))
}

// unsavedIn is how many edits the journal beside a plan holds that its file does not.
func unsavedIn(t *testing.T, path string) int {
	t.Helper()
	r, err := journal.Recover(journal.PathFor(path))
	if err != nil || !r.Unsaved {
		t.Fatalf("the first window's changes are not in its journal: %v", err)
	}
	return r.Edits
}

// The plan of another window is left alone unless the user says otherwise: Return leaves the first page.
func TestPlanOpenInAnotherWindowIsLeft(t *testing.T) {
	w, _, path := secondWindow(t)
	if got := shown(w); !strings.Contains(got, "plan.yaml has been open in another window on this computer since") {
		t.Errorf("shown:\n%s", got)
	}
	w.accept()
	if !w.idle() || w.path != "" || w.session == nil || w.blocked() {
		t.Errorf("left: idle %v, path %q", w.idle(), w.path)
	}
	if unsavedIn(t, path) != 1 {
		t.Error("the first window's journal was changed")
	}
	w.open(path)
	w.typedKey(keyEscape)
	if !w.idle() {
		t.Error("Escape opens it")
	}
}

// Opened here too, the plan has a journal of its own: neither edits nor saving nor closing touch that of the first window.
func TestPlanOpenTwiceKeepsBothJournals(t *testing.T) {
	w, first, path := secondWindow(t)
	pushShown(t, w, "Open it here too")
	if w.idle() || w.path != path || moduleAt(w) == moduleAt(first) {
		t.Fatalf("opened: idle %v, path %q", w.idle(), w.path)
	}
	for range 2 {
		w.model.Pick("mid/m1")
		w.typedKey(&fyne.KeyEvent{Name: fyne.KeyUp}) // another way than the first window's change
		if err := w.session.journal.Flush(); err != nil {
			t.Fatal(err)
		}
		own, err := journal.Recover(w.session.journal.Path())
		if err != nil || own.Edits != 1 || own.Plan.Arrangements[0].Boxes[0].Modules[0].At != moduleAt(w) {
			t.Errorf("the second window's own journal: %v", err)
		}
		if unsavedIn(t, path) != 1 {
			t.Error("the first window's journal was changed by an edit of the second")
		}
		w.save()
		if w.model.Document().Dirty() || w.blocked() {
			t.Errorf("not saved:\n%s", shown(w))
		}
	}
	w.end()
	w.begin(nil)
	if unsavedIn(t, path) != 1 {
		t.Error("the first window's journal is gone with the second window")
	}
	if _, err := journal.TryLock(path); err == nil {
		t.Error("the first window's mark is gone with the second window")
	}
}

// Saved over a plan that another window has open, the work has a journal of its own likewise.
func TestSavingOverAPlanOfAnotherWindow(t *testing.T) {
	w, _, path := secondWindow(t)
	w.accept()
	w.load(layout.NewPlan(catalogue().Donors()[0], "Other"), "", nil)
	w.confirmOver(path, func() {})
	w.typedKey(keyEscape)
	if w.path != "" {
		t.Fatal("Escape writes over it")
	}
	w.confirmOver(path, func() {})
	pushShown(t, w, "Write over it")
	if w.path != path || w.session.journal.Path() == journal.PathFor(path) {
		t.Errorf("path %q, journal %q", w.path, w.session.journal.Path())
	}
}

// A mark of another computer says nothing of whether the plan is still open there, so the user may say that it is not.
func TestPlanOpenOnAnotherComputer(t *testing.T) {
	w, _ := testWindow(t)
	path := filepath.Join(t.TempDir(), "shared.yaml")
	if err := layout.Save(path, w.model.Plan()); err != nil {
		t.Fatal(err)
	}
	mark := filepath.Join(filepath.Dir(path), ".shared.yaml.lock")
	if err := os.WriteFile(mark, []byte(`{"pid":77,"host":"office pc","since":"2026-11-25T10:00:00Z"}`), 0o600); err != nil {
		t.Fatal(err)
	}
	w.open(path)
	if got := shown(w); !strings.Contains(got, "on the computer “office pc”") {
		t.Errorf("shown:\n%s", got)
	}
	pushShown(t, w, "It is not open there any more")
	if w.path != path || w.session.lock == nil || w.session.journal.Path() != journal.PathFor(path) {
		t.Errorf("opened %q with the journal %q", w.path, w.session.journal.Path())
	}
}

// Work on a plan without a file is offered after its window ended, not while it lives.
func TestUnnamedWorkOfALivingWindowIsNotOffered(t *testing.T) {
	app := test.NewTempApp(t)
	donor := catalogue().Donors()[0]
	first := New(app, layout.NewPlan(donor, "First"), Options{Unnamed: true})
	first.session.journal.Append(layout.Together("Change"), false)
	if err := first.session.journal.Flush(); err != nil {
		t.Fatal(err)
	}
	second := New(app, layout.NewPlan(donor, "New plan"), Options{})
	if second.blocked() {
		t.Fatalf("the living window's work is offered:\n%s", shown(second))
	}
	second.end()
	markOfTheDead(t, first.session.journal.Path())
	third := New(app, layout.NewPlan(donor, "New plan"), Options{})
	t.Cleanup(third.end)
	if got := shown(third); !strings.Contains(got, "The program ended before “First” was saved") {
		t.Fatalf("shown:\n%s", got)
	}
	third.accept()
	if third.model.Plan().Name != "First" || !third.model.Document().Dirty() {
		t.Errorf("brought back is %q", third.model.Plan().Name)
	}
	if left := journal.Left(third.private()); len(left) != 1 || left[0] != third.session.journal.Path() {
		t.Errorf("journals left: %q", left)
	}
}

// markOfTheDead makes a journal's mark that of a process that is no more.
func markOfTheDead(t *testing.T, path string) {
	t.Helper()
	cmd := exec.Command("true")
	if err := cmd.Run(); err != nil {
		t.Skip(err)
	}
	host, _ := os.Hostname()
	mark := `{"pid":` + strconv.Itoa(cmd.Process.Pid) + `,"host":"` + host + `"}`
	if err := os.WriteFile(filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".lock"), []byte(mark), 0o600); err != nil {
		t.Fatal(err)
	}
}

// The three ways on from unsaved changes.
func TestUnsavedChangesAreSavedGivenUpOrKept(t *testing.T) {
	w, path := testWindow(t)
	before := moduleAt(w)
	nudge(w)
	after := moduleAt(w)
	onDisk := func() any {
		p, err := layout.Load(path)
		if err != nil {
			t.Fatal(err)
		}
		return p.Arrangements[0].Boxes[0].Modules[0].At
	}
	went := 0
	leave := func() { went++ }
	w.askBeforeLosing(leave)
	if got := shown(w); !strings.Contains(got, "plan.yaml has changes that are not saved") {
		t.Errorf("shown:\n%s", got)
	}
	pushShown(t, w, "Stay here")
	w.askBeforeLosing(leave)
	w.typedKey(keyEscape)
	if went != 0 || w.blocked() || moduleAt(w) != after || onDisk() != before {
		t.Fatal("staying leaves, or changes something")
	}
	w.askBeforeLosing(leave)
	pushShown(t, w, "Do not save")
	if went != 1 || onDisk() != before {
		t.Errorf("left %d times without saving", went)
	}
	w.askBeforeLosing(leave)
	w.accept()
	if went != 2 || onDisk() != after {
		t.Errorf("left %d times, on the disk %v", went, onDisk())
	}
}
