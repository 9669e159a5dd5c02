package electric

import (
	"testing"

	"pgregory.net/rapid"
)

// IEC 60664-1 table F.4 (2007), F.5 (2020): every row for pollution degrees 1 to 3 and all material groups.
func TestCreepageTable(t *testing.T) {
	columns := []struct {
		name  string
		pd    int
		group string
	}{
		{"PD1_all", 1, "I"}, {"PD1_all", 1, "IIIb"},
		{"PD2_MG_I", 2, "I"}, {"PD2_MG_II", 2, "II"}, {"PD2_MG_III", 2, "IIIa"}, {"PD2_MG_III", 2, "IIIb"},
		{"PD3_MG_I", 3, "I"}, {"PD3_MG_II", 3, "II"}, {"PD3_MG_III", 3, "IIIa"}, {"PD3_MG_III", 3, "IIIb"},
	}
	for _, row := range table(t, "iec60664_creepage.csv") {
		v := must(t, row["U_rms_V"])
		for _, c := range columns {
			got, ok := Creepage(v, c.pd, c.group)
			if want := must(t, row[c.name]); got != want || !ok {
				t.Errorf("%v V %s: got %v %v, want %v", v, c.name, got, ok, want)
			}
		}
	}
}

// IEC 60664-1, worked values: basic and reinforced at 400 V, and the step up between rows.
func TestCreepageWorked(t *testing.T) {
	around := Surroundings{Pollution: 2, Group: "IIIa", Category: 2, AltitudeM: 2000}
	if got := RequiredBetween(Functional, 400, 400, around).CreepageMM; got != 4 {
		t.Errorf("400 V PD2 III: %v, want 4.0", got)
	}
	if got := RequiredBetween(Reinforced, 400, 400, around).CreepageMM; got != 8 {
		t.Errorf("400 V PD2 III reinforced: %v, want 8.0", got)
	}
	if got, _ := Creepage(400, 3, "II"); got != 5.6 {
		t.Errorf("400 V PD3 II: %v, want 5.6", got)
	}
	if got, _ := Creepage(355, 2, "IIIa"); got != 4 {
		t.Errorf("355 V PD2 III steps up to the row of 400 V: %v, want 4.0", got)
	}
	if _, ok := Creepage(1601, 2, "I"); ok {
		t.Error("1601 V is beyond the table")
	}
}

// IEC 60664-1 table F.1: every row and overvoltage category.
func TestImpulseTable(t *testing.T) {
	for _, row := range table(t, "iec60664_impulse_F1.csv") {
		v := must(t, row["U_line_to_neutral_max_V"])
		for i, name := range []string{"OVC_I_V", "OVC_II_V", "OVC_III_V", "OVC_IV_V"} {
			if got, ok := ImpulseVolts(v, i+1); got != must(t, row[name]) || !ok {
				t.Errorf("%v V %s: got %v", v, name, got)
			}
		}
	}
}

// IEC 60664-1 table F.2, case A: every row and pollution degree.
func TestImpulseClearanceTable(t *testing.T) {
	for _, row := range table(t, "iec60664_clearance_F2.csv") {
		v := must(t, row["impulse_kV"]) * 1000
		for pd, name := range map[int]string{1: "caseA_PD1_mm", 2: "caseA_PD2_mm", 3: "caseA_PD3_mm", 4: "caseA_PD4_mm"} {
			if got, ok := ImpulseClearance(v, pd); got != must(t, row[name]) || !ok {
				t.Errorf("%v V PD%d: got %v, want %v", v, pd, got, row[name])
			}
		}
	}
}

// IEC 60664-1 table F.8, case A: every row (pollution degree 1, where the least clearance does not cover it).
func TestSteadyClearanceTable(t *testing.T) {
	for _, row := range table(t, "iec60664_steady_F8_caseA.csv") {
		v := must(t, row["peak_kV"]) * 1000
		if got, ok := SteadyClearance(v, 1); got != must(t, row["clearance_mm"]) || !ok {
			t.Errorf("%v V: got %v, want %v", v, got, row["clearance_mm"])
		}
	}
}

// IEC 60664-1 table A.2: every row.
func TestAltitudeTable(t *testing.T) {
	for _, row := range table(t, "iec60664_altitude_A2.csv") {
		if got := AltitudeFactor(must(t, row["altitude_m"])); got != must(t, row["factor"]) {
			t.Errorf("%v m: got %v", row["altitude_m"], got)
		}
	}
	if AltitudeFactor(0) != 1 || AltitudeFactor(2001) != 1.14 {
		t.Error("sea level counts as 2000 m, and 2001 m steps up to 3000 m")
	}
}

// A semiconductor maker's application note on isolation of an on-board charger: 1000 V unearthed, overvoltage
// category II, gives 6 kV; reinforced insulation takes the 8 kV step, 8.0 mm. IEC 60664-1: 6 kV at 3000 m is
// 5.5 mm x 1.14.
func TestClearanceWorked(t *testing.T) {
	v, _ := ImpulseVolts(1000, 2)
	if v != 6000 || ReinforcedImpulse(v) != 8000 {
		t.Fatalf("impulse %v, reinforced %v", v, ReinforcedImpulse(v))
	}
	around := Surroundings{Pollution: 2, Group: "I", Category: 2, AltitudeM: 2000}
	if got := RequiredBetween(Reinforced, 1000, 1000, around).ClearanceMM; got != 8 {
		t.Errorf("reinforced clearance %v, want 8.0", got)
	}
	around.AltitudeM = 3000
	near(t, "6 kV at 3000 m", RequiredBetween(Basic, 1000, 1000, around).ClearanceMM, 6.27, 1e-9)
}

// More voltage, more dirt, more height and a stronger kind of insulation never ask for less.
func TestRequiredIsMonotonic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) Surroundings {
			return Surroundings{
				Pollution: rapid.IntRange(1, 3).Draw(t, name+"pd"), Category: rapid.IntRange(1, 4).Draw(t, name+"ovc"),
				Group:     rapid.SampledFrom([]string{"I", "II", "IIIa", "IIIb"}).Draw(t, name+"group"),
				AltitudeM: rapid.Float64Range(0, 20000).Draw(t, name+"altitude"),
			}
		}
		a := draw("a")
		b := a
		b.Pollution = rapid.IntRange(a.Pollution, 3).Draw(t, "more dirt")
		b.AltitudeM = rapid.Float64Range(a.AltitudeM, 20000).Draw(t, "higher")
		v := rapid.Float64Range(0, 1500).Draw(t, "v")
		w := rapid.Float64Range(v, 1500).Draw(t, "w")
		kinds := []string{Functional, Basic, Reinforced}
		k := rapid.IntRange(0, 2).Draw(t, "kind")
		m := rapid.IntRange(k, 2).Draw(t, "stronger kind")
		p, q := RequiredBetween(kinds[k], v, v, a), RequiredBetween(kinds[m], w, w, b)
		if q.ClearanceMM < p.ClearanceMM || q.CreepageMM < p.CreepageMM {
			t.Fatalf("%+v then %+v", p, q)
		}
		if p.CreepageMM < p.ClearanceMM {
			t.Fatalf("creepage %v below clearance %v", p.CreepageMM, p.ClearanceMM)
		}
	})
}

// Between two rows the higher one counts (the step that E1-04 of the worked examples takes), from just above a row on; above
// the last row the answer says that the table ends.
func TestJustAboveARowTheNextOneCounts(t *testing.T) {
	for _, c := range []struct {
		file, row, value string
		times            float64
		get              func(v float64) (float64, bool)
	}{
		{"iec60664_creepage.csv", "U_rms_V", "PD1_all", 1, func(v float64) (float64, bool) { return Creepage(v, 1, "I") }},
		{"iec60664_impulse_F1.csv", "U_line_to_neutral_max_V", "OVC_II_V", 1, func(v float64) (float64, bool) { return ImpulseVolts(v, 2) }},
		{"iec60664_clearance_F2.csv", "impulse_kV", "caseA_PD1_mm", 1000, func(v float64) (float64, bool) { return ImpulseClearance(v, 1) }},
		{"iec60664_steady_F8_caseA.csv", "peak_kV", "clearance_mm", 1000, func(v float64) (float64, bool) { return SteadyClearance(v, 1) }},
		{"iec60664_altitude_A2.csv", "altitude_m", "factor", 1, func(m float64) (float64, bool) { return AltitudeFactor(m), m < 20000 }},
	} {
		rows := table(t, c.file)
		for i, row := range rows {
			v := must(t, row[c.row]) * c.times
			next := rows[min(i+1, len(rows)-1)]
			got, ok := c.get(v + 0.01)
			if got != must(t, next[c.value]) || ok != (i+1 < len(rows)) {
				t.Errorf("%s: just above %v it is %v %v, the next row has %v", c.file, v, got, ok, next[c.value])
			}
		}
	}
}

// IEC 60664-1: reinforced insulation takes the next of the preferred impulse voltages, or 1.6 times what is none of them or
// has none above it.
func TestReinforcedImpulseSteps(t *testing.T) {
	for v, want := range map[float64]float64{330: 500, 500: 800, 800: 1500, 1500: 2500, 2500: 4000, 4000: 6000, 6000: 8000, 8000: 12000,
		12000: 19200, 1000: 1600, 10000: 16000} {
		near(t, "reinforced", ReinforcedImpulse(v), want, 1e-12)
	}
}

// IEC 60664-1: reinforced clearance to 1.6 times the steady voltage. Of 900 V that is 1440 V, the row of 1500 V in table F.8:
// 0.76 mm, more than the impulse of a system of 50 V in category I asks for.
func TestReinforcedSteadyClearance(t *testing.T) {
	got := RequiredBetween(Reinforced, 900, 50, Surroundings{Pollution: 1, Group: "I", Category: 1, AltitudeM: 2000})
	near(t, "clearance", got.ClearanceMM, 0.76, 1e-12)
}
