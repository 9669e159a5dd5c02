package search

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// loaded are bounds of an invented vehicle of 1400 kg that is weighed with a twist, without load cases. Steps are a tenth of a
// point, a millimetre and a tenth of a point.
func loaded(rollShare float64) *bounds {
	r := &rules{wheels: wheels{base: 2800, front: 1480, rear: 1440, share: rollShare, twist: 9000}}
	t := &task{ground: &ground{rules: r, target: 52}, on: [objectives]bool{FrontOff: true, Height: true, Side: true}}
	t.steps[FrontOff], t.steps[Height], t.steps[Side] = 0.1, 1, 0.1
	g := &group{}
	g.values[Mass] = 1400
	b := t.boundsOf(g)
	return &b
}

// vehicle has its centre of gravity at a place.
func (b *bounds) vehicle(x, y, z float64) row { return row{b.kg, b.kg * x, b.kg * y, b.kg * z} }

// figures are the vehicle's front share off target, height and side as layout/mass has them: moments about the axles,
// which the wheels of an axle share as the roll does.
func (b *bounds) figures(v *row) [3]float64 {
	w := &b.rules.wheels
	return [3]float64{math.Abs(w.frontPct(v) - b.target), v[3] / v[0], math.Abs(w.sidePct(v[0], v[2], w.rollShare(v)))}
}

// Of a span of one vehicle the bounds are its own figures, to a step.
func TestBoundsOfOneVehicle(t *testing.T) {
	for _, share := range []float64{0, 0.55} {
		b := loaded(share)
		for _, at := range [][3]float64{{1200, 40, 560}, {1344, -25, 611}, {1500, 0, 480}, {900, 120, 700}, {1344, -60, 500.5}} {
			v := b.vehicle(at[0], at[1], at[2])
			m := v.moments()
			least := b.least(&m, &m)
			for i, f := range b.figures(&v) {
				if got := float64(least[i]) / b.per[i]; got > f+0.5/b.per[i]+1e-9 || got < f-0.5/b.per[i]-1e-5 {
					t.Errorf("roll share %g, %v: bound %g, figure %g", share, at, got, f)
				}
			}
			most := b.most(&m, &m)
			for i := range 2 {
				if got, f := float64(most[i])/b.per[i], b.figures(&v)[i]; got < f-1e-9 || got > f+float64(1+i)/b.per[i]+1e-9 {
					t.Errorf("roll share %g, %v: at most %g, figure %g", share, at, got, f)
				}
			}
			w := &b.rules.wheels
			if got, want := b.perSide(m[0])*m[1]+b.twist, w.sidePct(v[0], v[2], w.rollShare(&v)); math.Abs(got-want) > 1e-9 {
				t.Errorf("roll share %g, %v: %g points to the side, not %g", share, at, got, want)
			}
			var l, h [4]float64
			laden := row{150, 150 * 900, 150 * -380, 150 * 750}
			b.corner(&l, &h, &laden, m[0], m[1], m[1])
			all := row{v[0] + laden[0], v[1] + laden[1], v[2] + laden[2], 0}
			for i, kg := range b.rules.wheels.loads(&all) {
				if math.Abs(l[i]-kg) > 1e-9 || math.Abs(h[i]-kg) > 1e-9 {
					t.Errorf("roll share %g, %v: wheel %d carries %g to %g kg, not %g", share, at, i, l[i], h[i], kg)
				}
			}
			if e, bad := b.axles(&m, &m); bad {
				t.Errorf("%+v without a limit", e)
			}
		}
	}
}

// On the border between two steps rounding may go either way, so that a bound is the lower one.
func TestBoundsOnABorder(t *testing.T) {
	b := loaded(0.5)
	for _, off := range []float64{0.25, 1.25, -0.75} {
		v := b.vehicle(28*(48-off), 0, 600.5)
		m := v.moments()
		s := span{lo: m, hi: m}
		least := b.least(&m, &m)
		if want := int32(math.Floor(math.Abs(off) * 10)); least[0] != want || b.slice(least, &s, m[0], m[0])[0] != want {
			t.Errorf("%g points off: %d and %d steps, not %d", off, least[0], b.slice(least, &s, m[0], m[0])[0], want)
		}
		if least[1] != 600 || b.slice(least, &s, m[0], m[0])[1] != 600 {
			t.Errorf("600.5 mm high: %d and %d steps", least[1], b.slice(least, &s, m[0], m[0])[1])
		}
	}
	for over, want := range map[float64]int32{0.95e-6: 600, 1.05e-6: 601} { // room for rounding is a millionth of a step
		m := b.vehicle(1344, 0, 600.5+over)
		if at := m.moments(); b.least(&at, &at)[1] != want {
			t.Errorf("600.5 mm and %g: %d steps, not %d", over, b.least(&at, &at)[1], want)
		}
	}
	w := &b.rules.wheels
	for _, side := range []float64{0.25, 1.25, -0.75} { // where half the roll is the front's, by the moments' definition
		my := (side/100*b.kg - w.twist*(1/w.front-1/w.rear)) / (0.5/w.front + 0.5/w.rear)
		m := moments{b.kg * 1344, my, b.kg * 600}
		if got, want := b.least(&m, &m)[2], int32(math.Floor(math.Abs(side)*10)); got != want {
			t.Errorf("%g points to the side: %d steps, not %d", side, got, want)
		}
	}
}

// Nothing in a span betters the bounds, and the slices of a span are no worse than the whole.
func TestNothingBettersTheBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	for _, share := range []float64{0, 0.6} {
		b := loaded(share)
		b.slopes = slopesOf(moments{900, 0, 300})
		for range 300 {
			x, y, z := between(1000, 1600), between(-80, 80), between(450, 700)
			wide := [3]float64{between(0, 200), between(0, 60), between(0, 80)}
			lo, hi := b.vehicle(x, y, z), b.vehicle(x+wide[0], y+wide[1], z+wide[2])
			s := span{lo: lo.moments(), hi: hi.moments()}
			for k, slope := range b.slopes {
				s.tilt[k] = s.lo[2] + min(slope*s.lo[0], slope*s.hi[0])
			}
			least, most := b.least(&s.lo, &s.hi), b.most(&s.lo, &s.hi)
			sliced := b.slice(least, &s, s.lo[0], s.hi[0])
			for range 20 {
				v := b.vehicle(x+wide[0]*r.Float64(), y+wide[1]*r.Float64(), z+wide[2]*r.Float64())
				for i, f := range b.figures(&v) {
					if bound := float64(least[i]) / b.per[i]; bound > f+0.5/b.per[i]+1e-9 {
						t.Fatalf("roll share %g: bound %g, figure %g", share, bound, f)
					}
					if bound := float64(sliced[i]) / b.per[i]; bound > f+0.5/b.per[i]+1e-9 {
						t.Fatalf("roll share %g: bound of a slice %g, figure %g", share, bound, f)
					}
					if i < 2 && float64(most[i])/b.per[i] < f-1e-9 {
						t.Fatalf("roll share %g: at most %g, figure %g", share, float64(most[i])/b.per[i], f)
					}
				}
			}
		}
	}
}

// cloud are random vehicles along a slant and what they span.
func (b *bounds) cloud(r *rand.Rand) (vs []row, s span) {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	x, y, z, long, slant := between(-400, 1600), between(-60, 60), between(450, 600), between(20, 400), between(-0.5, 0.5)
	for i := range 24 {
		at := long * r.Float64()
		v := b.vehicle(x+at, y+between(0, 20), z+slant*(at-long/2)+between(0, 10))
		one := b.slopes.spanOf(v.moments())
		if vs = append(vs, v); i == 0 {
			s = one
		}
		s.widen(&one)
	}
	return vs, s
}

// What is beaten as a branch is beaten vehicle by vehicle, also where the branch as a whole is not and only its parts are.
func TestEveryVehicleOfABeatenSpanIsBeaten(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	b := loaded(0.6)
	b.slopes = slopesOf(moments{b.front * b.per[0], 0, b.height})
	spotOf := func(v *row) (out spot) {
		for i, f := range b.figures(v) {
			out[i] = int32(math.Floor(f*b.per[i] + 0.5))
		}
		return out
	}
	whole, byParts, not := 0, 0, 0
	for range 4000 {
		vs, s := b.cloud(r)
		var f front
		f.table.reset(b.least(&s.lo, &s.hi), b.most(&s.lo, &s.hi))
		better := r.Int32N(40)
		for _, v := range vs[:r.IntN(len(vs))] { // what was found: as good as some of them or a little better
			at := spotOf(&v)
			f.mark(spot{max(0, at[0]-better/2), at[1] - better, max(0, at[2]-40)})
		}
		beaten := b.beaten(&f, &s)
		switch {
		case f.reached(b.least(&s.lo, &s.hi)):
			whole++
		case beaten:
			byParts++
		default:
			not++
		}
		for i := range vs {
			if beaten && !f.reached(spotOf(&vs[i])) {
				t.Fatalf("the span %v is beaten, but not the vehicle %v in it", s, vs[i])
			}
		}
	}
	t.Logf("%d as a whole, %d by parts, %d not", whole, byParts, not)
	if min(whole, byParts, not) < 50 {
		t.Errorf("drawn too one-sidedly: %d as a whole, %d by parts, %d not", whole, byParts, not)
	}
}

// Where all of a span is said to keep the tyres' limits, or to break one, so does every vehicle in it.
func TestTyresOfEveryVehicleInASpan(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	kept, broken := 0, 0
	for range 3000 {
		b := loaded([]float64{0, 0.6}[r.IntN(2)])
		c := loadCase{front: math.Inf(1), rear: math.Inf(1), frontTyre: []float64{0, between(330, 480)}[r.IntN(2)], rearTyre: []float64{0, between(330, 480)}[r.IntN(2)]}
		laden := row{150, 150 * 900, 150 * between(-380, 380), 150 * 750}
		x, y := between(-100, 2700), between(-150, 100)
		dx, dy := between(0, 150), between(0, 60)
		lo, hi := b.vehicle(x, y, 500), b.vehicle(x+dx, y+dy, 600)
		from, to := lo.moments(), hi.moments()
		e, bad, holds := b.wheels(&c, &laden, &from, &to)
		for range 20 {
			v := b.vehicle(x+dx*r.Float64(), y+dy*r.Float64(), 550)
			at := v.plus(laden, 1)
			one, off := c.broken(&b.rules.wheels, &at)
			if bad && !off || holds && off {
				t.Fatalf("all of the span breaks %v (%+v), all keeps %v; a vehicle in it breaks %v (%+v), limits %+v", bad, e, holds, off, one, c)
			}
		}
		if bad {
			broken++
		}
		if holds {
			kept++
		}
	}
	if min(kept, broken) < 300 {
		t.Errorf("drawn too one-sidedly: %d kept, %d broken", kept, broken)
	}
}

// By hand: axles 2800 mm apart, a front axle rated 800 kg under a vehicle of 1400 kg: the moment about it is 600 kg times 2800 mm at
// least. What lacks less than a millionth of a kilogram is rounding, what lacks two breaks the limit by what the axle carries more.
func TestAxlesAtTheirLimits(t *testing.T) {
	for _, rear := range []bool{false, true} {
		b := loaded(0.5)
		sign := 1.0
		b.rules.cases = []loadCase{{front: 800, rear: 1400}}
		want := excess{FrontAxle, 800, 800, "kg"}
		if rear {
			sign = -1
			b.rules.cases = []loadCase{{front: 1400, rear: 600}}
			want = excess{RearAxle, 600, 600, "kg"}
		}
		b.laden = []row{{}}
		b.x = b.rules.windowOf(b.kg, b.laden)
		for _, lacks := range []float64{-1, 0, 0.95e-6, 1.05e-6, 1, 50} {
			m := moments{2800 * (600 - sign*lacks), 0, 0}
			e, bad := b.axles(&m, &m)
			if bad != (lacks > 1e-6) {
				t.Errorf("%v: %g kg over the limit breaks it: %v", want.limit, lacks, bad)
			}
			if bad && (e.limit != want.limit || e.need != want.need || math.Abs(e.actual-want.actual-lacks) > 1e-9) {
				t.Errorf("%v: %g kg over the limit: %+v", want.limit, lacks, e)
			}
		}
	}
}

// Where all of a span is said to break a limit, every vehicle in it breaks one; where all of it is said to keep them, axles, tyres and
// strict limits, none does.
func TestLimitsOfEveryVehicleInASpan(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	kept, by := 0, map[Limit]int{}
	for range 8000 {
		b := loaded([]float64{0, 0.6}[r.IntN(2)])
		b.laden = []row{{}, {150, 150 * 900, 150 * between(-380, 380), 0}}
		b.rules.cases = []loadCase{{front: between(600, 900), rear: between(600, 900)}, {front: between(700, 1000), rear: between(600, 900), steered: r.IntN(2) == 0, rearTyre: between(380, 480)}}
		b.rules.strict = &strict{frontPct: 52, band: between(1, 6), side: between(0.5, 4), height: between(520, 640), ssf: []float64{0, between(1.1, 1.4)}[r.IntN(2)]}
		b.x = b.rules.windowOf(b.kg, b.laden)
		x, y, z := between(1150, 1550), between(-40, 40), between(480, 620)
		wide := [3]float64{between(0, 80), between(0, 20), between(0, 40)}
		lo, hi := b.vehicle(x, y, z), b.vehicle(x+wide[0], y+wide[1], z+wide[2])
		from, to := lo.moments(), hi.moments()
		e, bad, known := b.limits(&from, &to, 0)
		every := known == 1<<(len(b.rules.cases)+settledBefore)-1
		for range 12 {
			v := b.vehicle(x+wide[0]*r.Float64(), y+wide[1]*r.Float64(), z+wide[2]*r.Float64())
			one, off := b.rules.broken(&v, b.laden)
			if bad && !off || !bad && every && off {
				t.Fatalf("all of the span breaks %v (%+v), all keeps all %v; a vehicle in it breaks %v (%+v)", bad, e, every, off, one)
			}
		}
		switch {
		case bad:
			if by[e.limit]++; known&settledStrict != 0 || known != 0 && !slices.Contains([]Limit{FrontSplit, SideSplit, Rise, Stability}, e.limit) {
				t.Fatalf("%+v is broken, and %b kept", e, known)
			}
		case every:
			kept++
		}
	}
	t.Logf("%d kept, broken %v", kept, by)
	if kept < 50 || min(by[FrontAxle], by[RearAxle], by[RearTyres], by[FrontSplit], by[SideSplit], by[Rise], by[Stability]) < 10 {
		t.Errorf("drawn too one-sidedly: %d kept, broken %v", kept, by)
	}
}

// By hand: with a fifth of 1400 kg on the front axle 1120 kg times 2800 mm are left for the moment about it.
func TestSteeringEndsTheWindow(t *testing.T) {
	b := loaded(0.5)
	b.rules.cases = []loadCase{{front: 1400, rear: 1300, steered: true}}
	if w := b.rules.windowOf(1400, []row{{}}); math.Abs(w.hi-1120*2800) > 1e-6 || w.hiOf != (excess{limit: Steering, need: 20, unit: "%"}) {
		t.Errorf("the window ends at %g by %+v", w.hi, w.hiOf)
	}
	b.laden = []row{{100, 100 * 2800}} // on the rear axle: 1200 kg of 1500 are the most it may carry
	b.x = b.rules.windowOf(1400, b.laden)
	for rear, breaks := range map[float64]bool{1100: false, 1115: true, 1175: true} { // kg of the vehicle's own
		m := moments{rear * 2800, 0, 0}
		want := 100 * (1400 - rear) / 1500
		if e, bad := b.axles(&m, &m); bad != breaks || bad && (e.limit != Steering || math.Abs(e.actual-want) > 1e-9) {
			t.Errorf("%g kg and 100 on the rear axle: %+v, %v; %.3f %% on the front axle", rear, e, bad, want)
		}
	}
}

// With goods on board, a vehicle's centre of gravity is within the window just where every load case's axles carry no more than their
// ratings and a steering axle a fifth of the mass: by the law of the lever, case by case, at places 5 mm apart. Outside, the figures of
// one of the cases are said.
func TestWindowOfAxlesAgainstEveryPlace(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	ends := map[Limit]int{}
	for range 300 {
		b := loaded(0.5)
		b.rules.cases, b.laden = nil, nil
		for range 1 + r.IntN(3) {
			kg := between(0, 300)
			b.laden = append(b.laden, row{kg, kg * between(-200, 3000)})
			b.rules.cases = append(b.rules.cases, loadCase{front: between(800, 1300), rear: between(900, 1700), steered: r.IntN(2) == 0})
		}
		w := b.rules.windowOf(b.kg, b.laden)
		b.x = w
		for x := -500.0; x < 3300; x += 5 {
			want, said := true, false
			m := moments{b.kg * x, 0, 0}
			e, bad := b.axles(&m, &m)
			for i := range b.rules.cases {
				c, l := &b.rules.cases[i], b.laden[i]
				rear := (b.kg*x + l[1]) / 2800
				front := b.kg + l[0] - rear
				want = want && front <= c.front && rear <= c.rear && (!c.steered || front >= 0.2*(b.kg+l[0]))
				for limit, figures := range map[Limit][2]float64{FrontAxle: {front, c.front}, RearAxle: {rear, c.rear}, Steering: {100 * front / (b.kg + l[0]), 20}} {
					said = said || e.limit == limit && math.Abs(e.actual-figures[0]) < 1e-6 && e.need == figures[1]
				}
			}
			if bad == want || bad && !said {
				t.Fatalf("centre of gravity at %g mm: axles hold %v, said %+v; %+v, laden %v", x, want, e, b.rules.cases, b.laden)
			}
			if got := b.kg*x >= w.lo && b.kg*x <= w.hi; got != want {
				t.Fatalf("centre of gravity at %g mm: within the window %v, axles hold %v; %+v, laden %v", x, got, want, b.rules.cases, b.laden)
			}
		}
		ends[w.loOf.limit]++
		ends[w.hiOf.limit]++
	}
	if min(ends[FrontAxle], ends[RearAxle], ends[Steering]) < 20 {
		t.Errorf("drawn too one-sidedly: %v", ends)
	}
}

// A vehicle at its strict limits keeps them, and so within rounding; a little beyond one it breaks that one. By hand: on tracks of 1480
// and 1440 mm a height of 584 mm gives a static stability factor of 1.25, half the mean track over the height (NHTSA, 49 CFR 575.105).
func TestStrictLimitsAtTheirEdge(t *testing.T) {
	b := loaded(0.5)
	b.rules.wheels.twist, b.twist = 0, 0
	at := func(x, y, z float64) moments { v := b.vehicle(x, y, z); return v.moments() }
	loose := strict{frontPct: 50, band: 50, side: 50, height: 1000}
	perPoint := 1.0 / 100 / (0.5/1480 + 0.5/1440) // mm to the side for a point: each axle takes half of the moment
	for _, c := range []struct {
		limit          Limit
		set            func(s *strict)
		on, beyond, in moments
		actual         float64
	}{
		{Stability, func(s *strict) { s.ssf = 1.25 }, at(1400, 0, 584), at(1400, 0, 584.1), at(1400, 0, 583.9), 730 / 584.1},
		{Stability, func(s *strict) { s.ssf = 0.8 }, at(1400, 0, 912.5), at(1400, 0, 913), at(1400, 0, 912), 730.0 / 913},
		{Rise, func(s *strict) { s.height = 584 }, at(1400, 0, 584), at(1400, 0, 584.1), at(1400, 0, 583.9), 584.1},
		{FrontSplit, func(s *strict) { s.band = 3 }, at(1400+84, 0, 584), at(1400+85.4, 0, 584), at(1400+83, 0, 584), 3.05},
		{FrontSplit, func(s *strict) { s.band = 3 }, at(1400-84, 0, 584), at(1400-85.4, 0, 584), at(1400-83, 0, 584), 3.05},
		{SideSplit, func(s *strict) { s.side = 2 }, at(1400, 2*perPoint, 584), at(1400, 2.1*perPoint, 584), at(1400, 1.9*perPoint, 584), 2.1},
		{SideSplit, func(s *strict) { s.side = 2 }, at(1400, -2*perPoint, 584), at(1400, -2.1*perPoint, 584), at(1400, -1.9*perPoint, 584), 2.1},
	} {
		s := loose
		c.set(&s)
		if e, bad, _ := s.hopeless(b, &c.on, &c.on); bad {
			t.Errorf("%s: broken at its edge by %+v", c.limit, e)
		}
		if e, bad, holds := s.hopeless(b, &c.beyond, &c.beyond); !bad || holds || e.limit != c.limit || math.Abs(e.actual-c.actual) > 1e-9 {
			t.Errorf("%s: beyond its edge %+v, broken %v, keeps it %v", c.limit, e, bad, holds)
		}
		if e, bad, holds := s.hopeless(b, &c.in, &c.in); bad || !holds {
			t.Errorf("%s: within it %+v, broken %v, keeps it %v", c.limit, e, bad, holds)
		}
	}
}

// By hand: 1400 kg half-way between the axles put 350 kg on each wheel. On tracks of 1440 mm a moment of 350 kg times 1440 mm takes all of
// it off one wheel of an axle; the axles share the moment in halves, so that twice as much lifts the wheels. A wheel that stands with
// nothing on it is not yet lifted.
func TestWheelsWithNothingOnThemAreOnTheGround(t *testing.T) {
	b := loaded(0.5)
	w := &b.rules.wheels
	w.twist, w.front = 0, 1440
	for _, side := range []float64{-1, 1} {
		for _, more := range []float64{-1, -0.5, 0, 1} {
			m := moments{1400 * 1400, side * 2 * (350 + more) * 1440, 0}
			e, bad, holds := b.wheels(&loadCase{}, &row{}, &m, &m)
			if bad != (more > 0) || more < 0 && !holds || bad && (e.limit != WheelOff || math.Abs(e.actual+more) > 1e-9 || e.need != 0) {
				t.Errorf("to side %g, %g kg more than stands on it: %+v, broken %v, keeps it %v", side, more, e, bad, holds)
			}
		}
	}
}

// By hand: of vehicles on a slanted line a slice's lowest is the line's own height there, whichever of the slants it follows, though the
// span as a whole goes lower; on the level too.
func TestASliceFollowsASlant(t *testing.T) {
	b := loaded(0.6)
	b.slopes = slopesOf(moments{b.front * b.per[0], 0, b.height})
	for _, slope := range append([]float64{0}, b.slopes[:]...) {
		var s span
		for i, x := range []float64{-300, 400, 1900} {
			v := moments{1400 * x, 0, 1400*700 - slope*1400*x}
			if one := b.slopes.spanOf(v); i == 0 {
				s = one
			} else {
				s.widen(&one)
			}
		}
		for x := -300.0; x <= 1800; x += 100 {
			for _, long := range []float64{0, 50} {
				got := b.slice(spot{}, &s, 1400*x, 1400*(x+long))[1]
				if want := math.Floor(700 - max(slope*x, slope*(x+long)) + 0.5 - 1e-6); float64(got) != want {
					t.Errorf("slope %g: %d mm for %g mm from %g mm on, on the line %g", slope, got, long, x, want)
				}
			}
		}
	}
}

// Of one vehicle the lowest is its height and so much more as it is off the aim along the vehicle; of two it is no more than the lower one's.
// Slopes come in pairs of one and its opposite, the steepest first.
func TestLowestOfAVehicle(t *testing.T) {
	r := rand.New(rand.NewPCG(35, 36))
	b := loaded(0.6)
	b.slopes = slopesOf(moments{b.front * b.per[0], 0, b.height})
	if want := 1400 * 2800 * 0.48; math.Abs(b.aim-want) > 1e-6 { // 48 % on the rear axle
		t.Errorf("aims at %g kg mm, not %g", b.aim, want)
	}
	for k := range slopePairs {
		up, down := b.slopes[len(b.slopes)-1-k], b.slopes[k]
		if up != -down || up <= 0 || k > 0 && up >= b.slopes[len(b.slopes)-k] {
			t.Errorf("pair %d: %g and %g", k, up, down)
		}
	}
	for range 100 {
		var two [2]span
		var low [2][slopePairs]float64
		for i := range two {
			m := moments{1400 * (900 + 900*r.Float64()), 0, 1400 * (500 + 200*r.Float64())}
			two[i] = b.slopes.spanOf(m)
			for k := range slopePairs {
				low[i][k] = m[2] + b.slopes[len(b.slopes)-1-k]*math.Abs(m[0]-b.aim)
				if got := b.lowest(&two[i].tilt, k); math.Abs(got-low[i][k]) > 1e-6 {
					t.Fatalf("slope %d, %v: %g, not %g", k, m, got, low[i][k])
				}
			}
		}
		two[0].widen(&two[1])
		for k, got := range b.promise(&two[0]) {
			if got > min(low[0][k], low[1][k])+1e-6 {
				t.Fatalf("slope %d: two vehicles promise %g, one has %g", k, got, low)
			}
		}
	}
}

// Room for rounding is a millionth of a kilogram, of a point, of a millimetre: a little less is no breach, a little more is one.
func TestRoomForRoundingOfWheelsAndStrictLimits(t *testing.T) {
	b := loaded(0.5)
	w := &b.rules.wheels
	w.twist, w.front, w.base = 0, 1440, 2048 // so that what follows is exact but for the last bits
	b.kg, b.front, b.twist = 1024, 100.0/2048/1024, 0
	b.side = [2]float64{100.0 / 1440 / 1024, 100.0 / 1440 / 1024}
	for over, breaks := range map[float64]bool{0.95e-6: false, 1.05e-6: true} {
		m := moments{1024 * 1024, 2 * (256 + over) * 1440, 1024 * 512}
		if e, bad, _ := b.wheels(&loadCase{}, &row{}, &m, &m); bad != breaks {
			t.Errorf("a wheel %g kg below nothing: %+v, broken %v", over, e, bad)
		}
		m[1] = 0
		for _, c := range []loadCase{{frontTyre: 256 - over}, {rearTyre: 256 - over}} {
			if e, bad, _ := b.wheels(&c, &row{}, &m, &m); bad != breaks {
				t.Errorf("a tyre %g kg over: %+v, broken %v", over, e, bad)
			}
		}
		if e, bad, _ := b.wheels(&loadCase{frontTyre: 0.5}, &row{}, &m, &m); !bad || e.limit != FrontTyres || e.need != 0.5 {
			t.Errorf("a tyre for half a kilogram: %+v", e)
		}
		for _, c := range []struct {
			limit Limit
			s     strict
			at    moments
		}{
			{FrontSplit, strict{frontPct: 50 - 1 - over, band: 1, side: 50, height: 1000}, m},
			{FrontSplit, strict{frontPct: 50 + 1 + over, band: 1, side: 50, height: 1000}, m},
			{SideSplit, strict{frontPct: 50, band: 1, side: 2, height: 1000}, moments{m[0], (2 + over) * 1440 * 1024 / 100, m[2]}},
			{Rise, strict{frontPct: 50, band: 1, side: 2, height: 512 - over}, m},
			{Stability, strict{frontPct: 50, band: 1, side: 2, height: 1000, ssf: 720.0/512 + over}, m},
		} {
			if e, bad, _ := c.s.hopeless(b, &c.at, &c.at); bad != breaks || bad && e.limit != c.limit {
				t.Errorf("%s: %g beyond: %+v, broken %v", c.limit, over, e, bad)
			}
		}
	}
}
