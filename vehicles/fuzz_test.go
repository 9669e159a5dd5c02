package vehicles_test

import (
	"os"
	"path/filepath"
	"testing"

	"stowbay/internal/inputs"
	"stowbay/vehicles"
	"stowbay/vehicles/record"
	"stowbay/vehicles/record/recordtest"
)

var (
	donors  = reader[vehicles.Donor]{"donor", vehicles.ReadDonor, vehicles.WriteDonor, func(d *vehicles.Donor) { d.Survey() }}
	modules = reader[vehicles.Module]{"module", vehicles.ReadModule, vehicles.WriteModule, func(*vehicles.Module) {}}
	gears   = reader[vehicles.Gear]{"gear", vehicles.ReadGear, vehicles.WriteGear, func(*vehicles.Gear) {}}
)

func FuzzDonor(f *testing.F)  { donors.fuzz(f) }
func FuzzModule(f *testing.F) { modules.fuzz(f) }
func FuzzGear(f *testing.F)   { gears.fuzz(f) }

func TestFloodOfDonors(t *testing.T)  { donors.flood(t, "FuzzDonor", 850) }
func TestFloodOfModules(t *testing.T) { modules.flood(t, "FuzzModule", 650) }
func TestFloodOfGear(t *testing.T)    { gears.flood(t, "FuzzGear", 300) }

// reader is a reader of records with what is done with the records it accepts.
type reader[T any] struct {
	kind  string
	read  func(string, []byte) (*T, error)
	write func(*T) ([]byte, error)
	use   func(*T)
}

func (r reader[T]) fuzz(f *testing.F) {
	for _, data := range r.files(f) {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) { _ = r.try(t, data, 1) })
}

func (r reader[T]) flood(t *testing.T, target string, most int) {
	inputs.Flood{Target: target, Most: most, Words: inputs.YAMLWords, Examples: r.files(t), Read: func(t inputs.T, data []byte) error { return r.try(t, data, 10) }}.Run(t)
}

func (r reader[T]) files(t testing.TB) [][]byte {
	names, _ := filepath.Glob(filepath.Join("..", "testdata", "vehicles", r.kind, "*.yaml"))
	out := make([][]byte, len(names))
	for i, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out[i] = data
	}
	return out
}

// try hands an arbitrary file to the reader. It may refuse it with problems; what it accepts must pass its own checks, bear
// being used, and come back equal from being written and read; that is looked at for one file in so many.
func (r reader[T]) try(t inputs.T, data []byte, oneIn int) error {
	v, err := r.read("fuzz.yaml", data)
	if err != nil {
		recordtest.Refused(t, err, inputs.OneIn(oneIn, data))
		return err
	}
	if ps := record.Check(v); len(ps) > 0 {
		t.Fatalf("read, yet Check finds %v", ps)
	}
	if !inputs.OneIn(oneIn, data) {
		return nil
	}
	r.use(v)
	written, err := r.write(v)
	if err != nil {
		t.Fatal(err)
	}
	again, err := r.read("again.yaml", written)
	if err != nil {
		t.Fatalf("written but not read: %v\n%s", err, written)
	}
	rewritten, err := r.write(again)
	if err != nil || string(rewritten) != string(written) {
		t.Fatalf("writing twice gives two files: %v\n%s\n%s", err, written, rewritten)
	}
	return nil
}
