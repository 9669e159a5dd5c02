package search

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"stowbay/layout/electric"
	"stowbay/vehicles"
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

// everyWay calls f for every way to put so many modules into the boxes of a group, with the vehicle that it makes.
func (g *group) everyWay(count int, f func(picks []uint16, v row)) {
	picks := make([]uint16, len(g.subset.boxes))
	var rec func(i, left int, v row)
	rec = func(i, left int, v row) {
		if i == len(picks) {
			if left == 0 {
				f(picks, v)
			}
			return
		}
		b := g.field.bays[g.subset.boxes[i]]
		b.each(func(n, c int, o *option) {
			if c <= left {
				picks[i] = uint16(n)
				rec(i+1, left-c, v.plus(o.first, 1))
			}
		})
	}
	rec(0, count, g.base)
}

// sixYard has six boxes with few ways each, so that two of them are gone through option by option.
func sixYard(t *testing.T) *yard {
	sites := []site{{-500, -400, 480, 1, 1, 1, false}, {500, -600, 220, 1, 2, 1, false}, {500, 100, 220, 1, 1, 1, false}, {1500, -450, 260, 1, 1, 2, false}, {2950, -400, 350, 2, 1, 1, true}, {900, -250, 700, 1, 1, 1, false}}
	return newYard(t, sites, block("b", 300, 150, 100, 14, 50, 400, vehicles.Flat))
}

// Group by group: all ways are counted, each of them once as looked at, beaten or breaking a limit; what is left is what no other way beats that
// keeps the limits, and each member's picks make its mass and moments.
func TestAGroupAgainstEveryWay(t *testing.T) {
	members, broken := 0, 0
	for _, tight := range []bool{false, true} {
		y := sixYard(t)
		if tight {
			y.lib.Donor("yard-cart").Ratings.RearAxleKg = 765
			y.lib.Donor("yard-cart").Ratings.FrontAxleKg = 735
		}
		k := tasksOf(t, y)[0]
		for n := len(k.sets) - 1; n >= 0; n-- {
			for _, c := range k.choices {
				f := k.fieldOf[c.Series]
				course := f.course(n)
				whole, ok := course.whole(c.Count)
				if !ok {
					continue
				}
				g := f.groupOf(c, course.subset, k.moduleKg*float64(c.Count))
				u, b := unit{task: k}, breaks{}
				got, stopped := u.explore(context.Background(), g, course, whole, b)
				want := map[spot]bool{}
				all, off := 0.0, 0.0
				g.everyWay(c.Count, func(_ []uint16, v row) {
					all++
					v[0] = g.values[Mass]
					if _, bad := k.ground.rules.broken(&v, g.laden); bad {
						off++
						return
					}
					want[k.spotOfVehicle(&v)] = true
				})
				for s := range want {
					for o := range want {
						if o != s && o.reaches(s) {
							delete(want, s)
						}
					}
				}
				if stopped || got.All != all || got.Looked+got.Limited+got.Beaten != all || got.Limited > off || len(g.members) != len(want) {
					t.Fatalf("boxes %v, %d modules: %+v, %d members; one by one %g, %g break a limit, %d are left", k.sets[n], c.Count, got, len(g.members), all, off, len(want))
				}
				if len(g.members) == 0 && got.Limited != all {
					t.Fatalf("boxes %v, %d modules: %+v, though all break a limit", k.sets[n], c.Count, got)
				}
				ways := 0.0
				for _, x := range b {
					ways += x.ways
				}
				if ways != got.Limited {
					t.Fatalf("%g ways broke a limit, %+v", ways, got)
				}
				for _, m := range g.members {
					v := g.base
					for i, b := range g.subset.boxes {
						v = v.plus(f.bays[b].all[m.picks[i]].first, 1)
					}
					v[0] = g.values[Mass]
					for d := range v {
						if math.Abs(v[d]-m.first[d]) > 1e-6 {
							t.Fatalf("picks %v make %v, not %v", m.picks, v, m.first)
						}
					}
					if s := k.spotOfVehicle(&v); s != m.spot || !want[s] {
						t.Fatalf("picks %v are at %v, not %v", m.picks, s, m.spot)
					}
					members++
				}
				broken += int(off)
			}
		}
	}
	if members < 100 || broken < 100 {
		t.Errorf("decides little: %d members, %d ways broke a limit", members, broken)
	}
}

// walkOf is a walk that has not begun, with a table wide enough.
func walkOf(k *task, c electric.Choice, n int) (*walk, span) {
	f := k.fieldOf[c.Series]
	course := f.course(n)
	g := f.groupOf(c, course.subset, k.moduleKg*float64(c.Count))
	g.laden = k.ground.rules.laden(g.values[Mass])
	w := &walk{ctx: context.Background(), g: g, c: course, front: &front{}, bounds: k.boundsOf(g), breaks: breaks{}, chosen: make([]uint16, len(course.outer))}
	base := k.slopes.spanOf(g.base.moments())
	whole, _ := course.whole(c.Count)
	all := base.plus(&whole.span)
	w.front.table.reset(w.bounds.least(&all.lo, &all.hi), w.bounds.most(&all.lo, &all.hi))
	return w, base
}

// Ahead of the walk a dive ends at some ways of one start and keeps what is not beaten of them; it counts nothing and says of no limit. Of two trees of
// two points each it looks at all four.
func TestADiveCountsNothing(t *testing.T) {
	y := sixYard(t)
	k := tasksOf(t, y)[0]
	w, base := walkOf(k, k.choices[0], len(k.sets)-1)
	r := rand.New(rand.NewPCG(63, 64))
	for range 50 {
		w.front.members, w.front.spots = nil, nil
		w.front.table.reset(spot{}, spot{2000, 2000, 0})
		var trees [2]tree
		var ps [2][]point
		for i := range trees {
			for n := range 2 {
				ps[i] = append(ps[i], point{at: moments{4e4 * r.Float64(), 4e4 * (r.Float64() - 0.5), 3e4 * r.Float64()}, a: uint16(n)})
			}
			trees[i] = treeOf(ps[i], k.per, &k.slopes)
		}
		w.dive(&trees[0], &trees[1], &base, 0)
		var all []spot
		for _, p := range ps[0] {
			for _, q := range ps[1] {
				v := row{w.g.values[Mass]}
				for d := range p.at {
					v[d+1] = base.lo[d] + p.at[d] + q.at[d]
				}
				if _, bad := k.ground.rules.broken(&v, w.g.laden); !bad {
					all = append(all, k.spotOfVehicle(&v))
				}
			}
		}
		want := 0
		for i, s := range all {
			if !slices.ContainsFunc(all, func(o spot) bool { return o != s && o.reaches(s) }) && !slices.Contains(all[:i], s) {
				want++
			}
		}
		if len(w.front.members) != want || w.tally != (tally{}) || len(w.breaks) != 0 {
			t.Fatalf("%d members, not %d; tally %+v, %d limits broken", len(w.front.members), want, w.tally, len(w.breaks))
		}
	}
}

// A branch ends where the front reaches all of it, or all of it breaks a limit, and is counted so; what is known to keep every limit is not asked
// again. A search called off is noticed within some thousand branches.
func TestWhereABranchEnds(t *testing.T) {
	y := sixYard(t)
	k := tasksOf(t, y)[0]
	w, base := walkOf(k, k.choices[0], len(k.sets)-1)
	at := func(x float64) span {
		return k.slopes.spanOf(moments{w.g.values[Mass] * x, base.lo[1], base.lo[2]})
	}
	good, bad := at(1350), at(2400) // the latter beyond the rear axle's rating
	var sure settledCases
	if w.cut(&good, 3, &sure) || w.tally != (tally{}) || sure != w.bounds.every {
		t.Errorf("what keeps the limits: %+v, known %b of %b", w.tally, sure, w.bounds.every)
	}
	if w.cut(&bad, 3, &sure) || sure != w.bounds.every {
		t.Error("what is known to keep the limits was asked again")
	}
	sure = 0
	if !w.cut(&bad, 3, &sure) || w.tally != (tally{Limited: 3}) || w.breaks[RearAxle].ways != 3 || sure != 0 {
		t.Errorf("what breaks a limit: %+v, %+v", w.tally, w.breaks)
	}
	w.front.table.reset(spot{}, spot{2000, 2000, 0})
	w.front.mark(w.bounds.least(&good.lo, &good.hi))
	if !w.cut(&good, 5, &sure) || w.tally != (tally{Limited: 3, Beaten: 5}) {
		t.Errorf("what is beaten: %+v", w.tally)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	w.ctx, w.front = ctx, &front{}
	w.front.table.reset(spot{}, spot{})
	n := 0
	for ; n < 10000 && !w.cut(&good, 1, &sure); n++ {
	}
	if n == 10000 || !w.stopped {
		t.Error("not stopped")
	}
	if want := 1<<(len(k.ground.rules.cases)+2) - 1; int(w.bounds.every) != want {
		t.Errorf("every limit is %b, not %b", w.bounds.every, want)
	}
}

// Modules left over are split over the two pools in every way that both can hold, each with what its trees span.
func TestEverySplitIsAStart(t *testing.T) {
	y := sixYard(t)
	k := tasksOf(t, y)[0]
	for left := range 8 {
		w, base := walkOf(k, k.choices[0], len(k.sets)-1)
		w.chosen[0], w.chosen[1] = 1, 2
		w.pools(left, &base, 0)
		var want, got [][2]int
		for n := range w.c.a.at {
			for m := range w.c.b.at {
				if n+m == left && len(w.c.a.at[n].points) > 0 && len(w.c.b.at[m].points) > 0 {
					want = append(want, [2]int{n, m})
				}
			}
		}
		for i := range w.starts {
			s := &w.starts[i]
			got = append(got, [2]int{s.n, s.m})
			x, y := &w.c.a.at[s.n].nodes[0], &w.c.b.at[s.m].nodes[0]
			var all span
			all.of(&base, &x.span, &y.span)
			if s.sum != base || s.promise != w.bounds.promise(&all) || s.chosen[0] != 1 || s.chosen[1] != 2 {
				t.Errorf("start %+v", s)
			}
			w.chosen[0] = 9
			if w.take(int32(i)) != s || w.chosen[0] != 1 {
				t.Errorf("start %d is taken up with %v", i, w.chosen)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%d left: %v, not %v", left, got, want)
		}
	}
}
