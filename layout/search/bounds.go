package search

import "math"

// bounds says of all vehicles of one mass whose moments lie between two others what none of them betters, and
// whether all of them, or none, keep the limits.
type bounds struct {
	rules  *rules
	kg     float64
	laden  []row
	target float64
	on     [3]bool
	per    [3]float64 // steps a unit of front share off target, height and side
	front  float64    // points of front share a kg mm
	height float64    // steps of height a kg mm
	side   [2]float64 // points of side a kg mm sideways: with no roll share in front, and with all of it
	twist  float64    // points of side from the twist
	x      window
	every  settledCases // all that can be settled
	slopes tilts
	aim    float64 // moment in x at the target
}

// window is where the moment in x may lie for the axles' sake, in kg mm, and which limit ends it.
type window struct {
	lo, hi     float64
	loOf, hiOf excess // whose actual value is left open
	loAt, hiAt int    // load case
}

func (t *task) boundsOf(g *group) bounds {
	r := t.ground.rules
	w, kg := &r.wheels, g.values[Mass]
	b := bounds{rules: r, kg: kg, laden: g.laden, target: t.ground.target, front: 100 / w.base / kg}
	for i, o := range spotOf {
		b.on[i], b.per[i] = t.on[o], 1/t.steps[o]
	}
	b.height = b.per[1] / kg
	b.side = [2]float64{100 / w.rear / kg, 100 / w.front / kg}
	b.twist = 100 * w.twist / kg * (1/w.front - 1/w.rear)
	b.x = r.windowOf(kg, g.laden)
	b.every = 1<<(len(r.cases)+settledBefore) - 1
	b.slopes = t.slopes
	b.aim = (100 - b.target) / b.front
	return b
}

// windowOf joins the limits of the axles in all load cases.
func (r *rules) windowOf(kg float64, laden []row) window {
	out := window{lo: math.Inf(-1), hi: math.Inf(1)}
	base := r.wheels.base
	for i := range r.cases {
		c, l := &r.cases[i], &laden[i]
		total := kg + l[0]
		if lo := base*(total-c.front) - l[1]; lo > out.lo {
			out.lo, out.loOf, out.loAt = lo, excess{limit: FrontAxle, need: c.front, unit: "kg"}, i
		}
		if hi := base*c.rear - l[1]; hi < out.hi {
			out.hi, out.hiOf, out.hiAt = hi, excess{limit: RearAxle, need: c.rear, unit: "kg"}, i
		}
		if hi := base*total*0.8 - l[1]; c.steered && hi < out.hi {
			out.hi, out.hiOf, out.hiAt = hi, excess{limit: Steering, need: 20, unit: "%"}, i
		}
	}
	return out
}

// roundSlack keeps a bound, in steps, below what rounding makes of the figure itself.
const roundSlack = 1e-6

// least is a spot that nothing in a span is better than.
func (b *bounds) least(lo, hi *moments) (out spot) {
	if b.on[0] {
		most, fewest := 100-b.front*lo[0], 100-b.front*hi[0]
		out[0] = int32(apart(fewest, most, b.target)*b.per[0] + 0.5 - roundSlack)
	}
	if b.on[1] {
		out[1] = int32(math.Floor(lo[2]*b.height + 0.5 - roundSlack))
	}
	if b.on[2] {
		l, h := b.sides(lo, hi)
		out[2] = int32(apart(l, h, 0)*b.per[2] + 0.5 - roundSlack)
	}
	return out
}

// mostParts is how many parts a span is cut into along the vehicle to be judged part by part.
const mostParts = 8

// beaten tells whether nothing in a span counts: the front reaches all of it, or what it does not reach breaks an axle's
// limit. The span is first judged as a box, then in slices across the vehicle: how low the points of a slice can lie
// follows from the slanted directions.
func (b *bounds) beaten(f *front, s *span) bool {
	least := b.least(&s.lo, &s.hi)
	if f.reached(least) {
		return true
	}
	from, to := max(s.lo[0], b.x.lo-b.slackMM()), min(s.hi[0], b.x.hi+b.slackMM())
	if from >= to {
		return false
	}
	n := min(mostParts, 1+int((to-from)*b.front*b.per[0]))
	step := (to - from) / float64(n)
	for i := range n {
		x := from + float64(i)*step
		if !f.reached(b.slice(least, s, x, x+step)) {
			return false
		}
	}
	return true
}

// slice is a spot that nothing in a part of a span along the vehicle is better than. least is that of the whole span,
// and good enough for the side.
func (b *bounds) slice(least spot, s *span, from, to float64) spot {
	if b.on[0] {
		least[0] = int32(apart(100-b.front*to, 100-b.front*from, b.target)*b.per[0] + 0.5 - roundSlack)
	}
	if b.on[1] {
		z := s.lo[2]
		for k, slope := range b.slopes {
			z = max(z, s.tilt[k]-max(slope*from, slope*to))
		}
		least[1] = int32(math.Floor(z*b.height + 0.5 - roundSlack))
	}
	return least
}

// sides are the least and the greatest side of a span: linear in the moment in y for every roll share, and in the roll
// share for every moment, so that both stand at corners.
func (b *bounds) sides(lo, hi *moments) (least, most float64) {
	p, q := b.perSide(lo[0]), b.perSide(hi[0])
	s, t, u, v := p*lo[1], p*hi[1], q*lo[1], q*hi[1]
	return min(s, t, u, v) + b.twist, max(s, t, u, v) + b.twist
}

// perSide is the side in points a kg mm sideways, for a moment in x.
func (b *bounds) perSide(mx float64) float64 {
	phi := b.rules.wheels.share
	if phi <= 0 {
		phi = 1 - b.front*mx/100
	}
	return b.side[0] + phi*(b.side[1]-b.side[0])
}

// lowest is a bound, in kg mm, on the moment of the height plus a slope times how far the moment in x is off its aim:
// what nothing in a span is below. It orders the walk; nothing is cut by it.
func (b *bounds) lowest(s *tilts, slope int) float64 {
	up, down := len(b.slopes)-1-slope, slope
	return max(s[up]-b.slopes[up]*b.aim, s[down]-b.slopes[down]*b.aim)
}

// promise is the lowest for each slope.
func (b *bounds) promise(s *span) (out [slopePairs]float64) {
	for k := range out {
		out[k] = b.lowest(&s.tilt, k)
	}
	return out
}

// settledCases are the limits that a whole branch is known to keep, one bit each: the axles', the strict ones, and those
// of tyres and wheels in every load case. What a branch keeps need not be asked again of its parts.
type settledCases uint32

const (
	settledAxles settledCases = 1 << iota
	settledStrict

	settledBefore = 2 // bits before those of the load cases
)

// limits tells of a span whether all of it breaks a limit, and which limits all of it keeps, beyond those already known.
func (b *bounds) limits(lo, hi *moments, known settledCases) (e excess, bad bool, holds settledCases) {
	if known&settledAxles == 0 {
		if e, bad := b.axles(lo, hi); bad {
			return e, true, 0
		}
		if lo[0] >= b.x.lo && hi[0] <= b.x.hi {
			known |= settledAxles
		}
	}
	for i := range b.rules.cases {
		if known&(1<<(i+settledBefore)) != 0 {
			continue
		}
		e, bad, all := b.wheels(&b.rules.cases[i], &b.laden[i], lo, hi)
		if bad {
			return e, true, 0
		}
		if all {
			known |= 1 << (i + settledBefore)
		}
	}
	if known&settledStrict == 0 && b.rules.strict != nil {
		e, bad, all := b.rules.strict.hopeless(b, lo, hi)
		if bad || !all {
			return e, bad, known
		}
	}
	return excess{}, false, known | settledStrict
}

// axles finds an axle's limit that all of a span breaks.
func (b *bounds) axles(lo, hi *moments) (e excess, bad bool) {
	switch base := b.rules.wheels.base; {
	case hi[0] < b.x.lo-b.slackMM():
		e = b.x.loOf
		e.actual = b.kg + b.laden[b.x.loAt][0] - (hi[0]+b.laden[b.x.loAt][1])/base
		return e, true
	case lo[0] > b.x.hi+b.slackMM():
		e = b.x.hiOf
		e.actual = (lo[0] + b.laden[b.x.hiAt][1]) / base
		if total := b.kg + b.laden[b.x.hiAt][0]; e.limit == Steering {
			e.actual = 100 * (total - e.actual) / total
		}
		return e, true
	}
	return excess{}, false
}

// slackMM is the slack of a mass as a moment about an axle, with room for the rounding of the sums.
func (b *bounds) slackMM() float64 { return 1e-6 * b.rules.wheels.base }

// wheels judges tyres and wheels that lift. A wheel's load is linear in either moment, so that its least and its most
// stand at corners of the span.
func (b *bounds) wheels(c *loadCase, laden *row, lo, hi *moments) (e excess, bad, holds bool) {
	var least, most [4]float64
	b.corner(&least, &most, laden, lo[0], lo[1], hi[1])
	var l, m [4]float64
	b.corner(&l, &m, laden, hi[0], lo[1], hi[1])
	holds = true
	for i := range least {
		least[i], most[i] = min(least[i], l[i]), max(most[i], m[i])
		limit := c.frontTyre
		if i > 1 {
			limit = c.rearTyre
		}
		if limit > 0 && least[i] > limit+1e-6 {
			_, name := c.tyre(i)
			return excess{name, least[i], limit, "kg"}, true, false
		}
		if most[i] < -1e-6 {
			return excess{WheelOff, most[i], 0, "kg"}, true, false
		}
		holds = holds && least[i] >= 0 && (limit <= 0 || most[i] <= limit)
	}
	return excess{}, false, holds
}

// corner is the least and the most load of each wheel at one moment in x, between two moments in y.
func (b *bounds) corner(least, most *[4]float64, laden *row, mx, lo, hi float64) {
	w := &b.rules.wheels
	total := b.kg + laden[0]
	rear := (mx + laden[1]) / w.base
	front, phi := total-rear, w.share
	if phi <= 0 {
		phi = front / total
	}
	lo, hi = lo+laden[2], hi+laden[2]
	fl, fh := (phi*lo+w.twist)/w.front, (phi*hi+w.twist)/w.front
	rl, rh := ((1-phi)*lo-w.twist)/w.rear, ((1-phi)*hi-w.twist)/w.rear
	fl, fh, rl, rh = min(fl, fh), max(fl, fh), min(rl, rh), max(rl, rh)
	front, rear = front/2, rear/2
	*least = [4]float64{front - fh, front + fl, rear - rh, rear + rl}
	*most = [4]float64{front - fl, front + fh, rear - rl, rear + rh}
}

// hopeless judges the strict limits of a span.
func (s *strict) hopeless(b *bounds, lo, hi *moments) (e excess, bad, holds bool) {
	most, fewest := 100-b.front*lo[0], 100-b.front*hi[0]
	left, right := b.sides(lo, hi)
	off, side := apart(fewest, most, s.frontPct), apart(left, right, 0)
	low, high := lo[2]/b.kg, hi[2]/b.kg
	track := (b.rules.wheels.front + b.rules.wheels.rear) / 4
	switch {
	case off > s.band+1e-6:
		return excess{FrontSplit, off, s.band, "points"}, true, false
	case side > s.side+1e-6:
		return excess{SideSplit, side, s.side, "points"}, true, false
	case low > s.height+1e-6:
		return excess{Rise, low, s.height, "mm"}, true, false
	case s.ssf > 0 && track/low < s.ssf-1e-6:
		return excess{Stability, track / low, s.ssf, ""}, true, false
	}
	holds = max(most-s.frontPct, s.frontPct-fewest) <= s.band && max(right, -left) <= s.side && high <= s.height && track/high >= s.ssf
	return excess{}, false, holds
}

// most is a spot that nothing in a span is worse than in front share or height.
func (b *bounds) most(lo, hi *moments) (out spot) {
	if b.on[0] {
		most, fewest := 100-b.front*lo[0], 100-b.front*hi[0]
		out[0] = int32(max(math.Abs(most-b.target), math.Abs(fewest-b.target))*b.per[0] + 1)
	}
	if b.on[1] {
		out[1] = int32(math.Ceil(hi[2]/b.kg*b.per[1] + 1))
	}
	return out
}
