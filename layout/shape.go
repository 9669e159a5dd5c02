package layout

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/vehicles"
)

// shape is a block in one posture and turn, seen from its least corner along the vehicle's axes: all that bodies which stand
// alike have in common.
type shape struct {
	module    *vehicles.Module
	pose      Pose  // at the origin
	frame     Frame // turn only
	extent    r3.Vector
	base      [4]r2.Point
	cg        r3.Vector
	terminals []TerminalAt
	ports     []PortAt
	strips    []stripShape
}

// stripShape is a free strip in front of a face.
type stripShape struct {
	of          string
	base        [4]r2.Point
	bottom, top float64
}

// shapes keeps the shapes of one box.
type shapes struct {
	frame   Frame
	known   map[shapeKey]*shape
	modules map[string]*vehicles.Module
}

type shapeKey struct {
	module  *vehicles.Module
	posture vehicles.Posture
	turn    int
}

func newShapes(f Frame) *shapes {
	return &shapes{frame: f, known: map[shapeKey]*shape{}, modules: map[string]*vehicles.Module{}}
}

func (s *shapes) module(lib *vehicles.Library, id string) *vehicles.Module {
	m, ok := s.modules[id]
	if !ok {
		m = lib.Module(id)
		s.modules[id] = m
	}
	return m
}

func (s *shapes) of(m *vehicles.Module, posture vehicles.Posture, turn int) *shape {
	key := shapeKey{m, posture, turn}
	if sh := s.known[key]; sh != nil {
		return sh
	}
	sh := newShape(r3.Vector{X: m.LengthMM, Y: m.WidthMM, Z: m.HeightMM}, posture, turn, s.frame)
	sh.module = m
	sh.cg = sh.at(m.CG())
	sh.addTerminals(m.Terminals)
	sh.addPorts(m.Ports)
	s.known[key] = sh
	return sh
}

func newShape(size r3.Vector, posture vehicles.Posture, turn int, f Frame) *shape {
	f.Origin = r3.Vector{}
	s := &shape{pose: Pose{Size: size, Posture: posture, Turn: turn}, frame: f}
	s.extent = s.pose.Extent()
	s.base = s.corners(r3.Vector{}, s.extent)
	return s
}

// at gives a point of the block's own frame, from the least corner along the vehicle's axes.
func (s *shape) at(p r3.Vector) r3.Vector { return s.frame.Direction(s.pose.Point(p)) }

// corners are the corners of a block in the box's frame, anticlockwise from its least.
func (s *shape) corners(at, extent r3.Vector) [4]r2.Point {
	var out [4]r2.Point
	for i, c := range [4]r2.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}} {
		v := s.frame.Direction(r3.Vector{X: at.X + c.X*extent.X, Y: at.Y + c.Y*extent.Y})
		out[i] = r2.Point{X: v.X, Y: v.Y}
	}
	return out
}

func (s *shape) addTerminals(ts []vehicles.Terminal) {
	for i := range ts {
		t := &ts[i]
		s.terminals = append(s.terminals, TerminalAt{Terminal: t, Place: s.at(t.At.Vector()), Out: s.frame.Direction(s.pose.Normal(t.Face))})
		s.addStrip(t.ID, t.Face, t.StripMM)
	}
}

func (s *shape) addPorts(ps []vehicles.Port) {
	for i := range ps {
		p := &ps[i]
		s.ports = append(s.ports, PortAt{Port: p, Place: s.at(p.At.Vector()), Out: s.frame.Direction(s.pose.Normal(p.Face))})
		s.addStrip(p.ID, p.Face, p.StripMM)
	}
}

func (s *shape) addStrip(of string, face vehicles.Face, depth float64) {
	if depth <= 0 {
		return
	}
	at, e := s.pose.strip(face, depth)
	s.strips = append(s.strips, stripShape{of: of, base: s.corners(at, e), bottom: at.Z, top: at.Z + e.Z})
}

// parts are common lists from which bodies get theirs.
type parts struct {
	points    []r2.Point
	terminals []TerminalAt
	ports     []PortAt
	strips    []Strip
	n         struct{ points, terminals, ports, strips int }
}

// count notes what one more body of a shape needs.
func (p *parts) count(s *shape) {
	p.n.points += 4 * (1 + len(s.strips))
	p.n.terminals += len(s.terminals)
	p.n.ports += len(s.ports)
	p.n.strips += len(s.strips)
}

func (p *parts) make() {
	p.points = make([]r2.Point, p.n.points)
	p.terminals = make([]TerminalAt, p.n.terminals)
	p.ports = make([]PortAt, p.n.ports)
	p.strips = make([]Strip, p.n.strips)
}

// take cuts the first n entries off a common list; their owner cannot grow into the next one's.
func take[T any](list *[]T, n int) []T {
	if n == 0 {
		return nil
	}
	out := (*list)[:n:n]
	*list = (*list)[n:]
	return out
}

func (p *parts) ring(base *[4]r2.Point, at r3.Vector) geometry.Polygon {
	ring := take(&p.points, 4)
	for i, c := range base {
		ring[i] = r2.Point{X: at.X + c.X, Y: at.Y + c.Y}
	}
	return geometry.Polygon{Outer: ring}
}

// place gives a body that stands in a box of the frame given everything that depends on where it stands.
func (s *shape) place(b *Body, f Frame, p *parts) {
	s.placeAt(b, f.ToVehicle(b.Placement.At.Vector()), f, p)
}

// placeAt is place for the least corner at a place in the vehicle.
func (s *shape) placeAt(b *Body, at r3.Vector, f Frame, p *parts) {
	mid := at.Add(s.frame.Direction(s.extent.Mul(0.5)))
	b.Rect = geometry.Rect{Centre: r2.Point{X: mid.X, Y: mid.Y}, Half: r2.Point{X: s.extent.X / 2, Y: s.extent.Y / 2}, Turn: f.Turn}
	b.Prism = geometry.Prism{Base: p.ring(&s.base, at), Bottom: at.Z, Top: at.Z + s.extent.Z}
	b.CG = at.Add(s.cg)
	b.Terminals = take(&p.terminals, len(s.terminals))
	for i, t := range s.terminals {
		t.Place = at.Add(t.Place)
		b.Terminals[i] = t
	}
	b.Ports = take(&p.ports, len(s.ports))
	for i, t := range s.ports {
		t.Place = at.Add(t.Place)
		b.Ports[i] = t
	}
	b.Strips = take(&p.strips, len(s.strips))
	for i := range s.strips {
		st := &s.strips[i]
		b.Strips[i] = Strip{Of: st.of, Prism: geometry.Prism{Base: p.ring(&st.base, at), Bottom: at.Z + st.bottom, Top: at.Z + st.top}}
	}
}
