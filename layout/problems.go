package layout

import (
	"fmt"
	"path"
	"regexp"
	"strings"

	"stowbay/vehicles"
)

// reporter takes a problem with the path of its field.
type reporter func(path, msg string)

// Problems reports what is wrong with the plan beyond the rules of its fields: names used twice, pictures outside
// the plan's folder. Whether the donor, modules and gear are known is for [Plan.Unknown] to say.
func (p *Plan) Problems(report func(path, msg string)) {
	r := reporter(report)
	r.unique("arrangements", len(p.Arrangements), func(i int) string { return idOf(p.Arrangements[i], func(a *Arrangement) string { return a.ID }) })
	r.unique("underlays", len(p.Underlays), func(i int) string { return p.Underlays[i].ID })
	r.unique("library.donors", len(p.Library.Donors), func(i int) string {
		return idOf(p.Library.Donors[i], func(d *vehicles.Donor) string { return d.ID })
	})
	r.unique("library.modules", len(p.Library.Modules), func(i int) string {
		return idOf(p.Library.Modules[i], func(m *vehicles.Module) string { return m.ID })
	})
	r.unique("library.gear", len(p.Library.Gear), func(i int) string {
		return idOf(p.Library.Gear[i], func(g *vehicles.Gear) string { return g.ID })
	})
	r.unique("settings.mass.load_cases", len(p.Settings.Mass.Cases), func(i int) string { return p.Settings.Mass.Cases[i].ID })
	for i := range p.Underlays {
		r.inside(fmt.Sprintf("underlays[%d].file", i), p.Underlays[i].File)
	}
	if p.Build != nil {
		r.build(p.Build)
	}
}

func (r reporter) build(b *Build) {
	for i := range b.Photos {
		r.inside(fmt.Sprintf("build.photos[%d].file", i), b.Photos[i].File)
	}
	seen := map[string]int{}
	for i := range b.Received {
		n := b.Received[i].Shop
		if first, twice := seen[n]; twice && n != "" {
			r(fmt.Sprintf("build.received[%d].shop_number", i), fmt.Sprintf("%q is the number of entry %d already; every module has its own", n, first+1))
			continue
		}
		seen[n] = i
	}
}

// Problems reports what is wrong with the arrangement beyond the rules of its fields: names used twice,
// references that lead nowhere, boxes that follow each other.
func (a *Arrangement) Problems(report func(path, msg string)) {
	r := reporter(report)
	names := a.names(r)
	r.unique("bays", len(a.Bays), func(i int) string { return a.Bays[i].ID })
	r.unique("keep_outs", len(a.KeepOuts), func(i int) string { return a.KeepOuts[i].ID })
	r.unique("strings", len(a.Strings), func(i int) string { return a.Strings[i].ID })
	r.unique("cables", len(a.Cables), func(i int) string { return a.Cables[i].ID })
	r.unique("parts", len(a.Parts), func(i int) string { return a.Parts[i].ID })
	r.unique("coolant_loop.branches", len(a.Loop.Branches), func(i int) string { return a.Loop.Branches[i].ID })
	for i, b := range a.Boxes {
		if b != nil && b.Bay != "" && a.Bay(b.Bay) == nil {
			r(fmt.Sprintf("boxes[%d].bay", i), fmt.Sprintf("there is no bay %q in this arrangement", b.Bay))
		}
	}
	for i := range a.Bays {
		k := a.Bays[i].KeepOuts
		r.unique(fmt.Sprintf("bays[%d].keep_outs", i), len(k), func(j int) string { return k[j].ID })
	}
	r.strings(a, names)
	r.cables(a, names)
	r.loop(a, names)
	r.mirrors(a)
}

// Problems reports what is wrong with the box beyond the rules of its fields: names used twice, barriers upside down.
func (b *Box) Problems(report func(path, msg string)) {
	r := reporter(report)
	inside := make(map[string]bool, len(b.Modules)+len(b.Gear))
	for i := range b.Modules {
		r.name(inside, "modules[%d].id", i, b.Modules[i].ID)
	}
	for i := range b.Gear {
		r.name(inside, "gear[%d].id", i, b.Gear[i].ID)
	}
	r.unique("feet", len(b.Feet), func(i int) string { return b.Feet[i].ID })
	r.unique("openings", len(b.Openings), func(i int) string { return b.Openings[i].ID })
	r.unique("barriers", len(b.Barriers), func(i int) string { return b.Barriers[i].ID })
	for i := range b.Barriers {
		r.upright(fmt.Sprintf("barriers[%d].ceiling_mm", i), b.Barriers[i].FloorMM, b.Barriers[i].CeilingMM)
	}
}

func (r reporter) upright(path string, floor, ceiling float64) {
	if ceiling <= floor {
		r(path, fmt.Sprintf("%g mm is not above the floor at %g mm", ceiling, floor))
	}
}

// name notes a name and reports it where it is taken already.
func (r reporter) name(taken map[string]bool, path string, i int, id string) {
	if id != "" && taken[id] {
		r(fmt.Sprintf(path, i), fmt.Sprintf("%q is used twice; names are unique", id))
	}
	taken[id] = true
}

func (r reporter) unique(list string, n int, id func(int) string) {
	if n < 2 {
		return
	}
	taken := make(map[string]bool, n)
	for i := range n {
		r.name(taken, list+"[%d].id", i, id(i))
	}
}

func idOf[T any](v *T, id func(*T) string) string {
	if v == nil {
		return ""
	}
	return id(v)
}

var drive = regexp.MustCompile(`^[A-Za-z]:`)

// inside reports a file that does not lie in the plan's folder or below it.
func (r reporter) inside(field, file string) {
	if msg := outside(file); msg != "" {
		r(field, msg)
	}
}

func outside(file string) string {
	clean := path.Clean(file)
	switch {
	case file == "":
		return ""
	case strings.Contains(file, `\`):
		return "has a backslash; folders are divided by /"
	case path.IsAbs(file) || drive.MatchString(file):
		return "is an absolute path; want one relative to the plan's folder"
	case clean == ".." || strings.HasPrefix(clean, "../"):
		return "leaves the plan's folder; want a file in it or below it"
	case clean == ".":
		return "names no file"
	}
	return ""
}

// partNames are the ids that other fields of an arrangement can refer to.
type partNames struct {
	boxes, gear, modules, inner map[string]bool // box, gear outside, box/module, box/gear
}

func (n partNames) end(id string) bool { return n.boxes[id] || n.gear[id] || n.inner[id] }

func (a *Arrangement) names(r reporter) partNames {
	n := partNames{map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}}
	taken := map[string]bool{}
	for i, b := range a.Boxes {
		if b == nil {
			continue
		}
		r.name(taken, "boxes[%d].id", i, b.ID)
		n.boxes[b.ID] = true
		if len(a.Strings) > 0 {
			for j := range b.Modules {
				n.modules[b.ID+"/"+b.Modules[j].ID] = true
			}
		}
		for j := range b.Gear {
			n.inner[b.ID+"/"+b.Gear[j].ID] = true
		}
	}
	for i := range a.Gear {
		r.name(taken, "gear[%d].id", i, a.Gear[i].ID)
		n.gear[a.Gear[i].ID] = true
	}
	return n
}

func (r reporter) strings(a *Arrangement, names partNames) {
	in := map[string]string{}
	for i := range a.Strings {
		for j, m := range a.Strings[i].Modules {
			at := fmt.Sprintf("strings[%d].modules[%d]", i, j)
			if other, twice := in[m]; twice {
				r(at, fmt.Sprintf("module %q is in string %q already; a module is in one string, once", m, other))
			} else if !names.modules[m] {
				r(at, fmt.Sprintf("there is no module %q in this arrangement; want box/module", m))
			}
			in[m] = a.Strings[i].ID
		}
	}
}

func (r reporter) cables(a *Arrangement, names partNames) {
	for i, c := range a.Cables {
		r.end(fmt.Sprintf("cables[%d].from", i), c.From, names)
		r.end(fmt.Sprintf("cables[%d].to", i), c.To, names)
	}
}

func (r reporter) end(at, id string, names partNames) {
	if id != "" && !names.end(id) {
		r(at, fmt.Sprintf("there is no box or gear %q in this arrangement", id))
	}
}

func (r reporter) loop(a *Arrangement, names partNames) {
	r.end("coolant_loop.pump", a.Loop.Pump, names)
	r.end("coolant_loop.radiator", a.Loop.Radiator, names)
	for i := range a.Loop.Branches {
		for j, id := range a.Loop.Branches[i].Boxes {
			r.end(fmt.Sprintf("coolant_loop.branches[%d].boxes[%d]", i, j), id, names)
		}
	}
}

func (r reporter) mirrors(a *Arrangement) {
	follows := map[string]bool{}
	for i, m := range a.Mirrors {
		switch at := fmt.Sprintf("mirrors[%d]", i); {
		case a.Box(m.Of) == nil:
			r(at+".of", fmt.Sprintf("there is no box %q in this arrangement", m.Of))
		case a.Box(m.Box) == nil:
			r(at+".box", fmt.Sprintf("there is no box %q in this arrangement", m.Box))
		case m.Of == m.Box:
			r(at+".box", "a box cannot follow itself")
		case follows[m.Box]:
			r(at+".box", fmt.Sprintf("box %q follows another box already", m.Box))
		}
		follows[m.Box] = true
	}
	for i, m := range a.Mirrors {
		if follows[m.Of] && m.Of != m.Box {
			r(fmt.Sprintf("mirrors[%d].of", i), fmt.Sprintf("box %q follows another box itself; a mirror image of a mirror image is where the first one is", m.Of))
		}
	}
}
