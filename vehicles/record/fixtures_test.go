package record_test

import (
	"os"
	"path/filepath"
	"testing"

	"stowbay/vehicles/record"
	"stowbay/vehicles/record/recordtest"
)

func TestFixtures(t *testing.T) {
	files, _ := filepath.Glob("testdata/shed/*.yaml")
	if len(files) == 0 {
		t.Fatal("no fixtures")
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			recordtest.Fixture(t, file, func(name string, data []byte) error { return record.Read(name, data, new(shed)) })
		})
	}
}

func TestFixtureHarnessNoticesDifferences(t *testing.T) {
	file := filepath.Join(t.TempDir(), "wrong.yaml")
	text := goodShed + "long_mm: 5 # want \"long_mm: is given twice\"\nnote: [] # want \"note: something else\"\n"
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	diffs := recordtest.Compare(file, []byte(text), func(name string, data []byte) error { return record.Read(name, data, new(shed)) })
	if len(diffs) != 2 {
		t.Errorf("want one problem missed and one not expected, got %q", diffs)
	}
}
