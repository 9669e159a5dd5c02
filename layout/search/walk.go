package search

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// tally counts arrangements by what became of them.
type tally struct {
	All     float64 // arrangements of the choice that fit
	Looked  float64 // looked at one by one and within the limits, or beaten
	Limited float64 // cut off by a limit that all of a branch break
	Beaten  float64 // cut off by the bound: nowhere better than what is there, itself among it where it was found ahead of the rest
}

func (t *tally) plus(o tally) {
	t.All, t.Looked, t.Limited, t.Beaten = t.All+o.All, t.Looked+o.Looked, t.Limited+o.Limited, t.Beaten+o.Beaten
}

// breaking is what a limit cost a choice.
type breaking struct {
	nearest excess
	ways    float64
}

// breaks is what each limit cost a choice.
type breaks map[Limit]*breaking

func (b breaks) add(e excess, ways float64) {
	was := b[e.limit]
	if was == nil {
		was = &breaking{nearest: e}
		b[e.limit] = was
	}
	was.ways += ways
	if math.Abs(e.actual-e.need) < math.Abs(was.nearest.actual-was.nearest.need) {
		was.nearest = e
	}
}

// walk goes through the arrangements of one group, or cuts them off branch by branch.
type walk struct {
	ctx     context.Context
	g       *group
	c       *course
	front   *front
	bounds  bounds
	chosen  []uint16 // options of the outer boxes
	tally   tally
	breaks  breaks
	nodes   int
	starts  []start
	stopped bool
}

// run looks at every arrangement of the group, or cuts it off.
func (w *walk) run(whole rest, base span) {
	w.tally.All = whole.ways
	if e, bad := w.g.task.ground.rules.heavy(w.g.values[Mass]); bad {
		w.limited(e, whole.ways)
		return
	}
	w.chosen = make([]uint16, len(w.c.outer))
	w.outer(0, w.g.choice.Count, &base, 0)
	w.fromStarts()
}

func (w *walk) limited(e excess, ways float64) {
	w.tally.Limited += ways
	w.breaks.add(e, ways)
}

// outer settles the outer box k with left modules to place from it on. sure are the limits known to hold.
func (w *walk) outer(k, left int, sum *span, sure settledCases) {
	if left >= len(w.c.rests[k]) || w.c.rests[k][left].ways == 0 {
		return
	}
	r := &w.c.rests[k][left]
	all := sum.plus(&r.span)
	if w.cut(&all, r.ways, &sure) {
		return
	}
	if k == len(w.c.outer) {
		w.pools(left, sum, sure)
		return
	}
	b := w.c.outer[k]
	for c := b.lo; c <= min(b.hi, left); c++ {
		for i := b.from[c]; i < b.from[c+1]; i++ {
			w.chosen[k] = uint16(i)
			at := w.g.task.slopes.spanOf(b.all[i].first.moments())
			at = sum.plus(&at)
			w.outer(k+1, left-c, &at, sure)
		}
	}
}

// pools notes every split of the modules left over the two pools as a start.
func (w *walk) pools(left int, sum *span, sure settledCases) {
	for n := range w.c.a.at {
		m := left - n
		if m < 0 || m >= len(w.c.b.at) || len(w.c.a.at[n].nodes) == 0 || len(w.c.b.at[m].nodes) == 0 {
			continue
		}
		x, y := &w.c.a.at[n].nodes[0], &w.c.b.at[m].nodes[0]
		var all span
		all.of(sum, &x.span, &y.span)
		ok := sure
		if w.cut(&all, x.ways()*y.ways(), &ok) {
			continue
		}
		s := start{n: n, m: m, sum: *sum, sure: ok, promise: w.bounds.promise(&all)}
		copy(s.chosen[:], w.chosen)
		w.starts = append(w.starts, s)
	}
}

// start is where two trees are set against each other: after some choice of outer boxes, at one split.
type start struct {
	n, m    int
	sum     span
	sure    settledCases
	chosen  [mostBoxes]uint16
	promise [slopePairs]float64
}

// fromStarts goes through the starts, those that promise most first: what is found soon cuts much of the rest.
func (w *walk) fromStarts() {
	order := make([]int32, len(w.starts))
	for i := range order {
		order[i] = int32(i)
	}
	for k := range slopePairs {
		w.sort(order, k)
		for _, i := range order[:min(len(order), dives)] {
			s := w.take(i)
			w.dive(&w.c.a.at[s.n], &w.c.b.at[s.m], &s.sum, k)
		}
	}
	for _, i := range order {
		s := w.take(i)
		w.pair(&w.c.a.at[s.n], &w.c.b.at[s.m], 0, 0, &s.sum, s.sure)
	}
}

// sort orders starts by what they promise at a slope.
func (w *walk) sort(order []int32, slope int) {
	slices.SortFunc(order, func(a, b int32) int {
		if c := cmp.Compare(w.starts[a].promise[slope], w.starts[b].promise[slope]); c != 0 {
			return c
		}
		return int(a - b)
	})
}

// take chooses the outer boxes as a start has them.
func (w *walk) take(i int32) *start {
	s := &w.starts[i]
	copy(w.chosen, s.chosen[:])
	return s
}

// dives is how many of the starts that promise most are followed down ahead of the rest, for each slope.
const dives = 16

// dive follows the more promising halves down to some arrangements, so that the front cuts from the beginning. What it
// finds is met again, and counted, by the walk.
func (w *walk) dive(a, b *tree, sum *span, slope int) {
	i, j := int32(0), int32(0)
	for {
		x, y := &a.nodes[i], &b.nodes[j]
		switch {
		case x.low == 0 && y.low == 0:
			for p := x.from; p < x.to; p++ {
				for q := y.from; q < y.to; q++ {
					w.try(&a.points[p], &b.points[q], sum)
				}
			}
			return
		case x.splits(y):
			i, _ = w.better(a, x, y, sum, slope)
		default:
			j, _ = w.better(b, y, x, sum, slope)
		}
	}
}

// splits tells whether a node is the one of two to be halved: the wider one.
func (n *node) splits(o *node) bool { return o.low == 0 || n.low > 0 && n.wide > o.wide }

// better is the half of a node that promises more beside another node, and the one that promises less.
func (w *walk) better(t *tree, n, beside *node, sum *span, slope int) (first, then int32) {
	var x, y tilts
	for i := range x {
		s := sum.tilt[i] + beside.tilt[i]
		x[i], y[i] = s+t.nodes[n.low].tilt[i], s+t.nodes[n.up].tilt[i]
	}
	if w.bounds.lowest(&y, slope) < w.bounds.lowest(&x, slope) {
		return n.up, n.low
	}
	return n.low, n.up
}

// try looks at an arrangement ahead of its turn.
func (w *walk) try(p, q *point, sum *span) {
	t, b := w.tally, w.breaks
	w.breaks = breaks{}
	w.look(p, q, sum, 0)
	w.tally, w.breaks = t, b
}

// cut ends a branch of which no arrangement can count.
func (w *walk) cut(s *span, ways float64, sure *settledCases) bool {
	if w.nodes++; w.nodes%4096 == 0 && w.ctx.Err() != nil {
		w.stopped = true
	}
	if w.stopped {
		return true
	}
	if w.bounds.beaten(w.front, s) {
		w.tally.Beaten += ways
		return true
	}
	if *sure == w.bounds.every {
		return false
	}
	e, bad, holds := w.bounds.limits(&s.lo, &s.hi, *sure)
	if bad {
		w.limited(e, ways)
		return true
	}
	*sure = holds
	return false
}

// pair goes through all ways to join a node of one tree with one of another.
func (w *walk) pair(a, b *tree, i, k int32, sum *span, sure settledCases) {
	x, y := &a.nodes[i], &b.nodes[k]
	var all span
	all.of(sum, &x.span, &y.span)
	if w.cut(&all, x.ways()*y.ways(), &sure) {
		return
	}
	switch {
	case x.low == 0 && y.low == 0:
		w.leaves(a.points[x.from:x.to], b.points[y.from:y.to], sum, sure)
	case x.splits(y):
		first, then := w.better(a, x, y, sum, middleSlope)
		w.pair(a, b, first, k, sum, sure)
		w.pair(a, b, then, k, sum, sure)
	default:
		first, then := w.better(b, y, x, sum, middleSlope)
		w.pair(a, b, i, first, sum, sure)
		w.pair(a, b, i, then, sum, sure)
	}
}

func (w *walk) leaves(as, bs []point, sum *span, sure settledCases) {
	for i := range as {
		for k := range bs {
			w.look(&as[i], &bs[k], sum, sure)
		}
	}
}

// look judges one arrangement: whether it is beaten first, which costs less to find out than whether it is allowed.
func (w *walk) look(p, q *point, sum *span, sure settledCases) {
	t := w.g.task
	w.tally.Looked++
	v := row{w.g.values[Mass], sum.lo[0] + p.at[0] + q.at[0], sum.lo[1] + p.at[1] + q.at[1], sum.lo[2] + p.at[2] + q.at[2]}
	s := t.spotOfVehicle(&v)
	if w.front.reached(s) {
		return
	}
	if sure != w.bounds.every {
		if e, bad := t.ground.rules.broken(&v, w.g.laden); bad {
			w.tally.Looked--
			w.limited(e, 1)
			return
		}
	}
	w.front.add(member{spot: s, picks: w.picks(p, q), first: v})
}

// picks are the options chosen, by box of the group.
func (w *walk) picks(p, q *point) []uint16 {
	of := map[int]uint16{}
	for i, b := range w.c.outer {
		of[b.box] = w.chosen[i]
	}
	for _, x := range []struct {
		pool *pool
		p    *point
	}{{w.c.a, p}, {w.c.b, q}} {
		for i, b := range x.pool.bays {
			of[b.box] = [2]uint16{x.p.a, x.p.b}[i]
		}
	}
	out := make([]uint16, len(w.g.subset.boxes))
	for i, b := range w.g.subset.boxes {
		out[i] = of[b]
	}
	return out
}

func (t *task) spot(off, height, side float64) (out spot) {
	for i, v := range [3]float64{off, height, side} {
		if t.on[spotOf[i]] {
			out[i] = t.steps.rounded(spotOf[i], v)
		}
	}
	return out
}

// spotOfVehicle is the spot of a whole vehicle.
func (t *task) spotOfVehicle(v *row) spot {
	w := &t.ground.rules.wheels
	return t.spot(math.Abs(w.frontPct(v)-t.ground.target), v[3]/v[0], math.Abs(w.sidePct(v[0], v[2], w.rollShare(v))))
}
