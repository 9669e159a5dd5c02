package roadload

import (
	"fmt"
	"strings"

	"stowbay/layout"
)

// Readings returns consumption and range. All are estimates: efficiency and what comes back are stated, not measured.
func (r *Result) Readings() []layout.Reading {
	if !r.Known {
		return nil
	}
	var out []layout.Reading
	for i := range r.Cycles {
		d := &r.Cycles[i]
		out = append(out,
			reading("range_km."+d.Cycle.ID, "Range, "+d.Cycle.Name, d.RangeKm, "km", r.whyCycle(d)),
			reading("consumption_wh_km."+d.Cycle.ID, "Consumption, "+d.Cycle.Name, d.WhPerKm, "Wh/km", r.whyCycle(d)))
	}
	for i := range r.Steady {
		s := &r.Steady[i]
		out = append(out, reading(fmt.Sprintf("range_km.at_%.0f", s.KMH), fmt.Sprintf("Range at a steady %.0f km/h", s.KMH), s.RangeKm, "km", r.whySteady(s)))
	}
	if r.Pack.ModuleKWh > 0 {
		out = append(out, reading("one_more_km", "Range gained by one module more", r.Cycles[0].OneMoreKm, "km", r.whyOneMore))
	}
	return out
}

func reading(key, label string, v float64, unit string, why func() layout.Why) layout.Reading {
	return layout.Reading{Key: key, Label: label, Value: v, Unit: unit, Basis: layout.Estimated, Why: why}
}

func (r *Result) inputs() []layout.Input {
	note := "as entered"
	if r.Estimate {
		note = "an estimate in the donor file"
	}
	return []layout.Input{
		{Name: "mass with driver and load", Value: r.Vehicle.MassKg, Unit: "kg"},
		{Name: "drag area", Value: r.Vehicle.DragAreaM2, Unit: "m²", Note: note},
		{Name: "rolling resistance", Value: r.Vehicle.Rolling, Note: note},
		{Name: "air density", Value: r.Vehicle.AirKgM3, Unit: "kg/m³"},
		{Name: "battery to wheels", Value: 100 * r.DriveEff, Unit: "%"},
		{Name: "braking energy that comes back", Value: 100 * r.Regen, Unit: "%"},
		{Name: "auxiliaries", Value: r.AuxW, Unit: "W"},
		{Name: "usable energy", Value: r.Pack.UsableKWh, Unit: "kWh"},
	}
}

func (r *Result) remark() string { return "assumed: " + strings.Join(r.Assumed, ", ") }

func (r *Result) whyCycle(d *Driven) func() layout.Why {
	return func() layout.Why {
		in := append(r.inputs(), layout.Input{Name: "driven at the wheels", Value: d.Wheels.DriveWh, Unit: "Wh"}, layout.Input{Name: "braked at the wheels", Value: d.Wheels.BrakeWh, Unit: "Wh"},
			layout.Input{Name: "length of the cycle", Value: d.Cycle.KM(), Unit: "km"})
		return layout.Why{
			Formula: "usable energy / ((drive / efficiency - share x braked + auxiliaries x time) / length), from F = rho/2 cdA v² + m g f + (1 + 0.04) m a second by second",
			Inputs:  in, Source: d.Cycle.Source + " (trace)", Remark: r.remark(),
		}
	}
}

func (r *Result) whySteady(s *Steady) func() layout.Why {
	return func() layout.Why {
		return layout.Why{
			Formula: "usable energy / (F / efficiency + auxiliaries / v), F = rho/2 cdA v² + m g f",
			Inputs:  append(r.inputs(), layout.Input{Name: "force at the wheels", Value: s.WheelN, Unit: "N"}),
			Source:  "any textbook of vehicle dynamics", Remark: r.remark() + "; calm air, level road",
		}
	}
}

func (r *Result) whyOneMore() layout.Why {
	return layout.Why{
		Formula: "range with one module's energy and mass more, less the range now",
		Inputs: append(r.inputs(), layout.Input{Name: r.Pack.Module, Value: r.Pack.ModuleKg, Unit: "kg", Note: "one more"},
			layout.Input{Name: "its usable energy", Value: r.Pack.ModuleKWh, Unit: "kWh"}),
		Source: r.Cycles[0].Cycle.Source + " (trace)", Remark: "for a string it may take as many modules as there are strings; " + r.remark(),
	}
}
