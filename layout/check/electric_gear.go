package check

import (
	"fmt"
	"strings"

	"stowbay/layout"
	"stowbay/layout/electric"
)

func fusePlaced(e *Evaluation) []Finding {
	var out []Finding
	for i := range e.Electric.Fuses {
		c := &e.Electric.Fuses[i]
		box, id := c.Box.Box.ID, e.Electric.Strings[c.String].ID
		f := Finding{Severity: Passes, Subject: box, Refs: []string{box}}
		if c.Fuse == nil {
			f.Severity = Fails
			f.Text = fmt.Sprintf("Box %s has no fuse for string %s: place one of at least %.0f A (next preferred rating %.0f A), %.0f V DC, able to break %.1f kA.",
				box, id, c.LeastA, c.PreferredA, c.NeedV, c.FaultA/1e3)
			out = append(out, f)
			continue
		}
		f.Refs = append(f.Refs, c.Fuse.ID)
		f.Place = &c.Fuse.CG
		f.Text = fmt.Sprintf("Box %s has fuse %s for string %s, %.0f mm from the nearer end of its modules.", box, c.Fuse.ID, id, c.FromEndMM)
		if c.FromEndMM > nearSourceMM {
			f.Severity, f.Required, f.Actual, f.Compare, f.Unit = Warns, nearSourceMM, c.FromEndMM, "at most", "mm"
			f.Text = fmt.Sprintf("Fuse %s sits %.0f mm from the nearer end of the modules in box %s: the conductor up to it is not protected; put it closer to the source.", c.Fuse.ID, c.FromEndMM, box)
		}
		out = append(out, f)
	}
	return out
}

// nearSourceMM is how far from its source a fuse may sit (common practice).
const nearSourceMM = 1000

func fuseRating(e *Evaluation) []Finding {
	var out []Finding
	for i := range e.Electric.Fuses {
		if c := &e.Electric.Fuses[i]; c.Fuse != nil {
			out = append(out, fuseFigures(c)...)
		}
	}
	return out
}

func fuseFigures(c *electric.FuseCheck) []Finding {
	g, at := c.Fuse.Gear, c.Fuse
	row := func(required, actual float64, compare, unit string, bad Severity, good, wrong string) Finding {
		f := level{subject: at.ID, refs: []string{at.ID}, required: required, actual: actual, compare: compare, unit: unit, bad: bad, good: good, wrong: wrong}.finding()
		f.Place = &at.CG
		return f
	}
	out := []Finding{
		row(c.NeedV, g.VoltageMaxV, "at least", "V", Fails,
			fmt.Sprintf("Fuse %s is rated %.0f V; the string reaches %.0f V.", at.ID, g.VoltageMaxV, c.NeedV),
			fmt.Sprintf("Fuse %s is rated %.0f V but the string reaches %.0f V: it may not put the arc out. Take one of a higher voltage.", at.ID, g.VoltageMaxV, c.NeedV)),
		row(c.LoadA/0.75, g.ContinuousA, "at least", "A", Warns,
			fmt.Sprintf("Fuse %s of %.0f A carries the string's %.0f A at no more than 75 %% of its rating.", at.ID, g.ContinuousA, c.LoadA),
			fmt.Sprintf("Fuse %s of %.0f A is too small for %.0f A all the time; at 75 %% loading take %.0f A.", at.ID, g.ContinuousA, c.LoadA, c.PreferredA)),
		row(g.ContinuousA, c.CableA, "at least", "A", Warns,
			fmt.Sprintf("Every conductor behind fuse %s carries its %.0f A.", at.ID, g.ContinuousA),
			fmt.Sprintf("The thinnest conductor behind fuse %s carries %.0f A, less than the fuse's %.0f A: an overload heats it without the fuse opening. %s", at.ID, c.CableA, g.ContinuousA, remedy(c))),
	}
	return append(out, fuseIntegrals(c, row)...)
}

// remedy says what to do about a fuse that does not protect its conductors.
func remedy(c *electric.FuseCheck) string {
	if c.PreferredA < c.Fuse.Gear.ContinuousA && c.PreferredA <= c.CableA {
		return fmt.Sprintf("Take a fuse of %.0f A, which the load allows, or thicker conductors.", c.PreferredA)
	}
	return "Take thicker conductors."
}

type rowFunc func(required, actual float64, compare, unit string, bad Severity, good, wrong string) Finding

func fuseIntegrals(c *electric.FuseCheck, row rowFunc) []Finding {
	g, id := c.Fuse.Gear, c.Fuse.ID
	var out []Finding
	if g.BreakingKA > 0 {
		out = append(out, row(c.FaultA/1e3, g.BreakingKA, "at least", "kA", Fails,
			fmt.Sprintf("Fuse %s breaks %.1f kA; the prospective short circuit is %.1f kA.", id, g.BreakingKA, c.FaultA/1e3),
			fmt.Sprintf("Fuse %s breaks %.1f kA but the prospective short circuit is %.1f kA: it may burst. Take one that breaks more.", id, g.BreakingKA, c.FaultA/1e3)))
	} else {
		out = append(out, unknownFigure(c.Fuse, "breaking capacity"))
	}
	if _, known := c.Protects(); known {
		out = append(out, row(g.ClearingA2S/1e3, c.WithstandA2S/1e3, "at least", "kA²s", Fails,
			fmt.Sprintf("What fuse %s lets through in a short circuit (%.0f kA²s) is less than any conductor withstands (%.0f kA²s).", id, g.ClearingA2S/1e3, c.WithstandA2S/1e3),
			fmt.Sprintf("What fuse %s lets through in a short circuit (%.0f kA²s) is more than the thinnest conductor withstands (%.0f kA²s): take a quicker fuse, or thicker conductors.", id, g.ClearingA2S/1e3, c.WithstandA2S/1e3)))
	} else {
		out = append(out, unknownFigure(c.Fuse, "clearing integral"))
	}
	return append(out, fusePeak(c, row))
}

func fusePeak(c *electric.FuseCheck, row rowFunc) Finding {
	id, most := c.Fuse.ID, c.MostPeakA()
	f := row(most, c.PeakA, "at most", "A", Warns,
		fmt.Sprintf("Fuse %s holds %.0f A for %.0f s; the peak is %.0f A.", id, most, c.PeakS, c.PeakA),
		fmt.Sprintf("A peak of %.0f A for %.0f s may melt fuse %s of %.0f A, which is counted on for %.0f A: check the maker's time-current curve.", c.PeakA, c.PeakS, id, c.Fuse.Gear.ContinuousA, most))
	f.Source = "IEC 60269-1 (non-fusing current and gates), from memory"
	return f
}

func unknownFigure(g *layout.GearBody, what string) Finding {
	return Finding{Severity: Notes, Subject: g.ID, Refs: []string{g.ID}, Place: &g.CG, Text: fmt.Sprintf("The %s of %s is not stated and was not checked: enter it from the maker's data.", what, g.ID)}
}

func contactorPlaced(e *Evaluation) []Finding {
	var out []Finding
	for _, p := range e.Electric.Protection.Poles {
		s, box := &e.Electric.Strings[p.String], p.Box.Box.ID
		f := Finding{Severity: Passes, Subject: box, Refs: []string{box}}
		if p.Contactor == nil {
			f.Severity = Fails
			f.Text = fmt.Sprintf("Box %s holds the %s end of string %s but no contactor for it: its connectors stay live when the vehicle is off. Place one.", box, p.Pole, s.ID)
		} else {
			f.Refs, f.Place = append(f.Refs, p.Contactor.ID), &p.Contactor.CG
			f.Text = fmt.Sprintf("Contactor %s switches the %s end of string %s inside box %s.", p.Contactor.ID, p.Pole, s.ID, box)
		}
		out = append(out, f)
	}
	return out
}

func contactorRating(e *Evaluation) []Finding {
	var out []Finding
	for i := range e.Electric.Contactors {
		out = append(out, contactorFigures(&e.Electric.Contactors[i])...)
	}
	return out
}

func contactorFigures(c *electric.ContactorCheck) []Finding {
	g, at := c.Contactor.Gear, c.Contactor
	rows := []struct {
		what, unit string
		need, has  float64
		severity   Severity
		wrong      string
	}{
		{"voltage", "V", c.NeedV, g.VoltageMaxV, Fails, "it may not put the arc out"},
		{"continuous current", "A", c.LoadA, g.ContinuousA, Fails, "it overheats"},
		{"making current", "A", c.MakeA, g.MakeA, Fails, "it may weld when it closes with the inverter precharged to 95 %"},
		{"breaking current", "A", c.BreakA, g.BreakA, Fails, "it may not open under the peak current"},
	}
	var out []Finding
	for _, r := range rows {
		if r.has == 0 {
			out = append(out, unknownFigure(at, r.what))
			continue
		}
		f := level{subject: at.ID, refs: []string{at.ID}, required: r.need, actual: r.has, compare: "at least", unit: r.unit, bad: r.severity,
			good:  fmt.Sprintf("The %s of contactor %s, %.0f %s, covers the %.0f %s needed.", r.what, at.ID, r.has, r.unit, r.need, r.unit),
			wrong: fmt.Sprintf("The %s of contactor %s is %.0f %s where %.0f %s are needed: %s. Take a stronger one.", r.what, at.ID, r.has, r.unit, r.need, r.unit, r.wrong)}.finding()
		f.Place = &at.CG
		out = append(out, f)
	}
	if g.BreakA > 0 && c.FaultA > g.BreakA {
		out = append(out, Finding{Severity: Notes, Subject: at.ID, Refs: []string{at.ID}, Place: &at.CG, Required: c.FaultA, Actual: g.BreakA, Unit: "A", Source: practice,
			Text: fmt.Sprintf("Contactor %s cannot open the short circuit of %.1f kA (it breaks %.1f kA): the fuse has to be quicker.", at.ID, c.FaultA/1e3, g.BreakA/1e3)})
	}
	return out
}

func prechargePlaced(e *Evaluation) []Finding {
	r := e.Electric
	p := &r.Precharge
	if p.CapacitanceF == 0 || len(r.Strings) == 0 {
		return nil
	}
	from := fmt.Sprintf("%.0f µF (%s) to %.0f V", p.CapacitanceF*1e6, strings.Join(p.Sources, ", "), r.Window.MaxV)
	if p.Gear == nil {
		return []Finding{{Severity: Fails, Subject: "pack", Text: fmt.Sprintf("Nothing precharges %s: the first contactor to close makes a short circuit. A resistor of %.0f ohm would reach 95 %% in %.0f ms and take %.0f J.", from, p.Ohm, p.T95S*1e3, p.J)}}
	}
	f := Finding{Severity: Passes, Subject: p.Gear.ID, Refs: []string{p.Gear.ID}, Place: &p.Gear.CG,
		Text: fmt.Sprintf("Precharge resistor %s charges %s: 95 %% after %.0f ms, %.1f A at first, %.0f J in the resistor.", p.Gear.ID, from, p.T95S*1e3, p.PeakA, p.J)}
	if has := p.Gear.Gear.PrechargeJ; has > 0 {
		f.Required, f.Actual, f.Compare, f.Unit = p.J, has, "at least", "J"
		if has < p.J {
			f.Severity = Fails
			f.Text = fmt.Sprintf("Precharge resistor %s takes %.0f J once but charging %s puts %.0f J into it: take one that takes more.", p.Gear.ID, has, from, p.J)
		}
	}
	return []Finding{f}
}

func gearRating(e *Evaluation) []Finding {
	var out []Finding
	for i := range e.Electric.Rated {
		out = append(out, ratedFigures(&e.Electric.Rated[i])...)
	}
	return out
}

func ratedFigures(r *electric.Rated) []Finding {
	g, id := r.Gear.Gear, r.Gear.ID
	var out []Finding
	add := func(l level) {
		l.subject, l.refs, l.bad = id, []string{id}, Fails
		f := l.finding()
		f.Place = &r.Gear.CG
		out = append(out, f)
	}
	if g.VoltageMaxV > 0 {
		add(level{required: r.MaxV, actual: g.VoltageMaxV, compare: "at least", unit: "V",
			good:  fmt.Sprintf("%s is rated %.0f V; the pack reaches %.0f V.", id, g.VoltageMaxV, r.MaxV),
			wrong: fmt.Sprintf("%s is rated %.0f V but the pack reaches %.0f V. Take one of a higher voltage.", id, g.VoltageMaxV, r.MaxV)})
	} else {
		out = append(out, unknownFigure(r.Gear, "rated voltage"))
	}
	if g.VoltageMinV > 0 && r.MinV > 0 {
		add(level{required: g.VoltageMinV, actual: r.MinV, compare: "at least", unit: "V",
			good:  fmt.Sprintf("%s works from %.0f V; the empty pack has %.0f V.", id, g.VoltageMinV, r.MinV),
			wrong: fmt.Sprintf("%s works only from %.0f V; the empty pack has %.0f V. Take one that works from less, or stop using the pack earlier.", id, g.VoltageMinV, r.MinV)})
	}
	if g.ContinuousA > 0 && r.LoadA > 0 {
		add(level{required: r.LoadA, actual: g.ContinuousA, compare: "at least", unit: "A",
			good:  fmt.Sprintf("%s is rated %.0f A and carries %.0f A.", id, g.ContinuousA, r.LoadA),
			wrong: fmt.Sprintf("%s is rated %.0f A but has to carry %.0f A all the time. Take one of a higher current.", id, g.ContinuousA, r.LoadA)})
	}
	return out
}
