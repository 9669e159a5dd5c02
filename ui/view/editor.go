package view

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Editor makes one change of the user's in an arrangement. The arrangement it starts from stays as it is.
type Editor struct {
	Library *vehicles.Library
	old     *layout.Arrangement
	out     layout.Arrangement
	own     map[string]*layout.Box // boxes that are copies already
}

// NewEditor returns an editor for an arrangement.
func NewEditor(a *layout.Arrangement, lib *vehicles.Library) *Editor {
	e := &Editor{Library: lib, old: a, out: *a, own: map[string]*layout.Box{}}
	e.out.Boxes = slices.Clone(a.Boxes)
	return e
}

// Result returns the arrangement as changed.
func (e *Editor) Result() *layout.Arrangement {
	out := e.out
	return &out
}

// box returns a copy of a box to be changed, or nil.
func (e *Editor) box(id string) *layout.Box {
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

// module returns a module of a copied box, or nil.
func (e *Editor) module(ref string) (*layout.Box, *layout.Placement) {
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
func (e *Editor) holds(box, inner string) bool {
	b := e.out.Box(box)
	if b == nil {
		return false
	}
	return slices.ContainsFunc(b.Modules, func(m layout.Placement) bool { return m.ID == inner }) ||
		slices.ContainsFunc(b.Gear, func(g layout.PlacedGear) bool { return g.ID == inner })
}

// gearIn returns a piece of gear of a copied box, or nil.
func (e *Editor) gearIn(ref string) (*layout.Box, *layout.PlacedGear) {
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

// looseGear returns a piece of gear outside the boxes, in a list that is a copy; or nil.
func (e *Editor) looseGear(ref string) *layout.PlacedGear {
	i := slices.IndexFunc(e.out.Gear, func(g layout.PlacedGear) bool { return g.ID == ref })
	if i < 0 {
		return nil
	}
	e.out.Gear = slices.Clone(e.out.Gear)
	return &e.out.Gear[i]
}

// Move moves the things picked by mm in the vehicle's frame. Modules move within their boxes; a box takes along
// what is in it, so a module whose box is picked too moves once. Locked things stay.
func (e *Editor) Move(refs []string, by r3.Vector) {
	for _, ref := range refs {
		box, inner := Split(ref)
		if inner == "" || !slices.Contains(refs, box) {
			e.moveOne(ref, by)
		}
	}
}

func (e *Editor) moveOne(ref string, by r3.Vector) {
	box, inner := Split(ref)
	if inner != "" {
		e.moveInside(ref, by)
		return
	}
	if b := e.out.Box(box); b != nil {
		if !b.Locked {
			b = e.box(box)
			b.At = shifted(b.At, by)
		}
		return
	}
	if g := e.looseGear(ref); g != nil && !g.Locked {
		g.At = shifted(g.At, by)
		return
	}
	e.moveSurvey(ref, by)
}

func (e *Editor) moveInside(ref string, by r3.Vector) {
	if b, m := e.module(ref); m != nil && !m.Locked {
		m.At = shifted(m.At, intoBox(b, by))
	} else if b, g := e.gearIn(ref); g != nil && !g.Locked {
		g.At = shifted(g.At, intoBox(b, by))
	}
}

// intoBox turns a shift in the vehicle's frame into one in a box's frame.
func intoBox(b *layout.Box, by r3.Vector) r3.Vector {
	f := layout.NewFrame(b.At, b.TurnDeg)
	return f.FromVehicle(f.Origin.Add(by))
}

func shifted(at vehicles.XYZ, by r3.Vector) vehicles.XYZ {
	return vehicles.XYZ{tidy(at[0] + by.X), tidy(at[1] + by.Y), tidy(at[2] + by.Z)}
}

// tidy rounds to the 0.01 mm that plans are exact to.
func tidy(v float64) float64 { return math.Round(v*100)/100 + 0 }

// moveSurvey moves a bay with all it holds, or a keep-out of the arrangement.
func (e *Editor) moveSurvey(ref string, by r3.Vector) {
	if i := slices.IndexFunc(e.out.Bays, func(b vehicles.Bay) bool { return b.ID == ref }); i >= 0 {
		e.out.Bays = slices.Clone(e.out.Bays)
		e.out.Bays[i] = shiftedBay(e.out.Bays[i], by)
		return
	}
	if i := slices.IndexFunc(e.out.KeepOuts, func(k vehicles.KeepOut) bool { return k.ID == ref }); i >= 0 {
		e.out.KeepOuts = slices.Clone(e.out.KeepOuts)
		e.out.KeepOuts[i] = shiftedKeepOut(e.out.KeepOuts[i], by)
	}
}

func shiftedBay(bay vehicles.Bay, by r3.Vector) vehicles.Bay {
	bay.Levels = slices.Clone(bay.Levels)
	for i := range bay.Levels {
		l := &bay.Levels[i]
		l.Outline, l.FloorMM, l.CeilingMM = shiftedRing(l.Outline, by), tidy(l.FloorMM+by.Z), tidy(l.CeilingMM+by.Z)
	}
	bay.KeepOuts = slices.Clone(bay.KeepOuts)
	for i := range bay.KeepOuts {
		bay.KeepOuts[i] = shiftedKeepOut(bay.KeepOuts[i], by)
	}
	return bay
}

func shiftedKeepOut(k vehicles.KeepOut, by r3.Vector) vehicles.KeepOut {
	k.Outline = shiftedRing(k.Outline, by)
	k.FloorMM, k.CeilingMM = tidy(k.FloorMM+by.Z), tidy(k.CeilingMM+by.Z)
	return k
}

func shiftedRing(ps []vehicles.XY, by r3.Vector) []vehicles.XY {
	out := make([]vehicles.XY, len(ps))
	for i, p := range ps {
		out[i] = vehicles.XY{tidy(p[0] + by.X), tidy(p[1] + by.Y)}
	}
	return out
}

// Turn turns each thing picked by quarter turns about its own middle, from x towards y.
func (e *Editor) Turn(refs []string, quarters int) {
	for _, ref := range refs {
		if _, m := e.module(ref); m != nil && !m.Locked {
			e.reposeModule(m, func(p *layout.Placement) { p.Turn = turned(p.Turn, quarters) })
		} else if _, g := e.gearIn(ref); g != nil && !g.Locked {
			e.reposeGear(g, func(p *layout.PlacedGear) { p.Turn = turned(p.Turn, quarters) })
		} else if b := e.out.Box(ref); b != nil && !b.Locked {
			turnBox(e.box(ref), quarters)
		} else if g := e.looseGear(ref); g != nil && !g.Locked {
			e.reposeGear(g, func(p *layout.PlacedGear) { p.Turn = turned(p.Turn, quarters) })
		}
	}
}

func turned(deg, quarters int) int { return ((deg+90*quarters)%360 + 360) % 360 }

// turnBox turns a box about the middle of its outline.
func turnBox(b *layout.Box, quarters int) {
	c := boxBounds(b).Center()
	mid := r3.Vector{X: c.X, Y: c.Y}
	before := layout.NewFrame(b.At, b.TurnDeg).ToVehicle(mid)
	b.TurnDeg = math.Mod(b.TurnDeg+90*float64(quarters), 360)
	after := layout.NewFrame(b.At, b.TurnDeg).ToVehicle(mid)
	b.At = shifted(b.At, before.Sub(after))
}

// boxBounds is the extent of a box's outline in its own frame.
func boxBounds(b *layout.Box) r2.Rect {
	out := r2.EmptyRect()
	for _, l := range b.Levels {
		for _, p := range l.Outline {
			out = out.AddPoint(p.Point())
		}
	}
	return out
}

// reposeModule changes how a module stands and keeps its middle in plan and its underside.
func (e *Editor) reposeModule(m *layout.Placement, f func(*layout.Placement)) {
	mod := e.Library.Module(m.Module)
	if mod == nil {
		return
	}
	before := layout.PoseOf(mod, m).Extent()
	f(m)
	m.At = shifted(m.At, recentred(before, layout.PoseOf(mod, m).Extent()))
}

func (e *Editor) reposeGear(g *layout.PlacedGear, f func(*layout.PlacedGear)) {
	gear := e.Library.Gear(g.Gear)
	if gear == nil {
		return
	}
	size := r3.Vector{X: gear.LengthMM, Y: gear.WidthMM, Z: gear.HeightMM}
	extent := func() r3.Vector { return layout.Pose{Size: size, Posture: g.Posture, Turn: g.Turn}.Extent() }
	before := extent()
	f(g)
	g.At = shifted(g.At, recentred(before, extent()))
}

func recentred(before, after r3.Vector) r3.Vector {
	return r3.Vector{X: (before.X - after.X) / 2, Y: (before.Y - after.Y) / 2}
}

// Posture stands each module picked in the next posture that its maker allows.
func (e *Editor) Posture(refs []string) {
	for _, ref := range refs {
		_, m := e.module(ref)
		if m == nil || m.Locked {
			continue
		}
		mod := e.Library.Module(m.Module)
		if mod == nil || len(mod.Postures) < 2 {
			continue
		}
		next := mod.Postures[(slices.Index(mod.Postures, m.Posture)+1)%len(mod.Postures)]
		e.reposeModule(m, func(p *layout.Placement) { p.Posture = next })
	}
}

// Lock sets or frees the lock of the things picked.
func (e *Editor) Lock(refs []string, locked bool) {
	for _, ref := range refs {
		if _, m := e.module(ref); m != nil {
			m.Locked = locked
		} else if _, g := e.gearIn(ref); g != nil {
			g.Locked = locked
		} else if e.out.Box(ref) != nil {
			e.box(ref).Locked = locked
		} else if g := e.looseGear(ref); g != nil {
			g.Locked = locked
		}
	}
}

// Delete takes out the things picked. Locked things stay.
func (e *Editor) Delete(refs []string) {
	for _, ref := range refs {
		if id, inner := Split(ref); inner != "" {
			e.deleteInside(id, inner)
			continue
		}
		e.out.Boxes = slices.DeleteFunc(e.out.Boxes, func(b *layout.Box) bool { return b.ID == ref && !b.Locked })
		e.out.Gear = without(e.out.Gear, func(g layout.PlacedGear) bool { return g.ID == ref && !g.Locked })
		e.out.Bays = without(e.out.Bays, func(b vehicles.Bay) bool { return b.ID == ref })
		e.out.KeepOuts = without(e.out.KeepOuts, func(k vehicles.KeepOut) bool { return k.ID == ref })
	}
}

func without[T any](list []T, drop func(T) bool) []T {
	return slices.DeleteFunc(slices.Clone(list), drop)
}

func (e *Editor) deleteInside(box, inner string) {
	if !e.holds(box, inner) {
		return
	}
	b := e.box(box)
	b.Modules = slices.DeleteFunc(b.Modules, func(m layout.Placement) bool { return m.ID == inner && !m.Locked })
	b.Gear = slices.DeleteFunc(b.Gear, func(g layout.PlacedGear) bool { return g.ID == inner && !g.Locked })
}
