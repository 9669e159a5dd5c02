package vehicles_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

func FuzzDonor(f *testing.F) {
	fuzz(f, "donor", vehicles.ReadDonor, vehicles.WriteDonor, func(d *vehicles.Donor) { d.Survey() })
}

func FuzzModule(f *testing.F) {
	fuzz(f, "module", vehicles.ReadModule, vehicles.WriteModule, func(*vehicles.Module) {})
}

func FuzzGear(f *testing.F) {
	fuzz(f, "gear", vehicles.ReadGear, vehicles.WriteGear, func(*vehicles.Gear) {})
}

// fuzz feeds arbitrary files to a reader. It may refuse them with problems; what it accepts must pass its own checks, bear
// being used, and come back equal from being written and read.
func fuzz[T any](f *testing.F, kind string, read func(string, []byte) (*T, error), write func(*T) ([]byte, error), use func(*T)) {
	files, _ := filepath.Glob(filepath.Join("..", "testdata", "vehicles", kind, "*.yaml"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		v, err := read("fuzz.yaml", data)
		if err != nil {
			var ps record.Problems
			if !errors.As(err, &ps) || len(ps) == 0 {
				t.Fatalf("want problems, got %T: %v", err, err)
			}
			return
		}
		if ps := record.Check(v); len(ps) > 0 {
			t.Fatalf("read, yet Check finds %v", ps)
		}
		use(v)
		written, err := write(v)
		if err != nil {
			t.Fatal(err)
		}
		again, err := read("again.yaml", written)
		if err != nil {
			t.Fatalf("written but not read: %v\n%s", err, written)
		}
		rewritten, err := write(again)
		if err != nil || string(rewritten) != string(written) {
			t.Fatalf("writing twice gives two files: %v\n%s\n%s", err, written, rewritten)
		}
	})
}
