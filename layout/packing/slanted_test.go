package packing

import (
	"math/rand/v2"
	"testing"
)

// A region is halved without losing a place or having one twice: every place in it, also between steps of the lattice, lies in one
// part; places just outside lie in none. A side that is longer than a step is halved to a step.
func TestPartsOfARegionAreAllOfIt(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 28))
	has := func(q region, x, y int64) bool { // in quarters of a step
		in := func(v, lo, hi int64, half bool) bool { return 4*lo <= v && (v < 4*hi || v == 4*hi && !half) }
		return in(x, q.lo.x, q.hi.x, q.half[0]) && in(y, q.lo.y, q.hi.y, q.half[1])
	}
	for range 400 {
		lo := vec{r.Int64N(40) - 20, r.Int64N(40) - 20}
		q := region{rect{lo, vec{lo.x + r.Int64N(9), lo.y + r.Int64N(9)}}, [2]bool{r.IntN(2) == 0, r.IntN(2) == 0}}
		parts := q.parts()
		for _, p := range parts {
			if q.w() > 1 && 2*p.w() > q.w()+1 || q.h() > 1 && 2*p.h() > q.h()+1 {
				t.Fatalf("%v has the part %v, more than half of it", q, p)
			}
		}
		for x := 4*q.lo.x - 3; x <= 4*q.hi.x+3; x++ {
			for y := 4*q.lo.y - 3; y <= 4*q.hi.y+3; y++ {
				n := 0
				for _, p := range parts {
					if has(p, x, y) {
						n++
					}
				}
				if (n == 1) != has(q, x, y) || n > 1 {
					t.Fatalf("%v in parts %v: %d of them have (%g, %g)", q, parts, n, float64(x)/4, float64(y)/4)
				}
			}
		}
	}
}
