package layout

import (
	"fmt"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/vehicles"
)

// Scene is one arrangement with every reference found and every place in the vehicle's frame. It is what the
// engineering subjects, the checks and the drawings work from, and is never changed once made.
type Scene struct {
	Plan        *Plan
	Arrangement *Arrangement
	Library     *vehicles.Library
	Donor       *vehicles.Donor
	Bays        []BayScene
	Boxes       []*BoxScene
	Gear        []*GearBody // outside the boxes
	KeepOuts    []KeepOutScene
	Missing     []string // references that lead nowhere, in words
}

// BayScene is a bay with its free space.
type BayScene struct {
	Bay   *vehicles.Bay
	Space geometry.Space
}

// KeepOutScene is a keep-out of the donor, a bay or the arrangement.
type KeepOutScene struct {
	KeepOut *vehicles.KeepOut
	Of      string // "donor", "arrangement" or the bay's id
	Prism   geometry.Prism
}

// BoxScene is a box in the vehicle's frame. It is shared between scenes in which the box is the same.
type BoxScene struct {
	Box     *Box
	Frame   Frame
	Outer   geometry.Space
	Inner   geometry.Space // inside walls, liner, floor and lid; a barrier does not count as wall
	Modules []*Body
	Gear    []*GearBody
}

// Body is a module at its place.
type Body struct {
	ID        string // box id / module id
	Placement *Placement
	Module    *vehicles.Module
	Pose      Pose // in the box's frame
	Rect      geometry.Rect
	Prism     geometry.Prism
	CG        r3.Vector
	Terminals []TerminalAt
	Ports     []PortAt
	Strips    []Strip
}

// TerminalAt is a terminal at its place in the vehicle.
type TerminalAt struct {
	*vehicles.Terminal
	Place r3.Vector
	Out   r3.Vector // outward normal of its face
}

// PortAt is a port at its place in the vehicle.
type PortAt struct {
	*vehicles.Port
	Place r3.Vector
	Out   r3.Vector
}

// Strip is a space that no body may stand in.
type Strip struct {
	Of    string // terminal or port id
	Prism geometry.Prism
}

// GearBody is a piece of gear at its place.
type GearBody struct {
	ID        string // box id / gear id, or the gear's id where it stands outside
	Placed    *PlacedGear
	Gear      *vehicles.Gear
	Pose      Pose
	Rect      geometry.Rect
	Prism     geometry.Prism
	CG        r3.Vector
	Terminals []TerminalAt
	Strips    []Strip
}

// Resolve makes the scene of an arrangement. Boxes that prev already holds with the same value (the same
// pointer: edits replace boxes, they never change them in place) are taken over, which is what keeps readings
// live during a drag. prev may be nil; it counts only where plan library and donor are the same.
func Resolve(p *Plan, a *Arrangement, lib *vehicles.Library, prev *Scene) *Scene {
	s := &Scene{Plan: p, Arrangement: a, Library: lib, Donor: lib.Donor(p.Donor)}
	if s.Donor == nil {
		s.missing("donor %q is neither in the plan's library nor in the catalogue", p.Donor)
	}
	s.resolveBays(prev)
	s.resolveKeepOuts()
	old := prev.boxes(lib)
	for _, b := range a.Boxes {
		s.Boxes = append(s.Boxes, s.resolveBox(b, old[b]))
	}
	for i := range a.Gear {
		if g := s.placeGear(&a.Gear[i], a.Gear[i].ID, Frame{cos: 1}); g != nil {
			s.Gear = append(s.Gear, g)
		}
	}
	return s
}

func (s *Scene) boxes(lib *vehicles.Library) map[*Box]*BoxScene {
	if s == nil || s.Library != lib {
		return nil
	}
	m := make(map[*Box]*BoxScene, len(s.Boxes))
	for _, b := range s.Boxes {
		m[b.Box] = b
	}
	return m
}

func (s *Scene) missing(format string, args ...any) {
	s.Missing = append(s.Missing, fmt.Sprintf(format, args...))
}

func (s *Scene) resolveBays(prev *Scene) {
	if prev != nil && sameBays(prev.Arrangement.Bays, s.Arrangement.Bays) {
		s.Bays = prev.Bays
		return
	}
	for i := range s.Arrangement.Bays {
		bay := &s.Arrangement.Bays[i]
		s.Bays = append(s.Bays, BayScene{Bay: bay, Space: BaySpace(bay)})
	}
}

func sameBays(a, b []vehicles.Bay) bool {
	return len(a) == len(b) && len(a) > 0 && &a[0] == &b[0]
}

// BaySpace returns the free space of a bay, with its own keep-outs and their margins taken off.
func BaySpace(b *vehicles.Bay) geometry.Space {
	sp := geometry.Space{Solids: Levels(b.Levels)}
	for i := range b.KeepOuts {
		sp.KeepOuts = append(sp.KeepOuts, KeepOutPrism(&b.KeepOuts[i]))
	}
	return sp
}

// Levels returns levels as prisms.
func Levels(ls []vehicles.Level) []geometry.Prism {
	out := make([]geometry.Prism, len(ls))
	for i, l := range ls {
		out[i] = geometry.Prism{Base: PolygonOf(l.Outline), Bottom: l.FloorMM, Top: l.CeilingMM}
	}
	return out
}

// PolygonOf returns an outline as a polygon with its corners counter-clockwise.
func PolygonOf(outline []vehicles.XY) geometry.Polygon {
	return geometry.Ring(vehicles.Points(outline)).Polygon()
}

// KeepOutPrism returns a keep-out's volume grown by its margin on all sides. Where growing fails the bare volume is returned.
func KeepOutPrism(k *vehicles.KeepOut) geometry.Prism {
	p := geometry.Prism{Base: PolygonOf(k.Outline), Bottom: k.FloorMM, Top: k.CeilingMM}
	if k.MarginMM <= 0 {
		return p
	}
	grown, err := p.Base.Inset(-k.MarginMM)
	if err != nil || len(grown) != 1 {
		return p
	}
	return geometry.Prism{Base: grown[0], Bottom: p.Bottom - k.MarginMM, Top: p.Top + k.MarginMM}
}

func (s *Scene) resolveKeepOuts() {
	if s.Donor != nil {
		s.addKeepOuts("donor", s.Donor.KeepOuts)
	}
	s.addKeepOuts("arrangement", s.Arrangement.KeepOuts)
	for i := range s.Arrangement.Bays {
		s.addKeepOuts(s.Arrangement.Bays[i].ID, s.Arrangement.Bays[i].KeepOuts)
	}
}

func (s *Scene) addKeepOuts(of string, ks []vehicles.KeepOut) {
	for i := range ks {
		s.KeepOuts = append(s.KeepOuts, KeepOutScene{KeepOut: &ks[i], Of: of, Prism: KeepOutPrism(&ks[i])})
	}
}

func (s *Scene) resolveBox(b *Box, old *BoxScene) *BoxScene {
	if old != nil {
		s.noteMissing(b)
		return old
	}
	f := NewFrame(b.At, b.TurnDeg)
	bs := &BoxScene{Box: b, Frame: f}
	bs.Outer = spaceIn(f, boxSolid(b))
	if inner, err := BoxInterior(b); err == nil {
		bs.Inner = spaceIn(f, inner)
	} else {
		s.missing("box %q has no interior: %v", b.ID, err)
	}
	for i := range b.Modules {
		if body := s.placeModule(b, &b.Modules[i], f); body != nil {
			bs.Modules = append(bs.Modules, body)
		}
	}
	for i := range b.Gear {
		if g := s.placeGear(&b.Gear[i], b.ID+"/"+b.Gear[i].ID, f); g != nil {
			bs.Gear = append(bs.Gear, g)
		}
	}
	return bs
}

// noteMissing repeats what a taken-over box lacks.
func (s *Scene) noteMissing(b *Box) {
	for i := range b.Modules {
		if s.Library.Module(b.Modules[i].Module) == nil {
			s.missing("module %q in box %q is neither in the plan's library nor in the catalogue", b.Modules[i].Module, b.ID)
		}
	}
	for i := range b.Gear {
		if s.Library.Gear(b.Gear[i].Gear) == nil {
			s.missing("gear %q is neither in the plan's library nor in the catalogue", b.Gear[i].Gear)
		}
	}
}

// BoxInterior returns the space inside a box's walls, liner, floor and lid, in the box's frame.
func BoxInterior(b *Box) (geometry.Space, error) {
	sh := b.Shell
	side := sh.Wall() + sh.LinerMM
	floor, lid := sh.Floor()+sh.LinerMM, sh.Lid()
	if sh.LidSide == "bottom" {
		floor, lid = sh.Lid()+sh.LinerMM, sh.Floor()
	}
	return boxSolid(b).Inset(side, floor, lid)
}

// boxSolid is the box's outer shape in its own frame.
func boxSolid(b *Box) geometry.Space { return geometry.Space{Solids: Levels(b.Levels)} }

func spaceIn(f Frame, s geometry.Space) geometry.Space {
	return geometry.Space{Solids: prismsIn(f, s.Solids), KeepOuts: prismsIn(f, s.KeepOuts)}
}

func prismsIn(f Frame, ps []geometry.Prism) []geometry.Prism {
	out := make([]geometry.Prism, len(ps))
	for i, p := range ps {
		out[i] = f.Prism(p)
	}
	return out
}

func (s *Scene) placeModule(b *Box, p *Placement, f Frame) *Body {
	m := s.Library.Module(p.Module)
	if m == nil {
		s.missing("module %q in box %q is neither in the plan's library nor in the catalogue", p.Module, b.ID)
		return nil
	}
	pose := PoseOf(m, p)
	body := &Body{ID: b.ID + "/" + p.ID, Placement: p, Module: m, Pose: pose}
	body.Rect, body.Prism = upright(pose, f)
	body.CG = f.ToVehicle(pose.Point(m.CG()))
	body.Terminals = terminals(m.Terminals, pose, f)
	body.Ports = ports(m.Ports, pose, f)
	body.Strips = append(terminalStrips(m.Terminals, pose, f), portStrips(m.Ports, pose, f)...)
	return body
}

// PoseOf returns the pose of a module at a placement.
func PoseOf(m *vehicles.Module, p *Placement) Pose {
	return Pose{Size: r3.Vector{X: m.LengthMM, Y: m.WidthMM, Z: m.HeightMM}, Posture: p.Posture, Turn: p.Turn, At: p.At.Vector()}
}

// poseOfGear returns the pose of a piece of gear at a placement.
func poseOfGear(g *vehicles.Gear, p *PlacedGear) Pose {
	return Pose{Size: r3.Vector{X: g.LengthMM, Y: g.WidthMM, Z: g.HeightMM}, Posture: p.Posture, Turn: p.Turn, At: p.At.Vector()}
}

func (s *Scene) placeGear(p *PlacedGear, id string, f Frame) *GearBody {
	g := s.Library.Gear(p.Gear)
	if g == nil {
		s.missing("gear %q is neither in the plan's library nor in the catalogue", p.Gear)
		return nil
	}
	pose := GearPose(g, p)
	body := &GearBody{ID: id, Placed: p, Gear: g, Pose: pose}
	body.Rect, body.Prism = upright(pose, f)
	body.CG = f.ToVehicle(pose.Point(pose.Size.Mul(0.5)))
	body.Terminals = terminals(g.Terminals, pose, f)
	body.Strips = terminalStrips(g.Terminals, pose, f)
	return body
}

func upright(p Pose, f Frame) (geometry.Rect, geometry.Prism) {
	e := p.Extent()
	c := f.ToVehicle(p.At.Add(e.Mul(0.5)))
	rect := geometry.Rect{Centre: r2.Point{X: c.X, Y: c.Y}, Half: r2.Point{X: e.X / 2, Y: e.Y / 2}, Turn: f.Turn}
	return rect, f.Prism(p.Prism())
}

func terminals(ts []vehicles.Terminal, p Pose, f Frame) []TerminalAt {
	out := make([]TerminalAt, len(ts))
	for i := range ts {
		out[i] = TerminalAt{Terminal: &ts[i], Place: f.ToVehicle(p.Point(ts[i].At.Vector())), Out: f.Direction(p.Normal(ts[i].Face))}
	}
	return out
}

func ports(ps []vehicles.Port, p Pose, f Frame) []PortAt {
	out := make([]PortAt, len(ps))
	for i := range ps {
		out[i] = PortAt{Port: &ps[i], Place: f.ToVehicle(p.Point(ps[i].At.Vector())), Out: f.Direction(p.Normal(ps[i].Face))}
	}
	return out
}

func terminalStrips(ts []vehicles.Terminal, p Pose, f Frame) []Strip {
	var out []Strip
	for i := range ts {
		if ts[i].StripMM > 0 {
			out = append(out, Strip{Of: ts[i].ID, Prism: f.Prism(p.strip(ts[i].Face, ts[i].StripMM))})
		}
	}
	return out
}

func portStrips(ps []vehicles.Port, p Pose, f Frame) []Strip {
	var out []Strip
	for i := range ps {
		if ps[i].StripMM > 0 {
			out = append(out, Strip{Of: ps[i].ID, Prism: f.Prism(p.strip(ps[i].Face, ps[i].StripMM))})
		}
	}
	return out
}

// Bodies calls f for every module in the order of boxes and placements.
func (s *Scene) Bodies(f func(*BoxScene, *Body)) {
	for _, b := range s.Boxes {
		for _, m := range b.Modules {
			f(b, m)
		}
	}
}

// Count returns the number of modules placed.
func (s *Scene) Count() int {
	n := 0
	for _, b := range s.Boxes {
		n += len(b.Modules)
	}
	return n
}

// Box returns the box with that id, or nil.
func (s *Scene) Box(id string) *BoxScene {
	for _, b := range s.Boxes {
		if b.Box.ID == id {
			return b
		}
	}
	return nil
}

// Body returns the module with that box/module id, or nil.
func (s *Scene) Body(id string) *Body {
	for _, b := range s.Boxes {
		for _, m := range b.Modules {
			if m.ID == id {
				return m
			}
		}
	}
	return nil
}

// Bay returns the bay with that id, or nil.
func (s *Scene) Bay(id string) *BayScene {
	for i := range s.Bays {
		if s.Bays[i].Bay.ID == id {
			return &s.Bays[i]
		}
	}
	return nil
}

// BoxStrip is a free strip in the box's frame.
type BoxStrip struct {
	Of    string
	Prism geometry.Prism
}

// ModuleStrips returns the free strips of a module's terminals and ports in the box's frame.
func ModuleStrips(m *vehicles.Module, p Pose) []BoxStrip {
	out := stripsOf(m.Terminals, p)
	for _, port := range m.Ports {
		if port.StripMM > 0 {
			out = append(out, BoxStrip{Of: port.ID, Prism: p.strip(port.Face, port.StripMM)})
		}
	}
	return out
}

// GearStrips returns the free strips of a piece of gear's terminals in the box's frame.
func GearStrips(g *vehicles.Gear, p Pose) []BoxStrip { return stripsOf(g.Terminals, p) }

func stripsOf(ts []vehicles.Terminal, p Pose) []BoxStrip {
	var out []BoxStrip
	for _, t := range ts {
		if t.StripMM > 0 {
			out = append(out, BoxStrip{Of: t.ID, Prism: p.strip(t.Face, t.StripMM)})
		}
	}
	return out
}
