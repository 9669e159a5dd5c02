package electric

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func drawCosts(t *rapid.T, n int) *costs {
	c := newCosts(n)
	for i := range c.step {
		c.step[i] = rapid.Float64Range(0, 1000).Draw(t, "step")
	}
	for i := range n {
		c.start[i] = rapid.Float64Range(0, 1000).Draw(t, "start")
		c.end[i] = rapid.Float64Range(0, 1000).Draw(t, "end")
	}
	return c
}

// bruteForce tries every order.
func bruteForce(c *costs) float64 {
	best := math.Inf(1)
	var try func(order []int)
	try = func(order []int) {
		if len(order) == c.n {
			best = min(best, c.total(order))
			return
		}
		for i := range c.n {
			if !slices.Contains(order, i) {
				try(append(slices.Clone(order), i))
			}
		}
	}
	try(nil)
	return best
}

func isPermutation(order []int, n int) bool {
	s := slices.Sorted(slices.Values(order))
	for i, v := range s {
		if v != i {
			return false
		}
	}
	return len(s) == n
}

// The exact order is no longer than any other order, tried one by one.
func TestExactOrderAgainstEveryOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCosts(t, rapid.IntRange(1, 6).Draw(t, "n"))
		order := c.shortest()
		if !isPermutation(order, c.n) {
			t.Fatalf("not an order of all places: %v", order)
		}
		if got, want := c.total(order), bruteForce(c); math.Abs(got-want) > 1e-9*(1+want) {
			t.Fatalf("%v, best is %v", got, want)
		}
	})
}

// Improving keeps every place and never makes an order longer; what it saves is what the sums say.
func TestImprovedOrderIsNoLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCosts(t, rapid.IntRange(2, 14).Draw(t, "n"))
		greedy := c.greedy()
		before := c.total(greedy)
		order := c.improved(slices.Clone(greedy))
		if !isPermutation(order, c.n) {
			t.Fatalf("not an order of all places: %v", order)
		}
		if c.total(order) > before+1e-9 {
			t.Fatalf("%v became %v", before, c.total(order))
		}
		if c.n <= exactOrder && c.total(order) < c.total(c.exact())-1e-9 {
			t.Fatal("shorter than the shortest")
		}
	})
}

// On places in the plane, where both can be had, the improved order is within a few per cent of the shortest.
func TestImprovedOrderIsNearTheShortest(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	sum, best := 0.0, 0.0
	for range 60 {
		c := newCosts(exactOrder)
		x, y := make([]float64, c.n), make([]float64, c.n)
		for i := range c.n {
			x[i], y[i] = rng.Float64(), rng.Float64()
		}
		for i := range c.n {
			for k := range c.n {
				c.step[i*c.n+k] = math.Hypot(x[i]-x[k], y[i]-y[k])
			}
		}
		sum += c.total(c.improved(c.greedy()))
		best += c.total(c.exact())
	}
	t.Logf("improved orders are %.2f %% longer than the shortest", 100*(sum/best-1))
	if sum > 1.05*best {
		t.Errorf("improved orders are %.1f %% longer than the shortest", 100*(sum/best-1))
	}
}
