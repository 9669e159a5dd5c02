package check

import (
	"fmt"
	"math"

	"stowbay/layout/electric"
)

// Sources of the electrical rules.
const (
	practice     = "common practice"
	maker2       = "makers' data as entered"
	iec60664     = "IEC 60664-1"
	iec60364     = "IEC 60364-5-52 (currents), IEC 60364-5-54 (short circuit)"
	us305        = "49 CFR 571.305"
	r100         = "UN Regulation 100, 5.1.3; 49 CFR 571.305 S5.4.3"
	fuseRules    = "race-car rule EV.6.6 (fuse voltage, rating and breaking capacity); 75 % loading: common practice"
	contactRules = "race-car rule EV.5.4 (a contactor in each pole)"
)

var electricRules = []Rule{
	{"electric.reference", "strings and cables that name what is not there", "the plan itself", stringReferences},
	{"electric.strings", "strings that are short or differ, so that one charges the other", "Kirchhoff's laws", stringsAlike},
	{"electric.mixed", "cells that reach their limits at different times in one string", practice, mixedModules},
	{"electric.leftover", "modules placed but wired to nothing", "the plan itself", leftovers},
	{"electric.inverter_window", "a pack voltage that the inverter does not work at, or that destroys it", maker2, inverterWindow},
	{"electric.charger_window", "a pack voltage that the charger cannot reach", maker2, chargerWindow},
	{"electric.sag", "cells drawn below their lowest voltage under load, empty and cold", maker2, cellSag},
	{"electric.regen", "braking current that lifts cells above their highest voltage", maker2, regenerating},
	{"electric.module_current", "modules asked for more current than their maker allows", maker2, moduleCurrent},
	{"electric.conductor", "cables and links that overheat, in service or in a short circuit", iec60364, conductorSections},
	{"electric.drop", "energy lost in long thin cables", practice, voltageDrop},
	{"electric.crossing", "links that rub on each other where they cross", practice, crossingLinks},
	{"electric.fuse", "a short circuit that nothing ends", fuseRules, fusePlaced},
	{"electric.fuse_rating", "a fuse that cannot break the fault, melts in service or does not protect its cable", fuseRules, fuseRating},
	{"electric.contactor", "box connectors that stay live when the vehicle is off", contactRules, contactorPlaced},
	{"electric.contactor_rating", "a contactor that overheats, welds shut or cannot open", maker2, contactorRating},
	{"electric.gear_rating", "connectors, disconnects and converters that do not stand the pack's voltage or current", maker2, gearRating},
	{"electric.precharge", "contactors that weld on the inrush into the inverter's capacitors", "race-car rule EV.5.6 (90 %); circuit theory", prechargePlaced},
	{"electric.clearance", "a flash or a creeping current between live parts, or from them to metal", iec60664, insulationDistances},
	{"electric.isolation", "a current through a person who touches pack and chassis", r100, isolationSum},
	{"electric.isolation_monitor", "a first fault to the chassis that nobody notices", practice, isolationMonitor},
	{"electric.y_capacitors", "a shock from the filter capacitors although the isolation is good", "ISO 6469-4 (0.2 J)", yCapacitors},
	{"electric.touch", "fingers or wires that reach live parts", us305 + " S5.4.1; probes: ISO 20653", touchProtection},
	{"electric.disconnect", "work on a pack that is still at its full voltage", practice, serviceDisconnect},
	{"electric.pilot", "a connector or a lid opened while the pack is live", practice, pilotLoop},
	{"electric.inertia", "a pack that stays switched on after a crash", practice, inertiaSwitch},
	{"electric.monitoring", "a cell that is overcharged or drained without anybody seeing it", practice, monitoringBoards},
	{"electric.sensors", "a hot end that no sensor sees", practice, temperatureSensors},
	{"electric.class", "work at a dangerous voltage without knowing it", us305 + " S3 (60 V DC)", voltageClass},
}

// problems turns the result's problems of some kinds into findings, and says all is well where there are none.
func (e *Evaluation) problems(severity map[string]Severity, well string) []Finding {
	var out []Finding
	for _, p := range e.Electric.Problems {
		s, ok := severity[p.Kind]
		if !ok {
			continue
		}
		f := Finding{Severity: s, Subject: p.Of, Refs: p.Refs, Text: p.Text}
		if p.Want > 0 {
			f.Required, f.Actual, f.Compare = p.Want, p.Have, "at least"
		}
		if p.Kind == electric.UnequalStrings {
			f.Unit = "V"
		}
		out = append(out, f)
	}
	if len(out) == 0 && len(e.Electric.Strings) > 0 {
		out = append(out, Finding{Severity: Passes, Subject: "pack", Text: well})
	}
	return out
}

func stringReferences(e *Evaluation) []Finding {
	return e.problems(map[string]Severity{electric.UnknownModule: Fails, electric.TwiceUsed: Fails, electric.NoTerminal: Fails, electric.UnknownEnd: Fails},
		"Every string and every cable names what is there, and no module is used twice.")
}

func stringsAlike(e *Evaluation) []Finding {
	r := e.Electric
	return e.problems(map[string]Severity{electric.ShortString: Fails, electric.UnequalStrings: Fails},
		fmt.Sprintf("%s of %s in series.", counted(r.Parallel, "string"), counted(r.Series, "module")))
}

func mixedModules(e *Evaluation) []Finding {
	return e.problems(map[string]Severity{electric.MixedChemistry: Fails, electric.MixedCapacity: Warns, electric.MixedTypes: Notes},
		"All modules of a string have like cells and the same capacity.")
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func leftovers(e *Evaluation) []Finding {
	r := e.Electric
	if len(r.Leftover) == 0 {
		if len(r.Strings) == 0 {
			return nil
		}
		return []Finding{{Severity: Passes, Subject: "pack", Text: "Every module placed is in a string."}}
	}
	f := Finding{Severity: Warns, Subject: "pack", Required: 0, Actual: float64(len(r.Leftover)), Compare: "at most",
		Text: fmt.Sprintf("%s placed but in no string, adding mass and no energy: wire %s up or take %s out.", counted(len(r.Leftover), "module")+verb(len(r.Leftover), " is", " are"), verb(len(r.Leftover), "it", "them"), verb(len(r.Leftover), "it", "them"))}
	for _, m := range r.Leftover {
		f.Refs = append(f.Refs, m.ID)
	}
	return []Finding{f}
}

// level is one comparison in volts, amperes or the like.
type level struct {
	subject          string
	refs             []string
	required, actual float64
	compare, unit    string
	bad              Severity
	good, wrong      string
	source           string
}

// finding says whether actual stands to required as it has to.
func (l level) finding() Finding {
	f := Finding{Subject: l.subject, Refs: l.refs, Required: l.required, Actual: l.actual, Compare: l.compare, Unit: l.unit, Source: l.source}
	f.Severity, f.Text = Passes, l.good
	const noise = 1e-9
	if f.Margin() < -noise*math.Max(1, math.Abs(l.required)) {
		f.Severity, f.Text = l.bad, l.wrong
	}
	return f
}

func inverterWindow(e *Evaluation) []Finding {
	r := e.Electric
	g := r.Load.Inverter
	switch {
	case len(r.Strings) == 0:
		return nil
	case g == nil:
		return []Finding{{Severity: Notes, Subject: "pack", Text: "No inverter is placed or named in the settings, so its voltage window is not checked."}}
	}
	var out []Finding
	refs := consumerRefs(r)
	if g.VoltageMaxV > 0 {
		out = append(out, level{subject: "pack", refs: refs, required: g.VoltageMaxV, actual: r.Window.MaxV, compare: "at most", unit: "V", bad: Fails,
			good:  fmt.Sprintf("Fully charged the pack has %.1f V; the inverter (%s) takes up to %.0f V.", r.Window.MaxV, g.Name, g.VoltageMaxV),
			wrong: fmt.Sprintf("Fully charged the pack has %.1f V, more than the %.0f V that the inverter (%s) takes. Put fewer modules in series, or take another inverter.", r.Window.MaxV, g.VoltageMaxV, g.Name)}.finding())
	}
	if g.VoltageMinV > 0 {
		out = append(out, lowEnd(r, refs)...)
	}
	return out
}

func consumerRefs(r *electric.Result) []string {
	if r.Load.InverterAt != nil {
		return []string{r.Load.InverterAt.ID}
	}
	return nil
}

// lowEnd compares the inverter's lowest voltage with the empty pack at rest and with the sag under peak current.
func lowEnd(r *electric.Result, refs []string) []Finding {
	g := r.Load.Inverter
	out := []Finding{level{subject: "pack", refs: refs, required: g.VoltageMinV, actual: r.Window.LowV, compare: "at least", unit: "V", bad: Fails,
		good:  fmt.Sprintf("At %.0f %% charge and at rest the pack has %.1f V; the inverter works from %.0f V.", r.Window.LowPct, r.Window.LowV, g.VoltageMinV),
		wrong: fmt.Sprintf("At %.0f %% charge and at rest the pack has %.1f V, less than the %.0f V that the inverter works from. Put more modules in series, or take another inverter.", r.Window.LowPct, r.Window.LowV, g.VoltageMinV)}.finding()}
	for _, s := range lowSags(r) {
		out = append(out, level{subject: "pack", refs: refs, required: g.VoltageMinV, actual: s.V, compare: "at least", unit: "V", bad: Warns,
			good:  fmt.Sprintf("At %.0f %% charge, %.0f °C and %.0f A peak the pack holds %.1f V; the inverter works from %.0f V.", s.SOCPct, s.TempC, s.A, s.V, g.VoltageMinV),
			wrong: fmt.Sprintf("At %.0f %% charge, %.0f °C and %.0f A peak the pack would sag to %.1f V, below the %.0f V that the inverter works from: it will cut power.", s.SOCPct, s.TempC, s.A, s.V, g.VoltageMinV)}.finding())
	}
	return out
}

// lowSags are the peak sags at the lower end of use, warm and cold.
func lowSags(r *electric.Result) []electric.Sag {
	var out []electric.Sag
	for _, s := range r.Window.Sags {
		if s.Name == "peak" && s.SOCPct == r.Window.LowPct && s.TempC <= 25 {
			out = append(out, s)
		}
	}
	return out
}

func chargerWindow(e *Evaluation) []Finding {
	r := e.Electric
	g := r.Load.Charger
	switch {
	case len(r.Strings) == 0:
		return nil
	case g == nil:
		return []Finding{{Severity: Notes, Subject: "pack", Text: "No charger is placed or named in the settings, so its voltage window is not checked."}}
	}
	var refs []string
	if r.Load.ChargerAt != nil {
		refs = []string{r.Load.ChargerAt.ID}
	}
	out := []Finding{}
	if g.VoltageMaxV > 0 {
		out = append(out, level{subject: "pack", refs: refs, required: r.Window.MaxV, actual: g.VoltageMaxV, compare: "at least", unit: "V", bad: Fails,
			good:  fmt.Sprintf("The charger (%s) reaches %.0f V; the full pack has %.1f V.", g.Name, g.VoltageMaxV, r.Window.MaxV),
			wrong: fmt.Sprintf("The charger (%s) reaches only %.0f V; the pack needs %.1f V to be full and never will be. Put fewer modules in series, or take another charger.", g.Name, g.VoltageMaxV, r.Window.MaxV)}.finding())
	}
	if g.VoltageMinV > 0 {
		out = append(out, level{subject: "pack", refs: refs, required: g.VoltageMinV, actual: r.Window.MinV, compare: "at least", unit: "V", bad: Warns,
			good:  fmt.Sprintf("The charger (%s) starts from %.0f V; the empty pack has %.1f V.", g.Name, g.VoltageMinV, r.Window.MinV),
			wrong: fmt.Sprintf("The charger (%s) starts from %.0f V; a pack drained to %.1f V cannot be charged with it. Stop using the pack above that, or take another charger.", g.Name, g.VoltageMinV, r.Window.MinV)}.finding())
	}
	return out
}

func cellSag(e *Evaluation) []Finding {
	r := e.Electric
	var out []Finding
	for _, s := range lowSags(r) {
		out = append(out, level{subject: "pack", required: r.Window.MinV, actual: s.V, compare: "at least", unit: "V", bad: Warns,
			good:  fmt.Sprintf("At %.0f %% charge, %.0f °C and %.0f A the cells stay above their lowest voltage (%.1f V for the pack).", s.SOCPct, s.TempC, s.A, r.Window.MinV),
			wrong: fmt.Sprintf("At %.0f %% charge, %.0f °C and %.0f A the pack would sag to %.1f V, below the cells' lowest voltage (%.1f V for the pack): limit the current when cold or empty.", s.SOCPct, s.TempC, s.A, s.V, r.Window.MinV)}.finding())
	}
	return out
}

func regenerating(e *Evaluation) []Finding {
	r := e.Electric
	if len(r.Strings) == 0 || r.Load.RegenA == 0 {
		return nil
	}
	w := &r.Window
	return []Finding{level{subject: "pack", required: w.MaxV, actual: w.RegenV, compare: "at most", unit: "V", bad: Notes,
		good:  fmt.Sprintf("Regenerative braking with %.0f A at the upper end of use lifts the pack to %.1f V, within its %.1f V.", r.Load.RegenA, w.RegenV, w.MaxV),
		wrong: fmt.Sprintf("Regenerative braking with %.0f A at the upper end of use would lift the pack to %.1f V, above its %.1f V: hold it to %.0f A there.", r.Load.RegenA, w.RegenV, w.MaxV, math.Max(0, w.RegenRoomA))}.finding()}
}
