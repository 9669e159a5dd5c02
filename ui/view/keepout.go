package view

import (
	"fmt"
	"slices"

	"stowbay/layout"
	"stowbay/vehicles"
)

// KeepOut returns the one keep-out of an arrangement or of a bay in it with that id; nil where there is none, or several.
func KeepOut(a *layout.Arrangement, id string) *vehicles.KeepOut {
	var found []*vehicles.KeepOut
	add := func(ks []vehicles.KeepOut) {
		for i := range ks {
			if ks[i].ID == id {
				found = append(found, &ks[i])
			}
		}
	}
	add(a.KeepOuts)
	for i := range a.Bays {
		add(a.Bays[i].KeepOuts)
	}
	if len(found) != 1 {
		return nil
	}
	return found[0]
}

// ChangeKeepOut changes a copy of the keep-out that [KeepOut] finds, in its place.
func ChangeKeepOut(a *layout.Arrangement, id string, f func(*vehicles.KeepOut)) {
	change := func(ks []vehicles.KeepOut) ([]vehicles.KeepOut, bool) {
		i := slices.IndexFunc(ks, func(k vehicles.KeepOut) bool { return k.ID == id })
		if i < 0 {
			return ks, false
		}
		ks = slices.Clone(ks)
		f(&ks[i])
		return ks, true
	}
	if ks, ok := change(a.KeepOuts); ok {
		a.KeepOuts = ks
		return
	}
	for i := range a.Bays {
		if ks, ok := change(a.Bays[i].KeepOuts); ok {
			a.Bays = slices.Clone(a.Bays)
			a.Bays[i].KeepOuts = ks
			return
		}
	}
}

// RemoveKeepOut gives the edit that takes out the keep-out that [KeepOut] finds.
func RemoveKeepOut(p *layout.Plan, arrangement, id string) (layout.Edit, error) {
	return layout.Change(p, arrangement, "Take out keep-out "+id, func(a *layout.Arrangement) error {
		is := func(k vehicles.KeepOut) bool { return k.ID == id }
		if KeepOut(a, id) == nil {
			return fmt.Errorf("there is no single keep-out %s", id)
		}
		a.KeepOuts = slices.DeleteFunc(slices.Clone(a.KeepOuts), is)
		a.Bays = slices.Clone(a.Bays)
		for i := range a.Bays {
			a.Bays[i].KeepOuts = slices.DeleteFunc(slices.Clone(a.Bays[i].KeepOuts), is)
		}
		return nil
	})
}
