package layout

import (
	"errors"
	"fmt"
	"slices"

	"stowbay/vehicles"
)

// Change gives the edit that f makes in an arrangement. f gets a copy of the arrangement whose lists it may replace, but whose entries
// and boxes it must not change in place: it puts new ones instead (see [Plan] and [Arrangement.WithBox]).
func Change(p *Plan, arrangement, label string, f func(*Arrangement) error) (Edit, error) {
	a, err := p.find(arrangement)
	if err != nil {
		return nil, err
	}
	c := *a
	if err := f(&c); err != nil {
		return nil, err
	}
	if c.ID != a.ID {
		return nil, errors.New("an arrangement keeps its id")
	}
	return Diff(p, p.WithArrangement(&c), label)
}

// ChangeBox gives the edit that f makes in a copy of a box; f works under the same terms as in [Change].
func ChangeBox(p *Plan, arrangement, box, label string, f func(*Box) error) (Edit, error) {
	return Change(p, arrangement, label, func(a *Arrangement) error {
		b := a.Box(box)
		if b == nil {
			return fmt.Errorf("there is no box %q", box)
		}
		c := *b
		if err := f(&c); err != nil {
			return err
		}
		if c.ID != b.ID {
			return errors.New("a box keeps its id; rename it instead")
		}
		*a = *a.WithBox(&c)
		return nil
	})
}

// PutBox gives the edit that puts a box in, in place of the one with its id where there is one.
func PutBox(p *Plan, arrangement string, b *Box) (Edit, error) {
	return Change(p, arrangement, labelled("box", nameOr(b.Name, b.ID), p.hasBox(arrangement, b.ID)), func(a *Arrangement) error {
		if a.Box(b.ID) != nil {
			*a = *a.WithBox(b)
			return nil
		}
		a.Boxes = append(slices.Clip(a.Boxes), b)
		return nil
	})
}

func (p *Plan) hasBox(arrangement, id string) bool {
	a := p.Arrangement(arrangement)
	return a != nil && a.Box(id) != nil
}

// PutModules gives the edit that makes the modules given all the modules of a box: what packing does.
func PutModules(p *Plan, arrangement, box, label string, ms []Placement) (Edit, error) {
	return ChangeBox(p, arrangement, box, label, func(b *Box) error {
		b.Modules = slices.Clone(ms)
		return nil
	})
}

// PutBay gives the edit that puts a bay in, in place of the one with its id where there is one.
func PutBay(p *Plan, arrangement string, bay vehicles.Bay) (Edit, error) {
	return Change(p, arrangement, "Draw bay "+nameOr(bay.Name, bay.ID), func(a *Arrangement) error {
		a.Bays = upsert(a.Bays, bay, func(b vehicles.Bay) string { return b.ID })
		return nil
	})
}

// RemoveBay gives the edit that takes a bay out. Boxes that stand in it stay where they are.
func RemoveBay(p *Plan, arrangement, id string) (Edit, error) {
	return Change(p, arrangement, "Take out bay "+id, func(a *Arrangement) (err error) {
		a.Bays, err = without(a.Bays, "bay", id, func(b vehicles.Bay) string { return b.ID })
		return err
	})
}

// PutKeepOut gives the edit that puts in a keep-out of the arrangement's own, in place of the one with its id where there is one.
func PutKeepOut(p *Plan, arrangement string, k vehicles.KeepOut) (Edit, error) {
	return Change(p, arrangement, "Draw keep-out "+nameOr(k.Name, k.ID), func(a *Arrangement) error {
		a.KeepOuts = upsert(a.KeepOuts, k, func(k vehicles.KeepOut) string { return k.ID })
		return nil
	})
}

// PutGear gives the edit that places gear in a box, or outside the boxes where box is empty, in place of the piece with its id where there is one.
func PutGear(p *Plan, arrangement, box string, g PlacedGear) (Edit, error) {
	label := "Place " + g.Gear
	id := func(g PlacedGear) string { return g.ID }
	if box != "" {
		return ChangeBox(p, arrangement, box, label, func(b *Box) error {
			b.Gear = upsert(b.Gear, g, id)
			return nil
		})
	}
	return Change(p, arrangement, label, func(a *Arrangement) error {
		a.Gear = upsert(a.Gear, g, id)
		return nil
	})
}

// PutStrings gives the edit that sets the series strings; none leaves them to the automatic routing.
func PutStrings(p *Plan, arrangement string, ss []String) (Edit, error) {
	return Change(p, arrangement, "Set the string order", func(a *Arrangement) error {
		a.Strings = slices.Clone(ss)
		return nil
	})
}

// PutSplit gives the edit that sets how many modules are in series in a string and how many strings are in parallel; 0 leaves either to the default.
func PutSplit(p *Plan, arrangement string, series, parallel int) (Edit, error) {
	return Change(p, arrangement, fmt.Sprintf("Set %d in series, %d in parallel", series, parallel), func(a *Arrangement) error {
		a.Series, a.Parallel = series, parallel
		return nil
	})
}

// Remove gives the edit that takes out boxes, modules, gear and feet by their ids: "box", "box/module", "box/gear", "gear" or
// "box/feet/foot".
func Remove(p *Plan, arrangement string, ids ...string) (Edit, error) {
	return Change(p, arrangement, "Take out "+things(ids), func(a *Arrangement) error {
		for _, id := range ids {
			if err := a.remove(id); err != nil {
				return err
			}
		}
		return nil
	})
}

func (a *Arrangement) remove(id string) error {
	boxID, inside, nested := splitID(id)
	if !nested {
		if i := slices.IndexFunc(a.Boxes, func(b *Box) bool { return b.ID == id }); i >= 0 {
			a.Boxes = slices.Delete(slices.Clone(a.Boxes), i, i+1)
			return nil
		}
		return removeGear(&a.Gear, id)
	}
	b := a.Box(boxID)
	if b == nil {
		return nil // taken out with its box just now, or not there
	}
	c := *b
	if i := b.FootIndex(inside); i >= 0 {
		c.Feet = slices.Delete(slices.Clone(b.Feet), i, i+1)
	} else if i := b.Placement(inside); i >= 0 {
		c.Modules = slices.Delete(slices.Clone(b.Modules), i, i+1)
	} else if err := removeGear(&c.Gear, inside); err != nil {
		return err
	}
	*a = *a.WithBox(&c)
	return nil
}

func removeGear(list *[]PlacedGear, id string) (err error) {
	*list, err = without(*list, "box, module or piece of gear", id, func(g PlacedGear) string { return g.ID })
	return err
}

// RenameBox gives the edit that gives a box another id and keeps everything that refers to it.
func RenameBox(p *Plan, arrangement, from, to string) (Edit, error) {
	return Change(p, arrangement, "Rename box "+from, func(a *Arrangement) error {
		if a.Box(from) == nil {
			return fmt.Errorf("there is no box %q", from)
		}
		if a.Box(to) != nil || gearIndex(a.Gear, to) >= 0 {
			return fmt.Errorf("%q is the name of something else", to)
		}
		a.rename(from, to)
		return nil
	})
}

func (a *Arrangement) rename(from, to string) {
	ref := func(id string) string {
		box, inside, nested := splitID(id)
		if box != from {
			return id
		}
		if nested {
			return to + "/" + inside
		}
		return to
	}
	a.Boxes = mapped(a.Boxes, func(b *Box) *Box {
		if b.ID != from {
			return b
		}
		c := *b
		c.ID = to
		return &c
	})
	a.Strings = mapped(a.Strings, func(s String) String { s.Modules = mapped(s.Modules, ref); return s })
	a.Cables = mapped(a.Cables, func(c Cable) Cable { c.From, c.To = ref(c.From), ref(c.To); return c })
	a.Mirrors = mapped(a.Mirrors, func(m Mirror) Mirror { return Mirror{ref(m.Of), ref(m.Box)} })
	a.Loop.Pump, a.Loop.Radiator = ref(a.Loop.Pump), ref(a.Loop.Radiator)
	a.Loop.Branches = mapped(a.Loop.Branches, func(b LoopBranch) LoopBranch { b.Boxes = mapped(b.Boxes, ref); return b })
}

// upsert gives a new list with v in place of the entry with its id, or at the end.
func upsert[T any](list []T, v T, id func(T) string) []T {
	out := slices.Clone(list)
	if i := slices.IndexFunc(out, func(w T) bool { return id(w) == id(v) }); i >= 0 {
		out[i] = v
		return out
	}
	return append(out, v)
}

// without gives a new list without the entry of the id given.
func without[T any](list []T, what, id string, idOf func(T) string) ([]T, error) {
	i := slices.IndexFunc(list, func(v T) bool { return idOf(v) == id })
	if i < 0 {
		return list, fmt.Errorf("there is no %s %q", what, id)
	}
	return slices.Delete(slices.Clone(list), i, i+1), nil
}

func labelled(what, name string, there bool) string {
	if there {
		return "Change " + what + " " + name
	}
	return "Put in " + what + " " + name
}

func nameOr(name, id string) string {
	if name != "" {
		return name
	}
	return id
}

// things names what ids stand for: "box b1", "3 modules".
func things(ids []string) string {
	boxes, inside := 0, 0
	for _, id := range ids {
		if _, _, nested := splitID(id); nested {
			inside++
		} else {
			boxes++
		}
	}
	switch {
	case len(ids) == 1:
		return ids[0]
	case boxes == 0:
		return fmt.Sprintf("%d modules", inside)
	case inside == 0:
		return fmt.Sprintf("%d boxes", boxes)
	}
	return fmt.Sprintf("%d things", len(ids))
}
