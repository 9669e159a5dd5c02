package cooling

import (
	"strings"

	"stowbay/layout"
)

const (
	properties = "Melinder 2010, polynomials for ethylene glycol in water"
	friction   = "64/Re laminar, 0.316 Re^-1/4 turbulent (any textbook of fluid mechanics)"
)

// Readings returns the loop's figures, as far as there is a loop.
func (r *Result) Readings() []layout.Reading {
	var out []layout.Reading
	if r.Flows {
		out = append(out, r.loopReadings()...)
	}
	if r.Warm.HeaterW > 0 {
		out = append(out, layout.Reading{Key: "warm_up_min", Label: "Warm-up of the modules", Value: r.Warm.Seconds / 60, Unit: "min", Basis: layout.Estimated, Why: r.whyWarm})
	}
	return out
}

func (r *Result) loopReadings() []layout.Reading {
	read := func(key, label string, v float64, unit string, why func() layout.Why) layout.Reading {
		return layout.Reading{Key: key, Label: label, Value: v, Unit: unit, Basis: layout.Estimated, Why: why}
	}
	out := []layout.Reading{
		read("coolant_flow_l_min", "Coolant flow", r.FlowLPM, "L/min", r.whyFlow),
		read("coolant_head_kpa", "Pressure lost in the loop", r.HeadKPa, "kPa", r.whyFlow),
		read("coolant_rise_k", "Coolant warms by", r.OutC-r.InletC, "K", r.whyRise),
		read("coolant_l", "Coolant in hoses and plates", r.VolumeL, "L", r.whyVolume),
		read("hoses_m", "Hoses", r.HoseMM/1000, "m", r.whyVolume),
	}
	if r.Worst >= 0 {
		out = append(out,
			read("hottest_c", "Hottest module", r.Plates[r.Worst].CellC, "°C", r.whyHottest),
			read("spread_k", "Spread between modules", r.SpreadK, "K", r.whyHottest))
	}
	return out
}

func (r *Result) remark() string { return "assumed: " + strings.Join(r.Assumed, "; ") }

func (r *Result) inputs() []layout.Input {
	return []layout.Input{
		{Name: "glycol by mass", Value: 100 * r.Coolant.Glycol, Unit: "%"},
		{Name: "coolant at the loop's inlet", Value: r.InletC, Unit: "°C"},
		{Name: "heat given to the coolant", Value: r.LoopW, Unit: "W"},
		{Name: "at a battery current of", Value: r.CurrentA, Unit: "A"},
	}
}

func (r *Result) whyFlow() layout.Why {
	in := append(r.inputs(),
		layout.Input{Name: "pump without resistance", Value: r.Pump.Gear.FlowLPerMin, Unit: "L/min", Note: r.Pump.ID},
		layout.Input{Name: "pump without flow", Value: r.Pump.Gear.HeadKPa, Unit: "kPa", Note: r.Pump.ID},
		layout.Input{Name: "hoses", Value: r.HoseMM / 1000, Unit: "m", Note: "along the axes"})
	return layout.Why{Formula: "(f L/D + K) rho v²/2 summed over the loop = pump's head (1 - (Q/Qmax)²)", Inputs: in, Source: friction + "; " + properties, Remark: r.remark()}
}

func (r *Result) whyRise() layout.Why {
	in := append(r.inputs(), layout.Input{Name: "flow", Value: r.FlowLPM, Unit: "L/min"})
	return layout.Why{Formula: "heat / (rho Q cp)", Inputs: in, Source: "heat balance; " + properties, Remark: "steady state; heat lost through hoses and walls left out"}
}

func (r *Result) whyHottest() layout.Why {
	p := &r.Plates[r.Worst]
	in := append(r.inputs(),
		layout.Input{Name: "heat of " + p.Body.ID, Value: p.HeatW, Unit: "W"},
		layout.Input{Name: "coolant into it", Value: p.InC, Unit: "°C"},
		layout.Input{Name: "coolant out of it", Value: p.OutC, Unit: "°C"},
		layout.Input{Name: "cells to coolant", Value: p.Body.Module.Cooling.WPerK, Unit: "W/K", Note: "module datasheet"})
	return layout.Why{Formula: "mean of coolant in and out + heat / conductance; spread: hottest less coolest module", Inputs: in, Source: "heat balance; module maker's data", Remark: r.remark()}
}

func (r *Result) whyVolume() layout.Why {
	return layout.Why{Formula: "sum over hoses of pi/4 D² L, and what the plates hold", Inputs: []layout.Input{{Name: "hoses", Value: r.HoseMM / 1000, Unit: "m", Note: "along the axes"}}, Source: "geometry; module maker's data",
		Remark: "radiator, pump and gear are not in it; " + r.remark()}
}

func (r *Result) whyWarm() layout.Why {
	w := r.Warm
	return layout.Why{Formula: "heat capacity of modules and coolant x rise / heater's power", Inputs: []layout.Input{
		{Name: "heat capacity", Value: w.JPerK / 1000, Unit: "kJ/K"},
		{Name: "from", Value: w.FromC, Unit: "°C"}, {Name: "to", Value: w.ToC, Unit: "°C"},
		{Name: "heaters", Value: w.HeaterW, Unit: "W"},
	}, Source: "heat balance; module maker's data", Remark: "losses left out, so that it takes longer in truth; a module without a stated heat capacity is taken with 1000 J/(kg K), from memory"}
}
