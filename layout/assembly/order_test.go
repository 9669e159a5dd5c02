package assembly

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
)

// allOrders finds the best cost over every order of the joints of a row, by trying each joint next, for every set of
// joints already made. It knows nothing of trees.
func allOrders(volts []float64, limit float64) cost {
	n := len(volts) - 1
	best := make([]cost, 1<<n)
	for set := 1; set < 1<<n; set++ {
		first := true
		for j := range n {
			if set>>j&1 == 0 {
				continue
			}
			before := set &^ (1 << j)
			v, w := side(volts, before, j, -1), side(volts, before, j+1, 1)
			if c := best[before].plus(jointCost(v, w, limit)); first || c.less(best[set]) {
				best[set], first = c, false
			}
		}
	}
	return best[1<<n-1]
}

// side sums the circuit from piece i on in one direction over the joints made.
func side(volts []float64, made, i, way int) float64 {
	sum := volts[i]
	for {
		j := i
		if way < 0 {
			j = i - 1
		}
		if i+way < 0 || i+way >= len(volts) || made>>j&1 == 0 {
			return sum
		}
		i += way
		sum += volts[i]
	}
}

// permutations tries every order one by one, for short rows.
func permutations(volts []float64, limit float64, made int, so cost, best *cost, any *bool) {
	n := len(volts) - 1
	if made == 1<<n-1 {
		if !*any || so.less(*best) {
			*best, *any = so, true
		}
		return
	}
	for j := range n {
		if made>>j&1 == 0 {
			c := so.plus(jointCost(side(volts, made, j, -1), side(volts, made, j+1, 1), limit))
			permutations(volts, limit, made|1<<j, c, best, any)
		}
	}
}

func alike(n int, v float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = v
	}
	return out
}

// The strings of 2, 4, 8 and 16 modules of 29.2 V (8 cells of 3.65 V), worked by hand: two make 58.4 V, within 60 V.
// n modules make n/2 groups; each of the n/2 - 1 joints between groups has five steps in a circuit above 60 V, and two
// more where both sides are above it already (from 8 modules on, once for each joint of a level above the second). The
// last joint splits the voltage in half: that is the highest voltage that is bare.
func TestHandWorkedStrings(t *testing.T) {
	for _, c := range []struct {
		n, steps int
		volts    float64
	}{{2, 0, 29.2}, {4, 5, 58.4}, {8, 5 + 5 + 7, 116.8}, {16, 4*5 + 2*7 + 7, 233.6}} {
		order, got := joinOrder(alike(c.n, 29.2), 60)
		if got.steps != c.steps {
			t.Errorf("%d modules: %d hazardous steps, want %d", c.n, got.steps, c.steps)
		}
		near(t, "highest bare voltage", got.volts, c.volts)
		if last := order[len(order)-1]; last != c.n/2-1 {
			t.Errorf("%d modules: the last joint is %d, want the middle", c.n, last)
		}
	}
}

func TestOrderAgainstAllOrders(t *testing.T) {
	for _, n := range []int{2, 4, 8, 16} {
		for _, v := range []float64{14.6, 29.2, 42, 61, 100} {
			volts := alike(n, v)
			_, got := joinOrder(volts, 60)
			if want := allOrders(volts, 60); got.less(want) || want.less(got) {
				t.Errorf("%d x %v V: %+v, all orders %+v", n, v, got, want)
			}
		}
	}
}

func TestAllOrdersAgainstPermutations(t *testing.T) {
	for _, n := range []int{2, 4, 8} {
		volts := alike(n, 29.2)
		var best cost
		var any bool
		permutations(volts, 60, 0, cost{}, &best, &any)
		if got := allOrders(volts, 60); got.less(best) || best.less(got) {
			t.Errorf("%d: %+v, permutations %+v", n, got, best)
		}
	}
}

func TestOrderOfUnlikeModules(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		volts := make([]float64, 2+r.IntN(9))
		for i := range volts {
			volts[i] = float64(r.IntN(90))
		}
		order, got := joinOrder(volts, 60)
		want := allOrders(volts, 60)
		if got.less(want) || want.less(got) {
			t.Fatalf("%v: %+v, all orders %+v", volts, got, want)
		}
		if again := costOf(volts, order); again.less(got) || got.less(again) {
			t.Fatalf("%v: the order %v costs %+v, not %+v", volts, order, again, got)
		}
		if least := leastSteps(volts, 60); least > want.steps {
			t.Fatalf("%v: bound %d above the optimum %d", volts, least, want.steps)
		}
	}
}

func costOf(volts []float64, order []int) cost {
	var c cost
	made := 0
	for _, j := range order {
		c = c.plus(jointCost(side(volts, made, j, -1), side(volts, made, j+1, 1), 60))
		made |= 1 << j
	}
	return c
}

// A row too long for the exact method still has every joint once, and lies between its bound and what is claimed.
func TestRoughOrder(t *testing.T) {
	volts := alike(exactPieces+50, 29.2)
	order, got := joinOrder(volts, 60)
	sorted := slices.Sorted(slices.Values(order))
	for i, j := range sorted {
		if i != j {
			t.Fatalf("joint %d is missing or twice", i)
		}
	}
	if least := leastSteps(volts, 60); got.steps < least || got.steps > 2*least {
		t.Errorf("%d steps, bound %d", got.steps, least)
	}
}

func TestRoughOrderCostsWhatItSays(t *testing.T) {
	volts := []float64{29.2, 20, 45, 10, 10, 10, 58, 29, 29, 3}
	order, got := joinRoughly(volts, 60)
	if again := costOf(volts, order); again != got {
		t.Errorf("says %+v, costs %+v", got, again)
	}
}

// The evaluator on the bench, which looks at conductors one by one, must find the cost that the order was chosen by.
func TestSequenceCostsWhatTheOrderSays(t *testing.T) {
	for _, n := range []int{2, 4, 8, 16} {
		q, err := Plan(context.Background(), modelOf(boxWith("b", "eight", n)))
		if err != nil {
			t.Fatal(err)
		}
		want := allOrders(alike(n, 29.2), 60)
		if q.HazardSteps != want.steps || !q.Proved {
			t.Errorf("%d modules: %d hazardous steps, all orders %d, proved %v", n, q.HazardSteps, want.steps, q.Proved)
		}
		near(t, "highest bare voltage", q.HighestV, want.volts)
		if q.CoverChanges != 4*(n-1) || q.LeastCovers != q.CoverChanges {
			t.Errorf("%d modules: %d cover changes, bound %d", n, q.CoverChanges, q.LeastCovers)
		}
	}
}

// Two groups within 60 V have to be joined above it, five steps; a group alone needs none.
func TestLeastStepsByHand(t *testing.T) {
	for n, want := range map[int]int{1: 0, 2: 0, 3: 5, 4: 5, 5: 10} {
		if got := leastSteps(alike(n, 29.2), 60); got != want {
			t.Errorf("%d modules: %d steps, want %d", n, got, want)
		}
	}
}

// A single group is joined from its negative end on: 10, then 20, then 30 V stand beside the next 10 V.
func TestRoughOrderOfOneGroup(t *testing.T) {
	if order, got := joinRoughly(alike(4, 10), 60); !slices.Equal(order, []int{0, 1, 2}) || got != (cost{0, 30}) {
		t.Errorf("%v at %+v", order, got)
	}
}
