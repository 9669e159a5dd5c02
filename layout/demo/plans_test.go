package demo_test

import (
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// However many boxes of however many modules are wanted: so many there are, none too close to another or to a wall, and no box stands in
// another.
func TestLargePlansFit(t *testing.T) {
	for _, n := range [][2]int{{1, 16}, {4, 24}, {5, 40}, {7, 11}} {
		p, err := demo.Large(n[0], n[1])
		if err != nil {
			t.Fatal(err)
		}
		a := p.Arrangements[0]
		e := check.Evaluate(p, a, p.LibraryOver(vehicles.Catalogue()), nil)
		if len(a.Boxes) != n[0] || e.Scene.Count() != n[0]*n[1] || a.Series != 16 || a.Series*a.Parallel > n[0]*n[1] || a.Series*(a.Parallel+1) <= n[0]*n[1] {
			t.Errorf("%v wanted: %d boxes, %d modules, %d in series, %d in parallel", n, len(a.Boxes), e.Scene.Count(), a.Series, a.Parallel)
		}
		for _, f := range e.Findings {
			switch f.Rule {
			case "fit.overlap", "fit.outside", "fit.gap", "fit.strip", "fit.support", "fit.posture", "fit.boxes":
				if f.Severity == check.Fails {
					t.Errorf("%v: %s: %s", n, f.Rule, f.Text)
				}
			}
		}
		if d := layoutRoundTrip(t, p); d != "" {
			t.Error(d)
		}
	}
}

// The plan with cooling is alike left and right and its loop holds. Its boxes are not meant to stand where they do.
func TestCooledPlanIsCooled(t *testing.T) {
	p := demo.Cooled()
	e := check.Evaluate(p, p.Arrangements[0], vehicles.Catalogue(), nil)
	for _, b := range e.Scene.Boxes {
		lo, hi := b.Outer.Bounds()
		if lo.Y != -hi.Y || len(b.Modules) != 2 {
			t.Errorf("box %s lies from %v to %v with %d modules", b.Box.ID, lo, hi, len(b.Modules))
		}
	}
	for _, f := range e.Findings {
		if f.Severity == check.Fails && strings.HasPrefix(f.Rule, "cooling.") {
			t.Errorf("%s: %s", f.Rule, f.Text)
		}
	}
}

func layoutRoundTrip(t *testing.T, p *layout.Plan) string {
	t.Helper()
	data, err := layout.Encode(p)
	if err != nil {
		return err.Error()
	}
	q, err := layout.Parse("large", data)
	if err != nil {
		return err.Error()
	}
	if again, err := layout.Encode(q); err != nil || string(again) != string(data) {
		return "a large plan is not read as it was written"
	}
	return ""
}
