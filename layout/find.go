package layout

import (
	"fmt"
	"slices"
	"strings"

	"stowbay/vehicles"
)

// Arrangement returns the arrangement with that id, or nil.
func (p *Plan) Arrangement(id string) *Arrangement {
	for _, a := range p.Arrangements {
		if a.ID == id {
			return a
		}
	}
	return nil
}

// WithArrangement gives the plan in which the arrangement of the same id is replaced by a. p stays as it is.
func (p *Plan) WithArrangement(a *Arrangement) *Plan {
	q := *p
	q.Arrangements = make([]*Arrangement, len(p.Arrangements))
	for i, old := range p.Arrangements {
		if q.Arrangements[i] = old; old.ID == a.ID {
			q.Arrangements[i] = a
		}
	}
	return &q
}

func (p *Plan) find(id string) (*Arrangement, error) {
	if a := p.Arrangement(id); a != nil {
		return a, nil
	}
	return nil, fmt.Errorf("there is no arrangement %q", id)
}

func (p *Plan) findBox(at where) (*Box, error) {
	a, err := p.find(at.Arrangement)
	if err != nil {
		return nil, err
	}
	if b := a.Box(at.Box); b != nil {
		return b, nil
	}
	return nil, fmt.Errorf("there is no box %q in arrangement %q", at.Box, at.Arrangement)
}

func (p *Plan) withBox(arrangement string, b *Box) *Plan {
	return p.WithArrangement(p.Arrangement(arrangement).WithBox(b))
}

// Box returns the box with that id, or nil.
func (a *Arrangement) Box(id string) *Box {
	for _, b := range a.Boxes {
		if b.ID == id {
			return b
		}
	}
	return nil
}

// WithBox gives the arrangement in which the box of the same id is replaced by b. a stays as it is.
func (a *Arrangement) WithBox(b *Box) *Arrangement {
	c := *a
	c.Boxes = make([]*Box, len(a.Boxes))
	for i, old := range a.Boxes {
		if c.Boxes[i] = old; old.ID == b.ID {
			c.Boxes[i] = b
		}
	}
	return &c
}

// Bay returns the bay with that id, or nil. It must not be changed.
func (a *Arrangement) Bay(id string) *vehicles.Bay {
	for i := range a.Bays {
		if a.Bays[i].ID == id {
			return &a.Bays[i]
		}
	}
	return nil
}

// Placement returns the index of the module with that id, or -1.
func (b *Box) Placement(id string) int {
	return slices.IndexFunc(b.Modules, func(p Placement) bool { return p.ID == id })
}

// GearIndex returns the index of the piece of gear with that id, or -1.
func (b *Box) GearIndex(id string) int { return gearIndex(b.Gear, id) }

func gearIndex(list []PlacedGear, id string) int {
	return slices.IndexFunc(list, func(g PlacedGear) bool { return g.ID == id })
}

// splitID splits "box/module" into its parts; an id without a stroke is a box's or an outside piece of gear's.
func splitID(id string) (box, inside string, nested bool) { return strings.Cut(id, "/") }
