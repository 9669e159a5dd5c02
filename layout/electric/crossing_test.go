package electric

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/vehicles"
)

// meet tells whether two segments cross inside both: the two unknowns of a + t(b-a) = c + u(d-c), by Cramer's rule.
func meet(a, b, c, d r2.Point) bool {
	r, s, q := b.Sub(a), d.Sub(c), c.Sub(a)
	det := r.X*s.Y - r.Y*s.X
	if det == 0 {
		return false
	}
	t, u := (q.X*s.Y-q.Y*s.X)/det, (q.X*r.Y-q.Y*r.X)/det
	return t > 0 && t < 1 && u > 0 && u < 1
}

// scattered are the facts of a box with n modules anywhere, turned anyhow, also through one another.
func scattered(rng *rand.Rand, n int) *boxFacts {
	b := boxOf("b", vehicles.XYZ{}, 0, 0)
	for i := range n {
		b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", i), Module: "block",
			At: vehicles.XYZ{1500 * rng.Float64(), 1500 * rng.Float64(), 4}, Posture: vehicles.Flat, Turn: 90 * rng.IntN(4)})
	}
	return newBoxFacts(resolve(planOf(b)).Boxes[0])
}

// crossed counts the crossings of an order's links in plan and says which pair of links comes first: by the later link, then
// the earlier one.
func crossed(f *boxFacts, order []int) (n int, first [2]int) {
	at := func(i int) (a, b r2.Point) {
		p, q := f.slots[order[i]].pos[0].p, f.slots[order[i+1]].neg[0].p
		return r2.Point{X: p.X, Y: p.Y}, r2.Point{X: q.X, Y: q.Y}
	}
	for k := range len(order) - 1 {
		for i := range k {
			a, b := at(i)
			c, d := at(k)
			if meet(a, b, c, d) {
				if n++; n == 1 {
					first = [2]int{i, k}
				}
			}
		}
	}
	return n, first
}

// Crossings are counted as simultaneous equations count them, in the search for an order and in a string.
func TestCrossingsAgainstEquations(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 9))
	some := 0
	for round := range 60 {
		n := 1 + round%8
		f := scattered(rng, n)
		order := rng.Perm(n)
		u := uncrossing{f: f, s: slices.Sorted(slices.Values(order)), segs: make([][2]r2.Point, n)}
		got, at := u.crossings(order)
		want, first := crossed(f, order)
		if got != want || at != first {
			t.Fatalf("%d modules: %d crossings, first %v; want %d, %v", n, got, at, want, first)
		}
		if want > 0 {
			some++
		}
		p := planOf(f.box.Box)
		var ids []string
		for _, i := range order {
			ids = append(ids, f.slots[i].body.ID)
		}
		p.Arrangements[0].Strings = []layout.String{{ID: "A", Pinned: true, Modules: ids}}
		r := Evaluate(resolve(p), nil)
		if got := r.Strings[0].Crossings; got != want {
			t.Fatalf("%d modules: the string counts %d crossings, want %d", n, got, want)
		}
		for _, d := range r.Readings() {
			if d.Key == "link_crossings" && d.Value != float64(want) {
				t.Fatalf("reading %v, want %v", d.Value, want)
			}
		}
	}
	if some < 10 {
		t.Errorf("only %d orders with crossings", some)
	}
}

// Where uncrossing stops with links that cross, none of its steps is worth while, a crossing counting as 60 mm: the stretch
// between the two links turned, two of the places beside them exchanged and, among few modules, one of these put anywhere else.
func TestUncrossedOrderHasNoBetterStep(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 2))
	left := 0
	for round := range 60 {
		n := 3 + round%6
		if round < 4 {
			n = 25
		}
		f := scattered(rng, n)
		s := make([]int, n)
		for i := range s {
			s[i] = i
		}
		c := f.costsOf(s)
		price := func(order []int) float64 {
			k, _ := crossed(f, order)
			return c.total(order) + 60*float64(k)
		}
		order := rng.Perm(n)
		for range 30 {
			next := f.uncrossed(c, s, order)
			if !isPermutation(next, n) || price(next) > price(order)+1e-9 {
				t.Fatalf("%v became %v, %v to %v", order, next, price(order), price(next))
			}
			order = next
		}
		found, at := crossed(f, order)
		if found == 0 {
			continue
		}
		left++
		for _, o := range stepsBeside(order, at[0], at[1]) {
			if price(o) < price(order)-2*worth {
				t.Fatalf("%v costs %v and crosses at %v, but %v only %v", order, price(order), at, o, price(o))
			}
		}
	}
	if left < 5 {
		t.Errorf("only %d orders with crossings left", left)
	}
}

func stepsBeside(order []int, i, k int) [][]int {
	swapped := func(a, b int) []int {
		o := slices.Clone(order)
		o[a], o[b] = o[b], o[a]
		return o
	}
	turned := slices.Clone(order)
	slices.Reverse(turned[i+1 : k+1])
	out := [][]int{turned, swapped(i+1, k), swapped(i, k+1), swapped(i+1, k+1), swapped(i, k)}
	if len(order) > 24 {
		return out
	}
	for _, from := range []int{i, i + 1, k, k + 1} {
		rest := slices.Concat(order[:from], order[from+1:])
		for to := range len(order) {
			out = append(out, slices.Concat(rest[:to], order[from:from+1], rest[to:]))
		}
	}
	return out
}

// A line crosses a body where one of many points along it lies inside by more than what counts as touching.
func TestCrossingABodyAgainstPointsAlong(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	f := scattered(rng, 1)
	s := &f.slots[0]
	c, size := s.centre(), s.hi.Sub(s.lo)
	if c.Sub(s.lo).Sub(s.hi.Sub(c)).Norm() > 1e-9 {
		t.Fatalf("the middle of %v and %v is not %v", s.lo, s.hi, c)
	}
	for range 400 {
		a, b := c, c
		for _, p := range []*[3]*float64{{&a.X, &a.Y, &a.Z}, {&b.X, &b.Y, &b.Z}} {
			*p[0] += 1.6 * size.X * (rng.Float64() - 0.5)
			*p[1] += 1.6 * size.Y * (rng.Float64() - 0.5)
			*p[2] += 1.6 * size.Z * (rng.Float64() - 0.5)
		}
		deepest := math.Inf(-1)
		for i := range 1001 {
			p := a.Add(b.Sub(a).Mul(float64(i) / 1000))
			deepest = max(deepest, min(p.X-s.lo.X, s.hi.X-p.X, p.Y-s.lo.Y, s.hi.Y-p.Y, p.Z-s.lo.Z, s.hi.Z-p.Z))
		}
		step := b.Sub(a).Norm() / 1000
		if got := s.crosses(a, b); got && deepest < graze-step || !got && deepest > graze {
			t.Fatalf("from %v to %v: crossing %v, deepest %v mm inside", a, b, got, deepest)
		}
	}
}

// Of several terminals a link takes the nearest pair; with one each there is no choice.
func TestNearestOfTwoNegativePoles(t *testing.T) {
	f := scattered(rand.New(rand.NewPCG(8, 1)), 2)
	a, b := f.slots[0], f.slots[1]
	far := b.neg[0]
	far.p.X, far.lifted.X = far.p.X+5000, far.lifted.X+5000
	b.neg = append([]pole{far}, b.neg...)
	if p, q := bestPoles(&a, &b); p != &a.pos[0] || q != &b.neg[1] {
		t.Error("not the nearer one")
	}
}
