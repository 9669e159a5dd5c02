package check

import (
	"fmt"
	"math"

	"stowbay/layout/electric"
)

func moduleCurrent(e *Evaluation) []Finding {
	r := e.Electric
	var out []Finding
	for i := range r.Strings {
		s := &r.Strings[i]
		out = append(out, stringCurrent(s, "continuous", math.Abs(s.ShareA), s.ContinuousA))
		if r.Load.ContinuousA > 0 {
			out = append(out, stringCurrent(s, "peak", r.Load.PeakA*math.Abs(s.ShareA)/r.Load.ContinuousA, s.PeakA))
		}
		if s.ChargeA > 0 && r.Load.ChargeA > 0 {
			out = append(out, stringCurrent(s, "charging", r.Load.ChargeA/float64(r.Parallel), s.ChargeA))
		}
	}
	return out
}

func stringCurrent(s *electric.String, what string, asked, allowed float64) Finding {
	return level{subject: s.ID, required: allowed, actual: asked, compare: "at most", unit: "A", bad: Fails,
		good:  fmt.Sprintf("String %s carries %.0f A %s; its modules allow %.0f A.", s.ID, asked, what, allowed),
		wrong: fmt.Sprintf("String %s is asked for %.0f A %s, more than the %.0f A that its weakest module allows: ask for less, or put more strings in parallel.", s.ID, asked, what, allowed)}.finding()
}

func conductorSections(e *Evaluation) []Finding {
	r := e.Electric
	if len(r.Strings) == 0 {
		return nil
	}
	s := &r.Sections
	out := []Finding{carries("links", s.Link, s.StringA), withstands("links", s.Link, s)}
	if cabled(r) {
		out = append(out, carries("traction cables", s.Cable, s.StringA), withstands("traction cables", s.Cable, s))
	}
	return append(out, thinCables(r)...)
}

// cabled tells whether any cable leaves a box.
func cabled(r *electric.Result) bool {
	for i := range r.Cables {
		if r.Cables[i].Kind == "cable" {
			return true
		}
	}
	return false
}

func carries(what string, c electric.Conductor, amps float64) Finding {
	name := fmt.Sprintf("%g mm²", c.SectionMM2)
	if c.Bar != "" {
		name = "copper bar " + c.Bar
	}
	f := level{subject: "pack", required: amps, actual: c.CarriesA, compare: "at least", unit: "A", bad: Fails,
		good:  fmt.Sprintf("The %s (%s) carry %.0f A at the hot ambient; a string needs %.0f A.", what, name, c.CarriesA, amps),
		wrong: fmt.Sprintf("The %s (%s) carry only %.0f A at the hot ambient; a string needs %.0f A. Take a larger section, or more strings in parallel.", what, name, c.CarriesA, amps)}
	if what == "links" {
		f.source = "DIN 43671, scaled to the hot ambient"
	}
	return f.finding()
}

func withstands(what string, c electric.Conductor, s *electric.Sections) Finding {
	need := s.FaultA * s.FaultA * s.FaultS / 1e3
	return level{subject: "pack", required: need, actual: c.WithstandA2S / 1e3, compare: "at least", unit: "kA²s", bad: Fails, source: "IEC 60364-5-54 (adiabatic)",
		good:  fmt.Sprintf("The %s withstand a short circuit of %.1f kA for %.0f ms.", what, s.FaultA/1e3, s.FaultS*1e3),
		wrong: fmt.Sprintf("A short circuit of %.1f kA for %.0f ms overheats the %s of %g mm²; %.0f mm² are needed, or a quicker fuse.", s.FaultA/1e3, s.FaultS*1e3, what, c.SectionMM2, math.Ceil(c.AdiabaticMM2))}.finding()
}

// thinCables finds cables whose own section in the plan is less than needed.
func thinCables(r *electric.Result) []Finding {
	var out []Finding
	need := max(r.Sections.Cable.AmpacityMM2, r.Sections.Cable.AdiabaticMM2)
	for i := range r.Cables {
		c := &r.Cables[i]
		if c.Kind == "cable" && c.SectionMM2 < need-1e-9 && c.SectionMM2 != r.Sections.Cable.SectionMM2 {
			out = append(out, Finding{Severity: Warns, Subject: c.ID, Refs: []string{c.From, c.To}, Required: need, Actual: c.SectionMM2, Compare: "at least", Unit: "mm²", Place: &c.Centre,
				Text: fmt.Sprintf("Cable %s has %g mm²; a string's current and short circuit need %.0f mm²: take a larger section.", c.ID, c.SectionMM2, need)})
		}
	}
	return out
}

func voltageDrop(e *Evaluation) []Finding {
	r := e.Electric
	if len(r.Strings) == 0 || !cabled(r) || r.Window.NominalV == 0 {
		return nil
	}
	pct := 100 * r.Sections.Cable.DropV / r.Window.NominalV
	return []Finding{level{subject: "pack", required: 1, actual: pct, compare: "at most", unit: "%", bad: Warns,
		good:  fmt.Sprintf("The traction cables of a string lose %.1f V at continuous current, %.2f %% of the nominal voltage.", r.Sections.Cable.DropV, pct),
		wrong: fmt.Sprintf("The traction cables of a string lose %.1f V at continuous current, %.2f %% of the nominal voltage: take a larger section or a shorter way.", r.Sections.Cable.DropV, pct)}.finding()}
}

func crossingLinks(e *Evaluation) []Finding {
	var out []Finding
	for i := range e.Electric.Strings {
		s := &e.Electric.Strings[i]
		f := Finding{Severity: Passes, Subject: s.ID, Compare: "at most", Actual: float64(s.Crossings), Text: fmt.Sprintf("No two links of string %s cross.", s.ID)}
		if s.Crossings > 0 {
			f.Severity = Notes
			f.Text = fmt.Sprintf("Seen from above, links of string %s cross in %s: cover them there or change the order.", s.ID, counted(s.Crossings, "place"))
		}
		out = append(out, f)
	}
	return out
}
