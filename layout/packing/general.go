package packing

import (
	"cmp"
	"slices"
)

// maxGraph bounds the candidates of a graph, whose conflicts are held in full.
const maxGraph = 3000

// general solves a plane whose conflicts no single rectangle tells. The families
// of cores bound the count and price the candidates. A candidate that costs more
// than 1 by more than the bound exceeds a target cannot be in a packing of the
// target (reduced cost fixing), so that a search for it may leave it out.
func (s *session) general(p *plane, spots []spot) planeResult {
	if len(spots) == 0 {
		return planeResult{argument: "no place is free"}
	}
	best := takeInOrder(p, spots)
	d := newDualSolver(newFamilies(p, spots))
	d.stop = func() bool { return s.ctx.Err() != nil }
	iterations := 600
	d.run(float64(len(best)+1)-slack, iterations)
	r := planeResult{spots: best, bound: d.bound(), argument: byRelaxation}
	for round := 0; len(r.spots) < r.bound && s.ctx.Err() == nil && round < 3; round++ {
		s.narrowed(p, spots, d, &r, round)
	}
	r.gridBound = r.bound
	return r
}

// narrowed searches the candidates that can be in a packing of the bound, then of
// one less, and so on down to the best.
func (s *session) narrowed(p *plane, spots []spot, d *dualSolver, r *planeResult, round int) {
	cost := make([]float64, len(spots))
	d.m.cover(d.best.price, cost)
	for target := r.bound; target > len(r.spots) && s.ctx.Err() == nil; target-- {
		kept, complete := affordable(spots, cost, d.best.sum-float64(target)+slack)
		g := newGraph(p, kept)
		sv := newSolver(s.ctx, g, s.workers)
		sv.floor, sv.want, sv.bound = len(r.spots), target, target
		sv.rounds = 3 + 2*round
		sv.solve()
		if len(sv.best) > len(r.spots) {
			r.spots = pick(g.spots, sv.best)
			if s.improved != nil {
				s.improved(r.spots, r.bound)
			}
		}
		if complete && sv.bound < target && r.bound == target {
			r.bound, r.argument = sv.bound, sv.by
		}
	}
}

// affordable keeps the candidates of cost at most 1 + excess; complete is false
// when only the cheapest of those could be kept.
func affordable(spots []spot, cost []float64, excess float64) (kept []spot, complete bool) {
	var order []int
	for i, c := range cost {
		if c <= 1+excess {
			order = append(order, i)
		}
	}
	complete = len(order) <= maxGraph
	if !complete {
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(cost[a], cost[b]) })
		order = order[:maxGraph]
	}
	for _, i := range order {
		kept = append(kept, spots[i])
	}
	return kept, complete
}

// takeInOrder takes candidates from each corner as they fit.
func takeInOrder(p *plane, spots []spot) []spot {
	var best []spot
	order := slices.Clone(spots)
	for _, v := range views {
		slices.SortStableFunc(order, func(a, b spot) int { return v.compare(a.vec, b.vec) })
		var out []spot
		for _, c := range order {
			if !slices.ContainsFunc(out, func(t spot) bool { return p.conflict(c, t) }) {
				out = append(out, c)
			}
		}
		if len(out) > len(best) {
			best = out
		}
	}
	return best
}
