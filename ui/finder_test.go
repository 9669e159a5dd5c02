package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowbay/layout"
)

// Every command is found by its own name, and is explained by a sentence.
func TestFinderFindsEveryCommand(t *testing.T) {
	w, _ := testWindow(t)
	for i := range w.commands {
		c := &w.commands[i]
		if c.id == "find" {
			continue
		}
		if found := w.matching(c.name); len(found) == 0 || found[0].name != c.name {
			t.Errorf("%q is not found first", c.name)
		}
		if c.help == "" && !strings.HasPrefix(c.id, "layer") {
			t.Errorf("%q is not explained", c.name)
		}
	}
	if len(w.matching("no such thing at all")) != 0 {
		t.Error("nonsense finds commands")
	}
}

// Words, Down and Return do a command without the mouse.
func TestFinderDoesACommand(t *testing.T) {
	w, _ := testWindow(t)
	w.Do("find")
	e := firstField(w.frontBody().Objects[contentAt])
	e.SetText("pick all")
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if w.blocked() || w.model.Selection.Len() != 2 {
		t.Errorf("%d things are picked", w.model.Selection.Len())
	}
}

// The help has a page for each of its subjects, with the rules and every key.
func TestHelpPages(t *testing.T) {
	w, _ := testWindow(t)
	for _, p := range helpPages {
		if len(p.text(w)) < 200 {
			t.Errorf("the page %q is empty", p.title)
		}
	}
	for i := range w.commands {
		if k := w.commands[i].keyText(); k != "" && !strings.Contains(w.keysText(), "**"+k+"**") {
			t.Errorf("the sheet of shortcuts lacks %s", k)
		}
	}
	w.Do("rules")
	if !w.blocked() {
		t.Error("the help does not open")
	}
	for range helpPages {
		w.typedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	}
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.blocked() {
		t.Error("Escape does not close the help")
	}
}

// Arrangements stand side by side, are gone through by keys, change places by steps of the history, and keep notes.
func TestSeveralArrangements(t *testing.T) {
	w, _ := testWindow(t)
	w.Do("duparr")
	first, second := w.model.Plan().Arrangements[0].ID, w.model.Plan().Arrangements[1].ID
	if w.model.Arrangement().ID != second {
		t.Fatal("the copy is not shown")
	}
	w.Do("nextarr")
	if w.model.Arrangement().ID != first {
		t.Error("the next one after the last is not the first")
	}
	w.Do("arrright")
	if w.model.Plan().Arrangements[1].ID != first {
		t.Error("it did not move")
	}
	w.Do("undo")
	if w.model.Plan().Arrangements[0].ID != first {
		t.Error("undo does not move it back")
	}
	err := w.model.Do(func(p *layout.Plan, id string) (layout.Edit, error) {
		return layout.RenameArrangement(p, id, "Low", "keeps the load floor")
	})
	if tip := arrangementTip(w.model.Arrangement()); err != nil || !strings.Contains(tip, "Low: keeps the load floor") {
		t.Errorf("the tab says %q, %v", tip, err)
	}
	w.Do("gallery")
	if len(w.dialogs) != 1 {
		t.Fatal("no arrangements side by side")
	}
	hideAll(w)
}

// The guide follows the window: a report written ticks the last step.
func TestGuideInTheDock(t *testing.T) {
	w, _ := testWindow(t)
	w.Do("guide")
	if w.left.front != guidePane || !w.left.guide.Visible() {
		t.Fatal("the guide is not shown")
	}
	w.markReported(w.evaluations(false))
	if s := w.model.Stages(w.reported[w.model.Arrangement().ID]); !s[4].Done {
		t.Error("the report is not ticked")
	}
	for _, s := range w.model.Stages(false) {
		for _, a := range s.Acts {
			found := false
			for i := range w.commands {
				found = found || w.commands[i].id == a.Key
			}
			if !found {
				t.Errorf("%s: there is no command %q", s.Name, a.Key)
			}
		}
	}
}

// What is called so stands before what only mentions it.
func TestFinderListsNamesFirst(t *testing.T) {
	w, _ := testWindow(t)
	named := true
	for _, c := range w.matching("box") {
		has := strings.Contains(strings.ToLower(c.name), "box")
		if has && !named {
			t.Errorf("%q stands behind commands that only mention a box", c.name)
		}
		named = has
	}
}
