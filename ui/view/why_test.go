package view

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/ui/paint"
	"stowbay/vehicles"
)

func demoModel(t *testing.T) *Model {
	t.Helper()
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	return NewModel(layout.NewDocument(p, vehicles.Catalogue()))
}

// Every reading of the demonstration opens: a formula and a source for each, and a page that can be set.
func TestEveryReadingOpens(t *testing.T) {
	m := demoModel(t)
	fonts := paint.NewFonts()
	for _, r := range m.Eval().Readings {
		x, ok := m.Explain(SplitReading(ReadingKey(r.Key, r.Of)))
		if !ok || x.Reading.Label != r.Label {
			t.Fatalf("%s of %q does not open", r.Key, r.Of)
		}
		if x.Why.Formula == "" || x.Why.Source == "" {
			t.Errorf("%s of %q has no formula or no source", r.Key, r.Of)
		}
		if p := x.Page(600, fonts); p.Height < 80 || len(p.Items) == 0 {
			t.Errorf("the page of %s is empty", r.Key)
		}
		if !strings.Contains(x.Text(), x.Why.Formula) {
			t.Errorf("the text of %s lacks the formula", r.Key)
		}
	}
}

// The donor's kerb mass is what the scales say, its axle loads are sums of two scales (statics), and the change is
// what the program's own reading says.
func TestExplainAgainstTheDonor(t *testing.T) {
	m := demoModel(t)
	s := m.Scene().Donor.Scales
	for key, want := range map[string]float64{
		"mass_kg":        s.FrontLeftKg + s.FrontRightKg + s.RearLeftKg + s.RearRightKg,
		"axles_kg.front": s.FrontLeftKg + s.FrontRightKg,
		WheelKeys[3]:     s.RearRightKg,
	} {
		x, _ := m.Explain(key, "")
		if x.Donor == nil || math.Abs(*x.Donor-want) > 0.5 {
			t.Errorf("%s of the donor is %v, the scales say %v", key, x.Donor, want)
		}
	}
	x, _ := m.Explain("mass_kg", "")
	if change := m.Eval().Value("change.mass_kg"); math.Abs(x.Reading.Value-*x.Donor-change) > 1e-6 {
		t.Errorf("now less donor is %v, the change reading %v", x.Reading.Value-*x.Donor, change)
	}
	if x, _ := m.Explain("energy_kwh", ""); x.Donor != nil {
		t.Error("the donor has traction energy")
	}
}

// After taking a module out the explanation tells the start; counting from now makes that the start.
func TestExplainAgainstTheStart(t *testing.T) {
	m := testModel(t, 4)
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.Remove(p, a, "low/m1") }); err != nil {
		t.Fatal(err)
	}
	x, _ := m.Explain("count", "")
	if x.Start == nil || *x.Start != 4 || x.delta(*x.Start) != "−1" {
		t.Errorf("at the start %v, %q", *x.Start, x.delta(*x.Start))
	}
	m.MarkStart()
	if x, _ := m.Explain("count", ""); *x.Start != 3 || x.delta(*x.Start) != "no change" {
		t.Errorf("counted from now: %v", *x.Start)
	}
}

// A duplicate that gets the id of one taken back before starts from how it is itself.
func TestStartOfADuplicate(t *testing.T) {
	m := testModel(t, 4)
	duplicate := func() {
		id := ""
		if err := m.Do(func(p *layout.Plan, a string) (e layout.Edit, err error) {
			e, id, err = layout.DuplicateArrangement(p, a)
			return e, err
		}); err != nil {
			t.Fatal(err)
		}
		m.SetArrangement(id)
	}
	duplicate()
	if err := m.Undo(); err != nil {
		t.Fatal(err)
	}
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.Remove(p, a, "low/m1") }); err != nil {
		t.Fatal(err)
	}
	duplicate()
	if got := m.Start().Value("count"); got != 3 {
		t.Errorf("it started with %g modules, want 3", got)
	}
}

// In inches and pounds no input is left in mm or kg.
func TestExplainInInches(t *testing.T) {
	m := demoModel(t)
	s := m.Plan().Settings
	s.Units = Imperial.Setting()
	if err := m.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutSettings(p, s) }); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"worst_gap_mm", "mass_kg", "cg_mm.x", "axles_kg.front", "ssf"} {
		x, _ := m.Explain(key, "")
		for _, line := range strings.Split(x.Text(), "\n") {
			if strings.HasPrefix(line, "- ") && (strings.HasSuffix(line, " mm") || strings.Contains(line, " kg")) {
				t.Errorf("%s: %s", key, line)
			}
		}
	}
}

// No name of a reading is in mm or kg in inches and pounds.
func TestNamesOfReadingsInInches(t *testing.T) {
	m := demoModel(t)
	s := m.Plan().Settings
	s.Units = Imperial.Setting()
	if err := m.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutSettings(p, s) }); err != nil {
		t.Fatal(err)
	}
	page := m.AllReadings(900, paint.NewFonts(), "")
	for _, row := range page.Rows {
		if x, _ := m.Explain(SplitReading(row.Key)); strings.Contains(row.Tip, " mm ") || strings.Contains(strings.Split(x.Text(), "\n")[0], " mm ") {
			t.Errorf("%s\n%s", row.Tip, x.Text())
		}
	}
	for _, s := range texts(page) {
		if strings.Contains(s, " mm ") {
			t.Error(s)
		}
	}
}

func TestVoltageTellsTheWindows(t *testing.T) {
	x, _ := demoModel(t).Explain("voltage_v.nominal", "")
	if len(x.More) < 2 || !strings.Contains(strings.Join(x.More, " "), "the pack stays within") {
		t.Errorf("%q", x.More)
	}
	x, _ = testModel(t, 1).Explain("voltage_v.nominal", "")
	if len(x.More) != 1 || !strings.Contains(x.More[0], "No inverter") {
		t.Errorf("without converters: %q", x.More)
	}
}

// The tightest gap leads to a place in the vehicle.
func TestTightestGapHasAPlace(t *testing.T) {
	m := demoModel(t)
	n := m.FindingOf("worst_gap_mm")
	if n == 0 || m.Eval().Findings[n-1].Place == nil {
		t.Fatal("no place")
	}
	if m.FindingOf("mass_kg") != 0 {
		t.Error("the mass has a place")
	}
	if p := *m.Eval().Findings[n-1].Place; p == (r3.Vector{}) {
		t.Error("the place is the origin")
	}
}

func TestAllReadingsAreListed(t *testing.T) {
	m, fonts := demoModel(t), paint.NewFonts()
	if got, want := len(m.AllReadings(600, fonts, "").Rows), len(m.Eval().Readings); got != want {
		t.Errorf("%d of %d readings", got, want)
	}
	some := m.AllReadings(600, fonts, "wheel gross")
	if len(some.Rows) != 4 {
		t.Errorf("%d rows for the wheels of the gross load case", len(some.Rows))
	}
	if len(m.AllReadings(600, fonts, "no such thing").Rows) != 0 {
		t.Error("nonsense finds readings")
	}
}

// Findings are sorted gravest first, and can be filtered by words.
func TestFindingFilterWords(t *testing.T) {
	m, fonts := demoModel(t), paint.NewFonts()
	last := -1
	for _, f := range m.Eval().Findings {
		rank := slices.Index([]string{"fails", "warns", "notes", "passes"}, string(f.Severity))
		if rank < last {
			t.Fatal("not sorted by severity")
		}
		last = rank
	}
	all := len(m.FindingList(300, fonts, FindingFilter{}).Rows)
	rule := m.Eval().Findings[0].Rule
	some := len(m.FindingList(300, fonts, FindingFilter{Words: rule}).Rows)
	if some == 0 || some >= all {
		t.Errorf("%d of %d hold %q", some, all, rule)
	}
	if n := len(m.FindingList(300, fonts, FindingFilter{Picked: true}).Rows); n != 0 {
		t.Errorf("%d about what is picked, and nothing is", n)
	}
}

// The finding chosen is set in full, the others in a few lines.
func TestChosenFindingIsInFull(t *testing.T) {
	m, fonts := demoModel(t), paint.NewFonts()
	short := m.FindingList(300, fonts, FindingFilter{})
	m.Display.Focus = 1
	if long := m.FindingList(300, fonts, FindingFilter{}); long.Rows[0].Bottom <= short.Rows[0].Bottom {
		t.Errorf("the chosen one ends at %v, before at %v", long.Rows[0].Bottom, short.Rows[0].Bottom)
	}
	f := m.Eval().Findings[0]
	if p := FindingPage(600, fonts, Metric, f); p.Height < 120 {
		t.Error("its page is empty")
	}
	if s := FindingText(Metric, f); !strings.Contains(s, f.Text) || !strings.Contains(s, f.Source) || !strings.Contains(s, guards(f.Rule)) || guards(f.Rule) == "" {
		t.Errorf("its text is %q", s)
	}
}
