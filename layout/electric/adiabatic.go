package electric

import "math"

// insulator is a cable insulation: the temperature in C it may hold all the time, the one after a fault, and the
// adiabatic constant k in A s^0.5/mm2 for copper between the two.
type insulator struct{ holdC, faultC, k float64 }

// insulators are the rows of IEC 60364-5-54 (as BS 7671 restates them) for copper; PVC up to 300 mm2.
var insulators = map[string]insulator{
	"PVC70":    {70, 160, 115},
	"XLPE90":   {90, 250, 143},
	"rubber60": {60, 200, 141},
	"rubber85": {85, 220, 134},
	"silicone": {180, 350, 132},
}

// AdiabaticK returns the constant k of an insulation for copper in A s^0.5/mm2 (IEC 60364-5-54). An insulation
// that is not known counts as PVC.
func AdiabaticK(insulation string) float64 { return insulatorOf(insulation).k }

func insulatorOf(name string) insulator {
	if i, ok := insulators[name]; ok {
		return i
	}
	return insulators["PVC70"]
}

// CopperK returns k for copper that a fault heats from one temperature to another in C (formula of IEC 60949).
func CopperK(fromC, toC float64) float64 {
	return 226 * math.Sqrt(math.Log((234.5+toC)/(234.5+fromC)))
}

// AdiabaticMM2 returns the section in mm2 that a current in A for a time in s (no more than 5 s) heats just to
// the limit: sqrt(I2 t)/k (IEC 60364-5-54).
func AdiabaticMM2(amps, seconds, k float64) float64 { return amps * math.Sqrt(seconds) / k }

// AdiabaticA2S returns the let-through integral in A2s that a section in mm2 withstands: k2 S2.
func AdiabaticA2S(sectionMM2, k float64) float64 { return k * k * sectionMM2 * sectionMM2 }
