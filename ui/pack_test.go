package ui

import (
	"context"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/fill"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// packNow packs without the dialog and shows what came out.
func packNow(t *testing.T, w *Window, only string) (said string) {
	t.Helper()
	wish := fill.Wish{Module: w.model.Library().Module("nmc-355"), Limit: 200 * time.Millisecond}
	done, err := packOnly(context.Background(), w.model.Arrangement(), w.model.Library(), wish, only, nil)
	w.packed(done, err)
	for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
		if r, ok := o.(*widget.RichText); ok {
			said += r.String()
		}
	}
	hideAll(w)
	return said
}

// A bay in which nothing fits gets no box and no step in the history, whether it is packed alone or with all others; it is
// said plainly that none fits and why, in the units shown.
func TestPackingWhereNothingFits(t *testing.T) {
	w, _ := testWindow(t)
	bay := vehicles.Bay{ID: "low", Name: "Low bay", Levels: []vehicles.Level{{Outline: []vehicles.XY{{600, 450}, {1400, 450}, {1400, 800}, {600, 800}}, FloorMM: 200, CeilingMM: 254}}}
	if err := w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.PutBay(p, a, bay) }); err != nil {
		t.Fatal(err)
	}
	_, steps := w.model.Document().History()
	said := packNow(t, w, "low")
	if want := "Low bay: none fits, which is proved; the bay gets no box."; !strings.Contains(said, want) {
		t.Errorf("said %q, want %q", said, want)
	}
	if want := "Why: the height inside is 49 mm, and the module needs 120 mm"; !strings.Contains(said, want) {
		t.Errorf("said %q, want %q", said, want)
	}
	if strings.Contains(said, "0 fit") || strings.Contains(said, "impossible") {
		t.Errorf("said %q", said)
	}
	_, now := w.model.Document().History()
	if n := len(w.model.Arrangement().Boxes); n != 1 || now != steps {
		t.Errorf("%d boxes and %d more steps after packing a bay that fits nothing", n, now-steps)
	}
	said = packNow(t, w, "")
	for _, b := range w.model.Arrangement().Boxes {
		if b.Bay == "low" || b.Bay != "" && len(b.Modules) == 0 {
			t.Errorf("all packed: box %s of bay %q with %d modules", b.ID, b.Bay, len(b.Modules))
		}
	}
	if !strings.Contains(said, "mid: ") || !strings.Contains(said, "Low bay: none fits") {
		t.Errorf("all packed: said %q", said)
	}
	w.Do("units")
	if said = packNow(t, w, "low"); !strings.Contains(said, "the height inside is 1.9") || strings.Contains(said, " mm") {
		t.Errorf("in inches: %q", said)
	}
}

// A box that stood before stays where nothing fits in it.
func TestPackingAStandingBoxThatHoldsNothing(t *testing.T) {
	w, _ := testWindow(t)
	small := &layout.Box{ID: "small", At: vehicles.XYZ{600, 450, 200}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {200, 0}, {200, 200}, {0, 200}}, CeilingMM: 200}}}
	if err := w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.PutBox(p, a, small) }); err != nil {
		t.Fatal(err)
	}
	said := packNow(t, w, "small")
	if w.model.Arrangement().Box("small") == nil || !strings.Contains(said, "small: none fits, which is proved.") {
		t.Errorf("said %q of a box that stays: %v", said, w.model.Arrangement().Box("small") != nil)
	}
}

func TestProgressCallsTheBoxByItsName(t *testing.T) {
	a := &layout.Arrangement{Boxes: []*layout.Box{{ID: "b1", Name: "Under the seats"}, {ID: "b2"}}}
	for id, want := range map[string]string{"b1": "Under the seats: 3 found", "b2": "b2: 3 found", "new-box": "new-box: 3 found"} {
		if got := progressText(&packing.Progress{Bay: id, Count: 3, Bound: 5}, a, time.Second); !strings.HasPrefix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
