package electric

// Kinds of insulation of IEC 60664-1. Functional: between live parts of the pack's own circuit. Basic or
// reinforced: between live parts and metal that can be touched.
const (
	Functional = "functional"
	Basic      = "basic"
	Reinforced = "reinforced"
)

// Required is what insulation asks for between two parts.
type Required struct {
	ClearanceMM, CreepageMM float64
	ImpulseV                float64 // dimensioned for; 0 for functional insulation
	WithinTables            bool    // false where a voltage lies beyond the tables: the figures are then too small
}

// Surroundings are what the distances depend on besides the voltages.
type Surroundings struct {
	Pollution  int
	Group      string // I, II, IIIa, IIIb
	Category   int    // overvoltage category
	AltitudeM  float64
	Insulation string // of live parts against metal: basic or reinforced
}

// RequiredBetween returns the distances for a working voltage across the insulation and the voltage of the
// system, both in V (IEC 60664-1). Functional insulation is dimensioned for the working voltage alone. Reinforced
// insulation takes the next impulse step, 1.6 times the working voltage for the clearance and twice the creepage.
// A creepage is never less than the clearance.
func RequiredBetween(kind string, workingV, systemV float64, s Surroundings) Required {
	steadyV, creepTimes := workingV, 1.0
	if kind == Reinforced {
		steadyV, creepTimes = 1.6*workingV, 2
	}
	clearance, ok1 := SteadyClearance(steadyV, s.Pollution)
	creepage, ok2 := Creepage(workingV, s.Pollution, s.Group)
	out := Required{WithinTables: ok1 && ok2}
	if kind != Functional {
		v, ok3 := ImpulseVolts(systemV, s.Category)
		if kind == Reinforced {
			v = ReinforcedImpulse(v)
		}
		c, ok4 := ImpulseClearance(v, s.Pollution)
		clearance = max(clearance, c)
		out.ImpulseV, out.WithinTables = v, out.WithinTables && ok3 && ok4
	}
	out.ClearanceMM = clearance * AltitudeFactor(s.AltitudeM)
	out.CreepageMM = max(creepage*creepTimes, out.ClearanceMM)
	return out
}

func (e use) surroundings() Surroundings {
	return Surroundings{Pollution: e.Pollution, Group: e.MaterialGroup, Category: e.Overvoltage, AltitudeM: e.AltitudeM, Insulation: e.Insulation}
}
