package restraint

import "math"

// yieldShare is the yield strength of structural steel as a share of its tensile strength: 235 of 360 MPa
// (S235, EN 10025-2). For other metal it is an assumption.
const yieldShare = 235.0 / 360

// BendingNmm is the plastic bending resistance of a plate, N mm: w t^2/4 fy / gamma M0 (EN 1993-1-1 6.2.5).
func BendingNmm(widthMM, thickMM, strengthMPa float64) float64 {
	return widthMM * thickMM * thickMM / 4 * yieldShare * strengthMPa / gammaM0
}

// betaW is the correlation factor of fillet welds on S235 (EN 1993-1-8 table 4.1).
const betaW = 0.8

// WeldMPa is the design shear strength of a fillet weld: fu / (sqrt 3 beta w gamma M2) (EN 1993-1-8 4.5.3.3).
func WeldMPa(strengthMPa float64) float64 { return strengthMPa / (math.Sqrt(3) * betaW * gammaM2) }
