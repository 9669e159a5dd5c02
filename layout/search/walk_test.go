package search

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Starts stand by what they promise at a slope, those that promise alike in their order.
func TestStartsStandByTheirPromise(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	for range 50 {
		w := &walk{starts: make([]start, 1+r.IntN(30))}
		order := make([]int32, len(w.starts))
		for i, at := range r.Perm(len(order)) {
			order[i] = int32(at)
			for k := range slopePairs {
				w.starts[i].promise[k] = float64(r.IntN(4)) / 2
			}
		}
		for k := range slopePairs {
			w.sort(order, k)
			for i := 1; i < len(order); i++ {
				a, b := order[i-1], order[i]
				p, q := w.starts[a].promise[k], w.starts[b].promise[k]
				if p > q || p == q && a >= b {
					t.Fatalf("slope %d: start %d with %g stands before %d with %g", k, a, p, b, q)
				}
			}
		}
	}
}

// Of two nodes the wider one is halved, but never one that has no halves.
func TestTheWiderNodeIsHalved(t *testing.T) {
	leaf := func(wide float64) *node { return &node{wide: wide} }
	halves := func(low int32, wide float64) *node { return &node{low: low, up: low + 1, wide: wide} }
	for _, c := range []struct {
		n, o *node
		want bool
	}{
		{halves(1, 2), halves(1, 3), false}, {halves(1, 3), halves(1, 2), true}, {halves(5, 3), halves(1, 2), true}, {halves(1, 3), halves(5, 2), true},
		{halves(1, 2), leaf(3), true}, {halves(2, 2), leaf(3), true}, {leaf(3), halves(1, 2), false}, {leaf(2), halves(1, 3), false}, {leaf(3), halves(2, 0.5), false},
	} {
		if got := c.n.splits(c.o); got != c.want {
			t.Errorf("%+v beside %+v is halved: %v", c.n, c.o, got)
		}
	}
}

// The half that comes first is the one whose points, on top of what stands beside them, can be lowest near the aim: judged here point by
// point where every half is one point.
func TestTheLowerHalfComesFirst(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 34))
	b := loaded(0.6)
	b.slopes = slopesOf(moments{b.front * b.per[0], 0, b.height})
	w := &walk{bounds: *b}
	at := func(x, y float64) moments {
		return moments{(x + 800*r.Float64()) * 100, y, (300 + 400*r.Float64()) * 100}
	}
	for range 300 {
		low, up, beside, sum := at(500, 0), at(500, 0), at(900, 0), moments{1200 * b.aim / 1400, 0, 600 * 1200}
		tr := tree{nodes: []node{{low: 2, up: 1}, {span: b.slopes.spanOf(up)}, {span: b.slopes.spanOf(low)}}}
		s, o := b.slopes.spanOf(sum), node{span: b.slopes.spanOf(beside)}
		for k, slope := range b.slopes[slopePairs:] { // the gentlest first
			height := func(m moments) float64 {
				return sum[2] + beside[2] + m[2] + slope*math.Abs(sum[0]+beside[0]+m[0]-b.aim)
			}
			want := []int32{2, 1}
			if height(up) < height(low) {
				want = []int32{1, 2}
			}
			first, then := w.better(&tr, &tr.nodes[0], &o, &s, slopePairs-1-k)
			if got := []int32{first, then}; !slices.Equal(got, want) {
				t.Fatalf("slope %g: %v, not %v: low %v up %v beside %v", slope, got, want, low, up, beside)
			}
		}
	}
}
