package electric

import (
	"math"

	"stowbay/layout"
)

// fuseShare is the share of its rating that a fuse is used at all the time (common practice).
const fuseShare = 0.75

// peakTimes says how far above its rating a fuse may be loaded for how long. The first is the conventional
// non-fusing current of IEC 60269-1; the others stay well below its gates, which ask a full-range fuse to hold
// about 2.9 times its rating for 10 s (all from memory, not checked against the text).
var peakTimes = [...]struct{ seconds, times float64 }{{10, 2}, {60, 1.6}}

// peakTimesLong is the same for longer than that.
const peakTimesLong = 1.25

// FusePeak returns how many times its rating a fuse may be loaded for a time in s without melting (see peakTimes).
func FusePeak(seconds float64) float64 {
	for _, p := range peakTimes {
		if seconds <= p.seconds {
			return p.times
		}
	}
	return peakTimesLong
}

// FuseRating returns the least rating in A of a fuse for a continuous current and a peak of some seconds.
func FuseRating(continuousA, peakA, peakS float64) float64 {
	return max(continuousA/fuseShare, peakA/FusePeak(peakS))
}

// FuseCheck is the fuse of one string in one box, what is asked of it and what it is.
type FuseCheck struct {
	Box    *layout.BoxScene
	String int
	Fuse   *layout.GearBody // nil: none in the box

	NeedV        float64 // the string's highest voltage: a fault to another box puts all of it across one fuse
	LoadA        float64 // continuous current of the string
	LeastA       float64 // least rating for that and for the peak
	PreferredA   float64 // the next rating of the series R10
	PeakA        float64
	PeakS        float64
	FaultA       float64 // prospective current it must break
	CableA       float64 // what the thinnest conductor behind it carries
	WithstandA2S float64 // and withstands

	FromEndMM float64 // way along the axes from the fuse to the nearer end of the box's modules; 0 without a fuse
}

// Carries tells whether the rating suffices for the continuous current.
func (c *FuseCheck) Carries() bool { return fuseShare*c.Fuse.Gear.ContinuousA >= c.LoadA-1e-9 }

// MostPeakA is the peak that the fuse holds for the peak's time: by its rating, or by its melting integral, which
// is on the safe side for peaks of seconds.
func (c *FuseCheck) MostPeakA() float64 {
	g := c.Fuse.Gear
	most := FusePeak(c.PeakS) * g.ContinuousA
	if g.MeltingA2S > 0 && c.PeakS > 0 {
		most = max(most, math.Sqrt(g.MeltingA2S/c.PeakS))
	}
	return most
}

// Protects tells whether the conductors withstand what the fuse lets through; known is false where the fuse's
// clearing integral is not stated.
func (c *FuseCheck) Protects() (ok, known bool) {
	g := c.Fuse.Gear
	return g.ClearingA2S <= c.WithstandA2S, g.ClearingA2S > 0
}

// fuses checks the fuse of every passage of a string through a box; a box passed twice is checked once.
func (r *Result) fuses(e use) {
	for i := range r.Strings {
		s := &r.Strings[i]
		seen := map[*layout.BoxScene]bool{}
		for _, p := range s.Passes {
			if !seen[p.Box] {
				seen[p.Box] = true
				r.Fuses = append(r.Fuses, r.fuseCheck(s, p, e))
			}
		}
	}
}

func (r *Result) fuseCheck(s *String, p Passage, e use) FuseCheck {
	c := FuseCheck{Box: p.Box, String: p.String, NeedV: s.MaxV, LoadA: math.Abs(s.ShareA), FaultA: r.Sections.FaultA, PeakS: r.Load.PeakS}
	c.Fuse = fuseFor(p, r.sharing(p.Box))
	if r.Load.ContinuousA > 0 {
		c.PeakA = r.Load.PeakA * c.LoadA / r.Load.ContinuousA
	}
	c.LeastA = FuseRating(c.LoadA, c.PeakA, c.PeakS)
	c.PreferredA = NextR10(c.LeastA)
	c.CableA, c.WithstandA2S = r.weakest(s, e)
	if c.Fuse != nil {
		c.FromEndMM = min(alongAxes(c.Fuse.CG, s.Modules[p.From].Neg.Place), alongAxes(c.Fuse.CG, s.Modules[p.To-1].Pos.Place))
	}
	return c
}

// sharing lists the strings that pass a box, by index.
func (r *Result) sharing(b *layout.BoxScene) []int {
	var out []int
	for i := range r.Strings {
		for _, p := range r.Strings[i].Passes {
			if p.Box == b && (len(out) == 0 || out[len(out)-1] != i) {
				out = append(out, i)
			}
		}
	}
	return out
}

// fuseFor is the fuse in a box for a string: where several strings pass, the first fuse is the first string's.
func fuseFor(p Passage, strings []int) *layout.GearBody {
	n := 0
	for n < len(strings) && strings[n] != p.String {
		n++
	}
	for _, g := range p.Box.Gear {
		if g.Gear.Kind != "fuse" {
			continue
		}
		if n == 0 {
			return g
		}
		n--
	}
	return nil
}

// weakest is the least current that a conductor of the string carries and the least integral it withstands.
func (r *Result) weakest(s *String, e use) (amps, a2s float64) {
	amps, a2s = r.Sections.Link.CarriesA, r.Sections.Link.WithstandA2S
	thin := math.Inf(1)
	s.eachLink(func(l *Link) {
		if l.Between() {
			thin = min(thin, l.SectionMM2)
		}
	})
	if math.IsInf(thin, 1) {
		return amps, a2s
	}
	return min(amps, CableAmps(thin, e.HotC, e.CableInsulation)), min(a2s, AdiabaticA2S(thin, AdiabaticK(e.CableInsulation)))
}
