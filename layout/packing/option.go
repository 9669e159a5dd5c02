package packing

import "slices"

// part is a rectangle, relative to the least corner of the body, that must lie in
// a field.
type part struct {
	rect
	field int
}

// option is a posture in one turn, as the planar solver sees it.
type option struct {
	posture, turn int
	w, h          int64 // body
	gx, gy        int64 // gaps at the faces along x and along y
	strips        []rect
	parts         []part
	// same lists turns of other options with the very same geometry.
	same []turned
}

type turned struct{ posture, turn int }

func (o *option) body() rect { return rect{vec{}, vec{o.w, o.h}} }

// alike reports whether two options are the same shape to the solver.
func (o *option) alike(p *option) bool {
	return o.w == p.w && o.h == p.h && o.gx == p.gx && o.gy == p.gy &&
		slices.Equal(o.strips, p.strips) && slices.Equal(o.parts, p.parts)
}

// newOption turns a posture. wallField and stripField index the fields its body
// and its strips must lie in.
func newOption(lat lattice, p *Posture, index, turn, wallField, stripField int) option {
	l, w := lat.steps(p.LengthMM), lat.steps(p.WidthMM)
	q := turn / 90
	body := rect{vec{}, vec{l, w}}.turned(q)
	o := option{posture: index, turn: turn, w: body.w(), h: body.h()}
	o.gx, o.gy = lat.steps(p.Gaps.EndMM), lat.steps(p.Gaps.SideMM)
	if q%2 == 1 {
		o.gx, o.gy = o.gy, o.gx
	}
	o.parts = []part{{o.body(), wallField}}
	for _, s := range p.Strips {
		if s.Face == Top || s.DepthMM == 0 {
			continue
		}
		r := stripRect(lat, s, l, w).turned(q).at(vec{-body.lo.x, -body.lo.y})
		o.strips = append(o.strips, r)
		o.parts = append(o.parts, part{r, stripField})
	}
	return o
}

// stripRect is a strip beside a body of l by w at turn 0.
func stripRect(lat lattice, s Strip, l, w int64) rect {
	d, from, to := lat.steps(s.DepthMM), lat.steps(s.FromMM), lat.steps(s.ToMM)
	along := w
	if s.Face == PlusY || s.Face == MinusY {
		along = l
	}
	if from == 0 && to == 0 {
		to = along
	}
	switch s.Face {
	case PlusX:
		return rect{vec{l, from}, vec{l + d, to}}
	case MinusX:
		return rect{vec{-d, from}, vec{0, to}}
	case PlusY:
		return rect{vec{from, w}, vec{to, w + d}}
	default:
		return rect{vec{from, -d}, vec{to, 0}}
	}
}

// zones are the open rectangles of differences (place of b less place of a) at
// which a and b conflict: bodies nearer than the larger of their gaps along both
// axes, or a body in the other's strip.
func zones(a, b *option) []rect {
	gx, gy := max(a.gx, b.gx), max(a.gy, b.gy)
	out := []rect{{vec{-b.w - gx, -b.h - gy}, vec{a.w + gx, a.h + gy}}}
	for _, s := range a.strips {
		out = append(out, rect{vec{s.lo.x - b.w, s.lo.y - b.h}, s.hi})
	}
	for _, s := range b.strips {
		out = append(out, rect{vec{-s.hi.x, -s.hi.y}, vec{a.w - s.lo.x, a.h - s.lo.y}})
	}
	return withoutCovered(out)
}

func withoutCovered(rs []rect) []rect {
	var out []rect
	for i, r := range rs {
		covered := false
		for j, s := range rs {
			in := s.lo.x <= r.lo.x && s.lo.y <= r.lo.y && s.hi.x >= r.hi.x && s.hi.y >= r.hi.y
			if i != j && in && (s != r || j < i) {
				covered = true
			}
		}
		if !covered {
			out = append(out, r)
		}
	}
	return out
}
