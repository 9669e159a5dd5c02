package electric

import (
	"fmt"

	"stowbay/layout"
	"stowbay/vehicles"
)

// findGear finds the inverter or charger that counts: the one the settings name (a record's id or the id of a
// piece placed), else the first one of its kind placed outside or inside the boxes.
func (r *Result) findGear(id, kind string) (*vehicles.Gear, *layout.GearBody) {
	var first *layout.GearBody
	for _, g := range r.allGear() {
		if id != "" && (g.ID == id || g.Gear.ID == id) {
			return g.Gear, g
		}
		if first == nil && g.Gear.Kind == kind {
			first = g
		}
	}
	if id != "" {
		if g := r.Scene.Library.Gear(id); g != nil {
			return g, nil
		}
	}
	if first != nil {
		return first.Gear, first
	}
	return nil, nil
}

// allGear is the gear outside the boxes and then that in each box.
func (r *Result) allGear() []*layout.GearBody {
	out := append([]*layout.GearBody(nil), r.Scene.Gear...)
	for _, b := range r.Scene.Boxes {
		out = append(out, b.Gear...)
	}
	return out
}

// findConsumers finds inverter and charger; nothing is said of currents yet.
func (r *Result) findConsumers() {
	set := r.Scene.Plan.Settings
	r.Load.Inverter, r.Load.InverterAt = r.findGear(set.Inverter, "inverter")
	r.Load.Charger, r.Load.ChargerAt = r.findGear(set.Charger, "charger")
}

// ask works out the currents asked of the pack: as set, else from the inverter at the pack's nominal voltage,
// else what the modules allow, which is an assumption.
func (l *Load) ask(e use, nominalV float64, strings []String) {
	l.Basis = layout.Computed
	l.ContinuousA, l.PeakA, l.How = e.ContinuousA, e.PeakA, "as set in the plan"
	if l.ContinuousA == 0 {
		l.fromInverter(nominalV)
	}
	if l.ContinuousA == 0 {
		l.fromModules(strings)
	}
	if l.PeakA == 0 && l.Inverter != nil {
		l.PeakA = InverterAmps(l.Inverter, l.Inverter.PeakPowerKW, l.Inverter.PeakA, nominalV)
	}
	l.PeakA = max(l.PeakA, l.ContinuousA)
	l.PeakS = l.peakTime(strings)
	l.charging(nominalV, strings)
}

func (l *Load) fromInverter(nominalV float64) {
	if l.Inverter == nil {
		return
	}
	l.ContinuousA = InverterAmps(l.Inverter, l.Inverter.PowerKW, l.Inverter.ContinuousA, nominalV)
	l.How = fmt.Sprintf("from the inverter %s at the pack's nominal voltage", l.Inverter.ID)
}

// InverterAmps is the battery current of an inverter at a power in kW, or the rated current where no power is stated.
func InverterAmps(g *vehicles.Gear, kw, rated, nominalV float64) float64 {
	if kw == 0 || nominalV <= 0 {
		return rated
	}
	eff := 1.0
	if g.EfficiencyPct > 0 {
		eff = g.EfficiencyPct / 100
	}
	return kw * 1000 / eff / nominalV
}

func (l *Load) fromModules(strings []String) {
	l.Basis, l.How = layout.Assumed, "no inverter and no current stated: what the modules allow"
	for i := range strings {
		l.ContinuousA += strings[i].ContinuousA
		l.PeakA += strings[i].PeakA
	}
}

// peakTime is how long the peak lasts: the inverter's, else the shortest that a module allows, else 10 s (an assumption).
func (l *Load) peakTime(strings []String) float64 {
	if l.Inverter != nil && l.Inverter.PeakS > 0 {
		return l.Inverter.PeakS
	}
	least := 0.0
	for i := range strings {
		for _, m := range strings[i].Modules {
			if s := m.Module.Current.PeakS; s > 0 && (least == 0 || s < least) {
				least = s
			}
		}
	}
	if least == 0 {
		return 10
	}
	return least
}

// charging takes the charger's current and, for the recuperation, what the modules allow.
func (l *Load) charging(nominalV float64, strings []String) {
	for i := range strings {
		l.RegenA += strings[i].RegenA
	}
	l.RegenA = min(l.RegenA, l.PeakA)
	if c := l.Charger; c != nil && nominalV > 0 {
		l.ChargeA = c.ContinuousA
		if c.PowerKW > 0 {
			l.ChargeA = c.PowerKW * 1000 / nominalV
		}
	}
}
