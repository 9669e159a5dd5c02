package vehicles

import (
	"maps"
	"slices"
)

// Library finds records by id. A plan's own records come before those it was made from.
// Records handed out are shared: nobody changes them in place.
type Library struct {
	donors  map[string]*Donor
	modules map[string]*Module
	gear    map[string]*Gear
}

// NewLibrary returns a library of the records given. A later record replaces an earlier one with the same id.
func NewLibrary(donors []*Donor, modules []*Module, gear []*Gear) *Library {
	return (&Library{}).With(donors, modules, gear)
}

// With returns a library in which the records given come before l's own. l stays as it is; it may be nil.
func (l *Library) With(donors []*Donor, modules []*Module, gear []*Gear) *Library {
	if l == nil {
		l = &Library{}
	}
	out := &Library{donors: map[string]*Donor{}, modules: map[string]*Module{}, gear: map[string]*Gear{}}
	merge(out.donors, l.donors, donors, func(d *Donor) string { return d.ID })
	merge(out.modules, l.modules, modules, func(m *Module) string { return m.ID })
	merge(out.gear, l.gear, gear, func(g *Gear) string { return g.ID })
	return out
}

func merge[T any](into, old map[string]T, more []T, id func(T) string) {
	for k, v := range old {
		into[k] = v
	}
	for _, v := range more {
		into[id(v)] = v
	}
}

// Donor returns the donor with that id, or nil.
func (l *Library) Donor(id string) *Donor { return l.donors[id] }

// Module returns the module with that id, or nil.
func (l *Library) Module(id string) *Module { return l.modules[id] }

// Gear returns the piece of gear with that id, or nil.
func (l *Library) Gear(id string) *Gear { return l.gear[id] }

// Donors returns all donors sorted by id.
func (l *Library) Donors() []*Donor { return sorted(l.donors) }

// Modules returns all modules sorted by id.
func (l *Library) Modules() []*Module { return sorted(l.modules) }

// AllGear returns all gear sorted by id.
func (l *Library) AllGear() []*Gear { return sorted(l.gear) }

func sorted[T any](m map[string]T) []T {
	keys := slices.Sorted(maps.Keys(m))
	out := make([]T, len(keys))
	for i, k := range keys {
		out[i] = m[k]
	}
	return out
}
