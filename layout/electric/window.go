package electric

import "math"

// window fills in the pack's voltages. With unequal strings the pack stops where the first string does: its
// lowest voltage is the highest of the strings' lowest, its highest the lowest of their highest.
func (r *Result) window(e use) {
	w := &r.Window
	w.SOCPct, w.LowPct, w.ColdC = e.SOCPct, e.UsableLowPct, e.ColdC
	if len(r.Strings) == 0 {
		return
	}
	w.MaxV = math.Inf(1)
	for i := range r.Strings {
		s := &r.Strings[i]
		w.MinV, w.MaxV = max(w.MinV, s.MinV), min(w.MaxV, s.MaxV)
	}
	w.NominalV = r.nominalV()
	rest := r.parallel(atSOC, false, 0)
	w.OpenV, w.Ohm, w.ColdOhm = rest.V, rest.Ohm, r.parallel(atSOC, true, 0).Ohm
	w.LowV, w.FullV = r.parallel(atLow, false, 0).V, r.parallel(atFull, false, 0).V
	for _, a := range rest.A {
		w.CirculatingA = max(w.CirculatingA, math.Abs(a))
	}
	r.share()
	w.sag(r, e)
	w.RegenV = r.parallel(atFull, false, -r.Load.RegenA).V
	w.RegenRoomA = (w.MaxV - w.FullV) / w.Ohm
	w.LowPowerKW = r.powerAt(w.LowV, w.Ohm)
	w.LowColdPowerKW = r.powerAt(w.LowV, w.ColdOhm)
}

// charge picks one of a string's voltages at rest.
type charge func(*String) float64

func atSOC(s *String) float64  { return s.OpenV }
func atLow(s *String) float64  { return s.LowV }
func atFull(s *String) float64 { return s.FullV }

// parallel solves the strings side by side at a charge, warm or cold, under a load.
func (r *Result) parallel(at charge, cold bool, load float64) Parallel {
	bs := make([]Branch, len(r.Strings))
	for i := range r.Strings {
		s := &r.Strings[i]
		bs[i] = Branch{V: at(s), Ohm: s.Ohm}
		if cold {
			bs[i].Ohm = s.ColdOhm
		}
	}
	return SolveParallel(bs, load)
}

// share gives each string its part of the continuous current.
func (r *Result) share() {
	for i, a := range r.parallel(atSOC, false, r.Load.ContinuousA).A {
		r.Strings[i].ShareA = a
	}
}

// sag lists the voltage under the continuous and the peak current, at the charge for readings and at the lower
// end of use, at 25 C and cold.
func (w *Window) sag(r *Result, e use) {
	points := []struct {
		soc  float64
		at   charge
		cold bool
	}{{e.SOCPct, atSOC, false}, {e.SOCPct, atSOC, true}, {e.UsableLowPct, atLow, false}, {e.UsableLowPct, atLow, true}}
	for _, p := range points {
		temp := float64(referenceC)
		if p.cold {
			temp = e.ColdC
		}
		w.Sags = append(w.Sags,
			Sag{Name: "continuous", SOCPct: p.soc, TempC: temp, A: r.Load.ContinuousA, V: r.parallel(p.at, p.cold, r.Load.ContinuousA).V},
			Sag{Name: "peak", SOCPct: p.soc, TempC: temp, A: r.Load.PeakA, V: r.parallel(p.at, p.cold, r.Load.PeakA).V})
	}
}

// powerAt is the most power in kW at a voltage at rest and a resistance, held by the modules' peak current, by
// the lowest of the cells' and the inverter's voltage, and by half the voltage at rest (matched load).
func (r *Result) powerAt(restV, ohm float64) float64 {
	floor := max(r.Window.MinV, restV/2)
	if r.Load.Inverter != nil {
		floor = max(floor, r.Load.Inverter.VoltageMinV)
	}
	limit := 0.0
	for i := range r.Strings {
		limit += r.Strings[i].PeakA
	}
	a := min(limit, max(0, (restV-floor)/ohm))
	return (restV - a*ohm) * a / 1000
}
