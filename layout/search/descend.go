package search

import (
	"context"
	"math"
)

// tally counts arrangements by what became of them.
type tally struct {
	All     float64 // arrangements of the choice that fit
	Looked  float64 // looked at one by one and within the limits, or beaten
	Limited float64 // cut off by a limit that all of a branch break
	Beaten  float64 // cut off by the bound: whatever follows is beaten by what is there
}

func (t *tally) plus(o tally) {
	t.All, t.Looked, t.Limited, t.Beaten = t.All+o.All, t.Looked+o.Looked, t.Limited+o.Limited, t.Beaten+o.Beaten
}

// rest is what the boxes from one on can still add for a number of modules.
type rest struct {
	lo, hi row
	ways   float64
}

// restsOf works out the least and the greatest moments, and the number of ways, for every number of modules from
// every box on: rests[k][n] for boxes[k:].
func (t *task) restsOf(boxes []int, push int) [][]rest {
	out := make([][]rest, len(boxes)+1)
	out[len(boxes)] = []rest{{ways: 1}}
	for k := len(boxes) - 1; k >= 0; k-- {
		lo, hi := t.bounds(boxes[k])
		after := out[k+1]
		now := make([]rest, len(after)+hi)
		for n := range now {
			now[n] = rest{lo: infinite(1), hi: infinite(-1)}
		}
		for c := lo; c <= hi; c++ {
			l := &t.loads[boxes[k]][push][c]
			for n := range after {
				now[n+c].take(&l.first, &after[n])
			}
		}
		out[k] = now
	}
	return out
}

func infinite(sign int) row {
	v := math.Inf(sign)
	return row{v, v, v, v}
}

// take widens a rest by one way to go on.
func (r *rest) take(first *row, after *rest) {
	if after.ways == 0 {
		return
	}
	r.ways += after.ways
	for i := range r.lo {
		r.lo[i] = min(r.lo[i], first[i]+after.lo[i])
		r.hi[i] = max(r.hi[i], first[i]+after.hi[i])
	}
}

// descent goes through the counts of one group under one push.
type descent struct {
	ctx     context.Context
	g       *group
	push    int
	rests   [][]rest
	counts  []uint16
	tally   tally
	breaks  map[Limit]*breaking
	nodes   int
	stopped bool
}

// breaking is what a limit cost a choice.
type breaking struct {
	nearest excess
	ways    float64
}

// run looks at every arrangement of the group under the push, or cuts it off.
func (d *descent) run() {
	n := d.g.choice.Count
	if n >= len(d.rests[0]) || d.rests[0][n].ways == 0 {
		return
	}
	d.tally.All = d.rests[0][n].ways
	if e, bad := d.g.task.ground.rules.heavy(d.g.values[Mass]); bad {
		d.limited(e, d.tally.All)
		return
	}
	d.counts = make([]uint16, len(d.g.subset.boxes))
	d.down(0, n, d.g.base)
}

func (d *descent) limited(e excess, ways float64) {
	d.tally.Limited += ways
	b := d.breaks[e.limit]
	if b == nil {
		b = &breaking{nearest: e}
		d.breaks[e.limit] = b
	}
	b.ways += ways
	if math.Abs(e.actual-e.need) < math.Abs(b.nearest.actual-b.nearest.need) {
		b.nearest = e
	}
}

// down chooses the count of box k with left modules to place from it on.
func (d *descent) down(k, left int, sum row) {
	if d.nodes++; d.nodes%1024 == 0 && d.ctx.Err() != nil {
		d.stopped = true
	}
	if d.stopped {
		return
	}
	boxes := d.g.subset.boxes
	if k == len(boxes) {
		d.look(&sum)
		return
	}
	r := &d.rests[k][left]
	if r.ways > 1 && d.cut(&sum, r) {
		return
	}
	t := d.g.task
	lo, hi := t.bounds(boxes[k])
	after := d.rests[k+1]
	for c := max(lo, left-len(after)+1); c <= min(hi, left); c++ {
		if after[left-c].ways == 0 {
			continue
		}
		d.counts[k] = uint16(c)
		d.down(k+1, left-c, sum.plus(t.loads[boxes[k]][d.push][c].first, 1))
	}
}

// cut ends a branch of which no arrangement can count.
func (d *descent) cut(sum *row, r *rest) bool {
	g := d.g.task.ground
	s := span{lo: sum.plus(r.lo, 1), hi: sum.plus(r.hi, 1)}
	s.lo[0], s.hi[0] = d.g.values[Mass], d.g.values[Mass]
	if e, bad := g.rules.hopeless(&s, d.g.laden); bad {
		d.limited(e, r.ways)
		return true
	}
	if d.g.front.reached(d.g.task.least(&s)) {
		d.tally.Beaten += r.ways
		return true
	}
	return false
}

// least is a spot that nothing in a span is better than.
func (t *task) least(s *span) spot {
	w := &t.ground.rules.wheels
	return t.spot(w.frontOff(s, t.ground.target), s.lo[3]/s.lo[0], w.side(s))
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

// look judges one arrangement: whether it is beaten first, which costs less to find out than whether it is allowed.
func (d *descent) look(v *row) {
	t := d.g.task
	r := t.ground.rules
	d.tally.Looked++
	s := t.spotOfVehicle(v)
	if d.g.front.reached(s) {
		return
	}
	if e, bad := r.broken(v, d.g.laden); bad {
		d.tally.Looked--
		d.limited(e, 1)
		return
	}
	d.g.front.add(member{spot: s, push: d.push, counts: append([]uint16(nil), d.counts...), first: *v})
}
