package view

import (
	"fmt"
	"slices"

	"stowbay/layout"
	"stowbay/vehicles"
)

// ChangeKeepOut changes a copy of the keep-out at an address in its place, for the edits of layout.Change.
func ChangeKeepOut(a *layout.Arrangement, ref string, f func(*vehicles.KeepOut)) {
	a.EditKeepOuts(ref, func(list []vehicles.KeepOut, i int) []vehicles.KeepOut {
		f(&list[i])
		return list
	})
}

// RemoveKeepOut gives the edit that takes out the keep-out at an address.
func RemoveKeepOut(p *layout.Plan, arrangement, ref string) (layout.Edit, error) {
	return layout.Change(p, arrangement, "Take out keep-out "+ref, func(a *layout.Arrangement) error {
		if !a.EditKeepOuts(ref, func(list []vehicles.KeepOut, i int) []vehicles.KeepOut { return slices.Delete(list, i, i+1) }) {
			return fmt.Errorf("there is no keep-out %s in this arrangement", ref)
		}
		return nil
	})
}
