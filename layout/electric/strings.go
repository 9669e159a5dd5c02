package electric

import (
	"math"

	"stowbay/layout"
)

// build makes the strings: it orders those that may be ordered, joins their terminals and adds up their cells.
func (r *Result) build(gs []gathered) {
	for _, g := range gs {
		if !g.pinned {
			g.places = r.reorder(g.places)
		}
		r.Strings = append(r.Strings, r.newString(g))
	}
	r.Parallel = len(r.Strings)
	for i := range r.Strings {
		r.Series = max(r.Series, len(r.Strings[i].Modules))
	}
}

// reorder brings a string's modules into a short order: box by box, then inside each box.
func (r *Result) reorder(ps []place) []place {
	members := map[*boxFacts][]int{}
	var boxes []*boxFacts
	for _, b := range r.Scene.Boxes {
		boxes = append(boxes, r.facts[b])
	}
	for _, p := range ps {
		members[p.facts] = append(members[p.facts], p.slot)
	}
	used := boxes[:0]
	for _, f := range boxes {
		if len(members[f]) > 0 {
			used = append(used, f)
		}
	}
	out := make([]place, 0, len(ps))
	for _, v := range r.visit(used, true) {
		for _, i := range v.facts.route(members[v.facts], v.entry, v.exit) {
			out = append(out, place{v.facts, i})
		}
	}
	return out
}

func (r *Result) newString(g gathered) String {
	s := String{ID: g.id, Pinned: g.pinned, Modules: make([]Member, len(g.places))}
	for i, p := range g.places {
		s.Modules[i] = Member{Body: p.body(), Box: p.facts.box}
	}
	r.passages(&s, len(r.Strings))
	r.join(&s, g.places)
	s.addCells()
	s.setPotentials()
	s.Crossings = s.countCrossings()
	return s
}

// passages cuts a string where it changes boxes.
func (r *Result) passages(s *String, index int) {
	for i := range s.Modules {
		n := len(s.Passes)
		if n > 0 && s.Passes[n-1].Box == s.Modules[i].Box {
			s.Passes[n-1].To = i + 1
			continue
		}
		s.Passes = append(s.Passes, Passage{Box: s.Modules[i].Box, String: index, From: i, To: i + 1})
	}
}

func (s *String) addCells() {
	s.CapacityAh, s.ContinuousA, s.PeakA = math.Inf(1), math.Inf(1), math.Inf(1)
	s.ChargeA, s.RegenA = math.Inf(1), math.Inf(1)
	for _, m := range s.Modules {
		d := m.Module
		s.MinV += d.MinV()
		s.NominalV += d.NominalV()
		s.MaxV += d.MaxV()
		s.CapacityAh = min(s.CapacityAh, d.CapacityAh())
		s.ContinuousA = min(s.ContinuousA, d.Current.ContinuousA)
		s.PeakA = min(s.PeakA, max(d.Current.PeakA, d.Current.ContinuousA))
		s.ChargeA = min(s.ChargeA, d.Current.ChargeA)
		s.RegenA = min(s.RegenA, max(d.Current.RegenA, d.Current.ChargeA))
	}
}

// setPotentials puts potentials on terminals, passages and links.
func (s *String) setPotentials() {
	volts := make([]float64, len(s.Modules))
	for i, m := range s.Modules {
		volts[i] = m.Module.MaxV()
	}
	at := Potentials(volts)
	for i := range s.Modules {
		s.Modules[i].NegV, s.Modules[i].PosV = at[i], at[i+1]
	}
	for i := range s.Links {
		s.Links[i].V = at[i+1]
	}
	for i := range s.Passes {
		s.Passes[i].NegV, s.Passes[i].PosV = at[s.Passes[i].From], at[s.Passes[i].To]
	}
	if s.Positive != nil {
		s.Positive.V = at[len(at)-1]
	}
}

// rest sets a string's voltages at rest.
func (s *String) rest(e use) (assumed bool) {
	for _, m := range s.Modules {
		n := float64(m.Module.Series)
		v, guess := OpenVolts(&m.Module.Cell, e.SOCPct)
		low, _ := OpenVolts(&m.Module.Cell, e.UsableLowPct)
		full, _ := OpenVolts(&m.Module.Cell, e.UsableHighPct)
		s.OpenV, s.LowV, s.FullV = s.OpenV+n*v, s.LowV+n*low, s.FullV+n*full
		assumed = assumed || guess
	}
	return assumed
}

// moduleOhm is the resistance of a string's modules at a temperature.
func (s *String) moduleOhm(tempC float64) float64 {
	sum := 0.0
	for _, m := range s.Modules {
		sum += ModuleOhm(m.Module, tempC)
	}
	return sum
}

// ohmAt is the resistance of a string's modules, links and leads at a temperature.
func (s *String) ohmAt(tempC float64) float64 {
	return s.moduleOhm(tempC) + s.linkOhm()*(1+copperPerK*(tempC-20))
}

// linkOhm is the resistance of a string's links and leads at 20 C. Bolted joints are not counted.
func (s *String) linkOhm() float64 {
	sum := 0.0
	s.eachLink(func(l *Link) { sum += l.Ohm })
	return sum
}

// eachLink visits the leads and links of a string from negative to positive.
func (s *String) eachLink(f func(*Link)) {
	if s.Negative != nil {
		f(s.Negative)
	}
	for i := range s.Links {
		f(&s.Links[i])
	}
	if s.Positive != nil {
		f(s.Positive)
	}
}

// gearOhm is the resistance of contactors, fuses and the like in a string's path: those in the boxes it passes,
// divided by the strings that pass the box, as each has its own share of them.
func (r *Result) gearOhm(s *String) float64 {
	sum := 0.0
	seen := map[*layout.BoxScene]bool{}
	for _, p := range s.Passes {
		if seen[p.Box] {
			continue
		}
		seen[p.Box] = true
		sum += pathOhm(p.Box.Gear) / float64(len(r.sharing(p.Box)))
	}
	return sum
}

func pathOhm(gs []*layout.GearBody) float64 {
	sum := 0.0
	for _, g := range gs {
		if inPath(g.Gear.Kind) {
			sum += g.Gear.MilliOhm / 1000
		}
	}
	return sum
}

func inPath(kind string) bool {
	switch kind {
	case "contactor", "fuse", "service_disconnect", "current_sensor", "connector", "junction":
		return true
	}
	return false
}
