package view

import (
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/ui/paint"
)

// A module whose slot was taken out of the plan fills none and is free for another one.
func TestRegisterOfASlotTakenOut(t *testing.T) {
	m := testModel(t, 3)
	build := layout.Build{Received: []layout.Received{{Shop: "S1", Module: "block"}, {Shop: "S2", Module: "block"}, {Shop: "S3", Module: "block", Refused: true}}}
	for i, slot := range []string{"low/m1", "low/m2"} {
		build.Slots = append(build.Slots, layout.Slot{Arrangement: m.Arrangement().ID, Slot: slot, Shop: build.Received[i].Shop})
	}
	if err := m.AppendToBuild("Fill", build); err != nil {
		t.Fatal(err)
	}
	head := func() string { return texts(m.RegisterPage(2000, paint.NewFonts()))[0] }
	if got := head(); !strings.HasPrefix(got, "2 of 3 slots") {
		t.Error(got)
	}
	if free := m.FreeFor("low/m3"); len(free) > 0 {
		t.Errorf("%v are free", free)
	}
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.Remove(p, a, "low/m2") }); err != nil {
		t.Fatal(err)
	}
	if got := head(); !strings.HasPrefix(got, "1 of 2 slots") {
		t.Error(got)
	}
	if free := m.FreeFor("low/m3"); !slices.Equal(free, []string{"S2"}) {
		t.Errorf("%v are free, want S2", free)
	}
}
