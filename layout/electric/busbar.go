package electric

import (
	"fmt"
	"math"
)

// Busbar is a flat copper bar of DIN 43671: bare, direct current, one bar, in 35 C air at 65 C.
type Busbar struct {
	WidthMM, ThickMM float64
	SectionMM2       float64
	BareA            float64
}

// busbars are rows of DIN 43671 as a switchgear manual restates them, by rising current.
var busbars = [...]Busbar{
	{12, 5, 59.5, 177}, {20, 5, 99.1, 274}, {12, 10, 119.5, 285}, {30, 5, 149, 380}, {20, 10, 199, 428},
	{40, 5, 199, 484}, {30, 10, 299, 579}, {40, 10, 399, 728},
}

// Air and bar temperature of DIN 43671, and the power of the temperature rise by which the current scales (from
// memory, not checked against the text).
const (
	busbarAirC  = 35
	busbarC     = 65
	busbarPower = 0.6
)

// Name is the bar's width and thickness: "20x5".
func (b Busbar) Name() string { return fmt.Sprintf("%gx%g", b.WidthMM, b.ThickMM) }

// Amps returns the bar's continuous direct current in A in air of a temperature in C.
func (b Busbar) Amps(airC float64) float64 {
	return b.BareA * math.Pow(max(0, busbarC-airC)/(busbarC-busbarAirC), busbarPower)
}

// BusbarForAmps returns the least bar that carries a current in A in air of a temperature in C and has at least a
// section in mm2; ok is false where none of the table does, and the largest is returned.
func BusbarForAmps(amps, airC, leastMM2 float64) (b Busbar, ok bool) {
	for _, b := range busbars {
		if b.Amps(airC) >= amps && b.SectionMM2 >= leastMM2 {
			return b, true
		}
	}
	return busbars[len(busbars)-1], false
}
