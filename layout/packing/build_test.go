package packing

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// heightsProblem has levels side by side under several ceilings, forbidden regions at some heights, and fixed modules, all on whole
// millimetres and within 12 by 8.
func heightsProblem(r *rand.Rand, levels int) Problem {
	between := func(lo, hi int) float64 { return float64(lo + r.IntN(hi-lo+1)) }
	p := Problem{Bays: []Bay{{ID: "bay"}, {ID: "other", Levels: []Level{{Region: Region{Outline: rectangleMM(50, 0, 60, 8)}, CeilingMM: 30}}}}}
	b := &p.Bays[0]
	x := 0.0
	for range levels {
		to := x + between(4, 7)
		l := Level{Region: Region{Outline: rectangleMM(x, 0, to, 8)}, FloorMM: 2, CeilingMM: 2 + between(5, 14)}
		if levels == 1 {
			l.Region.KeepOuts = [][]Point{rectangleMM(1, 1, 2, 1+between(1, 3))}
		}
		b.Levels = append(b.Levels, l)
		x = to
	}
	for k := range r.IntN(3) {
		at := between(0, int(x)-2)
		f := Forbidden{Region: Region{Outline: rectangleMM(at, 3, at+1, 5)}}
		if k > 0 || r.IntN(2) == 0 {
			f.FromMM = between(0, 9)
			f.ToMM = f.FromMM + between(1, 4)
		}
		b.Forbidden = append(b.Forbidden, f)
	}
	for k := range 2 {
		q := Posture{Name: fmt.Sprint("m", k), LengthMM: between(2, 5), WidthMM: between(1, 3), HeightMM: between(2, 4), Gaps: Gaps{TopMM: between(0, 1)}}
		if levels == 1 {
			q.Gaps.SideMM, q.Gaps.EndMM, q.Gaps.WallMM = between(0, 1), between(0, 2), between(0, 1)
			face := Face(r.IntN(5))
			q.Strips = []Strip{{Face: face, DepthMM: between(0, 2)}}
			if along := map[bool]float64{true: q.WidthMM, false: q.LengthMM}[face == PlusX || face == MinusX]; face != Top && r.IntN(2) == 0 {
				q.Strips[0].FromMM = between(0, int(along)-1)
				q.Strips[0].ToMM = between(int(q.Strips[0].FromMM)+1, int(along))
			}
			q.EndsDiffer = r.IntN(2) == 0
		}
		if r.IntN(4) == 0 {
			q.Turns = []int{[]int{0, 90, 180, 270}[r.IntN(4)]}
		}
		p.Postures = append(p.Postures, q)
	}
	for range r.IntN(3) {
		p.Fixed = append(p.Fixed, Placement{Bay: []string{"bay", "other"}[r.IntN(2)], X: between(0, 9), Y: between(0, 6), Z: between(0, 9),
			Posture: p.Postures[r.IntN(2)].Name, Turn: []int{0, 90, 180, 270}[r.IntN(4)]})
	}
	return p
}

func builderOf(t *testing.T, p *Problem) planeBuilder {
	t.Helper()
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	s := newSession(t.Context(), p, nil, time.Now(), time.Minute)
	floors := s.floors(&p.Bays[0])
	return planeBuilder{s: s, bay: &p.Bays[0], f: &floors[0]}
}

// fitsAt tells whether a module may stand, were there something below it: by the tests' verifier, and with several levels by the unit
// squares under it, each of which lies in a level tall enough.
func fitsAt(p Problem, a Placement) bool {
	if b := p.Bays[0]; len(b.Levels) > 1 {
		f := footprint(p, a)
		for x := f.x0; x < f.x1; x++ {
			for y := f.y0; y < f.y1; y++ {
				at := func(r Region) bool {
					o := r.Outline
					return o[0].X <= x && x < o[2].X && o[0].Y <= y && y < o[2].Y
				}
				if !slices.ContainsFunc(b.Levels, func(l Level) bool { return at(l.Region) && a.Z+tall(p, a) <= l.CeilingMM }) {
					return false
				}
				if slices.ContainsFunc(b.Forbidden, func(x Forbidden) bool {
					always := x.FromMM == 0 && x.ToMM == 0
					return at(x.Region) && (always || a.Z < x.ToMM && x.FromMM < a.Z+postureOf(p, a).HeightMM)
				}) {
					return false
				}
			}
		}
		return true
	}
	with := p
	with.Postures = append(slices.Clone(p.Postures), Posture{Name: "under", LengthMM: 100, WidthMM: 100, HeightMM: a.Z})
	return standingIn(with, Result{Placements: []Placement{{Bay: a.Bay, X: -20, Y: -20, Posture: "under"}}}, p.Bays[0], a) == ""
}

// The plane of a layer holds the places that the tests' verifier allows a body at that height: under the ceilings it reaches, out of
// what is forbidden at its heights, clear of fixed modules that share them. That of a cut leaves out what is in the way at some heights.
func TestPlanesOfLayersAgreeWithTheVerifier(t *testing.T) {
	r := rand.New(rand.NewPCG(111, 112))
	free, places := 0, 0
	for k := range 24 {
		p := heightsProblem(r, 1+k%2*(1+r.IntN(2)))
		b := builderOf(t, &p)
		b.s.lat = lattice{100}
		z := 2 + float64(r.IntN(8))
		height := b.s.lat.steps(z)
		layer, _ := b.layer(height, []int{0, 1}, nil)
		b.p, b.keys = nil, nil
		cut, _ := b.cut(height)
		alone := p
		alone.Fixed = nil
		alone.Bays = slices.Clone(p.Bays)
		alone.Bays[0].Forbidden = slices.DeleteFunc(slices.Clone(p.Bays[0].Forbidden), func(f Forbidden) bool { return f.FromMM != 0 || f.ToMM != 0 })
		for i, q := range p.Postures {
			turns := []int{0, 90}
			if q.EndsDiffer {
				turns = append(turns, 180, 270)
			}
			if len(q.Turns) > 0 {
				turns = q.Turns
			}
			for _, turn := range []int{0, 90, 180, 270} {
				in := slices.Contains(turns, turn)
				for name, c := range map[string]struct {
					plane *plane
					p     Problem
					z     float64
				}{"layer": {layer, p, z}, "cut": {cut, alone, max(2, z-tall(p, Placement{Posture: q.Name}))}} {
					opt := -1
					if c.plane != nil {
						opt = c.plane.optionOf(turned{i, turn})
					}
					for x := -1.0; x < 22; x++ {
						for y := -1.0; y < 9; y++ {
							a := Placement{Bay: "bay", X: x, Y: y, Z: c.z, Posture: q.Name, Turn: turn}
							want := in && fitsAt(c.p, a)
							for _, f := range c.p.Fixed {
								want = want && (f.Bay != "bay" || clash(p, a, f) == "")
							}
							if places++; want {
								free++
							}
							if got := opt >= 0 && c.plane.allowed(spot{opt, b.s.lat.point(Point{x, y})}); got != want {
								t.Fatalf("%s of %+v: %+v may stand: %v, want %v", name, p, a, got, want)
							}
						}
					}
				}
			}
		}
	}
	if free < places/50 {
		t.Errorf("only %d of %d places are free", free, places)
	}
}

// Turns, gaps and strips of options are those of the verifier, which turns corners about the middle.
func TestOptionsAreTurnedPostures(t *testing.T) {
	r := rand.New(rand.NewPCG(113, 114))
	for range 200 {
		p := heightsProblem(r, 1)
		for range r.IntN(3) { // more strips
			q := &p.Postures[0]
			q.Strips = append(q.Strips, Strip{Face: Face(r.IntN(5)), DepthMM: float64(r.IntN(3))})
		}
		for i := range p.Postures {
			for _, turn := range []int{0, 90, 180, 270} {
				o := newOption(lattice{100}, &p.Postures[i], i, turn, 3, 4)
				a := Placement{Posture: p.Postures[i].Name, Turn: turn}
				lat := lattice{100}
				of := func(b box) rect { return rect{lat.point(Point{b.x0, b.y0}), lat.point(Point{b.x1, b.y1})} }
				gx, gy := facing(p, a)
				if o.posture != i || o.turn != turn || o.body() != of(footprint(p, a)) || o.gx != lat.steps(gx) || o.gy != lat.steps(gy) {
					t.Fatalf("%+v turned by %d is %+v", p.Postures[i], turn, o)
				}
				want := []part{{o.body(), 3}}
				var strips []rect
				for _, s := range stripBoxes(p, a) {
					strips = append(strips, of(s))
					want = append(want, part{of(s), 4})
				}
				if !slices.Equal(o.strips, strips) || !slices.Equal(o.parts, want) {
					t.Fatalf("%+v turned by %d has the strips %v, want %v; parts %v", p.Postures[i], turn, o.strips, strips, o.parts)
				}
			}
		}
	}
}

// Rectangles that another covers are left out, once where two are the same, and what all cover stays the same.
func TestRectanglesCoveredByOthersAreLeftOut(t *testing.T) {
	r := rand.New(rand.NewPCG(115, 116))
	covers := func(a, b rect) bool {
		return a.lo.x <= b.lo.x && a.lo.y <= b.lo.y && a.hi.x >= b.hi.x && a.hi.y >= b.hi.y
	}
	for range 3000 {
		var in []rect
		for range 1 + r.IntN(5) {
			lo := vec{r.Int64N(3), r.Int64N(3)}
			in = append(in, rect{lo, vec{lo.x + 1 + r.Int64N(3), lo.y + 1 + r.Int64N(3)}})
		}
		out := withoutCovered(in)
		for i, a := range out {
			if !slices.Contains(in, a) {
				t.Fatalf("%v: %v", in, out)
			}
			for j, b := range out {
				if i != j && covers(b, a) {
					t.Fatalf("%v: of %v, %v is covered", in, out, a)
				}
			}
		}
		for _, a := range in {
			if !slices.ContainsFunc(out, func(b rect) bool { return covers(b, a) }) {
				t.Fatalf("%v: %v leaves out %v", in, out, a)
			}
		}
	}
}

// Layers are alike where the same ceilings are reached, the same regions forbidden and the same fixed modules in the way, of each
// posture; level cuts where the same ceilings are reached. Told in millimetres.
func TestSignaturesTellLayersApart(t *testing.T) {
	r := rand.New(rand.NewPCG(117, 118))
	same, apart := 0, 0
	for range 60 {
		p := heightsProblem(r, 1+r.IntN(3))
		p.Bays[0].Levels[0].CeilingMM = 4 + float64(r.IntN(4)) // too low for some
		b := builderOf(t, &p)
		ofLayer, ofCut := map[string]string{}, map[string]string{}
		for z := 2.0; z < 15; z++ {
			var layer, cut string
			for _, q := range p.Postures {
				rise := tall(p, Placement{Posture: q.Name})
				for _, l := range p.Bays[0].Levels {
					layer += fmt.Sprint(l.CeilingMM >= z+rise, " ")
					cut += fmt.Sprint(l.CeilingMM >= max(z, 2+rise), " ")
				}
				for _, f := range p.Bays[0].Forbidden {
					layer += fmt.Sprint(f.FromMM == 0 && f.ToMM == 0 || f.FromMM < z+q.HeightMM && z < f.ToMM, " ")
				}
				for _, f := range p.Fixed {
					if f.Bay == "bay" {
						layer += fmt.Sprint(f.Z < z+rise && z < f.Z+tall(p, f), " ")
					}
				}
			}
			h := b.s.lat.steps(z)
			for _, c := range []struct {
				known     map[string]string
				want, got string
			}{{ofLayer, layer, b.signature(h, []int{0, 1}, nil)}, {ofCut, cut, b.cutSignature(h)}} {
				if before, ok := c.known[c.want]; ok {
					if same++; before != c.got {
						t.Fatalf("%+v at %g: the signature is %q, a layer like it had %q", p, z, c.got, before)
					}
				}
				for want, got := range c.known {
					if apart++; want != c.want && got == c.got {
						t.Fatalf("%+v at %g: the signature is %q, a layer unlike it had it too", p, z, c.got)
					}
				}
				c.known[c.want] = c.got
			}
			var beside []solid
			for _, f := range p.Fixed {
				beside = append(beside, solid{posture: slices.IndexFunc(p.Postures, func(q Posture) bool { return q.Name == f.Posture }), z: b.s.lat.steps(f.Z)})
			}
			top := z + float64(1+r.IntN(3))
			n := 0
			for _, f := range p.Fixed {
				if f.Z < top && z < f.Z+tall(p, f) {
					n++
				}
			}
			if got := b.besideAt(h, b.s.lat.steps(top), beside); len(got) != n {
				t.Fatalf("%d modules beside share heights from %g to %g, want %d", len(got), z, top, n)
			}
		}
	}
	if min(same, apart) < 500 {
		t.Errorf("%d alike, %d apart", same, apart)
	}
}

// What lies in a forbidden region, or in one of several levels, is told at quarters of a step by counting the rings: keep-outs leave
// it free, and rings that touch or overlap are one area.
func TestRingsOfUnitedAndForbiddenRegions(t *testing.T) {
	r := rand.New(rand.NewPCG(119, 120))
	between := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	mm := func(s []vec) (out []Point) {
		for _, v := range s {
			out = append(out, Point{float64(v.x), float64(v.y)})
		}
		return out
	}
	corner := Region{Outline: []Point{{0, 0}, {9, 0}, {0, 9}}, KeepOuts: [][]Point{{{20, 20}, {21, 20}, {20, 21}}}}
	if rings := forbiddenRings(lattice{1}, corner); len(rings) != 1 || abs64(twiceArea(rings[0])) != 81 {
		t.Errorf("a forbidden triangle is %v", rings)
	}
	for range 20 {
		var parts [][]vec
		for range 1 + r.IntN(3) {
			x, y := between(0, 8), between(0, 6)
			parts = append(parts, square(x, y, x+between(2, 6), y+between(2, 6)))
		}
		joined := united(parts)
		x, y := between(1, 4), between(1, 4)
		outline, keep := square(0, 0, 12, 9), [][]vec{square(x, y, x+between(2, 9), y+between(1, 3))}
		if r.IntN(2) == 0 {
			keep = append(keep, square(8, 5, 10, 12))
		}
		left := forbiddenRings(lattice{1}, Region{Outline: mm(outline), KeepOuts: [][]Point{mm(keep[0])}})
		if len(keep) > 1 {
			left = forbiddenRings(lattice{1}, Region{Outline: mm(outline), KeepOuts: [][]Point{mm(keep[0]), mm(keep[1])}})
		}
		whole := forbiddenRings(lattice{1}, Region{Outline: mm(outline)})
		for x := 0.25; x < 15; x += 0.5 {
			for y := 0.25; y < 13; y += 0.5 {
				in, free := false, false
				for _, s := range parts {
					in = in || oddly([][]vec{s}, x, y)
				}
				for _, s := range keep {
					free = free || oddly([][]vec{s}, x, y)
				}
				at := oddly([][]vec{outline}, x, y)
				if oddly(joined, x, y) != in {
					t.Fatalf("%v united are %v: they hold (%g, %g): %v", parts, joined, x, y, !in)
				}
				if oddly(left, x, y) != (at && !free) || oddly(whole, x, y) != at {
					t.Fatalf("without %v there is %v left, with (%g, %g): %v", keep, left, x, y, at && free)
				}
			}
		}
	}
}
