package view

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

// The inch is 25.4 mm and the pound 0.45359237 kg by the international yard and pound agreement of 1959.
func TestProblemsInInchesAndPounds(t *testing.T) {
	for _, c := range []struct{ unit, in, want string }{
		{"mm", "5080 is out of range; allowed is 0 to 2540 mm", "200 in is out of range; allowed is 0 to 100 in"},
		{"kg", "-1 is out of range; allowed is 0 to 1000 kg", "-2.2 lb is out of range; allowed is 0 to 2205 lb"},
		{"mm", "254 must lie above floor_mm, which is 508", "10 in must lie above floor, which is 20 in"},
		{"mm", `at_mm[0]: 254 is on "rail 3" of box2, not m12`, `at[0]: 10 in is on "rail 3" of box2, not m12`},
		{"mm", "has 2 entries; at least 3 wanted", "has 2 entries; at least 3 wanted"},
		{"", "the edge from here crosses outer edge 4 near (254.00, -508.00)", "the edge from here crosses outer edge 4 near (10, -20) in"},
		{"V", "400 is out of range; allowed is 0 to 100 V", "400 is out of range; allowed is 0 to 100 V"},
		{"", "nothing is left of bay left2 at a clearance of 25.4 mm", "nothing is left of bay left2 at a clearance of 1 in"},
	} {
		if got := Imperial.ProblemOf(c.unit, c.in); got != c.want {
			t.Errorf("%q\n gives %q\n want  %q", c.in, got, c.want)
		}
		if Metric.ProblemOf(c.unit, c.in) != c.in {
			t.Errorf("%q is changed in metric units", c.in)
		}
	}
}

// What the readers, the editors and the geometry say of a wrong length names mm nowhere in inches; what is wrong with a
// file names its own figures.
func TestProblemsAsTheyAreFound(t *testing.T) {
	bay := vehicles.Bay{ID: "b", Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {500, 0}, {500, 400}}, FloorMM: 300, CeilingMM: 200}}, ClearanceMM: 1e9}
	ps := record.Check(&bay)
	if len(ps) < 2 {
		t.Fatalf("problems %v, want one of the heights and one of the clearance", ps)
	}
	cross := geometry.Polygon{Outer: geometry.Ring{{X: 0, Y: 0}, {X: 100, Y: 100}, {X: 100, Y: 0}, {X: 0, Y: 150}}}.Validate()
	all := append([]error{record.Problems(ps), fmt.Errorf("not kept: %w", record.Problems(ps))}, cross...)
	for _, err := range all {
		got := Imperial.Problem(err)
		if strings.Contains(got, "mm") || !strings.Contains(got, " in") {
			t.Errorf("%s\n gives %s", err, got)
		}
		if Metric.Problem(err) != err.Error() {
			t.Errorf("%s is changed in metric units", err)
		}
	}
	file := &layout.FileError{Doing: "write", Path: "bay 300 mm.yaml", Why: "the disk is full"}
	if err := fmt.Errorf("saving: %w", file); Imperial.Problem(err) != err.Error() {
		t.Error("a file's name is changed")
	}
	read := record.Problems{{File: "plan.yaml", Line: 3, Column: 2, Path: "floor_mm", Msg: "3 is out of range; allowed is 5 to 7 mm"}}
	if Imperial.Problem(read) != read.Error() {
		t.Errorf("what stands in a file is changed: %s", Imperial.Problem(read))
	}
	if err := errors.New("nothing is picked"); Imperial.Problem(err) != err.Error() {
		t.Error("words are changed")
	}
}

func TestFieldHelpInInches(t *testing.T) {
	for _, f := range record.Fields(reflect.TypeFor[vehicles.Bay]()) {
		if f.Name != "clearance_mm" {
			continue
		}
		m, i := Metric.FieldHelp(f), Imperial.FieldHelp(f)
		if m != f.Doc+" ("+f.Allowed+")" || strings.Contains(i, f.Allowed) || !strings.HasSuffix(i, " in)") {
			t.Errorf("%s\n%s", m, i)
		}
		return
	}
	t.Fatal("a bay has no clearance")
}

func TestProblemsNameFieldsAsFormsDo(t *testing.T) {
	for path, want := range map[string]string{
		"length_mm":          "Length: is missing",
		"cell.nominal_v":     "Cell, nominal: is missing",
		"levels[1].floor_mm": "Levels 2, floor: is missing",
		"at_mm[2]":           "At 3: is missing",
		"":                   "is missing",
	} {
		if got := Metric.ProblemInForm(record.Problem{Path: path, Msg: "is missing"}); got != want {
			t.Errorf("%s: %q, want %q", path, got, want)
		}
	}
	if got := Imperial.ProblemInForm(record.Problem{Path: "floor_mm", Msg: "254 is above 127"}); got != "Floor: 10 in is above 5 in" {
		t.Error(got)
	}
}

// The inch is 25.4 mm: 1.5 mm are 0.059 in.
func TestWhatIsAssumedIsInTheUnitsShown(t *testing.T) {
	for doc, want := range map[string][2]string{
		"wall thickness; 0 means 1.5":                      {"1.5", "0.059 in"},
		"to the plate's edge; 0 means 2 bolt diameters":    {"2 bolt diameters", "2 bolt diameters"},
		"from the front; 0 means 420 (UN R100)":            {"420 (UN R100)", "16.5 in (UN R100)"},
		"length of weld; 0 means twice its width":          {"twice its width", "twice its width"},
		"width of the box; 0 is not allowed, nothing else": {"", ""},
	} {
		f := record.Field{Name: "wall_mm", Unit: "mm", Doc: doc}
		if m, i := Metric.Assumed(f), Imperial.Assumed(f); m != want[0] || i != want[1] {
			t.Errorf("%s: %q and %q, want %q", doc, m, i, want)
		}
	}
}
