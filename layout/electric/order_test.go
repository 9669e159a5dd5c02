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

// windy is a plane where going against the wind (towards smaller x) takes longer: distances that differ in the two directions
// and keep the triangle inequality.
func windy(rng *rand.Rand, n int) *costs {
	c := newCosts(n)
	x, y := make([]float64, n+2), make([]float64, n+2)
	for i := range x {
		x[i], y[i] = 1000*rng.Float64(), 1000*rng.Float64()
	}
	d := func(i, k int) float64 { return math.Hypot(x[i]-x[k], y[i]-y[k]) + 0.4*max(0, x[i]-x[k]) }
	for i := range n {
		c.start[i], c.end[i] = d(n, i), d(i, n+1)
		for k := range n {
			c.step[i*n+k] = d(i, k)
		}
	}
	return c
}

// neighbours are all orders that differ by one stretch of up to three places put elsewhere, or by one stretch reversed.
func neighbours(order []int) [][]int {
	var out [][]int
	n := len(order)
	for i := range n {
		for k := i + 1; k <= n; k++ {
			turned := slices.Clone(order)
			slices.Reverse(turned[i:k])
			out = append(out, turned)
			if k-i > 3 {
				continue
			}
			rest := slices.Concat(order[:i], order[k:])
			for to := range len(rest) + 1 {
				out = append(out, slices.Concat(rest[:to], order[i:k], rest[to:]))
			}
		}
	}
	return out
}

// Where improving stops, no short stretch put elsewhere and no stretch reversed makes the order shorter: all of them tried.
func TestImprovedOrderHasNoBetterNeighbour(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	for round := range 120 {
		c := windy(rng, 2+round%12)
		order := c.improved(rng.Perm(c.n))
		if !isPermutation(order, c.n) {
			t.Fatalf("not an order of all places: %v", order)
		}
		for _, o := range neighbours(order) {
			if c.total(o) < c.total(order)-2*worth {
				t.Fatalf("%d places: %v is %v long, %v only %v", c.n, order, c.total(order), o, c.total(o))
			}
		}
	}
}

// By hand: from the start at 0 the places at 5, 1, 9, 2 and -4 follow one another as 1, 2, 5, 9, -4, each the nearest left.
func TestGreedyGoesToTheNearestLeft(t *testing.T) {
	at := []float64{5, 1, 9, 2, -4}
	c := newCosts(len(at))
	for i, x := range at {
		c.start[i] = math.Abs(x)
		for k, y := range at {
			c.step[i*c.n+k] = math.Abs(x - y)
		}
	}
	if got := c.greedy(); !slices.Equal(got, []int{1, 3, 0, 2, 4}) {
		t.Errorf("%v", got)
	}
}

// Turning a stretch round saves what its sums say, from either end of the order to the other, and one go over all
// stretches turns those that save.
func TestReversalSavesWhatItsSumsSay(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 4))
	for round := range 60 {
		c := windy(rng, 2+round%9)
		w := &walk{costs: c, order: rng.Perm(c.n)}
		w.sum()
		for i := range c.n {
			for k := i + 1; k < c.n; k++ {
				turned := slices.Clone(w.order)
				slices.Reverse(turned[i : k+1])
				if got, want := w.reversalSaves(i, k), c.total(w.order)-c.total(turned); math.Abs(got-want) > 1e-6 {
					t.Fatalf("%v from %d to %d: saves %v, said to save %v", w.order, i, k, want, got)
				}
			}
		}
		want, better := turnedRound(c, w.order)
		if any := w.reverseOne(); any != better || !slices.Equal(w.order, want) {
			t.Fatalf("%d places: %v, %v; want %v, %v", c.n, w.order, any, want, better)
		}
	}
}

// turnedRound goes over all stretches as they come and turns each that saves, by the length of the whole order.
func turnedRound(c *costs, order []int) (out []int, better bool) {
	out = slices.Clone(order)
	for i := range out {
		for k := i + 1; k < len(out); k++ {
			turned := slices.Clone(out)
			slices.Reverse(turned[i : k+1])
			if c.total(turned) < c.total(out)-worth {
				out, better = turned, true
			}
		}
	}
	return out, better
}
