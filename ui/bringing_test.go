package ui

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"stowbay/layout"
	"stowbay/vehicles"
)

func dropFile(w *Window, name string, data []byte, t *testing.T) {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	w.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(path)})
}

func hideAll(w *Window) {
	for len(w.dialogs) > 0 {
		w.dialogs[len(w.dialogs)-1].Hide()
	}
}

func must(t *testing.T, data []byte, err error) []byte {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// A module dropped on the window is in the stores, and undo takes it out again.
func TestDropModule(t *testing.T) {
	w, _ := testWindow(t)
	m := clone(catalogue().Modules()[0])
	m.ID, m.Name = "dropped", "Dropped block"
	data, err := vehicles.WriteModule(m)
	dropFile(w, "module.yaml", must(t, data, err), t)
	if w.model.Library().Module("dropped") == nil {
		t.Fatalf("it is not in the library: %s", w.model.Status())
	}
	w.Do("undo")
	if w.model.Library().Module("dropped") != nil {
		t.Error("undo leaves it")
	}
}

// A record with mistakes is refused whole, and all of them are said.
func TestDropWrongModule(t *testing.T) {
	w, _ := testWindow(t)
	before := w.model.Plan()
	dropFile(w, "module.yaml", []byte("format: 1\nid: bad\nname: Bad\nlength_mm: -3\ncell:\n  chemistry: mud\n"), t)
	if !w.blocked() || w.model.Plan() != before {
		t.Error("nothing is said, or something was taken")
	}
}

// A donor dropped on the window begins a plan, which carries the donor's record so that it opens elsewhere.
func TestDropDonorBeginsAPlan(t *testing.T) {
	w, _ := testWindow(t)
	d := clone(catalogue().Donors()[0])
	d.ID, d.Name = "dropped", "Dropped van"
	data, err := vehicles.WriteDonor(d)
	dropFile(w, "donor.yaml", must(t, data, err), t)
	if len(w.dialogs) != 1 {
		t.Fatal("it does not ask what the donor is for")
	}
	w.accept()
	p := w.model.Plan()
	if p.Donor != "dropped" || !w.model.Document().Dirty() || w.path != "" {
		t.Fatalf("the plan's donor is %q", p.Donor)
	}
	path := filepath.Join(t.TempDir(), "new.yaml")
	if err := layout.Save(path, p); err != nil {
		t.Fatal(err)
	}
	if _, err := layout.LoadOver(path, catalogue()); err != nil {
		t.Errorf("the plan does not open: %v", err)
	}
}

func TestDropPlanOpens(t *testing.T) {
	w, _ := testWindow(t)
	p := layout.NewPlan(catalogue().Donors()[0], "Dropped plan")
	data, err := layout.Encode(p)
	dropFile(w, "plan.yaml", must(t, data, err), t)
	if w.model.Plan().Name != "Dropped plan" {
		t.Errorf("open is %q", w.model.Plan().Name)
	}
}

func TestDropPictureGoesUnderTheView(t *testing.T) {
	w, _ := testWindow(t)
	var b strings.Builder
	if err := png.Encode(&b, image.NewRGBA(image.Rect(0, 0, 40, 20))); err != nil {
		t.Fatal(err)
	}
	dropFile(w, "photo.png", []byte(b.String()), t)
	if n := len(w.model.Plan().Underlays); n != 0 || len(w.dialogs) != 1 {
		t.Fatalf("%d pictures before the view is asked for, %d dialogs", n, len(w.dialogs))
	}
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if n := len(w.model.Plan().Underlays); n != 1 {
		t.Errorf("%d pictures", n)
	}
}

// A picture is meant for the view that it is dropped on.
func TestDropPictureOnAView(t *testing.T) {
	w, _ := testWindow(t)
	path := filepath.Join(t.TempDir(), "photo.png")
	var b strings.Builder
	if err := png.Encode(&b, image.NewRGBA(image.Rect(0, 0, 40, 20))); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	side := w.panes[1]
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(side).AddXY(side.Size().Width/2, side.Size().Height/2)
	w.dropped(at, []fyne.URI{storage.NewFileURI(path)})
	w.accept()
	if us := w.model.Plan().Underlays; len(us) != 1 || us[0].View != "side" {
		t.Errorf("pictures: %+v", us)
	}
}

// Drawings ask which outline becomes a bay; a table of modules received asks before it is appended; other files are
// refused with a word on what is of use.
func TestDropOthers(t *testing.T) {
	w, _ := testWindow(t)
	dropFile(w, "bay.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0 H200 V100 H0 Z"/></svg>`), t)
	if len(w.dialogs) != 1 {
		t.Error("an outline does not ask")
	}
	hideAll(w)
	dropFile(w, "modules.csv", []byte("nonsense\n"), t)
	if len(w.dialogs) != 2 {
		t.Errorf("a table opens %d dialogs, want the build record and what is wrong with the table", len(w.dialogs))
	}
	hideAll(w)
	dropFile(w, "letter.txt", []byte("hello"), t)
	if w.blocked() || !strings.Contains(w.model.Status(), ".yaml") {
		t.Errorf("said: %q", w.model.Status())
	}
}

// A change of the file by something else is spoken of once; loading it shows the file.
func TestExternalChangeIsNoticed(t *testing.T) {
	w, path := testWindow(t)
	w.look()
	if w.blocked() {
		t.Fatal("asked although nothing changed")
	}
	p, err := layout.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	p.Name = "Changed elsewhere"
	if err := layout.Save(path, p); err != nil {
		t.Fatal(err)
	}
	w.look()
	if len(w.dialogs) != 1 {
		t.Fatal("the change goes unnoticed")
	}
	w.accept() // keeps the plan as it is here
	w.look()
	if w.blocked() {
		t.Error("asked again for the same change")
	}
	if w.model.Plan().Name != "Test" {
		t.Error("keeping took the file")
	}
	w.reload()
	if w.model.Plan().Name != "Changed elsewhere" {
		t.Error("loading did not take the file")
	}
	w.look()
	if w.blocked() {
		t.Error("asked after loading")
	}
}
