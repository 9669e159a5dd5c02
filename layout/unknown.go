package layout

import (
	"fmt"
	"slices"
	"strings"

	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

// LibraryOver returns the catalogue given with the plan's own records before it. It makes a new library each time: keep it
// while the plan's Library stays the same, as [Document.Library] does. The catalogue may be nil.
func (p *Plan) LibraryOver(catalogue *vehicles.Library) *vehicles.Library {
	if catalogue == nil {
		catalogue = &vehicles.Library{}
	}
	return catalogue.With(vehicles.Records{Donors: p.Library.Donors, Modules: p.Library.Modules, Gear: p.Library.Gear})
}

// Unknown gives every reference of the plan to a donor, module or piece of gear that the library does not have,
// with its path. Such a plan can be worked on; what is unknown is left out of readings and drawings.
func (p *Plan) Unknown(lib *vehicles.Library) []record.Problem {
	u := &unknown{lib: lib}
	if lib.Donor(p.Donor) == nil {
		u.add("donor", "donor", p.Donor, names(lib.Donors(), func(d *vehicles.Donor) string { return d.ID }))
	}
	u.gear("settings.inverter", p.Settings.Inverter)
	u.gear("settings.charger", p.Settings.Charger)
	for i, id := range p.Settings.Search.Modules {
		u.module(fmt.Sprintf("settings.search.modules[%d]", i), id)
	}
	for i, a := range p.Arrangements {
		u.arrangement(fmt.Sprintf("arrangements[%d]", i), a)
	}
	return u.found
}

type unknown struct {
	lib   *vehicles.Library
	found []record.Problem
}

func (u *unknown) arrangement(at string, a *Arrangement) {
	for i := range a.Gear {
		u.gear(fmt.Sprintf("%s.gear[%d].gear", at, i), a.Gear[i].Gear)
	}
	for i, b := range a.Boxes {
		in := fmt.Sprintf("%s.boxes[%d]", at, i)
		for j := range b.Modules {
			u.module(fmt.Sprintf("%s.modules[%d].module", in, j), b.Modules[j].Module)
		}
		for j := range b.Gear {
			u.gear(fmt.Sprintf("%s.gear[%d].gear", in, j), b.Gear[j].Gear)
		}
	}
}

func (u *unknown) module(at, id string) {
	if u.lib.Module(id) == nil {
		u.add(at, "module", id, names(u.lib.Modules(), func(m *vehicles.Module) string { return m.ID }))
	}
}

func (u *unknown) gear(at, id string) {
	if id != "" && u.lib.Gear(id) == nil {
		u.add(at, "gear", id, names(u.lib.AllGear(), func(g *vehicles.Gear) string { return g.ID }))
	}
}

func (u *unknown) add(at, kind, id string, known []string) {
	msg := fmt.Sprintf("%s %q is neither in the plan's library nor in the catalogue", kind, id)
	if len(known) > 0 {
		msg += "; there are " + strings.Join(known[:min(len(known), 12)], ", ")
	}
	if len(known) > 12 {
		msg += " ..."
	}
	u.found = append(u.found, record.Problem{Path: at, Msg: msg})
}

func names[T any](list []*T, id func(*T) string) []string {
	var out []string
	for _, v := range list {
		out = append(out, id(v))
	}
	return slices.Clip(out)
}
