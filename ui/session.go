package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"stowbay/layout"
	"stowbay/layout/journal"
	"stowbay/ui/view"
)

// session keeps the work on one plan safe: its journal, its mark as open, and what its file was like.
type session struct {
	journal *journal.Journal
	stop    func()
	lock    *journal.Lock
	mark    *journal.Lock // of a journal that does not lie beside its plan
	stamp   journal.Stamp
	seen    journal.Stamp // the change of the file that the user was told of last
	unsafe  string        // why the journal cannot be written, as the user was told
}

// begin starts a session on the document in the window.
func (w *Window) begin(lock *journal.Lock) {
	w.session = &session{lock: lock}
	if w.path != "" {
		w.session.stamp, _ = journal.Take(w.path)
	}
	w.keepJournal()
}

// keepJournal begins the session's journal: beside the plan's file, or with those of plans that have none. It goes there,
// too, where another window has the plan open, for the journal beside the file is that window's.
func (w *Window) keepJournal() {
	s, doc := w.session, w.model.Document()
	path := journal.PathFor(w.path)
	if w.path == "" || w.path == w.shared {
		path = journal.Unnamed(w.private())
		s.mark, _ = journal.TryLock(path)
	}
	s.journal = journal.Start(path, w.path, doc.Plan())
	s.stop = s.journal.Follow(doc)
}

// letGo ends the journal and leaves its file, if there is one.
func (s *session) letGo() {
	s.stop()
	_ = errors.Join(s.journal.Close(), s.mark.Release())
}

// end closes the session: the plan was saved, or its changes are not wanted.
func (w *Window) end() {
	s := w.session
	if s == nil {
		return
	}
	s.stop()
	_ = s.journal.Discard() // nothing in it is wanted any more
	_ = errors.Join(s.lock.Release(), s.mark.Release())
	w.session = nil
}

// private is the folder for journals of plans that have no file yet.
func (w *Window) private() string {
	dir := w.app.Storage().RootURI().Path()
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return os.TempDir()
	}
	return dir
}

// adopt shows a plan that was read from a file, or a new one, after asking what is to be asked: whether it is open
// elsewhere, and whether work was left behind by a program that ended in the middle of it.
func (w *Window) adopt(plan *layout.Plan, path string) {
	if path == "" {
		w.load(plan, "", nil)
		return
	}
	lock, err := journal.TryLock(path)
	var held *journal.Held
	if errors.As(err, &held) {
		w.askOpenTwice(plan, path, held.Owner)
		return
	}
	w.shared = ""
	w.say(err)
	w.recover(plan, path, lock)
}

// askOpenTwice asks what becomes of a plan that another window has open.
func (w *Window) askOpenTwice(plan *layout.Plan, path string, by journal.Owner) {
	if w.session == nil { // the window opens on this plan
		w.welcome()
	}
	name := filepath.Base(path)
	since := by.Since.Local().Format("15:04 on 2 January")
	here := way{"Open it here too", func() { w.openTwice(plan, path) }}
	leave := way{"Leave it closed", nil}
	const last = "\n\nOpened twice, the window that saves last writes over what the other one saved; a backup is kept beside the file."
	if host, _ := os.Hostname(); by.Host == host {
		w.choose("Open in another window", name+" has been open in another window on this computer since "+since+"."+last, here, leave)
		return
	}
	w.choose("Open on another computer", name+" has been open on the computer “"+by.Host+"” since "+since+
		". Whether it still is cannot be seen from here: that computer may have been switched off meanwhile."+last,
		way{"It is not open there any more", func() { w.takeOver(plan, path) }}, here, leave)
}

// openTwice opens a plan that stays open in another window, which keeps its mark and its journal.
func (w *Window) openTwice(plan *layout.Plan, path string) {
	w.shared = path
	w.load(plan, path, nil)
	w.model.Say(filepath.Base(path) + " is open in another window, too.")
}

// takeOver opens a plan whose mark was left behind, as the user says.
func (w *Window) takeOver(plan *layout.Plan, path string) {
	lock, err := journal.TakeLock(path)
	w.shared = ""
	w.say(err)
	w.recover(plan, path, lock)
}

// welcome shows the first page.
func (w *Window) welcome() {
	w.path = ""
	w.use(layout.NewDocument(layout.NewPlan(catalogue().Donors()[0], "New plan"), catalogue()))
	w.begin(nil)
	w.start.setShown(true)
	w.changed(^view.What(0))
}

// recover offers the work that was left in the plan's journal.
func (w *Window) recover(plan *layout.Plan, path string, lock *journal.Lock) {
	w.load(plan, path, lock)
	r, err := journal.Recover(journal.PathFor(path))
	if err != nil {
		w.keepAside(journal.PathFor(path), err)
		return
	}
	if !r.Unsaved {
		return
	}
	w.offer(r, func() { w.bringBack(r.Plan) })
}

// keepAside keeps a journal that cannot be read from being replaced by that of this session.
func (w *Window) keepAside(path string, why error) {
	if errors.Is(why, journal.ErrNone) {
		return
	}
	name, err := journal.SetAside(path)
	if err != nil {
		w.showError("Work left behind cannot be read", errors.Join(why, err))
		return
	}
	w.showError("Work left behind cannot be read", fmt.Errorf("%w\n\nWhat was left is kept as %s", why, name))
}

// offer asks whether the work left in a journal is wanted.
func (w *Window) offer(r *journal.Recovery, take func()) {
	name := "“" + r.Plan.Name + "”"
	if r.File != "" {
		name = filepath.Base(r.File)
	}
	text := fmt.Sprintf("The program ended before %s was saved. %s since then can be brought back.", name, counted(r.Edits, "change"))
	if r.Other {
		text += "\n\nThe plan's file was changed by something else since; the recovered plan is that of this program."
	}
	if r.Lost > 0 {
		text += "\n\nThe very last change was not written whole and is left out."
	}
	w.choose("Work was left behind", text, way{"Go on without", nil}, way{"Bring back", take})
}

// offerUnnamed offers work left behind on a plan that had no file yet.
func (w *Window) offerUnnamed() {
	path, mark := leftUnnamed(w.private())
	if path == "" {
		return
	}
	defer func() { _ = mark.Release() }()
	r, err := journal.Recover(path)
	if err != nil {
		return
	}
	w.offer(r, func() {
		w.bringBack(r.Plan)
		// An edit that changes nothing has the new journal write down the plan it builds on; then the old one can go.
		w.session.journal.Append(layout.Together("Bring back"), false)
		if w.session.journal.Flush() == nil {
			_ = os.Remove(path)
		}
	})
}

// leftUnnamed finds the latest journal of a plan without a file that no window has in use, and marks it.
func leftUnnamed(dir string) (path string, mark *journal.Lock) {
	for _, path := range slices.Backward(journal.Left(dir)) {
		if mark, err := journal.TryLock(path); err == nil {
			return path, mark
		}
	}
	return "", nil
}

// saveTo writes the plan to a file unless something else changed that file meanwhile and the user says no.
func (w *Window) saveTo(path string, next func()) {
	s := w.session
	if s != nil && path == w.path {
		if state, err := s.stamp.Now(); err == nil && state == journal.Changed {
			w.choose("Changed by something else", filepath.Base(path)+" was changed by another program since it was opened. What is there now is kept as a backup if it is written over.",
				way{"Write over it", func() { w.write(path, next) }}, way{"Cancel", nil})
			return
		}
	}
	w.write(path, next)
}

// claim marks the file that the plan goes to as open in place of the one it had.
func (w *Window) claim(path string) {
	_ = w.session.lock.Release()
	lock, err := journal.TryLock(path)
	w.session.lock, w.shared = lock, ""
	if held := (*journal.Held)(nil); errors.As(err, &held) {
		w.shared = path
	}
	w.say(err)
}

func (w *Window) write(path string, next func()) {
	if err := w.session.journal.Save(path, w.model.Document().Plan()); err != nil {
		w.showError("The plan was not saved", err)
		return
	}
	if path != w.path {
		w.claim(path)
	}
	w.path = path
	if path == w.shared {
		w.session.letGo()
		w.keepJournal()
	}
	w.session.stamp, _ = journal.Take(path)
	w.model.Document().Saved()
	w.remember(path)
	w.model.Say("Saved as " + path)
	w.left.steps.update()
	w.titled()
	next()
}
