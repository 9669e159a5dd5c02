package record_test

import (
	"reflect"

	"gopkg.in/yaml.v3"

	"stowbay/vehicles/record"
)

// tub is a second kind of record, to be mistaken for a shed.
type tub struct {
	ID      string  `yaml:"id" rule:"required,id"`
	VolumeL float64 `yaml:"volume_l" rule:"required"`
	Handles int     `yaml:"handles"`
}

func init() {
	record.Register(record.Kind{Name: "tub", Type: reflect.TypeFor[tub]()})
	record.Register(record.Kind{Name: "shed", Type: reflect.TypeFor[shed](), Migrations: map[int]func(*yaml.Node) error{2: renameLength}})
}

// renameLength takes a shed from format 2, where its length had no unit, to format 3.
func renameLength(top *yaml.Node) error {
	for i := 0; i+1 < len(top.Content); i += 2 {
		if top.Content[i].Value == "length" {
			top.Content[i].Value = "long_mm"
		}
	}
	return nil
}
