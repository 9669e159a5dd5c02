package outline

import (
	"cmp"
	"math"
	"slices"

	"stowbay/geometry"
)

// Nest makes polygons of rings by the even-odd rule: a ring inside none is the
// outside of a polygon, one inside an odd number of others is a hole of the
// smallest of them, and so on. The rings may run either way. Polygons come in
// the order of falling area. Rings that cross are not found out here; see
// [geometry.Polygon.Validate].
func Nest(rings []geometry.Ring) []geometry.Polygon {
	sorted := slices.Clone(rings)
	slices.SortStableFunc(sorted, func(a, b geometry.Ring) int {
		return cmp.Compare(math.Abs(b.Area()), math.Abs(a.Area()))
	})
	var out []geometry.Polygon
	owner := make([]int, len(sorted)) // of an outer ring its polygon; -1 for a hole
	for i, r := range sorted {
		around, depth := holder(sorted[:i], r)
		if depth%2 == 1 && owner[around] >= 0 {
			p := &out[owner[around]]
			p.Holes = append(p.Holes, r)
			owner[i] = -1
			continue
		}
		owner[i] = len(out)
		out = append(out, geometry.Polygon{Outer: r})
	}
	for i := range out {
		out[i] = out[i].Normalised()
	}
	return out
}

// holder is the smallest of the rings around one, and how many there are.
func holder(larger []geometry.Ring, r geometry.Ring) (around, depth int) {
	b := r.Bounds()
	for i, l := range larger {
		if l.Bounds().Contains(b) && (geometry.Polygon{Outer: l}).ContainsPolygon(geometry.Polygon{Outer: r}) {
			around, depth = i, depth+1
		}
	}
	return around, depth
}
