package view

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// SnapKind is what a point snapped to.
type SnapKind uint8

// The kinds, from the weakest to the strongest.
const (
	NoSnap SnapKind = iota
	OnGrid
	OnLine // in line with something, on an axle line, on the centre line
	OnEdge
	OnCorner
)

// PointSnap is where a point snapped to, and why.
type PointSnap struct {
	At    r2.Point
	Kind  SnapKind
	Words []string      // "corner of mid", "centre line"
	Lines [][2]r2.Point // guides to what it lines up with
}

// PointSnapper finds what a point that is drawn or dragged lies near: corners and edges first, then lines along the
// axes, then the grid.
type PointSnapper struct {
	Reach   float64 // how far a snap pulls, mm
	Grid    float64 // pitch in mm; 0: none
	lines   Snapper
	corners []namedPoint
	edges   []namedEdge
}

type namedPoint struct {
	at   r2.Point
	name string
}

type namedEdge struct {
	a, b r2.Point
	name string
}

// Point snaps a point.
func (s *PointSnapper) Point(at r2.Point) PointSnap {
	if c, ok := s.corner(at); ok {
		return PointSnap{At: c.at, Kind: OnCorner, Words: []string{"corner of " + c.name}}
	}
	s.lines.Reach = s.Reach
	x, y := s.lines.Point(at)
	if e, on, ok := s.edge(at); ok {
		return s.onEdge(at, e, on, x, y)
	}
	return s.onLines(at, x, y)
}

// Along snaps a point that may only move along one axis.
func (s *PointSnapper) Along(at r2.Point, alongX bool) PointSnap {
	s.lines.Reach = s.Reach
	x, y := s.lines.Point(at)
	out := s.onLines(at, keep(x, alongX), keep(y, !alongX))
	if alongX {
		out.At.Y = at.Y
	} else {
		out.At.X = at.X
	}
	return out
}

func keep(s Snap, ok bool) Snap {
	if ok {
		return s
	}
	return Snap{}
}

func (s *PointSnapper) corner(at r2.Point) (best namedPoint, ok bool) {
	far := s.Reach
	for _, c := range s.corners {
		if d := c.at.Sub(at).Norm(); d < far || !ok && d <= far {
			best, far, ok = c, d, true
		}
	}
	return best, ok
}

func (s *PointSnapper) edge(at r2.Point) (best namedEdge, on r2.Point, ok bool) {
	far := s.Reach
	for _, e := range s.edges {
		q := nearestOn(e.a, e.b, at)
		if d := q.Sub(at).Norm(); d <= far {
			best, on, far, ok = e, q, d, true
		}
	}
	return best, on, ok
}

// onEdge is a point on an edge, slid to where a line that is near crosses it.
func (s *PointSnapper) onEdge(at r2.Point, e namedEdge, on r2.Point, x, y Snap) PointSnap {
	out := PointSnap{At: on, Kind: OnEdge, Words: []string{"edge of " + e.name}}
	d := e.b.Sub(e.a)
	slide := func(l Snap, from, along float64, line float64) bool {
		if l.Why == "" || math.Abs(along) < 1e-9 {
			return false
		}
		t := (line - from) / along
		q := e.a.Add(d.Mul(t))
		if t < 0 || t > 1 || q.Sub(at).Norm() > 1.5*s.Reach {
			return false
		}
		out.At, out.Words, out.Lines = q, append(out.Words, l.Why), append(out.Lines, l.Line)
		return true
	}
	if !slide(x, e.a.X, d.X, at.X+x.By) {
		slide(y, e.a.Y, d.Y, at.Y+y.By)
	}
	return out
}

// onLines is a point pulled onto lines along the axes, and onto the grid where there is no line.
func (s *PointSnapper) onLines(at r2.Point, x, y Snap) PointSnap {
	out := PointSnap{At: at.Add(r2.Point{X: x.By, Y: y.By})}
	for _, l := range []Snap{x, y} {
		if l.Why == "" {
			continue
		}
		out.Kind = OnLine
		out.Lines = append(out.Lines, l.Line)
		if !slices.Contains(out.Words, l.Why) {
			out.Words = append(out.Words, l.Why)
		}
	}
	if s.Grid <= 0 {
		return out
	}
	if x.Why == "" {
		out.At.X = math.Round(at.X/s.Grid) * s.Grid
	}
	if y.Why == "" {
		out.At.Y = math.Round(at.Y/s.Grid) * s.Grid
	}
	if out.Kind == NoSnap {
		out.Kind, out.Words = OnGrid, []string{"grid"}
	}
	return out
}

// AddRing adds the corners and edges of an outline.
func (s *PointSnapper) AddRing(ring []r2.Point, name string) {
	s.lines.AddCorners(ring, "in line with "+name)
	for i, p := range ring {
		s.corners = append(s.corners, namedPoint{p, name})
		s.edges = append(s.edges, namedEdge{p, ring[(i+1)%len(ring)], name})
	}
}

// addMirror adds the mirror image of an outline across the centre plane, which lies at 0 along an axis of the view.
func (s *PointSnapper) addMirror(ring []r2.Point, v drawing.View, name string) {
	why := "mirror of " + name
	for _, p := range ring {
		if v == drawing.RearView {
			s.corners = append(s.corners, namedPoint{r2.Point{X: -p.X, Y: p.Y}, "the " + why})
			s.lines.X = append(s.lines.X, Edge{At: -p.X, Span: [2]float64{p.Y, p.Y}, Why: why})
			continue
		}
		s.corners = append(s.corners, namedPoint{r2.Point{X: p.X, Y: -p.Y}, "the " + why})
		s.lines.Y = append(s.lines.Y, Edge{At: -p.Y, Span: [2]float64{p.X, p.X}, Why: why})
	}
}

// PointSnapper returns what points in a view can snap to: bays, keep-outs and boxes with their mirror images, the
// corners drawn so far, the vehicle's own lines and the grid; with bodies, modules and gear too.
func (m *Model) PointSnapper(v drawing.View, drawn []r2.Point, bodies bool) *PointSnapper {
	s := &PointSnapper{Grid: m.Display.GridMM / 10}
	s.lines.AddCorners(drawn, "in line with a corner drawn")
	for i := range m.scene.Bays {
		s.addThing(v, m.scene.Bays[i].Bay.ID, m.scene.Bays[i].Space.Solids...)
	}
	for _, k := range m.scene.KeepOuts {
		s.addThing(v, k.Ref, k.Prism)
	}
	for _, b := range m.scene.Boxes {
		s.addThing(v, b.Box.ID, b.Outer.Solids...)
	}
	if bodies {
		m.addBodies(s, v)
	}
	m.addVehicle(s, v)
	return s
}

func (s *PointSnapper) addThing(v drawing.View, name string, ps ...geometry.Prism) {
	for _, p := range ps {
		ring, _ := shadow(v, p)
		s.AddRing(ring, name)
		if v != drawing.SideView {
			s.addMirror(ring, v, name)
		}
	}
}

func (m *Model) addBodies(s *PointSnapper, v drawing.View) {
	for _, b := range m.scene.Boxes {
		for _, body := range b.Modules {
			ring, _ := shadow(v, body.Prism)
			s.AddRing(ring, body.ID)
		}
		for _, g := range b.Gear {
			ring, _ := shadow(v, g.Prism)
			s.AddRing(ring, g.ID)
		}
	}
	for _, g := range m.scene.Gear {
		ring, _ := shadow(v, g.Prism)
		s.AddRing(ring, g.ID)
	}
}

// addVehicle adds the lines of the vehicle that a view shows: centre plane, axle lines, ground and clearance.
func (m *Model) addVehicle(s *PointSnapper, v drawing.View) {
	d := m.scene.Donor
	if d == nil {
		return
	}
	length, width := [2]float64{0, d.WheelbaseMM}, [2]float64{-d.TrackFrontMM / 2, d.TrackFrontMM / 2}
	height := [2]float64{0, 2 * d.WheelRadiusMM}
	if v != drawing.PlanView {
		along := length
		if v == drawing.RearView {
			along = width
		}
		s.lines.Y = append(s.lines.Y, Edge{At: 0, Span: along, Why: "ground"}, Edge{At: d.GroundClearMM, Span: along, Why: "ground clearance"})
	}
	switch v {
	case drawing.RearView:
		s.lines.X = append(s.lines.X, Edge{At: 0, Span: height, Why: "mirror line"})
	case drawing.PlanView:
		s.lines.Y = append(s.lines.Y, Edge{At: 0, Span: length, Why: "mirror line"})
		height = width
		fallthrough
	case drawing.SideView:
		s.lines.X = append(s.lines.X, Edge{At: 0, Span: height, Why: "front axle"}, Edge{At: d.WheelbaseMM, Span: height, Why: "rear axle"})
	}
}

// signHalf is half the size of the sign at a place that snapped, in units of the screen.
const signHalf = 5

// items draws the guides, and a sign for what the point snapped to: a square on a corner, a triangle on an edge, a
// slanted cross on a line, an upright one on the grid.
func (s PointSnap) items(p Pointer) []drawing.Item {
	if s.Kind == NoSnap {
		return nil
	}
	var out []drawing.Item
	for _, l := range s.Lines {
		if l[0] != l[1] {
			out = append(out, drawing.Stroke{Of: tag(RoleGuide), Points: []r2.Point{l[0], l[1]}})
		}
	}
	h := signHalf * p.unit()
	at := func(x, y float64) r2.Point { return s.At.Add(r2.Point{X: x * h, Y: y * h}) }
	line := func(closed bool, ps ...r2.Point) {
		out = append(out, drawing.Stroke{Of: tag(RoleSnap), Points: ps, Closed: closed})
	}
	switch s.Kind {
	case OnCorner:
		line(true, at(-1, -1), at(1, -1), at(1, 1), at(-1, 1))
	case OnEdge:
		line(true, at(-1.1, -0.8), at(1.1, -0.8), at(0, 1.2))
	case OnLine:
		line(false, at(-1, -1), at(1, 1))
		line(false, at(-1, 1), at(1, -1))
	default:
		line(false, at(-0.8, 0), at(0.8, 0))
		line(false, at(0, -0.8), at(0, 0.8))
	}
	return out
}

// leaveOut takes out what a grip would snap back to: its own corner with the edges that meet there, or the line of the
// edge or height that it stands on.
func (s *PointSnapper) leaveOut(g gripAt) {
	own := func(p r2.Point) bool { return p.Sub(g.at).Norm() <= togetherMM }
	if g.Kind == CornerGrip {
		s.corners = slices.DeleteFunc(s.corners, func(c namedPoint) bool { return own(c.at) })
		s.edges = slices.DeleteFunc(s.edges, func(e namedEdge) bool { return own(e.a) || own(e.b) })
		return
	}
	s.lines.X = slices.DeleteFunc(s.lines.X, func(e Edge) bool { return math.Abs(e.At-g.at.X) <= togetherMM })
	s.lines.Y = slices.DeleteFunc(s.lines.Y, func(e Edge) bool { return math.Abs(e.At-g.at.Y) <= togetherMM })
}
