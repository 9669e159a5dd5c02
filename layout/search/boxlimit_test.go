package search

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/vehicles"
)

// optionsOf judges every way to use a box: whether the search keeps it, and what the checks say of the box in an
// arrangement that has it, with one module in the other box.
func optionsOf(t *testing.T, y *yard, rule string, judge func(kept bool, o *option, fails bool, e *check.Evaluation)) {
	t.Helper()
	k := tasksOf(t, y)[0]
	f := k.fields[0]
	for i := range k.free[0].all {
		o := &k.free[0].all[i]
		a := *y.a
		box, other := *y.a.Boxes[0], *y.a.Boxes[1]
		box.Modules, other.Modules = k.placed(0, o), k.placed(1, &k.free[1].of(1)[0])
		a.Boxes, a.Parallel = []*layout.Box{&box, &other}, 1
		e := check.Evaluate(y.plan, &a, y.lib, nil)
		fails := slices.ContainsFunc(e.Findings, func(f check.Finding) bool {
			return f.Severity == check.Fails && strings.HasPrefix(f.Rule, rule) && strings.HasPrefix(f.Subject, box.ID)
		})
		kept := slices.ContainsFunc(f.bays[0].all, func(p option) bool { return p.stance == o.stance && p.push == o.push && slices.Equal(p.kept, o.kept) })
		judge(kept, o, fails, e)
	}
}

// Feet hold a box in the search as they do in the checks, by a set with accelerations of its own.
func TestRestraintInTheSearch(t *testing.T) {
	y := newYard(t, []site{{1000, -300, 300, 3, 2, 2, false}, {-250, -300, 500, 1, 1, 1, false}}, block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat))
	y.plan.Settings.Restraint = layout.Restraint{Set: "own", ForwardG: 20, RearG: 5, SideG: 5, UpG: 5, DownG: 5}
	for _, b := range y.a.Boxes {
		lo, hi := b.Levels[0].Outline[0], b.Levels[0].Outline[2]
		for i, at := range [][2]float64{{lo[0] - 20, lo[1]}, {hi[0] + 20, lo[1]}, {hi[0] + 20, hi[1]}, {lo[0] - 20, hi[1]}} {
			b.Feet = append(b.Feet, layout.Foot{ID: string(rune('a' + i)), At: vehicles.XYZ{at[0], at[1], 0}, Bolt: "M6", Class: "8.8", FrameMM: 3})
		}
	}
	held, broken := 0, 0
	optionsOf(t, y, "restraint.b", func(kept bool, o *option, fails bool, e *check.Evaluation) {
		p, _ := e.Restraint.Boxes[0].Governing()
		near := math.Abs(p.Use.Ratio-1) < 0.02 // the links as they are routed weigh more or less than estimated
		if kept == fails && !near {
			t.Errorf("%d modules: kept %v, while the checks fail is %v at %.4f", len(o.kept), kept, fails, p.Use.Ratio)
		}
		if kept {
			held++
		} else {
			broken++
		}
	})
	if held == 0 || broken == 0 {
		t.Fatalf("%d ways are held, %d are not", held, broken)
	}
	says(t, y, Restraint, "box-1")
}

// Where the feet of no box hold it with a single module, nothing is found, and the search says why.
func TestNoBoxIsHeld(t *testing.T) {
	y := newYard(t, []site{{1000, -300, 300, 1, 2, 1, false}, {-250, -300, 500, 1, 2, 1, false}, {2500, -300, 400, 1, 2, 1, false}}, block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat))
	y.plan.Settings.Restraint = layout.Restraint{Set: "own", ForwardG: 200, RearG: 200, SideG: 200, UpG: 200, DownG: 200}
	for _, b := range y.a.Boxes {
		for _, at := range b.Levels[0].Outline {
			b.Feet = append(b.Feet, layout.Foot{ID: fmt.Sprint("f", len(b.Feet)), At: vehicles.XYZ{at[0], at[1], 0}, Bolt: "M6", Class: "8.8", FrameMM: 3})
		}
	}
	if r := found(t, y, Options{}); len(r.Found) > 0 {
		t.Errorf("%s is found", r.Found[0].Name())
	}
	says(t, y, Restraint, "box-1")
}

// Whatever the search leaves out for its creepage, the checks find too close in the strings as they are routed.
func TestCreepageInTheSearch(t *testing.T) {
	m := block("metal", 300, 150, 100, 14, 50, 400, vehicles.Flat)
	m.Case = "metal" // terminals near the top edge, 8 mm from the case of a module stacked on it
	y := newYard(t, []site{{1000, -300, 300, 2, 2, 2, false}, {-250, -300, 500, 1, 1, 1, false}}, m)
	kept, out := 0, 0
	optionsOf(t, y, "electric.clearance", func(ok bool, o *option, fails bool, _ *check.Evaluation) {
		switch {
		case ok:
			kept++
		case fails:
			out++
		default:
			t.Errorf("%d modules are left out; the checks find nothing too close", len(o.kept))
		}
	})
	if kept == 0 || out == 0 {
		t.Fatalf("%d ways kept, %d left out", kept, out)
	}
	says(t, y, Creepage, "box-1")
}

// Bodies too close together are left out as the checks of the box have it.
func TestClearanceInTheSearch(t *testing.T) {
	m := block("fat", 300, 150, 100, 14, 50, 400, vehicles.Flat)
	m.Gaps.SideMM = 5 // the packing given has none
	y := newYard(t, []site{{1000, -300, 300, 2, 2, 1, false}, {-250, -300, 500, 2, 1, 1, false}}, m)
	kept, out := 0, 0
	optionsOf(t, y, "fit.", func(ok bool, o *option, fails bool, _ *check.Evaluation) {
		if ok == fails {
			t.Errorf("%d modules: kept %v, while the checks fail is %v", len(o.kept), ok, fails)
		}
		if ok {
			kept++
		} else {
			out++
		}
	})
	if kept == 0 || out == 0 {
		t.Fatalf("%d ways kept, %d left out", kept, out)
	}
	says(t, y, Clearance, "box-1")
}

// says looks for a sentence of the search on a limit in a box.
func says(t *testing.T, y *yard, l Limit, box string) {
	t.Helper()
	r, err := Run(context.Background(), y.plan, y.a, y.lib, y.options(), nil)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(r.Excluded, func(e Excluded) bool { return e.Limit == l && e.Box == box })
	if i < 0 {
		t.Fatalf("nothing is said of the %s", l)
	}
	if e := r.Excluded[i]; len(e.Counts) == 0 || !strings.Contains(e.Text, string(l)) || !strings.Contains(e.Text, box) {
		t.Errorf("%+v", e)
	}
	t.Log(r.Excluded[i].Text)
}

// Two boxes that stand in each other are never used together.
func TestBoxesInEachOther(t *testing.T) {
	y := newYard(t, []site{{1000, -300, 300, 2, 2, 1, false}, {1100, -300, 300, 2, 2, 1, false}, {2500, -300, 400, 2, 2, 1, false}}, block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat))
	r := found(t, y, Options{})
	if len(r.Found) == 0 {
		t.Fatal("nothing found")
	}
	for i := range r.Found {
		a := r.Open(i)
		if a.Box("box-1") != nil && a.Box("box-2") != nil {
			t.Errorf("%s uses both", r.Found[i].Name())
		}
	}
	if !slices.ContainsFunc(r.Excluded, func(e Excluded) bool { return e.Limit == Together }) {
		t.Error("nothing is said of it")
	}
}

func TestNumberList(t *testing.T) {
	if s := numberList([]int{1, 2, 3, 7, 9, 10}); s != "1 to 3, 7, 9 to 10" {
		t.Error(s)
	}
}
