package layout

import (
	"slices"
	"strings"

	"stowbay/vehicles"
)

// A keep-out's id is its own only within its list: the donor, the arrangement and each bay may all have one of the same
// id, and a box, a bay or a piece of gear too. Its address is the id where nothing that comes before it has the same: what is not a
// keep-out, then the arrangement's own keep-outs, those of its bays in their order, then the donor's. Else the owner
// stands before it, as "bay:id". No owner of ours can be called like a bay, whose ids have no capitals.
const (
	ownKeepOuts   = "Plan"
	donorKeepOuts = "Donor"
)

// keepOutList is where a list of keep-outs hangs.
type keepOutList struct {
	owner string
	list  []vehicles.KeepOut
}

// keepOutLists are the lists that can be changed in an arrangement, in the order in which they have the right to a plain
// id.
func (a *Arrangement) keepOutLists() []keepOutList {
	out := []keepOutList{{ownKeepOuts, a.KeepOuts}}
	for i := range a.Bays {
		out = append(out, keepOutList{a.Bays[i].ID, a.Bays[i].KeepOuts})
	}
	return out
}

func keepOutIndex(list []vehicles.KeepOut, id string) int {
	return slices.IndexFunc(list, func(k vehicles.KeepOut) bool { return k.ID == id })
}

// keepOutRef is the address of a keep-out of an owner.
func (a *Arrangement) keepOutRef(owner, id string) string {
	if a.Taken(id) || a.Bay(id) != nil {
		return owner + ":" + id
	}
	for _, l := range a.keepOutLists() {
		if l.owner == owner {
			return id
		}
		if keepOutIndex(l.list, id) >= 0 {
			return owner + ":" + id
		}
	}
	return id
}

// findKeepOut is the owner and the index of the keep-out at an address; the index is -1 where the arrangement has none.
func (a *Arrangement) findKeepOut(ref string) (owner string, at int) {
	owner, id, full := strings.Cut(ref, ":")
	if !full && (a.Taken(ref) || a.Bay(ref) != nil) {
		return "", -1
	}
	for _, l := range a.keepOutLists() {
		if full && l.owner != owner {
			continue
		}
		name := id
		if !full {
			name = ref
		}
		if i := keepOutIndex(l.list, name); i >= 0 {
			return l.owner, i
		}
	}
	return "", -1
}

// KeepOut returns the keep-out of the arrangement or of a bay in it that has an address, as [KeepOutScene] gives it; nil
// where there is none. It must not be changed.
func (a *Arrangement) KeepOut(ref string) *vehicles.KeepOut {
	owner, i := a.findKeepOut(ref)
	for _, l := range a.keepOutLists() {
		if i >= 0 && l.owner == owner {
			return &l.list[i]
		}
	}
	return nil
}

// KeepOutBay returns the id of the bay that holds the keep-out at an address; "" where none does.
func (a *Arrangement) KeepOutBay(ref string) string {
	if owner, i := a.findKeepOut(ref); i >= 0 && owner != ownKeepOuts {
		return owner
	}
	return ""
}

// EditKeepOuts puts a changed copy of the list that holds the keep-out at an address in its place, for the edits of
// [Change]; f gets the copy and the keep-out's index in it. It reports whether there is such a keep-out.
func (a *Arrangement) EditKeepOuts(ref string, f func(list []vehicles.KeepOut, i int) []vehicles.KeepOut) bool {
	owner, i := a.findKeepOut(ref)
	switch {
	case i < 0:
		return false
	case owner == ownKeepOuts:
		a.KeepOuts = f(slices.Clone(a.KeepOuts), i)
		return true
	}
	a.Bays = slices.Clone(a.Bays)
	for b := range a.Bays {
		if a.Bays[b].ID == owner {
			a.Bays[b].KeepOuts = f(slices.Clone(a.Bays[b].KeepOuts), i)
		}
	}
	return true
}

// addressKeepOuts gives each keep-out of a scene its address. The list may belong to another scene too and is copied before
// anything in it is changed.
func (s *Scene) addressKeepOuts() {
	own := true
	for i := range s.KeepOuts {
		k := &s.KeepOuts[i]
		ref := s.Arrangement.keepOutRef(k.Of, k.KeepOut.ID)
		if ref == k.Ref {
			continue
		}
		if own {
			s.KeepOuts, own = slices.Clone(s.KeepOuts), false
		}
		s.KeepOuts[i].Ref = ref
	}
}
