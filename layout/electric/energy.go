package electric

// energy fills in what the pack holds: every string's nominal voltage times the capacity of its smallest module.
func (r *Result) energy(e use) {
	n := &r.Energy
	n.LowPct, n.HighPct = e.UsableLowPct, e.UsableHighPct
	for i := range r.Strings {
		s := &r.Strings[i]
		n.GrossKWh += s.NominalV * s.CapacityAh / 1000
		n.CapacityAh += s.CapacityAh
		n.HeatW += s.ShareA * s.ShareA * s.Ohm
		n.ModuleHeatW += s.ShareA * s.ShareA * s.moduleOhm(referenceC)
		for _, m := range s.Modules {
			n.MassKg += m.Module.MassKg
		}
	}
	for i, a := range r.parallel(atSOC, warm, r.Load.PeakA).A {
		n.PeakHeatW += a * a * r.Strings[i].Ohm
	}
	n.UsableKWh = n.GrossKWh * (e.UsableHighPct - e.UsableLowPct) / 100
	if n.CapacityAh > 0 {
		n.CRate, n.PeakCRate = r.Load.ContinuousA/n.CapacityAh, r.Load.PeakA/n.CapacityAh
	}
}
