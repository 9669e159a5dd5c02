package packing

import "slices"

// families is the set-packing model of a plane with unequal gaps or strips, as far
// as rectangles can tell its conflicts. A family gives each option a core such that
// candidates with overlapping cores conflict; its rows are the points under the
// cores. Every family is a valid grid of the relaxed problem; together they bound
// more tightly, and quickly even for many candidates.
type families struct {
	grids []*grid
	part  []float64 // scratch of cover
}

func newFamilies(p *plane, spots []spot) *families {
	f := &families{}
	for _, cores := range fewer(p.coreFamilies(), len(spots)) {
		f.grids = append(f.grids, newGrid(spots, cores))
	}
	return f
}

// fewer keeps the first families where many candidates make each dear.
func fewer(all [][]rect, candidates int) [][]rect {
	if candidates > 5000 {
		return all[:min(4, len(all))]
	}
	return all
}

func (f *families) columns() int { return f.grids[0].columns() }

func (f *families) rows() int {
	n := 0
	for _, g := range f.grids {
		n += g.rows()
	}
	return n
}

func (f *families) cover(price, out []float64) {
	if len(f.part) != len(out) {
		f.part = make([]float64, len(out))
	}
	clear(out)
	for _, g := range f.grids {
		g.cover(price[:g.rows()], f.part)
		for i, v := range f.part {
			out[i] += v
		}
		price = price[g.rows():]
	}
}

func (f *families) load(weight, out []float64) {
	for _, g := range f.grids {
		g.load(weight, out[:g.rows()])
		out = out[g.rows():]
	}
}

// areas is the mean of the families' area prices.
func (f *families) areas() []float64 {
	var out []float64
	for _, g := range f.grids {
		for _, v := range g.areas() {
			out = append(out, v/float64(len(f.grids)))
		}
	}
	return out
}

// share is the part of a clearance that a core takes at its lower face, in halves.
type share int64

// coreFamilies lists the families of cores that are valid for the plane.
func (p *plane) coreFamilies() [][]rect {
	var out [][]rect
	add := func(cores []rect) {
		known := slices.ContainsFunc(out, func(c []rect) bool { return slices.Equal(c, cores) })
		if !known && p.coresConflict(cores) {
			out = append(out, cores)
		}
	}
	for _, s := range []share{1, 0, 2} {
		add(p.gapCores(s, s))
	}
	add(p.gapCores(0, 2))
	for _, s := range []share{1, 0, 2} {
		add(p.stripCores(s, true))
		add(p.stripCores(s, false))
	}
	if len(out) == 0 {
		out = append(out, p.bodies())
	}
	return out
}

func (p *plane) bodies() []rect {
	out := make([]rect, p.usable)
	for i := range out {
		out[i] = p.options[i].body()
	}
	return out
}

// gapCores are the bodies with their gaps, shared between lower and upper face.
func (p *plane) gapCores(x, y share) []rect {
	out := p.bodies()
	for i := range out {
		o := &p.options[i]
		lx, ly := o.gx*int64(x)/2, o.gy*int64(y)/2
		out[i] = rect{vec{-lx, -ly}, vec{o.w + o.gx - lx, o.h + o.gy - ly}}
	}
	return out
}

// stripCores are the bodies with the strips at their faces along one axis: half of
// each strip, or all of those at the upper faces, or all at the lower ones.
func (p *plane) stripCores(s share, alongX bool) []rect {
	out := p.bodies()
	for i := range out {
		o := &p.options[i]
		for _, t := range o.strips {
			up, down := max(0, t.hi.x-o.w), max(0, -t.lo.x)
			if !alongX {
				up, down = max(0, t.hi.y-o.h), max(0, -t.lo.y)
			}
			up, down = up*(2-int64(s))/2, down*int64(s)/2
			if alongX {
				out[i].hi.x, out[i].lo.x = max(out[i].hi.x, o.w+up), min(out[i].lo.x, -down)
			} else {
				out[i].hi.y, out[i].lo.y = max(out[i].hi.y, o.h+up), min(out[i].lo.y, -down)
			}
		}
	}
	return out
}

// coresConflict reports whether overlap of cores always is a conflict.
func (p *plane) coresConflict(cores []rect) bool {
	for i, a := range cores {
		for j, b := range cores {
			d := rect{vec{a.lo.x - b.hi.x, a.lo.y - b.hi.y}, vec{a.hi.x - b.lo.x, a.hi.y - b.lo.y}}
			if !coveredBy(d, p.zone[i][j]) {
				return false
			}
		}
	}
	return true
}

// coveredBy reports whether open rectangles cover an open rectangle. It is enough
// to look at the corners of the arrangement and between them.
func coveredBy(d rect, zones []rect) bool {
	xs, ys := []int64{2 * d.lo.x, 2 * d.hi.x}, []int64{2 * d.lo.y, 2 * d.hi.y}
	for _, z := range zones {
		xs = append(xs, 2*z.lo.x, 2*z.hi.x)
		ys = append(ys, 2*z.lo.y, 2*z.hi.y)
	}
	xs, ys = withMiddles(xs), withMiddles(ys)
	twice := func(r rect) rect { return rect{vec{2 * r.lo.x, 2 * r.lo.y}, vec{2 * r.hi.x, 2 * r.hi.y}} }
	for _, x := range xs {
		for _, y := range ys {
			v := vec{x, y}
			if twice(d).holds(v) && !slices.ContainsFunc(zones, func(z rect) bool { return twice(z).holds(v) }) {
				return false
			}
		}
	}
	return true
}

func withMiddles(s []int64) []int64 {
	s = sortedUnique(s)
	out := slices.Clone(s)
	for i := range len(s) - 1 {
		out = append(out, (s[i]+s[i+1])/2)
	}
	return out
}
