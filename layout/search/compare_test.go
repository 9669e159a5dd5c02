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

// What differs by no more than 1e-9 of a figure, or 1e-9 where the figure is less than one, is rounding.
func TestAlikeWithinRounding(t *testing.T) {
	for _, c := range []struct {
		diff, of float64
		want     bool
	}{
		{0, 0, true}, {0.95e-9, 0, true}, {-0.95e-9, 0.5, true}, {1.05e-9, 0, false}, {-1.05e-9, 0.5, false}, {1.05e-9, -0.9, false}, {1.9e-9, 2, true}, {1.9e-9, -2, true},
		{2.1e-9, 2, false}, {-2.1e-9, -2, false}, {0.4e-6, 500, true}, {0.6e-6, 500, false},
	} {
		if got := alike(c.diff, c.of); got != c.want {
			t.Errorf("%g of %g: %v", c.diff, c.of, got)
		}
	}
}

// By hand: readings side by side. More is better, or less, or what is nearer to nought, or neither; a reading that is missing in one
// arrangement makes them differ, and where the first has none there is nothing to take off.
func TestReadingsAreJudgedByHand(t *testing.T) {
	has := func(vs ...float64) (out []Cell) {
		for _, v := range vs {
			out = append(out, Cell{Has: !math.IsNaN(v), Value: v})
		}
		return out
	}
	none := math.NaN()
	for name, c := range map[string]struct {
		better  Better
		cells   []Cell
		diffs   []float64
		best    string
		differs bool
	}{
		"more":               {More, has(10, 12, 12, 9), []float64{0, 2, 2, -1}, "0110", true},
		"less":               {Less, has(10, 12, 9), []float64{0, 2, -1}, "001", true},
		"near nought":        {NearZero, has(-3, 2, 5, -2), []float64{0, 5, 8, 1}, "0101", true},
		"neither":            {NoBetter, has(10, 12), []float64{0, 2}, "00", true},
		"the same":           {More, has(10, 10), []float64{0, 0}, "00", false},
		"but for rounding":   {More, has(10, 10+1e-9), []float64{0, 1e-9}, "00", false},
		"a little apart":     {More, has(10, 10+3e-8), []float64{0, 3e-8}, "01", true},
		"one missing":        {Less, has(10, none, 8), []float64{0, 0, -2}, "001", true},
		"the first missing":  {Less, has(none, 9, 8), []float64{0, 0, 0}, "001", true},
		"missing, else same": {Less, has(7, none, 7), []float64{0, 0, 0}, "000", true},
		"one alone":          {Less, has(7), []float64{0}, "0", false},
	} {
		r := Row{Better: c.better, Cells: c.cells}
		r.judge()
		best := ""
		for i, cell := range r.Cells {
			best += map[bool]string{true: "1", false: "0"}[cell.Best]
			if math.Abs(cell.Diff-c.diffs[i]) > 1e-15*max(1, 1e7*math.Abs(c.diffs[i])) {
				t.Errorf("%s: arrangement %d differs by %g", name, i+1, cell.Diff)
			}
		}
		if best != c.best || r.Differs != c.differs {
			t.Errorf("%s: best %s, differs %v", name, best, r.Differs)
		}
	}
}

// The gravest that an arrangement has to say of a rule and a subject counts, in the order of gravity; columns and sensitivities keep the order of
// the arrangements.
func TestFindingsSideBySide(t *testing.T) {
	e := func(fs ...check.Finding) *check.Evaluation {
		return &check.Evaluation{Findings: fs}
	}
	of := func(rule string, s check.Severity, text string) check.Finding {
		return check.Finding{Rule: rule, Subject: "x", Severity: s, Text: text}
	}
	var tab Table
	tab.addFindings([]*check.Evaluation{
		e(of("a", check.Passes, "holds"), of("b", check.Warns, "near"), of("c", check.Fails, "one"), of("d", check.Notes, "note")),
		e(of("a", check.Warns, "near"), of("a", check.Fails, "broken"), of("a", check.Fails, "broken too"), of("b", check.Passes, "holds"), of("c", check.Fails, "two"), of("d", check.Passes, "holds")),
		e(of("b", check.Fails, "broken")),
	})
	var got []string
	for _, f := range tab.Findings {
		got = append(got, f.Rule+" "+f.Subject+": "+f.Change+" "+strings.Join(f.Texts, "/"))
	}
	want := []string{"c x: vanishes in 3 one/two/", "a x: appears in 2 holds/broken/", "b x: vanishes in 2; changes in 3 near/holds/broken"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, not %q", got, want)
	}
}

// One more module in an empty box goes into its middle, and is of the type of the first box that holds any; where nothing stands there is no
// type. By hand: the middle of the box below lies 160, 160 and 60 mm from its corner.
func TestSensitivityOfAnEmptyBox(t *testing.T) {
	y := newYard(t, []site{{-250, -300, 500, 1, 2, 1, false}, {1200, -450, 250, 1, 2, 1, false}, {2700, -300, 400, 1, 1, 1, false}}, block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat))
	for n, counts := range map[int][3]int{1: {0, 1, 0}, 2: {0, 0, 1}} {
		e := compared(t, y, counts)[0]
		s := Compare([]*check.Evaluation{e}).Sensitivities
		if len(s) != 3 || !s[0].PlacesMiddle || s[n].PlacesMiddle || !s[3-n].PlacesMiddle || s[0].Box != "box-1" || s[0].Module != "small" || s[0].Arrangement != 0 || math.Abs(s[0].EnergyKWh-1.08) > 1e-9 {
			t.Fatalf("%+v", s)
		}
		x, z := -250+160.0, 500+60.0
		kg, high := e.Value("mass_kg"), e.Value("cg_mm.z")
		if math.Abs(s[0].RearKg-14*x/2800) > 1e-6 || math.Abs(s[0].FrontKg-(14-14*x/2800)) > 1e-6 || math.Abs(s[0].HeightMM-14*(z-high)/(kg+14)) > 1e-6 {
			t.Errorf("%+v", s[0])
		}
	}
	if s := sensitivities(4, compared(t, y, [3]int{0, 0, 0})[0]); len(s) != 0 {
		t.Errorf("no module anywhere: %+v", s)
	}
	e := compared(t, y, [3]int{1, 0, 0})[0]
	for len(e.Mass.Cases) > 1 { // the kerb is enough
		e.Mass.Cases = e.Mass.Cases[:len(e.Mass.Cases)-1]
		if s := sensitivities(4, e); len(s) != 3 || s[2].Arrangement != 4 {
			t.Errorf("%+v", s)
		}
	}
}

// Heights change in whole millimetres; less than half of one keeps the height.
func TestHeightInWords(t *testing.T) {
	for mm, want := range map[float64]string{0: "keeps its height", 0.49: "keeps its height", -0.49: "keeps its height", 0.52: "goes 1 mm up", -0.52: "goes 1 mm down", 1.2: "goes 1 mm up", -3.6: "goes 4 mm down"} {
		if got := heightWords(mm); got != want {
			t.Errorf("%g mm: %s", mm, got)
		}
	}
}
