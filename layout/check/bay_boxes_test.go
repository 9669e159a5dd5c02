package check_test

import (
	"errors"
	"slices"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/vehicles"
)

// Every bay of the catalogue's donors, with a box made for it, keeps the rules about bays, keep-outs and other boxes: the bay of
// a donor may reach into its axle's bump travel, a box made for it does not.
func TestBoxesForBaysKeepOutOfTheWay(t *testing.T) {
	lib, boxes := vehicles.Catalogue(), 0
	for _, d := range lib.Donors() {
		p := layout.NewPlan(d, d.Name)
		a := p.Arrangements[0]
		for i := range a.Bays {
			b, _, err := a.BoxFor(&a.Bays[i], d, layout.Shell{})
			if errors.As(err, new(*layout.NoRoom)) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			a.Boxes = append(a.Boxes, b)
			boxes++
		}
		for _, f := range check.Evaluate(p, a, lib, nil).Findings {
			if f.Severity == check.Fails && slices.Contains([]string{"fit.bay", "fit.keep_out", "fit.boxes"}, f.Rule) {
				t.Errorf("%s: %s", d.ID, f.Text)
			}
		}
	}
	if boxes < 20 {
		t.Errorf("only %d boxes", boxes)
	}
}
