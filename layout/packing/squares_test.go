package packing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// randomRegion is a small rectangle of places; its upper ends may be left out, where it is longer than nothing.
func randomRegion(r *rand.Rand, side int64) region {
	lo := vec{r.Int64N(40) - 3, r.Int64N(20) - 3}
	q := region{rect: rect{lo, vec{lo.x + r.Int64N(side+1), lo.y + r.Int64N(side+1)}}}
	q.half = [2]bool{q.w() > 0 && r.IntN(2) == 0, q.h() > 0 && r.IntN(2) == 0}
	return q
}

// ends are the corners of a region, a hair's breadth inside those that it leaves out.
func (r region) ends() (xs, ys [2]float64) {
	xs, ys = [2]float64{float64(r.lo.x), float64(r.hi.x)}, [2]float64{float64(r.lo.y), float64(r.hi.y)}
	if r.half[0] {
		xs[1] -= 1e-3
	}
	if r.half[1] {
		ys[1] -= 1e-3
	}
	return xs, ys
}

// A wall blocks a region of places where a body meets it at all four corners, since what meets a convex wall is convex; it touches the
// region where the body meets it anywhere; and the middle of a body is outside where neither a wall nor free space is near it.
func TestRegionsBlockedByOneWall(t *testing.T) {
	r := rand.New(rand.NewPCG(81, 82))
	seen := map[bool]int{}
	for range 6000 {
		f := &field{walls: []wall{randomWall(r), randomWall(r)}}
		q := randomRegion(r, 3)
		q.rect = q.rect.at(vec{-10, -8})
		body := rect{vec{r.Int64N(3) - 1, r.Int64N(3) - 1}, vec{2 + r.Int64N(5), 2 + r.Int64N(5)}}
		xs, ys := q.ends()
		at := func(w wall, x, y float64) bool {
			return meetsOpen(w, x+float64(body.lo.x), y+float64(body.lo.y), x+float64(body.hi.x), y+float64(body.hi.y))
		}
		blocked, touched := false, false
		for _, w := range f.walls {
			all := true
			for _, x := range xs {
				for _, y := range ys {
					all = all && at(w, x, y)
				}
			}
			blocked = blocked || all
			touched = touched || meetsOpen(w, float64(q.lo.x+body.lo.x), float64(q.lo.y+body.lo.y), float64(q.hi.x+body.hi.x), float64(q.hi.y+body.hi.y))
		}
		seen[blocked]++
		b, s := f.blocks(body, q)
		if b != blocked || !blocked && s != touched {
			t.Fatalf("%v, body %v in %v: blocked %v, touched %v; want %v, %v", f.walls, body, q, b, s, blocked, touched)
		}
	}
	if min(seen[true], seen[false]) < 300 {
		t.Errorf("drawn too one-sidedly: %v", seen)
	}
}

// All of a region lies in an open rectangle where its corners do, those that it leaves out a hair's breadth further in.
func TestRegionsWithinARectangle(t *testing.T) {
	r := rand.New(rand.NewPCG(83, 84))
	seen := map[bool]int{}
	for range 20_000 {
		q := randomRegion(r, 4)
		z := rect{vec{q.lo.x + r.Int64N(4) - 2, q.lo.y + r.Int64N(4) - 2}, vec{q.hi.x + r.Int64N(4) - 1, q.hi.y + r.Int64N(4) - 1}}
		xs, ys := q.ends()
		want := float64(z.lo.x) < xs[0] && xs[1] < float64(z.hi.x) && float64(z.lo.y) < ys[0] && ys[1] < float64(z.hi.y)
		if seen[want]++; q.within(z) != want {
			t.Fatalf("%v lies in %v: %v", q, z, !want)
		}
	}
	if min(seen[true], seen[false]) < 1000 {
		t.Errorf("drawn too one-sidedly: %v", seen)
	}
}

// The middle of a body is outside, and away from walls, wherever in a region the body stands.
func TestMiddlesOutside(t *testing.T) {
	r := rand.New(rand.NewPCG(85, 86))
	seen := map[bool]int{}
	for range 2000 {
		w := randomPlane(r, true)
		f := w.plane().fields[1]
		q := randomRegion(r, 3)
		lo := vec{2 * r.Int64N(3), 2 * r.Int64N(3)}
		body := rect{lo, vec{lo.x + 1 + r.Int64N(4), lo.y + 1 + r.Int64N(4)}}
		m := vec{(body.lo.x + body.hi.x) / 2, (body.lo.y + body.hi.y) / 2}
		x0, y0, x1, y1 := float64(q.lo.x+m.x), float64(q.lo.y+m.y), float64(q.hi.x+m.x+1), float64(q.hi.y+m.y+1)
		const more = 1e-4
		want := clearOf(w.outer, x0-more, y0-more, x1+more, y1+more) && clearOf(w.keepOuts, x0-more, y0-more, x1+more, y1+more)
		if want {
			in := oddly(w.outer, (x0+x1)/2, (y0+y1)/2)
			for _, k := range w.keepOuts {
				in = in && !oddly([][]vec{k}, (x0+x1)/2, (y0+y1)/2)
			}
			want = !in
		}
		if seen[want]++; f.outside(body, q.rect) != want {
			t.Fatalf("%v: the middle of %v in %v is outside: %v", w.outer, body, q, !want)
		}
	}
	if min(seen[true], seen[false]) < 150 {
		t.Errorf("drawn too one-sidedly: %v", seen)
	}
}

// Where a place in a region is free, asked at every half step, the region may not be left out. Where none is it may stay in, since
// it is only halved a few times: that is seldom so.
func TestRegionsWithAFreePlaceAreKept(t *testing.T) {
	r := rand.New(rand.NewPCG(87, 88))
	kept, taken, needless := 0, 0, 0
	for k := range 60 {
		w := randomPlane(r, k%3 > 0)
		p := w.plane()
		for range 60 {
			opt, q := r.IntN(p.usable), randomRegion(r, 7)
			want := false
			for x := 2 * q.lo.x; x <= 2*q.hi.x && !want; x++ {
				for y := 2 * q.lo.y; y <= 2*q.hi.y && !want; y++ {
					if q.half[0] && x == 2*q.hi.x || q.half[1] && y == 2*q.hi.y {
						continue
					}
					want = w.free(opt, float64(x)/2, float64(y)/2)
				}
			}
			got := p.somewhereFree(opt, q, halvings)
			if want && !got {
				t.Fatalf("%+v: option %d is free somewhere in %v", w, opt, q)
			}
			if got {
				kept++
			}
			if want {
				taken++
			}
			if got && !want {
				needless++
			}
		}
	}
	t.Logf("%d regions with a free place, %d kept, %d of them without", taken, kept, needless)
	if taken < 700 || 7*needless > taken {
		t.Errorf("%d regions without a free place are kept beside %d with one", needless, taken)
	}
}

// The base step is the greatest that divides every distance, found by trying all.
func TestBaseStepDividesEveryDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(89, 90))
	for range 300 {
		w := randomPlane(r, false)
		k := 1 + r.Int64N(4)
		for i := range w.options {
			o := &w.options[i]
			o.w, o.h, o.gx, o.gy, o.strips, o.parts = k*o.w, k*o.h, k*o.gx, k*o.gy, nil, nil
		}
		p := newPlane(nil, w.options, w.usable, nil)
		want := int64(0)
		for step := int64(1); step < 40; step++ {
			all := true
			for _, a := range w.options[:w.usable] {
				for _, b := range w.options[:w.usable] {
					all = all && (a.w+max(a.gx, b.gx))%step == 0 && (a.h+max(a.gy, b.gy))%step == 0
				}
			}
			if all {
				want = step
			}
		}
		if got := p.baseStep(); got != want {
			t.Fatalf("%+v: %d, want %d", w.options, got, want)
		}
	}
}

// The corners of squares that are free places are all of those whole steps from the least corner of the bounds.
func TestCornersOfSquaresAreFreePlaces(t *testing.T) {
	r := rand.New(rand.NewPCG(91, 92))
	for k := range 30 {
		w := randomPlane(r, k%2 == 0)
		for i := range w.outer {
			for j := range w.outer[i] {
				w.outer[i][j] = vec{w.outer[i][j].x + 3, w.outer[i][j].y - 1}
			}
		}
		p := w.plane()
		step := 1 + r.Int64N(4)
		b := boundsOf(w.outer)
		var want []spot
		for opt := range p.usable {
			for y := b.lo.y; y <= b.hi.y; y += step {
				for x := b.lo.x; x <= b.hi.x; x += step {
					if w.free(opt, float64(x), float64(y)) {
						want = append(want, spot{opt, vec{x, y}})
					}
				}
			}
		}
		if got := newSquares(p, step).corners(); !slices.Equal(got, want) {
			t.Fatalf("%+v in steps of %d: %v, want %v", w, step, got, want)
		}
	}
}

// Pieces of a domain are what it has of each step, from its least coordinate there to its greatest, told at every quarter.
func TestPiecesOfADomain(t *testing.T) {
	r := rand.New(rand.NewPCG(93, 94))
	for range 3000 {
		var d domain
		for range 1 + r.IntN(4) {
			lo := r.Int64N(40) - 10
			d, _ = d.with(span64{lo, lo + r.Int64N(9)})
		}
		anchor, step := r.Int64N(9)-4, 1+r.Int64N(7)
		type ends struct{ lo, hi int64 } // in quarters
		in := map[int64]ends{}
		for _, iv := range d {
			for v := 4 * iv.lo; v <= 4*iv.hi; v++ {
				k := int64(math.Floor(float64(v-4*anchor) / float64(4*step)))
				e, ok := in[k]
				if !ok {
					e = ends{v, v}
				}
				in[k] = ends{min(e.lo, v), max(e.hi, v)}
			}
		}
		got := pieces(d, anchor, step)
		if len(got) != len(in) {
			t.Fatalf("%v from %d in steps of %d: %v, want %d pieces", d, anchor, step, got, len(in))
		}
		for i, c := range got {
			e, ok := in[(c.at-anchor)/step]
			hi := 4 * c.hi
			if c.half {
				hi--
			}
			if !ok || (c.at-anchor)%step != 0 || e != (ends{4 * c.lo, hi}) || i > 0 && got[i-1].at >= c.at {
				t.Fatalf("%v from %d in steps of %d: %v, want %v", d, anchor, step, c, e)
			}
		}
		exact := true
		for _, iv := range d {
			exact = exact && iv.lo == iv.hi && (iv.lo-anchor)%step == 0
		}
		if exactAlong([]domain{nil, d}, anchor, step) != exact {
			t.Fatalf("%v lies on steps of %d from %d: %v", d, step, anchor, !exact)
		}
	}
}

// A place rounded down lies in the oblong, cores are cut to whole steps of it, and both are asked of plain numbers.
func TestRoundingToOblongs(t *testing.T) {
	r := rand.New(rand.NewPCG(95, 96))
	down := func(v, step int64) int64 { return int64(math.Floor(float64(v)/float64(step))) * step }
	up := func(v, step int64) int64 { return int64(math.Ceil(float64(v)/float64(step))) * step }
	for range 2000 {
		q := &raster{anchor: vec{r.Int64N(30) - 15, r.Int64N(30) - 15}, step: vec{1 + r.Int64N(6), 1 + r.Int64N(6)}}
		v := vec{r.Int64N(60) - 30, r.Int64N(60) - 30}
		want := vec{q.anchor.x + down(v.x-q.anchor.x, q.step.x), q.anchor.y + down(v.y-q.anchor.y, q.step.y)}
		if got := q.rounded(v); got != want {
			t.Fatalf("%v from %v in steps of %v is rounded to %v, want %v", v, q.anchor, q.step, got, want)
		}
		c := rect{vec{-r.Int64N(9), r.Int64N(9) - 4}, vec{10 + r.Int64N(9), 9 + r.Int64N(9)}}
		cut := rect{vec{up(c.lo.x, q.step.x), up(c.lo.y, q.step.y)}, vec{down(c.hi.x, q.step.x), down(c.hi.y, q.step.y)}}
		if got := q.floored([]rect{c}); got[0] != cut {
			t.Fatalf("%v in steps of %v is cut to %v, want %v", c, q.step, got[0], cut)
		}
	}
}

// Oblongs that can be reached are those that the domains meet and in which some place may be free. An axis on
// which every coordinate is a whole step is not divided further.
func TestReachableOblongs(t *testing.T) {
	r := rand.New(rand.NewPCG(97, 98))
	never := func() bool { return false }
	divided := map[[2]bool]int{}
	for k := range 40 {
		w := randomPlane(r, k%4 > 0)
		p := w.plane()
		q := newRaster(t.Context(), p, 1)
		q.step = vec{1 + r.Int64N(4), 1 + r.Int64N(4)}
		n := 0.0
		var want []spot
		for opt := range q.p.usable {
			xs, ys := pieces(q.xs[opt], q.anchor.x, q.step.x), pieces(q.ys[opt], q.anchor.y, q.step.y)
			n += float64(len(xs) * len(ys))
			for _, y := range ys {
				for _, x := range xs {
					if q.p.somewhereFree(opt, region{rect{vec{x.lo, y.lo}, vec{x.hi, y.hi}}, [2]bool{x.half, y.half}}, halvings) {
						want = append(want, spot{opt, vec{x.at, y.at}})
					}
				}
			}
		}
		got := q.reachable(never)
		if q.size(q.step) != n || !slices.Equal(got, want) {
			t.Fatalf("%v: %g oblongs, want %g; %v reachable, want %v", w.outer, q.size(q.step), n, got, want)
		}
		some := q.reachableWhere(func(c spot) bool { return c.x%2 == 0 }, never)
		if want := slices.DeleteFunc(slices.Clone(got), func(c spot) bool { return c.x%2 != 0 }); !slices.Equal(some, want) {
			t.Fatalf("%v at even x, want %v", some, want)
		}
		if late := q.reachable(func() bool { return true }); late != nil {
			t.Fatalf("stopped at once it gives %v", late)
		}
		f := q.finer()
		along := [2]bool{!exactAlong(q.xs, q.anchor.x, q.step.x), !exactAlong(q.ys, q.anchor.y, q.step.y)}
		for i, s := range [2]int64{q.step.x, q.step.y} {
			along[i] = along[i] && s > 1
		}
		divided[along]++
		if (f != nil) != (along[0] || along[1]) {
			t.Fatalf("steps %v are divided: %v, want %v", q.step, f != nil, along)
		}
		if f == nil {
			continue
		}
		if (f.step.x < q.step.x) != along[0] || (f.step.y < q.step.y) != along[1] || q.step.x%f.step.x != 0 || q.step.y%f.step.y != 0 {
			t.Fatalf("steps %v are divided to %v, want along %v", q.step, f.step, along)
		}
	}
	if len(divided) < 3 {
		t.Errorf("drawn too one-sidedly: %v", divided)
	}
}
