package record_test

import (
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowbay/vehicles/record"
)

// The reference of a record says of each field what its struct says.
func TestFieldsOfARecord(t *testing.T) {
	want := []record.Field{
		{Name: "format", Type: "whole number", Allowed: "1 to 3", Required: true, Doc: "format number"},
		{Name: "id", Type: "text", Allowed: "a-z, 0-9, - and _, 1 to 64 of them", Required: true, Doc: "short name"},
		{Name: "name", Type: "text", Allowed: "at most 30 characters", Required: true, Doc: "name shown"},
		{Name: "note", Type: "text", Doc: "anything"},
		{Name: "locked", Type: "true or false", Doc: "true where locked"},
		{Name: "doors", Type: "whole number", Allowed: "0 to 9", Doc: "number of doors"},
		{Name: "long_mm", Type: "number", Unit: "mm", Allowed: "10 to 3000", Required: true, Doc: "length"},
		{Name: "weigh_kg", Type: "number", Unit: "kg", Allowed: "5 to 900", Doc: "mass"},
		{Name: "free", Type: "number", Doc: "any number"},
		{Name: "plan", Type: "list of [x, y]", Allowed: "simple polygon; 3 to 50 entries", Required: true, Doc: "corners"},
		{Name: "hook_mm", Type: "[x, y, z]", Unit: "mm", Allowed: "-5000 to 5000", Doc: "place of the hook"},
		{Name: "colours", Type: "list of texts", Allowed: "red, green or blue; at most 3 entries", Doc: "paints"},
		{Name: "roof", Type: "record", Doc: "roof", Record: reflect.TypeFor[roof]()},
		{Name: "shelves", Type: "list of records", Allowed: "at most 5 entries", Doc: "shelves", Record: reflect.TypeFor[shelf]()},
		{Name: "spare", Type: "record", Doc: "spare shelf", Record: reflect.TypeFor[shelf]()},
		{Name: "maker", Type: "text", Doc: "who built it"},
	}
	sameType := cmp.Comparer(func(a, b reflect.Type) bool { return a == b })
	for _, of := range []reflect.Type{reflect.TypeFor[shed](), reflect.TypeFor[*shed](), reflect.TypeFor[[]*shed]()} {
		if d := cmp.Diff(want, record.Fields(of), sameType); d != "" {
			t.Errorf("%v: %s", of, d)
		}
	}
	if got := record.Fields(reflect.TypeFor[[]float64]()); got != nil {
		t.Errorf("numbers have the fields %v", got)
	}
}

// Records are written a field a line; lists of records an entry a line, with one entry too; lists of numbers in one line.
func TestHowRecordsAreWritten(t *testing.T) {
	type rack struct {
		Shelves []shelf    `yaml:"shelves"`
		Numbers []float64  `yaml:"numbers"`
		Roof    roof       `yaml:"roof"`
		Spare   *shelf     `yaml:"spare,omitempty"`
		Hook    [2]float64 `yaml:"hook"`
		Empty   struct {
			Note string `yaml:"note,omitempty"`
		} `yaml:"empty"`
		None []shelf `yaml:"none"`
	}
	got, err := record.Write(&rack{Shelves: []shelf{{ID: "s", LowMM: 1, HighMM: 2}}, Numbers: []float64{1}, Roof: roof{Kind: "flat"}})
	if err != nil {
		t.Fatal(err)
	}
	want := "shelves:\n  - id: s\n    low_mm: 1\n    high_mm: 2\nnumbers: [1]\nroof:\n  kind: flat\nhook: [0, 0]\nempty: {}\nnone: []\n"
	if string(got) != want {
		t.Errorf("written as\n%s\nwant\n%s", got, want)
	}
}

// A file of a format to come says so, whatever else is wrong with it.
func TestAFileOfAFormatToCome(t *testing.T) {
	type box struct {
		Format int    `yaml:"format" rule:"required,min=1,max=1"`
		Name   string `yaml:"name" rule:"required"`
	}
	var b box
	if err := record.Read("b.yaml", []byte("format: 2\nnew: 3\n"), &b); err == nil || !strings.Contains(err.Error(), "1:9: format: format 2 is newer than this program knows; it reads up to format 1") || strings.Contains(err.Error(), "\n") {
		t.Errorf("got %v", err)
	}
	if err := record.Read("b.yaml", []byte("format: 1\nname: x\n"), &b); err != nil || b.Name != "x" {
		t.Errorf("%+v, %v", b, err)
	}
}

// A file is called one of another kind where that kind has at least two of its fields more.
func TestAFileOfAnotherKind(t *testing.T) {
	for text, other := range map[string]bool{
		"id: a\nvolume_l: 3\nhandles: 2\n":          true,
		"id: a\nname: b\nvolume_l: 3\nhandles: 2\n": false,
		"id: a\nvolume_l: 3\n":                      false,
	} {
		_, err := readShed(text)
		if err == nil || strings.Contains(err.Error(), "this is a tub file; a shed file is wanted") != other {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// A corner that is at fault is named by its number, the first one too.
func TestCornersAtFaultAreNumbered(t *testing.T) {
	for want, plan := range map[string][][2]float64{"plan[0]": {{0, 0}, {0, 0}, {10, 0}, {10, 5}}, "plan[1]": {{0, 0}, {10, 0}, {10, 0}, {10, 5}}} {
		var got []string
		for _, p := range record.Check(&shed{Plan: plan}) {
			if strings.HasPrefix(p.Path, "plan") {
				got = append(got, p.Path)
			}
		}
		if len(got) != 1 || got[0] != want {
			t.Errorf("%v: faults at %v, want %s", plan, got, want)
		}
	}
}
