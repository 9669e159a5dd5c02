package check

import (
	"fmt"
	"math"

	"stowbay/layout/electric"
)

func insulationDistances(e *Evaluation) []Finding {
	in := &e.Electric.Insulation
	var out []Finding
	for i := range in.Pairs {
		out = append(out, pairFinding(&in.Pairs[i]))
	}
	if in.BadGroupIIIb {
		out = append(out, Finding{Severity: Fails, Subject: "pack", Source: iec60664 + " (from memory)",
			Text: "Insulating material of group IIIb is not for pollution degree 3 at 630 V and above: use a better group or keep the dirt out."})
	}
	return out
}

func pairFinding(p *electric.Pair) Finding {
	f := Finding{Severity: Passes, Subject: p.RefA, Refs: []string{p.RefA, p.RefB}, Required: p.NeedMM(), Actual: p.ActualMM, Compare: "at least", Unit: "mm"}
	if p.RefB != p.Box.Box.ID {
		f.Refs = append(f.Refs, p.Box.Box.ID)
	}
	from, to := p.Path[0], p.Path[len(p.Path)-1]
	f.Place, f.To = &from, &to
	what := fmt.Sprintf("%s to %s in box %s", p.A, p.B, p.Box.Box.ID)
	need := fmt.Sprintf("%s insulation at %.0f V needs %.1f mm through air (clearance) and %.1f mm along surfaces (creepage)", p.Insulation, p.WorkingV, p.Required.ClearanceMM, p.Required.CreepageMM)
	if !p.Known {
		need += " (the potential of the gear is not known: the whole voltage is taken)"
	}
	f.Text = fmt.Sprintf("Of its kind the tightest is %s, %.1f mm%s; %s.", what, p.ActualMM, barrierText(p), need)
	if math.IsInf(p.ActualMM, 1) {
		f.Actual, f.Required, f.Compare, f.Unit = 0, 0, "", ""
		f.Text = fmt.Sprintf("Barrier %s closes the way from %s; %s.", p.Barrier, what, need)
	}
	if !p.Enough() {
		f.Severity = Fails
		f.Text = fmt.Sprintf("Too close: %s, %.1f mm%s; %s. Move them apart, cover the metal or put a barrier between.", what, p.ActualMM, barrierText(p), need)
	}
	if !p.Required.WithinTables {
		f.Severity = Fails
		f.Text += " The voltage lies beyond the tables of the standard: ask its text or a specialist."
	}
	return f
}

func barrierText(p *electric.Pair) string {
	if p.Barrier == "" {
		return ""
	}
	return " round barrier " + p.Barrier
}

func isolationSum(e *Evaluation) []Finding {
	r := e.Electric
	i := &r.Isolation
	if i.RequiredOhm == 0 {
		return nil
	}
	need := fmt.Sprintf("%.0f kohm are needed (%.0f ohm a volt at %.0f V)", i.RequiredOhm/1e3, i.OhmPerVolt, r.Window.MaxV)
	if math.IsInf(i.SumOhm, 1) {
		return []Finding{{Severity: Notes, Subject: "pack", Required: i.RequiredOhm / 1e3, Unit: "kohm",
			Text: "No gear states its isolation resistance, so the sum cannot be worked out; " + need + ". Measure it on the finished vehicle."}}
	}
	f := level{subject: "pack", required: i.RequiredOhm / 1e3, actual: i.SumOhm / 1e3, compare: "at least", unit: "kohm", bad: Fails,
		good:  fmt.Sprintf("The isolation of all gear that states it comes to %.0f kohm in parallel; %s. Modules and cables are not in it: measure the finished vehicle.", i.SumOhm/1e3, need),
		wrong: fmt.Sprintf("The isolation of all gear that states it comes to only %.0f kohm in parallel; %s. The piece with the least decides: take a better one.", i.SumOhm/1e3, need)}.finding()
	return []Finding{f}
}

func isolationMonitor(e *Evaluation) []Finding {
	r := e.Electric
	if len(r.Strings) == 0 || r.Window.MaxV <= classAV {
		return nil
	}
	if m := r.Isolation.Monitor; m != nil {
		return []Finding{{Severity: Passes, Subject: m.ID, Refs: []string{m.ID}, Place: &m.CG, Text: fmt.Sprintf("Isolation monitor %s watches for a first fault to the chassis.", m.ID)}}
	}
	return []Finding{{Severity: Warns, Subject: "pack", Text: "No isolation monitor is placed: a first fault to the chassis goes unnoticed until the second one is a short circuit. Place one."}}
}

func yCapacitors(e *Evaluation) []Finding {
	i := &e.Electric.Isolation
	if i.YF == 0 || i.YJ == 0 {
		return nil
	}
	return []Finding{level{subject: "pack", required: 0.2, actual: i.YJ, compare: "at most", unit: "J", bad: Warns,
		good:  fmt.Sprintf("The capacitances to the chassis (%.2f µF over both poles) hold %.3f J at the highest voltage.", i.YF*1e6, i.YJ),
		wrong: fmt.Sprintf("The capacitances to the chassis (%.2f µF over both poles) hold %.2f J at the highest voltage: even with good isolation a touch gives a shock. Take filters of less capacitance, or insulate twice over.", i.YF*1e6, i.YJ)}.finding()}
}

func touchProtection(e *Evaluation) []Finding {
	r := e.Electric
	var out []Finding
	for _, t := range r.Touch {
		if r.Window.MaxV <= classAV || len(t.Box.Modules) == 0 {
			continue
		}
		c := centreOfBox(t.Box)
		where := "in " + t.Where
		if t.Where == "" {
			where = "outside the passenger and luggage space"
		}
		out = append(out, Finding{Severity: Notes, Subject: t.Box.Box.ID, Refs: []string{t.Box.Box.ID}, Place: &c,
			Text: fmt.Sprintf("Box %s stands %s: closed, it has to keep out %s (%s).", t.Box.Box.ID, where, probe(t.Code), t.Code)})
	}
	return out
}

func probe(code string) string {
	if code == "IPXXD" {
		return "a wire of 1 mm"
	}
	return "a finger"
}

// classAV is the end of voltage class A in V DC.
const classAV = 60

func voltageClass(e *Evaluation) []Finding {
	v := e.Electric.Window.MaxV
	if v == 0 {
		return nil
	}
	f := Finding{Severity: Notes, Subject: "pack", Required: classAV, Actual: v, Compare: "", Unit: "V",
		Text: fmt.Sprintf("The pack reaches %.0f V, above 60 V DC: a hazardous voltage. Work on it is for trained people with insulated tools and gloves, by the makers' data and local rules.", v)}
	if v <= classAV {
		f.Severity = Passes
		f.Text = fmt.Sprintf("The pack reaches %.0f V, within 60 V DC. A short circuit still burns.", v)
	}
	return []Finding{f}
}
