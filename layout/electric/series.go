package electric

import "math"

// r10 is the decade of preferred numbers R10 (ISO 3).
var r10 = [...]float64{1.00, 1.25, 1.60, 2.00, 2.50, 3.15, 4.00, 5.00, 6.30, 8.00}

// NextR10 returns the least preferred number of the series R10 (ISO 3) that is no less than v. It is 0 where v
// is not positive.
func NextR10(v float64) float64 {
	if v <= 0 {
		return 0
	}
	decade := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range r10 {
		if n := round3(m * decade); n >= v*(1-1e-9) {
			return n
		}
	}
	return round3(10 * decade)
}

// LastR10 returns the greatest preferred number of the series R10 (ISO 3) that is no more than v. It is 0 where v
// is not positive.
func LastR10(v float64) float64 {
	if v <= 0 {
		return 0
	}
	decade := math.Pow(10, math.Floor(math.Log10(v)))
	var best float64
	for _, m := range r10 {
		if n := round3(m * decade); n <= v*(1+1e-9) {
			best = n
		}
	}
	return best
}

// round3 takes the noise off a preferred number.
func round3(v float64) float64 {
	scale := math.Pow(10, 2-math.Floor(math.Log10(v)))
	return math.Round(v*scale) / scale
}
