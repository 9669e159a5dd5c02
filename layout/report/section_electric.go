package report

import (
	"fmt"
	"math"
	"strings"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/layout/electric"
	"stowbay/layout/report/page"
	"stowbay/vehicles"
)

// electrics sets the pack's electrics with the single-line diagram.
func (b *book) electrics() {
	r := b.e.Electric
	if len(r.Strings) == 0 {
		b.Para("No string: the arrangement has no wired modules, so that there are no electrics to state.")
		b.problems(r)
		return
	}
	b.Caution("A pack is never off. Work on it is for people trained and equipped for its voltage; every step of assembly and service needs covers, tools and gear rated for it.")
	b.Facts(b.packFacts(r), 2)
	b.problems(r)
	b.voltageScale(r)
	b.stringTable(r)
	b.sagTable(r)
	b.conductors(r)
	b.fuses(r)
	b.contactors(r)
	b.prechargeAndIsolation(r)
	b.protection(r)
	b.cables(r)
	b.Wide()
	b.Figure(drawing.SingleLine(r), page.Figure{Anchor: b.anchor("electric/single"), Fill: true})
}

func (b *book) packFacts(r *electric.Result) [][2]string {
	w, e := r.Window, r.Energy
	return [][2]string{
		{"Modules in series / strings", fmt.Sprintf("%d / %d", r.Series, r.Parallel)},
		{"Voltage, least / nominal / most", fmt.Sprintf("%s / %s / %s V", trim(w.MinV), trim(w.NominalV), trim(w.MaxV))},
		{"At rest at " + trim(w.SOCPct) + " % charge", trim(w.OpenV) + " V"},
		{"Energy, nominal / usable", trim(e.GrossKWh) + " / " + trim(e.UsableKWh) + " kWh"},
		{"Used between", trim(e.LowPct) + " and " + trim(e.HighPct) + " % charge"},
		{"Capacity", trim(e.CapacityAh) + " Ah"},
		{"Continuous / peak current", trim(r.Load.ContinuousA) + " / " + trim(r.Load.PeakA) + " A"},
		{"Where the currents come from", r.Load.How},
		{"Load, continuous / peak", trim(e.CRate) + " / " + trim(e.PeakCRate) + " of the capacity an hour"},
		{"Heat, continuous / peak", trim(e.HeatW) + " / " + trim(e.PeakHeatW) + " W"},
		{"Short circuit, module / string / pack", trim(r.Faults.ModuleA) + " / " + trim(r.Faults.StringA) + " / " + trim(r.Faults.PackA) + " A"},
		{"Inverter", gearName(r.Load.Inverter)},
		{"Charger", gearName(r.Load.Charger)},
		{"Routing", automatic(r.Automatic)},
	}
}

func gearName(g *vehicles.Gear) string {
	if g == nil {
		return "none"
	}
	return g.Name
}

func automatic(a bool) string {
	if a {
		return "strings routed automatically"
	}
	return "strings as stated in the plan"
}

func (b *book) problems(r *electric.Result) {
	var out []string
	for _, p := range r.Problems {
		out = append(out, p.Text)
	}
	if len(out) > 0 {
		b.Heading("What keeps the modules from making a pack")
		b.Bullets(out)
	}
}

func (b *book) voltageScale(r *electric.Result) {
	sag := 0.0
	for _, s := range r.Window.Sags {
		if sag == 0 || s.V < sag {
			sag = s.V
		}
	}
	var windows []drawing.Band
	for _, g := range []*vehicles.Gear{r.Load.Inverter, r.Load.Charger} {
		if g != nil && g.VoltageMaxV > 0 {
			windows = append(windows, drawing.Band{Name: words(g.Kind), Lo: g.VoltageMinV, Hi: g.VoltageMaxV})
		}
	}
	pack := drawing.Band{Name: "pack", Lo: r.Window.MinV, Nominal: r.Window.NominalV, Hi: r.Window.MaxV, Sag: sag}
	b.Figure(drawing.VoltageScale("The pack's voltage, and the windows that it has to stay inside", pack, windows, 178), page.Figure{MM: 12 + 9*float64(len(windows)+1), Fill: true, Bare: true})
}

func (b *book) stringTable(r *electric.Result) {
	b.Heading("Strings")
	t := page.Table{Columns: []page.Column{{Head: "string"}, {Head: "modules", Right: true}, {Head: "runs through"}, {Head: "V least", Right: true}, {Head: "V most", Right: true}, {Head: "Ah", Right: true}, {Head: "milliohm 25 °C", Right: true}, {Head: "milliohm cold", Right: true},
		{Head: "A allowed", Right: true}, {Head: "A peak allowed", Right: true}, {Head: "its share, A", Right: true}, {Head: "links, " + b.unit("m"), Right: true}}}
	for _, s := range r.Strings {
		var through []string
		for _, p := range s.Passes {
			through = append(through, fmt.Sprintf("%s (%d)", p.Box.Box.ID, p.To-p.From))
		}
		t.Rows = append(t.Rows, page.Row(s.ID, fmt.Sprint(len(s.Modules)), strings.Join(through, ", "), trim(s.MinV), trim(s.MaxV), trim(s.CapacityAh), trim(1000*s.Ohm), trim(1000*s.ColdOhm),
			trim(s.ContinuousA), trim(s.PeakA), trim(s.ShareA), b.num(s.LinkMM/1000, "m")))
	}
	b.Table(t)
	if n := len(r.Leftover); n > 0 {
		b.Para(fmt.Sprintf("%d modules are in no string.", n))
	}
}

func (b *book) sagTable(r *electric.Result) {
	if len(r.Window.Sags) == 0 {
		return
	}
	b.Heading("Voltage under load")
	t := page.Table{Columns: []page.Column{{Head: "load"}, {Head: "charge, %", Right: true}, {Head: "°C", Right: true}, {Head: "A", Right: true}, {Head: "V", Right: true}}}
	for _, s := range r.Window.Sags {
		t.Rows = append(t.Rows, page.Row(s.Name, trim(s.SOCPct), trim(s.TempC), trim(s.A), trim(s.V)))
	}
	b.Table(t)
	if r.Window.CurveAssumed {
		b.Small("Some module has no open-circuit curve: its voltage is taken straight between its limits (an assumption).")
	}
}

func (b *book) conductors(r *electric.Result) {
	b.Heading("Conductors")
	t := page.Table{Columns: []page.Column{{Head: "conductor"}, {Head: "section"}, {Head: "from"}, {Head: "for the current, mm²", Right: true}, {Head: "for the drop, mm²", Right: true}, {Head: "for a fault, mm²", Right: true}, {Head: "carries, A", Right: true}, {Head: "drop, V", Right: true}}}
	for _, c := range []struct {
		name string
		c    electric.Conductor
	}{{"traction cables", r.Sections.Cable}, {"links between modules", r.Sections.Link}} {
		t.Rows = append(t.Rows, page.Row(c.name, conductorWords(c.c), setWords(c.c), trim(c.c.AmpacityMM2), trim(c.c.DropMM2), trim(c.c.AdiabaticMM2), fixed(c.c.CarriesA, 0), trim(c.c.DropV)))
	}
	b.Table(t)
}

func conductorWords(c electric.Conductor) string {
	if c.Bar != "" {
		return "bar " + c.Bar + " mm"
	}
	return trim(c.SectionMM2) + " mm²"
}

func setWords(c electric.Conductor) string {
	switch {
	case c.Set:
		return "the plan"
	case !c.Enough:
		return "no section of the tables is enough"
	}
	return "chosen from the current"
}

func (b *book) fuses(r *electric.Result) {
	if len(r.Fuses) == 0 {
		return
	}
	b.Heading("Fuses")
	t := page.Table{Columns: []page.Column{{Head: "box"}, {Head: "string"}, {Head: "fuse"}, {Head: "needs V", Right: true}, {Head: "load A", Right: true}, {Head: "least rating A", Right: true}, {Head: "next rating A", Right: true}, {Head: "must break A", Right: true}, {Head: "conductor carries A", Right: true}, {Head: "from the modules, " + b.unit("mm"), Right: true}}}
	for _, f := range r.Fuses {
		t.Rows = append(t.Rows, page.Row(f.Box.Box.ID, b.stringName(f.String), placedName(f.Fuse), fixed(f.NeedV, 0), trim(f.LoadA), trim(f.LeastA), trim(f.PreferredA), fixed(f.FaultA, 0), fixed(f.CableA, 0), b.place0(f.FromEndMM)))
	}
	b.Table(t)
}

func (b *book) stringName(i int) string {
	if ss := b.e.Electric.Strings; i >= 0 && i < len(ss) {
		return ss[i].ID
	}
	return fmt.Sprint(i + 1)
}

func placedName(g *layout.GearBody) string {
	if g == nil {
		return "none"
	}
	return g.Placed.ID + " (" + g.Gear.Name + ")"
}

func (b *book) contactors(r *electric.Result) {
	if len(r.Contactors) > 0 {
		b.Heading("Contactors")
		t := page.Table{Columns: []page.Column{{Head: "box"}, {Head: "contactor"}, {Head: "needs V", Right: true}, {Head: "load A", Right: true}, {Head: "peak A", Right: true}, {Head: "closes on A", Right: true}, {Head: "opens on A", Right: true}, {Head: "fault A", Right: true}}}
		for _, c := range r.Contactors {
			t.Rows = append(t.Rows, page.Row(c.Box.Box.ID, placedName(c.Contactor), fixed(c.NeedV, 0), trim(c.LoadA), trim(c.PeakA), trim(c.MakeA), trim(c.BreakA), fixed(c.FaultA, 0)))
		}
		b.Table(t)
	}
	t := page.Table{Columns: []page.Column{{Head: "string"}, {Head: "end"}, {Head: "box"}, {Head: "contactor there"}}}
	for _, p := range r.Protection.Poles {
		box := "none"
		if p.Box != nil {
			box = p.Box.Box.ID
		}
		t.Rows = append(t.Rows, page.Row(b.stringName(p.String), p.Pole, box, placedName(p.Contactor)))
	}
	if len(t.Rows) > 0 {
		b.Table(t)
	}
}

func (b *book) prechargeAndIsolation(r *electric.Result) {
	p, i := r.Precharge, r.Isolation
	b.Heading("Precharge and isolation")
	ohm := trim(p.Ohm) + " ohm"
	if p.Suggested {
		ohm += " (suggested; none is placed)"
	}
	b.Facts([][2]string{
		{"Capacitance on the bus", trim(p.CapacitanceF*1e6) + " µF"},
		{"From", or(strings.Join(p.Sources, ", "), "nothing stated")},
		{"Precharge resistor", ohm},
		{"Peak / to 95 % / energy", trim(p.PeakA) + " A / " + trim(p.T95S) + " s / " + trim(p.J) + " J"},
		{"Isolation needed", ohms(i.RequiredOhm) + " (" + trim(i.OhmPerVolt) + " ohm a volt)"},
		{"Isolation of the gear stated", ohms(i.SumOhm)},
		{"Energy to the chassis", trim(i.YJ) + " J in " + trim(i.YF*1e6) + " µF"},
		{"Isolation monitor", placedName(i.Monitor)},
	}, 2)
	if len(i.Unstated) > 0 {
		b.Small("Gear at the pack's voltage that states no isolation: " + strings.Join(i.Unstated, ", ") + ".")
	}
}

func ohms(v float64) string {
	switch {
	case math.IsInf(v, 0):
		return "not stated"
	case v >= 1e6:
		return trim(v/1e6) + " megohm"
	case v >= 1e3:
		return trim(v/1e3) + " kilohm"
	}
	return trim(v) + " ohm"
}

func (b *book) protection(r *electric.Result) {
	p := r.Protection
	b.Heading("Disconnects, pilot loop and monitoring")
	var out []string
	for _, d := range p.Disconnects {
		if d.Gear == nil {
			out = append(out, fmt.Sprintf("String %s has no service disconnect.", b.stringName(d.String)))
			continue
		}
		out = append(out, fmt.Sprintf("String %s: disconnect %s after module %d leaves %.0f V and %.0f V, %.0f %% of the whole off the middle.", b.stringName(d.String), d.Gear.ID, d.After, d.LowV, d.HighV, 100*d.OffMiddle))
	}
	out = append(out, "Pilot loop through: "+or(strings.Join(p.Pilot, ", "), "nothing")+".")
	out = append(out, "Inertia switch: "+placedName(p.Inertia)+". Monitoring master: "+placedName(p.Master)+". Current sensor: "+placedName(p.Current)+".")
	if p.BoardLoopMM > 0 {
		out = append(out, "The boards' loop runs "+b.text(p.BoardLoopMM/1000, "m")+" through "+strings.Join(p.BoardOrder, ", ")+".")
	}
	b.Bullets(out)
	if len(p.Boards) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "box"}, {Head: "monitoring boards"}, {Head: "cells", Right: true}, {Head: "channels", Right: true}, {Head: "sensors needed", Right: true}, {Head: "sensors", Right: true}}}
	for _, bs := range p.Boards {
		var names []string
		for _, g := range bs.Gear {
			names = append(names, g.Placed.ID)
		}
		t.Rows = append(t.Rows, page.Row(bs.Box.Box.ID, or(strings.Join(names, ", "), "none"), fmt.Sprint(bs.Cells), fmt.Sprint(bs.Channels), fmt.Sprint(bs.NeedSensors), fmt.Sprint(bs.Sensors)))
	}
	b.Table(t)
}

func (b *book) cables(r *electric.Result) {
	if len(r.Cables) == 0 {
		return
	}
	b.Heading("Cables and links")
	t := page.Table{Columns: []page.Column{{Head: "run"}, {Head: "kind"}, {Head: "from"}, {Head: "to"}, {Head: "length, " + b.unit("m"), Right: true}, {Head: "section, mm²", Right: true}, {Head: "copper, " + b.unit("kg"), Right: true}}}
	for i, c := range r.Cables {
		t.Rows = append(t.Rows, page.Row(or(c.ID, fmt.Sprintf("run %d", i+1)), c.Kind, c.From, c.To, fixed(b.value(c.LengthMM/1000, "m"), 2), trim(c.SectionMM2), fixed(b.value(c.MassKg, "kg"), 2)))
	}
	b.Table(t)
	b.Small("Lengths follow the computed routes along the axes; leave for bends, glands and a second try at the lug (common practice).")
}
