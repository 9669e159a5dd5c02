package drawing

import (
	"math"
	"slices"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
)

// A name that finds no free spot beside what it names looks for one in circles about it: in this many directions, in
// steps of so many mm at a name scale of 1, so many of them.
const (
	leaderDirections = 16
	leaderStepMM     = 55
	leaderSteps      = 24
	nearSteps        = 8 // for names that rather are left out than led far
)

// gapAround is how far names keep off what they name: farther where names are large, so that they stand clear of it on
// the screen too.
func (p *pen) gapAround() float64 { return 8 + 8*p.o.names() }

// grantLed sets a name at the nearest free place about its first spot and draws a leader from it.
func (p *pen) grantLed(w wish) bool {
	c := w.at[0].At
	steps := leaderSteps
	if w.near {
		steps = nearSteps
	}
	for k := 1; k <= steps; k++ {
		far := float64(k) * leaderStepMM * p.o.names()
		for d := range leaderDirections {
			sin, cos := math.Sincos(2 * math.Pi * (float64(d) + 0.5) / leaderDirections)
			at := spot{c.Add(pt(far*cos, far*sin)), sideways(cos)}
			if !p.leadsClear(w, p.nameAt(w, at).extent()) {
				continue
			}
			if r, ok := p.set(w, at, w.off); ok {
				p.leader(w, r)
				return true
			}
		}
	}
	return false
}

// sideways is the anchor of a name that lies in a direction from what it names.
func sideways(cos float64) Anchor {
	switch {
	case cos > 0.3:
		return West
	case cos < -0.3:
		return East
	}
	return Middle
}

// noteLeaderPt is how heavy a leader from what is said of a place is, to be seen across what lies between.
const noteLeaderPt = 0.9

// lead is the line from a name to what it names.
type lead struct{ from, tip r2.Point }

func (w *wish) lead(name r2.Rect) lead {
	from := name.ClampPoint(w.tip(name.Center()))
	return lead{from, w.tip(from)}
}

// leader draws the line from a name to what it names.
func (p *pen) leader(w wish, name r2.Rect) {
	l := w.lead(name)
	if l.tip.Sub(l.from).Norm() <= 1 {
		return
	}
	p.led = append(p.led, l)
	if w.note && len(w.off) > 0 {
		p.items = append(p.items, Stroke{Of: Tag{Role: w.role, Ref: w.ref}, Points: []r2.Point{l.from, l.tip}, Pt: noteLeaderPt})
		return
	}
	p.segment(Tag{Role: RoleLeader, Ref: w.ref}, l.from, l.tip)
}

// leadsClear tells whether a leader from a name would cross no other name and no symbol but the one it ends in.
func (p *pen) leadsClear(w wish, name r2.Rect) bool {
	l := w.lead(name)
	return !slices.ContainsFunc(p.taken, func(q r2.Rect) bool { return !q.ContainsPoint(l.tip) && l.crosses(q) })
}

// underLeader tells whether a leader crosses a rectangle.
func (p *pen) underLeader(r r2.Rect) bool {
	return slices.ContainsFunc(p.led, func(l lead) bool { return l.crosses(r) })
}

// crosses tells whether the line has a point in common with a rectangle: it is cut down to what lies between the
// rectangle's sides, first in x, then in y.
func (l lead) crosses(r r2.Rect) bool {
	d := l.tip.Sub(l.from)
	part := r1.Interval{Lo: 0, Hi: 1}
	part = part.Intersection(within(l.from.X, d.X, r.X)).Intersection(within(l.from.Y, d.Y, r.Y))
	return !part.IsEmpty()
}

// within is for which t the coordinate a + t·d lies in an interval.
func within(a, d float64, in r1.Interval) r1.Interval {
	switch {
	case d != 0:
		return r1.IntervalFromPoint((in.Lo - a) / d).AddPoint((in.Hi - a) / d)
	case in.Contains(a):
		return r1.Interval{Lo: math.Inf(-1), Hi: math.Inf(1)}
	}
	return r1.EmptyInterval()
}
