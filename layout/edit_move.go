package layout

import (
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/vehicles"
)

// ErrLocked is what an edit gives when all that it would move is locked.
var ErrLocked = errors.New("locked: unlock it first")

// Move gives the edit that moves boxes, modules, gear and feet by their ids ("box", "box/module", "box/gear", "gear", "box/feet/foot") by delta, in mm
// in the vehicle's frame. What is locked stays; where all of it is locked the error is [ErrLocked]. Places are kept to 0.01 mm.
func Move(p *Plan, arrangement string, ids []string, delta r3.Vector) (Edit, error) {
	if !finite(delta) {
		return nil, errors.New("the move is not a number")
	}
	m := mover{
		box: func(b *Box) { b.At = snapped(b.At.Vector().Add(delta)) },
		module: func(f Frame, pl *Placement) {
			pl.At = snapped(pl.At.Vector().Add(f.DirectionFrom(delta)))
		},
		gear: func(f Frame, g *PlacedGear) {
			g.At = snapped(g.At.Vector().Add(f.DirectionFrom(delta)))
		},
		foot: func(f Frame, t *Foot) {
			t.At = snapped(t.At.Vector().Add(f.DirectionFrom(delta)))
		},
	}
	return m.edit(p, arrangement, "Move "+things(ids), ids)
}

func finite(v r3.Vector) bool {
	s := math.Abs(v.X) + math.Abs(v.Y) + math.Abs(v.Z)
	return s <= math.MaxFloat64
}

func snapped(v r3.Vector) vehicles.XYZ { return vehicles.XYZ{snap(v.X), snap(v.Y), snap(v.Z)} }

// mover changes boxes, modules and gear one by one. f is the frame in which the module or the gear stands.
type mover struct {
	box      func(*Box)
	module   func(f Frame, p *Placement)
	gear     func(f Frame, g *PlacedGear)
	foot     func(f Frame, t *Foot)
	unlocked bool // what is locked is changed too
}

func (m mover) edit(p *Plan, arrangement, label string, ids []string) (Edit, error) {
	return Change(p, arrangement, label, func(a *Arrangement) error {
		moved, err := m.all(a, ids)
		if err == nil && moved == 0 && len(ids) > 0 {
			err = ErrLocked
		}
		return err
	})
}

// all changes everything named. A module whose box is named as well goes with the box.
func (m mover) all(a *Arrangement, ids []string) (moved int, err error) {
	named := map[string]bool{}
	for _, id := range ids {
		named[id] = true
	}
	inside := map[string]map[string]bool{}
	for _, id := range ids {
		box, in, nested := splitID(id)
		switch {
		case nested && !named[box]:
			if inside[box] == nil {
				inside[box] = map[string]bool{}
			}
			inside[box][in] = true
		case !nested && a.Box(id) == nil && gearIndex(a.Gear, id) < 0:
			return 0, fmt.Errorf("there is no box or gear %q", id)
		}
	}
	c := *a
	c.Boxes = make([]*Box, len(a.Boxes))
	for i, b := range a.Boxes {
		c.Boxes[i] = b
		if named[b.ID] && m.box != nil && (m.unlocked || !b.Locked) {
			d := *b
			m.box(&d)
			c.Boxes[i], moved = &d, moved+1
		}
		if in := inside[b.ID]; in != nil {
			d, n := m.inBox(b, in)
			c.Boxes[i], moved = d, moved+n
			delete(inside, b.ID)
		}
	}
	for box := range inside {
		return 0, fmt.Errorf("there is no box %q", box)
	}
	var n int
	c.Gear, n = m.gearIn(NewFrame(vehicles.XYZ{}, 0), a.Gear, named)
	*a = c
	return moved + n, nil
}

func (m mover) inBox(b *Box, in map[string]bool) (*Box, int) {
	f := NewFrame(b.At, b.TurnDeg)
	c := *b
	n := 0
	c.Modules = append([]Placement(nil), b.Modules...)
	for i := range c.Modules {
		if pl := &c.Modules[i]; in[pl.ID] && m.module != nil && (m.unlocked || !pl.Locked) {
			m.module(f, pl)
			n++
		}
	}
	var g int
	c.Gear, g = m.gearIn(f, b.Gear, in)
	return &c, n + g + m.feetIn(f, &c, in)
}

// feetIn changes the feet named of a box that is held by its place in the vehicle: a locked box's stay.
func (m mover) feetIn(f Frame, b *Box, in map[string]bool) int {
	if m.foot == nil || b.Locked && !m.unlocked {
		return 0
	}
	n := 0
	b.Feet = append([]Foot(nil), b.Feet...)
	for i := range b.Feet {
		if t := &b.Feet[i]; in[feetOf+t.ID] {
			m.foot(f, t)
			n++
		}
	}
	return n
}

func (m mover) gearIn(f Frame, list []PlacedGear, in map[string]bool) ([]PlacedGear, int) {
	n := 0
	out := append([]PlacedGear(nil), list...)
	for i := range out {
		if g := &out[i]; in[g.ID] && m.gear != nil && (m.unlocked || !g.Locked) {
			m.gear(f, g)
			n++
		}
	}
	return out, n
}

// SetLocked gives the edit that locks or unlocks boxes, modules and gear.
func SetLocked(p *Plan, arrangement string, ids []string, locked bool) (Edit, error) {
	m := mover{
		box:      func(b *Box) { b.Locked = locked },
		module:   func(_ Frame, pl *Placement) { pl.Locked = locked },
		gear:     func(_ Frame, g *PlacedGear) { g.Locked = locked },
		unlocked: true,
	}
	label := "Lock "
	if !locked {
		label = "Unlock "
	}
	return m.edit(p, arrangement, label+things(ids), ids)
}

// SetPosture gives the edit that stands modules and gear in a posture, each about the middle of its footprint and on
// the height it stands at. lib is the plan's library over the catalogue.
func SetPosture(p *Plan, lib *vehicles.Library, arrangement string, ids []string, posture vehicles.Posture) (Edit, error) {
	turn := func(pose Pose) vehicles.XYZ {
		mid, old := pose.middle(), pose.At.Z
		pose.Posture = posture
		at := pose.about(mid)
		at.Z = old
		return snapped(at)
	}
	m := mover{
		module: func(_ Frame, pl *Placement) {
			if rec := lib.Module(pl.Module); rec != nil {
				pl.At, pl.Posture = turn(PoseOf(rec, pl)), posture
			}
		},
		gear: func(_ Frame, g *PlacedGear) {
			if rec := lib.Gear(g.Gear); rec != nil {
				g.At, g.Posture = turn(GearPose(rec, g)), posture
			}
		},
	}
	return m.edit(p, arrangement, fmt.Sprintf("Stand %s %s", things(ids), posture), ids)
}

// middle is the middle of the posed body.
func (p Pose) middle() r3.Vector { return p.At.Add(p.Extent().Mul(0.5)) }

// about is the least corner that brings the posed body's middle to a place.
func (p Pose) about(middle r3.Vector) r3.Vector { return middle.Sub(p.Extent().Mul(0.5)) }

// Turn gives the edit that turns boxes, modules and gear about the vertical, from x towards y, about the middle of all that is turned.
// Modules and gear turn by whole quarters only. What is locked stays. lib is the plan's library over the catalogue.
func Turn(p *Plan, lib *vehicles.Library, arrangement string, ids []string, deg float64) (Edit, error) {
	if math.IsNaN(deg) || math.IsInf(deg, 0) {
		return nil, errors.New("the turn is not a number")
	}
	a, err := p.find(arrangement)
	if err != nil {
		return nil, err
	}
	quarters := int(math.Mod(math.Round(deg/90), 4)+4) % 4
	if !onlyBoxes(a, ids) && math.Mod(deg, 90) != 0 {
		return nil, errors.New("modules and gear turn by quarter turns; turn the box instead")
	}
	mid, ok := middleOf(a, lib, ids)
	if !ok {
		return nil, fmt.Errorf("nothing to turn")
	}
	about := NewFrame(vehicles.XYZ{}, deg)
	swing := func(v r3.Vector) r3.Vector { return mid.Add(about.Direction(v.Sub(mid))) }
	inFrame := func(f Frame, pose Pose) vehicles.XYZ {
		to := f.FromVehicle(swing(f.ToVehicle(pose.middle())))
		pose.Turn = (pose.Turn + 90*quarters) % 360
		return snapped(pose.about(to))
	}
	m := mover{
		box: func(b *Box) {
			b.At, b.TurnDeg = snapped(swing(b.At.Vector())), halfTurns(b.TurnDeg+deg)
		},
		module: func(f Frame, pl *Placement) {
			if rec := lib.Module(pl.Module); rec != nil {
				pl.At = inFrame(f, PoseOf(rec, pl))
				pl.Turn = (pl.Turn + 90*quarters) % 360
			}
		},
		gear: func(f Frame, g *PlacedGear) {
			if rec := lib.Gear(g.Gear); rec != nil {
				g.At = inFrame(f, GearPose(rec, g))
				g.Turn = (g.Turn + 90*quarters) % 360
			}
		},
	}
	return m.edit(p, arrangement, "Turn "+things(ids), ids)
}

// halfTurns brings an angle into (-180, 180], to a thousandth of a degree.
func halfTurns(deg float64) float64 {
	deg = math.Mod(math.Round(deg*1000)/1000, 360)
	switch {
	case deg > 180:
		return deg - 360
	case deg <= -180:
		return deg + 360
	}
	return deg + 0
}

func onlyBoxes(a *Arrangement, ids []string) bool {
	for _, id := range ids {
		if a.Box(id) == nil {
			return false
		}
	}
	return true
}

// middleOf is the middle of the extents of all that is named, in the vehicle's frame.
func middleOf(a *Arrangement, lib *vehicles.Library, ids []string) (r3.Vector, bool) {
	all, ok := extent{}, false
	for _, id := range ids {
		if e, found := a.extentOf(lib, id); found {
			if !ok {
				all = e
			}
			all, ok = all.with(e), true
		}
	}
	return all.lo.Add(all.hi).Mul(0.5), ok
}

// extent is the upright block, along the vehicle's axes, around a thing.
type extent struct{ lo, hi r3.Vector }

func (e extent) with(f extent) extent {
	return extent{
		r3.Vector{X: min(e.lo.X, f.lo.X), Y: min(e.lo.Y, f.lo.Y), Z: min(e.lo.Z, f.lo.Z)},
		r3.Vector{X: max(e.hi.X, f.hi.X), Y: max(e.hi.Y, f.hi.Y), Z: max(e.hi.Z, f.hi.Z)},
	}
}

// extentOf gives the extent of a box, a module or a piece of gear in the vehicle's frame.
func (a *Arrangement) extentOf(lib *vehicles.Library, id string) (extent, bool) {
	boxID, inside, nested := splitID(id)
	if !nested {
		if b := a.Box(id); b != nil {
			return b.extent(), true
		}
		i := gearIndex(a.Gear, id)
		return gearExtent(lib, NewFrame(vehicles.XYZ{}, 0), a.Gear, i)
	}
	b := a.Box(boxID)
	if b == nil {
		return extent{}, false
	}
	f := NewFrame(b.At, b.TurnDeg)
	if i := b.Placement(inside); i >= 0 {
		if m := lib.Module(b.Modules[i].Module); m != nil {
			return poseExtent(f, PoseOf(m, &b.Modules[i])), true
		}
		return extent{}, false
	}
	return gearExtent(lib, f, b.Gear, b.GearIndex(inside))
}

func gearExtent(lib *vehicles.Library, f Frame, list []PlacedGear, i int) (extent, bool) {
	if i < 0 {
		return extent{}, false
	}
	g := lib.Gear(list[i].Gear)
	if g == nil {
		return extent{}, false
	}
	return poseExtent(f, GearPose(g, &list[i])), true
}

func poseExtent(f Frame, p Pose) extent {
	rect, prism := upright(p, f)
	return planExtent(rect.Bounds(), prism.Bottom, prism.Top)
}

func planExtent(r r2.Rect, bottom, top float64) extent {
	return extent{r3.Vector{X: r.X.Lo, Y: r.Y.Lo, Z: bottom}, r3.Vector{X: r.X.Hi, Y: r.Y.Hi, Z: top}}
}

// extent is the block around the box's levels in the vehicle's frame.
func (b *Box) extent() extent {
	lo, hi := spaceIn(NewFrame(b.At, b.TurnDeg), boxSolid(b)).Bounds()
	return extent{lo, hi}
}
