package geometry

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// minCosHalf is the least cosine of half the turn at a corner whose offset
// sides are still joined up directly; their meeting is then within 1000
// offsets.
const minCosHalf = 1e-3

// offset joins up the sides of the polygon moved inward by d (outward when it
// is negative). It answers no when the outcome is not plainly the inset: when
// an edge vanishes or turns round, when sides meet, or when any part comes
// nearer to the boundary than d. When it passes, nothing of the boundary is
// within d of the result: its rings keep d, and the boundary is on the far side
// of them.
func (p Polygon) offset(d float64) (Polygon, bool) {
	q := Polygon{Outer: p.Outer.offset(d)}
	for _, h := range p.Holes {
		q.Holes = append(q.Holes, h.offset(d))
	}
	if slices.ContainsFunc(q.Holes, func(r Ring) bool { return r == nil }) || q.Outer == nil {
		return Polygon{}, false
	}
	if len(q.Validate()) > 0 || !nested(p, q, d) {
		return Polygon{}, false
	}
	_, _, least := nearestBoundaries(p, q)
	q = q.Simplified()
	return q, least >= math.Abs(d)-flat && !q.IsEmpty()
}

func nested(p, q Polygon, d float64) bool {
	if d > 0 {
		return p.ContainsPolygon(q)
	}
	return q.ContainsPolygon(p)
}

// offset joins up the moved sides of one ring; it is nil when a side vanishes.
func (r Ring) offset(d float64) Ring {
	out := make(Ring, 0, len(r)+4)
	starts := make([]int, len(r)) // of each corner's points in out
	for k, b := range r {
		starts[k] = len(out)
		m, n := normal(r[prev(k, len(r))], b).Mul(d), normal(b, r.corner(k+1)).Mul(d)
		if tip := mitre(b, m, n, d); tip != nil {
			out = append(out, tip[2:len(tip)-1]...)
			continue
		}
		sum := m.Add(n)
		cosHalf := sum.Norm() / (2 * math.Abs(d))
		if cosHalf < minCosHalf {
			return nil
		}
		out = append(out, b.Add(sum.Mul(1/(2*cosHalf*cosHalf))))
	}
	for k, b := range r {
		next := (k + 1) % len(r)
		from, to := out[prev(starts[next], len(out))], out[starts[next]]
		if !forward(b, r[next], from, to) {
			return nil
		}
	}
	return out
}

// forward tells whether the moved side still runs the way of its edge.
func forward(a, b, from, to r2.Point) bool {
	return b.Sub(a).Dot(to.Sub(from)) > Lattice*b.Sub(a).Norm()
}
