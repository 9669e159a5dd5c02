package check_test

import (
	"path/filepath"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// Every finding of the demonstration plan, as it is and under changes, of plans with cooling and of donors under loads, so
// that no figure and no place changes unnoticed. Where a change is meant, run the test with -update and look at what changed.
func TestNoFindingChangesUnnoticed(t *testing.T) {
	base := demonstration(t, nil).Findings
	lines := check.Figures(base)
	add := func(name string, fs []check.Finding) {
		lines = append(append(lines, name), check.FiguresBeside(base, fs)...)
	}
	for _, set := range []string{"r100-m3n3", "iso12991-m1n1", "racing-40g"} {
		add(set, demonstration(t, func(p *layout.Plan) { p.Settings.Restraint.Set = set }).Findings)
	}
	add("thin bolts", demonstration(t, func(p *layout.Plan) {
		p.Settings.Restraint.Set = "racing-40g"
		for _, b := range p.Arrangements[0].Boxes {
			for i := range b.Feet {
				b.Feet[i].Bolt, b.Feet[i].TorqueNm = "M6", 14
			}
		}
	}).Findings)
	add("great current", demonstration(t, func(p *layout.Plan) { p.Settings.Cooling.HeatA, p.Settings.Electric.ContinuousA = 120, 300 }).Findings)
	for _, text := range poorer(demo.File(), 9) {
		if p, err := layout.ParseOver("plan.yaml", []byte(text), vehicles.Catalogue()); err == nil {
			add("poorer", check.Evaluate(p, p.Arrangements[0], p.LibraryOver(vehicles.Catalogue()), nil).Findings)
		}
	}
	goldentest.Compare(t, "demonstration", nil, lines)
}

func TestNoPlainFindingChangesUnnoticed(t *testing.T) {
	lines := check.Figures(cooledVan(t, nil).Findings)
	add := func(name string, fs []check.Finding) { lines = append(append(lines, name), check.Figures(fs)...) }
	for name, change := range map[string]func(*layout.Plan, *layout.Arrangement){
		"branches": func(p *layout.Plan, a *layout.Arrangement) {
			p.Settings.Electric.ContinuousA = 400
			a.Loop.Branches = []layout.LoopBranch{{ID: "f", Boxes: []string{"one"}, Modules: "parallel"}, {ID: "r", Boxes: []string{"two"}}}
		},
		"left-out": func(_ *layout.Plan, a *layout.Arrangement) {
			a.Loop.Branches = []layout.LoopBranch{{ID: "f", Boxes: []string{"one"}}}
		},
	} {
		goldentest.Compare(t, "cooled-"+name, nil, check.Figures(cooledVan(t, change).Findings))
	}
	add("frost", of(cooledVan(t, func(p *layout.Plan, _ *layout.Arrangement) {
		p.Settings.Cooling.GlycolPct, p.Settings.Electric.ColdC = 10, -20
	}), "cooling.frost"))
	files, _ := filepath.Glob("../../testdata/plans/*.yaml")
	for _, name := range files {
		p, err := layout.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range p.Arrangements {
			add(filepath.Base(name)+" "+a.ID, check.Evaluate(p, a, p.LibraryOver(vehicles.Catalogue()), nil).Findings)
		}
	}
	for _, kg := range []float64{0, 400, 1200} {
		for _, at := range []vehicles.XYZ{{-400, -500, 300}, {1250, 0, 1200}, {3200, 600, 500}, {5200, 600, 500}} {
			d := weighed(600, 700)
			d.Seats = seats(900, 900, 1700, 1700, 1700)
			d.Tyres = vehicles.Tyres{FrontLoadIndex: 80, RearLoadIndex: 91}
			d.Added = []vehicles.Part{{ID: "p", MassKg: kg, At: at, Known: "weighed"}}
			p := &layout.Plan{Format: 1, Name: "p", Donor: d.ID, Arrangements: []*layout.Arrangement{{ID: "a", Name: "a"}}}
			p.Settings.Mass.OccupantKg = 68
			add("laden", check.Evaluate(p, p.Arrangements[0], vehicles.Catalogue().With(vehicles.Records{Donors: []*vehicles.Donor{d}}), nil).Findings)
		}
	}
	goldentest.Compare(t, "plain", nil, lines)
}
