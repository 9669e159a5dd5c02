package packing

import (
	"math"
	"slices"
)

// A bay with slanted walls has no finite set of places that suffices. Two sets of
// squares of one step s stand in for it. With both sides of the envelope multiples
// of s, rounding every position down to its square keeps modules apart; a module
// may then stand in any square where some position is free of walls. Packings of
// such squares include the image of every packing at real positions, so their
// bound holds for real positions. Places at the corners of squares that are free
// themselves give packings. Where both counts agree the count is proved.

// maxSquares bounds the squares along one axis where a step divides all distances,
// maxFitted where it only nearly does.
const (
	maxSquares = 130
	maxFitted  = 50
)

// squares is a division of a plane into squares of a step, from an anchor.
type squares struct {
	p      *plane
	anchor vec
	step   int64
	nx, ny int
}

// baseStep is the greatest step that divides every distance of the plane's zones.
func (p *plane) baseStep() int64 {
	var g int64
	for i := range p.usable {
		for j := range p.usable {
			for _, z := range p.zone[i][j] {
				for _, v := range [4]int64{z.lo.x, z.lo.y, z.hi.x, z.hi.y} {
					g = gcd64(g, abs64(v))
				}
			}
		}
	}
	return g
}

// newSquares divides a plane; the anchor is the least corner of its bounds.
func newSquares(p *plane, step int64) *squares {
	b := p.fields[p.options[0].parts[0].field].bounds
	return &squares{p: p, anchor: b.lo, step: step,
		nx: int(b.w()/step) + 1, ny: int(b.h()/step) + 1}
}

func (q *squares) at(i, j int) vec {
	return vec{q.anchor.x + int64(i)*q.step, q.anchor.y + int64(j)*q.step}
}

// corners lists the places at corners of squares.
func (q *squares) corners() []spot {
	var out []spot
	xs := make([]int64, q.nx)
	for i := range xs {
		xs[i] = q.at(i, 0).x
	}
	for o := range q.p.usable {
		for j := range q.ny {
			y := q.at(0, j).y
			out = appendWithin(out, o, y, xs, q.p.row(o, y))
		}
	}
	return out
}

// halvings is how often a square is halved to find a free position in it.
const halvings = 3

// region is a rectangle of places; half tells along which axes its upper end is
// left out.
type region struct {
	rect
	half [2]bool
}

// somewhereFree reports whether an option may be free of obstacles with its least
// corner somewhere in a region. It may err to true only.
func (p *plane) somewhereFree(opt int, r region, depth int) bool {
	for _, f := range p.fixed {
		for _, z := range p.zone[f.opt][opt] {
			if r.within(z.at(f.vec)) {
				return false
			}
		}
	}
	clear := true
	for _, pt := range p.options[opt].parts {
		blocked, touched := p.fields[pt.field].blocks(pt.rect, r)
		if blocked {
			return false
		}
		if p.fields[pt.field].outside(pt.rect, r.rect) {
			return false
		}
		clear = clear && !touched
	}
	if clear {
		return p.insideAt(opt, r.lo)
	}
	if p.allowed(spot{opt, r.lo}) {
		return true
	}
	if depth == 0 || (r.w() < 2 && r.h() < 2) {
		return true
	}
	for _, part := range r.parts() {
		if p.somewhereFree(opt, part, depth-1) {
			return true
		}
	}
	return false
}

// within reports whether all of a region lies in an open rectangle.
func (r region) within(z rect) bool {
	upper := func(at, end int64, half bool) bool { return at < end || (half && at == end) }
	return z.lo.x < r.lo.x && z.lo.y < r.lo.y && upper(r.hi.x, z.hi.x, r.half[0]) && upper(r.hi.y, z.hi.y, r.half[1])
}

// parts halves a region along each axis along which it is long enough.
func (r region) parts() []region {
	out := []region{r}
	if r.w() > 1 {
		a, b := r, r
		a.hi.x, a.half[0] = (r.lo.x+r.hi.x)/2, true
		b.lo.x = a.hi.x
		out = []region{a, b}
	}
	if r.h() <= 1 {
		return out
	}
	for _, t := range out[:len(out):len(out)] {
		u := t
		u.lo.y = (t.lo.y + t.hi.y) / 2
		out = append(out, u)
	}
	for i := range len(out) / 2 {
		out[i].hi.y, out[i].half[1] = (r.lo.y+r.hi.y)/2, true
	}
	return out
}

// outside reports whether the part's middle is outside, and away from walls,
// wherever in r its origin lies.
func (f *field) outside(part rect, r rect) bool {
	mx, my := (part.lo.x+part.hi.x)/2, (part.lo.y+part.hi.y)/2
	middle := rect{vec{r.lo.x + mx, r.lo.y + my}, vec{r.hi.x + mx + 1, r.hi.y + my + 1}}
	for _, w := range f.walls {
		if w.meets(middle, false) {
			return false
		}
	}
	return !f.inside(middle)
}

// blocks reports whether one wall meets the open rectangle part wherever in r its
// origin lies, and whether any wall touches it anywhere. The origins at which the
// part meets a convex wall form an open convex set, so the corners of r decide;
// those that r leaves out may lie on the set's edge.
func (f *field) blocks(part rect, r region) (blocked, touched bool) {
	swept := rect{vec{part.lo.x + r.lo.x, part.lo.y + r.lo.y}, vec{part.hi.x + r.hi.x, part.hi.y + r.hi.y}}
	for _, w := range f.walls {
		if !w.meets(swept, true) {
			continue
		}
		touched = true
		if w.meets(part.at(r.lo), true) && w.meets(part.at(r.hi), !r.half[0] && !r.half[1]) &&
			w.meets(part.at(vec{r.lo.x, r.hi.y}), !r.half[1]) && w.meets(part.at(vec{r.hi.x, r.lo.y}), !r.half[0]) {
			return true, true
		}
	}
	return false, touched
}

// meets reports whether the wall meets the open, or closed, rectangle: no edge
// direction of either separates them.
func (w wall) meets(r rect, open bool) bool {
	lo, hi := w[0], w[0]
	for _, v := range w {
		lo, hi = vec{min(lo.x, v.x), min(lo.y, v.y)}, vec{max(hi.x, v.x), max(hi.y, v.y)}
	}
	apart := func(a, b int64) bool { return a > b || (open && a == b) }
	if apart(lo.x, r.hi.x) || apart(r.lo.x, hi.x) || apart(lo.y, r.hi.y) || apart(r.lo.y, hi.y) {
		return false
	}
	for i, p := range w {
		q := w[(i+1)%len(w)]
		if p.x == q.x || p.y == q.y {
			continue
		}
		if w.separates(p, q, r, open) {
			return false
		}
	}
	return true
}

// separates reports whether the line p-q has the wall on one side and r on the other.
func (w wall) separates(p, q vec, r rect, open bool) bool {
	side := func(v vec) int { return cross(p, q, v) }
	wallMin, wallMax := 0, 0
	for _, v := range w {
		wallMin, wallMax = min(wallMin, side(v)), max(wallMax, side(v))
	}
	rMin, rMax := 1, -1
	for _, v := range [4]vec{r.lo, r.hi, {r.lo.x, r.hi.y}, {r.hi.x, r.lo.y}} {
		rMin, rMax = min(rMin, side(v)), max(rMax, side(v))
	}
	if open {
		return (wallMax <= 0 && rMin >= 0) || (wallMin >= 0 && rMax <= 0)
	}
	return (wallMax <= 0 && rMin > 0) || (wallMin >= 0 && rMax < 0)
}

// columnWork bounds the steps of one search of columns before places are priced, and
// columnWidth the states of one column; more are worth it afterwards.
const (
	columnWork  = 200_000
	columnWidth = 300
)

// slantedPlane solves a plane with slanted walls on two sets of squares. The prices
// come first, since they bound the count in little time; then packings and bounds
// are bettered in turn.
func (s *session) slantedPlane(p *plane) planeResult {
	steps := p.steps()
	r := planeResult{gridBound: math.MaxInt, bound: p.areaBound(), argument: byArea}
	r.spots = s.byContacts(p, r.bound)
	s.hear(&r, r.bound)
	_, plain := p.envelopes()
	if !plain {
		s.rebuildAll(p, &r, rebuilds/4)
	}
	c, upright := p.byColumns(s.ctx)
	s.stacked(c, upright, columnWidth, columnWork, &r)
	if s.enough(&r) {
		return r
	}
	ras := newRaster(s.ctx, p, steps[0])
	e := s.newSlant(p, steps[0], ras)
	e.bound(s, 0, &r)
	if !plain {
		s.rebuildAll(p, &r, rebuilds)
		e.refute(s, &r)
	}
	if r.bound == len(r.spots)+1 {
		s.stacked(c, upright, 10*columnWidth, 2*columnWork, &r)
	}
	if s.enough(&r) {
		return r
	}
	s.alternate(e, 2, &r)
	if s.enough(&r) {
		return r
	}
	s.squeeze(p, &r)
	if plain {
		s.rebuildAll(p, &r, rebuilds)
	}
	if ras = ras.finer(); len(steps) > 1 && ras != nil && !s.enough(&r) && s.ctx.Err() == nil {
		fine := s.newSlant(p, steps[1], ras)
		fine.bound(s, 0, &r)
		s.alternate(fine, 1, &r)
	}
	if plain {
		e.refute(s, &r)
	}
	for rounds := 3; rounds <= 4 && e.exact && r.gridBound > len(r.spots) && !s.enough(&r); rounds++ {
		e.places(s, rounds, &r)
	}
	return r
}

// alternate betters the packing and the bound on one set of squares in turn.
func (s *session) alternate(e *slant, rounds int, r *planeResult) {
	for k := 1; k <= rounds && !s.enough(r) && s.ctx.Err() == nil; k++ {
		e.places(s, k, r)
		if !s.enough(r) {
			e.bound(s, k, r)
		}
	}
}

// slant is the pair of models on the squares of one step.
type slant struct {
	q      *squares
	exact  bool // the step divides all distances
	spots  []spot
	ras    *raster
	cover  []spot
	env    []rect
	plain  bool
	late   bool    // the time was up before the squares were known
	placer *solver // of places, kept so that rounds add up
	bounds *solver // of squares
	// byCores prices squares where gaps are unequal or strips free.
	byCores *dualSolver
}

func (s *session) newSlant(p *plane, step int64, ras *raster) *slant {
	q := newSquares(p, step)
	e := &slant{q: q, ras: ras, exact: p.baseStep()%step == 0, spots: q.corners()}
	e.env, e.plain = p.envelopes()
	e.cover = ras.reachable(costing(s.ctx, ras.rowCost()))
	if e.late = s.ctx.Err() != nil; e.late {
		return e
	}
	if e.plain && !e.exact {
		if more, ok := candidates(p); ok && len(more) < maxSpots/6 {
			e.spots = append(e.spots, more...)
		}
	}
	if e.plain {
		e.placer = s.newSolver(newGrid(e.spots, e.env), e.spots)
		e.bounds = newSolver(s.ctx, newGrid(e.cover, ras.floored(e.env)), s.workers)
	}
	return e
}

// places looks for a better packing at the corners of squares.
func (e *slant) places(s *session, rounds int, r *planeResult) {
	if e.late {
		return
	}
	if !e.plain {
		got := s.general(e.q.p, e.spots, r.spots)
		if len(got.spots) > len(r.spots) {
			r.spots = got.spots
		}
		return
	}
	sv := e.placer
	sv.floor, sv.bound, sv.rounds = max(sv.floor, len(r.spots)), min(sv.bound, r.bound), rounds
	sv.solve()
	if len(sv.best) > len(r.spots) {
		r.spots = pick(e.spots, sv.best)
	}
	if e.exact && sv.bound <= len(r.spots) {
		r.gridBound, r.gridStep = len(r.spots), e.q.step
	}
}

// bound bounds packings at real positions by packings of squares: by prices alone
// in no rounds, and by search in more. It turns a packing of squares that is better
// than any known into real positions where it can.
func (e *slant) bound(s *session, rounds int, r *planeResult) {
	if e.late {
		return
	}
	if !e.plain {
		e.boundByCores(s, r)
		return
	}
	sv := e.bounds
	sv.floor = max(sv.floor, len(r.spots))
	sv.rounds = rounds
	if rounds == 0 {
		if sv.prepare() {
			sv.price(600, 0)
		}
	} else {
		sv.solve()
	}
	if sv.bound < r.bound {
		r.bound, r.argument = sv.bound, sv.by
	}
	if len(sv.best) > len(r.spots) {
		if out := e.q.p.settled(e.ras.unmirrored(pick(e.cover, sv.best))); len(out) > len(r.spots) {
			r.spots = out
		}
	}
}

// boundByCores prices squares by the families of cores.
func (e *slant) boundByCores(s *session, r *planeResult) {
	if len(e.cover) == 0 {
		r.bound, r.argument = 0, byNoPlace
		return
	}
	d := e.cores(s)
	d.run(float64(len(r.spots)+1)-slack, max(100, 6_000_000/(1+len(e.cover)*len(e.byCores.m.(*families).grids))))
	if b := d.bound(); b < r.bound {
		r.bound, r.argument = b, byRelaxation
	}
}

// cores are prices of squares by the families of cores, kept so that rounds add up.
func (e *slant) cores(s *session) *dualSolver {
	if e.byCores == nil {
		e.byCores = newDualSolver(e.ras.grids(e.cover, e.families()))
	}
	e.byCores.within(s.ctx)
	return e.byCores
}

// families lists the families of cores to price by: the envelopes where they tell all.
func (e *slant) families() [][]rect {
	if e.plain {
		env, _ := e.ras.p.envelopes()
		return [][]rect{env}
	}
	return fewer(e.ras.p.coreFamilies(), len(e.cover))
}

// steps lists the steps worth trying, coarse first.
func (p *plane) steps() []int64 {
	b := p.fields[p.options[0].parts[0].field].bounds
	size := max(b.w(), b.h())
	base := p.baseStep()
	if base == 0 || size/base > maxSquares {
		return []int64{p.fittingStep(size, maxFitted)}
	}
	if base%2 == 0 {
		return []int64{base, base / 2}
	}
	return []int64{base}
}

// stepWithin is a step with at most so many squares along the bay.
func (p *plane) stepWithin(squares int64) int64 {
	b := p.fields[p.options[0].parts[0].field].bounds
	if base := p.baseStep(); base > 0 && max(b.w(), b.h())/base <= squares {
		return base
	}
	return p.fittingStep(max(b.w(), b.h()), squares)
}

// fittingStep is a step with at most so many squares along the bay of which the sides
// of all cores are nearly whole multiples.
func (p *plane) fittingStep(size, squares int64) (best int64) {
	var sides []int64
	for _, cores := range p.coreFamilies() {
		for _, c := range cores {
			sides = append(sides, c.w(), c.h())
		}
	}
	bestLoss := math.Inf(1)
	least := ceilDiv(size, squares)
	// A multiple of a few halvings, so that it can be divided.
	defer func() { best = max(8, best/8*8) }()
	for _, side := range sortedUnique(slices.Clone(sides)) {
		for k := int64(1); side/k >= least; k++ {
			if loss := lossBy(side/k, sides); loss < bestLoss {
				best, bestLoss = side/k, loss
			}
		}
	}
	if best == 0 {
		return least
	}
	return best
}

// lossBy sums what sides lose, as a part of them, when cut to multiples of a step.
func lossBy(step int64, sides []int64) float64 {
	loss := 0.0
	for _, v := range sides {
		loss += 1 - float64(v/step*step)/float64(v)
	}
	return loss
}

// refute tries to prove that no packing at real positions has as many modules as the
// bound, and so on down, by prices that leave out and divide oblongs.
func (e *slant) refute(s *session, r *planeResult) {
	for !e.late && !s.enough(r) && (!e.plain || r.bound == len(r.spots)+1) {
		f := newRefuter(s.ctx, e.ras, e.families(), e.cover, e.cores(s), r.bound)
		if !f.refuted() {
			return
		}
		r.bound, r.argument = r.bound-1, byRelaxation
	}
}
