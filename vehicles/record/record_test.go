package record_test

import (
	"errors"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowbay/vehicles/record"
)

// shed is a record made up for these tests: every sort of field that the package knows.
type shed struct {
	Format  int          `yaml:"format" rule:"required,min=1,max=3" doc:"format number"`
	ID      string       `yaml:"id" rule:"required,id" doc:"short name"`
	Name    string       `yaml:"name" rule:"required,maxlen=30" doc:"name shown"`
	Note    string       `yaml:"note,omitempty" doc:"anything"`
	Locked  bool         `yaml:"locked,omitempty" doc:"true where locked"`
	Doors   int          `yaml:"doors" rule:"min=0,max=9" doc:"number of doors"`
	LongMM  float64      `yaml:"long_mm" rule:"required,min=10,max=3000" doc:"length"`
	WeighKg float64      `yaml:"weigh_kg,omitempty" rule:"min=5,max=900" doc:"mass"`
	Free    float64      `yaml:"free,omitempty" doc:"any number"`
	Plan    [][2]float64 `yaml:"plan" rule:"required,polygon,minlen=3,maxlen=50" doc:"corners"`
	Hook    *[3]float64  `yaml:"hook_mm,omitempty" rule:"min=-5000,max=5000" doc:"place of the hook"`
	Colours []string     `yaml:"colours,omitempty" rule:"maxlen=3,oneof=red|green|blue" doc:"paints"`
	Roof    roof         `yaml:"roof,omitempty" doc:"roof"`
	Shelves []shelf      `yaml:"shelves,omitempty" rule:"maxlen=5" doc:"shelves"`
	Spare   *shelf       `yaml:"spare,omitempty" doc:"spare shelf"`
	Makers  `yaml:",inline"`
}

type Makers struct {
	Maker string `yaml:"maker,omitempty" doc:"who built it"`
}

type roof struct {
	Kind    string  `yaml:"kind" rule:"required,oneof=flat|ridge" doc:"kind of roof"`
	RiseDeg float64 `yaml:"rise_deg,omitempty" rule:"min=0,max=60" doc:"slope"`
}

type shelf struct {
	ID     string  `yaml:"id" rule:"required,id" doc:"short name"`
	LowMM  float64 `yaml:"low_mm" rule:"required,min=-100,max=3000" doc:"lower face"`
	HighMM float64 `yaml:"high_mm" rule:"required,min=-100,max=3000" doc:"upper face"`
}

func (s *shelf) Problems(report func(path, msg string)) {
	if s.HighMM <= s.LowMM {
		report("high_mm", "must lie above low_mm")
	}
}

func TestTagsAreSound(t *testing.T) {
	if err := record.CheckType(reflect.TypeFor[shed]()); err != nil {
		t.Fatal(err)
	}
}

const goodShed = `format: 3
id: north-2
name: North shed
doors: 2
long_mm: 2400.5
plan:
  - [0, 0]
  - [10, 0]
  - [10, 5]
`

func readShed(text string) (shed, error) {
	var s shed
	err := record.Read("shed.yaml", []byte(text), &s)
	return s, err
}

func TestReadFillsTheStruct(t *testing.T) {
	got, err := readShed(goodShed + "hook_mm: [1, -2, 3e2]\ncolours: [red, blue]\nshelves:\n  - {id: a, low_mm: 0, high_mm: 20}\nmaker: ours\n")
	if err != nil {
		t.Fatal(err)
	}
	want := shed{
		Format: 3, ID: "north-2", Name: "North shed", Doors: 2, LongMM: 2400.5,
		Plan: [][2]float64{{0, 0}, {10, 0}, {10, 5}}, Hook: &[3]float64{1, -2, 300}, Colours: []string{"red", "blue"},
		Shelves: []shelf{{"a", 0, 20}}, Makers: Makers{"ours"},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
}

func TestWriteReadsBackEqual(t *testing.T) {
	want := shed{
		Format: 3, ID: "a", Name: "true", Note: "two\nlines: #1 'and' \"more\"\n", Locked: true, LongMM: 0.1 + 0.2 + 100,
		Free: -1.5e-9, Plan: [][2]float64{{0, 0}, {1, 0}, {0, 1}}, Roof: roof{Kind: "flat"},
		Spare: &shelf{"0x1", -1, 1}, Makers: Makers{" - odd: "},
	}
	data, err := record.Write(want)
	if err != nil {
		t.Fatal(err)
	}
	got, err := readShed(string(data))
	if err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v\n%s", got, want, data)
	}
	if !strings.Contains(string(data), "- [1, 0]\n") || strings.Contains(string(data), "weigh_kg") {
		t.Errorf("points belong in one line and absent fields nowhere:\n%s", data)
	}
}

func TestWriteRefusesWhatCannotBeRead(t *testing.T) {
	for _, s := range []shed{{LongMM: math.NaN()}, {LongMM: math.Inf(1)}, {Name: "bell \a"}, {Name: "\xff"}} {
		if data, err := record.Write(s); err == nil {
			t.Errorf("wrote %q", data)
		}
	}
}

func TestReadLeavesTheValueAloneOnError(t *testing.T) {
	s := shed{Name: "before"}
	if err := record.Read("x", []byte(strings.Replace(goodShed, "2400.5", "9", 1)), &s); err == nil {
		t.Fatal("read a length of 9")
	}
	if s.Name != "before" {
		t.Errorf("the value changed to %+v", s)
	}
}

func TestReadOfAHugeFile(t *testing.T) {
	for name, text := range map[string]string{
		"bytes": strings.Repeat("#", record.MaxBytes+1),
		"nodes": "a: [" + strings.Repeat("1,", record.MaxValues) + "1]",
		"depth": strings.Repeat("[", 9000) + strings.Repeat("]", 9000),
	} {
		if _, err := readShed(text); err == nil {
			t.Errorf("%s: read without a problem", name)
		}
	}
}

func TestReadFilesOfProblems(t *testing.T) {
	text, err := os.ReadFile("record_test.go")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := readShed(string(text)); err == nil {
		t.Error("a Go file was read as a record")
	}
}

func TestCheckFindsWhatReadFinds(t *testing.T) {
	s, err := readShed(goodShed)
	if err != nil {
		t.Fatal(err)
	}
	s.ID, s.LongMM, s.Colours = "A b", 9, []string{"red", "pink"}
	s.Spare = &shelf{"x", 5, 5}
	s.Hook = &[3]float64{0, 0, 9000}
	var paths []string
	for _, p := range record.Check(s) {
		paths = append(paths, p.Path)
	}
	want := []string{"id", "long_mm", "hook_mm[2]", "colours[1]", "spare.high_mm"}
	if diff := cmp.Diff(want, paths); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if got := record.CheckField(&s, "colours"); len(got) != 1 {
		t.Errorf("CheckField: %v", got)
	}
}

func TestSetText(t *testing.T) {
	s, _ := readShed(goodShed + "shelves: [{id: a, low_mm: 0, high_mm: 20}]\n")
	for _, c := range []struct{ path, text, msg string }{
		{"long_mm", "55.5", ""},
		{"long_mm", "5", "long_mm: 5 is out of range; allowed is 10 to 3000 mm"},
		{"long_mm", "", "long_mm: want a number, found \"\""},
		{"plan[1][0]", "12", ""},
		{"shelves[0].high_mm", "9", ""},
		{"shelves[1].high_mm", "9", "shelves[1].high_mm: no entry 1"},
		{"weigh_kg", "", ""},
		{"locked", "yes", "locked: want true or false, found \"yes\""},
		{"maker", "me", ""},
		{"roof", "flat", "roof: is not a single value"},
	} {
		msg := ""
		if err := record.SetText(&s, c.path, c.text); err != nil {
			msg = err.Error()
		}
		if msg != c.msg {
			t.Errorf("%s = %q: got %q, want %q", c.path, c.text, msg, c.msg)
		}
	}
	if s.LongMM != 55.5 || s.Plan[1][0] != 12 || s.Shelves[0].HighMM != 9 || s.Maker != "me" {
		t.Errorf("not set: %+v", s)
	}
	if text, err := record.Text(s, "shelves[0].high_mm"); text != "9" || err != nil {
		t.Errorf("Text: %q, %v", text, err)
	}
}

func TestReadStopsWhereTooMuchIsWrong(t *testing.T) {
	_, err := readShed(goodShed + strings.Repeat("shelve: 1\n", 5000))
	var ps record.Problems
	if !errors.As(err, &ps) || len(ps) > 201 {
		t.Fatalf("%d problems", len(ps))
	}
	if last := ps[len(ps)-1]; last.Msg != "and at least 800 more problems" || last.Path != "" {
		t.Errorf("the last one is %q", last)
	}
}
