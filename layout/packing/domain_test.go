package packing

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// An interval added to a domain is in it and nothing else is, told at every half step; what touches is one interval.
func TestDomainsGrowByWhatIsAdded(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 72))
	holds := func(d domain, twice int64) bool {
		return slices.ContainsFunc(d, func(iv span64) bool { return 2*iv.lo <= twice && twice <= 2*iv.hi })
	}
	for range 3000 {
		var d domain
		for range 6 {
			lo := r.Int64N(20)
			iv := span64{lo, lo + r.Int64N(4)}
			before := slices.Clone(d)
			var grown, changed bool
			d, grown = d.with(iv)
			for twice := int64(-2); twice < 52; twice++ {
				want := holds(before, twice) || 2*iv.lo <= twice && twice <= 2*iv.hi
				if holds(d, twice) != want {
					t.Fatalf("%v with %v is %v", before, iv, d)
				}
				changed = changed || want != holds(before, twice)
			}
			if grown != changed {
				t.Fatalf("%v with %v is %v; grown: %v", before, iv, d, grown)
			}
			for i := range d {
				if d[i].lo > d[i].hi || i > 0 && d[i].lo <= d[i-1].hi {
					t.Fatalf("%v with %v is %v", before, iv, d)
				}
			}
		}
	}
}

// wholes lists the whole coordinates of a domain.
func wholes(d domain) []int64 {
	var out []int64
	for _, iv := range d {
		for x := iv.lo; x <= iv.hi; x++ {
			out = append(out, x)
		}
	}
	return out
}

// Modules that stand at contacts with walls and at modules that do, and so on: the closure is found number by number, where walls
// lie along the axes and so give single coordinates.
func TestPushedCoordinatesAreChainsFromWalls(t *testing.T) {
	r := rand.New(rand.NewPCG(73, 74))
	for range 120 {
		w := randomPlane(r, false)
		p := w.plane()
		in := make([]map[int64]bool, p.usable)
		type at struct {
			opt int
			x   int64
		}
		var open []at
		push := func(opt int, x int64) {
			b := boundsOf(w.outer)
			if x >= b.lo.x && x+w.options[opt].w <= b.hi.x && !in[opt][x] {
				in[opt][x] = true
				open = append(open, at{opt, x})
			}
		}
		clearance := func(a, b int) []int64 { // how far b may stand right of a
			out := []int64{w.options[a].w + max(w.options[a].gx, w.options[b].gx)}
			for _, s := range w.options[a].strips {
				out = append(out, s.hi.x)
			}
			for _, s := range w.options[b].strips {
				out = append(out, w.options[a].w-s.lo.x)
			}
			return out
		}
		for opt := range in {
			in[opt] = map[int64]bool{}
		}
		for opt := range in {
			for _, pt := range w.options[opt].parts {
				for i, rings := range [][][]vec{w.outer, w.keepOuts, w.forbidden} {
					if pt.field == 1 && i == 2 {
						continue
					}
					for _, ring := range rings {
						for _, v := range ring {
							push(opt, v.x-pt.lo.x)
							if i < 2 && pt.field == 0 { // walls reach into free space by the gap
								push(opt, v.x+w.gap-pt.lo.x)
								push(opt, v.x-w.gap-pt.lo.x)
							}
						}
					}
				}
			}
			for _, f := range w.fixed {
				for _, d := range clearance(f.opt, opt) {
					push(opt, f.x+d)
				}
			}
		}
		for len(open) > 0 {
			s := open[0]
			open = open[1:]
			for j := range in {
				for _, d := range clearance(s.opt, j) {
					push(j, s.x+d)
				}
			}
		}
		got := p.leftPushed(t.Context(), nil)
		for opt := range got {
			for _, x := range wholes(got[opt]) {
				if !in[opt][x] {
					t.Fatalf("%+v: option %d is pushed to %v, no chain of contacts ends at %d", w, opt, got[opt], x)
				}
			}
			// Every place that is free and to the left of which there is none is one of them.
			for y := int64(0); y < 18; y++ {
				for x := int64(0); x < 40; x++ {
					if w.free(opt, float64(x), float64(y)) && !w.free(opt, float64(x)-0.5, float64(y)) && !slices.Contains(wholes(got[opt]), x) {
						t.Fatalf("%+v: option %d stands at a wall at %d, %d; it is pushed to %v", w, opt, x, y, got[opt])
					}
				}
			}
		}
	}
}

// rightFacing tells whether the free side of an edge is its right one: inside for an outline, outside for a hole, a keep-out or a
// forbidden region.
func rightFacing(w rawPlane, p, q vec) bool {
	x, y := float64(p.x+q.x)/2+0.01, float64(p.y+q.y)/2
	for _, k := range append(slices.Clone(w.keepOuts), w.forbidden...) {
		for i, a := range k {
			if a == p && k[(i+1)%len(k)] == q {
				return !oddly([][]vec{k}, x, y)
			}
		}
	}
	return oddly(w.outer, x, y)
}

// nexts lists, for each corner of rings, the one after it.
func nexts(rings [][]vec) []vec {
	var out []vec
	for _, ring := range rings {
		out = append(append(out, ring[1:]...), ring[0])
	}
	return out
}

// Where a module may touch a slanted wall on its left is found by moving it in eighths of a step along every wall to the right of which
// space is free, by its lower and its upper corner, where it stands at coordinates known along the wall. Single corners of walls are
// contacts, too.
func TestContactsWithSlantedWallsAreFoundStepByStep(t *testing.T) {
	r := rand.New(rand.NewPCG(75, 76))
	slants := 0
	for range 200 {
		w := randomPlane(r, true)
		w.fixed = nil
		p := w.plane()
		for opt := range p.usable {
			lo := r.Int64N(12)
			known := r.IntN(2) == 0
			across := domain{{lo, lo + r.Int64N(3)}, {lo + 5, lo + 5 + r.Int64N(2)}}
			var got domain
			for _, iv := range p.leftContacts(opt, across, known) {
				got, _ = got.with(iv)
			}
			contact := map[int64]bool{} // in eighths
			for _, pt := range w.options[opt].parts {
				rings := append(append([][]vec{}, w.outer...), w.keepOuts...)
				if pt.field == 0 {
					rings = append(rings, w.forbidden...)
				}
				after := nexts(rings)
				for i, a := range slices.Concat(rings...) {
					b := after[i]
					contact[8*(a.x-pt.lo.x)] = true
					if a.x == b.x || a.y == b.y || !rightFacing(w, a, b) {
						continue
					}
					slants++
					for k := 8 * min(a.y, b.y); k <= 8*max(a.y, b.y); k++ { // a place on the wall
						x := float64(a.x) + float64(b.x-a.x)*(float64(k)/8-float64(a.y))/float64(b.y-a.y) - float64(pt.lo.x)
						for _, side := range []int64{pt.lo.y, pt.hi.y} {
							y := k - 8*side
							if in := slices.ContainsFunc(across, func(iv span64) bool { return 8*iv.lo <= y && y <= 8*iv.hi }); in || !known {
								contact[int64(math.Round(8*x))] = true
							}
						}
					}
				}
			}
			for x := range contact {
				in := slices.ContainsFunc(got, func(iv span64) bool { return 8*iv.lo-1 <= x && x <= 8*iv.hi+1 })
				if !in {
					t.Fatalf("%v: option %+v at %v (known: %v) touches a wall at %g, contacts are %v", w.outer, w.options[opt], across, known, float64(x)/8, got)
				}
			}
			for _, iv := range got {
				for x := iv.lo; x <= iv.hi; x++ {
					near := false
					for d := int64(-24); d <= 24; d++ { // a wall of slope 3 and rounding outwards
						near = near || contact[8*x+d]
					}
					if !near {
						t.Fatalf("%v: option %+v at %v (known: %v) touches no wall near %d, contacts are %v", w.outer, w.options[opt], across, known, x, got)
					}
				}
			}
		}
	}
	if slants < 50 {
		t.Errorf("only %d slants", slants)
	}
}

// By hand: along a wall from (10, 0) to (2, 8), free to its right, a body 3 high at heights 1 to 2 touches with its lower side between
// 1 and 2, at 9 to 8, and with its upper side between 4 and 5, at 6 to 5.
func TestContactsAlongAFaceByHand(t *testing.T) {
	f := &field{outer: [][]vec{nil}}
	w := wall{{2, 8}, {10, 0}}
	pt := part{rect{vec{0, 0}, vec{4, 3}}, 0}
	want := []span64{{7, 10}, {4, 7}} // rounded outwards by a hair
	if got := f.alongFace(w, pt, domain{{1, 2}}, true); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := f.alongFace(w, pt, domain{{1, 2}}, false); !slices.Equal(got, []span64{{2, 10}}) {
		t.Errorf("anywhere: %v, want 2 to 10", got)
	}
	// A single height, whole: only the hair on either side. Heights past the wall's end touch nothing.
	if got := f.alongFace(w, pt, domain{{8, 8}}, true); !slices.Equal(got, []span64{{1, 3}}) {
		t.Errorf("at 8: %v, want 1 to 3", got)
	}
	if got := f.alongFace(w, pt, domain{{-3, -3}}, true); !slices.Equal(got, []span64{{9, 11}}) {
		t.Errorf("at -3: %v, want 9 to 11", got)
	}
	if got := f.alongFace(w, pt, domain{{9, 12}, {-9, -4}}, true); got != nil {
		t.Errorf("past the ends: %v", got)
	}
	// Half way between: x is 2 + (8 - 2.5) = 7.5 at 2.5; on a slope of 2 to 1.
	if got := f.alongFace(wall{{0, 10}, {5, 0}}, pt, domain{{3, 3}}, true); !slices.Equal(got, []span64{{3, 4}, {1, 3}}) {
		t.Errorf("on a steeper wall: %v, want 3 to 4 and 1 to 3", got)
	}
	// A thick wall's face is its far side, from the fourth corner to the third; its ends reach as far as both corners of each, the gap and two steps.
	thick := wall{{0, 8}, {8, 0}, {10, 2}, {2, 10}}
	if got := f.alongFace(thick, pt, domain{{4, 4}}, true); !slices.Equal(got, []span64{{7, 9}, {4, 6}}) {
		t.Errorf("on a thick wall: %v, want 7 to 9 and 4 to 6", got)
	}
	f.gap = 3
	if got := f.atEnds(thick); !slices.Equal(got, []span64{{-5, 7}, {3, 15}}) {
		t.Errorf("ends at %v, want -5 to 7 and 3 to 15", got)
	}
	if got := f.atEnds(w); got != nil {
		t.Errorf("a thin wall has ends at %v", got)
	}
}

// Thick slanted walls: wherever a module cannot go further left it is pushed to, at every height in eighths of a step; the places
// differ by what rounding the wall's corners allows.
func TestPushedPlacesAreInDomains(t *testing.T) {
	r := rand.New(rand.NewPCG(77, 78))
	for k := range 60 {
		w := randomPlane(r, true)
		w.gap = int64(k % 3)
		for i := range w.options {
			w.options[i].strips, w.options[i].parts = nil, w.options[i].parts[:1]
		}
		p := w.plane()
		xs, ys := p.domains(t.Context())
		for opt := range p.usable {
			for _, along := range []struct {
				q *plane
				d domain
			}{{p, xs[opt]}, {p.transposed(), ys[opt]}} {
				for y := int64(-1); y < 40; y++ {
					for _, iv := range along.q.row(opt, y) {
						in := slices.ContainsFunc(along.d, func(d span64) bool { return d.lo <= iv.lo && iv.lo <= d.hi })
						// Where the other coordinate is out of its domain nothing that is pushed stands.
						if !in && slices.ContainsFunc(wholes(map[bool][]domain{true: ys, false: xs}[along.q == p][opt]), func(v int64) bool { return v == y }) {
							t.Fatalf("%+v: option %d cannot go further than %d at %d, and is not pushed there: %v", w, opt, iv.lo, y, along.d)
						}
					}
				}
			}
		}
	}
}

// When the time is up before the contacts are known nothing may be left out: every coordinate inside the bounds is in the domain.
func TestDomainsCutShortLeaveNothingOut(t *testing.T) {
	r := rand.New(rand.NewPCG(79, 80))
	over, cancel := context.WithCancel(context.Background())
	cancel()
	for range 20 {
		w := randomPlane(r, true)
		p := w.plane()
		b := boundsOf(w.outer)
		for opt, d := range p.leftPushed(over, nil) {
			if want := (domain{{b.lo.x, b.hi.x - w.options[opt].w}}); !slices.Equal(d, want) {
				t.Errorf("%v, want %v", d, want)
			}
		}
		for _, wide := range []int64{0, 1} { // as wide as the bay, and wider
			p.options[0].w = b.w() + wide
			if d := p.wholeDomains()[0]; (len(d) == 1) != (wide == 0) {
				t.Errorf("a body %d wider than the bay: %v", wide, d)
			}
		}
	}
}
