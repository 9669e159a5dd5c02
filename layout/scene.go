package layout

import (
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
	Ref     string // its address, which nothing else in the scene has: its id, or "bay:id" where that is taken; see [Arrangement.KeepOut]
	Of      string // "Donor", "Plan" or the bay's id, which has no capitals
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

	inner    geometry.Space // as Inner, in the box's own frame
	innerErr error
	missing  []string
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

// PoseOf returns the pose of a module at a placement.
func PoseOf(m *vehicles.Module, p *Placement) Pose {
	return Pose{Size: r3.Vector{X: m.LengthMM, Y: m.WidthMM, Z: m.HeightMM}, Posture: p.Posture, Turn: p.Turn, At: p.At.Vector()}
}

func upright(p Pose, f Frame) (geometry.Rect, geometry.Prism) {
	e := p.Extent()
	c := f.ToVehicle(p.At.Add(e.Mul(0.5)))
	rect := geometry.Rect{Centre: r2.Point{X: c.X, Y: c.Y}, Half: r2.Point{X: e.X / 2, Y: e.Y / 2}, Turn: f.Turn}
	return rect, f.Prism(p.Prism())
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
	box, _, _ := splitID(id)
	b := s.Box(box)
	if b == nil {
		return nil
	}
	for _, m := range b.Modules {
		if m.ID == id {
			return m
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
			out = append(out, BoxStrip{Of: port.ID, Prism: block(p.strip(port.Face, port.StripMM))})
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
			out = append(out, BoxStrip{Of: t.ID, Prism: block(p.strip(t.Face, t.StripMM))})
		}
	}
	return out
}
