package packing

import (
	"math"
	"sort"
)

// wall is a convex obstacle, possibly a mere segment.
type wall []vec

// span is the extent along x, rounded outwards to the lattice, of the part of the
// wall inside the open band y0 < y < y1. A body on the lattice meets the wall
// exactly when it meets the span.
func (w wall) span(y0, y1 int64) (lo, hi int64, ok bool) {
	ymin, ymax := w[0].y, w[0].y
	for _, p := range w {
		ymin, ymax = min(ymin, p.y), max(ymax, p.y)
	}
	if ymin >= y1 || ymax <= y0 {
		return 0, 0, false
	}
	lo, hi = math.MaxInt64, math.MinInt64
	for i, p := range w {
		q := w[(i+1)%len(w)]
		if p.y >= y0 && p.y <= y1 {
			lo, hi = min(lo, p.x), max(hi, p.x)
		}
		for _, y := range [2]int64{y0, y1} {
			if (p.y < y && y < q.y) || (q.y < y && y < p.y) {
				num, den := (q.x-p.x)*(y-p.y), q.y-p.y
				lo = min(lo, p.x+floorDiv(num, den))
				hi = max(hi, p.x+ceilDiv(num, den))
			}
		}
	}
	return lo, hi, true
}

// slanted reports whether the wall has an edge along neither axis.
func (w wall) slanted() bool {
	for i, p := range w {
		q := w[(i+1)%len(w)]
		if p.x != q.x && p.y != q.y {
			return true
		}
	}
	return false
}

// ringWalls gives the obstacles of one ring for bodies that keep a gap from it.
// Free space lies to the left of the ring's direction. Each edge is thickened to
// its left by the gap and, at corners that jut into free space, lengthened to the
// mitre, or by the gap where the mitre would be longer.
func ringWalls(ring []vec, gap int64) []wall {
	n := len(ring)
	out := make([]wall, 0, n)
	for i, p := range ring {
		q := ring[(i+1)%n]
		if gap == 0 {
			out = append(out, wall{p, q})
			continue
		}
		before := mitre(ring[(i+n-1)%n], p, q, gap)
		after := mitre(p, q, ring[(i+2)%n], gap)
		out = append(out, thickened(p, q, gap, before, after))
	}
	return out
}

// mitre is how far an edge of the thickened corner p-q-r reaches past q.
func mitre(p, q, r vec, gap int64) float64 {
	ax, ay := float64(q.x-p.x), float64(q.y-p.y)
	bx, by := float64(r.x-q.x), float64(r.y-q.y)
	turn := math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
	if turn >= 0 {
		return 0
	}
	return float64(gap) * math.Min(1, math.Tan(-turn/2))
}

func thickened(p, q vec, gap int64, before, after float64) wall {
	dx, dy := float64(q.x-p.x), float64(q.y-p.y)
	length := math.Hypot(dx, dy)
	dx, dy = dx/length, dy/length
	g := float64(gap)
	if dx != 0 && dy != 0 {
		// A lattice step more, so that rounding never eats into the gap.
		g, before, after = g+1, before+1, after+1
	}
	corner := func(base vec, along, out float64) vec {
		return vec{base.x + int64(math.Round(along*dx-out*dy)), base.y + int64(math.Round(along*dy+out*dx))}
	}
	return wall{corner(p, -before, 0), corner(q, after, 0), corner(q, after, g), corner(p, -before, g)}
}

// span64 is an interval of the lattice.
type span64 struct{ lo, hi int64 }

// unite sorts open intervals and merges those that overlap; intervals that only
// share an end stay apart, since that end is free.
func unite(s []span64) []span64 {
	sort.Slice(s, func(i, j int) bool {
		if s[i].lo != s[j].lo {
			return s[i].lo < s[j].lo
		}
		return s[i].hi < s[j].hi
	})
	out := s[:0]
	for _, t := range s {
		if t.lo >= t.hi {
			continue
		}
		if n := len(out); n > 0 && t.lo < out[n-1].hi {
			out[n-1].hi = max(out[n-1].hi, t.hi)
			continue
		}
		out = append(out, t)
	}
	return out
}
