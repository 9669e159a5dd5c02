package report

import (
	"fmt"
	"strings"

	"stowbay/layout/check"
	"stowbay/layout/cooling"
	"stowbay/layout/drawing"
	"stowbay/layout/report/page"
)

// coolant sets the coolant loop: flow, temperatures, hoses and sensors.
func (b *book) coolant() {
	r := b.e.Cooling
	b.coolingFacts(r)
	if r.Stopped != "" {
		b.Para("Nothing flows: " + r.Stopped)
	}
	if r.Flows {
		b.branches(r)
		b.plates(r)
	}
	b.airCooled(r)
	b.hoses(r)
	b.sensors(r)
	b.outside(r)
	if len(r.Assumed) > 0 {
		b.Heading("Taken where nothing is stated")
		b.Bullets(r.Assumed)
	}
}

func (b *book) coolingFacts(r *cooling.Result) {
	facts := [][2]string{
		{"Modules with a coolant plate", fmt.Sprintf("%d of %d", r.Cooled, b.e.Scene.Count())},
		{"Heat of the modules", trim(r.HeatW) + " W at " + trim(r.CurrentA) + " A"},
	}
	if r.Cooled > 0 {
		facts = append(facts, [2]string{"Coolant", fmt.Sprintf("%g %% ethylene glycol by mass; ice from %s °C", 100*r.Coolant.Glycol, fixed(r.Coolant.FreezesC(), 0))}, [2]string{"Pump", placedName(r.Pump)}, [2]string{"Radiator", placedName(r.Radiator)})
	}
	if r.Flows {
		facts = append(facts, [2]string{"Flow", b.text(r.FlowLPM, "L") + "/min at " + trim(r.HeadKPa) + " kPa"}, [2]string{"Inlet / outlet", trim(r.InletC) + " / " + fixed(r.OutC, 1) + " °C"},
			[2]string{"Heat given to the coolant", fixed(r.LoopW, 0) + " W"}, [2]string{"Spread between modules", fixed(r.SpreadK, 1) + " K"}, [2]string{"Coolant in hoses and plates", b.text(r.VolumeL, "L")})
	}
	if w := r.Warm; w.HeaterW > 0 {
		facts = append(facts, [2]string{fmt.Sprintf("Warming from %g to %g °C", w.FromC, w.ToC), fmt.Sprintf("%.0f min with %.0f W, without losses", w.Seconds/60, w.HeaterW)})
	}
	b.Facts(facts, 2)
}

func (b *book) branches(r *cooling.Result) {
	t := page.Table{Columns: []page.Column{{Head: "branch"}, {Head: "modules", Right: true}, {Head: b.unit("L") + "/min", Right: true}, {Head: "out, °C", Right: true}}}
	for _, x := range r.Branches {
		t.Rows = append(t.Rows, page.Row(x.ID, fmt.Sprint(x.Modules), b.num(x.FlowLPM, "L"), fixed(x.OutC, 1)))
	}
	b.Heading("Branches")
	b.Table(t)
}

func (b *book) plates(r *cooling.Result) {
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "module"}, {Head: "branch"}, {Head: "heat, W", Right: true}, {Head: b.unit("L") + "/min", Right: true}, {Head: "Reynolds", Right: true}, {Head: "drop, kPa", Right: true}, {Head: "in, °C", Right: true}, {Head: "out, °C", Right: true}, {Head: "cells, °C", Right: true}, {Head: ""}}}
	for i := range r.Plates {
		p := &r.Plates[i]
		cell, mark := "not known", page.Cell{}
		if p.Known {
			cell = fixed(p.CellC, 1)
		}
		if i == r.Worst {
			mark = page.Cell{S: "hottest", Bold: true, Tone: page.Faint}
		}
		row := page.Row(p.Body.ID, p.Branch, fixed(p.HeatW, 1), b.num(p.FlowLPM, "L"), fixed(p.Re, 0), trim(p.DropKPa), fixed(p.InC, 1), fixed(p.OutC, 1), cell)
		t.Rows = append(t.Rows, append(row, mark))
	}
	b.Heading("Modules in the order in which coolant passes them")
	b.Table(t)
}

func (b *book) airCooled(r *cooling.Result) {
	if len(r.Air) == 0 {
		return
	}
	b.Heading("Modules that air alone cools")
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "module"}, {Head: "heat, W", Right: true}, {Head: "maker's limit, W", Right: true}}}
	for _, a := range r.Air {
		limit := "not stated"
		if a.LimitW > 0 {
			limit = trim(a.LimitW)
		}
		t.Rows = append(t.Rows, page.Row(a.Body.ID, fixed(a.HeatW, 1), limit))
	}
	b.Table(t)
}

func (b *book) hoses(r *cooling.Result) {
	if len(r.Routes) == 0 {
		return
	}
	b.Heading("Hoses")
	t := page.Table{Pt: 6.8, Total: true, Columns: []page.Column{{Head: "from"}, {Head: "to"}, {Head: "length, " + b.unit("m"), Right: true}}}
	for _, x := range r.Routes {
		t.Rows = append(t.Rows, page.Row(x.From, x.To, fixed(b.value(x.LengthMM/1000, "m"), 2)))
	}
	t.Rows = append(t.Rows, page.Row("all", "", fixed(b.value(r.HoseMM/1000, "m"), 2)))
	b.Table(t)
}

func (b *book) sensors(r *cooling.Result) {
	if len(r.Sensors) == 0 {
		return
	}
	b.Heading("Where temperature sensors belong")
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "branch"}, {Head: "what it sees"}, {Head: "module"}, {Head: "place in the vehicle"}}}
	for _, s := range r.Sensors {
		t.Rows = append(t.Rows, page.Row(s.Branch, s.Kind, s.Module, b.places(s.Place.X, s.Place.Y, s.Place.Z)))
	}
	b.Table(t)
}

func (b *book) outside(r *cooling.Result) {
	var out, unsized []string
	for _, m := range r.Outside {
		out = append(out, m.ID)
	}
	for _, m := range r.Unsized {
		unsized = append(unsized, m.ID)
	}
	if len(out) > 0 {
		b.Para("Modules with a plate that no branch passes: " + strings.Join(out, ", ") + ".")
	}
	if len(unsized) > 0 {
		b.Para("Modules whose plate states no channel, taken to have no resistance: " + strings.Join(unsized, ", ") + ".")
	}
}

// hoseLines are the hoses' runs for drawings.
func hoseLines(e *check.Evaluation) []drawing.Line {
	var out []drawing.Line
	for _, x := range e.Cooling.Routes {
		if len(x.Path) > 1 {
			out = append(out, drawing.Line{Role: drawing.RoleHose, Ref: x.From, Points: x.Path})
		}
	}
	return out
}
