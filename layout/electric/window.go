package electric

import (
	"math"
	"slices"
)

// window fills in the pack's voltages. With unequal strings the pack stops where the first string does: its
// lowest voltage is the highest of the strings' lowest, its highest the lowest of their highest.
func (r *Result) window(e use) {
	w := &r.Window
	w.SOCPct, w.LowPct, w.ColdC, w.HotC = e.SOCPct, e.UsableLowPct, e.ColdC, e.HotC
	if len(r.Strings) == 0 {
		return
	}
	w.MaxV = math.Inf(1)
	for i := range r.Strings {
		s := &r.Strings[i]
		w.MinV, w.MaxV = max(w.MinV, s.MinV), min(w.MaxV, s.MaxV)
	}
	w.NominalV = r.nominalV()
	rest := r.parallel(atSOC, warm, 0)
	w.OpenV, w.Ohm = rest.V, rest.Ohm
	w.ColdOhm, w.HotOhm = r.parallel(atSOC, cold, 0).Ohm, r.parallel(atSOC, hot, 0).Ohm
	w.LowV, w.FullV = r.parallel(atLow, warm, 0).V, r.parallel(atFull, warm, 0).V
	for _, a := range rest.A {
		w.CirculatingA = max(w.CirculatingA, math.Abs(a))
	}
	r.share()
	w.sag(r, e)
	w.RegenV = r.parallel(atFull, warm, -r.Load.RegenA).V
	w.RegenRoomA = (w.MaxV - w.FullV) / w.Ohm
	w.LowPowerKW = r.powerAt(w.LowV, w.Ohm)
	w.LowColdPowerKW = r.powerAt(w.LowV, w.ColdOhm)
}

// charge picks one of a string's voltages at rest.
type charge func(*String) float64

func atSOC(s *String) float64  { return s.OpenV }
func atLow(s *String) float64  { return s.LowV }
func atFull(s *String) float64 { return s.FullV }

// state picks one of a string's resistances.
type state func(*String) float64

func warm(s *String) float64 { return s.Ohm }
func cold(s *String) float64 { return s.ColdOhm }
func hot(s *String) float64  { return s.HotOhm }

// parallel solves the strings side by side at a charge and temperature under a load.
func (r *Result) parallel(at charge, in state, load float64) Parallel {
	bs := make([]Branch, len(r.Strings))
	for i := range r.Strings {
		s := &r.Strings[i]
		bs[i] = Branch{V: at(s), Ohm: in(s)}
	}
	return SolveParallel(bs, load)
}

// share gives each string its part of the continuous current.
func (r *Result) share() {
	for i, a := range r.parallel(atSOC, warm, r.Load.ContinuousA).A {
		r.Strings[i].ShareA = a
	}
}

// sag lists the voltage under the continuous and the peak current, at the charge for readings and at the lower
// end of use, at 25 C, cold and hot. Hot, the modules keep their resistance at 25 C and copper has its own.
func (w *Window) sag(r *Result, e use) {
	charges := []struct {
		soc float64
		at  charge
	}{{e.SOCPct, atSOC}, {e.UsableLowPct, atLow}}
	states := []struct {
		tempC float64
		in    state
	}{{referenceC, warm}, {e.ColdC, cold}, {e.HotC, hot}}
	for _, c := range charges {
		for _, s := range states {
			if w.hasSag(c.soc, s.tempC) {
				continue
			}
			w.Sags = append(w.Sags,
				Sag{Name: "continuous", SOCPct: c.soc, TempC: s.tempC, A: r.Load.ContinuousA, V: r.parallel(c.at, s.in, r.Load.ContinuousA).V},
				Sag{Name: "peak", SOCPct: c.soc, TempC: s.tempC, A: r.Load.PeakA, V: r.parallel(c.at, s.in, r.Load.PeakA).V})
		}
	}
}

func (w *Window) hasSag(soc, tempC float64) bool {
	return slices.ContainsFunc(w.Sags, func(s Sag) bool { return s.SOCPct == soc && s.TempC == tempC })
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
