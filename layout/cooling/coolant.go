package cooling

import (
	"math"
	"slices"
)

// Coolant is a mixture of water and ethylene glycol; Glycol is the glycol's share by mass, 0 to 0.6.
type Coolant struct{ Glycol float64 }

// The polynomials of Melinder, Properties of secondary working fluids for indirect systems, IIR 2010, for ethylene
// glycol in water: sums of c[i][j] (T - tBase)^i (x - xBase)^j with T in degrees Celsius and x the share by mass.
const (
	tBaseC = 304.878 - 273.15
	xBase  = 0.308462
)

type polynomial [4][6]float64

var (
	density = polynomial{
		{1034, 131.1, 0.749, -106.2, -96.23, 489.1},
		{-0.4781, -0.6876, 0.7855, 1.229, -7.211, 0},
		{-2.692e-3, 4.805e-3, -3.995e-3, -1.153e-2, 0, 0},
		{4.725e-6, 1.69e-6, 4.982e-5, 0, 0, 0},
	}
	heatCapacity = polynomial{
		{3737, -1799, -993.3, 2610, 1537, -16180},
		{2.93, 10.46, 3.516, -1.189, -42.72, 0},
		{-4.675e-3, -4.147e-2, 5.109e-2, -0.1643, 0, 0},
		{-1.389e-5, 1.847e-5, -7.138e-4, 0, 0, 0},
	}
	logViscosity = polynomial{
		{-6.437255, 2.471, 0.03328, 1.659, 3.089, -18.65},
		{-0.0255, -0.01171, 0.01086, 3.157e-3, 0.01831, 0},
		{1.782e-4, 1.052e-4, 1.051e-4, 4.063e-4, 0, 0},
		{-7.669e-7, -1.634e-6, -6.475e-6, 0, 0, 0},
	}
	freezing = [6]float64{257.9, -80.8, -133.4, -72.93, 100.6, 11.4}
)

// cubic is a polynomial in T - tBase for one mixture.
type cubic [4]float64

// of returns the polynomial for one share of glycol.
func (p *polynomial) of(glycol float64) cubic {
	var out cubic
	for i := range p {
		out[i] = inShare(&p[i], glycol)
	}
	return out
}

// inShare evaluates a polynomial in x - xBase by Horner's scheme. Shares beyond 0 and 0.6 are taken as these.
func inShare(c *[6]float64, glycol float64) float64 {
	x := min(max(glycol, 0), 0.6) - xBase
	var sum float64
	for _, v := range slices.Backward(c[:]) {
		sum = sum*x + v
	}
	return sum
}

// at evaluates by Horner's scheme. Temperatures beyond -40 and 100 C are taken as these, as the polynomials hold for
// no more.
func (c cubic) at(tempC float64) float64 {
	t := min(max(tempC, -40), 100) - tBaseC
	return ((c[3]*t+c[2])*t+c[1])*t + c[0]
}

// mixture is a coolant with its polynomials worked out for its share of glycol.
type mixture struct{ density, heatCapacity, logViscosity cubic }

func (c Coolant) mixture() *mixture {
	return &mixture{density.of(c.Glycol), heatCapacity.of(c.Glycol), logViscosity.of(c.Glycol)}
}

func (m *mixture) fluid(tempC float64) Fluid {
	return Fluid{m.density.at(tempC), math.Exp(m.logViscosity.at(tempC))}
}

// DensityKgM3 is the density at a temperature in C.
func (c Coolant) DensityKgM3(tempC float64) float64 { return density.of(c.Glycol).at(tempC) }

// HeatCapacityJKgK is the specific heat capacity.
func (c Coolant) HeatCapacityJKgK(tempC float64) float64 { return heatCapacity.of(c.Glycol).at(tempC) }

// ViscosityPaS is the dynamic viscosity.
func (c Coolant) ViscosityPaS(tempC float64) float64 {
	return math.Exp(logViscosity.of(c.Glycol).at(tempC))
}

// FreezesC is the temperature at which ice begins to form, in C.
func (c Coolant) FreezesC() float64 { return inShare(&freezing, c.Glycol) - 273.15 }
