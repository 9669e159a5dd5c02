package packing

import (
	"math"
	"sort"
)

// planeResult is what is known about one planar problem.
type planeResult struct {
	spots     []spot
	bound     int // valid for any positions
	gridBound int // valid for positions on multiples of gridStep
	gridStep  int64
	argument  string
}

// plane solves one planar problem within its share of the time left.
func (s *session) plane(p *plane) planeResult {
	if s.ctx.Err() != nil {
		return s.hurried(p)
	}
	defer s.share()()
	if r, ok := s.board(p); ok {
		return r
	}
	if p.slanted() {
		return s.slantedPlane(p)
	}
	env, plain := p.envelopes()
	var start []spot
	if !plain {
		start = s.byContacts(p, p.areaBound())
		s.hear(&planeResult{spots: start}, p.areaBound())
	}
	spots, ok := candidates(p)
	if !ok || (!plain && len(spots) > maxSpots/3) {
		return s.slantedPlane(p)
	}
	if plain {
		return s.solveModel(p, newGrid(spots, env), spots)
	}
	return s.general(p, spots, start)
}

// shareOfTime is the part of the time left that one plane may take, so that the
// planes of a stack all get some.
const shareOfTime = 3

// share limits the session to a plane's share of the work left; the function returned
// lifts the limit. A sole plane gets all the time.
func (s *session) share() func() {
	if s.sole {
		return s.portion(1, true)
	}
	return s.portion(1.0/shareOfTime, true)
}

// layersShare is the part of the time for a floor that finding layers may take
// where the bound in space needs time too.
const layersShare = 0.6

// hurried packs a plane when the time is up: greedily, with the area bound.
func (s *session) hurried(p *plane) planeResult {
	q := newSquares(p, p.coarseStep())
	r := planeResult{spots: s.takeInOrder(p, q.corners()), bound: p.areaBound(), argument: byArea, gridBound: math.MaxInt}
	r.bound = max(r.bound, len(r.spots))
	return r
}

// coarseStep divides a bay into some thirty squares along its longer side.
func (p *plane) coarseStep() int64 {
	b := p.fields[p.options[0].parts[0].field].bounds
	return max(1, max(b.w(), b.h())/30)
}

// areaBound divides the area of the bay by that of the least body.
func (p *plane) areaBound() int {
	least, most := int64(math.MaxInt64), 0.0
	for _, o := range p.options[:p.usable] {
		least = min(least, o.w*o.h)
		var area float64
		for _, r := range p.fields[o.parts[0].field].outer {
			area += math.Abs(float64(twiceArea(r))) / 2
		}
		most = math.Max(most, area)
	}
	return int(most / float64(least))
}

// areaWorth is the greatest worth of bodies whose areas add up to the area of the bay.
func (p *plane) areaWorth(worth []float64) float64 {
	most, dearest := 0.0, 0.0
	for i, o := range p.options[:p.usable] {
		var area float64
		for _, r := range p.fields[o.parts[0].field].outer {
			area += math.Abs(float64(twiceArea(r))) / 2
		}
		most = math.Max(most, area)
		dearest = math.Max(dearest, worth[i]/(float64(o.w)*float64(o.h)))
	}
	return most * dearest
}

// planeBound is a bound alone.
func (s *session) planeBound(p *plane) int {
	_, plain := p.envelopes()
	if plain && !p.slanted() {
		return s.plane(p).bound
	}
	if s.ctx.Err() != nil {
		return p.areaBound()
	}
	defer s.share()()
	r := planeResult{bound: p.areaBound(), argument: byArea}
	step := p.steps()[0]
	s.newSlant(p, step, newRaster(s.ctx, p, step)).bound(s, 0, &r)
	return r.bound
}

func (s *session) solveModel(p *plane, m model, spots []spot) planeResult {
	sv := s.newSolver(m, spots)
	return s.through(p, sv, spots, planeResult{})
}

const (
	// roundsBefore is how many rounds of a solver come before a search of columns, which
	// is worth its time where little may be left free.
	roundsBefore = 5
	// wideColumnWork and wideColumns bound that search.
	wideColumnWork = 2_000_000
	wideColumns    = 5000
)

// through solves the places of a plane whose walls lie along the axes, from a packing
// that may be known: some rounds, then by columns, then the rest.
func (s *session) through(p *plane, sv *solver, spots []spot, r planeResult) planeResult {
	sv.rounds = roundsBefore
	sv.solve()
	if !sv.done() && !sv.stopped() {
		c, upright := p.byColumns(s.ctx)
		q := planeResult{spots: r.spots, bound: sv.bound}
		if len(sv.best) > len(q.spots) {
			q.spots = pick(spots, sv.best)
		}
		s.stacked(c, upright, wideColumns, wideColumnWork, &q)
		sv.lower(q.bound, byStacks)
		if len(q.spots) > sv.count() {
			r.spots, sv.floor = q.spots, len(q.spots)
		}
		sv.rounds = maxRounds
		sv.solve()
	}
	if len(sv.best) > len(r.spots) {
		r.spots = pick(spots, sv.best)
	}
	r.bound, r.gridBound, r.argument = sv.bound, sv.bound, sv.by
	return r
}

// newSolver is a solver that stops at the target and reports what it finds.
func (s *session) newSolver(m model, spots []spot) *solver {
	sv := newSolver(s.ctx, m, s.workers)
	sv.want = s.want()
	if s.improved != nil {
		sv.report = func(best []int32, bound int) { s.improved(pick(spots, best), bound) }
	}
	return sv
}

func pick(spots []spot, chosen []int32) []spot {
	out := make([]spot, len(chosen))
	for i, c := range chosen {
		out[i] = spots[c]
	}
	return out
}

// maxSpots bounds the candidates of one plane.
const maxSpots = 60_000

// candidates lists spots that suffice in a plane whose walls lie along the axes.
// ok is false when there are too many to work with.
func candidates(p *plane) (out []spot, ok bool) {
	xs, ok1 := axisPatterns(p)
	ys, ok2 := axisPatterns(p.transposed())
	if !ok1 || !ok2 {
		return nil, false
	}
	total := 0
	for i := range xs {
		total += len(xs[i]) * len(ys[i])
	}
	if total > 8*maxSpots {
		return nil, false
	}
	for i := range p.usable {
		for _, y := range ys[i] {
			out = appendWithin(out, i, y, xs[i], p.row(i, y))
		}
	}
	return out, len(out) <= maxSpots
}

// appendWithin adds the spots of a row whose x lies in one of the intervals.
func appendWithin(out []spot, opt int, y int64, xs []int64, ivs []span64) []spot {
	for _, iv := range ivs {
		for k := sort.Search(len(xs), func(k int) bool { return xs[k] >= iv.lo }); k < len(xs) && xs[k] <= iv.hi; k++ {
			out = append(out, spot{opt, vec{xs[k], y}})
		}
	}
	return out
}

func abs64(a int64) int64 {
	if a < 0 {
		return -a
	}
	return a
}
