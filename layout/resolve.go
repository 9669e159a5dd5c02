package layout

import (
	"fmt"

	"stowbay/vehicles"
)

// Resolve makes the scene of an arrangement. What prev holds already is taken over: whole boxes that are the same (the
// same pointer: edits replace boxes, they never change them in place), and of a box that was replaced whatever stayed the same in
// it. That keeps readings live during a drag. prev may be nil, or a scene of any plan; it counts as far as library, donor, bays and boxes are the same.
func Resolve(p *Plan, a *Arrangement, lib *vehicles.Library, prev *Scene) *Scene {
	s := &Scene{Plan: p, Arrangement: a, Library: lib, Donor: lib.Donor(p.Donor)}
	if s.Donor == nil {
		s.Missing = append(s.Missing, fmt.Sprintf("donor %q is neither in the plan's library nor in the catalogue", p.Donor))
	}
	s.resolveBays(prev)
	s.resolveKeepOuts(prev)
	old := prev.boxes(lib)
	for _, b := range a.Boxes {
		bs := resolveBox(b, lib, old[b.ID])
		s.Boxes = append(s.Boxes, bs)
		s.Missing = append(s.Missing, bs.missing...)
	}
	var missing []string
	s.Gear, missing = placeGear(a.Gear, "", lib, NewFrame(vehicles.XYZ{}, 0))
	s.Missing = append(s.Missing, missing...)
	return s
}

// boxes gives the boxes of a scene by id, where it was made with the same library.
func (s *Scene) boxes(lib *vehicles.Library) map[string]*BoxScene {
	if s == nil || s.Library != lib {
		return nil
	}
	m := make(map[string]*BoxScene, len(s.Boxes))
	for _, b := range s.Boxes {
		m[b.Box.ID] = b
	}
	return m
}

func (s *Scene) resolveBays(prev *Scene) {
	if prev != nil && sameList(prev.Arrangement.Bays, s.Arrangement.Bays) {
		s.Bays = prev.Bays
		return
	}
	for i := range s.Arrangement.Bays {
		bay := &s.Arrangement.Bays[i]
		s.Bays = append(s.Bays, BayScene{Bay: bay, Space: BaySpace(bay)})
	}
}

// sameList tells whether two lists are the very same one. Lists are replaced, never changed in place.
func sameList[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

func (s *Scene) resolveKeepOuts(prev *Scene) {
	if prev != nil && prev.Donor == s.Donor && sameList(prev.Arrangement.KeepOuts, s.Arrangement.KeepOuts) &&
		sameList(prev.Arrangement.Bays, s.Arrangement.Bays) {
		s.KeepOuts = prev.KeepOuts
		s.addressKeepOuts()
		return
	}
	if s.Donor != nil {
		s.addKeepOuts(donorKeepOuts, s.Donor.KeepOuts)
	}
	s.addKeepOuts(ownKeepOuts, s.Arrangement.KeepOuts)
	for i := range s.Arrangement.Bays {
		s.addKeepOuts(s.Arrangement.Bays[i].ID, s.Arrangement.Bays[i].KeepOuts)
	}
	s.addressKeepOuts()
}

func (s *Scene) addKeepOuts(of string, ks []vehicles.KeepOut) {
	for i := range ks {
		s.KeepOuts = append(s.KeepOuts, KeepOutScene{KeepOut: &ks[i], Of: of, Prism: KeepOutPrism(&ks[i])})
	}
}

// resolveBox makes the scene of a box. old is the scene of the box of the same id before, or nil.
func resolveBox(b *Box, lib *vehicles.Library, old *BoxScene) *BoxScene {
	if old != nil && old.Box == b {
		return old
	}
	bs := &BoxScene{Box: b, Frame: NewFrame(b.At, b.TurnDeg)}
	if old != nil && sameList(old.Box.Levels, b.Levels) && old.Box.Shell == b.Shell {
		bs.inner, bs.innerErr = old.inner, old.innerErr
	} else {
		bs.inner, bs.innerErr = BoxInterior(b)
	}
	if old != nil && sameList(old.Box.Levels, b.Levels) && old.Box.Shell == b.Shell && old.Frame == bs.Frame {
		bs.Outer, bs.Inner = old.Outer, old.Inner
	} else {
		bs.Outer, bs.Inner = spaceIn(bs.Frame, boxSolid(b)), spaceIn(bs.Frame, bs.inner)
	}
	if bs.innerErr != nil {
		bs.missing = append(bs.missing, fmt.Sprintf("box %q has no interior: %v", b.ID, bs.innerErr))
	}
	bs.placeModules(lib, old)
	var missing []string
	bs.Gear, missing = placeGear(b.Gear, b.ID+"/", lib, bs.Frame)
	bs.missing = append(bs.missing, missing...)
	return bs
}

// placeModules places the modules of a box. Their parts are kept in common lists, which is several times faster than
// one by one.
func (bs *BoxScene) placeModules(lib *vehicles.Library, old *BoxScene) {
	ms := bs.Box.Modules
	shapes := newShapes(bs.Frame)
	of := make([]*shape, len(ms))
	from := make([]*Body, len(ms)) // what can be taken over
	var need parts
	for i := range ms {
		m := shapes.module(lib, ms[i].Module)
		if m == nil {
			bs.missing = append(bs.missing, fmt.Sprintf("module %q in box %q is neither in the plan's library nor in the catalogue", ms[i].Module, bs.Box.ID))
			continue
		}
		of[i] = shapes.of(m, ms[i].Posture, ms[i].Turn)
		if from[i] = old.same(i, &ms[i], m, bs.Frame); from[i] == nil {
			need.count(of[i])
		}
	}
	need.make()
	bodies := make([]Body, len(ms))
	bs.Modules = make([]*Body, 0, len(ms))
	for i := range ms {
		if of[i] == nil {
			continue
		}
		if body := &bodies[i]; from[i] != nil {
			*body = *from[i]
			body.Placement = &ms[i]
		} else {
			*body = Body{ID: old.bodyID(i, bs.Box.ID, ms[i].ID), Placement: &ms[i], Module: of[i].module, Pose: PoseOf(of[i].module, &ms[i])}
			of[i].place(body, bs.Frame, &need)
		}
		bs.Modules = append(bs.Modules, &bodies[i])
	}
	if len(bs.Modules) == 0 {
		bs.Modules = nil
	}
}

// same gives the body of a module in the scene before, where the module stands exactly as it stood.
func (bs *BoxScene) same(i int, p *Placement, m *vehicles.Module, f Frame) *Body {
	if bs == nil || bs.Frame != f || len(bs.Modules) != len(bs.Box.Modules) || i >= len(bs.Modules) {
		return nil
	}
	if b := bs.Modules[i]; b.Module == m && *b.Placement == *p {
		return b
	}
	return nil
}

// bodyID gives the box/module id, taken over from the scene before where it can be.
func (bs *BoxScene) bodyID(i int, box, id string) string {
	if bs != nil && i < len(bs.Modules) && bs.Box.ID == box && bs.Modules[i].Placement.ID == id {
		return bs.Modules[i].ID
	}
	return box + "/" + id
}

// placeGear places gear whose ids get the prefix given.
func placeGear(list []PlacedGear, prefix string, lib *vehicles.Library, f Frame) (out []*GearBody, missing []string) {
	for i := range list {
		p := &list[i]
		g := lib.Gear(p.Gear)
		if g == nil {
			missing = append(missing, fmt.Sprintf("gear %q is neither in the plan's library nor in the catalogue", p.Gear))
			continue
		}
		pose := GearPose(g, p)
		s := newShape(pose.Size, pose.Posture, pose.Turn, f)
		s.cg = s.at(pose.Size.Mul(0.5))
		s.addTerminals(g.Terminals)
		var need parts
		need.count(s)
		need.make()
		var body Body
		s.placeAt(&body, f.ToVehicle(pose.At), f, &need)
		out = append(out, &GearBody{ID: prefix + p.ID, Placed: p, Gear: g, Pose: pose, Rect: body.Rect, Prism: body.Prism,
			CG: body.CG, Terminals: body.Terminals, Strips: body.Strips})
	}
	return out, missing
}
