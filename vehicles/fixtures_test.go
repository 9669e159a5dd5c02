package vehicles_test

import (
	"path/filepath"
	"testing"

	"stowbay/vehicles"
	"stowbay/vehicles/record/recordtest"
)

// readers are the record files of this package by the folder their fixtures stand in.
var readers = map[string]func(name string, data []byte) error{
	"donor":  func(name string, data []byte) error { _, err := vehicles.ReadDonor(name, data); return err },
	"module": func(name string, data []byte) error { _, err := vehicles.ReadModule(name, data); return err },
	"gear":   func(name string, data []byte) error { _, err := vehicles.ReadGear(name, data); return err },
}

// TestFixtures reads files that carry their expected problems beside the offending lines.
func TestFixtures(t *testing.T) {
	for kind, read := range readers {
		files, _ := filepath.Glob(filepath.Join("..", "testdata", "vehicles", kind, "*.yaml"))
		if len(files) < 2 {
			t.Errorf("only %d fixtures for %s", len(files), kind)
		}
		for _, file := range files {
			t.Run(kind+"/"+filepath.Base(file), func(t *testing.T) { recordtest.Fixture(t, file, read) })
		}
	}
}
