package electric

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stowbay/vehicles"
)

// IEC 60364-5-54 as restated by BS 7671: constants k for copper; the last column is the formula of IEC 60949.
func TestAdiabaticK(t *testing.T) {
	names := map[string]string{
		"thermoplastic PVC 70 (<=300 mm2)": "PVC70", "XLPE/EPR 90": "XLPE90", "rubber 60": "rubber60", "rubber 85": "rubber85", "silicone rubber 180": "silicone",
	}
	found := 0
	for _, row := range table(t, "adiabatic_k.csv") {
		published := must(t, row["k_Cu"])
		k := CopperK(must(t, row["theta_i_C"]), must(t, row["theta_f_C"]))
		if !(math.Abs(k-published) <= 0.51) {
			t.Errorf("%s: formula gives %v, published %v", row["insulation"], k, published)
		}
		if name, ok := names[row["insulation"]]; ok {
			found++
			if want := (insulator{must(t, row["theta_i_C"]), must(t, row["theta_f_C"]), published}); insulatorOf(name) != want || AdiabaticK(name) != published {
				t.Errorf("%s: %+v, want %+v", name, insulatorOf(name), want)
			}
		}
	}
	if found != len(names) {
		t.Errorf("%d of %d insulations found in the table", found, len(names))
	}
}

// Worked examples of cable-sizing courses: 10 kA for 0.1 s at k 115, 12 kA for 0.02 s at k 143.
func TestAdiabaticWorked(t *testing.T) {
	for _, c := range []struct{ amps, s, k, mm2, next float64 }{{10e3, 0.1, 115, 27.5, 35}, {12e3, 0.02, 143, 11.87, 16}} {
		got := AdiabaticMM2(c.amps, c.s, c.k)
		near(t, "section", got, c.mm2, 1e-3)
		if NextSection(got) != c.next {
			t.Errorf("next section %v, want %v", NextSection(got), c.next)
		}
	}
}

// Section and let-through integral are two faces of one formula.
func TestAdiabaticRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.Float64Range(10, 50e3).Draw(t, "A")
		s := rapid.Float64Range(0.001, 5).Draw(t, "s")
		k := rapid.Float64Range(50, 150).Draw(t, "k")
		if got := AdiabaticA2S(AdiabaticMM2(i, s, k), k); math.Abs(got-i*i*s) > 1e-9*i*i*s {
			t.Fatalf("%v, want %v", got, i*i*s)
		}
	})
}

// DIN 43671: bare bars with direct current in 35 C air, sections and masses.
func TestBusbarTable(t *testing.T) {
	seen := 0
	for _, row := range table(t, "busbar_din43671.csv") {
		w, th := must(t, row["w_mm"]), must(t, row["t_mm"])
		for _, b := range busbars {
			if b.WidthMM != w || b.ThickMM != th {
				continue
			}
			seen++
			if b.BareA != must(t, row["DC_bare_A"]) || b.SectionMM2 != must(t, row["area_mm2"]) {
				t.Errorf("%s: %+v, want %v", b.Name(), b, row)
			}
			near(t, "current in 35 C air", b.Amps(35), must(t, row["DC_bare_A"]), 1e-12)
			near(t, "mass a metre", CopperKg(1000, b.SectionMM2), must(t, row["kg_per_m"]), 0.003)
		}
	}
	if seen != len(busbars) {
		t.Errorf("%d of %d bars are in the table", seen, len(busbars))
	}
}

func TestBusbarForAmps(t *testing.T) {
	if b, ok := BusbarForAmps(300, 35, 0); !ok || b.Name() != "30x5" {
		t.Errorf("300 A: %v %v", b.Name(), ok)
	}
	if b, ok := BusbarForAmps(300, 35, 160); !ok || b.Name() != "20x10" {
		t.Errorf("300 A and 160 mm2: %v %v", b.Name(), ok)
	}
	if _, ok := BusbarForAmps(729, 35, 0); ok {
		t.Error("no bar of the table carries 729 A")
	}
	if b, _ := BusbarForAmps(10, 65, 0); b.Amps(65) != 0 {
		t.Error("in air as hot as the bar it carries nothing")
	}
}

// IEC 60028: 20x5 bar (99.1 mm2), 1 m at 20 C, 0.1740 mohm; about 28 % more at 90 C.
func TestCopperOhm(t *testing.T) {
	near(t, "bar", CopperOhm(1000, 99.1, 20)*1000, 0.1740, 5e-4)
	near(t, "90 C over 20 C", CopperOhm(1, 1, 90)/CopperOhm(1, 1, 20), 1.2751, 1e-4)
}

// IEC 60228 resistances and the currents of IEC 60364-5-52 in 30 C air.
func TestCableTable(t *testing.T) {
	for _, row := range table(t, "cable_ampacity.csv") {
		s := must(t, row["mm2"])
		near(t, "resistance", CableOhm(1000, s)*1000, must(t, row["R20_mohm_per_m"]), 1e-12)
		near(t, "current, 70 C insulation", CableAmps(s, 30, "PVC70"), must(t, row["bldg_70C_insul_A"]), 1e-12)
		near(t, "current, 90 C insulation", CableAmps(s, 30, "XLPE90"), must(t, row["bldg_90C_insul_A"]), 1e-12)
	}
}

// A cable in hotter air carries less, a thicker one more.
func TestCableAmpsIsMonotonic(t *testing.T) {
	names := []string{"PVC70", "XLPE90", "rubber60", "rubber85", "silicone"}
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SampledFrom(names).Draw(t, "insulation")
		s := rapid.Float64Range(1.5, 300).Draw(t, "s")
		air := rapid.Float64Range(-20, 100).Draw(t, "air")
		a := CableAmps(s, air, in)
		if CableAmps(s+1, air, in) < a || CableAmps(s, air+1, in) > a || a < 0 {
			t.Fatalf("%v mm2 %v C %s: %v", s, air, in, a)
		}
		if need := CableForAmps(a, air, in); a > 0 && need > NextSection(s)+1e-9 {
			t.Fatalf("%v A asks for %v mm2 although %v carry it", a, need, s)
		}
	})
}

// ISO 3, series R10, and the fuse ratings in use that follow it.
func TestR10(t *testing.T) {
	want := []float64{1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8}
	for decade := 0.1; decade < 2000; decade *= 10 {
		for _, w := range want {
			v := round3(w * decade)
			if got := NextR10(v); got != v {
				t.Errorf("NextR10(%v) = %v", v, got)
			}
			if got := LastR10(v); got != v {
				t.Errorf("LastR10(%v) = %v", v, got)
			}
		}
	}
	for _, s := range strings.Fields("16 20 25 40 50 63 80 100 125 160 200") {
		if v := must(t, s); NextR10(v) != v {
			t.Errorf("%v A is a preferred rating", v)
		}
	}
	if NextR10(0) != 0 || NextR10(8.01) != 10 || LastR10(9.99) != 8 {
		t.Error("ends of the series")
	}
}

func TestR10Brackets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.001, 1e6).Draw(t, "v")
		hi, lo := NextR10(v), LastR10(v)
		if hi < v*(1-1e-9) || lo > v*(1+1e-9) || hi > 1.3*v || lo < v/1.3 {
			t.Fatalf("%v lies between %v and %v?", v, lo, hi)
		}
	})
}

// The sections of IEC 60228 (from memory), each the next one for itself and for anything down to the one before it.
func TestSectionsOfTheStandard(t *testing.T) {
	before := 0.0
	for _, s := range strings.Fields("1.5 2.5 4 6 10 16 25 35 50 70 95 120 150 185 240 300 400") {
		v := must(t, s)
		if NextSection(v) != v || NextSection(before+0.01) != v {
			t.Errorf("%v follows itself as %v, %v as %v", v, NextSection(v), before, NextSection(before+0.01))
		}
		before = v
	}
	if NextSection(401) != 401 {
		t.Error("beyond the largest the section itself is needed")
	}
}

// What cannot be: a cable in air as hot as it may get carries nothing, no cable carries a million amperes, copper without a
// section has no resistance that could be told.
func TestConductorsThatDoNotServe(t *testing.T) {
	if got := CableAmps(35, 105, "silicone"); got != 0 {
		t.Errorf("a lug at 105 C carries %v A", got)
	}
	if got := CableForAmps(1e6, 30, "XLPE90"); got != 0 {
		t.Errorf("%v mm2 for a million amperes", got)
	}
	if got := CopperOhm(1000, 0, 20); got != 0 {
		t.Errorf("no section, %v ohm", got)
	}
}

// A section that the plan states carries what the largest bar of DIN 43671 carries that is no larger; below the smallest bar
// it falls with the section to the power 0.6, as for cables.
func TestStatedBarSection(t *testing.T) {
	first, second := busbars[0], busbars[1]
	for _, c := range []struct{ mm2, want float64 }{
		{first.SectionMM2, first.Amps(35)}, {second.SectionMM2, max(first.Amps(35), second.Amps(35))},
		{first.SectionMM2 * 1.01, first.Amps(35)}, {first.SectionMM2 / 2, first.Amps(35) * math.Pow(0.5, 0.6)},
	} {
		near(t, "current", barAmps(c.mm2, 35), c.want, 1e-12)
	}
	var c Conductor
	if c.choose(0.75, 16); c.SectionMM2 != 0.75 || !c.Set {
		t.Errorf("stated 0.75 mm2: %+v", c)
	}
	if c.choose(0, 16); c.SectionMM2 != 16 || c.Set {
		t.Errorf("nothing stated: %+v", c)
	}
}

// By hand: I over all cables with the share of 1 % of the pack's voltage asks for rho L I / (1 % of U), here more than any
// section of the table, so that it is not rounded up. Without cables nothing drops and no length is found.
func TestSectionForTheDrop(t *testing.T) {
	p := planOf(boxOf("a", vehicles.XYZ{0, 0, 300}, 1, 1), boxOf("b", vehicles.XYZ{60000, 0, 300}, 1, 1))
	p.Settings.Electric.ContinuousA = 900
	r := Evaluate(resolve(p), nil)
	l := &r.Strings[0].Links[0]
	want := l.LengthMM / 1000 / 58 * 900 / (0.01 * 2 * 44.4)
	if want < 400 || !l.Between() {
		t.Fatalf("%v mm2", want)
	}
	close9(t, "section", r.Sections.Cable.DropMM2, want)
	close9(t, "drop", r.Sections.Cable.DropV, 900*l.Ohm)
	if one := Evaluate(resolve(planOf(boxOf("a", vehicles.XYZ{}, 1, 2))), nil); one.longestCable() != 0 || one.Sections.Cable.DropMM2 != 1.5 {
		t.Errorf("one box: %v mm of cable, %v mm2", one.longestCable(), one.Sections.Cable.DropMM2)
	}
}
