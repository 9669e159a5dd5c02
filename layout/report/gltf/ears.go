package gltf

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
)

// oneRing joins holes to the outer ring by a cut from each hole's rightmost corner to a corner that it sees, the
// holes furthest right first, so that one ring runs about everything (D. Eberly, Triangulation by Ear Clipping).
func oneRing(a geometry.Polygon) geometry.Ring {
	holes := slices.Clone(a.Holes)
	slices.SortFunc(holes, func(g, h geometry.Ring) int { return cmp.Compare(rightmost(h).X, rightmost(g).X) })
	ring := slices.Clone(a.Outer)
	for i, h := range holes {
		ring = joined(ring, h, holes[i:])
	}
	return ring
}

func rightmost(r geometry.Ring) r2.Point {
	return slices.MaxFunc(r, func(p, q r2.Point) int { return cmp.Compare(p.X, q.X) })
}

// joined cuts from the hole to the nearest corner of the ring that nothing stands before.
func joined(ring, hole geometry.Ring, holes []geometry.Ring) geometry.Ring {
	m := slices.Index(hole, rightmost(hole))
	at := -1
	best := 0.0
	for i, p := range ring {
		d := p.Sub(hole[m]).Norm()
		before, after := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
		if (at < 0 || d < best) && opensTo(before, p, after, hole[m]) && !crossed(hole[m], p, ring) && !crossedAny(hole[m], p, holes) {
			at, best = i, d
		}
	}
	if at < 0 {
		return ring
	}
	out := slices.Clone(ring[:at+1])
	for i := 0; i <= len(hole); i++ {
		out = append(out, hole[(m+i)%len(hole)])
	}
	return append(out, ring[at:]...)
}

// opensTo tells whether q lies inside the angle of a ring's corner p between its neighbours. A corner that an earlier cut ends at
// is in the ring twice, with another angle each time (J. O'Rourke, Computational Geometry in C, 1.6.3).
func opensTo(before, p, after, q r2.Point) bool {
	if side(before, p, after) >= 0 {
		return side(p, q, before) > 0 && side(q, p, after) > 0
	}
	return side(p, q, after) < 0 || side(q, p, before) < 0
}

func crossedAny(a, b r2.Point, rings []geometry.Ring) bool {
	return slices.ContainsFunc(rings, func(r geometry.Ring) bool { return crossed(a, b, r) })
}

// crossed tells whether an edge of the ring crosses the inside of the segment from a to b.
func crossed(a, b r2.Point, ring geometry.Ring) bool {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if p == a || p == b || q == a || q == b {
			continue
		}
		if side(a, b, p)*side(a, b, q) < 0 && side(p, q, a)*side(p, q, b) < 0 {
			return true
		}
	}
	return false
}

func side(a, b, p r2.Point) float64 { return b.Sub(a).Cross(p.Sub(a)) }

// triangles cuts a ring that runs anticlockwise into triangles, an ear at a time (G. H. Meisters, Polygons have
// ears, American Mathematical Monthly 82, 1975). Corners on a straight line come off as empty triangles.
func triangles(ring geometry.Ring) [][3]int {
	left := make([]int, len(ring))
	for i := range left {
		left[i] = i
	}
	var out [][3]int
	for len(left) > 3 {
		k := ear(ring, left)
		n := len(left)
		out = append(out, [3]int{left[(k+n-1)%n], left[k], left[(k+1)%n]})
		left = slices.Delete(left, k, k+1)
	}
	return append(out, [3]int{left[0], left[1], left[2]})
}

// ear finds a corner that can be cut off; where rounding leaves none, the first one.
func ear(ring geometry.Ring, left []int) int {
	n := len(left)
	for k := range left {
		a, b, c := ring[left[(k+n-1)%n]], ring[left[k]], ring[left[(k+1)%n]]
		if side(a, b, c) >= 0 && !anyWithin(a, b, c, ring, left) {
			return k
		}
	}
	return 0
}

func anyWithin(a, b, c r2.Point, ring geometry.Ring, left []int) bool {
	for _, i := range left {
		p := ring[i]
		if p == a || p == b || p == c {
			continue
		}
		if side(a, b, p) >= 0 && side(b, c, p) >= 0 && side(c, a, p) >= 0 {
			return true
		}
	}
	return false
}
