package layout

import (
	"errors"

	"stowbay/vehicles"
)

// Diff gives the edit that takes the plan before to the plan after, with the label given. What the two share is passed over
// at once, so that a plan derived from another by replacing parts costs little. The build record may only grow;
// anything else is an error. Where nothing differs the edit is empty (see [IsEmpty]).
func Diff(before, after *Plan, label string) (Edit, error) {
	d := &differ{}
	bh, ah := before.head(), after.head()
	diffValue(d, headSlot, where{}, &bh, &ah)
	diffValue(d, settingsSlot, where{}, &before.Settings, &after.Settings)
	diffList(d, underlaySlot, where{}, refs(before.Underlays), refs(after.Underlays))
	diffList(d, donorSlot, where{}, before.Library.Donors, after.Library.Donors)
	diffList(d, moduleSlot, where{}, before.Library.Modules, after.Library.Modules)
	diffList(d, gearRecordSlot, where{}, before.Library.Gear, after.Library.Gear)
	diffNested(d, arrangementSlot, where{}, before.Arrangements, after.Arrangements,
		func(a *Arrangement) string { return a.ID }, d.arrangement)
	if err := d.build(before.Build, after.Build); err != nil {
		return nil, err
	}
	return &batch{text: label, edits: d.edits}, nil
}

type differ struct{ edits []Edit }

func (d *differ) arrangement(a, b *Arrangement) {
	at := where{Arrangement: b.ID}
	diffValue(d, arrangementHeadSlot, at, a.head(), b.head())
	diffList(d, baySlot, at, refs(a.Bays), refs(b.Bays))
	diffList(d, keepOutSlot, at, refs(a.KeepOuts), refs(b.KeepOuts))
	diffNested(d, boxSlot, at, a.Boxes, b.Boxes, func(b *Box) string { return b.ID }, func(x, y *Box) { d.box(at, x, y) })
	diffList(d, gearSlot, at, refs(a.Gear), refs(b.Gear))
	diffList(d, stringSlot, at, refs(a.Strings), refs(b.Strings))
	diffList(d, cableSlot, at, refs(a.Cables), refs(b.Cables))
	diffList(d, partSlot, at, refs(a.Parts), refs(b.Parts))
	diffList(d, mirrorSlot, at, refs(a.Mirrors), refs(b.Mirrors))
}

func (d *differ) box(at where, a, b *Box) {
	at.Box = b.ID
	diffValue(d, boxHeadSlot, at, a.head(), b.head())
	diffList(d, placementSlot, at, refs(a.Modules), refs(b.Modules))
	diffList(d, boxGearSlot, at, refs(a.Gear), refs(b.Gear))
	diffList(d, footSlot, at, refs(a.Feet), refs(b.Feet))
	diffList(d, openingSlot, at, refs(a.Openings), refs(b.Openings))
	diffList(d, barrierSlot, at, refs(a.Barriers), refs(b.Barriers))
}

var errBuild = errors.New("entries of the build record stand; they cannot be changed or taken out")

func (d *differ) build(a, b *Build) error {
	if alike(a, b) {
		return nil
	}
	if b == nil {
		return errBuild
	}
	if a == nil {
		a = &Build{}
	}
	ok := grows(a.Received, b.Received) && grows(a.Slots, b.Slots) && grows(a.Signed, b.Signed) && grows(a.Photos, b.Photos) && grows(a.Tests, b.Tests)
	if !ok {
		return errBuild
	}
	d.edits = append(d.edits, &Append{Entries: Build{
		Received: b.Received[len(a.Received):],
		Slots:    b.Slots[len(a.Slots):],
		Signed:   b.Signed[len(a.Signed):],
		Photos:   b.Photos[len(a.Photos):],
		Tests:    b.Tests[len(a.Tests):],
	}})
	return nil
}

// grows tells whether b starts with all of a.
func grows[T any](a, b []T) bool {
	if len(b) < len(a) {
		return false
	}
	for i := range a {
		if !alike(&a[i], &b[i]) {
			return false
		}
	}
	return true
}

func diffValue[T any](d *differ, s *slot[T], at where, a, b *T) {
	if !s.same(a, b) {
		add(d, s, at, []change[T]{{0, copied(a), copied(b)}})
	}
}

// diffList drops the entries that both lists begin and end with, replaces what is between one by one and puts in or takes out the rest.
func diffList[T any](d *differ, s *slot[T], at where, a, b []*T) {
	head, tail := shared(a, b, s.same)
	add(d, s, at, between(a, b, head, tail, s.same))
}

// diffNested is diffList for entries that are compared inside where their ids are the same.
func diffNested[T any](d *differ, s *slot[T], at where, a, b []*T, id func(*T) string, inside func(a, b *T)) {
	named := func(x, y *T) bool { return x == y || id(x) == id(y) }
	head, tail := shared(a, b, named)
	add(d, s, at, between(a, b, head, tail, s.same))
	for i := range head {
		if a[i] != b[i] {
			inside(a[i], b[i])
		}
	}
	for i := range tail {
		if x, y := a[len(a)-tail+i], b[len(b)-tail+i]; x != y {
			inside(x, y)
		}
	}
}

// shared counts the entries that are the same at the start and, apart from those, at the end of two lists.
func shared[T any](a, b []*T, same func(a, b *T) bool) (head, tail int) {
	n := min(len(a), len(b))
	for head < n && same(a[head], b[head]) {
		head++
	}
	for tail < n-head && same(a[len(a)-1-tail], b[len(b)-1-tail]) {
		tail++
	}
	return head, tail
}

func between[T any](a, b []*T, head, tail int, same func(a, b *T) bool) []change[T] {
	a, b = a[head:len(a)-tail], b[head:len(b)-tail]
	var out []change[T]
	n := min(len(a), len(b))
	for i := range n {
		if !same(a[i], b[i]) {
			out = append(out, change[T]{head + i, kept(a[i]), kept(b[i])})
		}
	}
	for i := len(a) - 1; i >= n; i-- {
		out = append(out, change[T]{head + i, kept(a[i]), nil})
	}
	for i := n; i < len(b); i++ {
		out = append(out, change[T]{head + i, nil, kept(b[i])})
	}
	return out
}

// kept is the entry for the history. Boxes, arrangements and records are kept as they are, so that an undo
// brings back the very same one; the entries of plain lists are copied, so that the history does not hold whole old lists.
func kept[T any](v *T) *T {
	switch any(v).(type) {
	case *Box, *Arrangement, *vehicles.Donor, *vehicles.Module, *vehicles.Gear:
		return v
	}
	return copied(v)
}

func copied[T any](v *T) *T {
	c := *v
	return &c
}

func add[T any](d *differ, s *slot[T], at where, changes []change[T]) {
	if len(changes) > 0 {
		at.Kind = s.kind
		d.edits = append(d.edits, &put[T]{at: at, changes: changes})
	}
}
