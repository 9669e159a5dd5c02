package electric

import (
	"sort"

	"stowbay/vehicles"
)

// OpenVolts returns a cell's voltage at rest at a state of charge in per cent, from its curve by straight lines
// between points. Without a curve it is taken straight from the lowest over the nominal (at half charge) to the
// highest voltage, and assumed is true. Charge beyond the curve gives its end.
func OpenVolts(c *vehicles.Cell, socPct float64) (v float64, assumed bool) {
	if len(c.OpenV) < 2 {
		plain := []vehicles.OpenVolt{{SOCPct: 0, V: c.MinV}, {SOCPct: 50, V: c.NominalV}, {SOCPct: 100, V: c.MaxV}}
		return along(plain, socPct), true
	}
	return along(c.OpenV, socPct), false
}

func along(curve []vehicles.OpenVolt, soc float64) float64 {
	i := sort.Search(len(curve), func(i int) bool { return curve[i].SOCPct >= soc })
	switch {
	case i == 0:
		return curve[0].V
	case i == len(curve):
		return curve[i-1].V
	}
	a, b := curve[i-1], curve[i]
	return a.V + (b.V-a.V)*(soc-a.SOCPct)/(b.SOCPct-a.SOCPct)
}

// referenceC is the temperature that a module's resistance is stated at.
const referenceC = 25

// ModuleOhm returns a module's resistance in ohms at a temperature: as stated at 25 C and above, times the cold
// factor at 0 C, straight between and beyond (a simplification; cells stiffen faster than that below 0 C).
func ModuleOhm(m *vehicles.Module, tempC float64) float64 {
	ohm := m.Ohmic.MilliOhm / 1000
	if m.Ohmic.ColdFactor <= 1 || tempC >= referenceC {
		return ohm
	}
	return ohm * (1 + (m.Ohmic.ColdFactor-1)*(referenceC-tempC)/referenceC)
}
