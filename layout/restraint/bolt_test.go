package restraint

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// table reads a table of published values.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, v := range row {
			m[rows[0][i]] = v
		}
		out = append(out, m)
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > within {
		t.Errorf("%s: %g, want %g within %g", what, got, want, within)
	}
}

// EN 1993-1-8 table 3.4, as restated in a steel maker's design tables: shear of one bolt in one plane.
func TestShearOfBoltsAsInEN1993(t *testing.T) {
	seen := 0
	for _, r := range table(t, "ec3_bolt_shear.csv") {
		th := ThreadOf(r["size"])
		if th.Name != r["size"] {
			continue // larger than any foot takes
		}
		seen++
		near(t, r["size"]+" "+r["class"], ShearN(th, ClassOf(r["class"]))/1000, number(t, r["published_FvRd_single_kN"]), 0.1)
		near(t, r["size"]+" area", th.AreaMM2, number(t, r["As_mm2"]), 0)
	}
	if seen != 5 {
		t.Errorf("%d rows compared, want 5", seen)
	}
}

// ISO 898-1: nominal tensile strength and stress under proof load.
func TestClassesAsInISO898(t *testing.T) {
	seen := 0
	for _, r := range table(t, "bolt_classes_iso898.csv") {
		c := ClassOf(r["class"])
		if c.Name != r["class"] {
			continue
		}
		seen++
		th := ThreadOf("M12")
		if r["note"] == "d>16 mm" {
			th = ThreadOf("M20")
		}
		near(t, r["class"]+" strength", c.StrengthMPa, number(t, r["Rm_nom_MPa"]), 0)
		near(t, r["class"]+" proof", c.ProofMPa(th), number(t, r["proof_MPa"]), 0)
	}
	if seen != 4 {
		t.Errorf("%d classes compared, want 4", seen)
	}
}

// Published torque table for metric bolts at 75 % of proof load, T = K d F. M8 10.9 dry is misprinted and M20 8.8
// uses another proof stress; both are left out.
func TestTorqueAsInTheTable(t *testing.T) {
	seen := 0
	for _, r := range table(t, "bolt_torque_TKdF.csv") {
		th, c := ThreadOf(r["size"]), ClassOf(r["class"])
		if th.Name != r["size"] || th.Name == "M20" && c.Name == "8.8" || th.Name == "M8" && c.Name == "10.9" && r["condition"] == "dry" {
			continue
		}
		seen++
		want := number(t, r["T_published_Nm"])
		near(t, r["size"]+" "+r["class"]+" "+r["condition"], TorqueNm(th, PreloadN(th, c), number(t, r["K"])), want, 0.015*want)
	}
	if seen < 30 {
		t.Errorf("only %d rows compared", seen)
	}
}

// Worked examples: proof load of M12 8.8 (ISO 898-1); M8 8.8 in single shear and the box of 60 kg at 20 g; the
// racing rule's quarter of the mass at 40 g.
func TestWorkedBolts(t *testing.T) {
	m12, m8, c := ThreadOf("M12"), ThreadOf("M8"), ClassOf("8.8")
	near(t, "proof load", c.ProofMPa(m12)*m12.AreaMM2, 48894, 1)
	near(t, "tensile load", c.StrengthMPa*m12.AreaMM2, 67440, 1)
	near(t, "M8 shear", ShearN(m8, c), 14054, 1)
	near(t, "60 kg at 20 g, a quarter", 60*20*Gravity/4, 11772.0/4, 5)
	near(t, "a quarter of 60 kg at 40 g", 60*40*Gravity/4, 5886, 3)
}

// EN 1993-1-8 table 3.4: a bolt in tension alone is used by Ft/FtRd, in shear alone by Fv/FvRd; both together add.
func TestCombinedShearAndTension(t *testing.T) {
	th, c := ThreadOf("M10"), ClassOf("8.8")
	fv, ft := ShearN(th, c), TensionN(th, c)
	near(t, "tension alone", Combined(0, ft, th, c), 1, 1e-12)
	near(t, "shear alone", Combined(fv, 0, th, c), 1, 1e-12)
	near(t, "both", Combined(fv/2, ft/2, th, c), 0.5+0.5/1.4, 1e-12)
	near(t, "tension resistance of M10 8.8", ft, 0.9*800*58/1.25, 1e-9)
}

// By hand, EN 1993-1-8 table 3.4: M10 8.8 in 5 mm of S235, 20 mm from the end, 25 mm from the side, hole 11 mm.
// alpha b = 20/33, k1 = 2.5: 2.5 x 0.6061 x 360 x 10 x 5 / 1.25 = 21 818 N.
// Torn out: 2 (20 - 5.5) 5 x 360 / 1.7321 / 1.25 = 24 110 N.
func TestBearingAndTearOutByHand(t *testing.T) {
	s := Sheet{ThickMM: 5, StrengthMPa: 360, EndMM: 20, SideMM: 25}
	near(t, "bearing", BearingN(s, ThreadOf("M10"), ClassOf("8.8")), 21818, 1)
	near(t, "tear-out", TearOutN(s, ThreadOf("M10")), 24110, 1)
	near(t, "no metal at the end", TearOutN(Sheet{ThickMM: 5, StrengthMPa: 360, EndMM: 2, SideMM: 25}, ThreadOf("M10")), 0, 0)
}

// EN 1993-1-8 4.5.3.3: S235 fillet weld 207.8 MPa. EN 1993-1-1 6.2.5: 50 x 5 mm S235 bends at 73.4 N m.
func TestWeldAndPlate(t *testing.T) {
	near(t, "weld", WeldMPa(360), 207.8, 0.1)
	near(t, "plate", BendingNmm(50, 5, 360), 73437.5, 0.1)
}
