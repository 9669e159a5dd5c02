package geometry

import (
	"math"

	"github.com/golang/geo/r2"
)

// Lattice is the step, in millimetres, to which predicates round coordinates.
// It is the only tolerance of the package.
const Lattice = 0.01

// MaxCoordinate is the greatest magnitude, in millimetres, of a valid
// coordinate. On the lattice it is 1e8, and predicates double it, so that
// differences stay below 4e8+1 and cross products below 4e17: exact in int64.
const MaxCoordinate = 1e6

const (
	stepsPerMM  = 1 / Lattice
	latticeEdge = 2 * MaxCoordinate * stepsPerMM // beyond this, values are held at the edge
)

// node is a point on the lattice, in lattice steps (or in half steps where
// the code says doubled).
type node struct{ x, y int64 }

// steps rounds a length in millimetres to lattice steps, halves to even so that
// a mirrored length rounds the same way. Lengths out of range are held at the edge of the lattice and NaN counts as zero.
func steps(mm float64) int64 {
	v := math.RoundToEven(mm * stepsPerMM)
	switch {
	case v > latticeEdge:
		return latticeEdge
	case v < -latticeEdge:
		return -latticeEdge
	case v != v:
		return 0
	}
	return int64(v)
}

func toNode(p r2.Point) node { return node{steps(p.X), steps(p.Y)} }

func (a node) point() r2.Point {
	return r2.Point{X: float64(a.x) / stepsPerMM, Y: float64(a.y) / stepsPerMM}
}

func (a node) doubled() node { return node{2 * a.x, 2 * a.y} }

// mid is the midpoint of a and b in doubled coordinates.
func mid(a, b node) node { return node{a.x + b.x, a.y + b.y} }

// side is positive where p is left of the line from a to b, negative where it
// is right of it, and zero on it.
func side(a, b, p node) int64 {
	return (b.x-a.x)*(p.y-a.y) - (b.y-a.y)*(p.x-a.x)
}

// within tells whether p lies in the closed box spanned by a and b.
func within(a, b, p node) bool {
	return min(a.x, b.x) <= p.x && p.x <= max(a.x, b.x) &&
		min(a.y, b.y) <= p.y && p.y <= max(a.y, b.y)
}

// boxesMeet tells whether the closed boxes of segments ab and cd share a point.
func boxesMeet(a, b, c, d node) bool {
	return max(a.x, b.x) >= min(c.x, d.x) && max(c.x, d.x) >= min(a.x, b.x) &&
		max(a.y, b.y) >= min(c.y, d.y) && max(c.y, d.y) >= min(a.y, b.y)
}

// opposite tells whether the two sides are strictly on different sides.
func opposite(s, t int64) bool { return (s < 0 && t > 0) || (s > 0 && t < 0) }

// cross tells whether segments ab and cd cross at a point interior to both.
func cross(a, b, c, d node) bool {
	return boxesMeet(a, b, c, d) &&
		opposite(side(a, b, c), side(a, b, d)) &&
		opposite(side(c, d, a), side(c, d, b))
}

// meet tells whether closed segments ab and cd share a point.
func meet(a, b, c, d node) bool {
	if !boxesMeet(a, b, c, d) {
		return false
	}
	s1, s2 := side(a, b, c), side(a, b, d)
	s3, s4 := side(c, d, a), side(c, d, b)
	if opposite(s1, s2) && opposite(s3, s4) {
		return true
	}
	return (s1 == 0 && within(a, b, c)) || (s2 == 0 && within(a, b, d)) ||
		(s3 == 0 && within(c, d, a)) || (s4 == 0 && within(c, d, b))
}

// box is a closed axis-parallel box on the lattice.
type box struct{ lo, hi node }

func emptyBox() box {
	const far = math.MaxInt64
	return box{node{far, far}, node{-far, -far}}
}

func (b box) add(p node) box {
	return box{
		node{min(b.lo.x, p.x), min(b.lo.y, p.y)},
		node{max(b.hi.x, p.x), max(b.hi.y, p.y)},
	}
}

// overlaps tells whether the interiors of the boxes share a point.
func (b box) overlaps(c box) bool {
	return b.lo.x < c.hi.x && c.lo.x < b.hi.x && b.lo.y < c.hi.y && c.lo.y < b.hi.y
}

// meets tells whether the closed boxes share a point.
func (b box) meets(c box) bool {
	return b.lo.x <= c.hi.x && c.lo.x <= b.hi.x && b.lo.y <= c.hi.y && c.lo.y <= b.hi.y
}

// covers tells whether c lies in the closed box b.
func (b box) covers(c box) bool {
	return b.lo.x <= c.lo.x && c.hi.x <= b.hi.x && b.lo.y <= c.lo.y && c.hi.y <= b.hi.y
}
