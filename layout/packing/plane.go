package packing

import "slices"

// spot is one option at one place.
type spot struct {
	opt int
	vec
}

// plane is the planar problem: options, where each may stand, and which pairs of
// spots conflict.
type plane struct {
	fields  []*field
	options []option
	zone    [][][]rect // zone[a][b]: zones of options a and b
	fixed   []spot     // fixed modules, of options that may be for them alone
	usable  int        // options[:usable] may be placed
}

func newPlane(fields []*field, options []option, usable int, fixed []spot) *plane {
	p := &plane{fields: fields, options: options, usable: usable, fixed: fixed}
	p.zone = make([][][]rect, len(options))
	for i := range options {
		p.zone[i] = make([][]rect, len(options))
		for j := range options {
			if i < usable || j < usable { // fixed modules are not looked at against each other
				p.zone[i][j] = zones(&options[i], &options[j])
			}
		}
	}
	return p
}

// conflict reports whether two spots exclude each other.
func (p *plane) conflict(a, b spot) bool {
	d := vec{b.x - a.x, b.y - a.y}
	for _, z := range p.zone[a.opt][b.opt] {
		if z.holds(d) {
			return true
		}
	}
	return false
}

// slanted reports whether any wall lies along neither axis.
func (p *plane) slanted() bool {
	for _, f := range p.fields {
		if f.slant {
			return true
		}
	}
	return false
}

// row lists the closed intervals of x at which an option may stand with its least
// corner at y, clear of walls and of fixed modules.
func (p *plane) row(opt int, y int64) []span64 {
	o := &p.options[opt]
	var open []span64
	lo, hi := p.fields[o.parts[0].field].bounds.lo.x, p.fields[o.parts[0].field].bounds.hi.x-o.w
	for _, pt := range o.parts {
		from := len(open)
		open = p.fields[pt.field].blocked(y+pt.lo.y, y+pt.hi.y, pt.w(), open)
		for i := from; i < len(open); i++ {
			open[i].lo -= pt.lo.x
			open[i].hi -= pt.lo.x
		}
	}
	for _, f := range p.fixed {
		for _, z := range p.zone[f.opt][opt] {
			if z.lo.y < y-f.y && y-f.y < z.hi.y {
				open = append(open, span64{f.x + z.lo.x, f.x + z.hi.x})
			}
		}
	}
	return p.closedGaps(opt, y, lo, hi, unite(open))
}

// closedGaps lists what the open intervals leave of [lo, hi], where the option is inside.
func (p *plane) closedGaps(opt int, y, lo, hi int64, open []span64) []span64 {
	var out []span64
	at := lo
	emit := func(a, b int64) {
		if a <= b && p.insideAt(opt, vec{a, y}) {
			out = append(out, span64{a, b})
		}
	}
	for _, s := range open {
		if s.lo >= at {
			emit(at, min(s.lo, hi))
		}
		at = max(at, s.hi)
		if at > hi {
			return out
		}
	}
	emit(at, hi)
	return out
}

// insideAt reports whether every part of an option at a place that touches no
// wall is on the free side.
func (p *plane) insideAt(opt int, at vec) bool {
	for _, pt := range p.options[opt].parts {
		if !p.fields[pt.field].inside(pt.rect.at(at)) {
			return false
		}
	}
	return true
}

// allowed reports whether a spot is clear of walls and fixed modules.
func (p *plane) allowed(s spot) bool {
	for _, iv := range p.row(s.opt, s.y) {
		if iv.lo <= s.x && s.x <= iv.hi {
			return true
		}
	}
	return false
}

// transposed swaps x and y.
func (p *plane) transposed() *plane {
	t := &plane{usable: p.usable}
	for _, f := range p.fields {
		t.fields = append(t.fields, f.transposed())
	}
	for _, o := range p.options {
		t.options = append(t.options, o.transposed())
	}
	for _, f := range p.fixed {
		t.fixed = append(t.fixed, spot{f.opt, vec{f.y, f.x}})
	}
	t.zone = make([][][]rect, len(p.zone))
	for i, row := range p.zone {
		t.zone[i] = make([][]rect, len(row))
		for j, zs := range row {
			for _, z := range zs {
				t.zone[i][j] = append(t.zone[i][j], z.transposed())
			}
		}
	}
	return t
}

func (v vec) transposed() vec   { return vec{v.y, v.x} }
func (r rect) transposed() rect { return rect{r.lo.transposed(), r.hi.transposed()} }

func (o option) transposed() option {
	o.w, o.h, o.gx, o.gy = o.h, o.w, o.gy, o.gx
	o.strips = slices.Clone(o.strips)
	for i := range o.strips {
		o.strips[i] = o.strips[i].transposed()
	}
	o.parts = slices.Clone(o.parts)
	for i := range o.parts {
		o.parts[i].rect = o.parts[i].rect.transposed()
	}
	return o
}

func (f *field) transposed() *field {
	flip := func(rs [][]vec) [][]vec {
		out := make([][]vec, len(rs))
		for i, r := range rs {
			for _, v := range r {
				out[i] = append(out[i], v.transposed())
			}
		}
		return out
	}
	t := &field{outer: flip(f.outer), voids: flip(f.voids), bounds: f.bounds.transposed(), slant: f.slant, gap: f.gap, mirrored: !f.mirrored}
	for _, w := range flip(asRings(f.walls)) {
		t.walls = append(t.walls, w)
	}
	return t
}

func asRings(ws []wall) [][]vec {
	out := make([][]vec, len(ws))
	for i, w := range ws {
		out[i] = w
	}
	return out
}

// sortedUnique sorts and drops repeats.
func sortedUnique(s []int64) []int64 {
	slices.Sort(s)
	return slices.Compact(s)
}
