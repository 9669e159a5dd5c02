package ui

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowbay/layout"
)

// startWindow opens a window on the first page after plans with the names given were opened, the last one last.
func startWindow(t *testing.T, names ...string) (*Window, []string) {
	t.Helper()
	app := test.NewTempApp(t)
	donor := catalogue().Donor("van-rear-engine")
	dir := t.TempDir()
	var paths []string
	for _, n := range names {
		path := filepath.Join(dir, n)
		if err := layout.Save(path, layout.NewPlan(donor, n)); err != nil {
			t.Fatal(err)
		}
		paths = append([]string{path}, paths...)
	}
	app.Preferences().SetStringList(recentsKey, paths)
	w := New(app, layout.NewPlan(donor, "New plan"), Options{})
	t.Cleanup(w.end)
	w.win.Resize(fyne.NewSize(1280, 800))
	return w, paths
}

// pushes are the buttons of the first page with a text in them, crosses those without one.
func pushes(w *Window) (named []*push, crosses []*cross) {
	for _, o := range test.LaidOutObjects(w.start.root) {
		switch b := o.(type) {
		case *push:
			named = append(named, b)
		case *cross:
			crosses = append(crosses, b)
		}
	}
	return named, crosses
}

func pushNamed(t *testing.T, w *Window, text string) *push {
	t.Helper()
	named, _ := pushes(w)
	i := slices.IndexFunc(named, func(b *push) bool { return strings.HasPrefix(b.Text, text) })
	if i < 0 {
		t.Fatalf("there is no button %q", text)
	}
	return named[i]
}

// menuAt follows names through the menus.
func menuAt(t *testing.T, w *Window, names ...string) *fyne.MenuItem {
	t.Helper()
	m := w.win.MainMenu().Items[0]
	var item *fyne.MenuItem
	for _, n := range names {
		i := slices.IndexFunc(m.Items, func(it *fyne.MenuItem) bool { return it.Label == n })
		if i < 0 {
			t.Fatalf("the menu lacks %q of %q", n, names)
		}
		item, m = m.Items[i], m.Items[i].ChildMenu
	}
	return item
}

func TestRecentPlansTakenOutOnTheFirstPage(t *testing.T) {
	w, paths := startWindow(t, "one.yaml", "two.yaml", "three.yaml")
	_, crosses := pushes(w)
	if len(crosses) != 3 {
		t.Fatalf("%d plans can be taken out, want 3", len(crosses))
	}
	test.Tap(crosses[1])
	if got := w.recents(); !slices.Equal(got, []string{paths[0], paths[2]}) {
		t.Errorf("left are %q", got)
	}
	if _, crosses = pushes(w); len(crosses) != 2 {
		t.Errorf("the page shows %d plans", len(crosses))
	}
	if got := w.model.Status(); !strings.Contains(got, "two.yaml") || !strings.Contains(got, "stays where it is") {
		t.Errorf("said %q", got)
	}
	test.Tap(pushNamed(t, w, "Empty this list"))
	if _, crosses = pushes(w); len(w.recents()) != 0 || len(crosses) != 0 || strings.Contains(shown(w), "Plans opened lately") {
		t.Errorf("after emptying: %q", w.recents())
	}
	for _, p := range paths {
		if _, err := os.Stat(p); err != nil {
			t.Errorf("a plan's file is gone with its entry: %v", err)
		}
	}
}

func TestRecentPlansTakenOutInTheMenu(t *testing.T) {
	w, paths := startWindow(t, "one.yaml", "two.yaml")
	menuAt(t, w, "Open recent", paths[0]).Action()
	if w.path != paths[0] || w.idle() {
		t.Fatalf("open is %q", w.path)
	}
	menuAt(t, w, "Open recent", "Take one out of this list", paths[1]).Action()
	if got := w.recents(); !slices.Equal(got, paths[:1]) {
		t.Errorf("left are %q", got)
	}
	menuAt(t, w, "Open recent", "Empty this list").Action()
	if item := menuAt(t, w, "Open recent", "None yet"); len(w.recents()) != 0 || !item.Disabled {
		t.Errorf("after emptying: %q", w.recents())
	}
}

// A plan of the list whose file is gone is offered to be taken out; keeping it is what Return does.
func TestRecentPlanThatIsGone(t *testing.T) {
	w, paths := startWindow(t, "one.yaml")
	if err := os.Remove(paths[0]); err != nil {
		t.Fatal(err)
	}
	test.Tap(pushNamed(t, w, "one.yaml"))
	if got := shown(w); !strings.Contains(got, paths[0]+" is not there any more") {
		t.Errorf("shown:\n%s", got)
	}
	w.accept()
	if len(w.recents()) != 1 || w.blocked() || !w.idle() {
		t.Error("Return does not keep it in the list")
	}
	test.Tap(pushNamed(t, w, "one.yaml"))
	for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
		if b, ok := o.(*push); ok && b.Text == "Take it out of the list" {
			test.Tap(b)
		}
	}
	if len(w.recents()) != 0 || w.blocked() {
		t.Errorf("left are %q", w.recents())
	}
}

// The list keeps the last plans opened, each once, the last one first.
func TestRecentPlansAreTheLastOnes(t *testing.T) {
	w, _ := startWindow(t)
	for _, n := range []string{"/a", "/b", "/c", "/d", "/e", "/f", "/g", "/h", "/i", "/c"} {
		w.remember(n)
	}
	if got := w.recents(); !slices.Equal(got, []string{"/c", "/i", "/h", "/g", "/f", "/e", "/d", "/b"}) {
		t.Errorf("remembered: %q", got)
	}
}

// The first page changes its colours with the rest of the window.
func TestFirstPageInTheDark(t *testing.T) {
	w, _ := startWindow(t, "one.yaml")
	for range 2 {
		w.Do("dark")
		if w.start.back.FillColor != w.skin.ink.pane {
			t.Errorf("dark is %v, the page's ground is %v", w.skin.dark, w.start.back.FillColor)
		}
	}
}
