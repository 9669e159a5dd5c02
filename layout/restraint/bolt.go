package restraint

import "math"

// Gravity is the standard acceleration of free fall, m/s2 (ISO 80000-3).
const Gravity = 9.80665

// Thread is a metric coarse thread.
type Thread struct {
	Name    string
	MM      float64 // nominal diameter
	AreaMM2 float64 // stress area (ISO 898-1; M6 to M14 from memory, not checked against the text)
}

var threads = []Thread{{"M6", 6, 20.1}, {"M8", 8, 36.6}, {"M10", 10, 58.0}, {"M12", 12, 84.3}, {"M14", 14, 115}, {"M16", 16, 157}, {"M20", 20, 245}}

// ThreadOf returns a thread by its name, M6 to M20; M8 for a name that is not known.
func ThreadOf(name string) Thread {
	for _, t := range threads {
		if t.Name == name {
			return t
		}
	}
	return threads[1]
}

// Class is a property class of bolts.
type Class struct {
	Name        string
	StrengthMPa float64 // nominal tensile strength (ISO 898-1)
	ShearFactor float64 // alpha v of EN 1993-1-8 table 3.4, threads in the shear plane
}

// Class 12.9 is outside EN 1993-1-8: the factor of 10.9 is taken (an assumption).
var classes = []Class{{"8.8", 800, 0.6}, {"10.9", 1000, 0.5}, {"12.9", 1200, 0.5}}

// ClassOf returns a property class by its name; 8.8 for a name that is not known.
func ClassOf(name string) Class {
	for _, c := range classes {
		if c.Name == name {
			return c
		}
	}
	return classes[0]
}

// ProofMPa is the stress under proof load (ISO 898-1).
func (c Class) ProofMPa(t Thread) float64 {
	switch {
	case c.Name == "10.9":
		return 830
	case c.Name == "12.9":
		return 970
	case t.MM > 16:
		return 600
	}
	return 580
}

// The partial factors of EN 1993-1-8 and EN 1993-1-1 as recommended.
const (
	gammaM2 = 1.25
	gammaM0 = 1.0
)

// ShearN is the shear resistance of one bolt in one plane, threads in the plane, N: alpha v fub As / gamma M2
// (EN 1993-1-8 table 3.4), times 0.85 for M12 and M14 (EN 1993-1-8 3.6.1(5), holes with 2 mm clearance).
func ShearN(t Thread, c Class) float64 {
	v := c.ShearFactor * c.StrengthMPa * t.AreaMM2 / gammaM2
	if t.MM == 12 || t.MM == 14 {
		v *= 0.85
	}
	return v
}

// TensionN is the tension resistance of one bolt, N: 0.9 fub As / gamma M2 (EN 1993-1-8 table 3.4).
func TensionN(t Thread, c Class) float64 { return 0.9 * c.StrengthMPa * t.AreaMM2 / gammaM2 }

// Combined is how much of a bolt its shear and tension use: Fv/FvRd + Ft/(1.4 FtRd), and no less than Ft/FtRd
// (EN 1993-1-8 table 3.4). 1 is all of it.
func Combined(shearN, tensionN float64, t Thread, c Class) float64 {
	ft := tensionN / TensionN(t, c)
	return max(shearN/ShearN(t, c)+ft/1.4, ft)
}

// Sheet is metal with a bolt hole in it.
type Sheet struct {
	ThickMM     float64
	StrengthMPa float64 // tensile strength
	EndMM       float64 // bolt centre to the end, in the load's direction
	SideMM      float64 // bolt centre to the side
}

// holeMM is the clearance hole: a tenth wider than the bolt, as the boxes are drawn.
func holeMM(t Thread) float64 { return 1.1 * t.MM }

// BearingN is the bearing resistance of a sheet at one bolt, N: k1 alpha b fu d t / gamma M2 (EN 1993-1-8 table 3.4, end bolts).
func BearingN(s Sheet, t Thread, c Class) float64 {
	d0 := holeMM(t)
	ab := min(s.EndMM/(3*d0), c.StrengthMPa/s.StrengthMPa, 1)
	k1 := min(2.8*s.SideMM/d0-1.7, 2.5)
	return max(0, k1) * max(0, ab) * s.StrengthMPa * t.MM * s.ThickMM / gammaM2
}

// TearOutN is the force that shears the metal between hole and end out along two planes, N:
// 2 (e - d0/2) t fu / sqrt 3 / gamma M2. The form is common practice; its shear strength fu / sqrt 3 is von Mises'.
func TearOutN(s Sheet, t Thread) float64 {
	return 2 * max(0, s.EndMM-holeMM(t)/2) * s.ThickMM * s.StrengthMPa / math.Sqrt(3) / gammaM2
}

// The share of the proof load that a bolt is tightened to, and the nut factor of plain dry threads.
const (
	PreloadShare = 0.75
	NutFactor    = 0.20
)

// PreloadN is the preload of a bolt tightened to 75 % of its proof load, N.
func PreloadN(t Thread, c Class) float64 { return PreloadShare * c.ProofMPa(t) * t.AreaMM2 }

// TorqueNm is the torque that gives a preload, N m: T = K d F, with K 0.20 for plain dry threads, 0.17 zinc
// plated, 0.15 lubricated.
func TorqueNm(t Thread, preloadN, k float64) float64 { return k * t.MM / 1000 * preloadN }
