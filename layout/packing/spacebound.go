package packing

import (
	"context"
	"fmt"
	"math"
)

// Any packing of a floor in space can be read two ways, and each gives a bound for
// modules at any height, stacked in layers or not.
//
// Level cuts: with planes one rise of the lowest posture apart every body is cut,
// and the bodies cut by one plane form a planar packing.
//
// Heights in shares: give posture i a share u(i) of the height such that modules
// standing one over the other never have shares of more than 1 in all. Put every
// body as high as the shares of those below it say; that is a packing again, of
// height 1, since the rises along any chain of bodies fit the true height. A level
// plane then cuts a planar packing, and over all planes a body of posture i counts
// u(i) times. So if no planar packing has a sum of 1/u(i) over its bodies above W,
// no packing in space has more than W bodies. Such shares are dual feasible
// functions of the rises: Fekete and Schepers (2004); from memory, not checked
// against the text.

// spaceBound is the lesser of both bounds and its argument.
func (k *stacker) spaceBound() (int, string) {
	several := k.severalCeilings()
	lift := k.s.portion(0.7, several)
	bound, why := k.mixBound(), byMix
	if bound == math.MaxInt {
		bound, why = k.bestShares(), byShares
	}
	lift()
	if several || k.s.ctx.Err() != nil {
		// Under one ceiling the shares are always the better.
		if b, cuts := k.cutBound(); b < bound {
			bound, why = b, cuts
		}
	}
	return bound, why
}

// severalCeilings reports whether the levels of the floor are of unequal height.
func (k *stacker) severalCeilings() bool {
	for _, l := range k.f.levels {
		if k.s.lat.steps(l.CeilingMM) != k.f.ceiling {
			return true
		}
	}
	return false
}

// bestShares is the least bound by any way of sharing the height.
func (k *stacker) bestShares() int {
	bound := math.MaxInt
	for _, shares := range k.shares() {
		bound = min(bound, k.sharedBound(shares))
	}
	return bound
}

const byShares = "the height was shared out among modules one over another, and no level plane has room for more"

// cutBound sums the planar bounds of level cuts.
func (k *stacker) cutBound() (int, string) {
	low := k.lowestRise()
	total := 0
	for t := k.f.z + low; t <= k.f.ceiling; t += low {
		build := planeBuilder{s: k.s, bay: k.bay, f: k.f}
		sign := build.cutSignature(t)
		if _, ok := k.cuts[sign]; !ok {
			k.cuts[sign] = k.oneCut(t)
		}
		total += k.cuts[sign]
	}
	return total, fmt.Sprintf("%d level planes cut every module, and their bounds add up to no more", (k.f.ceiling-k.f.z)/low)
}

// oneCut bounds the bodies cut by the level plane at height t.
func (k *stacker) oneCut(t int64) int {
	w := k.weigherAt(t)
	if w.p == nil {
		return 0
	}
	if _, plain := w.p.envelopes(); plain && !w.p.slanted() {
		return k.s.planeBound(w.p)
	}
	defer k.s.portion(0.6, true)()
	sum := k.s.weighed(w, w.p.worths(func(int) float64 { return 1 }))
	return min(w.p.areaBound(), int(math.Floor(math.Min(sum, maxWorth)+slack)))
}

// shares lists ways of sharing the height, by posture: one part of as many as stand
// over one another alone, scaled to what mixed stacks need, and the rise as a part
// of the highest stack.
func (k *stacker) shares() [][]float64 {
	height := k.f.ceiling - k.f.z
	var rises []int64
	for i := range k.s.p.Postures {
		if r := k.s.rise(&k.s.p.Postures[i]); r <= height {
			rises = append(rises, r)
		}
	}
	rises = sortedUnique(rises)
	if len(rises) == 0 || len(rises) > 4 || height/rises[0] > 20 {
		return [][]float64{k.scaled(func(r int64) float64 { return float64(r) / float64(height) })}
	}
	even := func(r int64) float64 { return 1 / float64(height/r) }
	plain := func(r int64) float64 { return float64(r) }
	out := [][]float64{k.scaled(over(even, tallest(rises, height, even)))}
	if len(rises) > 1 {
		out = append(out, k.scaled(over(plain, tallest(rises, height, plain))))
	}
	return out
}

func over(size func(int64) float64, whole float64) func(int64) float64 {
	return func(r int64) float64 { return size(r) / whole }
}

// scaled applies a share to each posture; those too high get the whole.
func (k *stacker) scaled(share func(rise int64) float64) []float64 {
	out := make([]float64, len(k.s.p.Postures))
	for i := range out {
		r := k.s.rise(&k.s.p.Postures[i])
		out[i] = 1
		if k.f.z+r <= k.f.ceiling {
			out[i] = share(r)
		}
	}
	return out
}

// tallest is the greatest sum of sizes of a stack whose rises fit the height.
func tallest(rises []int64, height int64, size func(int64) float64) float64 {
	if len(rises) == 0 {
		return 0
	}
	best := 0.0
	for n := int64(0); n*rises[0] <= height; n++ {
		best = math.Max(best, float64(n)*size(rises[0])+tallest(rises[1:], height-n*rises[0], size))
	}
	return best
}

// sharedBound bounds any packing by one plane in which a body counts one over its share.
func (k *stacker) sharedBound(shares []float64) int {
	w := k.weigherAt(k.f.z)
	p := w.p
	if p == nil {
		return 0
	}
	worth := p.worths(func(posture int) float64 { return 1 / shares[posture] })
	defer k.s.portion(0.6, true)()
	sum := k.s.weighed(w, worth)
	return int(math.Floor(math.Min(sum, maxWorth) + slack))
}

// worths are what the options are worth where postures are worth that; an option for several is worth the dearest.
func (p *plane) worths(of func(posture int) float64) []float64 {
	worth := make([]float64, p.usable)
	for i := range worth {
		worth[i] = of(p.options[i].posture)
		for _, t := range p.options[i].same {
			worth[i] = math.Max(worth[i], of(t.posture))
		}
	}
	return worth
}

// maxWorth keeps a sum that is not bounded yet within an int.
const maxWorth = 1 << 30

// weigher is a planar problem with the squares in which some real position is free,
// found once for several weights.
type weigher struct {
	p     *plane // nil where no posture has any floor
	q     *raster
	cover []spot
	cores *families
	// prices are kept from one choice of worths to the next.
	prices *dualSolver
}

// weigherAt is the weigher of the bodies cut at height t.
func (k *stacker) weigherAt(t int64) *weigher {
	build := planeBuilder{s: k.s, bay: k.bay, f: k.f}
	sign := build.cutSignature(t)
	if w, ok := k.weighers[sign]; ok {
		return w
	}
	w := &weigher{}
	w.p, _ = build.cut(t)
	k.weighers[sign] = w
	return w
}

// prepare finds the squares; it reports false when the time was up first.
func (w *weigher) prepare(ctx context.Context) bool {
	if w.cores != nil {
		return true
	}
	if ctx.Err() != nil {
		return false
	}
	q := newRaster(ctx, w.p, w.p.stepWithin(coarseSquares))
	cover := q.reachable(costing(ctx, q.rowCost()))
	if ctx.Err() != nil {
		return false
	}
	w.q, w.cover, w.cores = q, cover, q.grids(cover, fewer(q.p.coreFamilies(), len(cover)))
	return true
}

// refine goes over to squares half as wide with the prices known; it reports false
// when there are none or the work was spent first.
func (w *weigher) refine(ctx context.Context) bool {
	if w.prices == nil || len(w.cover) > maxRefined {
		return false
	}
	q := w.q.finer()
	if q == nil {
		return false
	}
	in := make(map[spot]bool, len(w.cover))
	for _, c := range w.cover {
		in[c] = true
	}
	cover := q.reachableWhere(func(c spot) bool { return in[spot{c.opt, w.q.rounded(c.vec)}] }, costing(ctx, q.rowCost()))
	if ctx.Err() != nil || len(cover) == 0 {
		return false
	}
	cores := q.grids(cover, w.q.p.coreFamilies()[:len(w.cores.grids)])
	d := newDualSolver(cores)
	copy(d.u, w.cores.carried(w.prices.best.price, cores, vec{w.q.step.x - q.step.x, w.q.step.y - q.step.y}))
	d.rate(d.u)
	w.q, w.cover, w.cores, w.prices = q, cover, cores, d
	return true
}

const (
	// coarseSquares is how many squares a plane is long at first where worths are weighed.
	coarseSquares = 35
	// maxRefined bounds the squares that are divided.
	maxRefined = 12_000
)

// weighed bounds the sum of the options' worths over any planar packing, by prices
// of squares in which some real position is free.
func (s *session) weighed(w *weigher, worth []float64) float64 {
	if !w.prepare(s.ctx) {
		return math.Inf(1)
	}
	if len(w.cover) == 0 {
		return 0
	}
	if s.ctx.Err() != nil {
		return math.Inf(1)
	}
	if w.prices == nil {
		w.prices = newDualSolver(w.cores)
	}
	need := make([]float64, len(w.cover))
	for i, c := range w.cover {
		need[i] = worth[c.opt]
	}
	d := w.prices
	d.within(s.ctx)
	d.restart(need)
	d.run(0, max(200, 12_000_000/(1+len(w.cover)*len(w.cores.grids))))
	return d.best.sum
}
