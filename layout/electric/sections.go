package electric

import "math"

// dropShare is the share of the pack's nominal voltage that the cables between the boxes and to the inverter may
// take at the continuous current (common practice).
const dropShare = 0.01

// Sections are the conductors of the strings. Every string's links, leads and cables carry that string's current.
type Sections struct {
	Cable, Link Conductor
	StringA     float64 // continuous current of one string
	FuseA       float64 // preferred fuse rating for that and for the peak, which the conductors have to carry: the fuse then protects them
	FaultA      float64 // prospective short-circuit current through one string's conductors
	FaultS      float64
}

// Conductor is one kind of conductor with what asks for its section.
type Conductor struct {
	SectionMM2   float64
	Set          bool   // the plan states it; otherwise it is chosen here
	Bar          string // the bar chosen: "20x5"; empty for a cable and where the plan states the section
	Enough       bool   // false where no section of the tables carries the current
	AmpacityMM2  float64
	DropMM2      float64
	AdiabaticMM2 float64
	CarriesA     float64 // continuous current of the section used, at the hot ambient
	DropV        float64 // along the whole string at the continuous current
	WithstandA2S float64
}

// size finds sections and gives every link its resistance.
func (r *Result) size(e use) {
	s := &r.Sections
	s.StringA = r.Load.ContinuousA / float64(max(r.Parallel, 1))
	s.FuseA = NextR10(FuseRating(s.StringA, r.Load.PeakA/float64(max(r.Parallel, 1)), r.Load.PeakS))
	s.FaultA, s.FaultS = r.faultThroughString(), e.FaultMS/1000
	r.sizeCable(e)
	r.sizeLink(e)
	for i := range r.Strings {
		r.Strings[i].eachLink(r.setLink)
	}
	s.Cable.DropV, s.Link.DropV = r.dropped(true), r.dropped(false)
}

func (r *Result) sizeCable(e use) {
	s, c := &r.Sections, &r.Sections.Cable
	k := AdiabaticK(e.CableInsulation)
	c.AmpacityMM2 = CableForAmps(s.FuseA, e.HotC, e.CableInsulation)
	c.AdiabaticMM2 = NextSection(AdiabaticMM2(s.FaultA, s.FaultS, k))
	if v := r.nominalV() * dropShare; v > 0 {
		c.DropMM2 = NextSection(copperOhmMM2PerM * r.longestCable() / 1000 * s.StringA / v)
	}
	c.Enough = c.AmpacityMM2 > 0
	c.choose(e.CableMM2, max(c.AmpacityMM2, c.DropMM2, c.AdiabaticMM2))
	c.CarriesA = CableAmps(c.SectionMM2, e.HotC, e.CableInsulation)
	c.WithstandA2S = AdiabaticA2S(c.SectionMM2, k)
}

// sizeLink picks a bar. Bare copper may reach 200 C in a fault where nothing combustible touches it; links carry
// covers, so the constant of PVC is used, which is lower.
func (r *Result) sizeLink(e use) {
	s, c := &r.Sections, &r.Sections.Link
	k := AdiabaticK("PVC70")
	c.AdiabaticMM2 = AdiabaticMM2(s.FaultA, s.FaultS, k)
	bar, ok := BusbarForAmps(s.FuseA, e.HotC, c.AdiabaticMM2)
	c.AmpacityMM2, c.Enough = bar.SectionMM2, ok
	c.choose(e.LinkMM2, bar.SectionMM2)
	c.CarriesA = bar.Amps(e.HotC)
	if c.Set {
		c.CarriesA = barAmps(c.SectionMM2, e.HotC)
	} else {
		c.Bar = bar.Name()
	}
	c.WithstandA2S = AdiabaticA2S(c.SectionMM2, k)
}

// barAmps is the current of a section that the plan states: of the largest bar of the table that is no larger,
// less than proportional below the smallest.
func barAmps(mm2, airC float64) float64 {
	best := busbars[0].Amps(airC) * math.Pow(min(1, mm2/busbars[0].SectionMM2), beyondPower)
	for _, b := range busbars {
		if b.SectionMM2 <= mm2+1e-9 {
			best = max(best, b.Amps(airC))
		}
	}
	return best
}

func (c *Conductor) choose(set, need float64) {
	c.SectionMM2, c.Set = need, false
	if set > 0 {
		c.SectionMM2, c.Set = set, true
	}
}

// setLink gives a link its section, unless the plan's cable stated one, and its resistance.
func (r *Result) setLink(l *Link) {
	if !l.Between() {
		l.SectionMM2 = r.Sections.Link.SectionMM2
		l.Ohm = CopperOhm(l.LengthMM, l.SectionMM2, 20)
		return
	}
	if l.SectionMM2 == 0 {
		l.SectionMM2 = r.Sections.Cable.SectionMM2
	}
	l.Ohm = CableOhm(l.LengthMM, l.SectionMM2)
}

// longestCable is the length in mm of all cables of the string that has most of them.
func (r *Result) longestCable() float64 {
	longest := 0.0
	for i := range r.Strings {
		sum := 0.0
		r.Strings[i].eachLink(func(l *Link) {
			if l.Between() {
				sum += l.LengthMM
			}
		})
		longest = max(longest, sum)
	}
	return longest
}

// dropped is the largest voltage over one string's cables, or links, at the continuous current.
func (r *Result) dropped(cables bool) float64 {
	worst := 0.0
	for i := range r.Strings {
		ohm := 0.0
		r.Strings[i].eachLink(func(l *Link) {
			if l.Between() == cables {
				ohm += l.Ohm
			}
		})
		worst = max(worst, ohm*r.Sections.StringA)
	}
	return worst
}
