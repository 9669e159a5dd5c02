package mass

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// flange adds a strip of the walls' sheet outward along every free edge of a ceiling, under the lid, and returns
// the lid that covers both. An edge against a higher part of the box has no strip, and a strip that ends there
// ends square.
func flange(strips []Panel, f face, slabs []geometry.Slab, t thickness) (with []Panel, cover geometry.Polygon) {
	if t.flange <= 0 {
		return strips, f.plan
	}
	all := freeAround(f, slabs)
	plans := make([]geometry.Polygon, 0, len(all)+1)
	for i, s := range all {
		outline := s.strip(t.flange, joins(all, i, s.start()), joins(all, i, s.end()))
		strips = append(strips, s.edge.flangePanel(outline, f.z-t.lid-t.wall/2, t.wall))
		plans = append(plans, s.edge.inPlan(outline))
	}
	if r, ok := convexOffset(f.plan, t.flange); ok && closed(all, len(f.edges)) {
		return strips, geometry.Polygon{Outer: r}
	}
	whole, err := geometry.Union(append(plans, f.plan)...)
	if err != nil || len(whole) != 1 {
		return strips, f.plan
	}
	return strips, whole[0]
}

// freeAround are all free stretches of a ceiling's edges.
func freeAround(f face, slabs []geometry.Slab) []stretch {
	out := make([]stretch, 0, len(f.edges))
	for _, e := range f.edges {
		out = append(out, free(e, f.z, slabs)...)
	}
	return out
}

// joins tells whether a stretch other than the i-th ends or starts at p.
func joins(all []stretch, i int, p r2.Point) bool {
	for k, s := range all {
		if k != i && (s.start().Sub(p).Norm() < 2*geometry.Lattice || s.end().Sub(p).Norm() < 2*geometry.Lattice) {
			return true
		}
	}
	return false
}

// closed tells whether the stretches are all the edges, whole.
func closed(all []stretch, edges int) bool {
	for _, s := range all {
		if s.hi-s.lo < s.edge.length {
			return false
		}
	}
	return len(all) == edges
}

// stretch is a part of an edge.
type stretch struct {
	edge   edge
	lo, hi float64
}

func (s stretch) start() r2.Point { return s.edge.a.Add(s.edge.dir.Mul(s.lo)) }
func (s stretch) end() r2.Point   { return s.edge.a.Add(s.edge.dir.Mul(s.hi)) }

// free are the parts of a ceiling's edge above which the box does not go on.
func free(e edge, z float64, slabs []geometry.Slab) []stretch {
	out := []stretch{{e, 0, e.length}}
	for _, s := range slabs {
		if !level(s.Bottom, z) {
			continue
		}
		for _, p := range s.Free {
			for _, g := range edges(p) {
				if lo, hi, same, ok := e.common(g); ok && !same {
					out = without(out, lo, hi)
				}
			}
		}
	}
	return out
}

func without(ss []stretch, lo, hi float64) []stretch {
	var out []stretch
	for _, s := range ss {
		if left := min(s.hi, lo); left-s.lo > 2*geometry.Lattice {
			out = append(out, stretch{s.edge, s.lo, left})
		}
		if right := max(s.lo, hi); s.hi-right > 2*geometry.Lattice {
			out = append(out, stretch{s.edge, right, s.hi})
		}
	}
	return out
}

// strip is the flange on a stretch, in u along the edge and v inward from it; its ends are mitred where another
// strip joins.
func (s stretch) strip(width float64, joinedA, joinedB bool) geometry.Polygon {
	lo, hi := s.edge.mitred(s.lo, s.hi, -width)
	if !joinedA {
		lo = s.lo
	}
	if !joinedB {
		hi = s.hi
	}
	if hi < lo {
		lo, hi = (lo+hi)/2, (lo+hi)/2
	}
	return geometry.Polygon{Outer: geometry.Ring{{X: s.lo}, {X: lo, Y: -width}, {X: hi, Y: -width}, {X: s.hi}}}
}

func (e edge) flangePanel(outline geometry.Polygon, z, thick float64) Panel {
	in := e.dir.Ortho()
	return Panel{
		Kind: FlangePanel, ThicknessMM: thick, Outline: outline, Origin: r3.Vector{X: e.a.X, Y: e.a.Y, Z: z},
		U: r3.Vector{X: e.dir.X, Y: e.dir.Y}, V: r3.Vector{X: in.X, Y: in.Y}, Normal: r3.Vector{Z: 1},
	}
}

func (e edge) inPlan(p geometry.Polygon) geometry.Polygon {
	in := e.dir.Ortho()
	out := make(geometry.Ring, len(p.Outer))
	for i, q := range p.Outer {
		out[i] = e.a.Add(e.dir.Mul(q.X)).Add(in.Mul(q.Y))
	}
	return geometry.Polygon{Outer: out}
}

// convexOffset moves the sides of a convex plan outward by d (inward where d is negative), with mitred corners.
// It does not answer for other plans, for corners sharper than a mitre's limit, nor where a side would vanish.
func convexOffset(p geometry.Polygon, d float64) (geometry.Ring, bool) {
	es := edges(p) // a hole's corners stick in
	out := make(geometry.Ring, len(es))
	for i, e := range es {
		if e.turnA < 0 || e.turnA >= sharpest || e.length+d*(e.turnA+e.turnB) <= 0 {
			return nil, false
		}
		out[i] = e.a.Sub(e.dir.Ortho().Mul(d)).Sub(e.dir.Mul(d * e.turnA))
	}
	return out, true
}
