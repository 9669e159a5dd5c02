package packing

import (
	"cmp"
	"slices"
)

// maxGraph bounds the candidates of a graph, whose conflicts are held in full.
const maxGraph = 3000

// general solves a plane whose conflicts no single rectangle tells, from a packing
// that may be known. The families
// of cores bound the count and price the candidates. A candidate that costs more
// than 1 by more than the bound exceeds a target cannot be in a packing of the
// target (reduced cost fixing), so that a search for it may leave it out.
func (s *session) general(p *plane, spots, start []spot) planeResult {
	if len(spots) == 0 {
		return planeResult{spots: start, bound: len(start), argument: byNoPlace}
	}
	r := planeResult{spots: s.takeInOrder(p, spots)}
	if len(start) > len(r.spots) {
		r.spots = start
	}
	s.hear(&r, len(spots))
	r.bound = len(spots)
	s.rebuildAll(p, &r, rebuilds/2)
	d := newDualSolver(newFamilies(p, spots))
	d.within(s.ctx)
	for round := 0; round < generalRounds && s.ctx.Err() == nil; round++ {
		d.run(float64(len(r.spots)+1)-slack, 500*(1+round*round))
		if r.argument == "" || d.bound() < r.bound {
			r.bound, r.argument = d.bound(), byRelaxation
		}
		if s.enough(&r) {
			break
		}
		s.climb(p, spots, d, &r, round)
		s.refute(p, spots, d, &r, round)
		if s.enough(&r) {
			break
		}
	}
	r.gridBound = r.bound
	return r
}

// generalRounds bounds how often prices are refined and the search is repeated.
const generalRounds = 5

func (s *session) enough(r *planeResult) bool {
	want := s.want()
	return len(r.spots) >= r.bound || (want >= 0 && len(r.spots) >= want)
}

func (s *session) hear(r *planeResult, bound int) {
	if s.improved != nil {
		s.improved(r.spots, bound)
	}
}

// climb searches for one module more as long as one is found.
func (s *session) climb(p *plane, spots []spot, d *dualSolver, r *planeResult, round int) {
	for !s.enough(r) && s.ctx.Err() == nil {
		found, _ := s.narrowed(p, spots, d, r, len(r.spots)+1, 1+round)
		if !found {
			return
		}
	}
}

// refute tries to prove that the bound cannot be met, and so on down.
func (s *session) refute(p *plane, spots []spot, d *dualSolver, r *planeResult, round int) {
	for !s.enough(r) && s.ctx.Err() == nil {
		if found, refuted := s.narrowed(p, spots, d, r, r.bound, 2+round); found || !refuted {
			return
		}
	}
}

// narrowed searches the candidates that can be in a packing of the target.
func (s *session) narrowed(p *plane, spots []spot, d *dualSolver, r *planeResult, target, rounds int) (found, refuted bool) {
	cost := make([]float64, len(spots))
	d.m.cover(d.best.price, cost)
	kept, complete := affordable(spots, cost, d.best.sum-float64(target)+slack)
	spend(s.ctx, graphCost(len(kept)))
	g := newGraph(p, kept)
	sv := newSolver(s.ctx, g, s.workers)
	sv.floor, sv.want, sv.bound, sv.rounds = len(r.spots), target, min(target, len(kept)), rounds
	sv.solve()
	if len(sv.best) > len(r.spots) {
		r.spots = pick(g.spots, sv.best)
		s.hear(r, r.bound)
	}
	refuted = complete && sv.bound < target
	if refuted && target == r.bound {
		// Fewer than the target may use candidates that were left out.
		r.bound, r.argument = target-1, sv.by
	}
	return len(r.spots) >= target, refuted
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
func (s *session) takeInOrder(p *plane, spots []spot) []spot {
	var best []spot
	order := slices.Clone(spots)
	for _, v := range views {
		slices.SortStableFunc(order, func(a, b spot) int { return v.compare(a.vec, b.vec) })
		var out []spot
		for k, c := range order {
			if k%1024 == 1023 {
				if spend(s.ctx, int64(1024*(20+10*len(out)))); s.ctx.Err() != nil {
					break
				}
			}
			if !slices.ContainsFunc(out, func(t spot) bool { return p.conflict(c, t) }) {
				out = append(out, c)
			}
		}
		if len(out) > len(best) {
			best = out
		}
		if s.ctx.Err() != nil {
			break
		}
	}
	return best
}
