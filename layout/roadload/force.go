package roadload

import "math"

// gravity is the standard acceleration of free fall, m/s2 (ISO 80000-3).
const gravity = 9.80665

// Vehicle is what holds a vehicle back.
type Vehicle struct {
	MassKg     float64
	DragAreaM2 float64 // drag coefficient times frontal area
	Rolling    float64 // rolling resistance coefficient
	AirKgM3    float64 // density of the air
	Rotating   float64 // rotating parts as a share of the mass, felt when the speed changes
}

// DragN is the air's resistance at a speed in m/s in calm air: rho/2 cd A v^2.
func (v Vehicle) DragN(speed float64) float64 { return v.AirKgM3 / 2 * v.DragAreaM2 * speed * speed }

// RollingN is the tyres' resistance on a slope in degrees: m g f cos.
func (v Vehicle) RollingN(slopeDeg float64) float64 {
	return v.MassKg * gravity * v.Rolling * math.Cos(slopeDeg*math.Pi/180)
}

// GradeN is the weight's part along a slope in degrees: m g sin.
func (v Vehicle) GradeN(slopeDeg float64) float64 {
	return v.MassKg * gravity * math.Sin(slopeDeg*math.Pi/180)
}

// SteadyN is the force at the wheels at a steady speed in m/s on a slope in degrees.
func (v Vehicle) SteadyN(speed, slopeDeg float64) float64 {
	return v.DragN(speed) + v.RollingN(slopeDeg) + v.GradeN(slopeDeg)
}

// SteadyWhPerKm is the energy at the wheels for a kilometre on the level at a steady speed in km/h.
func (v Vehicle) SteadyWhPerKm(kmh float64) float64 { return v.SteadyN(kmh/3.6, 0) / 3.6 }

// slopeDeg is the slope in degrees of a grade in per cent.
func slopeDeg(gradePct float64) float64 { return math.Atan(gradePct/100) * 180 / math.Pi }
