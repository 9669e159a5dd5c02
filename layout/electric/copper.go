package electric

// Resistivity of annealed copper at 20 C in ohm mm2/m and its temperature coefficient per kelvin (IEC 60028);
// density in kg/dm3 as in the tables of DIN 43671.
const (
	copperOhmMM2PerM = 1.0 / 58
	copperPerK       = 0.00393
	copperKgPerDM3   = 8.9
)

// CopperOhm returns the resistance in ohms of a copper conductor of a length in mm and a section in mm2 at a
// temperature in C (IEC 60028). It is zero where the section is not positive.
func CopperOhm(lengthMM, sectionMM2, tempC float64) float64 {
	if sectionMM2 <= 0 {
		return 0
	}
	return copperOhmMM2PerM * lengthMM / 1000 / sectionMM2 * (1 + copperPerK*(tempC-20))
}

// CopperKg returns the mass in kg of a copper conductor of a length in mm and a section in mm2.
func CopperKg(lengthMM, sectionMM2 float64) float64 {
	return lengthMM * sectionMM2 * copperKgPerDM3 / 1e6
}
