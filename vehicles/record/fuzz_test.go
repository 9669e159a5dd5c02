package record_test

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"stowbay/internal/inputs"
	"stowbay/vehicles/record"
)

// FuzzRead feeds arbitrary files to the reader. What it accepts has to pass Check and to come back equal from Write.
func FuzzRead(f *testing.F) {
	for _, data := range sheds(f) {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) { _ = tryRead(t, data) })
}

func TestFloodOfRecords(t *testing.T) {
	inputs.Flood{Target: "FuzzRead", Words: inputs.YAMLWords, Examples: sheds(t), Read: tryRead}.Run(t)
}

func sheds(t testing.TB) (out [][]byte) {
	files, _ := filepath.Glob("testdata/shed/*.yaml")
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, data)
	}
	return out
}

func tryRead(t inputs.T, data []byte) error {
	var s shed
	if err := record.Read("fuzz.yaml", data, &s); err != nil {
		var ps record.Problems
		if !errors.As(err, &ps) || len(ps) == 0 {
			t.Fatalf("want problems, got %v", err)
		}
		return err
	}
	if ps := record.Check(s); len(ps) > 0 {
		t.Fatalf("read, yet Check finds %v", ps)
	}
	sameAfterWriting(t, s)
	return nil
}

type fataler interface{ Fatalf(string, ...any) }

func sameAfterWriting(t fataler, s shed) {
	data, err := record.Write(s)
	if err != nil {
		t.Fatalf("write: %v", err)
	}
	var again shed
	if err := record.Read("again.yaml", data, &again); err != nil {
		t.Fatalf("written but not read: %v\n%s", err, data)
	}
	if !reflect.DeepEqual(tidy(again), tidy(s)) {
		t.Fatalf("got %+v\nwant %+v\n%s", again, s, data)
	}
}

// tidy makes lists without entries nil: a file cannot tell the two apart.
func tidy(s shed) shed {
	if len(s.Colours) == 0 {
		s.Colours = nil
	}
	if len(s.Shelves) == 0 {
		s.Shelves = nil
	}
	if s.Free == 0 {
		s.Free = 0 // and minus nought is nought
	}
	return s
}

// TestAnyTextSurvivesWriting draws texts that trouble writers of YAML and numbers of any size.
func TestAnyTextSurvivesWriting(t *testing.T) {
	words := rapid.SampledFrom([]string{"", " ", "#", ": ", "-", "?", "true", "~", "null", "0x1", "1e3", "'", "\"", "\n", "\t", "é", "[", "]", "{", "*a", "&b", "!c", "%d", "@", "`", "|", ">", "<<", "2001-01-01", "\u00a0", "\U0001f600", "=", "no"})
	rapid.Check(t, func(t *rapid.T) {
		text := ""
		for _, w := range rapid.SliceOfN(words, 0, 6).Draw(t, "note") {
			text += w
		}
		s := shed{
			Format: 3, ID: "a", Name: "n", Note: text, LongMM: rapid.Float64Range(10, 3000).Draw(t, "long"),
			Free: rapid.Float64Range(-1e12, 1e12).Draw(t, "free"), Plan: [][2]float64{{0, 0}, {1, 0}, {0, 1}},
			Makers: Makers{rapid.StringMatching(`[^\x00-\x1f\x7f-\x9f\x{feff}\x{2028}\x{2029}\x{fffe}\x{ffff}]{0,20}`).Draw(t, "maker")},
		}
		sameAfterWriting(t, s)
	})
}
