package search

import (
	"math"
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// compared are the arrangements of a yard with so many modules in each of three boxes.
func compared(t *testing.T, y *yard, counts ...[3]int) []*check.Evaluation {
	t.Helper()
	var es []*check.Evaluation
	for _, c := range counts {
		a := *y.a
		a.Boxes, a.Series, a.Parallel = nil, 0, 1
		for i, b := range y.a.Boxes {
			box := *b
			box.Modules = y.packings.Of(b, Stance{Module: y.modules[0]}).Placements[:c[i]]
			a.Boxes = append(a.Boxes, &box)
		}
		es = append(es, check.Evaluate(y.plan, &a, y.lib, nil))
	}
	return es
}

func TestCompareReadings(t *testing.T) {
	y := three(t)
	es := compared(t, y, [3]int{2, 2, 0}, [3]int{2, 3, 0}, [3]int{2, 4, 2})
	tab := Compare(es)
	energy := tab.Row("energy_kwh", "")
	if energy == nil || !energy.Differs || energy.Cells[0].Best || energy.Cells[1].Best || !energy.Cells[2].Best {
		t.Fatalf("energy %+v", energy)
	}
	if d := energy.Cells[2].Diff; math.Abs(d-4*6*3.6*50/1000) > 1e-9 {
		t.Errorf("four modules more hold %.3f kWh more", d)
	}
	mass := tab.Row("mass_kg", "")
	if !mass.Cells[0].Best || mass.Cells[1].Best || mass.Cells[1].Diff < 14 {
		t.Errorf("mass %+v", mass.Cells)
	}
	for i := range tab.Rows {
		r := &tab.Rows[i]
		best := 0
		for _, c := range r.Cells {
			if c.Best {
				best++
			}
		}
		if best > 0 && (r.Better == NoBetter || best == len(r.Cells)) {
			t.Errorf("%s marks %d as best", r.Key, best)
		}
		for k, e := range es { // every cell is the evaluation's own reading
			if v, ok := e.Reading(r.Key); r.Of == "" && (ok != r.Cells[k].Has || ok && v.Value != r.Cells[k].Value) {
				t.Errorf("%s of %d: %v, the evaluation says %v", r.Key, k, r.Cells[k], v.Value)
			}
		}
	}
}

// What is called better one way is a reading of the demonstration plan, every range and consumption among it.
func TestBetterReadingsAreReadings(t *testing.T) {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	tab := Compare([]*check.Evaluation{check.Evaluate(p, p.Arrangements[0], p.LibraryOver(vehicles.Catalogue()), nil)})
	for key := range betterWay {
		if !slices.ContainsFunc(tab.Rows, func(r Row) bool { return r.Key == key || strings.HasPrefix(r.Key, key+".") }) {
			t.Errorf("no reading is called %s", key)
		}
	}
	for key, want := range map[string]Better{"range_km.wltc": More, "range_km.at_80": More, "consumption_wh_km.wltc": Less, "mass_kg": Less, "voltage_v.max": NoBetter, "cg_mm.x": NoBetter} {
		if r := tab.Row(key, ""); r == nil || r.Better != want {
			t.Errorf("%s: %+v, not %v", key, r, want)
		}
	}
}

// Arrangements that are the same differ in nothing and none is best.
func TestCompareSame(t *testing.T) {
	y := three(t)
	tab := Compare(compared(t, y, [3]int{2, 2, 0}, [3]int{2, 2, 0}))
	for _, r := range tab.Rows {
		if r.Differs || r.Cells[0].Best || r.Cells[1].Best || r.Cells[1].Diff != 0 {
			t.Errorf("%s %+v", r.Key, r)
		}
	}
	if len(tab.Findings) > 0 {
		t.Errorf("findings that change: %+v", tab.Findings)
	}
}

func TestCompareFindings(t *testing.T) {
	y := three(t)
	d := *y.lib.Donor("yard-cart")
	es := compared(t, y, [3]int{2, 2, 0}, [3]int{4, 6, 4})
	d.Ratings.RearAxleKg = (es[0].Mass.Of("seats").Now.Rear.Value + es[1].Mass.Of("seats").Now.Rear.Value) / 2
	y.lib = y.lib.With(vehicles.Records{Donors: []*vehicles.Donor{&d}})
	es = compared(t, y, [3]int{2, 2, 0}, [3]int{4, 6, 4}, [3]int{2, 2, 0})
	row := func(es ...*check.Evaluation) *FindingRow {
		tab := Compare(es)
		for i, f := range tab.Findings {
			if f.Rule == "mass.axle" && f.Subject == "rear axle" {
				return &tab.Findings[i]
			}
		}
		return nil
	}
	if f := row(es...); f == nil || f.Change != "changes in 2" || f.Severities[1] != check.Fails || !strings.Contains(f.Texts[1], "rear axle") {
		t.Errorf("%+v", f)
	}
	if f := row(es[1], es[0]); f == nil || f.Change != "changes in 2" {
		t.Errorf("%+v", f)
	}
	if f := row(es[0], es[2]); f != nil {
		t.Errorf("%+v", f)
	}
}

func TestChangeOfFinding(t *testing.T) {
	for _, c := range []struct {
		severities []check.Severity
		want       string
	}{
		{[]check.Severity{check.Passes, check.Fails}, "appears in 2"},
		{[]check.Severity{"", check.Warns, check.Notes}, "appears in 2"},
		{[]check.Severity{check.Warns, "", check.Passes}, "vanishes in 2, 3"},
		{[]check.Severity{check.Warns, check.Fails, check.Notes}, "vanishes in 3; changes in 2"},
		{[]check.Severity{check.Notes, check.Passes, ""}, ""},
		{[]check.Severity{check.Fails, check.Fails}, ""},
	} {
		if got := (&FindingRow{Severities: c.severities}).change(); got != c.want {
			t.Errorf("%v: %q, want %q", c.severities, got, c.want)
		}
	}
}

// One more module changes axle loads as a second evaluation with it in place says, and by the law of the lever.
func TestSensitivity(t *testing.T) {
	y := three(t)
	e := compared(t, y, [3]int{1, 2, 2})[0]
	var s *Sensitivity
	for _, v := range Compare([]*check.Evaluation{e}).Sensitivities {
		if v.Box == "box-3" {
			s = &v
		}
	}
	b := e.Scene.Box("box-3")
	x := (b.Modules[0].CG.X + b.Modules[1].CG.X) / 2
	if want := 14 * x / 2800; s == nil || math.Abs(s.RearKg-want) > 1e-9 || math.Abs(s.FrontKg-(14-want)) > 1e-9 {
		t.Fatalf("%+v, %.3f kg by the law of the lever", s, want)
	}
	more := *e.Arrangement
	more.Parts = append(more.Parts, vehicles.Part{ID: "more", Name: "one more", MassKg: 14, Known: "weighed", At: vehicles.XYZ{x, (b.Modules[0].CG.Y + b.Modules[1].CG.Y) / 2, (b.Modules[0].CG.Z + b.Modules[1].CG.Z) / 2}})
	f := check.Evaluate(y.plan, &more, y.lib, nil)
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"front share", s.FrontPoints, f.Value("front_share_pct") - e.Value("front_share_pct")},
		{"side", s.SidePoints, f.Value("side_pct") - e.Value("side_pct")},
		{"height", s.HeightMM, f.Value("cg_mm.z") - e.Value("cg_mm.z")},
		{"rear axle", s.RearKg, f.Value("axles_kg.rear") - e.Value("axles_kg.rear")},
	} {
		if math.Abs(c.got-c.want) > 1e-6 {
			t.Errorf("%s: %.6f, %.6f with it in place", c.name, c.got, c.want)
		}
	}
}

func TestSensitivityInWords(t *testing.T) {
	for want, s := range map[string]Sensitivity{
		"One more m in b puts 14 kg on the rear axle and takes 3 kg off the front axle; the centre of gravity goes 1 mm down.": {FrontKg: -3, RearKg: 14, HeightMM: -1},
		"One more m in b puts 11 kg on the front axle and 10 kg on the rear axle; the centre of gravity keeps its height.":     {FrontKg: 11, RearKg: 10, HeightMM: 0.3},
		"One more m in b puts 9 kg on the front axle and takes 2 kg off the rear axle; the centre of gravity goes 4 mm up.":    {FrontKg: 9, RearKg: -2, HeightMM: 4},
		"One more m in b puts 13 kg on the front axle and 1 kg on the rear axle; the centre of gravity goes 4 mm up.":          {FrontKg: 13.4, RearKg: 0.6, HeightMM: 4},
	} {
		s.Module, s.Box = "m", "b"
		if got := s.words(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// An arrangement without a donor's wheel loads still compares.
func TestCompareWithoutDonor(t *testing.T) {
	p := &layout.Plan{Format: 1, Name: "p", Donor: "nobody", Arrangements: []*layout.Arrangement{{ID: "a"}, {ID: "b"}}}
	lib := vehicles.Catalogue()
	tab := Compare([]*check.Evaluation{check.Evaluate(p, p.Arrangements[0], lib, nil), check.Evaluate(p, p.Arrangements[1], lib, nil)})
	if len(tab.Columns) != 2 || len(tab.Sensitivities) != 0 {
		t.Errorf("%+v", tab)
	}
}
