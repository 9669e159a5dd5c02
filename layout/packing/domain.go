package packing

import (
	"context"
	"math"
	"slices"
	"sort"
)

// Where no least corner of a module needs to stand. Of all packings of one count
// take the one with the least sum of coordinates: in it no module can move left or
// down alone, so each stands, along either axis, at a wall or at a module that does,
// and so on. The coordinates so reached are normal patterns (Herz; Christofides and
// Whitlock) with intervals where a slanted wall may be met anywhere along its length.
// They hold for real positions, whatever the slant.

// domain is a set of coordinates: closed intervals, sorted and apart.
type domain []span64

const (
	// pollEvery is after how many contacts the end of the work is looked for.
	pollEvery = 64
	// contactCost estimates the nanoseconds for one.
	contactCost = 400
)

// maxDomain bounds the intervals of one domain, where options are four at most; with
// more they are dense soon.
const maxDomain = 300

// with is the domain and an interval; grown is false when it was in it already.
func (d domain) with(iv span64) (out domain, grown bool) {
	i := sort.Search(len(d), func(i int) bool { return d[i].hi >= iv.lo })
	if i < len(d) && d[i].lo <= iv.lo && iv.hi <= d[i].hi {
		return d, false
	}
	j := i
	for j < len(d) && d[j].lo <= iv.hi {
		iv.lo, iv.hi = min(iv.lo, d[j].lo), max(iv.hi, d[j].hi)
		j++
	}
	return slices.Replace(d, i, j, iv), true
}

// domains lists, per usable option, the coordinates along x and y that suffice.
// When the context ends it gives domains that leave nothing out.
func (p *plane) domains(ctx context.Context) (xs, ys []domain) {
	t := p.transposed()
	ys = t.leftPushed(ctx, p.leftPushed(ctx, nil))
	ys = t.leftPushed(ctx, p.leftPushed(ctx, ys))
	return p.leftPushed(ctx, ys), ys
}

// leftPushed closes the contacts of modules pushed left, which stand across at
// domains known already or, when those are nil, anywhere.
func (p *plane) leftPushed(ctx context.Context, across []domain) []domain {
	out := make([]domain, p.usable)
	var work []spot // an interval of an option: from x, as long as y
	push := func(opt int, iv span64) {
		o := &p.options[opt]
		b := p.fields[o.parts[0].field].bounds
		iv = span64{max(iv.lo, b.lo.x), min(iv.hi, b.hi.x-o.w)}
		if iv.lo > iv.hi {
			return
		}
		if d, grown := out[opt].with(iv); grown {
			out[opt] = d
			work = append(work, spot{opt, vec{iv.lo, iv.hi - iv.lo}})
		}
	}
	for i := range out {
		var d domain
		if across != nil {
			d = across[i]
		}
		for _, iv := range p.leftContacts(i, d, across != nil) {
			push(i, iv)
		}
	}
	stop := costing(ctx, contactCost*pollEvery)
	for k := 0; len(work) > 0; k++ {
		if k%pollEvery == 0 && stop() {
			return p.wholeDomains()
		}
		s := work[len(work)-1]
		work = work[:len(work)-1]
		for j := range out {
			for _, z := range p.zone[s.opt][j] {
				push(j, span64{s.x + z.hi.x, s.x + s.y + z.hi.x})
			}
		}
		if len(out[s.opt]) > maxDomain/max(1, p.usable/4) {
			return p.wholeDomains()
		}
	}
	return out
}

func (p *plane) wholeDomains() []domain {
	out := make([]domain, p.usable)
	for i := range out {
		o := &p.options[i]
		b := p.fields[o.parts[0].field].bounds
		if b.lo.x <= b.hi.x-o.w {
			out[i] = domain{{b.lo.x, b.hi.x - o.w}}
		}
	}
	return out
}

// leftContacts lists where an option may touch a wall or a fixed module on its left.
func (p *plane) leftContacts(opt int, across domain, known bool) []span64 {
	var out []span64
	for _, x := range wallContacts(p, opt, 1) {
		out = append(out, span64{x, x})
	}
	for _, pt := range p.options[opt].parts {
		f := p.fields[pt.field]
		for _, w := range f.walls {
			if !w.slanted() {
				continue
			}
			var at []span64
			if f.facesRight(w) {
				at = f.alongFace(w, pt, across, known)
			}
			for _, iv := range append(at, f.atEnds(w)...) {
				out = append(out, span64{iv.lo - pt.lo.x, iv.hi - pt.lo.x})
			}
		}
	}
	return out
}

// facesRight reports whether free space lies to the right of a wall's long side.
func (f *field) facesRight(w wall) bool {
	return (w[1].y < w[0].y) != f.mirrored
}

// face is the side of a wall towards free space.
func (w wall) face() (p, q vec) {
	if len(w) == 2 {
		return w[0], w[1]
	}
	return w[3], w[2]
}

// alongFace lists the x at which the lower or upper side of a part meets the face
// of a wall.
func (f *field) alongFace(w wall, pt part, across domain, known bool) []span64 {
	p, q := w.face()
	if !known || p.y == q.y {
		return []span64{{min(p.x, q.x), max(p.x, q.x)}}
	}
	lo, hi := min(p.y, q.y), max(p.y, q.y)
	var out []span64
	for _, side := range [2]int64{pt.lo.y, pt.hi.y} {
		for _, iv := range across {
			a, b := max(iv.lo+side, lo), min(iv.hi+side, hi)
			if a > b {
				continue
			}
			x := func(y int64) float64 {
				return float64(p.x) + float64(q.x-p.x)*float64(y-p.y)/float64(q.y-p.y)
			}
			u, v := math.Min(x(a), x(b)), math.Max(x(a), x(b))
			out = append(out, span64{int64(math.Floor(u - 1e-4)), int64(math.Ceil(v + 1e-4))})
		}
	}
	return out
}

// atEnds covers the ends of a thickened slanted wall, where it is lengthened past
// the corners by its gap at most.
func (f *field) atEnds(w wall) []span64 {
	if len(w) == 2 {
		return nil
	}
	around := func(p, q vec) span64 {
		return span64{min(p.x, q.x) - f.gap - 2, max(p.x, q.x) + f.gap + 2}
	}
	return []span64{around(w[0], w[3]), around(w[1], w[2])}
}

// mirroredAlong reverses x, y or both; a spot of an option w by h at (x, y) becomes one at
// (-x-w, y), (x, -y-h) or (-x-w, -y-h).
func (p *plane) mirroredAlong(alongX, alongY bool) *plane {
	at := func(v vec) vec {
		if alongX {
			v.x = -v.x
		}
		if alongY {
			v.y = -v.y
		}
		return v
	}
	box := func(r rect) rect { return boundsOf([][]vec{{at(r.lo), at(r.hi)}}) }
	var fields []*field
	for _, f := range p.fields {
		fields = append(fields, f.moved(at, box(f.bounds), f.mirrored != (alongX != alongY)))
	}
	options := make([]option, len(p.options))
	for i, o := range p.options {
		back := box(o.body()).lo
		within := func(r rect) rect { return box(r).at(vec{-back.x, -back.y}) }
		o.strips, o.parts = slices.Clone(o.strips), slices.Clone(o.parts)
		for k := range o.strips {
			o.strips[k] = within(o.strips[k])
		}
		for k := range o.parts {
			o.parts[k].rect = within(o.parts[k].rect)
		}
		options[i] = o
	}
	m := &plane{fields: fields, options: options, usable: p.usable}
	m.zone = make([][][]rect, len(p.zone))
	for i, row := range p.zone {
		m.zone[i] = make([][]rect, len(row))
		for j, zs := range row {
			// Least corners are at the other side of the bodies now.
			shift := vec{}
			if alongX {
				shift.x = p.options[i].w - p.options[j].w
			}
			if alongY {
				shift.y = p.options[i].h - p.options[j].h
			}
			for _, z := range zs {
				m.zone[i][j] = append(m.zone[i][j], box(z).at(shift))
			}
		}
	}
	for _, s := range p.fixed {
		m.fixed = append(m.fixed, p.mirroredSpot(s, alongX, alongY))
	}
	return m
}

func (p *plane) mirroredSpot(s spot, alongX, alongY bool) spot {
	o := &p.options[s.opt]
	if alongX {
		s.x = -s.x - o.w
	}
	if alongY {
		s.y = -s.y - o.h
	}
	return s
}

// moved is the field with every point moved.
func (f *field) moved(at func(vec) vec, bounds rect, mirrored bool) *field {
	all := func(rs [][]vec) [][]vec {
		out := make([][]vec, len(rs))
		for i, r := range rs {
			for _, v := range r {
				out[i] = append(out[i], at(v))
			}
		}
		return out
	}
	t := &field{outer: all(f.outer), voids: all(f.voids), bounds: bounds, slant: f.slant, gap: f.gap, mirrored: mirrored}
	for _, w := range all(asRings(f.walls)) {
		t.walls = append(t.walls, w)
	}
	return t
}
