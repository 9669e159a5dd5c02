package cooling

import "math"

// Reynolds numbers between which a flow is neither laminar nor turbulent. Any textbook of fluid mechanics.
const (
	laminarRe   = 2300
	turbulentRe = 4000
)

// Friction is Darcy's friction factor of a smooth pipe: 64/Re up to 2300, Blasius' 0.316 Re^-1/4 from 4000 on, and
// straight between, where nothing certain can be said. It is not defined for Re = 0.
func Friction(re float64) float64 {
	switch {
	case re <= laminarRe:
		return 64 / re
	case re >= turbulentRe:
		return blasius(re)
	}
	return 64.0/laminarRe + between*(re-laminarRe)
}

func blasius(re float64) float64 { return 0.316 / math.Sqrt(math.Sqrt(re)) }

// between is the slope of the friction factor between laminar and turbulent flow.
var between = (blasius(turbulentRe) - 64.0/laminarRe) / (turbulentRe - laminarRe)

// Pipe is a hose or a plate with like channels side by side.
type Pipe struct {
	DiameterMM float64 // hydraulic diameter
	LengthMM   float64
	Channels   int     // side by side; 0 counts as 1
	LossK      float64 // loss coefficients of bends, entries and exits, on the velocity head
}

// Fluid is what flows, at one temperature.
type Fluid struct{ DensityKgM3, ViscosityPaS float64 }

// Fluid returns the coolant's at a temperature in C.
func (c Coolant) Fluid(tempC float64) Fluid {
	return Fluid{c.DensityKgM3(tempC), c.ViscosityPaS(tempC)}
}

// Velocity is that in each channel, m/s, at a flow in m3/s.
func (p Pipe) Velocity(flow float64) float64 {
	d := p.DiameterMM / 1000
	return flow / float64(max(1, p.Channels)) / (math.Pi / 4 * d * d)
}

// Reynolds is the Reynolds number at a flow in m3/s.
func (p Pipe) Reynolds(flow float64, f Fluid) float64 {
	return f.DensityKgM3 * math.Abs(p.Velocity(flow)) * p.DiameterMM / 1000 / f.ViscosityPaS
}

// DropPa is the loss of pressure at a flow in m3/s: (f L/D + K) rho v^2/2 (Darcy-Weisbach).
func (p Pipe) DropPa(flow float64, f Fluid) float64 {
	drop, _ := p.drop(flow, f)
	return drop
}

// drop is the loss of pressure and its slope against the flow, Pa s/m3.
func (p Pipe) drop(flow float64, f Fluid) (pa, slope float64) {
	if p.DiameterMM <= 0 {
		return 0, 0
	}
	d, l := p.DiameterMM/1000, p.LengthMM/1000
	perFlow := p.Velocity(1) // m/s for 1 m3/s
	v := perFlow * flow
	laminar := 32 * f.ViscosityPaS * l / (d * d) // Pa for 1 m/s: f = 64/Re put in
	re := f.DensityKgM3 * math.Abs(v) * d / f.ViscosityPaS
	head := f.DensityKgM3 / 2 * math.Abs(v) // v^2 rho/2 over v
	if re <= laminarRe {
		return (laminar + p.LossK*head) * v, (laminar + 2*p.LossK*head) * perFlow
	}
	friction := Friction(re)
	k := friction*l/d + p.LossK
	// slope of friction by Reynolds' number, times Reynolds' number
	bend := -friction / 4
	if re < turbulentRe {
		bend = between * re
	}
	return k * head * v, (2*k + bend*l/d) * head * perFlow
}

// VolumeL is what the pipe holds, in litres.
func (p Pipe) VolumeL() float64 {
	return math.Pi / 4 * p.DiameterMM * p.DiameterMM * p.LengthMM * float64(max(1, p.Channels)) * 1e-6
}
