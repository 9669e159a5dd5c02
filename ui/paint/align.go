package paint

import (
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// alignWindow is how many items that came or went in one place are recognised as such.
const alignWindow = 10

// align pairs the items of two lists that are the same, keeping their order: it calls pair with the indices of both, or
// with -1 for the index that an item lacks in the other list.
func align(a, b []drawing.Item, pair func(i, k int)) {
	i, k := 0, 0
	misses, rest := 0, 0 // how often no same item was found near by, and for how many items not to look for one again
	for i < len(a) && k < len(b) {
		if same(a[i], b[k]) {
			pair(i, k)
			i, k, misses, rest = i+1, k+1, 0, 0
			continue
		}
		da, db, found := 1, 1, false
		if rest--; rest < 0 {
			da, db, found = resync(a[i:], b[k:])
			if !found {
				misses++
				rest = min(misses, alignWindow)
			}
		}
		for range da {
			pair(i, -1)
			i++
		}
		for range db {
			pair(-1, k)
			k++
		}
	}
	for ; i < len(a); i++ {
		pair(i, -1)
	}
	for ; k < len(b); k++ {
		pair(-1, k)
	}
}

// resync is how many items to leave out of each list to come to the same item in both, fewest first; one of each and false
// where that is far.
func resync(a, b []drawing.Item) (da, db int, found bool) {
	if len(a) > 1 && len(b) > 1 && same(a[1], b[1]) {
		return 1, 1, true
	}
	for n := 1; n <= alignWindow; n++ {
		for da := 0; da <= n; da++ {
			if db := n - da; da < len(a) && db < len(b) && same(a[da], b[db]) {
				return da, db, true
			}
		}
	}
	return 1, 1, false
}

// same reports whether two items paint the same pixels.
func same(a, b drawing.Item) bool {
	switch x := a.(type) {
	case drawing.Fill:
		y, ok := b.(drawing.Fill)
		return ok && x.Of == y.Of && samePolygon(x.Area, y.Area)
	case drawing.Stroke:
		y, ok := b.(drawing.Stroke)
		return ok && x.Of == y.Of && x.Closed == y.Closed && x.Pt == y.Pt && samePoints(x.Points, y.Points) && slices.Equal(x.Dash, y.Dash)
	case drawing.Hatch:
		y, ok := b.(drawing.Hatch)
		return ok && x.Of == y.Of && x.Deg == y.Deg && x.PitchPt == y.PitchPt && x.Cross == y.Cross && samePolygon(x.Area, y.Area)
	case drawing.Text:
		y, ok := b.(drawing.Text)
		return ok && x == y
	case drawing.Dimension:
		y, ok := b.(drawing.Dimension)
		return ok && x == y
	}
	return false
}

func samePolygon(a, b geometry.Polygon) bool {
	return samePoints(a.Outer, b.Outer) && slices.EqualFunc(a.Holes, b.Holes, func(x, y geometry.Ring) bool { return samePoints(x, y) })
}

func samePoints(a, b []r2.Point) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0] || slices.Equal(a, b))
}
