package geometry

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r2"
)

// Location tells where a point lies with respect to a closed region.
type Location int8

// The places a point can be in.
const (
	Outside Location = iota
	Boundary
	Inside
)

// String is the name of the location in lower case.
func (l Location) String() string {
	return [...]string{"outside", "boundary", "inside"}[l]
}

// Contains tells where p lies, exactly on the lattice.
func (p Polygon) Contains(q r2.Point) Location {
	var buf room
	m := meshOf(p, &buf)
	return m.locate(toNode(q).doubled())
}

// locate tells where the doubled node p lies. It counts the crossings of the
// ray from p to the right over all rings; a vertex belongs to the edge that
// goes up from it, so that none counts twice (Shimrat's rule, as corrected by
// Hacker, Communications of the ACM 5(8) and 5(12), 1962; from memory).
func (m *mesh) locate(p node) Location {
	inside := false
	for i := range m.ends {
		ring := m.ring(i)
		if len(ring) == 0 {
			continue
		}
		a := ring[len(ring)-1].doubled()
		for _, b := range ring {
			b = b.doubled()
			if within(a, b, p) && side(a, b, p) == 0 {
				return Boundary
			}
			if (a.y > p.y) != (b.y > p.y) && (side(a, b, p) > 0) == (b.y > a.y) {
				inside = !inside
			}
			a = b
		}
	}
	if inside {
		return Inside
	}
	return Outside
}

// seen is what a path meets of a region along its way.
type seen struct{ inside, outside, boundary bool }

func (s seen) both() bool { return s.inside && s.outside }

// walk tells what the open segment ab meets of the region. Where it crosses an
// edge it meets both sides. Elsewhere it can only change sides at a vertex of
// the region, so it is cut there and each piece is judged by its midpoint.
func (m *mesh) walk(a, b node) seen {
	if !boxesMeet(a, b, m.bounds.lo, m.bounds.hi) {
		return seen{outside: true}
	}
	var buf [16]node
	cuts, crossed := m.cuts(a, b, buf[:0])
	if crossed {
		return seen{inside: true, outside: true, boundary: true}
	}
	s := seen{}
	if len(cuts) > 1 {
		sortAlong(a, b, cuts)
	}
	for _, c := range cuts {
		s.add(m.locate(mid(a, c)))
		a = c
	}
	s.add(m.locate(mid(a, b)))
	return s
}

func (s *seen) add(l Location) {
	switch l {
	case Inside:
		s.inside = true
	case Outside:
		s.outside = true
	default:
		s.boundary = true
	}
}

// cuts appends the vertices of the region strictly between a and b, and tells
// whether ab crosses an edge.
func (m *mesh) cuts(a, b node, to []node) (cuts []node, crossed bool) {
	for i := range m.ends {
		ring := m.ring(i)
		if len(ring) == 0 {
			continue
		}
		c := ring[len(ring)-1]
		for _, d := range ring {
			if boxesMeet(a, b, c, d) {
				if cross(a, b, c, d) {
					return to, true
				}
				if d != a && d != b && within(a, b, d) && side(a, b, d) == 0 {
					to = append(to, d)
				}
			}
			c = d
		}
	}
	return to, false
}

func sortAlong(a, b node, cuts []node) {
	dx, dy := int64(cmp.Compare(b.x, a.x)), int64(cmp.Compare(b.y, a.y))
	slices.SortFunc(cuts, func(c, d node) int { return cmp.Compare(c.x*dx+c.y*dy, d.x*dx+d.y*dy) })
}
