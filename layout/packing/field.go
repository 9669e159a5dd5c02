package packing

// field is the free space that one part of a module must lie in: the area of a
// layer, as walls to keep clear of and rings to be inside or outside of.
type field struct {
	outer  [][]vec // inside an odd number of these
	voids  [][]vec // and inside none of these
	walls  []wall
	bounds rect
	slant  bool
	gap    int64
	// mirrored tells that free space lies to the right of each wall's direction.
	mirrored bool
}

// newField takes the rings of an area (outer rings with their holes, by the
// even-odd rule), keep-outs with the gap kept from both, and forbidden rings,
// from which no gap is kept.
func newField(outer, keepOuts, forbidden [][]vec, gap int64) *field {
	f := &field{outer: outer, gap: gap}
	for _, r := range outer {
		f.add(withFreeSideLeft(r, outer), gap)
	}
	for _, r := range keepOuts {
		f.voids = append(f.voids, r)
		f.add(oriented(r, false), gap)
	}
	for _, r := range forbidden {
		f.voids = append(f.voids, r)
		f.add(oriented(r, false), 0)
	}
	f.bounds = boundsOf(outer)
	return f
}

func (f *field) add(ring []vec, gap int64) {
	for _, w := range ringWalls(ring, gap) {
		f.walls = append(f.walls, w)
		f.slant = f.slant || w.slanted()
	}
}

// withFreeSideLeft turns a ring counter-clockwise when it bounds from outside and
// clockwise when it is a hole, that is inside an odd number of the other rings.
func withFreeSideLeft(r []vec, all [][]vec) []vec {
	var others [][]vec
	for _, s := range all {
		if &s[0] != &r[0] {
			others = append(others, s)
		}
	}
	x2, y2 := ownMiddle(r, others)
	hole := false
	for _, s := range others {
		hole = hole != insideRing(s, x2, y2)
	}
	return oriented(r, !hole)
}

// ownMiddle is twice the middle of a ring's first edge, up to the first corner of
// another ring on it: there no other ring passes, though rings of one area may
// have single points in common.
func ownMiddle(r []vec, others [][]vec) (x2, y2 int64) {
	p, q := r[0], r[1]
	for _, s := range others {
		for _, v := range s {
			if within(p, q, v) {
				q = v
			}
		}
	}
	return p.x + q.x, p.y + q.y
}

// within reports whether a point lies on the edge from p to q, but not at its ends.
func within(p, q, v vec) bool {
	along := (v.x-p.x)*(q.x-v.x) + (v.y-p.y)*(q.y-v.y)
	return along > 0 && leftOf(p, q, 2*v.x, 2*v.y) == 0
}

// leftOf is positive where the point (x2/2, y2/2) lies left of the line from p to q. Differences stay below 2^32, doubled.
func leftOf(p, q vec, x2, y2 int64) float64 {
	return float64(q.x-p.x)*float64(y2-2*p.y) - float64(q.y-p.y)*float64(x2-2*p.x)
}

func oriented(r []vec, counterClockwise bool) []vec {
	if (twiceArea(r) > 0) == counterClockwise {
		return r
	}
	out := make([]vec, len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

// twiceArea is positive for counter-clockwise rings. It is exact as long as it
// fits, and coordinates are taken from the first corner to keep it small.
func twiceArea(r []vec) int64 {
	var sum int64
	for i := 1; i+1 < len(r); i++ {
		sum += (r[i].x-r[0].x)*(r[i+1].y-r[0].y) - (r[i+1].x-r[0].x)*(r[i].y-r[0].y)
	}
	return sum
}

func boundsOf(rings [][]vec) rect {
	b := rect{rings[0][0], rings[0][0]}
	for _, r := range rings {
		for _, p := range r {
			b.lo.x, b.hi.x = min(b.lo.x, p.x), max(b.hi.x, p.x)
			b.lo.y, b.hi.y = min(b.lo.y, p.y), max(b.hi.y, p.y)
		}
	}
	return b
}

// insideRing is the even-odd test for the point (x2/2, y2/2).
func insideRing(r []vec, x2, y2 int64) bool {
	in := false
	for i, p := range r {
		q := r[(i+1)%len(r)]
		py, qy := 2*p.y, 2*q.y
		if (py > y2) == (qy > y2) {
			continue
		}
		if (leftOf(p, q, x2, y2) > 0) == (qy > py) {
			in = !in
		}
	}
	return in
}

// inside reports whether the centre of a rectangle that crosses no wall is free.
func (f *field) inside(r rect) bool {
	x2, y2 := r.lo.x+r.hi.x, r.lo.y+r.hi.y
	odd := false
	for _, ring := range f.outer {
		odd = odd != insideRing(ring, x2, y2)
	}
	if !odd {
		return false
	}
	for _, ring := range f.voids {
		if insideRing(ring, x2, y2) {
			return false
		}
	}
	return true
}

// blocked appends the open intervals of x in which the least corner of a
// rectangle w wide, from y0 to y1, meets a wall.
func (f *field) blocked(y0, y1, w int64, out []span64) []span64 {
	for _, wl := range f.walls {
		if lo, hi, ok := wl.span(y0, y1); ok {
			out = append(out, span64{lo - w, hi})
		}
	}
	return out
}
