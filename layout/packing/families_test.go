package packing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Covering and loading are one table of nought and one, read by rows and by columns, of all families together: prices times
// loads are covers times weights. By hand, each candidate covers the points that lie under its core.
func TestFamiliesCoverWhatTheyLoad(t *testing.T) {
	spots := []spot{{0, vec{0, 0}}, {0, vec{10, 0}}, {1, vec{20, 5}}, {1, vec{8, 12}}, {0, vec{30, 12}}}
	cores := [][]rect{{{vec{}, vec{15, 10}}, {vec{}, vec{9, 20}}}, {{vec{2, 1}, vec{12, 14}}, {vec{}, vec{11, 11}}}}
	f := &families{}
	for _, c := range cores {
		f.grids = append(f.grids, newGrid(spots, c))
	}
	r := rand.New(rand.NewPCG(1, 2))
	random := func(n int) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = r.Float64()
		}
		return out
	}
	dot := func(a, b []float64) (sum float64) {
		for i := range a {
			sum += a[i] * b[i]
		}
		return sum
	}
	for range 20 {
		price, weight := random(f.rows()), random(f.columns())
		cover, load := make([]float64, f.columns()), make([]float64, f.rows())
		f.cover(price, cover)
		f.load(weight, load)
		if a, b := dot(price, load), dot(cover, weight); math.Abs(a-b) > 1e-9 {
			t.Fatalf("%g by rows, %g by columns", a, b)
		}
		var want []float64
		for i := range spots {
			sum, first := 0.0, 0
			for _, g := range f.grids {
				for y := range g.ny {
					for x := range g.nx {
						if p := (vec{g.xs[x], g.ys[y]}); inRect(g.boxes[i], p) {
							sum += price[first+y*g.nx+x]
						}
					}
				}
				first += g.rows()
			}
			want = append(want, sum)
		}
		for i := range want {
			if math.Abs(cover[i]-want[i]) > 1e-9 {
				t.Fatalf("candidate %d covers %g, not %g", i, cover[i], want[i])
			}
		}
	}
}

func inRect(r rect, p vec) bool {
	return r.lo.x <= p.x && p.x < r.hi.x && r.lo.y <= p.y && p.y < r.hi.y
}

// Whether open rectangles cover an open one is asked at every point of a lattice four times as fine as their corners, on the
// lines through the corners and between them: open rectangles that only touch leave the line between them uncovered.
func TestCoveredByIsTrueOfEveryPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	times := func(k int64, a rect) rect { return rect{vec{k * a.lo.x, k * a.lo.y}, vec{k * a.hi.x, k * a.hi.y}} }
	between := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	seen := map[bool]int{}
	for range 6000 {
		w, h := between(1, 7), between(1, 7)
		d := rect{vec{between(-3, 3), between(-3, 3)}, vec{}}
		d.hi = vec{d.lo.x + w, d.lo.y + h}
		var zones []rect
		for range between(1, 4) {
			lo := vec{between(d.lo.x-2, d.lo.x+w/2), between(d.lo.y-2, d.lo.y+h/2)}
			zones = append(zones, rect{lo, vec{between(lo.x+1, d.hi.x+2), between(lo.y+1, d.hi.y+2)}})
		}
		want := true
		for x := 4*d.lo.x + 1; x < 4*d.hi.x; x++ {
			for y := 4*d.lo.y + 1; y < 4*d.hi.y; y++ {
				want = want && slices.ContainsFunc(zones, func(z rect) bool { return times(4, z).holds(vec{x, y}) })
			}
		}
		if seen[want]++; coveredBy(d, zones) != want {
			t.Fatalf("%v covered by %v: %v", d, zones, !want)
		}
	}
	if min(seen[true], seen[false]) < 300 {
		t.Errorf("drawn too one-sidedly: %v", seen)
	}
}

// Cores bound soundly only where bodies whose cores overlap exclude one another. That is asked of pairs at every quarter of a step
// apart, by the conflict of two places, with strips and unequal gaps.
func TestCoresThatOverlapExcludeOneAnother(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 30))
	between := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	seen := map[bool]int{}
	for range 1500 {
		options := make([]option, 2)
		cores := make([]rect, 2)
		for i := range options {
			o := &options[i]
			o.w, o.h, o.gx, o.gy = 4*between(2, 4), 4*between(2, 4), 4*between(0, 1), 4*between(0, 1)
			if r.IntN(2) == 0 { // free space to the right or above, of half the face or all of it
				o.strips = []rect{{vec{o.w, 0}, vec{o.w + 4, 4 * between(1, o.h/4)}}}
				if r.IntN(2) == 0 {
					o.strips = []rect{{vec{0, o.h}, vec{4 * between(1, o.w/4), o.h + 4}}}
				}
			}
			cores[i] = rect{vec{-between(0, 2), -between(0, 2)}, vec{o.w + between(-2, 3), o.h + between(-2, 3)}}
		}
		p := newPlane(nil, options, 2, nil)
		want := true
		for a := range 2 {
			for b := range 2 {
				for x := int64(-24); x <= 24; x++ {
					for y := int64(-24); y <= 24; y++ {
						d := vec{x, y}
						v, u := cores[a], cores[b].at(d)
						overlap := v.lo.x < u.hi.x && u.lo.x < v.hi.x && v.lo.y < u.hi.y && u.lo.y < v.hi.y
						want = want && (!overlap || p.conflict(spot{a, vec{}}, spot{b, d}))
					}
				}
			}
		}
		if seen[want]++; p.coresConflict(cores) != want {
			t.Fatalf("%+v with cores %v: they tell a conflict: %v", options, cores, !want)
		}
	}
	if min(seen[true], seen[false]) < 50 {
		t.Errorf("drawn too one-sidedly: %v", seen)
	}
}
