package geometry

import (
	"math"

	"github.com/golang/geo/r2"
)

// Distance is the least distance in mm between the closed regions p and q,
// zero when they touch or overlap, +Inf when either is empty.
func (p Polygon) Distance(q Polygon) float64 {
	_, _, d := p.Nearest(q)
	return d
}

// Nearest gives a pair of points, a in p and b in q, at the least distance d in
// mm. When the regions share a point, a and b are such a point and d is 0; when
// either is empty, d is +Inf.
func (p Polygon) Nearest(q Polygon) (a, b r2.Point, d float64) {
	if p.IsEmpty() || q.IsEmpty() {
		return r2.Point{}, r2.Point{}, math.Inf(1)
	}
	var pb, qb room
	pm, qm := meshOf(p, &pb), meshOf(q, &qb)
	if pm.bounds.meets(qm.bounds) {
		if s, ok := pm.shared(&qm); ok {
			return s, s, 0
		}
	}
	return nearestBoundaries(p, q)
}

// DistanceToBoundary gives the least distance d in mm from the region q to the
// boundary of p, with the point on q and the point on the boundary of p where
// it is found. For q inside p that is the clearance to the walls. It is 0 where
// the boundary of p touches or enters q.
func (p Polygon) DistanceToBoundary(q Polygon) (from, to r2.Point, d float64) {
	from, to, d = r2.Point{}, r2.Point{}, math.Inf(1)
	for i := range p.ringCount() {
		wall := Polygon{Outer: p.ring(i)}
		if f, t, e := q.nearestWall(wall); e < d {
			from, to, d = f, t, e
		}
	}
	return from, to, d
}

// nearestWall is the least distance from the region q to the outer ring of
// wall, taken as a line.
func (q Polygon) nearestWall(wall Polygon) (from, to r2.Point, d float64) {
	if q.IsEmpty() || wall.IsEmpty() {
		return r2.Point{}, r2.Point{}, math.Inf(1)
	}
	var qb, wb room
	qm, wm := meshOf(q, &qb), meshOf(wall, &wb)
	if qm.bounds.meets(wm.bounds) {
		if s, ok := qm.sharedWithRing(wm.ring(0)); ok {
			return s, s, 0
		}
	}
	return nearestBoundaries(q, wall)
}

// shared finds a point common to both closed regions.
func (m *mesh) shared(q *mesh) (r2.Point, bool) {
	for i := range q.ends {
		if s, ok := m.sharedWithRing(q.ring(i)); ok {
			return s, true
		}
	}
	if q.locate(m.nodes[0].doubled()) != Outside {
		return m.nodes[0].point(), true
	}
	return r2.Point{}, false
}

// sharedWithRing finds a point common to the closed region and the line of the
// ring.
func (m *mesh) sharedWithRing(ring []node) (r2.Point, bool) {
	if len(ring) == 0 {
		return r2.Point{}, false
	}
	for i := range m.ends {
		if s, ok := ringsMeet(m.ring(i), ring); ok {
			return s, true
		}
	}
	if m.locate(ring[0].doubled()) != Outside {
		return ring[0].point(), true
	}
	return r2.Point{}, false
}

func ringsMeet(p, q []node) (r2.Point, bool) {
	for i, b := range p {
		a := p[prev(i, len(p))]
		for k, d := range q {
			if c := q[prev(k, len(q))]; meet(a, b, c, d) {
				return meeting(a, b, c, d), true
			}
		}
	}
	return r2.Point{}, false
}

// meeting is a point common to two segments that meet.
func meeting(a, b, c, d node) r2.Point {
	s, t := side(c, d, a), side(c, d, b)
	switch {
	case s == 0 && within(c, d, a):
		return a.point()
	case t == 0 && within(c, d, b):
		return b.point()
	case side(a, b, c) == 0 && within(a, b, c):
		return c.point()
	case side(a, b, d) == 0 && within(a, b, d):
		return d.point()
	}
	f := float64(s) / (float64(s) - float64(t))
	return a.point().Add(b.point().Sub(a.point()).Mul(f))
}

// nearestBoundaries is the least distance between the boundaries of two
// regions whose boundaries do not cross: then one end of it is a corner.
func nearestBoundaries(p, q Polygon) (a, b r2.Point, d float64) {
	best := math.Inf(1)
	for i := range p.ringCount() {
		for k := range q.ringCount() {
			r, s := p.ring(i), q.ring(k)
			if x, y, e := cornersToEdges(r, s, best); e < best {
				a, b, best = x, y, e
			}
			if y, x, e := cornersToEdges(s, r, best); e < best {
				a, b, best = x, y, e
			}
		}
	}
	return a, b, math.Sqrt(best)
}

// cornersToEdges gives the least squared distance from the corners of r to the
// edges of s, if it is below limit.
func cornersToEdges(r, s Ring, limit float64) (a, b r2.Point, best float64) {
	best = limit
	for i, d := range s {
		c := s[prev(i, len(s))]
		lo, hi := r2.Point{X: min(c.X, d.X), Y: min(c.Y, d.Y)}, r2.Point{X: max(c.X, d.X), Y: max(c.Y, d.Y)}
		for _, p := range r {
			dx := max(lo.X-p.X, p.X-hi.X, 0)
			dy := max(lo.Y-p.Y, p.Y-hi.Y, 0)
			if dx*dx+dy*dy >= best {
				continue
			}
			n := nearestOnSegment(p, c, d)
			if e := squared(p.Sub(n)); e < best {
				a, b, best = p, n, e
			}
		}
	}
	return a, b, best
}

// nearestOnSegment is the point of the closed segment ab nearest to p.
func nearestOnSegment(p, a, b r2.Point) r2.Point {
	ab := b.Sub(a)
	t := p.Sub(a).Dot(ab) / squared(ab)
	switch {
	case !(t > 0): // also where a and b are the same and t is no number
		return a
	case t >= 1:
		return b
	}
	return a.Add(ab.Mul(t))
}

func squared(v r2.Point) float64 { return v.X*v.X + v.Y*v.Y }

// nearestPoint is the point of the region nearest to q: q itself when it is in
// the region.
func (p Polygon) nearestPoint(q r2.Point) (n r2.Point, d float64) {
	if p.IsEmpty() {
		return r2.Point{}, math.Inf(1)
	}
	if p.Contains(q) != Outside {
		return q, 0
	}
	best := math.Inf(1)
	at := Ring{q}
	for i := range p.ringCount() {
		if _, b, e := cornersToEdges(at, p.ring(i), best); e < best {
			n, best = b, e
		}
	}
	return n, math.Sqrt(best)
}
