package view

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// editor puts things into the copy of an arrangement that layout.Change hands out.
type editor struct {
	library *vehicles.Library
	out     *layout.Arrangement
	own     map[string]*layout.Box // boxes that are copies already
	names   map[string]*names      // by box; "" for what stands outside
}

func newEditor(a *layout.Arrangement, lib *vehicles.Library) *editor {
	a.Boxes, a.Gear = slices.Clone(a.Boxes), slices.Clone(a.Gear)
	return &editor{library: lib, out: a, own: map[string]*layout.Box{}, names: map[string]*names{}}
}

// box returns a copy of a box to be changed, or nil.
func (e *editor) box(id string) *layout.Box {
	if b, ok := e.own[id]; ok {
		return b
	}
	i := slices.IndexFunc(e.out.Boxes, func(b *layout.Box) bool { return b.ID == id })
	if i < 0 {
		return nil
	}
	b := *e.out.Boxes[i]
	b.Modules = slices.Clone(b.Modules)
	b.Gear = slices.Clone(b.Gear)
	e.own[id] = &b
	e.out.Boxes[i] = &b
	return &b
}

// names finds ids for new things. What it found taken it need not look for again, so that thousands cost little.
type names struct {
	taken func(id string) bool
	known map[string]bool
}

func newNames(taken func(id string) bool) *names { return &names{taken, map[string]bool{}} }

// after is an id that is not taken, like another one but for the number at its end.
func (n *names) after(id string) string {
	return layout.FreshID(stem(id), func(id string) bool {
		if !n.known[id] {
			n.known[id] = n.taken(id)
		}
		return n.known[id]
	})
}

// as is an id as it is, or the next one where it is taken.
func (n *names) as(id string) string {
	if n.taken(id) {
		return n.after(id)
	}
	return id
}

// namesIn finds ids in a copied box, or outside the boxes where it is nil.
func (e *editor) namesIn(b *layout.Box) *names {
	of, taken := "", e.out.Named
	if b != nil {
		of, taken = b.ID, b.Taken
	}
	if e.names[of] == nil {
		e.names[of] = newNames(taken)
	}
	return e.names[of]
}

// module returns a module of a copied box, or nil.
func (e *editor) module(ref string) (*layout.Box, *layout.Placement) {
	id, inner := Split(ref)
	if inner == "" || !e.holds(id, inner) {
		return nil, nil
	}
	b := e.box(id)
	for i := range b.Modules {
		if b.Modules[i].ID == inner {
			return b, &b.Modules[i]
		}
	}
	return nil, nil
}

// holds reports whether a box holds a module or gear of that id, so that boxes are not copied in vain.
func (e *editor) holds(box, inner string) bool {
	b := e.out.Box(box)
	if b == nil {
		return false
	}
	return b.Taken(inner)
}

// gearIn returns a piece of gear of a copied box, or nil.
func (e *editor) gearIn(ref string) (*layout.Box, *layout.PlacedGear) {
	id, inner := Split(ref)
	if inner == "" || !e.holds(id, inner) {
		return nil, nil
	}
	b := e.box(id)
	for i := range b.Gear {
		if b.Gear[i].ID == inner {
			return b, &b.Gear[i]
		}
	}
	return nil, nil
}

// looseGear returns a piece of gear outside the boxes, or nil.
func (e *editor) looseGear(ref string) *layout.PlacedGear {
	i := slices.IndexFunc(e.out.Gear, func(g layout.PlacedGear) bool { return g.ID == ref })
	if i < 0 {
		return nil
	}
	return &e.out.Gear[i]
}

func shifted(at vehicles.XYZ, by r3.Vector) vehicles.XYZ {
	return vehicles.XYZ{tidy(at[0] + by.X), tidy(at[1] + by.Y), tidy(at[2] + by.Z)}
}

// tidy rounds to the 0.01 mm that plans are exact to.
func tidy(v float64) float64 { return math.Round(v*100)/100 + 0 }

// intoBox turns a shift in the vehicle's frame into one in a box's frame.
func intoBox(b *layout.Box, by r3.Vector) r3.Vector {
	return boxFrame(b).DirectionFrom(by)
}
