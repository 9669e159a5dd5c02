package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/journal"
)

// session keeps the work on one plan safe: its journal, its mark as open, and what its file was like.
type session struct {
	journal *journal.Journal
	stop    func()
	lock    *journal.Lock
	stamp   journal.Stamp
	seen    journal.Stamp // the change of the file that the user was told of last
	unsafe  string        // why the journal cannot be written, as the user was told
}

// begin starts a session on the document in the window.
func (w *Window) begin(lock *journal.Lock) {
	doc := w.model.Document()
	path := journal.Unnamed(w.private())
	if w.path != "" {
		path = journal.PathFor(w.path)
	}
	s := &session{journal: journal.Start(path, w.path, doc.Plan()), lock: lock}
	s.stop = s.journal.Follow(doc)
	if w.path != "" {
		s.stamp, _ = journal.Take(w.path)
	}
	w.session = s
}

// end closes the session: the plan was saved, or its changes are not wanted.
func (w *Window) end() {
	s := w.session
	if s == nil {
		return
	}
	s.stop()
	_ = s.journal.Discard() // nothing in it is wanted any more
	_ = s.lock.Release()
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
		w.ask(dialog.NewConfirm("Open elsewhere", held.Error()+".\n\nOpen it here too? Whoever saves last wins.", func(ok bool) {
			if ok {
				taken, err := journal.TakeLock(path)
				w.say(err)
				w.recover(plan, path, taken)
			}
		}, w.win))
		return
	}
	w.say(err)
	w.recover(plan, path, lock)
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
	text := fmt.Sprintf("The program ended before this plan was saved. %d changes since then can be brought back.", r.Edits)
	if r.Other {
		text += "\n\nThe plan's file was changed by something else since; the recovered plan is that of this program."
	}
	if r.Lost > 0 {
		text += "\n\nThe very last change was not written whole and is left out."
	}
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	var d dialog.Dialog
	yes := newPush("Bring them back", func() { d.Hide(); take() })
	yes.Importance = widget.HighImportance
	no := newPush("Go on without them", func() { d.Hide() })
	d = dialog.NewCustomWithoutButtons("Work was left behind", container.NewVBox(label, container.NewHBox(yes, no)), w.win)
	d.Resize(fyne.NewSize(480, 200))
	w.ask(d)
}

// offerUnnamed offers work left behind on a plan that had no file yet.
func (w *Window) offerUnnamed() {
	left := journal.Left(w.private())
	if len(left) == 0 {
		return
	}
	path := left[len(left)-1]
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

// saveTo writes the plan to a file unless something else changed that file meanwhile and the user says no.
func (w *Window) saveTo(path string, next func()) {
	s := w.session
	if s != nil && path == w.path {
		if state, err := s.stamp.Now(); err == nil && state == journal.Changed {
			w.ask(dialog.NewConfirm("Changed by something else", filepath.Base(path)+" was changed by another program since it was opened. Write over it? What is there now is kept as a backup.", func(ok bool) {
				if ok {
					w.write(path, next)
				}
			}, w.win))
			return
		}
	}
	w.write(path, next)
}

func (w *Window) write(path string, next func()) {
	if err := w.session.journal.Save(path, w.model.Document().Plan()); err != nil {
		w.showError("The plan was not saved", err)
		return
	}
	if path != w.path {
		_ = w.session.lock.Release()
		lock, err := journal.TryLock(path)
		w.say(err)
		w.session.lock = lock
	}
	w.path = path
	w.session.stamp, _ = journal.Take(path)
	w.model.Document().Saved()
	w.remember(path)
	w.model.Say("Saved as " + path)
	w.left.steps.update()
	w.titled()
	next()
}
