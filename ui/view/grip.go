package view

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// GripKind is what a grip moves.
type GripKind uint8

// The kinds: corners and edges in the plan, floors and ceilings in the views from the side and from behind.
const (
	CornerGrip GripKind = iota
	EdgeGrip            // moves an edge as it is
	FloorGrip
	CeilingGrip
)

// Grip is what a shape can be taken by.
type Grip struct {
	Corner
	Kind GripKind
}

// gripAt is a grip at its place in a view.
type gripAt struct {
	Grip
	at r2.Point
}

// leastEdgeUnits is how long an edge is at least on the screen to have a grip at its middle.
const leastEdgeUnits = 44

// grips are those of the one thing picked in a view where a unit of the screen shows so many mm.
func (m *Model) grips(v drawing.View, unit float64) []gripAt {
	if m.Selection.Len() != 1 {
		return nil
	}
	if v != drawing.PlanView {
		return heightGrips(m.Arrangement(), m.Selection.Last(), v)
	}
	var out []gripAt
	for _, s := range m.shapesPicked() {
		for i, c := range s.ring {
			next := s.ring[(i+1)%len(s.ring)]
			out = append(out, gripAt{Grip{Corner{s.Shape, i}, CornerGrip}, c})
			if next.Sub(c).Norm() >= leastEdgeUnits*unit {
				out = append(out, gripAt{Grip{Corner{s.Shape, i}, EdgeGrip}, c.Add(next).Mul(0.5)})
			}
		}
	}
	return out
}

// span is a level's or keep-out's floor and ceiling above the ground.
type span struct{ floor, ceiling float64 }

// spans are the heights of the shapes of a thing, in the order of [shapes].
func spans(a *layout.Arrangement, ref string) []span {
	levels := func(ls []vehicles.Level, z float64) []span {
		out := make([]span, len(ls))
		for i, l := range ls {
			out[i] = span{l.FloorMM + z, l.CeilingMM + z}
		}
		return out
	}
	if b := a.Box(ref); b != nil {
		return levels(b.Levels, b.At[2])
	}
	if i := bayAt(a, ref); i >= 0 {
		return levels(a.Bays[i].Levels, 0)
	}
	if k := a.KeepOut(ref); k != nil {
		return []span{{k.FloorMM, k.CeilingMM}}
	}
	return nil
}

// heightGrips are the floors and ceilings of a thing's shapes, at their middles as seen.
func heightGrips(a *layout.Arrangement, ref string, v drawing.View) []gripAt {
	heights := spans(a, ref)
	var out []gripAt
	for i, s := range shapes(a, ref) {
		r := r2.RectFromPoints(s.ring...)
		x := r.Center().X
		if v == drawing.RearView {
			x = r.Center().Y
		}
		out = append(out, gripAt{Grip{Corner{s.Shape, 0}, FloorGrip}, r2.Point{X: x, Y: heights[i].floor}},
			gripAt{Grip{Corner{s.Shape, 0}, CeilingGrip}, r2.Point{X: x, Y: heights[i].ceiling}})
	}
	return out
}

// gripNear returns the nearest grip within reach of the pointer, an edge's only where there is no other.
func (m *Model) gripNear(p Pointer) (best gripAt, ok bool) {
	reach, far := CornerReach*p.Slack, 0.0
	for _, g := range m.grips(p.View, p.unit()) {
		d, edge, bestEdge := g.at.Sub(p.At).Norm(), g.Kind == EdgeGrip, best.Kind == EdgeGrip
		if d <= reach && (!ok || bestEdge && !edge || bestEdge == edge && d < far) {
			best, far, ok = g, d, true
		}
	}
	return best, ok
}

// Grips are the signs of what the one thing picked can be taken by in a view, half so many mm wide: squares on corners,
// bars along edges, floors and ceilings. The one under the pointer or taken is filled.
func (m *Model) Grips(v drawing.View, half float64) []drawing.Item {
	t, ok := m.tool.(*Select)
	if !ok {
		return nil
	}
	var out []drawing.Item
	for _, g := range m.grips(v, half/gripHalf) {
		role := RoleHandle
		if t.hot != nil && *t.hot == g.Grip || t.current != nil && t.current.grip == g.Grip {
			role = RoleHandleHot
		}
		area := m.gripArea(g, half)
		out = append(out, drawing.Fill{Of: tag(role), Area: area}, drawing.Stroke{Of: tag(role), Points: area.Outer, Closed: true})
	}
	return out
}

// gripHalf is half a grip's width in units of the screen.
const gripHalf = 3.5

func (m *Model) gripArea(g gripAt, half float64) geometry.Polygon {
	along := r2.Point{X: 1}
	switch g.Kind {
	case CornerGrip:
		return geometry.NewRect(g.at.X-half, g.at.Y-half, g.at.X+half, g.at.Y+half)
	case EdgeGrip:
		ring := shapes(m.Arrangement(), g.Ref)[g.Level].ring
		along = ring[(g.Index+1)%len(ring)].Sub(ring[g.Index]).Normalize()
	}
	a, b := along.Mul(2*half), along.Ortho().Mul(0.6*half)
	return geometry.Polygon{Outer: []r2.Point{g.at.Sub(a).Sub(b), g.at.Add(a).Sub(b), g.at.Add(a).Add(b), g.at.Sub(a).Add(b)}}
}

// MoveEdge gives the edit that moves an edge as it is by mm of the vehicle's plan. Corners of other levels that stand
// over its ends go along.
func MoveEdge(p *layout.Plan, arrangement string, edge Corner, by r2.Point) (layout.Edit, error) {
	return moveCorners(p, arrangement, "Move an edge of "+edge.Ref, edge, 2, func(q r2.Point) r2.Point { return q.Add(by) })
}

// leastHeightMM is the least height of a level.
const leastHeightMM = 1

// SetHeight gives the edit that puts the floor or the ceiling of a shape at a height above the ground in mm.
func SetHeight(p *layout.Plan, arrangement string, g Grip, z float64) (layout.Edit, error) {
	what := "floor"
	if g.Kind == CeilingGrip {
		what = "ceiling"
	}
	return layout.Change(p, arrangement, "Move the "+what+" of "+g.Ref, func(a *layout.Arrangement) error {
		now := spans(a, g.Ref)
		if g.Level >= len(now) || len(shapes(a, g.Ref)) == 0 {
			return fmt.Errorf("the heights of %s cannot be changed here", g.Ref)
		}
		h := now[g.Level]
		if g.Kind == CeilingGrip {
			h.ceiling = tidy(z)
		} else {
			h.floor = tidy(z)
		}
		if h.ceiling-h.floor < leastHeightMM {
			return errors.New("the ceiling lies above the floor")
		}
		putHeights(a, g.Shape, h)
		return nil
	})
}

func putHeights(a *layout.Arrangement, s Shape, h span) {
	levels := func(ls []vehicles.Level, z float64) []vehicles.Level {
		out := slices.Clone(ls)
		out[s.Level].FloorMM, out[s.Level].CeilingMM = tidy(h.floor-z), tidy(h.ceiling-z)
		return out
	}
	if b := a.Box(s.Ref); b != nil {
		c := *b
		c.Levels = levels(b.Levels, b.At[2])
		*a = *a.WithBox(&c)
		return
	}
	if i := bayAt(a, s.Ref); i >= 0 {
		a.Bays = slices.Clone(a.Bays)
		a.Bays[i].Levels = levels(a.Bays[i].Levels, 0)
		return
	}
	ChangeKeepOut(a, s.Ref, func(k *vehicles.KeepOut) { k.FloorMM, k.CeilingMM = h.floor, h.ceiling })
}

// distanceOff is how far a point lies to the left of the line from a to b.
func distanceOff(a, b, p r2.Point) float64 {
	d := b.Sub(a)
	if d.Norm() == 0 {
		return math.Inf(1)
	}
	return d.Ortho().Normalize().Dot(p.Sub(a))
}
