package electric

import (
	"math"

	"stowbay/layout"
)

// Least isolation resistance in ohms a volt: of a direct-current circuit, and of one joined to an
// alternating-current circuit (UN Regulation 100, 5.1.3; 49 CFR 571.305 S5.4.3).
const (
	OhmPerVoltDC = 100
	OhmPerVoltAC = 500
)

// yLimitJ is the energy in the capacitances to the chassis above which isolation alone does not protect (ISO 6469-4).
const yLimitJ = 0.2

// IsolationOhm returns the least isolation resistance in ohms at a voltage in V.
func IsolationOhm(volts, ohmPerVolt float64) float64 { return volts * ohmPerVolt }

// SideBySide returns the resistance of resistances in parallel; those that are not positive are left out. Without
// any it is infinite.
func SideBySide(ohms ...float64) float64 {
	g := 0.0
	for _, o := range ohms {
		if o > 0 {
			g += 1 / o
		}
	}
	return 1 / g
}

// MonitorTestOhms returns the window of the resistor in ohms that tests an isolation monitor on a vehicle with an
// isolation resistance in ohms and a working voltage in V: at least the first and below the second
// (49 CFR 571.305 S8). Both are infinite where the isolation is already lower than that.
func MonitorTestOhms(volts, isolationOhm float64) (atLeast, below float64) {
	return parallelTo(95*volts, isolationOhm), parallelTo(100*volts, isolationOhm)
}

// parallelTo is the resistance that brings another one down to a value.
func parallelTo(value, other float64) float64 {
	if g := 1/value - 1/other; g > 0 {
		return 1 / g
	}
	return math.Inf(1)
}

// Isolation is the resistance between the pack and the chassis.
type Isolation struct {
	OhmPerVolt  float64
	RequiredOhm float64
	SumOhm      float64  // of all gear that states its isolation, side by side; infinite where none does
	ByPlace     []Leak   // box by box, and "vehicle" for gear outside
	Unstated    []string // gear at the pack's voltage that states none
	YJ          float64  // energy in the capacitances to the chassis at the pack's highest voltage
	YF          float64  // their sum over both poles
	Monitor     *layout.GearBody
}

// Leak is the isolation resistance of the gear in one place.
type Leak struct {
	Place string
	Ohm   float64
}

func (r *Result) isolate() {
	i := &r.Isolation
	v := r.highestV()
	i.OhmPerVolt = OhmPerVoltDC
	if r.Load.Inverter != nil {
		i.OhmPerVolt = OhmPerVoltAC
	}
	i.RequiredOhm = IsolationOhm(v, i.OhmPerVolt)
	i.leaks("vehicle", r.Scene.Gear)
	for _, b := range r.Scene.Boxes {
		i.leaks(b.Box.ID, b.Gear)
	}
	var all []float64
	for _, l := range i.ByPlace {
		all = append(all, l.Ohm)
	}
	i.SumOhm = SideBySide(all...)
	i.YJ = CapacitorJ(i.YF, v)
}

func (i *Isolation) leaks(where string, gear []*layout.GearBody) {
	var ohms []float64
	for _, g := range gear {
		i.YF += 2 * g.Gear.YCapacitanceUF / 1e6
		switch {
		case g.Gear.Kind == "isolation_monitor":
			i.Monitor = g
		case g.Gear.IsolationMOhm == 0 && highVoltage(g.Gear.Kind):
			i.Unstated = append(i.Unstated, g.ID)
		}
		ohms = append(ohms, g.Gear.IsolationMOhm*1e6)
	}
	if o := SideBySide(ohms...); !math.IsInf(o, 1) {
		i.ByPlace = append(i.ByPlace, Leak{Place: where, Ohm: o})
	}
}
