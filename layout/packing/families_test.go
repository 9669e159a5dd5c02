package packing

import (
	"math"
	"math/rand/v2"
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
