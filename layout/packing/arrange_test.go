package packing

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// greedyOf fills a plane of whole places from its corner, taking each place that is free of those before.
func (w rawPlane) greedyOf(r *rand.Rand, count int) []spot {
	var out []spot
	for range 600 {
		s := spot{r.IntN(w.usable), vec{r.Int64N(44), r.Int64N(18)}}
		if len(out) < count && w.free(s.opt, float64(s.x), float64(s.y)) && !slices.ContainsFunc(out, func(u spot) bool { return w.apart(u, s.opt, float64(s.x), float64(s.y)) }) {
			out = append(out, s)
		}
	}
	return out
}

func (w rawPlane) freeBesides(opt int, x, y int64, others []spot) bool {
	return w.free(opt, float64(x), float64(y)) && !slices.ContainsFunc(others, func(u spot) bool { return w.apart(u, opt, float64(x), float64(y)) })
}

// arrangerOf is an arranger of a plane on a lattice of whole millimetres.
func arrangerOf(t *testing.T, p *plane, spots []spot, g *Goal) *arranger {
	s := newSession(t.Context(), &Problem{}, nil, time.Now(), time.Minute)
	s.lat = lattice{1}
	return s.arranger(p, spots, g)
}

// Contacts are the ends of free runs at the heights of other modules, just clear of them, at walls, at the mirror and of the module
// itself. The runs are found place by place.
func TestContactsAreEndsOfFreeRuns(t *testing.T) {
	r := rand.New(rand.NewPCG(141, 142))
	found, missing := 0, 0
	for range 40 {
		w := randomPlane(r, false)
		p := w.plane()
		others := w.greedyOf(r, 4)
		mirror := 3 + r.Int64N(10)
		a := arrangerOf(t, p, nil, &Goal{MirrorYMM: float64(mirror)})
		at := spot{0, vec{2, r.Int64N(12)}}
		var want []spot
		for opt := range p.usable {
			o := &w.options[opt]
			ys := map[int64]bool{at.y: true, mirror - o.h/2: true}
			for _, pt := range o.parts {
				for i, rings := range [][][]vec{w.outer, w.keepOuts, w.forbidden} {
					for _, ring := range rings {
						for _, v := range ring {
							g := w.gap
							if i == 2 || pt.field == 1 {
								g = 0
							}
							if i == 2 && pt.field == 1 {
								continue
							}
							for _, d := range []int64{-g, 0, g} {
								ys[v.y+d-pt.lo.y], ys[v.y+d-pt.hi.y] = true, true
							}
						}
					}
				}
			}
			for _, f := range append(slices.Clone(others), w.fixed...) {
				q := &w.options[f.opt]
				gap := max(o.gy, q.gy)
				ys[f.y], ys[f.y+q.h+gap], ys[f.y-o.h-gap] = true, true, true
				for _, s := range q.strips {
					ys[f.y+s.hi.y], ys[f.y+s.lo.y-o.h] = true, true
				}
				for _, s := range o.strips {
					ys[f.y+q.h-s.lo.y], ys[f.y-s.hi.y] = true, true
				}
			}
			for y := range ys {
				for x := int64(0); x < 44; x++ {
					if w.freeBesides(opt, x, y, others) && (!w.freeBesides(opt, x-1, y, others) || !w.freeBesides(opt, x+1, y, others)) {
						want = append(want, spot{opt, vec{x, y}})
					}
				}
			}
		}
		order := func(s, u spot) int { return cmp.Or(s.opt-u.opt, cmp.Compare(s.y, u.y), cmp.Compare(s.x, u.x)) }
		got := a.contacts(at, others)
		for _, s := range got {
			if !w.freeBesides(s.opt, s.x, s.y, others) {
				t.Fatalf("%+v beside %v: the contact %v is not free", w, others, s)
			}
		}
		slices.SortFunc(want, order)
		slices.SortFunc(got, order)
		got = slices.Compact(got)
		for _, s := range got { // rounding to a wall's mitre may add heights; none may be missing
			if _, in := slices.BinarySearchFunc(want, s, order); !in && w.freeBesides(s.opt, s.x-1, s.y, others) && w.freeBesides(s.opt, s.x+1, s.y, others) {
				t.Fatalf("%+v beside %v: %v is no end of a free run", w, others, s)
			}
		}
		if heights := len(a.wallHeights(0)); heights < maxWallHeights {
			for _, s := range want {
				// A strip or wall that is covered by another offers no height of its own.
				if _, in := slices.BinarySearchFunc(got, s, order); in {
					found++
				} else {
					missing++
				}
			}
		}
	}
	t.Logf("%d contacts, %d missing", found, missing)
	if found < 390 || 20*missing > found {
		t.Errorf("%d contacts were found, %d are missing", found, missing)
	}
}

// Heights at walls are all there are where they are few; of many, some two dozen, evenly, with the lowest and the highest.
func TestHeightsAtWalls(t *testing.T) {
	for _, n := range []int{1, 4, 11, 12, 13, 40, 90} {
		f := &field{}
		for k := range n {
			f.walls = append(f.walls, wall{{0, int64(10 * k * k)}, {5, int64(10 * k * k)}})
		}
		p := &plane{fields: []*field{f}, options: []option{{w: 2, h: 3, parts: []part{{rect{vec{0, 0}, vec{2, 3}}, 0}}}}, usable: 1}
		var all []int64
		for k := range n {
			all = append(all, int64(10*k*k), int64(10*k*k)-3)
		}
		all = sortedUnique(all)
		got := arrangerOf(t, p, nil, &Goal{}).wallHeights(0)
		if 2*n <= maxWallHeights && !slices.Equal(got, all) {
			t.Errorf("%d walls: %v, want %v", n, got, all)
		}
		if len(got) > maxWallHeights+1 || got[0] != all[0] || got[len(got)-1] != all[len(all)-1] {
			t.Errorf("%d walls: %d heights, %v", n, len(got), got)
		}
		for i := 1; i < len(got); i++ {
			a, b := slices.Index(all, got[i-1]), slices.Index(all, got[i])
			if a < 0 || b < 0 || b-a > 1+2*n/maxWallHeights {
				t.Errorf("%d walls: from %d to %d", n, got[i-1], got[i])
			}
		}
	}
}

// Pushed modules stay as many, stand, and none can be moved alone to a contact that costs less; what all cost goes down.
func TestPushedModulesCannotDoBetterAlone(t *testing.T) {
	r := rand.New(rand.NewPCG(143, 144))
	moved := 0
	for k := range 40 {
		w := randomPlane(r, false)
		p := w.plane()
		spots := w.greedyOf(r, 5)
		if len(spots) == 0 {
			continue
		}
		g := []Goal{{Forward: true}, {Rearward: true}, {Centre: true, MirrorYMM: 7}, {Forward: true, Centre: true, MirrorYMM: 2}}[k%4]
		a := arrangerOf(t, p, spots, &g)
		a.push(40)
		if len(a.spots) != len(spots) || !p.stands(a.spots) {
			t.Fatalf("%v are pushed to %v", spots, a.spots)
		}
		for i, s := range a.spots {
			if a.cost(s, nil) > a.cost(spots[i], nil)+1e-9 {
				t.Fatalf("%+v: %v is pushed to %v", g, spots[i], s)
			}
			others := slices.Delete(slices.Clone(a.spots), i, i+1)
			for _, c := range a.contacts(s, others) {
				if a.cost(c, others) < a.cost(s, others)-1e-9 {
					t.Fatalf("%+v: %v could stand at %v", g, s, c)
				}
			}
			if s != spots[i] {
				moved++
			}
		}
	}
	if moved < 40 {
		t.Errorf("only %d were moved", moved)
	}
}

// Spots stand where each may and no two exclude one another, asked pair by pair.
func TestSpotsThatStand(t *testing.T) {
	r := rand.New(rand.NewPCG(145, 146))
	seen := map[bool]int{}
	for range 400 {
		w := randomPlane(r, false)
		p := w.plane()
		spots := w.greedyOf(r, 3)
		if r.IntN(2) == 0 && len(spots) > 0 {
			spots[r.IntN(len(spots))].x += r.Int64N(5) - 2
		}
		want := true
		for i, s := range spots {
			want = want && w.freeBesides(s.opt, s.x, s.y, spots[:i])
		}
		if seen[want]++; p.stands(spots) != want {
			t.Fatalf("%+v: %v stand: %v", w, spots, !want)
		}
	}
	if min(seen[true], seen[false]) < 50 {
		t.Errorf("drawn too one-sidedly: %v", seen)
	}
}

// Mirrored packings are alike left and right of the mirror and hold as many; where half of the modules stand on the mirror's wrong
// side no image has room for, nothing changes. By hand: a bay 40 wide about y = 10, modules of 10 by 6.
func TestMirroredPackings(t *testing.T) {
	w := rawPlane{outer: [][]vec{square(0, 0, 40, 20)}, usable: 2, options: []option{
		{w: 10, h: 6, parts: []part{{rect{vec{}, vec{10, 6}}, 0}}}, {w: 6, h: 10, parts: []part{{rect{vec{}, vec{6, 10}}, 0}}}}}
	at := func(opt int, x, y int64) spot { return spot{opt, vec{x, y}} }
	for name, c := range map[string]struct{ in, want []spot }{
		"left half":       {[]spot{at(0, 0, 0), at(0, 3, 14)}, []spot{at(0, 0, 0), at(0, 0, 14)}},
		"right half":      {[]spot{at(0, 0, 3), at(1, 20, 6), at(0, 2, 14), at(0, 31, 14)}, []spot{at(0, 0, 3), at(1, 20, 6), at(0, 2, 14), at(0, 31, 14)}},
		"one on the line": {[]spot{at(0, 0, 7), at(0, 12, 0), at(0, 14, 13)}, []spot{at(0, 0, 7), at(0, 12, 0), at(0, 12, 14)}},
		"by the right":    {[]spot{at(0, 0, 7), at(0, 5, 0), at(0, 20, 14)}, []spot{at(0, 0, 7), at(0, 20, 14), at(0, 20, 0)}},
		"alone":           {[]spot{at(1, 2, 3)}, []spot{at(1, 2, 3)}},
	} {
		if name == "right half" { // 0,3 overlaps its own image: the right half is taken, but holds too few
			c.want = c.in
		}
		if name == "by the right" { // the image of (5, 0) stands at (5, 14), clear of the one on the line; the left half is taken
			c.want = []spot{at(0, 0, 7), at(0, 5, 0), at(0, 5, 14)}
		}
		a := arrangerOf(t, w.plane(), c.in, &Goal{Mirror: true, MirrorYMM: 10})
		a.mirrorY = 10
		a.mirror()
		if !slices.Equal(a.spots, c.want) {
			t.Errorf("%s: %v, want %v", name, a.spots, c.want)
		}
	}
	// Where the left half cannot be doubled the right one is: the image of a module at the far end would stand in the line's module.
	in := []spot{at(0, 0, 7), at(0, 8, 1), at(0, 20, 14)}
	w.outer[0] = []vec{{0, 0}, {40, 0}, {40, 20}, {15, 20}, {15, 14}, {0, 14}}
	a := arrangerOf(t, w.plane(), in, &Goal{Mirror: true, MirrorYMM: 10})
	a.mirrorY = 10
	a.mirror()
	if want := []spot{at(0, 0, 7), at(0, 20, 14), at(0, 20, 0)}; !slices.Equal(a.spots, want) {
		t.Errorf("by the right half: %v, want %v", a.spots, want)
	}
}

// The image of a module has the same posture and its strips on the other side; there is none where no turn has them there.
func TestImagesOfModules(t *testing.T) {
	body := func(o option) option {
		o.parts = []part{{o.body(), 0}}
		return o
	}
	p := &plane{usable: 3, options: []option{
		body(option{posture: 1, w: 10, h: 6, strips: []rect{{vec{10, 1}, vec{12, 3}}}}),
		body(option{posture: 1, w: 10, h: 6, strips: []rect{{vec{10, 3}, vec{12, 5}}}}),
		body(option{posture: 2, w: 10, h: 6, strips: []rect{{vec{10, 1}, vec{12, 4}}}}),
	}}
	a := arrangerOf(t, p, nil, &Goal{})
	a.mirrorY = 20
	for _, c := range []struct {
		in, want spot
		ok       bool
	}{
		{spot{0, vec{7, 3}}, spot{1, vec{7, 31}}, true}, {spot{1, vec{7, 31}}, spot{0, vec{7, 3}}, true}, {spot{2, vec{7, 3}}, spot{}, false},
	} {
		if got, ok := a.image(c.in); got != c.want || ok != c.ok {
			t.Errorf("the image of %v is %v (%v), want %v", c.in, got, ok, c.want)
		}
	}
	for _, c := range []struct {
		a, b []rect
		want bool
	}{
		{nil, nil, true}, {[]rect{{}}, nil, false}, {[]rect{{}, {vec{1, 1}, vec{2, 2}}}, []rect{{vec{1, 1}, vec{2, 2}}, {}}, true},
		{[]rect{{vec{1, 1}, vec{2, 2}}}, []rect{{vec{1, 1}, vec{2, 3}}}, false},
	} {
		if sameStrips(c.a, c.b) != c.want {
			t.Errorf("%v and %v are the same: %v", c.a, c.b, !c.want)
		}
	}
}

// Terminals lie in the middle of their faces, turned about the module's middle.
func TestTerminalsOfTurnedModules(t *testing.T) {
	s := newSession(t.Context(), &Problem{Postures: []Posture{{Terminals: []Face{PlusX, PlusY, MinusX, MinusY, Top}}}}, nil, time.Now(), time.Minute)
	s.lat = lattice{10}
	for turn := 0; turn < 360; turn += 90 {
		w, h := int64(60), int64(30)
		if turn%180 == 90 {
			w, h = h, w
		}
		p := &plane{options: []option{{w: w, h: h}}}
		got := s.terminals(p, spot{0, vec{100, 40}}, turned{0, turn})
		sin, cos := math.Sincos(float64(turn) * math.Pi / 180)
		for i, v := range []Point{{3, 0}, {0, 1.5}, {-3, 0}, {0, -1.5}, {0, 0}} {
			want := Point{10 + float64(w)/20 + v.X*cos - v.Y*sin, 4 + float64(h)/20 + v.X*sin + v.Y*cos}
			if math.Hypot(got[i].X-want.X, got[i].Y-want.Y) > 1e-9 {
				t.Errorf("turned by %d, face %d has its terminal at %v, want %v", turn, i, got[i], want)
			}
		}
	}
}

// The reach of a module is the distance to the nearest terminals of the two nearest others; each alternative turn is tried, and none
// that is left would bring any module nearer.
func TestTurnsBringTerminalsNearest(t *testing.T) {
	r := rand.New(rand.NewPCG(147, 148))
	turnedRound := 0
	for range 60 {
		s := newSession(t.Context(), &Problem{Postures: []Posture{{Terminals: []Face{PlusX}}, {Terminals: []Face{PlusX, MinusY}}, {}}, Goal: Goal{FacingTerminals: true}}, nil, time.Now(), time.Minute)
		s.lat = lattice{1}
		p := &plane{}
		for k := range 3 {
			p.options = append(p.options, option{posture: k, w: 10, h: 6, same: []turned{{k, 180}}})
		}
		var spots []spot
		for range 1 + r.IntN(6) {
			spots = append(spots, spot{r.IntN(3), vec{r.Int64N(100), r.Int64N(60)}})
		}
		turns := s.facing(p, spots)
		for i := range spots {
			var near []float64
			for j := range spots {
				d := math.Inf(1)
				for _, a := range s.terminals(p, spots[i], turns[i]) {
					for _, b := range s.terminals(p, spots[j], turns[j]) {
						d = math.Min(d, math.Sqrt((a.X-b.X)*(a.X-b.X)+(a.Y-b.Y)*(a.Y-b.Y)))
					}
				}
				if j != i && !math.IsInf(d, 1) {
					near = append(near, d)
				}
			}
			slices.Sort(near)
			want := 0.0
			for k, d := range near {
				if k < 2 {
					want += d
				}
			}
			now := s.reach(p, spots, turns, i)
			if math.Abs(now-want) > 1e-9 {
				t.Fatalf("%v turned %v: module %d reaches %g, want %g", spots, turns, i, now, want)
			}
			if turns[i].turn == 180 {
				turnedRound++
			}
			for _, turn := range []int{0, 180} {
				other := slices.Clone(turns)
				other[i].turn = turn
				if d := s.reach(p, spots, other, i); d < now-1e-9 {
					t.Fatalf("%v turned %v: module %d would reach %g, not %g, turned by %d", spots, turns, i, d, now, turn)
				}
			}
		}
		s.p.Goal.FacingTerminals = false
		for i, got := range s.facing(p, spots) {
			if got != (turned{p.options[spots[i].opt].posture, 0}) {
				t.Fatalf("without the goal %v is turned by %v", spots[i], got)
			}
		}
	}
	if turnedRound < 20 {
		t.Errorf("only %d are turned round", turnedRound)
	}
}

// Modules to keep come first: the low ones, then by the pushes, then those of small x and small y. By hand, in mm times ten.
func TestModulesToKeepComeFirst(t *testing.T) {
	at := func(x, y, z int64) solid { return solid{x: x, y: y, z: z} }
	in := []solid{at(30, 50, 0), at(10, 90, 0), at(20, 70, 10), at(10, 20, 0), at(40, 10, 0)}
	for name, c := range map[string]struct {
		goal Goal
		want []int
	}{
		"none":             {Goal{}, []int{3, 1, 0, 4, 2}},
		"forward":          {Goal{Forward: true}, []int{3, 1, 0, 4, 2}},
		"rearward":         {Goal{Rearward: true}, []int{4, 0, 3, 1, 2}},
		"centre":           {Goal{Centre: true, MirrorYMM: 6}, []int{0, 1, 3, 4, 2}},
		"centre, rearward": {Goal{Centre: true, Rearward: true, MirrorYMM: 6}, []int{0, 4, 1, 3, 2}},
	} {
		s := newSession(t.Context(), &Problem{Goal: c.goal}, nil, time.Now(), time.Minute)
		s.lat = lattice{10}
		got := slices.Clone(in)
		slices.SortFunc(got, s.preferred)
		for k, i := range c.want {
			if got[k] != in[i] {
				t.Errorf("%s: %v, want the order %v", name, got, c.want)
				break
			}
		}
	}
}
