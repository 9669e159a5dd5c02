package packing

import (
	"math/rand/v2"
	"testing"
	"time"
)

// TestPushedModulesStandInDomains fills slanted bays at random places, pushes every
// module left and down until none moves, and looks for each coordinate in the
// domains that are to suffice. The pushing uses rows of free intervals only.
func TestPushedModulesStandInDomains(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 41))
	for k := range 24 {
		in := randomInstance(rng, []string{"taper", "cut corners", "strips", "gaps"}[k%4], k)
		if k%8 >= 4 {
			in.Wall, in.Side, in.End = 1, 1, 1
		}
		if k%3 == 0 {
			in.Outline = [][2]float64{{0, 4}, {9, 0}, {30, 3}, {26, 21}, {7, 25}}
		}
		p := planarProblem(t, in)
		q := newRaster(t.Context(), p, p.steps()[0])
		spots := pushed(q.p, scattered(q.p, rng))
		if len(spots) == 0 {
			t.Errorf("%s: nothing was placed", in.Name)
		}
		for _, s := range spots {
			if !q.xs[s.opt].near(s.x) || !q.ys[s.opt].near(s.y) {
				t.Errorf("%s: a pushed module stands at %v, outside its domain", in.Name, s)
			}
		}
	}
}

func planarProblem(t *testing.T, in instance) *plane {
	t.Helper()
	p := in.problem()
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	s := newSession(t.Context(), &p, nil, time.Now(), time.Minute)
	floors := s.floors(&p.Bays[0])
	build := planeBuilder{s: s, bay: &p.Bays[0], f: &floors[0]}
	plane, _ := build.cut(floors[0].z)
	return plane
}

// near allows for a lattice step of rounding, since pushing keeps to the lattice,
// for each module in a chain.
func (d domain) near(v int64) bool {
	for _, iv := range d {
		if iv.lo-20 <= v && v <= iv.hi+20 {
			return true
		}
	}
	return false
}

// scattered places modules at random until a few hundred tries fail.
func scattered(p *plane, rng *rand.Rand) []spot {
	b := p.fields[0].bounds
	var out []spot
	for range 400 {
		s := spot{rng.IntN(p.usable), vec{b.lo.x + rng.Int64N(b.w()), b.lo.y + rng.Int64N(b.h())}}
		ok := p.allowed(s)
		for _, t := range out {
			ok = ok && !p.conflict(s, t)
		}
		if ok {
			out = append(out, s)
		}
	}
	return out
}

// pushed moves modules left, then down, until none moves.
func pushed(p *plane, spots []spot) []spot {
	t := p.transposed()
	for moved := true; moved; {
		moved = false
		for i := range spots {
			moved = pushLeft(p, spots, i) || moved
			for k := range spots {
				spots[k].vec = spots[k].transposed()
			}
			moved = pushLeft(t, spots, i) || moved
			for k := range spots {
				spots[k].vec = spots[k].transposed()
			}
		}
	}
	return spots
}

// pushLeft moves one module to the left end of the free interval that it stands in.
func pushLeft(p *plane, spots []spot, i int) bool {
	s := spots[i]
	others := append(append([]spot{}, spots[:i]...), spots[i+1:]...)
	for _, iv := range p.freeBeside(s.opt, s.y, p.row(s.opt, s.y), others) {
		if iv.lo < s.x && s.x <= iv.hi {
			spots[i].x = iv.lo
			return true
		}
	}
	return false
}

// A raster is of that of the four mirror images of a plane whose walls leave modules the fewest places to be pushed to, and what is
// placed in the image is given back as it stands in the plane.
func TestRasterIsOfTheBestMirrorImage(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 42))
	chosen := map[[2]bool]int{}
	for k := range 32 {
		in := randomInstance(rng, []string{"taper", "cut corners", "L", "T"}[k%4], k)
		for i := range in.Outline { // slanted otherwise at every corner, and mirrored
			in.Outline[i][0] += float64((i * k) % 3)
			in.Outline[i][1] += float64((i + k) % 4)
			if k/4%2 == 1 {
				in.Outline[i][0] = 70 - in.Outline[i][0]
			}
			if k/8%2 == 1 {
				in.Outline[i][1] = 50 - in.Outline[i][1]
			}
		}
		prob := in.problem()
		if prob.Validate() != nil {
			continue
		}
		p := planarProblem(t, in)
		step := p.steps()[0]
		q := newRaster(t.Context(), p, step)
		fine := vec{max(1, step/8), max(1, step/8)}
		for _, along := range [][2]bool{{false, false}, {true, false}, {false, true}, {true, true}} {
			image := &raster{p: p.mirroredAlong(along[0], along[1]), step: vec{step, step}}
			image.anchor = image.p.fields[image.p.options[0].parts[0].field].bounds.lo
			image.xs, image.ys = image.p.domains(t.Context())
			if n, best := image.size(fine), q.size(fine); n < best {
				t.Errorf("%s: mirrored along %v there are %g places, %g in the raster", in.Name, along, n, best)
			}
		}
		chosen[[2]bool{q.alongX, q.alongY}]++
		if back := q.unmirrored(pushed(q.p, scattered(q.p, rng))); len(back) == 0 || !p.stands(back) {
			t.Errorf("%s: %v does not stand in the plane", in.Name, back)
		}
	}
	if len(chosen) < 4 {
		t.Errorf("drawn too one-sidedly: %v", chosen)
	}
}
