package search

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
	"stowbay/layout/restraint"
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

// footed is a yard whose boxes stand on four feet outside their corners, under accelerations of its own.
func footed(t *testing.T, g float64) *yard {
	y := newYard(t, []site{{1000, -300, 300, 2, 2, 2, false}, {-250, -300, 500, 1, 1, 1, false}}, wetBlock("wet", 3))
	y.plan.Settings.Restraint = layout.Restraint{Set: "own", ForwardG: g, RearG: 5, SideG: 5, UpG: 5, DownG: 5}
	for _, b := range y.a.Boxes {
		lo, hi := b.Levels[0].Outline[0], b.Levels[0].Outline[2]
		for i, at := range [][2]float64{{lo[0] - 20, lo[1]}, {hi[0] + 20, lo[1]}, {hi[0] + 20, hi[1]}, {lo[0] - 20, hi[1]}} {
			b.Feet = append(b.Feet, layout.Foot{ID: string(rune('a' + i)), At: vehicles.XYZ{at[0], at[1], 0}, Bolt: "M6", Class: "8.8", FrameMM: 3})
		}
	}
	return y
}

// What the feet hold is judged at the mass and centre that layout/mass gives the box with just those modules in it, and a link on top of each.
// More than all of it is said in per cent, up to 9999.
func TestFeetAreJudgedAtTheWeightOfTheBox(t *testing.T) {
	y := footed(t, 20)
	k := tasksOf(t, y)[0]
	heavy := k.restraintBans()
	broken := 0
	for i, b := range k.free {
		one := *k.ground.empty
		one.Boxes = one.Boxes[i : i+1]
		for n := range b.all {
			o := &b.all[n]
			if len(o.kept) == 0 {
				continue
			}
			boxes := slices.Clone(k.full[0])
			with := *k.ground.boxes[i]
			with.Modules = k.placed(i, o)
			boxes[i] = &with
			r := mass.Evaluate(k.ground.sceneWith(boxes, nil), noCables, nil)
			at := r.Boxes[i].Body
			w := row{1, at.X.Value, at.Y.Value, at.Z.Value}
			for d := range w {
				w[d] *= at.Kg.Value
			}
			for _, m := range r.Scene.Boxes[i].Modules {
				for d, v := range [4]float64{1, m.CG.X, m.CG.Y, m.Prism.Top} {
					w[d] += v * k.linkKg()
				}
			}
			held := restraint.Evaluate(&one, []restraint.Weight{{Box: with.ID, Kg: w[0], CG: r3.Vector{X: w[1] / w[0], Y: w[2] / w[0], Z: w[3] / w[0]}}}, nil)
			p, ok := held.Boxes[0].Governing()
			want := excess{}
			if used := 100 * p.Use.Ratio; ok && used > 100 {
				want = excess{Restraint, min(used, 9999), 100, "%"}
				broken++
			}
			if got := heavy[i][n]; got.limit != want.limit || got.unit != want.unit || got.need != want.need || math.Abs(got.actual-want.actual) > 1e-6 {
				t.Errorf("box %d, %d modules: %+v, want %+v", i, len(o.kept), got, want)
			}
		}
		kg := 1e7
		if got := heldBy(&one, row{kg, kg * 1200, kg * -200, kg * 350}); got.actual != 9999 {
			t.Errorf("%g kg: %+v", kg, got)
		}
	}
	if broken == 0 || broken == len(k.free[0].all)+len(k.free[1].all) {
		t.Errorf("%d ways are not held", broken)
	}
	k.excluded = nil
	k.sayHeavy(heavy)
	if len(k.excluded) == 0 {
		t.Error("nothing is said of them")
	}
	for _, e := range k.excluded {
		if want := fmt.Sprintf("its feet would be used to %.0f %% of what they hold.", e.Actual); !strings.HasSuffix(e.Text, want) || e.Actual <= 100 {
			t.Errorf("%s, want %s", e.Text, want)
		}
	}
	y.plan.Settings.Restraint = layout.Restraint{}
	if k.restraintBans() != nil {
		t.Error("judged without accelerations")
	}
}

// At each series count a box keeps the ways in which no live parts are too close at the voltage of so many modules when full: 30 cells of 4.2 V, 126 V
// each.
func TestCreepageByTheVoltageOfTheString(t *testing.T) {
	m := block("metal", 300, 150, 100, 14, 50, 400, vehicles.Flat)
	m.Case, m.Series = "metal", 30
	y := newYard(t, []site{{1000, -300, 300, 2, 2, 2, false}, {-250, -300, 500, 1, 1, 1, false}}, m)
	inverter := *y.lib.Gear("yard-inverter")
	inverter.VoltageMinV, inverter.VoltageMaxV = 10, 1400
	y.lib = y.lib.With(vehicles.Records{Gear: []*vehicles.Gear{&inverter}})
	k := tasksOf(t, y)[0]
	left := map[int]bool{}
	for series := 1; series <= 9; series++ {
		f := k.fieldOf[series]
		if f == nil {
			t.Fatalf("nothing for %d in series", series)
		}
		for i := range k.free {
			var want []string
			for n := range k.free[i].all {
				o := &k.free[i].all[n]
				keeps := func(ref string) bool {
					at := slices.IndexFunc(k.full[0][i].Modules, func(p layout.Placement) bool { return k.ground.boxes[i].ID+"/"+p.ID == ref })
					return at < 0 || slices.Contains(o.kept, at)
				}
				b := k.ground.sceneWith(k.full[0], nil).Boxes[i]
				if !slices.ContainsFunc(electric.GapsIn(&layout.Scene{Plan: y.plan, Boxes: []*layout.BoxScene{b}}, b).ShortAnyway(126*float64(series)), func(p electric.Pair) bool { return keeps(p.RefA) && keeps(p.RefB) }) {
					want = append(want, fmt.Sprint(o.kept, o.push))
				}
			}
			var got []string
			for n := range f.bays[i].all {
				got = append(got, fmt.Sprint(f.bays[i].all[n].kept, f.bays[i].all[n].push))
			}
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Errorf("%d in series, box %d: %v, want %v", series, i, got, want)
			}
			if i == 0 {
				left[len(got)] = true
			}
		}
	}
	if len(left) < 2 || len(k.fields) < 2 {
		t.Errorf("the voltage decides nothing: %v ways, %d fields", left, len(k.fields))
	}
}

// A ban hits a way to use a box where all its modules stay. A count is said as one module or so many.
func TestBansHitWhereAllTheirModulesStay(t *testing.T) {
	for _, c := range []struct {
		ban, kept []int
		want      bool
	}{{[]int{1}, []int{0, 1, 2}, true}, {[]int{0}, []int{0}, true}, {[]int{0, 2}, []int{0, 1, 2}, true}, {[]int{0, 2}, []int{0, 1}, false}, {[]int{3}, []int{0, 1, 2}, false}, {[]int{0}, nil, false}} {
		if got := (&ban{modules: c.ban}).hits(&option{kept: c.kept}); got != c.want {
			t.Errorf("%v of %v: %v", c.ban, c.kept, got)
		}
	}
	for want, counts := range map[string][]int{"one module": {1}, "2 modules": {2}, "1, 3 modules": {1, 3}, "1 to 2 modules": {1, 2}, "0 modules": {0}} {
		if got := modulesWord(counts); got != want {
			t.Errorf("%v: %s", counts, got)
		}
	}
	b := &layout.BoxScene{Modules: []*layout.Body{{ID: "b/m1"}, {ID: "b/m2"}, {ID: "b/m3"}}}
	for _, c := range []struct {
		refs []string
		want string
	}{{[]string{"b/m3", "b/m1"}, "[0 2]"}, {[]string{"b/m2", "b/m2"}, "[1]"}, {[]string{"b/m1", "b/gear"}, "[0]"}, {[]string{"b", "c/m1"}, "[]"}} {
		if got, ok := indexed(b, c.refs...); fmt.Sprint(got) != c.want || ok != (c.want != "[]") {
			t.Errorf("%v: %v, %v", c.refs, got, ok)
		}
	}
}

// Bans that hit the same are told from others by their modules, box by box.
func TestBansThatHitTheSame(t *testing.T) {
	of := func(boxes ...[]ban) boxBans { return boxBans{boxes} }
	a, b := ban{modules: []int{1, 2}, why: "near"}, ban{modules: []int{3}}
	all := []boxBans{of(nil, nil), of([]ban{a}, nil), of(nil, []ban{a}), of([]ban{a, b}, nil), of([]ban{a}, []ban{b}), of([]ban{b}, []ban{a})}
	for i, x := range all {
		for k, y := range all {
			if same := x.key() == y.key(); same != (i == k) {
				t.Errorf("%v and %v: the same %v", x, y, same)
			}
		}
	}
	a.why = "too near"
	if of([]ban{a}, nil).key() != all[1].key() {
		t.Error("told apart by why")
	}
}
