package electric

import "stowbay/layout"

// Evaluate works out the electrics of a scene. prev, the result before an edit, saves work for boxes that are
// the same; it may be nil and never changes the answer. Several goroutines may use the same prev.
func Evaluate(s *layout.Scene, prev *Result) *Result {
	r := &Result{Scene: s, facts: make(map[*layout.BoxScene]*boxFacts, len(s.Boxes))}
	for _, b := range s.Boxes {
		r.facts[b] = prev.known(b)
	}
	e := settingsOf(s)
	r.findConsumers()
	r.build(r.gather())
	r.compareStrings()
	r.Load.ask(e, r.nominalV(), r.Strings)
	r.size(e)
	r.electrify(e)
	r.faults()
	r.runs()
	r.insulate(e)
	r.precharge(e)
	r.fuses(e)
	r.contactors()
	r.rated()
	r.isolate()
	r.touch()
	r.protect()
	return r
}

func (r *Result) known(b *layout.BoxScene) *boxFacts {
	if r != nil && r.facts[b] != nil {
		return r.facts[b]
	}
	return newBoxFacts(b)
}

// nominalV is the mean of the strings' nominal voltages.
func (r *Result) nominalV() float64 {
	sum := 0.0
	for i := range r.Strings {
		sum += r.Strings[i].NominalV
	}
	return sum / float64(max(len(r.Strings), 1))
}

// electrify sets resistances, then window and energy.
func (r *Result) electrify(e use) {
	for i := range r.Strings {
		s := &r.Strings[i]
		gear := r.gearOhm(s)
		s.Ohm = s.ohmAt(referenceC) + gear
		s.ColdOhm, s.HotOhm = s.ohmAt(e.ColdC)+gear, s.ohmAt(e.HotC)+gear
		r.Window.CurveAssumed = s.rest(e) || r.Window.CurveAssumed
	}
	r.window(e)
	r.energy(e)
}
