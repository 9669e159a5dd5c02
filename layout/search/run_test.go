package search

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/electric"
	"stowbay/vehicles"
)

func found(t testing.TB, y *yard, o Options) Result {
	t.Helper()
	o.Packings = y.packings
	r, err := Run(context.Background(), y.plan, y.a, y.lib, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func three(t testing.TB) *yard {
	return newYard(t, []site{{-250, -300, 500, 1, 2, 2, false}, {1200, -450, 250, 2, 3, 1, false}, {2700, -300, 400, 1, 2, 2, true}},
		block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat, vehicles.Side), block("long", 600, 150, 100, 27, 100, 700, vehicles.Flat))
}

// The result does not depend on how many goroutines worked on it.
func TestSameResultAlways(t *testing.T) {
	y := three(t)
	names := func(r Result) (out []string) {
		for i := range r.Found {
			out = append(out, fmt.Sprint(r.Found[i].Name(), r.Found[i].Values))
		}
		for _, e := range r.Excluded {
			out = append(out, e.Text)
		}
		return out
	}
	one := names(found(t, y, Options{Workers: 1}))
	for range 3 {
		if d := cmp.Diff(one, names(found(t, y, Options{Workers: 4}))); d != "" {
			t.Fatal(d)
		}
	}
}

// What is opened is what was found: counts, electrics and masses, the last within what routed cables and links weigh
// more or less than estimated ones.
func TestOpen(t *testing.T) {
	y := three(t)
	r := found(t, y, Options{})
	ids := map[string]bool{}
	for i := range r.Found {
		f := &r.Found[i]
		a := r.Open(i)
		e := check.Evaluate(y.plan, a, y.lib, nil)
		if len(e.Scene.Missing) > 0 || ids[a.ID] {
			t.Fatal(a.ID, e.Scene.Missing)
		}
		ids[a.ID] = true
		n := 0
		for _, b := range f.Boxes {
			if got := len(a.Box(b.Box).Modules); got != b.Modules || got > b.Most {
				t.Errorf("%s: %d in %s, %+v found", f.Name(), got, b.Box, b)
			}
			n += b.Modules
		}
		if n != f.Series*f.Parallel || e.Electric.Series != f.Series || e.Electric.Parallel != f.Parallel || len(a.Boxes) != int(f.Values[Boxes]) {
			t.Errorf("%s: %d modules in %d boxes make %d x %d", f.Name(), n, len(a.Boxes), e.Electric.Series, e.Electric.Parallel)
		}
		for key, c := range map[string]struct{ got, within float64 }{
			"energy_kwh": {f.Values[Energy], 1e-9}, "mass_kg": {f.Values[Mass], 8}, "cg_mm.z": {f.Values[Height], 4},
		} {
			if v := e.Value(key); math.Abs(v-c.got) > c.within {
				t.Errorf("%s: %s is %.2f when opened, %.2f found", f.Name(), key, v, c.got)
			}
		}
		if v := math.Abs(e.Mass.Cases[0].Now.FrontSharePct.Value - r.TargetPct); math.Abs(v-f.Values[FrontOff]) > 0.5 {
			t.Errorf("%s: front share %.2f points off when opened, %.2f found", f.Name(), v, f.Values[FrontOff])
		}
	}
	if len(ids) < 5 {
		t.Errorf("only %d found", len(ids))
	}
}

// No arrangement stays in which a module rests on one that was taken out.
func TestModulesKeepTheirSupport(t *testing.T) {
	y := three(t)
	r := found(t, y, Options{})
	for i := range r.Found {
		e := check.Evaluate(y.plan, r.Open(i), y.lib, nil)
		for _, f := range e.Findings {
			if f.Rule == "fit.support" && f.Severity == check.Fails {
				t.Errorf("%s: %s", r.Found[i].Name(), f.Text)
			}
		}
	}
}

// A push takes out first what is farthest from its goal.
func TestPushes(t *testing.T) {
	y := newYard(t, []site{{1000, -300, 300, 3, 3, 2, false}}, block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat))
	k := tasksOf(t, y)[0]
	var nine []load
	for _, push := range k.pushes {
		b := k.ground.sceneWith(k.full[0], nil).Boxes[0]
		nine = append(nine, loadsOf(b, rowsOf(b), push)[9])
	}
	for p, push := range k.pushes {
		half := nine[p].first
		x, z := half[1]/half[0], half[3]/half[0]
		for q, other := range k.pushes {
			o := nine[q].first
			switch {
			case push == Forward && x > o[1]/o[0]+1e-9, push == Rearward && x < o[1]/o[0]-1e-9, push == Low && z > o[3]/o[0]+1e-9:
				t.Errorf("%s: centre at x %.0f, z %.0f; %s does better", push, x, z, other)
			}
		}
		if slices.Equal(nine[p].kept, nine[(p+1)%4].kept) {
			t.Errorf("%s keeps what %s keeps", push, k.pushes[(p+1)%4])
		}
	}
	if n := len(k.free[0].of(9)); n != 4 {
		t.Errorf("%d ways to place nine modules", n)
	}
	if n := len(k.free[0].of(18)); n != 1 {
		t.Errorf("%d ways to fill the box", n)
	}
}

func rowsOf(b *layout.BoxScene) []row {
	var out []row
	for _, m := range b.Modules {
		out = append(out, pointRow(1, m.CG))
	}
	return out
}

func TestCancel(t *testing.T) {
	y := big(t, 6, 6)
	ctx, cancel := context.WithCancel(context.Background())
	var calls atomic.Int64
	var ended time.Time
	r, err := Run(ctx, y.plan, y.a, y.lib, y.options(), func(p Progress) {
		if p.Stage == "comparing" && calls.Add(1) == 2 {
			ended = time.Now()
			cancel()
		}
	})
	if err != nil || !r.Stopped || r.Complete {
		t.Fatalf("%v, stopped %v, complete %v", err, r.Stopped, r.Complete)
	}
	t.Logf("stopped after %v with %d found", time.Since(ended), len(r.Found))
}

func TestProgressIsOrderly(t *testing.T) {
	y := three(t)
	var busy atomic.Int32
	last := Progress{}
	_, err := Run(context.Background(), y.plan, y.a, y.lib, y.options(), func(p Progress) {
		if busy.Add(1) != 1 {
			t.Error("two reports at once")
		}
		if p.Done > p.Total || p.Elapsed < last.Elapsed {
			t.Errorf("%+v after %+v", p, last)
		}
		last = p
		busy.Add(-1)
	})
	if err != nil || last.Stage != "comparing" || last.Done != last.Total {
		t.Errorf("%v, the last report is %+v", err, last)
	}
}

// Less of an objective that weighs everything comes first.
func TestRank(t *testing.T) {
	r := found(t, three(t), Options{})
	for _, o := range r.Objectives {
		order := r.Rank(Weights{o: 1})
		for n := 1; n < len(order); n++ {
			a, b := r.Found[order[n-1]].Values[o], r.Found[order[n]].Values[o]
			if o.More() && a < b-1e-12 || !o.More() && a > b+1e-12 {
				t.Fatalf("%s: %g stands before %g", o.Key(), a, b)
			}
		}
	}
}

// With strict limits nothing is left that warns of the donor's split, side, height or stability.
func TestStrict(t *testing.T) {
	y := three(t)
	y.plan.Settings.Mass.CGRiseMM, y.plan.Settings.Mass.SplitBandPct = 20, 4.5
	r := found(t, y, Options{Strict: true})
	all := found(t, y, Options{})
	if len(r.Found) == 0 || r.Tally.Limited <= all.Tally.Limited {
		for _, e := range r.Excluded {
			t.Log(e.Text)
		}
		t.Fatalf("strict leaves %d and cuts %v, otherwise %v", len(r.Found), r.Tally, all.Tally)
	}
	for i := range r.Found {
		if v := r.Found[i].Values; v[Side] > 2 || v[FrontOff] > 4.5 || v[Height] > 610+20 {
			t.Errorf("%s: %v", r.Found[i].Name(), v)
		}
	}
}

func TestNothingToSearch(t *testing.T) {
	for name, spoil := range map[string]func(*yard, *Options){
		"unknown module": func(_ *yard, o *Options) { o.Modules = []string{"nowhere"} },
		"unknown push":   func(_ *yard, o *Options) { o.Pushes = []Push{"up"} },
		"no module":      func(y *yard, _ *Options) { y.plan.Settings.Search.Modules = nil },
		"no donor":       func(y *yard, _ *Options) { y.plan.Donor = "nobody" },
		"no boxes":       func(y *yard, _ *Options) { y.a.Boxes = nil },
	} {
		y := three(t)
		o := Options{Packings: y.packings}
		spoil(y, &o)
		if _, err := Run(context.Background(), y.plan, y.a, y.lib, o, nil); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// A locked box stays as it is in everything found.
func TestLockedBox(t *testing.T) {
	y := three(t)
	b := y.a.Boxes[1]
	b.Locked = true
	b.Modules = y.packings.Of(b, Stance{Module: y.modules[0]}).Placements[:2]
	y.packings = NewPackings()
	for i, o := range y.a.Boxes {
		if i != 1 {
			for _, m := range y.modules {
				for _, s := range stances(m) {
					y.packings.Put(o, s, rowsIn(m, s, 300, 300, 200))
				}
			}
		}
	}
	r := found(t, y, Options{})
	if len(r.Found) == 0 {
		t.Fatal("nothing found")
	}
	for i := range r.Found {
		if got := r.Open(i).Box("box-2").Modules; !slices.Equal(got, b.Modules) || r.Found[i].Module != y.modules[0] {
			t.Errorf("%s: %v in the locked box", r.Found[i].Name(), got)
		}
	}
}

func TestNumbersOfArrangements(t *testing.T) {
	for n, want := range map[float64]string{0: "0", 9999999: "9999999", 12345678: "12.3 million", 250e6: "250 million", 999.4e6: "999 million",
		999.9e6: "1.0 × 10^9", 2.46e12: "2.5 × 10^12", 9.99e12: "1.0 × 10^13"} {
		if got := Many(n); got != want {
			t.Errorf("%g: %q, not %q", n, got, want)
		}
	}
}

// That a limit leaves out all of a choice is said only of one that was gone through to its end.
func TestAllLeftOutOnlyAtTheEnd(t *testing.T) {
	for _, ended := range []bool{true, false} {
		k := &task{module: &vehicles.Module{Name: "m"}}
		b := breaks{}
		b.add(excess{Gross, 2100, 2050, "kg"}, 5)
		k.concludeChoice(electric.Choice{Series: 4, Parallel: 1}, b, tally{All: 5, Limited: 5}, ended)
		if e := k.excluded[0]; e.All != ended || strings.Contains(e.Text, "all 5 arrangements") != ended {
			t.Errorf("ended %v: all %v, %s", ended, e.All, e.Text)
		}
	}
}

// Packing reports every box with every stance, one after the other, packed before or not.
func TestPackingReportsBoxByBox(t *testing.T) {
	y := three(t)
	ss := stances(y.modules[0])
	var got, want [][2]int
	if !y.packings.pack(context.Background(), y.a.Boxes, ss, y.lib, 0, func(n, of int) { got = append(got, [2]int{n, of}) }) {
		t.Error("cut short")
	}
	for i := range 3 * len(ss) {
		want = append(want, [2]int{i + 1, 3 * len(ss)})
	}
	if len(ss) != 3 || !slices.Equal(got, want) {
		t.Errorf("reported %v", got)
	}
}
