package ui

import (
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"

	"stowbay/layout"
	"stowbay/layout/journal"
)

// watchEvery is how often the plan's file is looked at.
const watchEvery = 2 * time.Second

// watch looks after the plan's file as long as the program runs.
func (w *Window) watch() {
	for range time.Tick(watchEvery) {
		fyne.Do(func() {
			w.lookAtJournal()
			w.look()
		})
	}
}

// look asks, once for each change, what becomes of a plan whose file was changed by something else.
func (w *Window) look() {
	s := w.session
	if s == nil || w.path == "" || w.blocked() || w.model.Previewing() {
		return
	}
	state, err := s.stamp.Now()
	if err != nil || state == journal.Same || w.told(s) {
		return
	}
	if state == journal.Gone {
		w.model.Say(filepath.Base(w.path) + " is not in its folder any more. Saving writes it there again.")
		return
	}
	w.askChanged()
}

// lookAtJournal says, once for each reason, that changes are not kept safe, and again when they are.
func (w *Window) lookAtJournal() {
	s := w.session
	if s == nil {
		return
	}
	why := ""
	err := s.journal.Err()
	if err != nil {
		why = err.Error()
		_ = s.journal.Flush() // perhaps it goes by now
	}
	switch {
	case why == s.unsafe:
	case why == "":
		w.model.Say("Changes are kept safe again.")
	default:
		w.showError("Changes are not kept safe", err)
	}
	s.unsafe = why
}

// told reports whether the change that a file has now was spoken of already, and remembers that it was.
func (w *Window) told(s *session) bool {
	now, err := journal.Take(s.stamp.Path)
	if err != nil || now == s.seen {
		return true
	}
	s.seen = now
	return false
}

func (w *Window) askChanged() {
	text := filepath.Base(w.path) + " was changed by another program while it is open here."
	if w.model.Document().Dirty() {
		text += " The plan here has changes of its own that are not saved; they are given up if the file is loaded."
	}
	w.choose("Changed by something else", text, way{"Load the file", w.reload}, way{"Keep the plan as it is here", nil})
}

// reload shows the plan as its file has it now.
func (w *Window) reload() {
	plan, err := layout.LoadOver(w.path, catalogue())
	if err != nil {
		w.showError("The file cannot be loaded", err)
		return
	}
	lock := w.session.lock
	w.session.lock = nil
	w.load(plan, w.path, lock)
	w.model.Say("Loaded again as it is in its file.")
}
