package geometry

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/peterstace/simplefeatures/geom"
)

// gridPerMM is the fineness to which coordinates are rounded before an overlay,
// so that corners meant to be the same are: 1e-8 mm, far below the lattice.
const gridPerMM = 1e8

// Union is the region covered by any of the polygons, as polygons whose
// interiors are apart. As in every result of an overlay or an inset, pieces too
// thin to matter on the lattice are dropped, and where sides meet at a flat
// angle an edge may be shorter than a lattice step: predicates take its ends
// for one corner, and [Polygon.Validate] calls it repeated.
//
// Union, Difference and Intersection are checked by their areas: what two
// regions have in common, and what each has alone, must add up. An error tells
// that they do not.
func Union(ps ...Polygon) ([]Polygon, error) {
	if err := measurable(ps...); err != nil {
		return nil, err
	}
	var sum geom.Geometry
	var whole []Polygon
	for _, p := range ps {
		switch {
		case len(p.Outer) < 3:
			continue
		case whole == nil:
			sum, whole = toGeom(p), []Polygon{p.Normalised()}
			continue
		}
		var err error
		if sum, err = checkedUnion(sum, toGeom(p)); err != nil {
			return nil, err
		}
		if whole, err = fromGeom(sum, "union", nil); err != nil {
			return nil, err
		}
	}
	return whole, nil
}

// Difference is the part of p in none of the qs. A polygon that p does not
// overlap takes nothing away.
func Difference(p Polygon, qs ...Polygon) ([]Polygon, error) {
	if err := measurable(append(qs[:len(qs):len(qs)], p)...); err != nil || len(p.Outer) < 3 {
		return nil, err
	}
	rest := toGeom(p)
	untouched := true
	for _, q := range qs {
		if len(q.Outer) < 3 || !p.Overlaps(q) {
			continue
		}
		untouched = false
		var err error
		if rest, _, err = split(rest, toGeom(q)); err != nil {
			return nil, err
		}
	}
	if untouched {
		return []Polygon{p.Normalised()}, nil
	}
	return fromGeom(rest, "difference", nil)
}

// Intersection is the part common to p and q.
func Intersection(p, q Polygon) ([]Polygon, error) {
	if err := measurable(p, q); err != nil {
		return nil, err
	}
	if len(p.Outer) < 3 || len(q.Outer) < 3 || !p.Bounds().Intersects(q.Bounds()) {
		return nil, nil
	}
	_, both, err := split(toGeom(p), toGeom(q))
	return fromGeom(both, "intersection", err)
}

// split is the part of a outside b and the part inside, checked by area.
func split(a, b geom.Geometry) (alone, both geom.Geometry, err error) {
	if alone, err = geom.Difference(a, b); err != nil {
		return alone, both, fmt.Errorf("geometry: difference: %w", err)
	}
	if both, err = geom.Intersection(a, b); err != nil {
		return alone, both, fmt.Errorf("geometry: intersection: %w", err)
	}
	return alone, both, addsUp(alone.Area()+both.Area(), a.Area(), a, b)
}

// checkedUnion is the union of a and b, checked by area.
func checkedUnion(a, b geom.Geometry) (geom.Geometry, error) {
	u, err := geom.Union(a, b)
	if err != nil {
		return u, fmt.Errorf("geometry: union: %w", err)
	}
	both, err := geom.Intersection(a, b)
	if err != nil {
		return u, fmt.Errorf("geometry: union: %w", err)
	}
	return u, addsUp(u.Area()+both.Area(), a.Area()+b.Area(), a, b)
}

// addsUp compares two areas that should be the same. They may differ by a strip
// of the flatness along the boundaries.
func addsUp(got, want float64, a, b geom.Geometry) error {
	if slack := flat * (1 + a.Boundary().Length() + b.Boundary().Length()); math.Abs(got-want) > slack {
		return fmt.Errorf("geometry: the overlay of two outlines fails: areas of %v and %v mm² should be the same", got, want)
	}
	return nil
}

// measurable tells of the first coordinate that no overlay can work with.
func measurable(ps ...Polygon) error {
	for _, p := range ps {
		for i := range p.ringCount() {
			for k, c := range p.ring(i) {
				if !finite(c) || max(math.Abs(c.X), math.Abs(c.Y)) > latticeEdge/stepsPerMM {
					return fault(ringName(i), k, "(%v, %v) is not a place an overlay can work with", c.X, c.Y)
				}
			}
		}
	}
	return nil
}

func toGeom(p Polygon) geom.Geometry {
	rings := make([][]float64, 0, p.ringCount())
	for i := range p.ringCount() {
		if r := p.ring(i); len(r) >= 3 {
			rings = append(rings, closedFlat(r))
		}
	}
	return geom.NewPolygonXY(rings...).AsGeometry()
}

func closedFlat(r Ring) []float64 {
	xy := make([]float64, 0, 2*len(r)+2)
	for i := range len(r) + 1 {
		c := r.corner(i)
		xy = append(xy, onGrid(c.X), onGrid(c.Y))
	}
	return xy
}

func onGrid(v float64) float64 { return math.RoundToEven(v*gridPerMM) / gridPerMM }

func fromGeom(g geom.Geometry, op string, err error) ([]Polygon, error) {
	if err != nil {
		return nil, fmt.Errorf("geometry: %s: %w", op, err)
	}
	var out []Polygon
	for _, part := range g.Dump() {
		if pg, ok := part.AsPolygon(); ok && !pg.IsEmpty() {
			if p := fromGeomPolygon(pg).Simplified(); !p.IsEmpty() {
				out = append(out, p)
			}
		}
	}
	return out, nil
}

func fromGeomPolygon(pg geom.Polygon) Polygon {
	p := Polygon{Outer: fromSequence(pg.ExteriorRing().Coordinates())}
	for i := range pg.NumInteriorRings() {
		p.Holes = append(p.Holes, fromSequence(pg.InteriorRingN(i).Coordinates()))
	}
	return p
}

func fromSequence(s geom.Sequence) Ring {
	r := make(Ring, 0, s.Length())
	for i := range s.Length() - 1 {
		xy := s.GetXY(i)
		r = append(r, r2.Point{X: xy.X, Y: xy.Y})
	}
	return r
}
