package packing

import "context"

// grids is the model of cells by families of cores.
func (q *raster) grids(cells []spot, of [][]rect) *families {
	f := &families{}
	for _, cores := range of {
		f.grids = append(f.grids, newGrid(cells, q.floored(cores)))
	}
	return f
}

// carried moves prices of all grids over.
func (f *families) carried(price []float64, to *families, shift vec) []float64 {
	var out []float64
	for i, g := range f.grids {
		out = append(out, g.carried(price[:g.rows()], to.grids[i], shift)...)
		price = price[g.rows():]
	}
	return out
}

// carried moves prices of one grid over to another whose candidates, rounded down by
// shift at most, are all candidates of the first. A candidate of the second costs
// at least what it did.
func (g *grid) carried(price []float64, to *grid, shift vec) []float64 {
	out := make([]float64, to.rows())
	for y := range g.ny {
		v := int(below(to.ys, g.ys[y]+shift.y+1)) - 1
		for x := range g.nx {
			u := int(below(to.xs, g.xs[x]+shift.x+1)) - 1
			if u >= 0 && v >= 0 {
				out[v*to.nx+u] += price[y*g.nx+x]
			}
		}
	}
	return out
}

// refuter tries to prove that no packing at real positions has target modules. It
// starts on coarse oblongs, priced already, leaves out those too dear for such a packing (reduced
// cost fixing), and divides only the rest.
type refuter struct {
	q      *raster
	cores  [][]rect // families of them, at real size
	target int
	cells  []spot
	g      *families
	d      *dualSolver
	ctx    context.Context
}

func newRefuter(ctx context.Context, q *raster, cores [][]rect, cells []spot, d *dualSolver, target int) *refuter {
	f := &refuter{ctx: ctx, q: q, cores: cores, target: target, cells: cells}
	f.g, f.d = d.m.(*families), d
	return f
}

// over reports whether the prices leave no room for the target.
func (f *refuter) over() bool {
	return len(f.cells) < f.target || f.d.best.sum < float64(f.target)-slack
}

// price weighs the oblongs and leaves out the dear ones, in turn.
func (f *refuter) price(passes, iterations int) {
	for range passes {
		if f.over() || f.ctx.Err() != nil {
			return
		}
		f.d.run(float64(f.target)-slack, iterations)
		if !f.over() {
			f.fix()
		}
	}
}

// fix leaves out the oblongs that cost more than a packing of the target can bear.
func (f *refuter) fix() {
	cost := make([]float64, len(f.cells))
	f.g.cover(f.d.best.price, cost)
	most := 1 + f.d.best.sum - float64(f.target) + slack
	var kept []spot
	var weight []float64
	for i, c := range cost {
		if c <= most {
			kept = append(kept, f.cells[i])
			weight = append(weight, f.d.x[i])
		}
	}
	if 10*len(kept) < 9*len(f.cells) {
		f.take(kept, weight, f.q)
	}
}

// take goes over to other oblongs, with what the prices and weights were.
func (f *refuter) take(cells []spot, weight []float64, q *raster) {
	shift := vec{f.q.step.x - q.step.x, f.q.step.y - q.step.y}
	old, price, now := f.g, f.d.best.price, f.d.u
	f.cells, f.q = cells, q
	if len(cells) == 0 {
		return
	}
	f.g = q.grids(cells, f.cores)
	f.d = newDualSolver(f.g)
	f.d.within(f.ctx)
	copy(f.d.u, old.carried(price, f.g, shift))
	f.d.rate(f.d.u)
	copy(f.d.u, old.carried(now, f.g, shift))
	copy(f.d.x, weight)
}

// divide goes over to finer oblongs; it reports false when there are none.
func (f *refuter) divide() bool {
	q := f.q.finer()
	if q == nil {
		return false
	}
	index := make(map[spot]int, len(f.cells))
	for i, c := range f.cells {
		index[c] = i
	}
	parent := func(c spot) (int, bool) {
		i, ok := index[spot{c.opt, f.q.rounded(c.vec)}]
		return i, ok
	}
	cells := q.reachableWhere(func(c spot) bool { _, ok := parent(c); return ok }, costing(f.ctx, q.rowCost()))
	if f.ctx.Err() != nil {
		return false
	}
	children := make([]float64, len(f.cells))
	for _, c := range cells {
		i, _ := parent(c)
		children[i]++
	}
	weight := make([]float64, len(cells))
	for k, c := range cells {
		i, _ := parent(c)
		weight[k] = f.d.x[i] / children[i]
	}
	f.take(cells, weight, q)
	return true
}

const (
	maxDivided = 10_000 // oblongs that are divided at most
	maxLevels  = 3
	// farAtFirst and farLater are how much the prices may exceed the target for
	// division to be worth its time: the first division gains most.
	farAtFirst = 0.75
	farLater   = 0.1
)

// refuted runs the proof level by level; false means only that it was not found.
func (f *refuter) refuted() bool {
	far := farAtFirst
	for level := 1; ; level++ {
		f.price(4, 500*level)
		if f.over() {
			return true
		}
		if level == maxLevels || f.d.best.sum > float64(f.target)+far || len(f.cells) > maxDivided || f.ctx.Err() != nil || !f.divide() {
			return false
		}
		far = farLater
	}
}
