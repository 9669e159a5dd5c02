package electric

import (
	"fmt"
	"math"
	"slices"

	"stowbay/vehicles"
)

// unequal is the difference in voltage between strings, as a share, above which they count as unequal.
const unequal = 1e-6

// compareStrings notes strings that are short, unequal or mixed.
func (r *Result) compareStrings() {
	for i := range r.Strings {
		s := &r.Strings[i]
		if r.WantS > 0 && len(s.Modules) != r.WantS {
			r.Problems = append(r.Problems, Problem{Kind: ShortString, Of: s.ID, Refs: s.ids(), Want: float64(r.WantS), Have: float64(len(s.Modules)),
				Text: fmt.Sprintf("String %s has %d modules in series where %d are asked for.", s.ID, len(s.Modules), r.WantS)})
		}
		r.compareModules(s)
	}
	if len(r.Strings) > 0 && len(r.Strings) < r.WantP {
		r.Problems = append(r.Problems, Problem{Kind: ShortString, Of: "pack", Want: float64(r.WantP), Have: float64(len(r.Strings)),
			Text: fmt.Sprintf("The modules placed make %d of the %d strings asked for.", len(r.Strings), r.WantP)})
	}
	r.compareVoltages()
}

func (r *Result) compareVoltages() {
	if len(r.Strings) < 2 {
		return
	}
	lo, hi := &r.Strings[0], &r.Strings[0]
	for i := range r.Strings {
		if s := &r.Strings[i]; s.MaxV < lo.MaxV {
			lo = s
		} else if s.MaxV > hi.MaxV {
			hi = s
		}
	}
	if hi.MaxV-lo.MaxV <= unequal*hi.MaxV {
		return
	}
	r.Problems = append(r.Problems, Problem{Kind: UnequalStrings, Of: lo.ID, Refs: append(lo.ids(), hi.ids()...), Want: hi.MaxV, Have: lo.MaxV,
		Text: fmt.Sprintf("String %s reaches %.1f V and string %s %.1f V; side by side the higher one charges the lower one.", lo.ID, lo.MaxV, hi.ID, hi.MaxV)})
}

func (s *String) ids() []string {
	out := make([]string, len(s.Modules))
	for i, m := range s.Modules {
		out[i] = m.ID
	}
	return out
}

// compareModules notes modules in a string that differ from its first one: the gravest difference only.
func (r *Result) compareModules(s *String) {
	first := s.Modules[0].Module
	var kind string
	var at int
	for i, m := range s.Modules {
		if k := difference(first, m.Module); rankOf(k) > rankOf(kind) {
			kind, at = k, i
		}
	}
	if kind == "" {
		return
	}
	other := s.Modules[at]
	r.problem(kind, s.ID, []string{s.Modules[0].ID, other.ID}, mixedText(kind, s.ID, first, other.Module))
}

// differences are the kinds of differences by rising gravity.
var differences = [...]string{MixedTypes, MixedCapacity, MixedChemistry}

func rankOf(kind string) int {
	return slices.Index(differences[:], kind)
}

func difference(a, b *vehicles.Module) string {
	switch {
	case a == b || a.ID == b.ID:
		return ""
	case a.Cell.Chemistry != b.Cell.Chemistry || a.Cell.MaxV != b.Cell.MaxV || a.Cell.MinV != b.Cell.MinV:
		return MixedChemistry
	case math.Abs(a.CapacityAh()-b.CapacityAh()) > 0.01*a.CapacityAh():
		return MixedCapacity
	}
	return MixedTypes
}

func mixedText(kind, id string, a, b *vehicles.Module) string {
	switch kind {
	case MixedChemistry:
		return fmt.Sprintf("String %s mixes %s (%s, %.2f-%.2f V a cell) with %s (%s, %.2f-%.2f V): their cells reach their limits at different voltages.",
			id, a.ID, a.Cell.Chemistry, a.Cell.MinV, a.Cell.MaxV, b.ID, b.Cell.Chemistry, b.Cell.MinV, b.Cell.MaxV)
	case MixedCapacity:
		return fmt.Sprintf("String %s mixes %s (%.0f Ah) with %s (%.0f Ah): the smaller one ends the discharge for all.", id, a.ID, a.CapacityAh(), b.ID, b.CapacityAh())
	}
	return fmt.Sprintf("String %s mixes module types %s and %s with like cells.", id, a.ID, b.ID)
}
