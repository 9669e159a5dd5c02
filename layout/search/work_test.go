package search

import (
	"context"
	"fmt"
	"math"
	"testing"

	"stowbay/layout/electric"
	"stowbay/vehicles"
)

// By hand: what a limit cost a choice, in words. A ratio is told to three places, and so is what would read like its limit.
func TestLimitInWords(t *testing.T) {
	k := &task{module: &vehicles.Module{Name: "m"}}
	for _, c := range []struct {
		l     Limit
		e     excess
		ways  float64
		whole tally
		ended bool
		want  string
	}{
		{RearAxle, excess{RearAxle, 1020.26, 1000, "kg"}, 7, tally{All: 12}, true, "at least 7 of 12 arrangements; the nearest comes to 1020.3 kg where the limit is 1000.0 kg."},
		{RearAxle, excess{RearAxle, 1000.04, 1000, "kg"}, 12, tally{All: 12}, true, "all 12 arrangements; the nearest comes to 1000.040 kg where the limit is 1000.000 kg."},
		{RearAxle, excess{RearAxle, 1000.06, 1000, "kg"}, 12, tally{All: 12}, false, "at least 12 of 12 arrangements; the nearest comes to 1000.1 kg where the limit is 1000.0 kg."},
		{Stability, excess{Stability, 1.2, 1.25, ""}, 2e7, tally{All: 3e7}, true, "at least 20 million of 30 million arrangements; the nearest comes to 1.200 where the limit is 1.250."},
		{Stability, excess{Stability, 1, 1.25, ""}, 1, tally{All: 3}, true, "at least 1 of 3 arrangements; the nearest comes to 1.000 where the limit is 1.250."},
	} {
		got := k.limitWords(5, 2, c.l, &breaking{nearest: c.e, ways: c.ways}, c.whole, c.ended)
		if want := fmt.Sprintf("m, 5 in series, 2 in parallel: left out for the %s: %s", c.l, c.want); got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
	for n, want := range map[float64]string{9.9999e6: "9999900", 1e7: "10 million", 1.05e7: "10.5 million", 999.4999e6: "999 million", 999.6e6: "1.0 × 10^9", 3e100: "3.0 × 10^100"} {
		if got := Many(n); got != want {
			t.Errorf("%g: %q, not %q", n, got, want)
		}
	}
}

// Of a choice every limit that cost it anything is said once, in the order of their names, with what came nearest; that no set of boxes takes
// so many modules only where the choice was gone through and has no arrangement.
func TestWhatBecameOfAChoice(t *testing.T) {
	for _, c := range []struct {
		whole tally
		ended bool
		broke bool
		want  string
	}{
		{tally{All: 9, Limited: 9}, true, true, "[front axle all 4 rear axle all 5]"},
		{tally{All: 9, Limited: 9}, false, true, "[front axle 4 rear axle 5]"},
		{tally{All: 10, Limited: 9}, true, true, "[front axle 4 rear axle 5]"},
		{tally{All: 3}, true, false, "[]"}, {tally{All: 1}, true, false, "[]"}, {tally{}, true, false, "[room all 0]"}, {tally{}, false, false, "[]"},
	} {
		k := &task{module: &vehicles.Module{ID: "m", Name: "m"}}
		b := breaks{}
		if c.broke {
			b.add(excess{RearAxle, 900, 800, "kg"}, 5)
			b.add(excess{FrontAxle, 850, 800, "kg"}, 4)
		}
		k.concludeChoice(electric.Choice{Series: 4, Parallel: 2, Count: 8}, b, c.whole, c.ended)
		var got []string
		for _, e := range k.excluded {
			all := ""
			if e.All {
				all = "all "
			}
			got = append(got, fmt.Sprintf("%s %s%g", e.Limit, all, e.Arrangements))
			if actual := map[Limit]float64{RearAxle: 900, FrontAxle: 850, Room: 8}[e.Limit]; e.Series != 4 || e.Parallel != 2 || e.Module != "m" || e.Actual != actual {
				t.Errorf("%+v: %+v", c, e)
			}
		}
		if fmt.Sprint(got) != c.want {
			t.Errorf("%+v: %v, want %s", c, got, c.want)
		}
	}
}

// A unit is all choices of one number of modules, the most modules first; of a unit they keep their order.
func TestUnitsByNumberOfModules(t *testing.T) {
	k := &task{}
	for _, c := range [][2]int{{1, 4}, {2, 2}, {4, 1}, {1, 5}, {5, 1}, {1, 6}, {2, 3}} {
		k.choices = append(k.choices, electric.Choice{Series: c[0], Parallel: c[1], Count: c[0] * c[1]})
	}
	var got [][][2]int
	for _, u := range unitsOf(k) {
		var of [][2]int
		for _, c := range u.choices {
			of = append(of, [2]int{c.Series, c.Parallel})
		}
		got = append(got, of)
	}
	if want := "[[[1 6] [2 3]] [[1 5] [5 1]] [[1 4] [2 2] [4 1]]]"; fmt.Sprint(got) != want {
		t.Errorf("%v, not %s", got, want)
	}
}

// Every set of boxes of every choice is reported once as done, with what was found in it; a run that was called off says so.
func TestUnitsReportWhatTheyDid(t *testing.T) {
	for _, called := range []bool{false, true} {
		ctx, cancel := context.WithCancel(context.Background())
		if called {
			cancel()
		}
		y := newYard(t, []site{{-250, -300, 500, 1, 2, 1, false}, {1200, -450, 250, 2, 1, 1, false}, {2700, -300, 400, 1, 1, 1, false}}, block("b", 300, 150, 100, 14, 50, 400, vehicles.Flat))
		reports := 0
		empty := 0
		for _, u := range tasksOf(t, y)[0].units {
			done, found, members := 0, 0, 0
			stopped := u.run(ctx, func(n, more int) {
				done, found = done+n, found+more
				reports++
				if more == 0 {
					empty++
				}
			})
			for _, g := range u.groups {
				members += len(g.members)
			}
			if want := len(u.choices) * len(u.task.sets); stopped != called || u.ended == called || !called && (done != want || found != members) || called && done > 0 {
				t.Errorf("called off %v: stopped %v, ended %v, %d of %d done, %d of %d found", called, stopped, u.ended, done, want, found, members)
			}
		}
		if !called && (empty == 0 || reports == empty) {
			t.Errorf("%d reports, %d of them of nothing", reports, empty)
		}
		cancel()
	}
}

// What a group's tally says adds up: whatever was not looked at was beaten or broke a limit; choices heavier than the gross mass allows are
// cut off whole.
func TestTallyAddsUp(t *testing.T) {
	y := three(t)
	y.lib.Donor("yard-cart").Ratings.GrossKg = 1264 + 150 + 120 // 120 kg for boxes, gear and modules
	heavy := 0
	for _, k := range tasksOf(t, y) {
		for _, u := range k.units {
			u.run(context.Background(), func(int, int) {})
		}
		sum, groups := k.conclude()
		var all, members float64
		for _, u := range k.units {
			for i, s := range u.all {
				if s.All != s.Looked+s.Limited+s.Beaten {
					t.Errorf("%+v", s)
				}
				all += s.All
				broken := 0.0
				for l, b := range u.breaks[i] {
					broken += b.ways
					if l == Gross {
						heavy++
					}
				}
				if broken != s.Limited {
					t.Errorf("%g broke a limit, %g by limit", s.Limited, broken)
				}
			}
			for _, g := range u.groups {
				members += float64(len(g.members))
			}
		}
		if sum.All != all || math.IsNaN(all) || members > sum.Looked {
			t.Errorf("%+v, choice by choice %g, %g members", sum, all, members)
		}
		n := 0
		for _, g := range groups {
			n += len(g.members)
		}
		if float64(n) != members {
			t.Errorf("%d members concluded, %g found", n, members)
		}
	}
	if heavy == 0 {
		t.Error("nothing is too heavy")
	}
}
