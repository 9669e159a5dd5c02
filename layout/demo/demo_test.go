package demo_test

import (
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// The demonstration has to read without a problem, to be written as it was read, and to offer arrangements worth
// comparing: nothing fails in the lead one; in the others something may, but never that bodies do not fit.
func TestDemonstrationFits(t *testing.T) {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Arrangements) < 2 {
		t.Fatal("the demonstration has nothing to compare")
	}
	again, err := layout.Encode(p)
	if err != nil {
		t.Fatal(err)
	}
	if string(again) != string(demo.File()) {
		t.Error("the embedded plan is not written as the program writes plans")
	}
	lib := p.LibraryOver(vehicles.Catalogue())
	for i, a := range p.Arrangements {
		e := check.Evaluate(p, a, lib, nil)
		if e.Scene.Count() == 0 || e.Value("energy_kwh") <= 0 {
			t.Errorf("%s: nothing in it", a.ID)
		}
		for _, f := range e.Findings {
			if f.Severity == check.Fails && (i == 0 || strings.HasPrefix(f.Rule, "fit.")) {
				t.Errorf("%s: %s: %s", a.ID, f.Rule, f.Text)
			}
		}
	}
}
