package drawing

import (
	"math"

	"github.com/golang/geo/r2"
)

// A name that finds no free spot beside what it names looks for one in circles about it: in this many directions, in
// steps of so many mm at a name scale of 1, so many of them.
const (
	leaderDirections = 16
	leaderStepMM     = 55
	leaderSteps      = 24
)

// gapAround is how far names keep off what they name: farther where names are large, so that they stand clear of it on
// the screen too.
func (p *pen) gapAround() float64 { return 8 + 8*p.o.names() }

// grantLed sets a name at the nearest free place about its first spot and draws a leader from it.
func (p *pen) grantLed(w wish) bool {
	c := w.at[0].At
	for k := 1; k <= leaderSteps; k++ {
		far := float64(k) * leaderStepMM * p.o.names()
		for d := range leaderDirections {
			sin, cos := math.Sincos(2 * math.Pi * (float64(d) + 0.5) / leaderDirections)
			r, ok := p.set(w, spot{c.Add(pt(far*cos, far*sin)), sideways(cos)}, w.off)
			if ok {
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

// leader draws the line from a name to what it names.
func (p *pen) leader(w wish, name r2.Rect) {
	end := name.ClampPoint(w.tip(name.Center()))
	tip := w.tip(end)
	switch {
	case end.Sub(tip).Norm() <= 1:
	case w.note && len(w.off) > 0:
		p.items = append(p.items, Stroke{Of: Tag{Role: w.role, Ref: w.ref}, Points: []r2.Point{end, tip}, Pt: noteLeaderPt})
	default:
		p.segment(Tag{Role: RoleLeader, Ref: w.ref}, end, tip)
	}
}
