package electric

import (
	"math"

	"stowbay/layout"
)

// Charging is a capacitance that is charged to a voltage through a resistor.
type Charging struct {
	TauS  float64
	PeakA float64
	PeakW float64
	J     float64 // energy in the capacitance, and the same again in the resistor
}

// ChargeThrough returns what happens when a capacitance in F is charged to a voltage in V through a resistance in
// ohms: time constant RC, peak V/R, energy in the resistor C V2 / 2 (circuit theory).
func ChargeThrough(volts, farads, ohms float64) Charging {
	return Charging{TauS: ohms * farads, PeakA: volts / ohms, PeakW: volts * volts / ohms, J: CapacitorJ(farads, volts)}
}

// TimeTo returns the time in s to charge to a share of the voltage: -ln(1 - share) time constants.
func (c Charging) TimeTo(share float64) float64 { return -math.Log(1-share) * c.TauS }

// CapacitorJ returns the energy in J of a capacitance in F at a voltage in V.
func CapacitorJ(farads, volts float64) float64 { return farads * volts * volts / 2 }

// prechargeS is the time in which the bus should reach 95 % where no precharge is placed yet (common practice).
const prechargeS = 0.5

// Precharge is how the capacitance of the traction bus is charged before the main contactor closes.
type Precharge struct {
	CapacitanceF float64
	Sources      []string // what the capacitance comes from
	Gear         *layout.GearBody
	Ohm          float64 // the resistor's, or the one suggested
	Suggested    bool
	Charging
	T95S float64
}

// precharge adds up the capacitance and takes the resistor placed, or suggests one of the series R10.
func (r *Result) precharge(e use) {
	p := &r.Precharge
	p.CapacitanceF = e.ExternalUF / 1e6
	if e.ExternalUF > 0 {
		p.Sources = append(p.Sources, "stated in the settings")
	}
	for _, g := range r.allGear() {
		if g.Gear.CapacitanceUF > 0 {
			p.CapacitanceF += g.Gear.CapacitanceUF / 1e6
			p.Sources = append(p.Sources, g.ID)
		}
		if g.Gear.Kind == "precharge" && p.Gear == nil {
			p.Gear, p.Ohm = g, g.Gear.PrechargeOhm
		}
	}
	if i := r.Load.Inverter; i != nil && r.Load.InverterAt == nil && i.CapacitanceUF > 0 {
		p.CapacitanceF += i.CapacitanceUF / 1e6
		p.Sources = append(p.Sources, i.ID+" (not placed)")
	}
	v := r.highestV()
	if p.CapacitanceF == 0 || v == 0 {
		return
	}
	if p.Ohm == 0 {
		p.Suggested = true
		p.Ohm = LastR10(prechargeS / (-math.Log(1-prechargedShare) * p.CapacitanceF))
	}
	p.Charging = ChargeThrough(v, p.CapacitanceF, p.Ohm)
	p.T95S = p.TimeTo(prechargedShare)
}
