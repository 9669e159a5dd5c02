package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// somePoints are random points, many of them alike in a moment or two.
func somePoints(r *rand.Rand, n int) []point {
	ps := make([]point, n)
	for i := range ps {
		ps[i] = point{at: moments{float64(r.IntN(40)), float64(r.IntN(6)), float64(r.IntN(20)) / 2}, a: uint16(i)}
	}
	return ps
}

// spanned is what points span: the least and the greatest of each moment and the least along each slant, one by one.
func spanned(slopes *tilts, ps []moments) span {
	var s span
	for d := range 3 {
		s.lo[d], s.hi[d] = math.Inf(1), math.Inf(-1)
	}
	for k := range s.tilt {
		s.tilt[k] = math.Inf(1)
	}
	for _, p := range ps {
		for d := range 3 {
			s.lo[d], s.hi[d] = math.Min(s.lo[d], p[d]), math.Max(s.hi[d], p[d])
		}
		for k, slope := range slopes {
			s.tilt[k] = math.Min(s.tilt[k], p[2]+slope*p[0])
		}
	}
	return s
}

func (s *span) near(o *span) bool {
	a, b := append(append(s.lo[:], s.hi[:]...), s.tilt[:]...), append(append(o.lo[:], o.hi[:]...), o.tilt[:]...)
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) <= 1e-9 || x == y })
}

// Every node of a tree says what its points span and how wide that is in steps; its halves share its points out, as many to either but for one,
// along the moment in which they are widest; where no more than two are left, or all are alike, it ends.
func TestTreeHalvesItsPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	per, slopes := moments{0.5, 4, 2}, slopesOf(moments{1, 0, 5})
	for n := range 70 {
		ps := somePoints(r, n)
		if n%7 == 0 {
			for i := range ps {
				ps[i].at = moments{1, 2, 3}
			}
		}
		if n%7 == 3 { // less than a step apart
			for i := range ps {
				ps[i].at = moments{float64(i % 2), 2, 3}
			}
		}
		tr := treeOf(slices.Clone(ps), per, &slopes)
		if n == 0 {
			if len(tr.nodes) != 0 {
				t.Error("a node without points")
			}
			continue
		}
		seen := map[uint16]bool{}
		met := 0
		var check func(i, from, to int32)
		check = func(i, from, to int32) {
			x := &tr.nodes[i]
			met++
			if x.from != from || x.to != to || x.ways() != float64(to-from) {
				t.Fatalf("node %d holds %d to %d, not %d to %d", i, x.from, x.to, from, to)
			}
			var at []moments
			for _, p := range tr.points[from:to] {
				at = append(at, p.at)
			}
			want := spanned(&slopes, at)
			widest, along := 0.0, 0
			for d := range 3 {
				if w := (want.hi[d] - want.lo[d]) * per[d]; w > widest {
					widest, along = w, d
				}
			}
			if !x.near(&want) || math.Abs(x.wide-widest) > 1e-9 {
				t.Fatalf("%v span %+v, %g steps wide, not %+v", at, x.span, x.wide, want)
			}
			if to-from <= 2 || widest == 0 {
				if x.low != 0 || x.up != 0 {
					t.Fatalf("%d points %g steps wide are halved", to-from, widest)
				}
				for _, p := range tr.points[from:to] {
					seen[p.a] = true
				}
				return
			}
			mid := from + (to-from)/2
			for _, p := range tr.points[from:mid] {
				for _, q := range tr.points[mid:to] {
					if p.at[along] > q.at[along] {
						t.Fatalf("%v are halved with %v below %v", at, p.at, q.at)
					}
				}
			}
			check(x.low, from, mid)
			check(x.up, mid, to)
		}
		check(0, 0, int32(n))
		if len(seen) != n || met != len(tr.nodes) {
			t.Fatalf("%d of %d points, %d of %d nodes", len(seen), n, met, len(tr.nodes))
		}
	}
}

// Spans add up as the points in them do, two and three at a time, point by point.
func TestSpansAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 54))
	slopes := slopesOf(moments{1, 0, 5})
	for range 50 {
		var of [3][]moments
		var spans [3]span
		for i := range of {
			for _, p := range somePoints(r, 1+r.IntN(4)) {
				of[i] = append(of[i], p.at)
			}
			spans[i] = slopes.spanOf(of[i][0])
			for _, m := range of[i] {
				one := slopes.spanOf(m)
				spans[i].widen(&one)
			}
			if want := spanned(&slopes, of[i]); !spans[i].near(&want) {
				t.Fatalf("%v span %+v, not %+v", of[i], spans[i], want)
			}
		}
		sums := func(as, bs []moments) (out []moments) {
			for _, a := range as {
				for _, b := range bs {
					out = append(out, moments{a[0] + b[0], a[1] + b[1], a[2] + b[2]})
				}
			}
			return out
		}
		two := spans[0].plus(&spans[1])
		var three span
		three.of(&spans[0], &spans[1], &spans[2])
		both := sums(of[0], of[1])
		if want := spanned(&slopes, both); !two.near(&want) {
			t.Fatalf("two add up to %+v, not %+v", two, want)
		}
		if want := spanned(&slopes, sums(both, of[2])); !three.near(&want) {
			t.Fatalf("three add up to %+v, not %+v", three, want)
		}
	}
}

// someBay is a bay of random options, from lo modules on.
func someBay(r *rand.Rand, box, lo, hi int) *bay {
	var all []option
	for n := lo; n <= hi; n++ {
		for range r.IntN(4) {
			all = append(all, option{first: row{float64(n), float64(r.IntN(50)), float64(r.IntN(9)), float64(r.IntN(30))}, kept: make([]int, n), stance: r.IntN(2), push: r.IntN(4)})
		}
	}
	return bayOf(box, lo, hi, all)
}

// combined are all ways to use bays together, by the number of modules.
func combined(bays ...*bay) map[int][]moments {
	out := map[int][]moments{0: {{}}}
	for _, b := range bays {
		next := map[int][]moments{}
		for n, ms := range out {
			for _, m := range ms {
				for i := range b.all {
					if o := &b.all[i]; len(o.kept) >= b.lo && len(o.kept) <= b.hi {
						next[n+len(o.kept)] = append(next[n+len(o.kept)], moments{m[0] + o.first[1], m[1] + o.first[2], m[2] + o.first[3]})
					}
				}
			}
		}
		out = next
	}
	return out
}

// A pool has every way to use its boxes once, under its number of modules, with the numbers of the options that make it.
func TestPoolHasEveryWayOnce(t *testing.T) {
	r := rand.New(rand.NewPCG(55, 56))
	per, slopes := moments{0.5, 4, 2}, slopesOf(moments{1, 0, 5})
	for range 60 {
		var bays []*bay
		for i := range r.IntN(3) {
			bays = append(bays, someBay(r, i, r.IntN(2), 1+r.IntN(4)))
		}
		p := poolOf(per, &slopes, bays...)
		want := combined(bays...)
		for n, tr := range p.at {
			var got []string
			for _, q := range tr.points {
				got = append(got, fmt.Sprint(q.at))
				var sum moments
				count := 0
				for i, b := range bays {
					o := &b.all[[2]uint16{q.a, q.b}[i]]
					count += len(o.kept)
					for d := range sum {
						sum[d] += o.first[d+1]
					}
				}
				if count != n || sum != q.at {
					t.Fatalf("%+v among %d modules: its options have %d and %v", q, n, count, sum)
				}
			}
			var all []string
			for _, m := range want[n] {
				all = append(all, fmt.Sprint(m))
			}
			slices.Sort(got)
			slices.Sort(all)
			if !slices.Equal(got, all) {
				t.Fatalf("%d modules: %v, one by one %v", n, got, all)
			}
			delete(want, n)
		}
		if len(want) > 0 {
			t.Fatalf("left out: %v", want)
		}
	}
}

// A bay lists its options by count, with no two that weigh the same in the same place; fewer or more than its counts are not used.
func TestBayListsItsOptionsByCount(t *testing.T) {
	r := rand.New(rand.NewPCG(57, 58))
	for range 100 {
		var all []option
		for range r.IntN(12) {
			n := r.IntN(5)
			all = append(all, option{first: row{float64(n), float64(r.IntN(3)), float64(r.IntN(2))}, kept: make([]int, n), push: len(all)})
		}
		lo, hi := r.IntN(2), 4
		b := bayOf(3, lo, hi, all)
		var want, got []string
		for n := 0; n <= hi; n++ {
			seen := map[row]bool{}
			for _, o := range all {
				if len(o.kept) == n && !seen[o.first] {
					seen[o.first] = true
					want = append(want, fmt.Sprint(n, o.push))
				}
			}
			for _, o := range b.of(n) {
				got = append(got, fmt.Sprint(n, o.push))
			}
		}
		if !slices.Equal(got, want) || b.box != 3 || len(b.all) != len(want) || len(b.from) != hi+2 {
			t.Fatalf("%v, not %v", got, want)
		}
		met := 0
		b.each(func(i, n int, o *option) {
			if n < lo || n > hi || len(o.kept) != n || o != &b.all[i] {
				t.Fatalf("option %d with %d modules", i, n)
			}
			met++
		})
		if few := b.from[lo]; met != len(b.all)-few {
			t.Fatalf("%d of %d options, %d too few", met, len(b.all), few)
		}
	}
	a, b, c := row{1, 2, 3, 4}, row{1, 2, 3, 4 + 0.95e-6}, row{1, 2, 3 - 1.05e-6, 4}
	if !a.alike(&b) || a.alike(&c) || c.alike(&a) {
		t.Error("moments are alike within a millionth of a kg mm")
	}
}
