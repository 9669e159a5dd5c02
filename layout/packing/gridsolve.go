package packing

import (
	"context"
	"math"
	"sync"
)

// gridSolver finds the most candidates of a grid that do not overlap.
type gridSolver struct {
	ctx     context.Context
	g       *grid
	dual    *dualSolver
	workers int
	best    []int32
	floor   int // a packing of so many is known already
	bound   int
	want    int // stop at this count; -1 for the most
	// how the bound was last lowered
	by     string
	report func(best []int32, bound int)
}

const (
	byRelaxation = "linear relaxation of the set-packing model over clique rows"
	bySweep      = "exhaustive sweep of skylines under prices from the linear relaxation"
)

func newGridSolver(ctx context.Context, g *grid, workers int) *gridSolver {
	s := &gridSolver{ctx: ctx, g: g, workers: workers, bound: len(g.spots), want: -1}
	s.report = func([]int32, int) {}
	s.by = "number of places"
	return s
}

// count is the size of the best packing known.
func (s *gridSolver) count() int { return max(s.floor, len(s.best)) }

func (s *gridSolver) done() bool {
	return s.count() >= s.bound || (s.want >= 0 && s.count() >= s.want)
}

func (s *gridSolver) stopped() bool { return s.ctx.Err() != nil }

func (s *gridSolver) offer(found []int32) {
	if len(found) > s.count() {
		s.best = append([]int32{}, found...)
		s.report(s.best, s.bound)
	}
}

func (s *gridSolver) lower(bound int, by string) {
	if bound < s.bound {
		s.bound, s.by = bound, by
		s.report(s.best, s.bound)
	}
}

// rounds is how often the effort is multiplied before giving up; with a limit of
// seconds the clock ends most hard cases first.
const rounds = 9

// solve runs until the bound is met, the rounds are spent, or the context ends.
func (s *gridSolver) solve() {
	if len(s.g.spots) == 0 {
		s.bound, s.by = 0, "no place is free"
		return
	}
	s.greedy()
	s.dual = newDualSolver(s.g)
	effort := 1
	for round := 0; round < rounds && !s.done() && !s.stopped(); round++ {
		s.price(300*effort, round)
		if s.done() {
			return
		}
		s.search(round, effort)
		effort *= 3
	}
}

// price improves the bound by linear relaxation.
func (s *gridSolver) price(iterations, round int) {
	for k := 0; k < iterations && !s.stopped(); k += 100 {
		goal := float64(s.count()+1) - slack
		if round > 0 || k > 0 {
			// With room to spare, prices near the optimum make the search short.
			goal = math.Min(goal, math.Floor(s.dual.best.sum-slack)+0.02)
		}
		s.dual.run(goal, 100)
		s.lower(int(math.Floor(s.dual.best.sum+slack)), byRelaxation)
		if s.done() {
			return
		}
	}
}

// outcome is what one search came to.
type outcome struct {
	found  []int32
	proved bool // no packing of the target count exists
}

// search looks for a packing that meets the bound, from several corners.
func (s *gridSolver) search(round, effort int) {
	target := s.bound
	if s.want >= 0 {
		target = min(target, s.want)
	}
	jobs := s.jobs(target, round, effort)
	if target > s.count()+1 {
		jobs = append(jobs, s.jobs(s.count()+1, round, effort)[1:]...)
	}
	results := s.race(jobs)
	for _, r := range results {
		s.offer(r.found)
	}
	for k, r := range results {
		if r.proved {
			s.lower(jobs[k].target-1, bySweep)
		}
	}
}

// job is a search with a fixed effort.
type job struct {
	target int
	run    func(stop func() bool) outcome
}

func (s *gridSolver) jobs(target, round, effort int) []job {
	sweepFrom := func(v view, nodes int) job {
		return job{target, func(stop func() bool) outcome {
			w := newSweep(v.grid(s.g), []priced{v.prices(s.g, s.dual.best)}, target, nodes, stop)
			found, proved := w.run()
			return outcome{found, proved && found == nil}
		}}
	}
	beamFrom := func(v view, width int) job {
		return job{target, func(stop func() bool) outcome {
			return outcome{found: newBeam(v.grid(s.g), v.prices(s.g, s.dual.best), target, width, stop).run()}
		}}
	}
	a, b := views[(2*round)%8], views[(2*round+1)%8]
	return []job{sweepFrom(a, 4000*effort), sweepFrom(b, 4000*effort), beamFrom(a, 30*effort), beamFrom(b, 30*effort)}
}

// race runs jobs on the workers. The first job, in order, that reaches its target
// decides; a proof stops all. Jobs behind a success are stopped, those before it
// are not, so that the outcome does not depend on timing.
func (s *gridSolver) race(jobs []job) []outcome {
	results := make([]outcome, len(jobs))
	r := &raceState{winner: len(jobs)}
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(s.workers, len(jobs)) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range next {
				out := jobs[k].run(func() bool { return s.stopped() || r.over(k) })
				r.finish(k, out, jobs[k].target)
				results[k] = out
			}
		}()
	}
	for k := range jobs {
		if r.over(k) {
			break
		}
		next <- k
	}
	close(next)
	wg.Wait()
	r.discardAfter(results)
	return results
}

type raceState struct {
	sync.Mutex
	winner int
	proof  bool
}

func (r *raceState) over(k int) bool {
	r.Lock()
	defer r.Unlock()
	return r.proof || k > r.winner
}

func (r *raceState) finish(k int, out outcome, target int) {
	r.Lock()
	defer r.Unlock()
	r.proof = r.proof || out.proved
	if len(out.found) >= target {
		r.winner = min(r.winner, k)
	}
}

// discardAfter drops what jobs behind the winner may or may not have found.
func (r *raceState) discardAfter(results []outcome) {
	for k := r.winner + 1; k < len(results); k++ {
		results[k] = outcome{}
	}
}

// greedy fills the grid from each corner, taking at each free point the first
// candidate that fits in several orders.
func (s *gridSolver) greedy() {
	for _, v := range views {
		g := v.grid(s.g)
		for prefer := range 3 {
			s.offer(greedyFill(g, s.g.spots, prefer))
		}
	}
}

// greedyFill sweeps a grid; prefer 0 takes candidates as they come, 1 the last
// option first, 2 the widest that leaves the neighbour column alone.
func greedyFill(g *grid, spots []spot, prefer int) []int32 {
	at := cornerLists(g)
	top := make([]int32, g.nx)
	var out []int32
	for {
		x := lowestOf(top)
		y := int(top[x])
		if y >= g.ny {
			return out
		}
		taken := int32(-1)
		for _, c := range at[y*g.nx+x] {
			if flatUnder(top, g.blocks[c]) && (taken < 0 || better(g, top, c, taken, prefer)) {
				taken = c
			}
		}
		if taken < 0 {
			top[x]++
			continue
		}
		b := g.blocks[taken]
		for k := b.x0; k < b.x1; k++ {
			top[k] = b.y1
		}
		out = append(out, taken)
	}
}

func better(g *grid, top []int32, c, taken int32, prefer int) bool {
	switch prefer {
	case 1:
		return true
	case 2:
		return level(g, top, c) && !level(g, top, taken)
	}
	return false
}

// level reports whether the top of a candidate would be flush with a neighbour.
func level(g *grid, top []int32, c int32) bool {
	b := g.blocks[c]
	return (b.x0 > 0 && top[b.x0-1] == b.y1) || (int(b.x1) < g.nx && top[b.x1] == b.y1) || int(b.y1) == g.ny
}

// cornerLists lists candidates by the point of their lower left corner.
func cornerLists(g *grid) [][]int32 {
	at := make([][]int32, g.nx*g.ny)
	for k, b := range g.blocks {
		p := int(b.y0)*g.nx + int(b.x0)
		at[p] = append(at[p], int32(k))
	}
	return at
}
