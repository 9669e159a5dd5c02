package view

import (
	"errors"
	"fmt"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// Shape is an outline whose corners can be changed: a level of a bay or box of the arrangement, or a keep-out.
type Shape struct {
	Ref   string
	Level int // 0 for a keep-out
}

// Corner is a corner of a shape; as an edge it is the one from this corner to the next.
type Corner struct {
	Shape
	Index int
}

// shapeAt is a shape as it stands in the vehicle's plan, mm.
type shapeAt struct {
	Shape
	ring []r2.Point
}

// shapes are the outlines of a thing, none where it has none that can be changed here.
func shapes(a *layout.Arrangement, ref string) []shapeAt {
	if b := a.Box(ref); b != nil {
		if b.Locked {
			return nil
		}
		return levelShapes(ref, b.Levels, boxFrame(b))
	}
	if i := bayAt(a, ref); i >= 0 {
		return levelShapes(ref, a.Bays[i].Levels, layout.NewFrame(vehicles.XYZ{}, 0))
	}
	if k := a.KeepOut(ref); k != nil {
		return []shapeAt{{Shape{ref, 0}, vehicles.Points(k.Outline)}}
	}
	return nil
}

func levelShapes(ref string, levels []vehicles.Level, f layout.Frame) []shapeAt {
	out := make([]shapeAt, len(levels))
	for i, l := range levels {
		out[i] = shapeAt{Shape{ref, i}, make([]r2.Point, len(l.Outline))}
		for k, c := range l.Outline {
			v := f.ToVehicle(r3.Vector{X: c[0], Y: c[1]})
			out[i].ring[k] = r2.Point{X: v.X, Y: v.Y}
		}
	}
	return out
}

func boxFrame(b *layout.Box) layout.Frame { return layout.NewFrame(b.At, b.TurnDeg) }

func bayAt(a *layout.Arrangement, id string) int {
	return slices.IndexFunc(a.Bays, func(b vehicles.Bay) bool { return b.ID == id })
}

// togetherMM is how near corners of levels stand over one another to count as one corner in plan: the lattice's pitch.
const togetherMM = 0.01

// MoveCorner gives the edit that puts a corner at a place of the vehicle's plan. Corners of other levels of the same
// thing that stand over it go along: from above they are one corner, and of a wall they are one edge.
func MoveCorner(p *layout.Plan, arrangement string, c Corner, to r2.Point) (layout.Edit, error) {
	return moveCorners(p, arrangement, "Move a corner of "+c.Ref, c, 1, func(r2.Point) r2.Point { return to })
}

// moveCorners moves a corner and those after it, n in all, and what corners of other levels stand over them.
func moveCorners(p *layout.Plan, arrangement, label string, c Corner, n int, f func(r2.Point) r2.Point) (layout.Edit, error) {
	return layout.Change(p, arrangement, label, func(a *layout.Arrangement) error {
		all := shapes(a, c.Ref)
		if c.Level >= len(all) {
			return fmt.Errorf("the outline of %s cannot be changed here", c.Ref)
		}
		own := all[c.Level].ring
		if c.Index >= len(own) {
			return errors.New("there is no such corner")
		}
		var from []r2.Point
		for i := range n {
			from = append(from, own[(c.Index+i)%len(own)])
		}
		for _, s := range all {
			ring, moved := withCornersMoved(s.ring, from, f)
			if !moved {
				continue
			}
			if problems := geometry.Ring(ring).Polygon().Validate(); len(problems) > 0 {
				return fmt.Errorf("not an outline: %w", problems[0])
			}
			putShape(a, s.Shape, ring)
		}
		return nil
	})
}

// withCornersMoved moves the corners that stand at places, and tells whether there are any.
func withCornersMoved(ring, from []r2.Point, f func(r2.Point) r2.Point) ([]r2.Point, bool) {
	out, moved := slices.Clone(ring), false
	for i, q := range ring {
		if slices.ContainsFunc(from, func(p r2.Point) bool { return q.Sub(p).Norm() <= togetherMM }) {
			out[i], moved = f(q), true
		}
	}
	return out, moved
}

// AddCorner gives the edit that puts a corner on the edge from a corner to the next.
func AddCorner(p *layout.Plan, arrangement string, edge Corner, at r2.Point) (layout.Edit, error) {
	return reshape(p, arrangement, edge.Shape, "Add a corner to "+edge.Ref, func(ring []r2.Point) ([]r2.Point, error) {
		if edge.Index >= len(ring) {
			return nil, errors.New("there is no such edge")
		}
		return slices.Insert(ring, edge.Index+1, at), nil
	})
}

// RemoveCorner gives the edit that takes out a corner. An outline keeps three.
func RemoveCorner(p *layout.Plan, arrangement string, c Corner) (layout.Edit, error) {
	return reshape(p, arrangement, c.Shape, "Take out a corner of "+c.Ref, func(ring []r2.Point) ([]r2.Point, error) {
		switch {
		case c.Index >= len(ring):
			return nil, errors.New("there is no such corner")
		case len(ring) <= 3:
			return nil, errors.New("an outline needs three corners at least")
		}
		return slices.Delete(ring, c.Index, c.Index+1), nil
	})
}

// reshape gives the edit that changes one outline. f gets a copy of it in the vehicle's plan.
func reshape(p *layout.Plan, arrangement string, s Shape, label string, f func([]r2.Point) ([]r2.Point, error)) (layout.Edit, error) {
	return layout.Change(p, arrangement, label, func(a *layout.Arrangement) error {
		all := shapes(a, s.Ref)
		if s.Level >= len(all) {
			return fmt.Errorf("the outline of %s cannot be changed here", s.Ref)
		}
		ring, err := f(slices.Clone(all[s.Level].ring))
		if err != nil {
			return err
		}
		if problems := geometry.Ring(ring).Polygon().Validate(); len(problems) > 0 {
			return fmt.Errorf("not an outline: %w", problems[0])
		}
		putShape(a, s, ring)
		return nil
	})
}

// putShape puts an outline given in the vehicle's plan in place of a shape.
func putShape(a *layout.Arrangement, s Shape, ring []r2.Point) {
	if b := a.Box(s.Ref); b != nil {
		c := *b
		c.Levels = withOutline(b.Levels, s.Level, ring, boxFrame(b))
		*a = *a.WithBox(&c)
		return
	}
	plain := layout.NewFrame(vehicles.XYZ{}, 0)
	if i := bayAt(a, s.Ref); i >= 0 {
		a.Bays = slices.Clone(a.Bays)
		a.Bays[i].Levels = withOutline(a.Bays[i].Levels, s.Level, ring, plain)
		return
	}
	ChangeKeepOut(a, s.Ref, func(k *vehicles.KeepOut) { k.Outline = outlineIn(plain, ring) })
}

func withOutline(levels []vehicles.Level, i int, ring []r2.Point, f layout.Frame) []vehicles.Level {
	out := slices.Clone(levels)
	out[i].Outline = outlineIn(f, ring)
	return out
}

func outlineIn(f layout.Frame, ring []r2.Point) []vehicles.XY {
	out := make([]vehicles.XY, len(ring))
	origin := f.ToVehicle(r3.Vector{})
	for i, p := range ring {
		q := f.FromVehicle(r3.Vector{X: p.X, Y: p.Y, Z: origin.Z})
		out[i] = vehicles.XY{tidy(q.X), tidy(q.Y)}
	}
	return out
}

// CornerAt returns the corner within reach of a place in the plan, of the one thing picked.
func (m *Model) CornerAt(p r2.Point, reach float64) (Corner, bool) {
	best, found := reach, Corner{}
	ok := false
	for _, s := range m.shapesPicked() {
		for i, c := range s.ring {
			if d := c.Sub(p).Norm(); d <= best {
				best, found, ok = d, Corner{s.Shape, i}, true
			}
		}
	}
	return found, ok
}

// EdgeAt returns the edge within reach of a place in the plan, of the one thing picked, and the nearest place on it.
func (m *Model) EdgeAt(p r2.Point, reach float64) (edge Corner, on r2.Point, ok bool) {
	best := reach
	for _, s := range m.shapesPicked() {
		for i, a := range s.ring {
			q := nearestOn(a, s.ring[(i+1)%len(s.ring)], p)
			if d := q.Sub(p).Norm(); d <= best {
				best, edge, on, ok = d, Corner{s.Shape, i}, q, true
			}
		}
	}
	return edge, tidyPoint(on), ok
}

// nearestOn is the place between a and b that is nearest to p.
func nearestOn(a, b, p r2.Point) r2.Point {
	d := b.Sub(a)
	n := d.Dot(d)
	if n == 0 {
		return a
	}
	return a.Add(d.Mul(min(max(p.Sub(a).Dot(d)/n, 0), 1)))
}

func (m *Model) shapesPicked() []shapeAt {
	if m.Selection.Len() != 1 {
		return nil
	}
	return shapes(m.Arrangement(), m.Selection.Last())
}
