package fabricate

import "math"

// Bend is one bend of sheet: by how many degrees it turns from flat, its inner radius, the sheet's thickness and
// the place of the neutral line as a share of the thickness from the inside, the K-factor.
type Bend struct{ Deg, RadiusMM, ThicknessMM, K float64 }

// KFactor returns the place of the neutral line for an inner radius and a thickness in mm as DIN 6935 has it: half
// of the correction 0.65 + 0.5 log10(r/s), which is 1 from r/s = 5 on (from memory, not checked against the text).
// It is never taken below 0.25, where the formula would leave what bending can do (common practice).
func KFactor(radius, thickness float64) float64 {
	if thickness <= 0 || radius >= 5*thickness {
		return 0.5
	}
	k := (0.65 + 0.5*math.Log10(math.Max(radius, 1e-6)/thickness)) / 2
	return math.Max(0.25, k)
}

// Allowance is the length of the neutral line in the bend, mm: angle x (r + K s).
func (b Bend) Allowance() float64 {
	return b.Deg * math.Pi / 180 * (b.RadiusMM + b.K*b.ThicknessMM)
}

// Setback is the distance from where the bend begins to where the outer faces would meet, mm: (r + s) tan(angle / 2).
func (b Bend) Setback() float64 {
	return (b.RadiusMM + b.ThicknessMM) * math.Tan(b.Deg*math.Pi/360)
}

// Deduction is by how much the flat length is less than the sum of the outside lengths on both sides, mm.
func (b Bend) Deduction() float64 { return 2*b.Setback() - b.Allowance() }

// FlatLength is the flat length of a strip with outside lengths between its bends, all alike, in mm.
func FlatLength(outside []float64, b Bend) float64 {
	sum := 0.0
	for _, l := range outside {
		sum += l
	}
	return sum - float64(len(outside)-1)*b.Deduction()
}
