package check

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/cooling"
)

// coolingRules ask whether coolant or air carries the heat away and where the sensors see it.
var coolingRules = []Rule{
	{"cooling.loop", "modules that no coolant reaches", "the plan itself", loopReaches},
	{"cooling.flow", "a pump too weak for the loop", "Darcy-Weisbach with 64/Re and Blasius' friction; the band between 2300 and 4000 is uncertain", loopFlows},
	{"cooling.hottest", "a module hotter than its maker permits", maker, hottest},
	{"cooling.spread", "modules that age apart because some run hotter", commonPractice, spreadOfModules},
	{"cooling.frost", "coolant that freezes", "Melinder 2010, freezing of ethylene glycol in water", frost},
	{"cooling.radiator", "heat that the radiator cannot give off", "radiator's data as entered", radiatorCopes},
	{"cooling.sensors", "sensors that do not see the hottest end", commonPractice, sensorPlaces},
	{"cooling.air", "modules that air alone cannot cool", maker, airCools},
}

// moduleHeat hands the modules' heat to the cooling: R I² with each string's share of the current.
func (e *Evaluation) moduleHeat() cooling.Heat {
	r := e.Electric
	h := cooling.Heat{CurrentA: r.Load.ContinuousA, W: make(map[string]float64, e.Scene.Count())}
	scale := 1.0
	if a := e.Plan.Settings.Cooling.HeatA; a > 0 {
		h.CurrentA = a
		if r.Load.ContinuousA > 0 {
			scale = a / r.Load.ContinuousA
		}
	}
	for i := range r.Strings {
		s := &r.Strings[i]
		share := s.ShareA * scale
		if s.ShareA == 0 && len(r.Strings) > 0 {
			share = h.CurrentA / float64(len(r.Strings))
		}
		for _, m := range s.Modules {
			h.W[m.ID] = share * share * m.Module.Ohmic.MilliOhm / 1000
		}
	}
	return h
}

// place1 is the middle of a module, to point at.
func place1(b *layout.Body) *r3.Vector {
	v := b.Prism.Centroid()
	return &v
}

func loopReaches(e *Evaluation) []Finding {
	r := e.Cooling
	if r.Cooled == 0 {
		return nil
	}
	if len(r.Plates) == 0 && len(r.Outside) == 0 {
		return []Finding{{Severity: Fails, Subject: "coolant loop", Text: fmt.Sprintf("%s coolant plates, but %s, so that nothing flows.", counted(r.Cooled, "module")+verb(r.Cooled, " has", " have"), r.Stopped)}}
	}
	var out []Finding
	for box, ms := range byBox(r.Outside) {
		f := Finding{Severity: Fails, Subject: box, Refs: []string{box}, Place: place1(ms[0]),
			Text: fmt.Sprintf("Box %s: no branch of the coolant loop passes it, so that %s with coolant plates %s without coolant. Lead a branch through it.", box, counted(len(ms), "module"), verb(len(ms), "stays", "stay"))}
		out = append(out, f)
	}
	slices.SortFunc(out, func(a, b Finding) int { return strings.Compare(a.Subject, b.Subject) })
	for box, ms := range byBox(r.Unsized) {
		out = append(out, Finding{Severity: Notes, Subject: box, Refs: []string{box}, Place: place1(ms[0]),
			Text: fmt.Sprintf("Box %s: %s no channel for the coolant plate, which is then taken to have no resistance. Enter it from the maker's data.", box, counted(len(ms), "module")+verb(len(ms), " states", " state"))})
	}
	if len(out) == 0 {
		out = append(out, Finding{Severity: Passes, Subject: "coolant loop", Text: fmt.Sprintf("The coolant loop passes every module with a plate (%d).", r.Cooled)})
	}
	return out
}

func byBox(bs []*layout.Body) map[string][]*layout.Body {
	out := map[string][]*layout.Body{}
	for _, b := range bs {
		box := boxOf(b.ID)
		out[box] = append(out[box], b)
	}
	return out
}

func boxOf(id string) string {
	for i := range id {
		if id[i] == '/' {
			return id[:i]
		}
	}
	return id
}

// loopFlows says what flows; where a plate's flow is neither laminar nor turbulent it notes that little is certain.
func loopFlows(e *Evaluation) []Finding {
	r := e.Cooling
	if r.Cooled == 0 {
		return nil
	}
	f := Finding{Subject: "coolant loop"}
	if !r.Flows {
		f.Severity, f.Text = Notes, fmt.Sprintf("The coolant's flow is not known: %s.", r.Stopped)
		return []Finding{f}
	}
	f.Severity = Passes
	f.Text = fmt.Sprintf("The pump moves %.1f L/min at %.1f kPa through %s and %.1f m of hose.", r.FlowLPM, r.HeadKPa, branches(len(r.Branches)), r.HoseMM/1000)
	lo, hi := branchEnds(r.Branches)
	if len(r.Branches) > 1 {
		f.Text += fmt.Sprintf(" The branches get %.1f to %.1f L/min.", lo, hi)
	}
	if lo < 0.7*hi {
		f.Severity = Warns
		f.Text += " That is uneven: the weakest gets less than 70 % of the strongest (common practice); shorten the weak branch, or throttle the strong one."
	}
	if n := uncertain(r.Plates); n > 0 && f.Severity == Passes {
		f.Severity = Notes
		f.Text += fmt.Sprintf(" In %s the flow is neither surely laminar nor turbulent, so that the resistance there is uncertain.", counted(n, "plate"))
	}
	return []Finding{f}
}

func branchEnds(bs []cooling.Branch) (lo, hi float64) {
	for i, b := range bs {
		if i == 0 {
			lo, hi = b.FlowLPM, b.FlowLPM
		}
		lo, hi = min(lo, b.FlowLPM), max(hi, b.FlowLPM)
	}
	return lo, hi
}

func uncertain(ps []cooling.Plate) int {
	n := 0
	for i := range ps {
		if ps[i].Re > 2300 && ps[i].Re < 4000 {
			n++
		}
	}
	return n
}

// hottest looks at every module against its own limit and keeps what does not pass, or the closest.
func hottest(e *Evaluation) []Finding {
	r := e.Cooling
	var out []Finding
	for i := range r.Plates {
		p := &r.Plates[i]
		limit := p.Body.Module.TempMaxC
		if !p.Known || limit == 0 {
			continue
		}
		f := Finding{Severity: Fails, Subject: p.Body.ID, Refs: []string{p.Body.ID, boxOf(p.Body.ID)}, Place: place1(p.Body), Required: limit, Actual: p.CellC, Unit: "°C", Compare: "at most"}
		f = f.judge(fmt.Sprintf("Module %s settles at %.1f °C with %.0f W and coolant from %.1f to %.1f °C; its maker permits %.0f °C.", p.Body.ID, p.CellC, p.HeatW, p.InC, p.OutC, limit)).mending("More flow, cooler coolant or less current brings it down.")
		if f.Severity == Passes && f.Margin() < 5 {
			f.Severity = Warns
			f.Text += " Less than 5 K are left for a hot day and for age (common practice)."
		}
		out = append(out, f)
	}
	return notPassing(out)
}

// spreadLimitK is the spread between modules that is commonly aimed at.
const spreadLimitK = 5

func spreadOfModules(e *Evaluation) []Finding {
	r := e.Cooling
	if r.Worst < 0 {
		return nil
	}
	p := &r.Plates[r.Worst]
	f := Finding{Severity: Warns, Subject: "coolant loop", Refs: []string{p.Body.ID}, Place: place1(p.Body), Required: spreadLimitK, Actual: r.SpreadK, Unit: "K", Compare: "at most"}
	f = f.judge(fmt.Sprintf("The hottest module, %s, is %.1f K warmer than the coolest; up to 5 K is aimed at.", p.Body.ID, r.SpreadK))
	if f.Severity == Warns {
		f.Text += " Split the loop into more branches, or raise the flow."
	}
	return []Finding{f}
}

func frost(e *Evaluation) []Finding {
	r := e.Cooling
	if r.Cooled == 0 {
		return nil
	}
	cold := e.Plan.Settings.Electric.ColdC
	at := r.Coolant.FreezesC()
	f := Finding{Severity: Fails, Subject: "coolant loop", Required: cold, Actual: at, Unit: "°C", Compare: "at most"}
	return []Finding{f.judge(fmt.Sprintf("Coolant with %.0f %% glycol by mass begins to freeze at %.0f °C; the coldest stated for the plan is %.0f °C.", 100*r.Coolant.Glycol, at, cold)).mending("Add glycol.")}
}

func radiatorCopes(e *Evaluation) []Finding {
	r := e.Cooling
	if !r.Flows {
		return nil
	}
	if r.Radiator == nil {
		return []Finding{{Severity: Warns, Subject: "coolant loop", Actual: r.LoopW, Unit: "W", Text: fmt.Sprintf("No radiator is placed: nothing gives off the %.0f W that the coolant takes up. Place one.", r.LoopW)}}
	}
	c := r.Radiator.CG
	f := Finding{Severity: Fails, Subject: r.Radiator.ID, Refs: []string{r.Radiator.ID}, Place: &c, Required: r.Radiator.Gear.HeatW, Actual: r.LoopW, Unit: "W", Compare: "at most"}
	if f.Required == 0 {
		return []Finding{{Severity: Notes, Subject: r.Radiator.ID, Place: &c, Text: fmt.Sprintf("The radiator %s states no heat, so that it is not checked against the %.0f W of the loop.", r.Radiator.ID, r.LoopW)}}
	}
	return []Finding{f.judge(fmt.Sprintf("The loop takes up %.0f W; the radiator %s gives off %.0f W under the conditions of its data, which need not be those of the hottest day.", r.LoopW, r.Radiator.ID, f.Required)).mending("Take a larger one.")}
}

// sensorPlaces says where the sensors belong.
func sensorPlaces(e *Evaluation) []Finding {
	var out []Finding
	for _, s := range e.Cooling.Sensors {
		at := s.Place
		what := map[string]string{"inlet": "inlet edge, the coolest end", "outlet": "outlet edge, the warmest coolant", "hottest": "outlet edge, the hottest module"}[s.Kind]
		out = append(out, Finding{Severity: Notes, Subject: s.Module, Refs: []string{s.Module}, Place: &at,
			Text: fmt.Sprintf("Branch %s: put a temperature sensor on module %s at its coolant %s.", s.Branch, s.Module, what)})
	}
	return out
}

// drivenHeat says what current heats as a driving cycle does, where the plan states none for the heat.
func (e *Evaluation) drivenHeat() string {
	v := e.Electric.Window.NominalV
	if e.Plan.Settings.Cooling.HeatA > 0 || !e.Road.Known || v <= 0 {
		return ""
	}
	d := e.Road.Cycles[0]
	return fmt.Sprintf(" That is the continuous current; the %s heats like %.0f A. State the current for the heat in the cooling settings.", d.Cycle.Name, 1000*d.EffectiveKW/v)
}

// airCools compares heat and limit of modules without a plate, box by box, the worst of each.
func airCools(e *Evaluation) []Finding {
	worst := map[string]*cooling.AirCooled{}
	silent := map[string]int{}
	for i := range e.Cooling.Air {
		a := &e.Cooling.Air[i]
		box := boxOf(a.Body.ID)
		if a.LimitW == 0 {
			silent[box]++
			continue
		}
		if w := worst[box]; w == nil || a.HeatW-a.LimitW > w.HeatW-w.LimitW {
			worst[box] = a
		}
	}
	var out []Finding
	for _, b := range e.Scene.Boxes {
		id := b.Box.ID
		if w := worst[id]; w != nil {
			f := Finding{Severity: Fails, Subject: w.Body.ID, Refs: []string{w.Body.ID, id}, Place: place1(w.Body), Required: w.LimitW, Actual: w.HeatW, Unit: "W", Compare: "at most"}
			out = append(out, f.judge(fmt.Sprintf("Module %s gives off %.1f W at %.0f A from the battery; its maker lets air alone carry %.1f W. How air moves inside the box is not computed.%s", w.Body.ID, w.HeatW, e.Cooling.CurrentA, w.LimitW, e.drivenHeat())).mending("Ask it for less current, or take modules with coolant plates."))
		}
		if n := silent[id]; n > 0 {
			out = append(out, Finding{Severity: Notes, Subject: id, Refs: []string{id}, Text: fmt.Sprintf("Box %s: %s no coolant plate and %s no heat that air may carry, so that the cooling is not checked.", id, counted(n, "module")+verb(n, " has", " have"), verb(n, "states", "state"))})
		}
	}
	return out
}

func branches(n int) string {
	if n == 1 {
		return "1 branch"
	}
	return fmt.Sprintf("%d branches", n)
}
