package vehicles

import "slices"

// Records are donors, modules and gear of somebody's own. In a library they stand in front of the embedded ones.
type Records struct {
	Donors  []*Donor
	Modules []*Module
	Gear    []*Gear
}

// Library finds donors, modules and gear by their short names. It does not change and may be used by several
// goroutines. The records it hands out are shared: copy one before changing it.
type Library struct {
	donors  shelf[Donor]
	modules shelf[Module]
	gear    shelf[Gear]
}

// shelf maps short names to records that may still have to be read.
type shelf[T any] map[string]func() *T

func (s shelf[T]) get(id string) *T {
	if load, ok := s[id]; ok {
		return load()
	}
	return nil
}

// all reads everything on the shelf, in the order of the short names.
func (s shelf[T]) all() []*T {
	ids := make([]string, 0, len(s))
	for id := range s {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	out := make([]*T, len(ids))
	for i, id := range ids {
		out[i] = s[id]()
	}
	return out
}

// with returns a shelf with own records in front of those in s.
func (s shelf[T]) with(own []*T, id func(*T) string) shelf[T] {
	out := make(shelf[T], len(s)+len(own))
	for k, load := range s {
		out[k] = load
	}
	for _, v := range own {
		if v != nil {
			out[id(v)] = func() *T { return v }
		}
	}
	return out
}

// Donor returns the donor of that short name, or nil.
func (l *Library) Donor(id string) *Donor { return l.donors.get(id) }

// Module returns the module of that short name, or nil.
func (l *Library) Module(id string) *Module { return l.modules.get(id) }

// Gear returns the piece of gear of that short name, or nil.
func (l *Library) Gear(id string) *Gear { return l.gear.get(id) }

// Donors returns all donors, sorted by short name.
func (l *Library) Donors() []*Donor { return l.donors.all() }

// Modules returns all modules, sorted by short name.
func (l *Library) Modules() []*Module { return l.modules.all() }

// AllGear returns all gear, sorted by short name.
func (l *Library) AllGear() []*Gear { return l.gear.all() }

// With returns a library in which own records come before those of l: the same short name means the own record.
// The records are used as they are, not copied.
func (l *Library) With(own Records) *Library {
	return &Library{
		donors:  l.donors.with(own.Donors, func(d *Donor) string { return d.ID }),
		modules: l.modules.with(own.Modules, func(m *Module) string { return m.ID }),
		gear:    l.gear.with(own.Gear, func(g *Gear) string { return g.ID }),
	}
}
