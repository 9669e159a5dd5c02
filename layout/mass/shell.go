package mass

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// thickness is a shell's sheet thicknesses and its lid flange's width, mm. A lid of 0 means none.
type thickness struct{ wall, floor, lid, flange float64 }

// face is a level face of a space: what is floor or ceiling at one height.
type face struct {
	z     float64
	plan  geometry.Polygon
	edges []edge
}

// slabsOf cuts levels into slabs. Where the overlay fails, which valid outlines do not cause, every level
// counts as a slab of its own.
func slabsOf(levels []geometry.Prism) []geometry.Slab {
	if len(levels) > 1 {
		if slabs, err := (geometry.Space{Solids: levels}).Slabs(); err == nil {
			return slabs
		}
	}
	out := make([]geometry.Slab, len(levels))
	for i, l := range levels {
		out[i] = geometry.Slab{Bottom: l.Bottom, Top: l.Top, Free: []geometry.Polygon{l.Base.Simplified()}}
	}
	return out
}

// insetSlabs are the slabs of what is left inside levels when the sheet is taken off.
func insetSlabs(levels []geometry.Prism, side, below, above float64) []geometry.Slab {
	if len(levels) == 1 {
		if r, ok := convexOffset(levels[0].Base.Simplified(), -side); ok {
			return []geometry.Slab{{Bottom: levels[0].Bottom + below, Top: levels[0].Top - above, Free: []geometry.Polygon{{Outer: r}}}}
		}
	}
	inner, err := geometry.Space{Solids: levels}.Inset(side, below, above)
	if err != nil {
		return nil
	}
	return slabsOf(inner.Solids)
}

// shell lays sheet on the inside of slabs: floors and walls, and lids with flanges where t has a lid. It adds to out.
func shell(out []Panel, slabs []geometry.Slab, t thickness) []Panel {
	floors := exposed(slabs, -1)
	lids := exposed(slabs, 1)
	for _, f := range floors {
		out = append(out, levelPanel(FloorPanel, f.plan, f.z+t.floor/2, t.floor, -1))
	}
	out = walls(out, slabs, floors, lids, t)
	if t.lid == 0 {
		return out
	}
	for _, f := range lids {
		var cover geometry.Polygon
		out, cover = flange(out, f, slabs, t)
		out = append(out, levelPanel(LidPanel, cover, f.z-t.lid/2, t.lid, 1))
	}
	return out
}

func levelPanel(kind PanelKind, plan geometry.Polygon, z, thick, up float64) Panel {
	return Panel{
		Kind: kind, ThicknessMM: thick, Outline: plan, Origin: r3.Vector{Z: z},
		U: r3.Vector{X: 1}, V: r3.Vector{Y: 1}, Normal: r3.Vector{Z: up},
	}
}

// exposed are the faces of slabs towards up (1, ceilings) or down (-1, floors): what the next slab on that side
// does not go on with.
func exposed(slabs []geometry.Slab, up int) []face {
	var out []face
	for i, s := range slabs {
		z := s.Bottom
		if up > 0 {
			z = s.Top
		}
		for _, p := range s.Free {
			for _, q := range uncovered(p, beyond(slabs, i, up)) {
				out = append(out, face{z, q, edges(q)})
			}
		}
	}
	return out
}

// beyond is the plan of the slab that touches slab i from above (1) or below (-1).
func beyond(slabs []geometry.Slab, i, up int) []geometry.Polygon {
	k := i + up
	if k < 0 || k >= len(slabs) || !level(slabs[min(i, k)].Top, slabs[max(i, k)].Bottom) {
		return nil
	}
	return slabs[k].Free
}

func level(a, b float64) bool { return math.Abs(a-b) < geometry.Lattice }

func uncovered(p geometry.Polygon, by []geometry.Polygon) []geometry.Polygon {
	if len(by) == 0 {
		return []geometry.Polygon{p}
	}
	out, err := geometry.Difference(p, by...)
	if err != nil {
		return nil
	}
	return out
}

// edge is a side of a plan, with the region on its left.
type edge struct {
	a, dir       r2.Point // start and unit direction
	length       float64
	turnA, turnB float64 // tangent of half the turn at each end; positive where the corner sticks out
}

// edges are the sides of a polygon whose outer ring runs anticlockwise and whose holes run clockwise.
func edges(p geometry.Polygon) []edge {
	out := ringEdges(p.Outer)
	for _, h := range p.Holes {
		out = append(out, ringEdges(h)...)
	}
	return out
}

func ringEdges(r geometry.Ring) []edge {
	out := make([]edge, len(r))
	for i, a := range r {
		d := r[(i+1)%len(r)].Sub(a)
		out[i] = edge{a: a, dir: d.Normalize(), length: d.Norm()}
	}
	for i := range out {
		next := &out[(i+1)%len(out)]
		out[i].turnB = halfTurn(out[i].dir, next.dir)
		next.turnA = out[i].turnB
	}
	return out
}

// sharpest is the tangent of half the turn beyond which a mitre is cut off: its tip is then four times the
// offset from the corner, as geometry's insets have it.
var sharpest = math.Sqrt(15)

func halfTurn(d, e r2.Point) float64 {
	t := d.Cross(e) / max(1e-9, 1+d.Dot(e))
	return min(max(t, -sharpest), sharpest)
}

// common is the stretch of e that lies on the edge f, and whether both run the same way.
func (e edge) common(f edge) (lo, hi float64, same, ok bool) {
	p := f.a.Sub(e.a)
	q := p.Add(f.dir.Mul(f.length))
	off := max(math.Abs(e.dir.Cross(p)), math.Abs(e.dir.Cross(q)))
	s, t := e.dir.Dot(p), e.dir.Dot(q)
	lo, hi = max(0, min(s, t)), min(e.length, max(s, t))
	return lo, hi, t > s, off <= 2*geometry.Lattice && hi-lo > 2*geometry.Lattice
}

// shift is by how much the lower and upper edge of a wall move along a stretch of it, up being positive.
type shift struct{ lo, hi, bottom, top float64 }

// pieces are the upright rectangles, in u along the edge and height, of one edge of a slab: the outer face less
// what the floor, the lid and the neighbouring walls take.
func pieces(e edge, s geometry.Slab, floors, lids []face, t thickness) []geometry.Polygon {
	shifts := shiftsOf(shiftsOf(make([]shift, 0, 4), e, s, floors, t.floor), e, flipped(s), lids, -t.lid)
	stops := append(make([]float64, 0, 8), 0, e.length)
	for _, m := range shifts {
		stops = append(stops, m.lo, m.hi)
	}
	slices.Sort(stops)
	var out []geometry.Polygon
	for i := 1; i < len(stops); i++ {
		lo, hi := stops[i-1], stops[i]
		if hi-lo <= 2*geometry.Lattice {
			continue
		}
		bottom, top := s.Bottom, s.Top
		for _, m := range shifts {
			if mid := (lo + hi) / 2; m.lo < mid && mid < m.hi {
				bottom, top = bottom+m.bottom, top+m.top
			}
		}
		lo, hi = e.mitred(lo, hi, t.wall/2)
		if hi > lo && top > bottom {
			out = append(out, geometry.NewRect(lo, bottom, hi, top))
		}
	}
	return out
}

// flipped swaps a slab's heights, so that lids are treated as floors are.
func flipped(s geometry.Slab) geometry.Slab {
	s.Bottom, s.Top = s.Top, s.Bottom
	return s
}

// shiftsOf is what level faces do to a wall: one that the wall stands on lifts its foot by the sheet's
// thickness, and one that starts from its top, outward, is carried by it and lengthens it.
func shiftsOf(out []shift, e edge, s geometry.Slab, faces []face, by float64) []shift {
	for _, f := range faces {
		if !level(f.z, s.Bottom) && !level(f.z, s.Top) {
			continue
		}
		for _, g := range f.edges {
			lo, hi, same, ok := e.common(g)
			if ok && same == level(f.z, s.Bottom) {
				out = append(out, shiftTo(lo, hi, by, same))
			}
		}
	}
	return out
}

// shiftTo moves the bottom for a floor under the wall and for a lid that the wall's foot carries; else the top.
func shiftTo(lo, hi, by float64, same bool) shift {
	if same == (by > 0) {
		return shift{lo: lo, hi: hi, bottom: by}
	}
	return shift{lo: lo, hi: hi, top: by}
}

// mitred moves the ends of a stretch that are the edge's own onto the mitre at depth d inside the edge.
func (e edge) mitred(lo, hi, d float64) (float64, float64) {
	if lo <= geometry.Lattice {
		lo += d * e.turnA
	}
	if hi >= e.length-geometry.Lattice {
		hi -= d * e.turnB
	}
	return lo, hi
}

// wallPlane collects the pieces that lie in one plane.
type wallPlane struct {
	edge  edge
	parts []geometry.Polygon
}

func walls(out []Panel, slabs []geometry.Slab, floors, lids []face, t thickness) []Panel {
	var planes []wallPlane
	for _, s := range slabs {
		for _, p := range s.Free {
			for _, e := range edges(p) {
				planes = collect(planes, e, pieces(e, s, floors, lids, t), len(slabs) > 1)
			}
		}
	}
	for _, w := range planes {
		for _, outline := range joined(w.parts) {
			out = append(out, w.edge.panel(outline, t.wall))
		}
	}
	return out
}

// collect puts pieces into the plane that they lie in. A space with one slab has a plane for each edge.
func collect(planes []wallPlane, e edge, parts []geometry.Polygon, search bool) []wallPlane {
	for i := range planes {
		w := &planes[i]
		if d := e.a.Sub(w.edge.a); search && e.dir.Dot(w.edge.dir) > 1-1e-9 && math.Abs(w.edge.dir.Cross(d)) < 2*geometry.Lattice {
			for _, p := range parts {
				w.parts = append(w.parts, p.Translate(r2.Point{X: w.edge.dir.Dot(d)}))
			}
			return planes
		}
	}
	return append(planes, wallPlane{e, parts})
}

func joined(parts []geometry.Polygon) []geometry.Polygon {
	if len(parts) < 2 {
		return parts
	}
	out, err := geometry.Union(parts...)
	if err != nil {
		return parts
	}
	return out
}

// panel stands a sheet on the edge, its middle half a thickness inside.
func (e edge) panel(outline geometry.Polygon, thick float64) Panel {
	mid := e.a.Add(e.dir.Ortho().Mul(thick / 2))
	return Panel{
		Kind: WallPanel, ThicknessMM: thick, Outline: outline, Origin: r3.Vector{X: mid.X, Y: mid.Y},
		U: r3.Vector{X: e.dir.X, Y: e.dir.Y}, V: r3.Vector{Z: 1}, Normal: r3.Vector{X: e.dir.Y, Y: -e.dir.X},
	}
}
