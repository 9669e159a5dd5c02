package packing

import (
	"cmp"
	"slices"
)

// settled moves modules, in order from the least corner, to the nearest free place
// at or past the given ones along x or y that clears those before, and drops those
// that find none. It turns a packing of squares into one at real positions.
func (p *plane) settled(in []spot) []spot {
	var best []spot
	for _, byRows := range []bool{true, false} {
		order := slices.Clone(in)
		slices.SortFunc(order, func(a, b spot) int {
			if byRows {
				return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.x, b.x))
			}
			return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y))
		})
		var out []spot
		for _, t := range order {
			if at, ok := p.nearest(t, out); ok {
				out = append(out, at)
			}
		}
		if len(out) > len(best) {
			best = out
		}
	}
	return best
}

// nearest is the free place of an option nearest to a spot among contacts along x
// at a few heights: its own, and those just clear of the modules placed.
func (p *plane) nearest(t spot, placed []spot) (spot, bool) {
	heights := []int64{t.y}
	for _, f := range placed {
		for _, z := range p.zone[f.opt][t.opt] {
			if y := f.y + z.hi.y; abs64(y-t.y) < p.options[t.opt].h {
				heights = append(heights, y)
			}
		}
	}
	best, found := spot{}, false
	far := int64(0)
	for _, y := range sortedUnique(heights) {
		for _, iv := range p.freeBeside(t.opt, y, p.row(t.opt, y), placed) {
			x := min(max(t.x, iv.lo), iv.hi)
			if d := abs64(x-t.x) + abs64(y-t.y); !found || d < far {
				best, found, far = spot{t.opt, vec{x, y}}, true, d
			}
		}
	}
	return best, found
}

// freeBeside lists what placed modules leave of the intervals of x in a row.
func (p *plane) freeBeside(opt int, y int64, row []span64, placed []spot) []span64 {
	var open []span64
	for _, f := range placed {
		for _, z := range p.zone[f.opt][opt] {
			if z.lo.y < y-f.y && y-f.y < z.hi.y {
				open = append(open, span64{f.x + z.lo.x, f.x + z.hi.x})
			}
		}
	}
	open = unite(open)
	var out []span64
	for _, iv := range row {
		at := iv.lo
		for _, s := range open {
			if s.hi <= at {
				continue
			}
			if s.lo > iv.hi {
				break
			}
			if s.lo >= at {
				out = append(out, span64{at, s.lo})
			}
			at = max(at, s.hi)
		}
		if at <= iv.hi {
			out = append(out, span64{at, iv.hi})
		}
	}
	return out
}

// squeeze pushes the modules of a packing to one end and then the other, at real
// positions, and puts in more where room opens.
func (s *session) squeeze(p *plane, r *planeResult) {
	for _, g := range []Goal{{Forward: true}, {Rearward: true}} {
		if len(r.spots) >= r.bound || s.ctx.Err() != nil {
			return
		}
		a := s.arranger(p, r.spots, &g)
		a.push(2)
		for a.insert() && len(a.spots) < r.bound {
			a.push(1)
		}
		if len(a.spots) > len(r.spots) {
			r.spots = a.spots
			s.hear(r, r.bound)
		}
	}
}

// insert puts in one more module where one fits.
func (a *arranger) insert() bool {
	if len(a.spots) == 0 {
		return false
	}
	free := a.contacts(a.spots[0], a.spots)
	if len(free) == 0 {
		return false
	}
	a.spots = append(a.spots, free[0])
	return true
}

// byContacts fills a plane at real positions: from each of four corners, always the
// contact nearest to the corner, of any option.
func (s *session) byContacts(p *plane, most int) []spot {
	var best []spot
	for _, v := range []view{{}, {swap: true}, {flipX: true, flipY: true}, {true, true, true}} {
		a := s.arranger(p, nil, &s.p.Goal)
		for len(a.spots) < most && s.ctx.Err() == nil {
			free := a.contacts(spot{}, a.spots)
			if len(free) == 0 {
				break
			}
			a.spots = append(a.spots, slices.MinFunc(free, func(t, u spot) int {
				return v.compare(p.farCorner(t, v), p.farCorner(u, v))
			}))
		}
		if len(a.spots) > len(best) {
			best = a.spots
		}
		if s.ctx.Err() != nil {
			break
		}
	}
	return best
}

// farCorner is the corner of a body away from a view's corner, which greedy filling
// keeps as near as it can.
func (p *plane) farCorner(t spot, v view) vec {
	o := &p.options[t.opt]
	at := vec{t.x + o.w, t.y + o.h}
	if v.flipX {
		at.x = t.x
	}
	if v.flipY {
		at.y = t.y
	}
	return at
}
