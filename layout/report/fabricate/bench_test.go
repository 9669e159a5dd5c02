package fabricate

import (
	"testing"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/layout/mass"
)

func BenchmarkFlattenDemo(b *testing.B) {
	p, err := demo.Plan()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		for _, x := range p.Arrangements[0].Boxes {
			Flatten(x, mass.Panels(x), layout.Sheet{})
		}
	}
}
