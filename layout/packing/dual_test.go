package packing

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// relaxed is the greatest worth of parts of places of which each row holds one at most, by the simplex method of gonum.
func relaxed(t *testing.T, m cliques, worth []float64) float64 {
	t.Helper()
	n := m.columns()
	unit, col := make([]float64, n), make([]float64, m.rows())
	held := make([][]float64, m.rows()) // by each row
	for i := range n {
		unit[i] = 1
		m.load(unit, col)
		unit[i] = 0
		for r, v := range col {
			held[r] = append(held[r], v)
		}
	}
	slices.SortFunc(held, slices.Compare)
	held = slices.CompactFunc(held, slices.Equal)
	rows := len(held)
	a, c, one := mat.NewDense(rows, n+rows, nil), make([]float64, n+rows), make([]float64, rows)
	for r, h := range held {
		for i, v := range h {
			a.Set(r, i, v)
		}
		a.Set(r, n+r, 1)
		one[r] = 1
	}
	for i, v := range worth {
		c[i] = -v
	}
	best, _, err := lp.Simplex(c, a, one, 1e-10, nil)
	if err != nil {
		t.Fatal(err)
	}
	return -best
}

// Prices bound the relaxation from above, come down to its optimum in few steps, and cost every place at least what it is worth;
// also when they go on with other worths from where they were, and whether they bound more is said by the goal.
func TestPricesComeDownToTheRelaxation(t *testing.T) {
	r := rand.New(rand.NewPCG(131, 132))
	far := 0.0
	for k := range 15 {
		_, p, spots := smallPlane(r, k%3 == 0)
		r.Shuffle(len(spots), func(i, j int) { spots[i], spots[j] = spots[j], spots[i] })
		spots = spots[:min(20, len(spots))]
		var m cliques
		switch env, plain := p.envelopes(); {
		case plain:
			m = newGrid(spots, env)
		case k%3 == 1:
			m = newFamilies(p, spots)
		default:
			m = newGraph(p, spots)
		}
		d := newDualSolver(m)
		worth := make([]float64, m.columns())
		for i := range worth {
			worth[i] = 1
		}
		for round := range 3 {
			want := relaxed(t, m, worth)
			if round > 0 {
				d.restart(worth)
			}
			before := d.best.sum
			if d.run(want-1e-3, 40) {
				t.Fatalf("prices allow %g, less than %g", d.best.sum, want)
			}
			if d.best.sum > before+1e-12 {
				t.Fatalf("prices went up from %g to %g", before, d.best.sum)
			}
			far += d.best.sum - want
			if d.run(want+0.02, 3000) != (d.best.sum < want+0.02) || d.best.sum > want+0.02 || d.best.sum < want-1e-9 {
				t.Fatalf("prices allow %g, the relaxation %g", d.best.sum, want)
			}
			cost, sum := make([]float64, m.columns()), 0.0
			m.cover(d.best.price, cost)
			for i, c := range cost {
				if c < worth[i]-1e-9 {
					t.Fatalf("place %d is worth %g and priced %g", i, worth[i], c)
				}
			}
			for _, v := range d.best.price {
				if sum += v; v < 0 {
					t.Fatalf("priced %g", v)
				}
			}
			if math.Abs(sum-d.best.sum) > 1e-9 {
				t.Fatalf("prices add up to %g, not %g", sum, d.best.sum)
			}
			if b := d.bound(); b != int(math.Floor(math.Min(sum, float64(m.columns()))+1e-6)) {
				t.Fatalf("prices of %g bound the count by %d", sum, b)
			}
			for i := range worth {
				worth[i] = float64(r.IntN(4)) / 2
			}
			worth[0] = 1
		}
	}
	t.Logf("after 40 steps %g too much in all", far)
	if far > 1.12 {
		t.Errorf("after 40 steps the prices allow %g too much in all", far)
	}
}

// One step, worked out by hand: a single place in a single row, weighed from nothing. The steps' lengths are 4 along weights and 1/4
// along prices (Chambolle and Pock 2011): the price falls by half of what the row is not filled, and so on.
func TestOneStepOfTheRelaxation(t *testing.T) {
	g := newGrid([]spot{{0, vec{}}}, []rect{{vec{}, vec{3, 3}}})
	d := newDualSolver(g)
	if d.u[0] != 1 || d.best.sum != 1 || d.tau[0] != 4 || d.sigma[0] != 0.25 {
		t.Fatalf("it begins with the price %g, the sum %g and steps of %g and %g", d.u[0], d.best.sum, d.tau[0], d.sigma[0])
	}
	d.u[0] = 0.75
	d.step() // the place is worth 1/4 more than its price: weight 4/4 = 1; extrapolated 2, so that the price rises by (2-1)/4
	if d.x[0] != 1 || d.u[0] != 1 || d.xa[0] != 1 || d.ua[0] != 1 || d.na != 1 || d.iterations != 1 {
		t.Errorf("weight %g, price %g; sums %g and %g of %g", d.x[0], d.u[0], d.xa[0], d.ua[0], d.na)
	}
	d.u[0] = 1.5
	d.step() // weight 1 - 2, and so nought; extrapolated -1: the price falls by a half
	if d.x[0] != 0 || d.u[0] != 1 || d.xa[0] != 1 || d.ua[0] != 2 || d.na != 2 {
		t.Errorf("weight %g, price %g; sums %g and %g of %g", d.x[0], d.u[0], d.xa[0], d.ua[0], d.na)
	}
	// The mean price is 1, no better than the price now.
	d.tryAverage()
	if d.na != 2 || d.mean[0] != 1 {
		t.Errorf("the mean of 2 steps is %g, it goes on from %g steps", d.mean[0], d.na)
	}
	// Without the price, no bound; and prices are scaled until the place costs what it is worth.
	if b := d.rate([]float64{0}); !math.IsInf(b, 1) {
		t.Errorf("no prices bound the worth by %g", b)
	}
	d.restart([]float64{3})
	if d.na != 0 || d.ua[0] != 0 || d.xa[0] != 0 || d.best.sum != 3 || d.best.price[0] != 3 || d.worth(0) != 3 {
		t.Errorf("for a place worth 3 the prices allow %g", d.best.sum)
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	d.within(stopped)
	if n := d.iterations; d.run(0, 5) || d.iterations != n {
		t.Errorf("%d steps after the end", d.iterations-n)
	}
}
