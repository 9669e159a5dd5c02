package electric

import (
	"math"
	"sort"
)

// The tables of IEC 60664-1 that the insulation checks need. In between their rows the next row up is taken,
// which is on the safe side.

// creepageRow is a row of table F.5 (F.4 of the 2007 edition): working voltage in V, distances in mm.
type creepageRow struct {
	v        float64
	pd1      float64
	pd2, pd3 [3]float64 // material groups I, II, III
}

var creepageRows = [...]creepageRow{
	{10, 0.08, [3]float64{0.4, 0.4, 0.4}, [3]float64{1, 1, 1}},
	{12.5, 0.09, [3]float64{0.42, 0.42, 0.42}, [3]float64{1.05, 1.05, 1.05}},
	{16, 0.1, [3]float64{0.45, 0.45, 0.45}, [3]float64{1.1, 1.1, 1.1}},
	{20, 0.11, [3]float64{0.48, 0.48, 0.48}, [3]float64{1.2, 1.2, 1.2}},
	{25, 0.125, [3]float64{0.5, 0.5, 0.5}, [3]float64{1.25, 1.25, 1.25}},
	{32, 0.14, [3]float64{0.53, 0.53, 0.53}, [3]float64{1.3, 1.3, 1.3}},
	{40, 0.16, [3]float64{0.56, 0.8, 1.1}, [3]float64{1.4, 1.6, 1.8}},
	{50, 0.18, [3]float64{0.6, 0.85, 1.2}, [3]float64{1.5, 1.7, 1.9}},
	{63, 0.2, [3]float64{0.63, 0.9, 1.25}, [3]float64{1.6, 1.8, 2}},
	{80, 0.22, [3]float64{0.67, 0.95, 1.3}, [3]float64{1.7, 1.9, 2.1}},
	{100, 0.25, [3]float64{0.71, 1, 1.4}, [3]float64{1.8, 2, 2.2}},
	{125, 0.28, [3]float64{0.75, 1.05, 1.5}, [3]float64{1.9, 2.1, 2.4}},
	{160, 0.32, [3]float64{0.8, 1.1, 1.6}, [3]float64{2, 2.2, 2.5}},
	{200, 0.42, [3]float64{1, 1.4, 2}, [3]float64{2.5, 2.8, 3.2}},
	{250, 0.56, [3]float64{1.25, 1.8, 2.5}, [3]float64{3.2, 3.6, 4}},
	{320, 0.75, [3]float64{1.6, 2.2, 3.2}, [3]float64{4, 4.5, 5}},
	{400, 1, [3]float64{2, 2.8, 4}, [3]float64{5, 5.6, 6.3}},
	{500, 1.3, [3]float64{2.5, 3.6, 5}, [3]float64{6.3, 7.1, 8}},
	{630, 1.8, [3]float64{3.2, 4.5, 6.3}, [3]float64{8, 9, 10}},
	{800, 2.4, [3]float64{4, 5.6, 8}, [3]float64{10, 11, 12.5}},
	{1000, 3.2, [3]float64{5, 7.1, 10}, [3]float64{12.5, 14, 16}},
	{1250, 4.2, [3]float64{6.3, 9, 12.5}, [3]float64{16, 18, 20}},
	{1600, 5.6, [3]float64{8, 11, 16}, [3]float64{20, 22, 25}},
}

// Creepage returns the creepage distance in mm of basic (and functional) insulation for a working voltage in V
// (effective or direct), a pollution degree from 1 to 3 and a material group I, II, IIIa or IIIb (IEC 60664-1
// table F.5). ok is false beyond 1600 V; the last row is then returned.
func Creepage(workingV float64, pollution int, group string) (mm float64, ok bool) {
	i := sort.Search(len(creepageRows), func(i int) bool { return creepageRows[i].v >= workingV-1e-9 })
	ok = i < len(creepageRows)
	row := creepageRows[min(i, len(creepageRows)-1)]
	g := groupIndex(group)
	switch {
	case pollution <= 1:
		return row.pd1, ok
	case pollution == 2:
		return row.pd2[g], ok
	}
	return row.pd3[g], ok
}

func groupIndex(group string) int {
	switch group {
	case "I":
		return 0
	case "II":
		return 1
	}
	return 2
}

// impulseRows is table F.1: rated impulse voltage in V by the voltage of the system and overvoltage category.
var impulseRows = [...]struct {
	v       float64
	impulse [4]float64
}{
	{50, [4]float64{330, 500, 800, 1500}},
	{100, [4]float64{500, 800, 1500, 2500}},
	{150, [4]float64{800, 1500, 2500, 4000}},
	{300, [4]float64{1500, 2500, 4000, 6000}},
	{600, [4]float64{2500, 4000, 6000, 8000}},
	{1000, [4]float64{4000, 6000, 8000, 12000}},
	{1250, [4]float64{4000, 6000, 8000, 12000}},
	{1500, [4]float64{6000, 8000, 10000, 15000}},
}

// ImpulseVolts returns the rated impulse voltage in V for a system voltage in V and an overvoltage category from
// 1 to 4 (IEC 60664-1 table F.1). ok is false beyond 1500 V; the last row is then returned.
func ImpulseVolts(systemV float64, category int) (v float64, ok bool) {
	i := sort.Search(len(impulseRows), func(i int) bool { return impulseRows[i].v >= systemV-1e-9 })
	ok = i < len(impulseRows)
	return impulseRows[min(i, len(impulseRows)-1)].impulse[min(max(category, 1), 4)-1], ok
}

// preferredImpulse are the preferred rated impulse voltages in V.
var preferredImpulse = [...]float64{330, 500, 800, 1500, 2500, 4000, 6000, 8000, 12000}

// ReinforcedImpulse returns the impulse voltage in V that reinforced insulation is dimensioned for: the next
// preferred value up, or 1.6 times a value that is not a preferred one or has none above it (IEC 60664-1).
func ReinforcedImpulse(v float64) float64 {
	for i, p := range preferredImpulse {
		if p == v && i+1 < len(preferredImpulse) {
			return preferredImpulse[i+1]
		}
	}
	return 1.6 * v
}

// clearanceRow is a voltage in V and the clearance in mm.
type clearanceRow struct{ v, mm float64 }

// impulseClearances is table F.2, case A (inhomogeneous field), pollution degree 1; steadyClearances table F.8,
// case A, for steady-state and recurring peak voltages.
var (
	impulseClearances = [...]clearanceRow{
		{330, 0.01}, {400, 0.02}, {500, 0.04}, {600, 0.06}, {800, 0.1}, {1000, 0.15}, {1200, 0.25}, {1500, 0.5}, {2000, 1},
		{2500, 1.5}, {3000, 2}, {4000, 3}, {5000, 4}, {6000, 5.5}, {8000, 8}, {10000, 11}, {12000, 14}, {15000, 18},
	}
	steadyClearances = [...]clearanceRow{
		{330, 0.01}, {400, 0.02}, {500, 0.04}, {600, 0.06}, {800, 0.13}, {1000, 0.26}, {1200, 0.42}, {1500, 0.76}, {2000, 1.27},
		{2500, 1.8}, {3000, 2.4}, {4000, 3.8}, {5000, 5.7}, {6000, 7.9}, {8000, 11}, {10000, 15.2},
	}
)

// leastClearance is the smallest clearance in mm by pollution degree from 1 on, whatever the voltage (table F.2).
var leastClearance = [...]float64{0, 0.2, 0.8, 1.6}

// ImpulseClearance returns the clearance in mm up to 2000 m for an impulse voltage in V and a pollution degree
// from 1 to 4, in an inhomogeneous field (IEC 60664-1 table F.2, case A). ok is false beyond 15 kV.
func ImpulseClearance(v float64, pollution int) (mm float64, ok bool) {
	return stepUp(impulseClearances[:], v, pollution)
}

// SteadyClearance returns the clearance in mm up to 2000 m for a steady peak voltage in V and a pollution degree
// (IEC 60664-1 table F.8, case A, with the least clearances of table F.2). ok is false beyond 10 kV.
func SteadyClearance(v float64, pollution int) (mm float64, ok bool) {
	return stepUp(steadyClearances[:], v, pollution)
}

func stepUp(rows []clearanceRow, v float64, pollution int) (mm float64, ok bool) {
	i := sort.Search(len(rows), func(i int) bool { return rows[i].v >= v-1e-9 })
	ok = i < len(rows)
	mm = rows[min(i, len(rows)-1)].mm
	return math.Max(mm, leastClearance[min(max(pollution, 1), 4)-1]), ok
}

// altitudeRows is table A.2: height above the sea in m, factor on clearances.
var altitudeRows = [...]struct{ m, factor float64 }{
	{2000, 1}, {3000, 1.14}, {4000, 1.29}, {5000, 1.48}, {6000, 1.7}, {7000, 1.95}, {8000, 2.25}, {9000, 2.62},
	{10000, 3.02}, {15000, 6.67}, {20000, 14.5},
}

// AltitudeFactor returns the factor on clearances at an altitude in m, stepping up between rows (IEC 60664-1
// table A.2); 1 up to 2000 m, the last row beyond 20 000 m.
func AltitudeFactor(altitudeM float64) float64 {
	for _, r := range altitudeRows {
		if altitudeM <= r.m {
			return r.factor
		}
	}
	return altitudeRows[len(altitudeRows)-1].factor
}
