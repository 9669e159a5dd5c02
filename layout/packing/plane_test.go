package packing

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// rawPlane is a plane by what it is made of, so that tests can judge places without the solver's walls.
type rawPlane struct {
	outer, keepOuts, forbidden [][]vec
	gap                        int64
	options                    []option
	usable                     int
	fixed                      []spot
}

func (w rawPlane) plane() *plane {
	fields := []*field{newField(w.outer, w.keepOuts, w.forbidden, w.gap), newField(w.outer, w.keepOuts, nil, 0)}
	return newPlane(fields, w.options, w.usable, w.fixed)
}

func square(x0, y0, x1, y1 int64) []vec { return []vec{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} }

// randomPlane has one or two outer rings, perhaps with a hole, keep-outs and forbidden regions; slanted ones keep no gap.
func randomPlane(r *rand.Rand, slanted bool) rawPlane {
	between := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	var w rawPlane
	w.outer = [][]vec{square(0, 0, between(16, 24), between(12, 18))}
	if slanted {
		a := w.outer[0]
		a[1].y, a[2].x, a[3].x = between(0, 4), a[2].x-between(0, 5), between(0, 4)
	} else if w.gap = between(0, 2); r.IntN(2) == 0 {
		w.outer[0] = []vec{{0, 0}, {22, 0}, {22, 9}, {between(8, 16), 9}, {0, 17}, {0, 17}}
		w.outer[0][4] = vec{w.outer[0][3].x, 17}
	}
	switch r.IntN(4) {
	case 0:
		w.outer = append(w.outer, square(30, 2, between(36, 42), between(10, 14)))
		if slanted {
			w.outer[1][0].x -= 3
			w.outer[1][3].x += 2
		}
	case 1:
		w.outer = append(w.outer, square(4, 4, between(5, 7), between(5, 7)))
		if slanted {
			w.outer[1][3].x = 5
		}
	}
	island := func() []vec {
		x, y := between(2, 18), between(2, 12)
		s := square(x, y, x+between(1, 3), y+between(1, 3))
		if slanted && r.IntN(2) == 0 {
			s = s[:3]
		}
		if r.IntN(2) == 0 {
			slices.Reverse(s)
		}
		return s
	}
	for range r.IntN(2) {
		w.keepOuts = append(w.keepOuts, island())
	}
	for range r.IntN(2) {
		w.forbidden = append(w.forbidden, island())
	}
	w.usable = 1 + r.IntN(2)
	for k := range w.usable + r.IntN(2) {
		o := option{posture: k, w: between(2, 6), h: between(2, 6), gx: between(0, 2), gy: between(0, 2)}
		o.parts = []part{{o.body(), 0}}
		for range r.IntN(3) {
			from := between(0, o.h-1)
			s := rect{vec{o.w, from}, vec{o.w + between(1, 2), between(from+1, o.h)}}
			if r.IntN(2) == 0 {
				s.lo.x, s.hi.x = -between(1, 2), 0
			}
			o.strips = append(o.strips, s)
			o.parts = append(o.parts, part{s, 1})
		}
		if k >= w.usable {
			w.fixed = append(w.fixed, spot{k, vec{between(0, 14), between(0, 10)}})
		}
		w.options = append(w.options, o)
	}
	return w
}

// clearOf tells whether a rectangle keeps a gap from every edge of rings, along x or along y.
func clearOf(rings [][]vec, x0, y0, x1, y1 float64) bool {
	for _, ring := range rings {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			if float64(max(p.x, q.x)) <= x0 || float64(min(p.x, q.x)) >= x1 || float64(max(p.y, q.y)) <= y0 || float64(min(p.y, q.y)) >= y1 {
				continue
			}
			if meetsOpen([]vec{p, q}, x0, y0, x1, y1) {
				return false
			}
		}
	}
	return true
}

// oddly tells whether a point lies inside an odd number of rings, by the angles at which they are seen.
func oddly(rings [][]vec, x, y float64) bool {
	odd := false
	for _, ring := range rings {
		var ps []Point
		for _, v := range ring {
			ps = append(ps, Point{float64(v.x), float64(v.y)})
		}
		odd = odd != inPolygon(x, y, ps)
	}
	return odd
}

// free tells whether an option may stand at a real place: in the outline and out of keep-outs and forbidden regions, by the gap
// where there is one, and clear of the fixed modules.
func (w rawPlane) free(opt int, x, y float64) bool {
	o := &w.options[opt]
	for _, pt := range o.parts {
		x0, y0, x1, y1 := x+float64(pt.lo.x), y+float64(pt.lo.y), x+float64(pt.hi.x), y+float64(pt.hi.y)
		g, forbidden := float64(w.gap), w.forbidden
		if pt.field == 1 {
			g, forbidden = 0, nil
		}
		mx, my := (x0+x1)/2, (y0+y1)/2
		if !clearOf(w.outer, x0-g, y0-g, x1+g, y1+g) || !clearOf(w.keepOuts, x0-g, y0-g, x1+g, y1+g) || !clearOf(forbidden, x0, y0, x1, y1) || !oddly(w.outer, mx, my) {
			return false
		}
		for _, ring := range append(slices.Clone(w.keepOuts), forbidden...) {
			if oddly([][]vec{ring}, mx, my) {
				return false
			}
		}
	}
	for _, f := range w.fixed {
		if w.apart(f, opt, x, y) {
			return false
		}
	}
	return true
}

// apart tells whether an option at a place excludes a fixed module: nearer than the larger gap along both axes, or one in the
// strip of the other.
func (w rawPlane) apart(f spot, opt int, x, y float64) bool {
	a, b := &w.options[f.opt], &w.options[opt]
	dx, dy := x-float64(f.x), y-float64(f.y)
	meets := func(p, q rect, dx, dy float64) bool { // q moved by d overlaps p
		return float64(p.lo.x) < float64(q.hi.x)+dx && float64(q.lo.x)+dx < float64(p.hi.x) && float64(p.lo.y) < float64(q.hi.y)+dy && float64(q.lo.y)+dy < float64(p.hi.y)
	}
	gx, gy := max(a.gx, b.gx), max(a.gy, b.gy)
	grown := rect{vec{-gx, -gy}, vec{a.w + gx, a.h + gy}}
	if meets(grown, b.body(), dx, dy) {
		return true
	}
	for _, s := range a.strips {
		if meets(s, b.body(), dx, dy) {
			return true
		}
	}
	for _, s := range b.strips {
		if meets(a.body(), s, dx, dy) {
			return true
		}
	}
	return false
}

// Where the rows of a plane say that a module may stand it may, and nowhere else, asked at every whole place: in one outline and
// in two, with holes, keep-outs, forbidden regions, strips and fixed modules.
func TestRowsOfAPlaneAreItsFreePlaces(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	free, places := 0, 0
	for k := range 100 {
		w := randomPlane(r, k%2 == 1)
		p := w.plane()
		for opt := range p.usable {
			for y := int64(-3); y < 19; y++ {
				row := p.row(opt, y)
				for i, iv := range row {
					if iv.lo > iv.hi || i > 0 && iv.lo < row[i-1].hi {
						t.Fatalf("the row is %v", row)
					}
				}
				for x := int64(-4); x < 46; x++ {
					want := w.free(opt, float64(x), float64(y))
					if got := p.allowed(spot{opt, vec{x, y}}); got != want {
						t.Fatalf("%+v: option %d at %d, %d may stand: %v, want %v", w, opt, x, y, got, want)
					}
					if places++; want {
						free++
					}
				}
			}
		}
	}
	if free < places/20 {
		t.Errorf("only %d of %d places are free", free, places)
	}
}

// Two modules exclude one another where they are nearer than the larger of their gaps along both axes or stand in one another's
// strips, asked of every two options at every whole distance.
func TestConflictsAreThoseOfGapsAndStrips(t *testing.T) {
	r := rand.New(rand.NewPCG(63, 64))
	for range 150 {
		w := randomPlane(r, false)
		p := w.plane()
		for a := range w.options {
			for b := range w.options {
				if a >= p.usable && b >= p.usable {
					continue
				}
				for x := int64(-14); x <= 14; x++ {
					for y := int64(-14); y <= 14; y++ {
						got := p.conflict(spot{a, vec{3, 5}}, spot{b, vec{3 + x, 5 + y}})
						if want := w.apart(spot{a, vec{3, 5}}, b, float64(3+x), float64(5+y)); got != want {
							t.Fatalf("%+v and %+v at %d, %d: %v, want %v", w.options[a], w.options[b], x, y, got, want)
						}
					}
				}
			}
		}
	}
}

// mirroredRaw is a plane made anew from rings and options that were mirrored or transposed point by point.
func (w rawPlane) mirroredRaw(at func(vec) vec) rawPlane {
	rings := func(in [][]vec) (out [][]vec) {
		for _, ring := range in {
			var r []vec
			for _, v := range ring {
				r = append(r, at(v))
			}
			out = append(out, r)
		}
		return out
	}
	box := func(r rect) rect { return boundsOf([][]vec{{at(r.lo), at(r.hi)}}) }
	m := rawPlane{rings(w.outer), rings(w.keepOuts), rings(w.forbidden), w.gap, nil, w.usable, nil}
	for _, o := range w.options {
		back := box(o.body()).lo
		within := func(r rect) rect { return box(r).at(vec{-back.x, -back.y}) }
		n := option{posture: o.posture, w: box(o.body()).w(), h: box(o.body()).h(), gx: o.gx, gy: o.gy}
		if v := at(vec{1, 0}); v.x == 0 {
			n.gx, n.gy = o.gy, o.gx
		}
		for _, s := range o.strips {
			n.strips = append(n.strips, within(s))
		}
		for _, pt := range o.parts {
			n.parts = append(n.parts, part{within(pt.rect), pt.field})
		}
		m.options = append(m.options, n)
	}
	for _, f := range w.fixed {
		m.fixed = append(m.fixed, spot{f.opt, box(w.options[f.opt].body().at(f.vec)).lo})
	}
	return m
}

// A plane that is mirrored or transposed is the plane of the rings and modules so moved: the same places are free, the same pairs
// exclude one another, and modules pushed left and down reach the same coordinates.
func TestMirroredPlanesAreThoseOfMirroredRings(t *testing.T) {
	r := rand.New(rand.NewPCG(65, 66))
	for k := range 80 {
		w := randomPlane(r, k%2 == 1)
		if k%8 == 3 {
			w.gap = 2 // a gap from slanted walls
		}
		p := w.plane()
		for name, c := range map[string]struct {
			m  *plane
			at func(vec) vec
		}{
			"along x":    {p.mirroredAlong(true, false), func(v vec) vec { return vec{-v.x, v.y} }},
			"along y":    {p.mirroredAlong(false, true), func(v vec) vec { return vec{v.x, -v.y} }},
			"along both": {p.mirroredAlong(true, true), func(v vec) vec { return vec{-v.x, -v.y} }},
			"along none": {p.mirroredAlong(false, false), func(v vec) vec { return v }},
			"transposed": {p.transposed(), func(v vec) vec { return vec{v.y, v.x} }},
		} {
			want := w.mirroredRaw(c.at).plane()
			if !slices.Equal(c.m.fixed, want.fixed) || c.m.usable != want.usable || c.m.slanted() != want.slanted() {
				t.Fatalf("%s: fixed %v, want %v", name, c.m.fixed, want.fixed)
			}
			for i := range c.m.fields {
				a, b := c.m.fields[i], want.fields[i]
				if a.bounds != b.bounds || a.gap != b.gap || a.slant != b.slant {
					t.Fatalf("%s: bounds %v, gap %d, want %v, %d", name, a.bounds, a.gap, b.bounds, b.gap)
				}
			}
			for range 40 {
				a, b := spot{r.IntN(p.usable), vec{r.Int64N(40) - 2, r.Int64N(20) - 2}}, spot{r.IntN(p.usable), vec{r.Int64N(20) - 2, r.Int64N(20) - 2}}
				moved := func(s spot) spot {
					return spot{s.opt, boundsOf([][]vec{{c.at(s.vec), c.at(vec{s.x + w.options[s.opt].w, s.y + w.options[s.opt].h})}}).lo}
				}
				if p.allowed(a) != want.allowed(moved(a)) || c.m.allowed(moved(a)) != want.allowed(moved(a)) {
					t.Fatalf("%s: %v may stand: %v, mirrored %v, rings mirrored %v", name, a, p.allowed(a), c.m.allowed(moved(a)), want.allowed(moved(a)))
				}
				if p.conflict(a, b) != want.conflict(moved(a), moved(b)) || c.m.conflict(moved(a), moved(b)) != want.conflict(moved(a), moved(b)) {
					t.Fatalf("%s: %v and %v", name, a, b)
				}
			}
			xs, ys := c.m.domains(t.Context())
			us, vs := want.domains(t.Context())
			for i := range xs {
				if !slices.Equal(xs[i], us[i]) || !slices.Equal(ys[i], vs[i]) {
					t.Fatalf("%s of %+v: option %d is pushed to %v and %v, want %v and %v", name, w, i, xs[i], ys[i], us[i], vs[i])
				}
			}
		}
	}
}
