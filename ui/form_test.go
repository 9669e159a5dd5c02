package ui

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

// record1 is the description of a field of the record that a form edits.
func record1(t *testing.T, f *form, name string) record.Field {
	t.Helper()
	for _, fd := range record.Fields(f.typeAt("")) {
		if fd.Name == name {
			return fd
		}
	}
	t.Fatalf("there is no field %q", name)
	return record.Field{}
}

// A form can be built for every record of the catalogue and for the settings, and building it changes nothing.
func TestFormsOfAllRecords(t *testing.T) {
	w, _ := testWindow(t)
	build := func(name string, v any) {
		before := reflect.ValueOf(v).Elem().Interface()
		f := &form{w: w, value: v, changed: func(f string) { t.Errorf("%s: building the form changed %s", name, f) }}
		f.rows("")
		f.update()
		if !reflect.DeepEqual(before, reflect.ValueOf(v).Elem().Interface()) {
			t.Errorf("%s: building the form changed it", name)
		}
	}
	lib := catalogue()
	for _, d := range lib.Donors() {
		build(d.ID, clone(d))
	}
	for _, m := range lib.Modules() {
		build(m.ID, clone(m))
	}
	for _, g := range lib.AllGear() {
		build(g.ID, clone(g))
	}
	build("settings", &layout.Settings{})
}

func TestCloneIsDeep(t *testing.T) {
	d := catalogue().Donors()[0]
	c := clone(d)
	if !reflect.DeepEqual(d, c) {
		t.Fatal("the copy differs")
	}
	was := d.Bays[0].Levels[0].Outline[0]
	c.Bays[0].Levels[0].Outline[0] = vehicles.XY{was[0] + 1, was[1]}
	if d.Bays[0].Levels[0].Outline[0] != was {
		t.Error("changing the copy changed the original")
	}
}

func TestReadOutlines(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bay.svg")
	svg := `<svg xmlns="http://www.w3.org/2000/svg"><path id="floor" d="M0 0 H200 V100 H0 Z"/><path id="open" d="M0 0 H50"/></svg>`
	if err := os.WriteFile(path, []byte(svg), 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := readOutlines(path)
	if err != nil || len(got.rings) != 1 || got.names[0] != "floor, line 1" || got.rings[0].Bounds().Size() != (r2.Point{X: 200, Y: 100}) {
		t.Errorf("%v, %+v", err, got)
	}
	if len(got.notes) < 2 {
		t.Error("the open path is not mentioned")
	}
}

// A place that may be absent is stated by a tick, typed with units, and absent again without it.
func TestOptionalPlaceInAForm(t *testing.T) {
	w, _ := testWindow(t)
	m := clone(catalogue().Modules()[0])
	m.CGAt = nil
	said := 0
	f := &form{w: w, value: m, changed: func(string) { said++ }}
	fd := record1(t, f, "cg_at_mm")
	row := f.optional("cg_at_mm", fd).(*fyne.Container)
	stated := row.Objects[0].(*tickBox)
	stated.SetChecked(true)
	if m.CGAt == nil || said != 1 {
		t.Fatal("ticking states nothing")
	}
	if !f.set("cg_at_mm[1]", fd, "2in") || m.CGAt[1] != 50.8 {
		t.Errorf("typed 2in, it is %v", *m.CGAt)
	}
	if err := f.checked("cg_at_mm[0]", fd, "-5"); err == nil {
		t.Error("a place outside what is allowed is taken")
	}
	stated.SetChecked(false)
	if m.CGAt != nil {
		t.Error("it is still stated")
	}
}

// The editor stays open while something is wrong, says what, and keeps what was mended; leaving after a change asks.
func TestEditorOfNewGear(t *testing.T) {
	w, _ := testWindow(t)
	w.Do("newgear")
	if len(w.dialogs) != 1 {
		t.Fatal("no editor")
	}
	before := len(w.model.Library().AllGear())
	w.accept()
	if len(w.dialogs) != 1 || len(w.model.Library().AllGear()) != before {
		t.Error("a record without a name and a size was kept")
	}
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.blocked() {
		t.Error("leaving without a change asks")
	}
	g := clone(catalogue().AllGear()[0])
	g.ID = "own"
	w.editor("Gear", g, func() vehicles.Records { return vehicles.Records{Gear: []*vehicles.Gear{g}} })
	e := firstField(w.frontBody().Objects[contentAt])
	e.SetText("own-2")
	w.typedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if len(w.dialogs) != 2 {
		t.Fatalf("leaving after a change leaves %d dialogs, want the question over the editor", len(w.dialogs))
	}
	w.accept() // goes on editing
	w.accept() // keeps
	if w.blocked() || w.model.Library().Gear("own-2") == nil {
		t.Error("the record was not kept")
	}
	w.Do("undo")
	if w.model.Library().Gear("own-2") != nil {
		t.Error("undo leaves the record")
	}
}

// Half a module in series is not taken for none or a whole one.
func TestSeriesAreWholeNumbers(t *testing.T) {
	w, _ := testWindow(t)
	keep := func(typed string) int {
		w.Do("strings")
		firstField(w.frontBody().Objects[contentAt]).SetText(typed)
		w.accept()
		return w.model.Arrangement().Series
	}
	if got := keep("2"); got != 2 {
		t.Errorf("2 modules in series make %d", got)
	}
	if got := keep("1.5"); got != 2 || !strings.Contains(w.model.Status(), "whole numbers") {
		t.Errorf("1.5 modules in series make %d, and %q is said", got, w.model.Status())
	}
}
