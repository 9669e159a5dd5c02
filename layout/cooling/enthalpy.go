package cooling

import "math"

// enthalpy is the integral of the heat capacity from the polynomials' base temperature, J/kg. Beyond -40 and 100 C
// the heat capacity stays what it is there, as [cubic.at] has it.
func (m *mixture) enthalpy(tempC float64) float64 {
	in := min(max(tempC, -40), 100)
	t, c := in-tBaseC, m.heatCapacity
	return (((c[3]/4*t+c[2]/3)*t+c[1]/2)*t+c[0])*t + c.at(tempC)*(tempC-in)
}

// tempAt is the temperature at which the coolant holds an enthalpy, in C, by Newton's method from a guess. The heat
// capacity is its slope, positive throughout, so that it settles in a few steps.
func (m *mixture) tempAt(jKg, guessC float64) float64 {
	t := guessC
	for range 20 {
		step := (jKg - m.enthalpy(t)) / m.heatCapacity.at(t)
		t += step
		if math.Abs(step) < 1e-9 {
			break
		}
	}
	return t
}
