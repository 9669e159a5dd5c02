package ui

import (
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Of two keep-outs of one id the details show and change the one that is picked.
func TestDetailsOfKeepOutsOfOneID(t *testing.T) {
	w, _ := testWindow(t)
	post := vehicles.KeepOut{ID: "post", Kind: "fixed", Outline: []vehicles.XY{{2000, 0}, {2050, 0}, {2050, 50}}, FloorMM: 300, CeilingMM: 400}
	bay := *w.model.Arrangement().Bay(w.model.Arrangement().Bays[0].ID)
	for _, act := range []func(p *layout.Plan, a string) (layout.Edit, error){
		func(p *layout.Plan, a string) (layout.Edit, error) { return layout.PutKeepOut(p, a, post) },
		func(p *layout.Plan, a string) (layout.Edit, error) {
			b := bay
			b.KeepOuts = append(b.KeepOuts[:len(b.KeepOuts):len(b.KeepOuts)], post)
			return layout.PutBay(p, a, b)
		},
	} {
		if err := w.model.Do(act); err != nil {
			t.Fatal(err)
		}
	}
	w.showLeft(detailsPane)
	for ref, title := range map[string]string{"post": "Keep-out post", bay.ID + ":post": "Keep-out post of bay " + bay.ID} {
		w.model.Pick(ref)
		d := w.left.details
		if d.form == nil || d.title(ref) != title {
			t.Fatalf("%s: titled %q", ref, d.title(ref))
		}
		if !d.form.set("ceiling_mm", record1(t, d.form, "ceiling_mm"), "450") || w.model.Arrangement().KeepOut(ref).CeilingMM != 450 {
			t.Errorf("%s: not changed: %s", ref, w.model.Status())
		}
		if n := len(w.model.Selection.Refs()); n != 1 {
			t.Errorf("%s: %d picked after the change", ref, n)
		}
		w.Do("undo")
		w.model.Pick(ref)
		own, all := len(w.model.Arrangement().KeepOuts), len(w.model.Scene().KeepOuts)
		w.Do("delete")
		if gone := own - len(w.model.Arrangement().KeepOuts); len(w.model.Scene().KeepOuts) != all-1 || (gone == 1) != (ref == "post") {
			t.Errorf("%s: the wrong one was taken out, or none", ref)
		}
		w.Do("undo")
	}
}
