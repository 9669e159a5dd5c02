package geometry

import "github.com/golang/geo/r2"

// ContainsSegment tells whether the whole segment from a to b lies in the
// closed region, exactly on the lattice.
func (p Polygon) ContainsSegment(a, b r2.Point) bool {
	var buf room
	m := meshOf(p, &buf)
	return m.coversSegment(toNode(a), toNode(b))
}

func (m *mesh) coversSegment(a, b node) bool {
	if a == b {
		return m.locate(a.doubled()) != Outside
	}
	return !m.walk(a, b).outside
}

// ContainsRect tells whether the whole rectangle lies in the closed region,
// exactly on the lattice to which its corners are rounded.
func (p Polygon) ContainsRect(r Rect) bool {
	c := r.corners()
	return p.ContainsPolygon(Polygon{Outer: c[:]})
}

// ContainsPolygon tells whether the whole of q lies in the closed region,
// exactly on the lattice. Contact with the boundary from within is allowed.
func (p Polygon) ContainsPolygon(q Polygon) bool {
	var pb, qb room
	pm, qm := meshOf(p, &pb), meshOf(q, &qb)
	return pm.covers(&qm)
}

// covers holds when no part of the boundary of q is outside m and no hole of m
// shares an interior point with q. No more is needed: an outer ring within
// the outer ring of m encloses nothing outside that, and a hole whose interior
// the boundary of q does not enter is either wholly in q or wholly out of it.
func (m *mesh) covers(q *mesh) bool {
	if len(q.nodes) == 0 || !m.bounds.covers(q.bounds) {
		return false
	}
	if m.clearOf(q.bounds) {
		return m.locate(q.nodes[0].doubled()) == Inside
	}
	if m.walkRings(q).outside {
		return false
	}
	for i := 1; i < len(m.ends); i++ {
		hole := meshOfRing(m.ring(i))
		if hole.overlaps(q) {
			return false
		}
	}
	return true
}

// clearOf tells, roughly, that no edge of m reaches the box: then the box is
// wholly inside or wholly outside.
func (m *mesh) clearOf(b box) bool {
	for i := range m.ends {
		ring := m.ring(i)
		for k, d := range ring {
			if boxesMeet(ring[prev(k, len(ring))], d, b.lo, b.hi) {
				return false
			}
		}
	}
	return true
}

// walkRings tells what the rings of q meet of m.
func (m *mesh) walkRings(q *mesh) seen {
	all := seen{}
	for i := range q.ends {
		ring := q.ring(i)
		for k, b := range ring {
			s := m.walk(ring[prev(k, len(ring))], b)
			all = seen{all.inside || s.inside, all.outside || s.outside, all.boundary || s.boundary}
			if all.both() {
				return all
			}
		}
	}
	return all
}

func meshOfRing(ring []node) mesh {
	m := mesh{nodes: ring, ends: []int{len(ring)}, bounds: emptyBox()}
	for _, n := range ring {
		m.bounds = m.bounds.add(n)
	}
	return m
}

// Overlaps tells whether the interiors of p and q share a point, exactly on
// the lattice: shapes that only touch do not overlap. Where a side of either
// shape is off the axes, an overlap no deeper than two lattice steps counts as
// touching.
func (p Polygon) Overlaps(q Polygon) bool {
	var pb, qb room
	pm, qm := meshOf(p, &pb), meshOf(q, &qb)
	if !pm.overlaps(&qm) {
		return false
	}
	return (pm.square() && qm.square()) || deep(p, q, &pm, &qm)
}

// overlaps holds when part of the boundary of one lies in the interior of the
// other. If neither does, each interior is wholly in or wholly out of the
// other, so they are apart or the same; they are the same when each boundary
// lies on the other.
func (m *mesh) overlaps(q *mesh) bool {
	if !m.bounds.overlaps(q.bounds) { // those of an empty mesh overlap nothing
		return false
	}
	s := m.walkRings(q)
	if s.inside {
		return true
	}
	t := q.walkRings(m)
	if t.inside {
		return true
	}
	return !s.outside && !t.outside
}
