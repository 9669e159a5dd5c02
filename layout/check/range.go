package check

import (
	"fmt"
	"strings"

	"stowbay/layout/mass"
	"stowbay/layout/roadload"
	"stowbay/vehicles"
)

// rangeRules say how far it goes and what that rests on.
var rangeRules = []Rule{
	{"range.known", "a range that nobody can work out", "the plan itself", rangeKnown},
	{"range.estimate", "a range promised on estimates", "road load F = rho/2 cdA v² + m g f; UN GTR 15 and UN R83 traces", rangeRests},
	{"range.power", "a pack that cannot follow the cycle", maker, cyclePower},
}

// road works out the range with the driver on board.
func (e *Evaluation) road() *roadload.Result {
	return roadload.Evaluate(e.Scene.Donor, e.Plan.Settings.Range, e.drivenKg(), e.pack())
}

// drivenKg is the converted vehicle with its driver, or without one where there is no such case.
func (e *Evaluation) drivenKg() float64 {
	if c := e.Mass.Of(mass.CaseDriver); c != nil {
		return c.Now.Body.Kg.Value
	}
	return e.Mass.Now.Kg.Value
}

// pack hands over the usable energy, and that of one module more of the type that is used most.
func (e *Evaluation) pack() roadload.Pack {
	n := e.Electric.Energy
	p := roadload.Pack{UsableKWh: n.UsableKWh}
	if m := e.commonest(); m != nil {
		p.Module, p.ModuleKg = m.Name, m.MassKg
		p.ModuleKWh = m.EnergyKWh() * (n.HighPct - n.LowPct) / 100
	}
	return p
}

func (e *Evaluation) commonest() *vehicles.Module {
	count := map[*vehicles.Module]int{}
	var best *vehicles.Module
	for _, b := range e.Scene.Boxes {
		for _, m := range b.Modules {
			if count[m.Module]++; best == nil || count[m.Module] > count[best] {
				best = m.Module
			}
		}
	}
	return best
}

func rangeKnown(e *Evaluation) []Finding {
	r := e.Road
	if r.Known || e.Scene.Count() == 0 {
		return nil
	}
	return []Finding{{Severity: Notes, Subject: "vehicle", Text: fmt.Sprintf("The range is not worked out, as %s is not known.", strings.Join(r.Missing, " and "))}}
}

// rangeRests says how far it goes, and that this is no promise.
func rangeRests(e *Evaluation) []Finding {
	r := e.Road
	if !r.Known || r.Pack.UsableKWh <= 0 {
		return nil
	}
	w, n := r.Cycles[0], r.Cycles[1]
	f := Finding{Severity: Notes, Subject: "vehicle", Actual: w.RangeKm, Unit: "km"}
	f.Text = fmt.Sprintf("With %.1f kWh usable it goes about %.0f km in the WLTC class 3b and %.0f km in the NEDC, with %.0f kg in all.", r.Pack.UsableKWh, w.RangeKm, n.RangeKm, r.Vehicle.MassKg)
	if r.Pack.ModuleKWh > 0 {
		f.Text += fmt.Sprintf(" One module more would add about %.1f km.", w.OneMoreKm)
	}
	if r.Estimate {
		f.Text += " The drag area or the rolling resistance is an estimate: a coast-down test, which times how the vehicle slows by itself, would settle them."
	}
	if len(r.Assumed) > 0 {
		f.Text += " Assumed: " + strings.Join(r.Assumed, ", ") + "."
	}
	return []Finding{f}
}

// cyclePower compares the cycles' peak power with what the pack gives at the lower end of use.
func cyclePower(e *Evaluation) []Finding {
	r, have := e.Road, e.Electric.Window.LowPowerKW
	if !r.Known || have <= 0 {
		return nil
	}
	var out []Finding
	for i := range r.Cycles {
		d := &r.Cycles[i]
		f := Finding{Severity: Warns, Subject: "pack", Required: have, Actual: d.PeakKW, Unit: "kW", Compare: "at most"}
		out = append(out, f.judge(fmt.Sprintf("The %s asks for up to %.0f kW from the battery, which gives %.0f kW at the lower end of its charge.", d.Cycle.Name, d.PeakKW, have)).mending("The vehicle falls behind the cycle there; more strings in parallel would mend it."))
	}
	return notPassing(out)
}
