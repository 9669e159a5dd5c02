package layout

import (
	"fmt"
	"slices"

	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

// Settle makes an edit in a plan and everything that follows from it: boxes that follow another one as its mirror image
// are made anew, references to what is gone are dropped from strings, cables, the coolant loop and the mirror links.
// It gives the edit with all of that in it as one step, and the plan it leads to. An edit that would leave a plan that cannot be
// read back is an error that says why.
//
// lib is the plan's library over the catalogue, for the sizes of modules.
func Settle(p *Plan, e Edit, lib *vehicles.Library) (Edit, *Plan, error) {
	made, err := e.Apply(p)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", e.Label(), err)
	}
	settled, err := settlePlan(p, made, lib)
	if err == nil {
		err = planProblems(p, settled)
	}
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", e.Label(), err)
	}
	if settled == made {
		return e, made, nil
	}
	rest, err := Diff(made, settled, e.Label())
	if err != nil {
		return nil, nil, err
	}
	return Together(e.Label(), e, rest), settled, nil
}

func settlePlan(before, made *Plan, lib *vehicles.Library) (*Plan, error) {
	settled := made
	for _, a := range made.Arrangements {
		old := before.Arrangement(a.ID)
		if a == old {
			continue
		}
		s, err := settleArrangement(old, a, lib)
		if err != nil {
			return nil, err
		}
		if s != a {
			settled = settled.WithArrangement(s)
		}
	}
	return settled, nil
}

func settleArrangement(old, a *Arrangement, lib *vehicles.Library) (*Arrangement, error) {
	if old != nil && sameParts(old, a) {
		return follow(old, a, lib)
	}
	return follow(old, withoutDangling(a), lib)
}

// follow makes the boxes anew that are linked to one that changed: the mirror image, or where that was changed itself, the
// one that it is the image of. Where both were changed the image follows.
func follow(old, a *Arrangement, lib *vehicles.Library) (*Arrangement, error) {
	for _, m := range a.Mirrors {
		of, box := a.Box(m.Of), a.Box(m.Box)
		if of == nil || box == nil || of == box {
			continue // Problems says so
		}
		if old != nil && old.Box(m.Of) == of && old.Box(m.Box) == box && slices.Contains(old.Mirrors, m) {
			continue
		}
		if old != nil && old.Box(m.Of) == of && old.Box(m.Box) != nil && slices.Contains(old.Mirrors, m) && !alike(MirrorBox(of, box, lib), box) {
			if of.Locked {
				return nil, fmt.Errorf("box %q is the mirror image of box %q, which is locked; free that one, or end the mirror link", m.Box, m.Of)
			}
			of = MirrorBox(box, of, lib)
			a = a.WithBox(of)
		}
		if want := MirrorBox(of, box, lib); !alike(want, box) {
			a = a.WithBox(want)
		}
	}
	return a, nil
}

// sameParts tells whether two arrangements have the same boxes, modules, gear and bays by name.
func sameParts(a, b *Arrangement) bool {
	sameGear := func(x, y PlacedGear) bool { return x.ID == y.ID }
	return slices.EqualFunc(a.Boxes, b.Boxes, func(x, y *Box) bool {
		return x == y || x.ID == y.ID &&
			slices.EqualFunc(x.Modules, y.Modules, func(m, n Placement) bool { return m.ID == n.ID }) &&
			slices.EqualFunc(x.Gear, y.Gear, sameGear)
	}) && slices.EqualFunc(a.Gear, b.Gear, sameGear) &&
		slices.EqualFunc(a.Bays, b.Bays, func(x, y vehicles.Bay) bool { return x.ID == y.ID })
}

// withoutDangling drops the references of an arrangement to what is not in it.
func withoutDangling(a *Arrangement) *Arrangement {
	names := a.names(func(string, string) {})
	c := *a
	c.Strings = filtered(a.Strings, func(s String) (String, bool) {
		s.Modules = slices.DeleteFunc(slices.Clone(s.Modules), func(id string) bool { return !names.modules[id] })
		return s, len(s.Modules) > 0
	})
	c.Cables = filtered(a.Cables, func(k Cable) (Cable, bool) { return k, names.end(k.From) && names.end(k.To) })
	c.Mirrors = filtered(a.Mirrors, func(m Mirror) (Mirror, bool) { return m, names.boxes[m.Of] && names.boxes[m.Box] })
	c.Loop = loopWithout(a.Loop, names)
	for _, b := range a.Boxes {
		if b.Bay != "" && a.Bay(b.Bay) == nil {
			d := *b
			d.Bay = ""
			c = *c.WithBox(&d)
		}
	}
	if alike(&c, a) {
		return a
	}
	return &c
}

func loopWithout(l Loop, names partNames) Loop {
	if l.Pump != "" && !names.end(l.Pump) {
		l.Pump = ""
	}
	if l.Radiator != "" && !names.end(l.Radiator) {
		l.Radiator = ""
	}
	l.Branches = filtered(l.Branches, func(b LoopBranch) (LoopBranch, bool) {
		b.Boxes = slices.DeleteFunc(slices.Clone(b.Boxes), func(id string) bool { return !names.end(id) })
		return b, len(b.Boxes) > 0
	})
	return l
}

func filtered[T any](list []T, keep func(T) (T, bool)) []T {
	var out []T
	for _, v := range list {
		if w, ok := keep(v); ok {
			out = append(out, w)
		}
	}
	return out
}

// planProblems checks what differs between two plans for names used twice and references that lead nowhere.
func planProblems(before, after *Plan) error {
	var found record.Problems
	report := func(base string) func(string, string) {
		return func(path, msg string) { found = append(found, record.Problem{Path: base + path, Msg: msg}) }
	}
	if n := len(after.Arrangements); n == 0 {
		report("")("arrangements", "a plan needs one arrangement at least")
	}
	reporter(report("")).lengths(after)
	reporter(report("library.")).lengths(&after.Library)
	after.Problems(report(""))
	for i, a := range after.Arrangements {
		if old := before.Arrangement(a.ID); old != a {
			base := fmt.Sprintf("arrangements[%d].", i)
			reporter(report(base)).lengths(a)
			a.Problems(report(base))
			for j, b := range a.Boxes {
				if old == nil || old.Box(b.ID) != b {
					in := fmt.Sprintf("%sboxes[%d].", base, j)
					reporter(report(in)).lengths(b)
					b.Problems(report(in))
				}
			}
		}
	}
	if len(found) > 0 {
		return found
	}
	return nil
}
