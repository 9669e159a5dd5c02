package electric

import (
	"fmt"

	"stowbay/layout"
)

// Sources named more than once.
const (
	arithmetic = "arithmetic on the module's data sheet"
	ohmsLaw    = "Ohm's and Kirchhoff's laws"
	copperText = "IEC 60028 (copper resistance)"
)

// Readings lists the electrical figures of the arrangement.
func (r *Result) Readings() []layout.Reading {
	out := []layout.Reading{
		{Key: "count", Label: "Modules placed", Value: float64(r.Scene.Count()), Basis: layout.Computed, Why: plainWhy("number of modules in all boxes", "the plan itself", "")},
		{Key: "series", Label: "Modules in series", Value: float64(r.Series), Basis: layout.Computed, Why: plainWhy("modules in the longest string", "the plan itself", "")},
		{Key: "parallel", Label: "Strings in parallel", Value: float64(r.Parallel), Basis: layout.Computed, Why: plainWhy("number of strings", "the plan itself", "")},
		{Key: "leftover", Label: "Modules in no string", Value: float64(len(r.Leftover)), Basis: layout.Computed, Why: plainWhy("modules placed − modules in strings", "the plan itself", "")},
	}
	if len(r.Strings) == 0 {
		return out
	}
	out = append(out, r.voltageReadings()...)
	out = append(out, r.energyReadings()...)
	out = append(out, r.sagReadings()...)
	out = append(out, r.faultReadings()...)
	out = append(out, r.conductorReadings()...)
	return append(out, r.safetyReadings()...)
}

func (r *Result) voltageReadings() []layout.Reading {
	w, m := &r.Window, r.Strings[0].Modules[0].Module
	cell := func(name string, v float64) func() layout.Why {
		return func() layout.Why {
			return layout.Why{Formula: "modules in series × cells in series × volts a cell", Source: arithmetic,
				Inputs: []layout.Input{
					{Name: "modules in series", Value: float64(r.Series)},
					{Name: "cells in series in the first module", Value: float64(m.Series)},
					{Name: name + " voltage of a cell", Value: v, Unit: "V", Note: m.Name},
				},
				Remark: "With unequal strings the narrowest window counts: the highest of the strings' lowest voltages, the lowest of their highest."}
		}
	}
	basis := layout.Computed
	if w.CurveAssumed {
		basis = layout.Assumed
	}
	return []layout.Reading{
		{Key: "voltage_v.min", Label: "Lowest voltage", Value: w.MinV, Unit: "V", Basis: layout.Computed, Why: cell("lowest", m.Cell.MinV)},
		{Key: "voltage_v.nominal", Label: "Nominal voltage", Value: w.NominalV, Unit: "V", Basis: layout.Computed, Why: cell("nominal", m.Cell.NominalV)},
		{Key: "voltage_v.max", Label: "Highest voltage", Value: w.MaxV, Unit: "V", Basis: layout.Computed, Why: cell("highest", m.Cell.MaxV)},
		{Key: "voltage_v.rest", Label: fmt.Sprintf("Voltage at rest at %.0f %% charge", w.SOCPct), Value: w.OpenV, Unit: "V", Basis: basis, Why: r.restWhy(w.SOCPct)},
	}
}

func (r *Result) restWhy(soc float64) func() layout.Why {
	return func() layout.Why {
		c := &r.Strings[0].Modules[0].Module.Cell
		v, assumed := OpenVolts(c, soc)
		why := layout.Why{Formula: "sum of the cells' open-circuit voltages at that charge", Source: "the module's open-circuit curve, straight between its points",
			Inputs: []layout.Input{{Name: "charge", Value: soc, Unit: "%"}, {Name: "cell at rest, first module", Value: v, Unit: "V"}}}
		if assumed {
			why.Source = "assumption"
			why.Remark = "The module has no open-circuit curve: straight from the lowest over the nominal (half charge) to the highest voltage is assumed."
		}
		return why
	}
}

func (r *Result) energyReadings() []layout.Reading {
	n := &r.Energy
	return []layout.Reading{
		{Key: "energy_kwh", Label: "Energy", Value: n.GrossKWh, Unit: "kWh", Basis: layout.Computed, Why: func() layout.Why {
			return layout.Why{Formula: "sum over strings of nominal voltage × capacity of the smallest module", Source: arithmetic,
				Inputs: []layout.Input{{Name: "nominal voltage", Value: r.Window.NominalV, Unit: "V"}, {Name: "capacity of all strings", Value: n.CapacityAh, Unit: "Ah"}}}
		}},
		{Key: "usable_kwh", Label: "Usable energy", Value: n.UsableKWh, Unit: "kWh", Basis: layout.Computed, Why: func() layout.Why {
			return layout.Why{Formula: "energy × (upper − lower end of use)", Source: "common practice: how much of the charge is used is the designer's choice",
				Inputs: []layout.Input{{Name: "energy", Value: n.GrossKWh, Unit: "kWh"}, {Name: "lower end", Value: n.LowPct, Unit: "%"}, {Name: "upper end", Value: n.HighPct, Unit: "%"}}}
		}},
		{Key: "capacity_ah", Label: "Capacity", Value: n.CapacityAh, Unit: "Ah", Basis: layout.Computed, Why: plainWhy("sum over strings of the smallest module's capacity", arithmetic, "A string is empty when its smallest module is.")},
		{Key: "pack_module_kg", Label: "Mass of modules in strings", Value: n.MassKg, Unit: "kg", Basis: layout.Computed, Why: plainWhy("sum of the modules' masses, those in strings only", arithmetic, "")},
		{Key: "continuous_a", Label: "Continuous current", Value: r.Load.ContinuousA, Unit: "A", Basis: r.Load.Basis, Why: r.loadWhy()},
		{Key: "peak_a", Label: "Peak current", Value: r.Load.PeakA, Unit: "A", Basis: r.Load.Basis, Why: r.loadWhy()},
		{Key: "c_rate", Label: "Continuous current over capacity", Value: n.CRate, Unit: "1/h", Basis: r.Load.Basis, Why: plainWhy("continuous current / capacity", arithmetic, "")},
		{Key: "heat_w", Label: "Heat at continuous current", Value: n.HeatW, Unit: "W", Basis: r.Load.Basis, Why: r.heatWhy(n.HeatW)},
		{Key: "peak_heat_w", Label: "Heat at peak current", Value: n.PeakHeatW, Unit: "W", Basis: r.Load.Basis, Why: r.heatWhy(n.PeakHeatW)},
		{Key: "module_heat_w", Label: "Heat in the modules at continuous current", Value: n.ModuleHeatW, Unit: "W", Basis: r.Load.Basis, Why: r.heatWhy(n.ModuleHeatW)},
	}
}

func (r *Result) loadWhy() func() layout.Why {
	return func() layout.Why {
		why := layout.Why{Formula: "battery power / (efficiency × nominal voltage), or as stated", Source: r.Load.How,
			Inputs: []layout.Input{{Name: "nominal voltage", Value: r.Window.NominalV, Unit: "V"}}}
		if g := r.Load.Inverter; g != nil {
			why.Inputs = append(why.Inputs, layout.Input{Name: "inverter's rated power", Value: g.PowerKW, Unit: "kW", Note: g.Name},
				layout.Input{Name: "inverter's efficiency", Value: g.EfficiencyPct, Unit: "%", Note: "0: counted as 100 %"})
		}
		return why
	}
}

func (r *Result) heatWhy(w float64) func() layout.Why {
	return func() layout.Why {
		return layout.Why{Formula: "sum of current squared × resistance", Source: ohmsLaw,
			Inputs: []layout.Input{{Name: "pack resistance", Value: r.Window.Ohm * 1000, Unit: "mohm"}, {Name: "heat", Value: w, Unit: "W"}},
			Remark: "Ohmic heat only; the reversible heat of the cells and the bolted joints are not counted."}
	}
}

func (r *Result) sagReadings() []layout.Reading {
	w := &r.Window
	var out []layout.Reading
	for _, s := range w.Sags {
		out = append(out, layout.Reading{Key: fmt.Sprintf("sag_v.%s.%.0f_pct.%.0f_c", s.Name, s.SOCPct, s.TempC),
			Label: fmt.Sprintf("Voltage at %s current, %.0f %% charge, %.0f °C", s.Name, s.SOCPct, s.TempC),
			Value: s.V, Unit: "V", Basis: r.Load.Basis, Why: r.sagWhy(s)})
	}
	return append(out,
		layout.Reading{Key: "pack_mohm", Label: "Pack resistance at 25 °C", Value: w.Ohm * 1000, Unit: "mohm", Basis: layout.Computed, Why: r.ohmWhy()},
		layout.Reading{Key: "pack_cold_mohm", Label: fmt.Sprintf("Pack resistance at %.0f °C", w.ColdC), Value: w.ColdOhm * 1000, Unit: "mohm", Basis: layout.Computed, Why: r.ohmWhy()},
		layout.Reading{Key: "regen_v", Label: fmt.Sprintf("Voltage braking at %.0f A, fully charged", r.Load.RegenA), Value: w.RegenV, Unit: "V", Basis: r.Load.Basis, Why: plainWhy("voltage at rest at the upper end of use + current × pack resistance", ohmsLaw, "The current is what the modules allow, no more than the peak current.")},
		layout.Reading{Key: "regen_room_a", Label: "Charging current that reaches the highest voltage, fully charged", Value: w.RegenRoomA, Unit: "A", Basis: layout.Computed, Why: plainWhy("(highest voltage − voltage at rest at the upper end of use) / pack resistance", ohmsLaw, "")},
		layout.Reading{Key: "low_power_kw", Label: fmt.Sprintf("Peak power at %.0f %% charge", w.LowPct), Value: w.LowPowerKW, Unit: "kW", Basis: layout.Computed, Why: plainWhy("(voltage at rest − current × pack resistance) × current, with the current held by modules, cells and inverter", ohmsLaw, "Held by the modules' peak current, by the lowest voltage of cells and inverter, and by half the voltage at rest, where the power is greatest.")},
		layout.Reading{Key: "low_cold_power_kw", Label: fmt.Sprintf("Peak power at %.0f %% charge, %.0f °C", w.LowPct, w.ColdC), Value: w.LowColdPowerKW, Unit: "kW", Basis: layout.Computed, Why: plainWhy("(voltage at rest − current × cold pack resistance) × current, with the current held by modules, cells and inverter", ohmsLaw, "")},
		layout.Reading{Key: "circulating_a", Label: "Current between strings at rest", Value: w.CirculatingA, Unit: "A", Basis: layout.Computed, Why: plainWhy("difference of the strings' voltages at rest over their resistances, without a load", ohmsLaw, "")})
}

func (r *Result) sagWhy(s Sag) func() layout.Why {
	return func() layout.Why {
		return layout.Why{Formula: "voltage at rest − current × pack resistance", Source: ohmsLaw,
			Inputs: []layout.Input{{Name: "current", Value: s.A, Unit: "A", Note: r.Load.How}, {Name: "charge", Value: s.SOCPct, Unit: "%"}, {Name: "temperature", Value: s.TempC, Unit: "°C"}},
			Remark: "Unequal strings share the current by Kirchhoff's laws. Resistance of bolted joints is not counted."}
	}
}

func (r *Result) ohmWhy() func() layout.Why {
	return func() layout.Why {
		s := &r.Strings[0]
		return layout.Why{Formula: "strings side by side, each: modules + links + leads + gear", Source: ohmsLaw + "; " + copperText,
			Inputs: []layout.Input{
				{Name: "modules of the first string", Value: s.moduleOhm(referenceC) * 1000, Unit: "mohm", Note: "module data sheet"},
				{Name: "its links and leads", Value: s.linkOhm() * 1000, Unit: "mohm"},
				{Name: "contactors, fuses and disconnects", Value: r.gearOhm(s) * 1000, Unit: "mohm", Note: "gear data; 0 where not stated"},
			}}
	}
}

func (r *Result) faultReadings() []layout.Reading {
	why := func() layout.Why {
		return layout.Why{Formula: "highest voltage / resistance of the modules", Source: ohmsLaw,
			Remark: "With the data sheet's resistance, usually that of a pulse of seconds. In the first milliseconds a cell gives more, up to about twice (from memory, not checked against a text)."}
	}
	f := &r.Faults
	return []layout.Reading{
		{Key: "fault_a.module", Label: "Short-circuit current of a module", Value: f.ModuleA, Unit: "A", Basis: layout.Estimated, Why: why},
		{Key: "fault_a.string", Label: "Short-circuit current of a string", Value: f.StringA, Unit: "A", Basis: layout.Estimated, Why: why},
		{Key: "fault_a.pack", Label: "Short-circuit current of the pack", Value: f.PackA, Unit: "A", Basis: layout.Estimated, Why: why},
	}
}

func (r *Result) conductorReadings() []layout.Reading {
	s := &r.Sections
	links, cables, crossings := 0.0, 0.0, 0
	for i := range r.Strings {
		crossings += r.Strings[i].Crossings
	}
	for _, c := range r.Cables {
		if c.Kind == "links" {
			links += c.LengthMM
		} else {
			cables += c.LengthMM
		}
	}
	return []layout.Reading{
		{Key: "cable_mm2", Label: "Section of traction cables", Value: s.Cable.SectionMM2, Unit: "mm2", Basis: r.Load.Basis, Why: s.Cable.why(s, "cable")},
		{Key: "link_mm2", Label: "Section of links", Value: s.Link.SectionMM2, Unit: "mm2", Basis: r.Load.Basis, Why: s.Link.why(s, "link")},
		{Key: "cable_mm", Label: "Length of traction cables", Value: cables, Unit: "mm", Basis: layout.Computed, Why: plainWhy("length of the ways along the axes, or through the points that the plan gives", "geometry", "No slack is added.")},
		{Key: "links_mm", Label: "Length of links", Value: links, Unit: "mm", Basis: layout.Computed, Why: plainWhy("length of the ways from terminal to terminal", "geometry", "Straight, or up over the modules in the way; no slack is added.")},
		{Key: "link_crossings", Label: "Links that cross in plan", Value: float64(crossings), Basis: layout.Computed, Why: plainWhy("pairs of links of a string that cross in plan inside a box, terminal to terminal", "geometry", "")},
		{Key: "cable_drop_v", Label: "Voltage lost in cables", Value: s.Cable.DropV, Unit: "V", Basis: r.Load.Basis, Why: plainWhy("continuous current of a string × resistance of its cables at 20 °C", copperText, "")},
		{Key: "link_drop_v", Label: "Voltage lost in links", Value: s.Link.DropV, Unit: "V", Basis: r.Load.Basis, Why: plainWhy("continuous current of a string × resistance of its links at 20 °C", copperText, "Bolted joints are not counted.")},
	}
}

func (r *Result) safetyReadings() []layout.Reading {
	in := &r.Insulation
	out := []layout.Reading{
		{Key: "clearance_mm", Label: "Clearance needed, live parts to metal", Value: in.ToMetal.ClearanceMM, Unit: "mm", Basis: layout.Computed, Why: r.distanceWhy()},
		{Key: "creepage_mm", Label: "Creepage needed, live parts to metal", Value: in.ToMetal.CreepageMM, Unit: "mm", Basis: layout.Computed, Why: r.distanceWhy()},
		{Key: "isolation_kohm", Label: "Isolation resistance needed", Value: r.Isolation.RequiredOhm / 1000, Unit: "kohm", Basis: layout.Computed, Why: func() layout.Why {
			return layout.Why{Formula: "ohms a volt × highest voltage", Source: "UN Regulation 100, 5.1.3; 49 CFR 571.305 S5.4.3",
				Inputs: []layout.Input{{Name: "ohms a volt", Value: r.Isolation.OhmPerVolt, Unit: "ohm/V", Note: "500 with an inverter joined, 100 without"}, {Name: "highest voltage", Value: in.SystemV, Unit: "V"}}}
		}},
	}
	if p := &r.Precharge; p.CapacitanceF > 0 {
		why := func() layout.Why {
			return layout.Why{Formula: "time to 95 %: ln 20 × R × C; energy: C V² / 2", Source: "circuit theory",
				Inputs: []layout.Input{{Name: "capacitance", Value: p.CapacitanceF * 1e6, Unit: "µF"}, {Name: "resistance", Value: p.Ohm, Unit: "ohm"}, {Name: "highest voltage", Value: in.SystemV, Unit: "V"}}}
		}
		out = append(out,
			layout.Reading{Key: "precharge_ms", Label: "Precharge to 95 %", Value: p.T95S * 1000, Unit: "ms", Basis: layout.Computed, Why: why},
			layout.Reading{Key: "precharge_j", Label: "Energy in the precharge resistor", Value: p.J, Unit: "J", Basis: layout.Computed, Why: why})
	}
	return out
}

func (r *Result) distanceWhy() func() layout.Why {
	return func() layout.Why {
		in := &r.Insulation
		return layout.Why{Formula: "table rows, the next one up in between; creepage no less than clearance", Source: "IEC 60664-1 tables F.1, F.2, F.5, F.8, A.2",
			Inputs: []layout.Input{
				{Name: "voltage of the pack", Value: in.SystemV, Unit: "V"},
				{Name: "impulse voltage", Value: in.ToMetal.ImpulseV, Unit: "V", Note: in.Around.Insulation + " insulation"},
				{Name: "pollution degree", Value: float64(in.Around.Pollution)},
				{Name: "overvoltage category", Value: float64(in.Around.Category)},
				{Name: "altitude", Value: in.Around.AltitudeM, Unit: "m"},
			},
			Remark: "Material group " + in.Around.Group + ". At the whole voltage of the pack; less is needed near the string's middle."}
	}
}

func plainWhy(formula, source, remark string) func() layout.Why {
	return func() layout.Why { return layout.Why{Formula: formula, Source: source, Remark: remark} }
}

func (c Conductor) why(s *Sections, kind string) func() layout.Why {
	return func() layout.Why {
		w := layout.Why{Formula: "largest of the sections for the continuous current, the voltage drop and the short circuit",
			Source: "IEC 60364-5-52 (current), IEC 60364-5-54 (short circuit), IEC 60228 (sections); drop: common practice",
			Inputs: []layout.Input{
				{Name: "continuous current of a string", Value: s.StringA, Unit: "A"},
				{Name: "fuse rating for that and for the peak", Value: s.FuseA, Unit: "A", Note: "the conductor carries at least what its fuse does (IEC 60364-4-43, from memory)"},
				{Name: "for the fuse rating", Value: c.AmpacityMM2, Unit: "mm2"},
				{Name: "for the drop", Value: c.DropMM2, Unit: "mm2"},
				{Name: "for the short circuit", Value: c.AdiabaticMM2, Unit: "mm2"},
				{Name: "prospective short-circuit current", Value: s.FaultA, Unit: "A"},
				{Name: "clearing time", Value: s.FaultS * 1000, Unit: "ms"},
			}}
		if kind == "link" {
			w.Source = "DIN 43671 (bars), IEC 60364-5-54 (short circuit)"
		}
		if c.Set {
			w.Remark = "The plan states the section; the others are what is needed."
		}
		return w
	}
}
