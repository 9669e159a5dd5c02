package packing

import (
	"context"
	"math"
)

// cliques is a set-packing model: candidates as columns, and rows of which at most
// one candidate may be taken.
type cliques interface {
	columns() int
	rows() int
	cover(price, out []float64) // per column, the sum of its rows' prices
	load(weight, out []float64) // per row, the sum of its columns' weights
}

// priced is a dual solution: prices of the rows under which every column costs at
// least 1, so that no packing has more columns than the prices' sum.
type priced struct {
	price []float64
	sum   float64
}

// dualSolver runs the primal-dual hybrid gradient method of Chambolle and Pock
// (2011) with their diagonal steps, and restarts from averages as in Applegate and
// others (2021), on the linear relaxation of a set-packing model.
type dualSolver struct {
	m          cliques
	x, u       []float64
	xa, ua     []float64 // sums since the last restart
	na         float64
	tau, sigma []float64
	ext        []float64 // scratch: extrapolated x
	cov, load  []float64
	mean       []float64 // scratch
	best       priced
	need       []float64 // what each column must cost at least; nil means 1
	iterations int
	stop       func() bool
}

func newDualSolver(m cliques) *dualSolver {
	n, r := m.columns(), m.rows()
	d := &dualSolver{m: m, stop: func() bool { return false }}
	for _, v := range []*[]float64{&d.x, &d.xa, &d.tau, &d.ext, &d.cov} {
		*v = make([]float64, n)
	}
	for _, v := range []*[]float64{&d.u, &d.ua, &d.sigma, &d.load} {
		*v = make([]float64, r)
	}
	ones := make([]float64, max(n, r))
	for i := range ones {
		ones[i] = 1
	}
	m.cover(ones[:r], d.tau)
	m.load(ones[:n], d.sigma)
	for i, v := range d.tau {
		d.tau[i] = primalWeight / math.Max(v, 1)
	}
	for i, v := range d.sigma {
		d.sigma[i] = 1 / (primalWeight * math.Max(v, 1))
	}
	d.best = priced{make([]float64, r), math.Inf(1)}
	d.mean = make([]float64, r)
	if a, ok := m.(interface{ areas() []float64 }); ok && n > 0 {
		copy(d.u, a.areas())
		d.rate(d.u)
	}
	return d
}

// within makes a solver spend the cost of its steps, and stop at the context's end.
func (d *dualSolver) within(ctx context.Context) { d.stop = costing(ctx, stepCost(d.m)) }

// stepCost estimates the nanoseconds of one step.
func stepCost(m cliques) int64 {
	switch m := m.(type) {
	case *grid:
		return int64(15*m.columns() + 6*m.rows())
	case *families:
		var sum int64
		for _, g := range m.grids {
			sum += stepCost(g)
		}
		return sum
	case *graph:
		n := 0
		for _, ms := range m.members {
			n += len(ms)
		}
		return int64(5*n + 10*m.rows())
	}
	return 0
}

// run iterates until the bound falls below goal or the iterations are used up; it
// reports whether it did.
func (d *dualSolver) run(goal float64, iterations int) bool {
	for k := range iterations {
		if d.stop() {
			return false
		}
		d.step()
		if k%10 == 9 {
			d.rate(d.u)
			if d.best.sum < goal {
				return true
			}
		}
		if k%40 == 39 {
			if d.tryAverage(); d.best.sum < goal {
				return true
			}
		}
	}
	return false
}

// restart goes on from the best prices so far with other worths.
func (d *dualSolver) restart(need []float64) {
	d.need = need
	if !math.IsInf(d.best.sum, 1) {
		copy(d.u, d.best.price)
	}
	clear(d.ua)
	clear(d.xa)
	d.na = 0
	d.best.sum = math.Inf(1)
	d.rate(d.u)
}

// bound is the greatest count that the best prices allow.
func (d *dualSolver) bound() int {
	return int(math.Floor(math.Min(d.best.sum, float64(d.m.columns())) + slack))
}

// worth is what a column adds to the sum that the prices bound.
func (d *dualSolver) worth(column int) float64 {
	if d.need == nil {
		return 1
	}
	return d.need[column]
}

func (d *dualSolver) step() {
	d.iterations++
	d.m.cover(d.u, d.cov)
	for i, c := range d.cov {
		x := math.Max(0, d.x[i]+d.tau[i]*(d.worth(i)-c))
		d.ext[i] = 2*x - d.x[i]
		d.x[i] = x
		d.xa[i] += x
	}
	d.m.load(d.ext, d.load)
	for r, l := range d.load {
		u := math.Max(0, d.u[r]+d.sigma[r]*(l-1))
		d.u[r] = u
		d.ua[r] += u
	}
	d.na++
}

// rate takes u as prices, scaled until every column costs 1, if that is a better bound.
func (d *dualSolver) rate(u []float64) float64 {
	d.m.cover(u, d.cov)
	least := math.Inf(1)
	for i, c := range d.cov {
		if w := d.worth(i); w > 0 {
			least = math.Min(least, c/w)
		}
	}
	var sum float64
	for _, v := range u {
		sum += v
	}
	if least <= 1e-9 {
		return math.Inf(1)
	}
	bound := sum / least
	if bound < d.best.sum {
		d.best.sum = bound
		for r, v := range u {
			d.best.price[r] = v / least
		}
	}
	return bound
}

// tryAverage rates the average since the restart, and restarts there when it is
// better than the current point.
func (d *dualSolver) tryAverage() {
	mean := d.mean
	for r, v := range d.ua {
		mean[r] = v / d.na
	}
	now := d.rate(d.u)
	avg := d.rate(mean)
	if avg < now || d.na > 400 {
		if avg < now {
			copy(d.u, mean)
			for i, v := range d.xa {
				d.x[i] = v / d.na
			}
		}
		clear(d.ua)
		clear(d.xa)
		d.na = 0
	}
}

// primalWeight shifts the step from prices to weights; 4 was the best of 1/4 to 8
// on the published boards that simple bounds leave open.
const primalWeight = 4.0
