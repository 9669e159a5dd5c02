package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/journal"
)

// shown is all the text in the window and its dialogs.
func shown(w *Window) string {
	var b strings.Builder
	for _, o := range append(w.win.Canvas().Overlays().List(), w.win.Content()) {
		for _, c := range test.LaidOutObjects(o) {
			if l, ok := c.(*widget.Label); ok {
				b.WriteString(l.Text + "\n")
			}
		}
	}
	return b.String()
}

func nudge(w *Window) {
	w.model.Pick("mid/m1")
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
}

// The folder is taken away while its plan is open: saving says so, the changes stay, and saving elsewhere takes them along.
func TestVanishedFolder(t *testing.T) {
	w, path := testWindow(t)
	nudge(w)
	at := moduleAt(w)
	if err := os.Rename(filepath.Dir(path), filepath.Dir(path)+" moved"); err != nil {
		t.Fatal(err)
	}
	w.save()
	if got := shown(w); !strings.Contains(got, "the folder "+filepath.Dir(path)+" is not there") {
		t.Errorf("shown:\n%s", got)
	}
	if !w.model.Document().Dirty() || moduleAt(w) != at {
		t.Error("the change is gone, or counts as saved")
	}
	hideAll(w)
	elsewhere := filepath.Join(t.TempDir(), "über den Hof", "plan neu.yaml")
	if err := os.Mkdir(filepath.Dir(elsewhere), 0o700); err != nil {
		t.Fatal(err)
	}
	w.saveTo(elsewhere, func() {})
	p, err := layout.Load(elsewhere)
	if err != nil || p.Arrangements[0].Boxes[0].Modules[0].At != at || w.model.Document().Dirty() {
		t.Errorf("saved elsewhere: %v; still unsaved: %v", err, w.model.Document().Dirty())
	}
}

// Where the journal cannot be written the window says so once, and says when it can again.
func TestJournalThatCannotBeWritten(t *testing.T) {
	w, path := testWindow(t)
	dir := filepath.Dir(path)
	if err := os.Rename(dir, dir+" moved"); err != nil {
		t.Fatal(err)
	}
	nudge(w)
	_ = w.session.journal.Flush()
	w.lookAtJournal()
	if got := shown(w); !strings.Contains(got, "cannot be written; save the plan") || !strings.Contains(got, "is not there") {
		t.Errorf("shown:\n%s", got)
	}
	hideAll(w)
	w.lookAtJournal()
	if w.blocked() {
		t.Error("said twice")
	}
	if err := os.Rename(dir+" moved", dir); err != nil {
		t.Fatal(err)
	}
	w.lookAtJournal()
	w.lookAtJournal()
	if got := w.model.Status(); !strings.Contains(got, "safe again") {
		t.Errorf("said %q", got)
	}
	if r, err := journal.Recover(journal.PathFor(path)); err != nil || r.Edits == 0 {
		t.Errorf("the change is not in the journal: %v", err)
	}
}

// A journal that a newer program left is not replaced by that of this one.
func TestJournalThatCannotBeRead(t *testing.T) {
	w, _ := testWindow(t)
	path := filepath.Join(t.TempDir(), "other.yaml")
	left, err := os.ReadFile("../layout/journal/testdata/newer.journal")
	if err == nil {
		err = layout.Save(path, w.model.Plan())
	}
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(journal.PathFor(path), left, 0o600); err != nil {
		t.Fatal(err)
	}
	w.open(path)
	if got := shown(w); !strings.Contains(got, "newer version") || !strings.Contains(got, ".kept") {
		t.Errorf("shown:\n%s", got)
	}
	nudge(w)
	if err := w.session.journal.Flush(); err != nil {
		t.Fatal(err)
	}
	if kept, err := os.ReadFile(journal.PathFor(path) + ".kept"); err != nil || string(kept) != string(left) {
		t.Errorf("what was left behind is gone: %v", err)
	}
}

var keyEscape = &fyne.KeyEvent{Name: fyne.KeyEscape}
