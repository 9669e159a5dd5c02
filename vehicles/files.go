package vehicles

import (
	"reflect"

	"gopkg.in/yaml.v3"

	"stowbay/vehicles/record"
)

// The current format numbers. Older formats are brought up to date by the migrations in [init].
const (
	DonorFormat  = 1
	ModuleFormat = 1
	GearFormat   = 1
)

type migrations = map[int]func(top *yaml.Node) error

func init() {
	record.Register(record.Kind{Name: "donor", Type: reflect.TypeFor[Donor](), Migrations: migrations{}})
	record.Register(record.Kind{Name: "module", Type: reflect.TypeFor[Module](), Migrations: migrations{}})
	record.Register(record.Kind{Name: "gear", Type: reflect.TypeFor[Gear](), Migrations: migrations{}})
}

// ReadDonor reads a donor file strictly. The file's name only serves messages. An error holds every problem found,
// as [record.Problems].
func ReadDonor(file string, data []byte) (*Donor, error) { return read[Donor](file, data) }

// ReadModule reads a module file as [ReadDonor] reads a donor's.
func ReadModule(file string, data []byte) (*Module, error) { return read[Module](file, data) }

// ReadGear reads a gear file as [ReadDonor] reads a donor's.
func ReadGear(file string, data []byte) (*Gear, error) { return read[Gear](file, data) }

func read[T any](file string, data []byte) (*T, error) {
	v := new(T)
	if err := record.Read(file, data, v); err != nil {
		return nil, err
	}
	return v, nil
}

// WriteDonor gives a donor as a file that ReadDonor reads back equal.
func WriteDonor(d *Donor) ([]byte, error) { return record.Write(d) }

// WriteModule gives a module as a file that ReadModule reads back equal.
func WriteModule(m *Module) ([]byte, error) { return record.Write(m) }

// WriteGear gives a piece of gear as a file that ReadGear reads back equal.
func WriteGear(g *Gear) ([]byte, error) { return record.Write(g) }
