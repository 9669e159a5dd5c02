package electric

import (
	"slices"

	"stowbay/vehicles"
)

// Choice is one series and parallel count of a module.
type Choice struct {
	Module               *vehicles.Module
	Series, Parallel     int
	Count                int
	MinV, NominalV, MaxV float64
	EnergyKWh, MassKg    float64 // modules only
	ContinuousA          float64 // what the modules allow
	Fits                 bool    // no more modules than room for
}

// Choices lists every series × parallel of a module whose voltage stays inside the windows of all the gear given
// (inverter, charger, converter; nil is passed over) from empty to full, with up to most modules in all, by
// rising count and then series. room is how many modules fit the bays; 0: not known, and Fits is then true.
// Where no gear states a highest voltage, the end of voltage class B, 1500 V DC, stands in (from memory: ISO 6469-3).
func Choices(m *vehicles.Module, gear []*vehicles.Gear, most, room int) []Choice {
	lo, hi := CommonWindow(gear)
	var out []Choice
	for s := 1; s <= most && float64(s)*m.MaxV() <= hi; s++ {
		if float64(s)*m.MinV() < lo {
			continue
		}
		for p := 1; s*p <= most; p++ {
			out = append(out, choice(m, s, p, room))
		}
	}
	slices.SortStableFunc(out, func(a, b Choice) int { return a.Count - b.Count })
	return out
}

const classBEndV = 1500

// CommonWindow is the voltage range in V that all gear works at; nil is passed over. hi is 1500 V where none states a highest.
func CommonWindow(gear []*vehicles.Gear) (lo, hi float64) {
	hi = classBEndV
	for _, g := range gear {
		if g == nil {
			continue
		}
		lo = max(lo, g.VoltageMinV)
		if g.VoltageMaxV > 0 {
			hi = min(hi, g.VoltageMaxV)
		}
	}
	return lo, hi
}

func choice(m *vehicles.Module, s, p, room int) Choice {
	n := s * p
	f := float64(s)
	return Choice{
		Module: m, Series: s, Parallel: p, Count: n,
		MinV: f * m.MinV(), NominalV: f * m.NominalV(), MaxV: f * m.MaxV(),
		EnergyKWh: float64(n) * m.EnergyKWh(), MassKg: float64(n) * m.MassKg,
		ContinuousA: float64(p) * m.Current.ContinuousA,
		Fits:        room == 0 || n <= room,
	}
}
