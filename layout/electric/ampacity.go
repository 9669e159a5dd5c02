package electric

import "math"

// standardMM2 are the conductor sections of IEC 60228.
var standardMM2 = [...]float64{1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400}

// ampacityRow is a copper cable's continuous current in 30 C air: IEC 60364-5-52 as restated in public tables.
type ampacityRow struct{ mm2, ohmPerKM, at70C, at90C float64 }

// ampacityRows: the resistance at 20 C is that of IEC 60228.
var ampacityRows = [...]ampacityRow{
	{1.5, 12.1, 17.5, 22}, {2.5, 7.41, 24, 30}, {4, 4.61, 32, 40}, {6, 3.08, 41, 51},
	{10, 1.83, 57, 70}, {16, 1.15, 76, 94}, {25, 0.727, 101, 125}, {35, 0.524, 125, 154},
}

// Ambient of the table, and the hottest conductor counted on whatever the insulation stands, for the sake of lugs
// and terminals (an assumption).
const (
	tableAirC    = 30
	hottestC     = 105
	beyondPower  = 0.6  // growth of the current with the section beyond the table (an estimate)
	strandFactor = 1.06 // resistance of a stranded conductor against solid copper beyond the table (an estimate)
)

// NextSection returns the least section of IEC 60228 that is no less than the one given in mm2; beyond the
// largest, the section itself.
func NextSection(mm2 float64) float64 {
	for _, s := range standardMM2 {
		if s >= mm2-1e-9 {
			return s
		}
	}
	return mm2
}

// CableAmps returns the continuous current in A of a copper cable of a section in mm2 in air of a temperature in
// C. Up to 35 mm2 the table of IEC 60364-5-52 is used, stepping down between its rows; beyond, its last row is
// carried on with the power 0.6 (an estimate). Other air temperatures scale with the root of the temperature
// rise. Conductors are not counted on above 105 C.
func CableAmps(sectionMM2, airC float64, insulation string) float64 {
	hold := min(insulatorOf(insulation).holdC, hottestC)
	base, ref := tableAmps(sectionMM2, hold)
	if airC >= hold {
		return 0
	}
	return base * math.Sqrt((hold-airC)/(ref-tableAirC))
}

// tableAmps is the table's current and the conductor temperature of the column used.
func tableAmps(mm2, hold float64) (amps, ref float64) {
	column := func(r ampacityRow) float64 { return r.at70C }
	ref = 70
	if hold >= 90 {
		column, ref = func(r ampacityRow) float64 { return r.at90C }, 90
	}
	last := ampacityRows[len(ampacityRows)-1]
	if mm2 > last.mm2 {
		return column(last) * math.Pow(mm2/last.mm2, beyondPower), ref
	}
	for _, r := range ampacityRows {
		if r.mm2 <= mm2+1e-9 {
			amps = column(r)
		}
	}
	return amps, ref
}

// CableForAmps returns the least section of IEC 60228 in mm2 that carries a current in A; 0 where none does.
func CableForAmps(amps, airC float64, insulation string) float64 {
	for _, s := range standardMM2 {
		if CableAmps(s, airC, insulation) >= amps {
			return s
		}
	}
	return 0
}

// CableOhm returns the resistance in ohms at 20 C of a stranded copper cable: IEC 60228 for the sections of its
// table up to 35 mm2, else solid copper and 6 % (an estimate).
func CableOhm(lengthMM, sectionMM2 float64) float64 {
	for _, r := range ampacityRows {
		if r.mm2 == sectionMM2 {
			return r.ohmPerKM / 1000 * lengthMM / 1000
		}
	}
	return CopperOhm(lengthMM, sectionMM2, 20) * strandFactor
}
