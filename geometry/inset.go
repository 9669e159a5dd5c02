package geometry

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/peterstace/simplefeatures/geom"
)

// mitreLimit is the greatest distance of a mitre's tip from its corner, as a
// multiple of the offset: a little more than the √2 of a right angle. A sharper
// corner is cut off square at that distance, which is still outside the circle
// about the corner and wastes less room than its long mitre would.
const mitreLimit = 1.5

// Inset is the part of the polygon at least d mm from its boundary, with
// straight mitred corners: at a re-entrant corner the cut runs to the meeting
// of the two offset sides, or square across where that is more than 1.5d away,
// so that every point of the result keeps at least d (a round corner made of
// chords would not). Necks narrower than 2d split the
// result, and it may be empty. A negative d grows the polygon by -d with
// mitred corners, closing what is narrower than that.
//
// Where no edge vanishes and no two sides meet, the offset sides are joined up
// directly, and the distance of the result from the boundary is checked.
// Otherwise the strip within d of each edge, and the mitre at each corner that
// needs one, are taken away from the polygon (or added to it) by overlay; that
// is exact for necks, holes and islands alike.
func (p Polygon) Inset(d float64) ([]Polygon, error) {
	if math.IsNaN(d) || math.Abs(d) > MaxCoordinate {
		return nil, fmt.Errorf("geometry: inset by %v mm: must be a number within ±%g", d, float64(MaxCoordinate))
	}
	if err := measurable(p); err != nil {
		return nil, err
	}
	p = p.Simplified()
	if p.IsEmpty() {
		return nil, nil
	}
	if d == 0 {
		return []Polygon{p}, nil
	}
	if q, ok := p.offset(d); ok {
		return []Polygon{q}, nil
	}
	return p.insetByStrips(d)
}

// insetByStrips takes the strips along the boundary away from the polygon or
// adds them to it. The overlay of many strips at once can lose one where sides
// nearly coincide, so the outcome is measured, and found again strip by strip
// if it comes too near the boundary.
func (p Polygon) insetByStrips(d float64) ([]Polygon, error) {
	strips := p.strips(d)
	for _, union := range []func([]geom.Geometry) (geom.Geometry, error){geom.UnionMany, unionOneByOne} {
		g, err := union(strips)
		if err != nil {
			continue
		}
		g, err = p.withStrips(g, d > 0)
		if out, err := fromGeom(g, "inset", err); err == nil && p.keeps(out, d) {
			return out, nil
		}
	}
	return nil, fmt.Errorf("geometry: inset by %v mm: the overlay fails on this outline", d)
}

func unionOneByOne(gs []geom.Geometry) (geom.Geometry, error) {
	sum := gs[0]
	for _, g := range gs[1:] {
		var err error
		if sum, err = geom.Union(sum, g); err != nil {
			return sum, err
		}
	}
	return sum, nil
}

// keeps tells whether an inset or outset keeps |d| from the boundary, on the
// right side of it.
func (p Polygon) keeps(out []Polygon, d float64) bool {
	for _, q := range out {
		if !nested(p, q, d) {
			return false
		}
		if _, _, least := nearestBoundaries(p, q); least < math.Abs(d)-10*flat {
			return false
		}
	}
	return d > 0 || len(out) == 1
}

func (p Polygon) withStrips(strips geom.Geometry, inward bool) (geom.Geometry, error) {
	if inward {
		return geom.Difference(toGeom(p), strips)
	}
	return geom.Union(toGeom(p), strips)
}

// strips are the regions within |d| of the boundary on the inner side (d > 0)
// or the outer side (d < 0).
func (p Polygon) strips(d float64) []geom.Geometry {
	var out []geom.Geometry
	for i := range p.ringCount() {
		r := p.ring(i)
		for k, b := range r {
			a, c := r[prev(k, len(r))], r.corner(k+1)
			m, n := normal(a, b).Mul(d), normal(b, c).Mul(d)
			out = append(out, toGeom(Polygon{Outer: Ring{a, b, b.Add(m), a.Add(m)}}))
			if tip := mitre(b, m, n, d); tip != nil {
				out = append(out, toGeom(Polygon{Outer: tip}))
			}
		}
	}
	return out
}

// normal is the unit vector to the left of ab, the inner side of a ring run
// the usual way.
func normal(a, b r2.Point) r2.Point { return b.Sub(a).Ortho().Normalize() }

// mitre closes the gap between the strips of two edges that meet at b, whose
// offsets are m and n; it is nil where the strips overlap.
func mitre(b, m, n r2.Point, d float64) Ring {
	turn := m.Cross(n)
	if (turn < 0) != (d > 0) {
		return nil
	}
	sum := m.Add(n)
	cosHalf := sum.Norm() / (2 * math.Abs(d)) // of half the angle between m and n
	if cosHalf*mitreLimit >= 1 {
		return Ring{b, b.Add(m), b.Add(sum.Mul(1 / (2 * cosHalf * cosHalf))), b.Add(n)}
	}
	return squareTip(b, m, n, d)
}

// squareTip cuts a mitre off at mitreLimit times the offset: it runs on along
// each offset side to the line across the axis at that distance.
func squareTip(b, m, n r2.Point, d float64) Ring {
	in, out := m.Ortho().Mul(-1/d), n.Ortho().Mul(1/d) // away from b along each side
	axis := in.Add(out).Normalize()
	far := math.Abs(d) * mitreLimit
	s := (far - m.Dot(axis)) / in.Dot(axis)
	t := (far - n.Dot(axis)) / out.Dot(axis)
	return Ring{b, b.Add(m), b.Add(m).Add(in.Mul(s)), b.Add(n).Add(out.Mul(t)), b.Add(n)}
}
