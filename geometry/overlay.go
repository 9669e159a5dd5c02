package geometry

import (
	"fmt"

	"github.com/golang/geo/r2"
	"github.com/peterstace/simplefeatures/geom"
)

// Union is the region covered by any of the polygons, as polygons whose
// interiors are apart. As in every result of an overlay or an inset, pieces too
// thin to matter on the lattice are dropped, and where sides meet at a flat
// angle an edge may be shorter than a lattice step: predicates take its ends
// for one corner, and [Polygon.Validate] calls it repeated.
func Union(ps ...Polygon) ([]Polygon, error) {
	gs := make([]geom.Geometry, 0, len(ps))
	var last Polygon
	for _, p := range ps {
		if !p.IsEmpty() {
			gs, last = append(gs, toGeom(p)), p
		}
	}
	switch len(gs) {
	case 0:
		return nil, nil
	case 1:
		return []Polygon{last.Normalised()}, nil
	}
	g, err := geom.UnionMany(gs)
	return fromGeom(g, "union", err)
}

// Difference is the part of p in none of the qs. A polygon that p does not
// overlap takes nothing away.
func Difference(p Polygon, qs ...Polygon) ([]Polygon, error) {
	if p.IsEmpty() {
		return nil, nil
	}
	var cut []geom.Geometry
	for _, q := range qs {
		if p.Overlaps(q) {
			cut = append(cut, toGeom(q))
		}
	}
	if len(cut) == 0 {
		return []Polygon{p.Normalised()}, nil
	}
	u, err := geom.UnionMany(cut)
	if err != nil {
		return nil, fmt.Errorf("geometry: difference: %w", err)
	}
	g, err := geom.Difference(toGeom(p), u)
	return fromGeom(g, "difference", err)
}

// Intersection is the part common to p and q.
func Intersection(p, q Polygon) ([]Polygon, error) {
	if p.IsEmpty() || q.IsEmpty() || !p.Bounds().Intersects(q.Bounds()) {
		return nil, nil
	}
	g, err := geom.Intersection(toGeom(p), toGeom(q))
	return fromGeom(g, "intersection", err)
}

func toGeom(p Polygon) geom.Geometry {
	rings := make([][]float64, 0, p.ringCount())
	for i := range p.ringCount() {
		rings = append(rings, closedFlat(p.ring(i)))
	}
	return geom.NewPolygonXY(rings...).AsGeometry()
}

func closedFlat(r Ring) []float64 {
	flat := make([]float64, 0, 2*len(r)+2)
	for i := range len(r) + 1 {
		c := r.corner(i)
		flat = append(flat, c.X, c.Y)
	}
	return flat
}

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
