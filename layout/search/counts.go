package search

import (
	"fmt"

	"stowbay/layout/electric"
	"stowbay/vehicles"
)

// Excluded is an option, or a part of what it allows, that a limit keeps out.
type Excluded struct {
	Module           string
	Posture          vehicles.Posture // empty: in any posture
	Series, Parallel int              // 0: whatever it is
	SeriesTo         int              // where a range of series counts is meant, its end
	Box              string           // where a box is meant
	Push             Push             // where a push in that box is meant
	Counts           []int            // where some counts in that box are meant, which
	Limit            Limit
	Actual, Need     float64 // of the one that came nearest, in Unit
	Unit             string
	Arrangements     float64 // at least how many arrangements of the choice this excludes: what is beaten anyway is not asked; 0: not counted one by one
	All              bool    // nothing is left of the option
	Text             string
}

// counts lists what the gear and the modules' currents leave of series and parallel counts, and what they exclude.
func (g *ground) counts(m *vehicles.Module, room int, leastKWh float64) (usable []electric.Choice, out []Excluded) {
	out = g.seriesExcluded(m, room)
	for _, c := range electric.Choices(m, g.gear, room, room) {
		if e, bad := g.currentShort(m, c); bad {
			out = append(out, e)
		} else if c.EnergyKWh < leastKWh-slack {
			out = append(out, excludedCount(m, c, LeastEnergy, c.EnergyKWh, leastKWh, "kWh",
				fmt.Sprintf("%.1f kWh, less than the %.1f kWh wanted", c.EnergyKWh, leastKWh)))
		} else {
			usable = append(usable, c)
		}
	}
	return usable, append(out, g.roomExcluded(m, room)...)
}

func excludedCount(m *vehicles.Module, c electric.Choice, l Limit, actual, need float64, unit, why string) Excluded {
	return Excluded{Module: m.ID, Series: c.Series, Parallel: c.Parallel, Limit: l, Actual: actual, Need: need, Unit: unit, All: true,
		Text: fmt.Sprintf("%s, %d in series, %d in parallel: %s.", m.Name, c.Series, c.Parallel, why)}
}

// seriesExcluded are the series counts, among those that there is room for, outside the window.
func (g *ground) seriesExcluded(m *vehicles.Module, room int) []Excluded {
	lo, hi := electric.CommonWindow(g.gear)
	low, high := 0, room+1 // the last that is too low, the first that is too high
	for s := 1; s <= room; s++ {
		if float64(s)*m.MaxV() > hi {
			high = min(high, s)
		} else if float64(s)*m.MinV() < lo {
			low = s
		}
	}
	var out []Excluded
	add := func(from, to int, actual, need float64, words string) {
		out = append(out, Excluded{Module: m.ID, Series: from, SeriesTo: to, Limit: Voltage, Actual: actual, Need: need, Unit: "V", All: true,
			Text: fmt.Sprintf("%s, %s in series: %s.", m.Name, numbers(from, to), words)})
	}
	if low > 0 {
		v := float64(low) * m.MinV()
		add(1, low, v, lo, fmt.Sprintf("no more than %.0f V when empty; inverter, charger and converters need %.0f V", v, lo))
	}
	if high <= room {
		v := float64(high) * m.MaxV()
		add(high, room, v, hi, fmt.Sprintf("at least %.0f V when full; inverter, charger and converters take %.0f V", v, hi))
	}
	return out
}

func numbers(from, to int) string {
	if from == to {
		return fmt.Sprint(from)
	}
	return fmt.Sprintf("%d to %d", from, to)
}

// roomExcluded says for each series count that the window allows which parallel count first finds no room.
func (g *ground) roomExcluded(m *vehicles.Module, room int) []Excluded {
	lo, hi := electric.CommonWindow(g.gear)
	var out []Excluded
	for s := 1; float64(s)*m.MaxV() <= hi; s++ {
		if float64(s)*m.MinV() < lo {
			continue
		}
		p := room/s + 1
		out = append(out, Excluded{Module: m.ID, Series: s, Parallel: p, Limit: Room, Actual: float64(s * p), Need: float64(room), All: true,
			Text: fmt.Sprintf("%s, %d in series, %d or more in parallel: %d modules or more; the boxes take %d.", m.Name, s, p, s*p, room)})
		if p == 1 {
			break // still more in series need still more room
		}
	}
	return out
}

// currentShort compares the currents asked of each string with what the modules allow, as the checks do.
func (g *ground) currentShort(m *vehicles.Module, c electric.Choice) (Excluded, bool) {
	set, inv := g.plan.Settings.Electric, g.load.Inverter
	cont, peak := set.ContinuousA, set.PeakA
	if inv != nil && cont == 0 {
		cont = electric.InverterAmps(inv, inv.PowerKW, inv.ContinuousA, c.NominalV)
	}
	if inv != nil && peak == 0 {
		peak = electric.InverterAmps(inv, inv.PeakPowerKW, inv.PeakA, c.NominalV)
	}
	charge := 0.0
	if q := g.load.Charger; q != nil {
		if charge = q.ContinuousA; q.PowerKW > 0 {
			charge = q.PowerKW * 1000 / c.NominalV
		}
	}
	p := float64(c.Parallel)
	for _, l := range []struct {
		what           string
		asked, allowed float64
	}{
		{"continuous", cont / p, m.Current.ContinuousA},
		{"peak", max(peak, cont) / p, max(m.Current.PeakA, m.Current.ContinuousA)},
		{"charging", charge / p, m.Current.ChargeA},
	} {
		if l.allowed > 0 && l.asked > l.allowed+slack {
			return excludedCount(m, c, Current, l.asked, l.allowed, "A",
				fmt.Sprintf("a string is asked for %.0f A %s; the module allows %.0f A", l.asked, l.what, l.allowed)), true
		}
	}
	return Excluded{}, false
}
