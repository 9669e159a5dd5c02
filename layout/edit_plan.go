package layout

import (
	"fmt"
	"slices"

	"stowbay/vehicles"
)

// Heading is what a plan says of itself: what the report's title block shows.
type Heading struct {
	Name, Revision, Date, Author, Note string
}

// PutHeading gives the edit that sets what the plan says of itself.
func PutHeading(p *Plan, h Heading) (Edit, error) {
	q := *p
	q.Name, q.Revision, q.Date, q.Author, q.Note = h.Name, h.Revision, h.Date, h.Author, h.Note
	return Diff(p, &q, "Change the title block")
}

// PutSettings gives the edit that sets the plan's settings.
func PutSettings(p *Plan, s Settings) (Edit, error) {
	q := *p
	q.Settings = s
	return Diff(p, &q, "Change settings")
}

// ChooseDonor gives the edit that makes another donor the plan's. The arrangements keep their bays.
func ChooseDonor(p *Plan, id string) (Edit, error) {
	q := *p
	q.Donor = id
	return Diff(p, &q, "Choose donor "+id)
}

// PutUnderlay gives the edit that lays a picture under a view, in place of the one with its id where there is one.
func PutUnderlay(p *Plan, u Underlay) (Edit, error) {
	q := *p
	q.Underlays = upsert(p.Underlays, u, func(u Underlay) string { return u.ID })
	return Diff(p, &q, "Lay picture "+u.ID)
}

// RemoveUnderlay gives the edit that takes a picture out. Its file stays.
func RemoveUnderlay(p *Plan, id string) (Edit, error) {
	q := *p
	var err error
	if q.Underlays, err = without(p.Underlays, "picture", id, func(u Underlay) string { return u.ID }); err != nil {
		return nil, err
	}
	return Diff(p, &q, "Take out picture "+id)
}

// PutRecords gives the edit that puts donors, modules and gear into the plan's own library, each in place of the
// one with its id where there is one.
func PutRecords(p *Plan, r vehicles.Records) (Edit, error) {
	q := *p
	for _, d := range r.Donors {
		q.Library.Donors = upsert(q.Library.Donors, d, func(d *vehicles.Donor) string { return d.ID })
	}
	for _, m := range r.Modules {
		q.Library.Modules = upsert(q.Library.Modules, m, func(m *vehicles.Module) string { return m.ID })
	}
	for _, g := range r.Gear {
		q.Library.Gear = upsert(q.Library.Gear, g, func(g *vehicles.Gear) string { return g.ID })
	}
	return Diff(p, &q, "Change the plan's library")
}

// RemoveDonor gives the edit that takes a donor out of the plan's own library; the catalogue's then counts again.
func RemoveDonor(p *Plan, id string) (Edit, error) {
	q := *p
	var err error
	if q.Library.Donors, err = without(p.Library.Donors, "donor", id, func(d *vehicles.Donor) string { return d.ID }); err != nil {
		return nil, err
	}
	return Diff(p, &q, "Take donor "+id+" out of the library")
}

// RemoveModule gives the edit that takes a module record out of the plan's own library.
func RemoveModule(p *Plan, id string) (Edit, error) {
	q := *p
	var err error
	if q.Library.Modules, err = without(p.Library.Modules, "module", id, func(m *vehicles.Module) string { return m.ID }); err != nil {
		return nil, err
	}
	return Diff(p, &q, "Take module "+id+" out of the library")
}

// RemoveGear gives the edit that takes a gear record out of the plan's own library.
func RemoveGear(p *Plan, id string) (Edit, error) {
	q := *p
	var err error
	if q.Library.Gear, err = without(p.Library.Gear, "piece of gear", id, func(g *vehicles.Gear) string { return g.ID }); err != nil {
		return nil, err
	}
	return Diff(p, &q, "Take gear "+id+" out of the library")
}

// PutArrangement gives the edit that puts an arrangement in at the end, or in place of the one with its id.
func PutArrangement(p *Plan, a *Arrangement) (Edit, error) {
	q := *p
	q.Arrangements = upsert(p.Arrangements, a, func(a *Arrangement) string { return a.ID })
	return Diff(p, &q, labelled("arrangement", a.Name, p.Arrangement(a.ID) != nil))
}

// DuplicateArrangement gives the edit that puts a copy of an arrangement after it, and the copy's id.
func DuplicateArrangement(p *Plan, id string) (Edit, string, error) {
	i := slices.IndexFunc(p.Arrangements, func(a *Arrangement) bool { return a.ID == id })
	if i < 0 {
		return nil, "", fmt.Errorf("there is no arrangement %q", id)
	}
	c := *p.Arrangements[i]
	c.ID = p.freshArrangement()
	c.Name = clip(c.Name, 190) + " (copy)"
	q := *p
	q.Arrangements = slices.Insert(slices.Clone(p.Arrangements), i+1, &c)
	e, err := Diff(p, &q, "Duplicate arrangement "+p.Arrangements[i].Name)
	return e, c.ID, err
}

func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n])
	}
	return s
}

// freshArrangement is the first letter, then the first number, that no arrangement is called by.
func (p *Plan) freshArrangement() string {
	taken := func(id string) bool { return p.Arrangement(id) != nil }
	for c := 'a'; c <= 'z'; c++ {
		if !taken(string(c)) {
			return string(c)
		}
	}
	return FreshID("a", taken)
}

// RemoveArrangement gives the edit that takes an arrangement out. The last one stays.
func RemoveArrangement(p *Plan, id string) (Edit, error) {
	if len(p.Arrangements) < 2 {
		return nil, fmt.Errorf("a plan needs one arrangement at least, and this is the last")
	}
	q := *p
	var err error
	if q.Arrangements, err = without(p.Arrangements, "arrangement", id, func(a *Arrangement) string { return a.ID }); err != nil {
		return nil, err
	}
	return Diff(p, &q, "Take out arrangement "+p.Arrangement(id).Name)
}

// RenameArrangement gives the edit that sets an arrangement's name and notes.
func RenameArrangement(p *Plan, id, name, note string) (Edit, error) {
	return Change(p, id, "Rename arrangement", func(a *Arrangement) error {
		a.Name, a.Note = name, note
		return nil
	})
}

// MoveArrangement gives the edit that moves an arrangement to another place in the list, from 0.
func MoveArrangement(p *Plan, id string, to int) (Edit, error) {
	a, err := p.find(id)
	if err != nil {
		return nil, err
	}
	rest, _ := without(p.Arrangements, "arrangement", id, func(a *Arrangement) string { return a.ID })
	if to < 0 || to > len(rest) {
		return nil, fmt.Errorf("there is no place %d", to)
	}
	q := *p
	q.Arrangements = slices.Insert(rest, to, a)
	return Diff(p, &q, "Move arrangement "+a.Name)
}
