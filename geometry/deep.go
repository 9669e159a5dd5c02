package geometry

import "github.com/golang/geo/r2"

// deep tells whether two shapes that overlap on the lattice do so by more than
// contact. A corner well inside the other shape settles most cases; for the
// rest the common part must hold more area than a strip of the touching depth
// along its length.
func deep(p, q Polygon, pm, qm *mesh) bool {
	if cornerDeep(p, q, pm) || cornerDeep(q, p, qm) {
		return true
	}
	parts, err := Intersection(p, q)
	if err != nil {
		return true
	}
	for _, part := range parts {
		if part.Area() > touching*part.Perimeter()/2 {
			return true
		}
	}
	return false
}

// cornerDeep tells whether a corner of q lies inside p, more than the touching
// depth from its boundary.
func cornerDeep(p, q Polygon, pm *mesh) bool {
	for _, c := range q.Outer {
		if pm.locate(toNode(c).doubled()) == Inside && p.wallDistance(c) > touching {
			return true
		}
	}
	return false
}

func (p Polygon) wallDistance(c r2.Point) float64 {
	_, _, d := p.DistanceToBoundary(Polygon{Outer: Ring{c}})
	return d
}
