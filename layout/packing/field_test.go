package packing

import "testing"

// The free side of a ring is told by a point just beside each of its edges: it is free exactly where it lies inside an odd
// number of the rings, counted by crossing edges. The rings start at every corner in turn, in both senses, and touch.
func TestFreeSpaceLiesLeftOfEveryRing(t *testing.T) {
	square := func(x, y, side int64) []vec {
		return []vec{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}
	}
	diamond := func(x, y, r int64) []vec { return []vec{{x - r, y}, {x, y - r}, {x + r, y}, {x, y + r}} }
	for name, rings := range map[string][][]vec{
		"alone":                      {square(0, 0, 100)},
		"hole":                       {square(0, 0, 100), square(40, 40, 20)},
		"hole in every corner":       {square(0, 0, 100), {{0, 0}, {30, 10}, {10, 30}}, {{100, 0}, {90, 30}, {70, 10}}, {{100, 100}, {70, 90}, {90, 70}}, {{0, 100}, {10, 70}, {30, 90}}},
		"hole on every wall":         {square(0, 0, 100), diamond(10, 50, 10), diamond(90, 50, 10), diamond(50, 10, 10), diamond(50, 90, 10)},
		"apart":                      {square(0, 0, 100), square(101, 0, 100)},
		"corner to corner":           {square(0, 0, 100), square(100, 100, 100), square(200, 0, 100)},
		"island":                     {square(0, 0, 100), square(10, 10, 80), square(20, 20, 60)},
		"island in a corner":         {square(0, 0, 100), diamond(50, 50, 40), {{50, 10}, {60, 40}, {40, 40}}},
		"hole half a step from wall": {square(0, 0, 100), square(1, 1, 98)},
	} {
		for i, r := range rings {
			for k := range 2 * len(r) {
				turned := append(append([]vec{}, r[k%len(r):]...), r[:k%len(r)]...)
				if k >= len(r) {
					turned = oriented(turned, twiceArea(turned) < 0)
				}
				all := append([][]vec{}, rings...)
				all[i] = turned
				got := withFreeSideLeft(turned, all)
				for e := range got {
					if !freeLeftOf(got, e, rings) {
						t.Errorf("%s, ring %d from corner %d: free space lies right of edge %d of %v", name, i, k, e, got)
						break
					}
				}
			}
		}
	}
}

// freeLeftOf counts crossings of the ray along +x from a point a little left of an edge, off its middle, in floating point.
func freeLeftOf(r []vec, e int, rings [][]vec) bool {
	p, q := r[e], r[(e+1)%len(r)]
	dx, dy := float64(q.x-p.x), float64(q.y-p.y)
	x, y := float64(p.x)+0.37*dx-1e-3*dy, float64(p.y)+0.37*dy+1e-3*dx
	odd := false
	for _, s := range rings {
		for i, a := range s {
			b := s[(i+1)%len(s)]
			ax, ay, bx, by := float64(a.x), float64(a.y), float64(b.x), float64(b.y)
			if (ay > y) != (by > y) && ax+(y-ay)*(bx-ax)/(by-ay) > x {
				odd = !odd
			}
		}
	}
	return odd
}
