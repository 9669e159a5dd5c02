package electric

import (
	"math"

	"stowbay/layout"
)

// Faults are prospective short-circuit currents in A with every cell at its highest voltage and only the modules'
// own resistance in the way: I = U/R. The resistance on a data sheet is usually that of a pulse of seconds; in
// the first milliseconds a cell gives more, up to about twice (from memory, not checked against a text).
type Faults struct {
	ModuleA float64 // largest of one module
	BoxA    []BoxFault
	StringA float64 // largest of one string
	PackA   float64 // all strings together
}

// BoxFault is the current through a short circuit across what a box holds of one string.
type BoxFault struct {
	Box    *layout.BoxScene
	String int
	V, A   float64
}

func (r *Result) faults() {
	f := &r.Faults
	for i := range r.Strings {
		s := &r.Strings[i]
		for _, m := range s.Modules {
			f.ModuleA = max(f.ModuleA, m.Module.MaxV()/ModuleOhm(m.Module, referenceC))
		}
		for _, p := range s.Passes {
			f.BoxA = append(f.BoxA, s.boxFault(p))
		}
		a := s.faultA()
		f.StringA = max(f.StringA, a)
		f.PackA += a
	}
}

func (s *String) boxFault(p Passage) BoxFault {
	ohm := 0.0
	for _, m := range s.Modules[p.From:p.To] {
		ohm += ModuleOhm(m.Module, referenceC)
	}
	v := p.PosV - p.NegV
	return BoxFault{Box: p.Box, String: p.String, V: v, A: v / ohm}
}

// faultA is a string's own prospective current.
func (s *String) faultA() float64 { return s.MaxV / s.moduleOhm(referenceC) }

// faultThroughString is the largest current that a short circuit can drive through one string's conductors: its
// own, or that of all the others feeding into it.
func (r *Result) faultThroughString() float64 {
	all, own, least := 0.0, 0.0, math.Inf(1)
	for i := range r.Strings {
		a := r.Strings[i].faultA()
		all += a
		own = max(own, a)
		least = min(least, a)
	}
	return max(own, all-least)
}
