package packing

import (
	"context"
	"math"
	"slices"
	"sync"
)

// model is a set-packing model with its own searches. A view number from 0 tells
// from which corner a search starts.
type model interface {
	cliques
	// greedy offers some packings at once.
	greedy(offer func([]int32))
	// exact looks for a packing of target candidates, or proves that there is none,
	// within a number of nodes.
	exact(view int, prices priced, target, nodes int, stop func() bool) outcome
	// beam looks for a packing of target candidates, keeping width states a level.
	beam(view int, prices priced, target, width int, stop func() bool) []int32
	// improve betters a packing by local search with a number of tries.
	improve(start []int32, seed uint64, target, tries int, stop func() bool) []int32
}

// solver finds the most candidates of a model that exclude one another nowhere.
type solver struct {
	ctx     context.Context
	m       model
	dual    *dualSolver
	workers int
	best    []int32
	floor   int // a packing of so many is known already
	bound   int
	want    int // stop at this count; -1 for the most
	rounds  int // how often the effort is multiplied before giving up
	round   int // rounds done
	// how the bound was last lowered
	by     string
	report func(best []int32, bound int)
}

const (
	byArea       = "the free area has room for no more"
	byRelaxation = "places that exclude one another were weighed together (linear relaxation), and no choice of them gives more"
	bySweep      = "a search of every arrangement that could hold more found none"
	byNoPlace    = "no module has room to stand"
)

func newSolver(ctx context.Context, m model, workers int) *solver {
	s := &solver{ctx: ctx, m: m, workers: workers, bound: m.columns(), want: -1, rounds: maxRounds}
	s.report = func([]int32, int) {}
	s.by = "there are no more places to stand"
	return s
}

// count is the size of the best packing known.
func (s *solver) count() int { return max(s.floor, len(s.best)) }

func (s *solver) done() bool {
	return s.count() >= s.bound || (s.want >= 0 && s.count() >= s.want)
}

func (s *solver) stopped() bool { return s.ctx.Err() != nil }

func (s *solver) offer(found []int32) {
	if len(found) > s.count() {
		s.best = append([]int32{}, found...)
		s.report(s.best, s.bound)
	}
}

func (s *solver) lower(bound int, by string) {
	if bound < s.bound {
		s.bound, s.by = bound, by
		s.report(s.best, s.bound)
	}
}

// maxRounds bounds the effort where time would not.
const maxRounds = 9

const (
	maxNodes = 30_000_000
	maxWidth = 1500
)

// prepare sets up the relaxation, once; it reports whether there is anything to solve.
func (s *solver) prepare() bool {
	if s.m.columns() == 0 {
		s.bound, s.by = 0, "no place is free"
		return false
	}
	if s.dual == nil {
		s.m.greedy(s.offer)
		s.dual = newDualSolver(s.m)
		s.dual.within(s.ctx)
		s.lower(s.dual.bound(), byArea)
	}
	return true
}

// solve runs until the bound is met, the rounds are spent, or the context ends.
// Called again with more rounds it goes on where it stopped.
func (s *solver) solve() {
	if !s.prepare() {
		return
	}
	for ; s.round < s.rounds && !s.done() && !s.stopped(); s.round++ {
		effort := int(math.Pow(3, float64(s.round)))
		s.price(300*effort, s.round)
		if s.done() {
			return
		}
		s.search(s.round, effort)
	}
}

// price improves the bound by linear relaxation.
func (s *solver) price(iterations, round int) {
	for k := 0; k < iterations && !s.stopped(); k += 100 {
		goal := float64(s.count()+1) - slack
		if round > 0 || k > 0 {
			// With room to spare, prices near the optimum make the search short.
			goal = math.Min(goal, math.Floor(s.dual.best.sum-slack)+0.02)
		}
		s.dual.run(goal, 100)
		s.lower(s.dual.bound(), byRelaxation)
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
func (s *solver) search(round, effort int) {
	target := s.bound
	if s.want >= 0 {
		target = min(target, s.want)
	}
	jobs := s.jobs(target, round, effort)
	if target > s.count()+1 {
		jobs = append(jobs, s.jobs(s.count()+1, round, effort)[1:]...)
	}
	for _, j := range jobs {
		spend(s.ctx, j.cost/int64(s.workers))
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
	cost   int64 // nanoseconds, as estimated
	run    func(stop func() bool) outcome
}

func (s *solver) jobs(target, round, effort int) []job {
	prices := priced{slices.Clone(s.dual.best.price), s.dual.best.sum}
	exact := func(view int) job {
		nodes := min(4000*effort, maxNodes)
		return job{target, int64(nodes) * nodeCost(s.m), func(stop func() bool) outcome {
			return s.m.exact(view, prices, target, nodes, stop)
		}}
	}
	beam := func(view int) job {
		width := min(30*effort, maxWidth)
		return job{target, int64(width*target) * 5000, func(stop func() bool) outcome {
			return outcome{found: s.m.beam(view, prices, target, width, stop)}
		}}
	}
	start := s.best
	improve := func(seed int) job {
		return job{target, int64(20*effort) * 200_000, func(stop func() bool) outcome {
			return outcome{found: s.m.improve(start, uint64(seed), target, 20*effort, stop)}
		}}
	}
	a, b := 2*round, 2*round+1
	jobs := []job{exact(a), exact(b), beam(a), beam(b)}
	if len(start) > 0 && round > 0 {
		jobs = append(jobs, improve(a), improve(b))
	}
	return jobs
}

// nodeCost estimates the nanoseconds of one node of an exact search.
func nodeCost(m model) int64 {
	if g, ok := m.(*graph); ok {
		return int64(len(g.members)*(1+len(g.spots)/64)) / 4
	}
	return 800
}

// graphCost estimates the nanoseconds to set up a graph.
func graphCost(candidates int) int64 {
	n := int64(candidates)
	return n * n * 10
}

// race runs jobs on the workers. The first job, in order, that reaches its target
// decides; a proof stops all. Jobs behind a success are stopped, those before it
// are not, so that the outcome does not depend on timing.
func (s *solver) race(jobs []job) []outcome {
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
