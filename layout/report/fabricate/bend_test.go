package fabricate

import (
	"math"
	"testing"
)

// The worked example of a bent part in the metal trades' book of tables (Tabellenbuch Metall, Europa-Lehrmittel,
// "Zuschnittermittlung von 90°-Biegeteilen", after DIN 6935; from memory, not checked against the text): outside
// lengths 25, 20 and 15 mm, sheet 2 mm, inner radius 4 mm, two bends: v = 4.5 mm each, L = 51 mm.
func TestWorkedExampleOfABentPart(t *testing.T) {
	b := Bend{Deg: 90, RadiusMM: 4, ThicknessMM: 2, K: KFactor(4, 2)}
	if v := b.Deduction(); math.Abs(v-4.5) > 0.05 {
		t.Errorf("deduction %.3f mm, want 4.5", v)
	}
	if l := FlatLength([]float64{25, 20, 15}, b); math.Abs(l-51) > 0.1 {
		t.Errorf("flat length %.3f mm, want 51", l)
	}
}

// Compensation values v for 90 degrees of DIN 6935, supplement 2, as the same book of tables prints them (from
// memory, not checked against the text), to the tenth printed. The entry for r 1, s 0.8 is left out: remembered as 1.7,
// it is 1.59 by the standard's own formula, so that memory or print is in doubt.
func TestDeductionsOfTheTable(t *testing.T) {
	for _, c := range []struct{ r, s, v float64 }{
		{1, 0.4, 1.0}, {1, 0.6, 1.3}, {1, 1, 1.9}, {1.6, 1, 2.1}, {1.6, 1.5, 2.9}, {2.5, 1, 2.4}, {2.5, 1.5, 3.2}, {2.5, 2, 4.0},
		{4, 1, 3.0}, {4, 1.5, 3.7}, {4, 2, 4.5}, {4, 3, 6.0}, {6, 1.5, 4.5}, {6, 2, 5.2}, {6, 3, 6.7},
	} {
		b := Bend{Deg: 90, RadiusMM: c.r, ThicknessMM: c.s, K: KFactor(c.r, c.s)}
		if v := b.Deduction(); math.Abs(v-c.v) > 0.06 {
			t.Errorf("r %g, s %g: %.3f mm, want %g", c.r, c.s, v, c.v)
		}
	}
}

// With the neutral line in the middle, the flat strip has the volume of the bent one: a ring's sector by Pappus.
func TestNeutralLineInTheMiddleKeepsTheVolume(t *testing.T) {
	b := Bend{Deg: 73, RadiusMM: 3, ThicknessMM: 2, K: 0.5}
	sector := 73.0 / 360 * math.Pi * (25 - 9)
	if got := b.Allowance() * 2; math.Abs(got-sector) > 1e-9 {
		t.Errorf("%.6f mm² of section, want %.6f", got, sector)
	}
}
