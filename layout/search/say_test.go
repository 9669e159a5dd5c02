package search

import (
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"stowbay/layout"
	"stowbay/vehicles"
)

// What is said of a box, taken apart again, is what was judged, count by count: a count of which every way is left out is said without a
// push, any other with each push of its ways that are left out, and nothing else is said.
func TestWhatIsSaidOfABoxIsWhatWasJudged(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	pushes := []Push{Low, Forward, Rearward, Centre}
	whole, pushed, clean := 0, 0, 0
	for range 500 {
		k := &task{module: &vehicles.Module{}, ground: &ground{boxes: []*layout.Box{{ID: "box"}}}, pushes: pushes, stances: []Stance{{Module: &vehicles.Module{Name: "a"}}, {Module: &vehicles.Module{Name: "b"}}}}
		bad := map[[3]int]bool{} // by count, stance and push
		has := map[[3]int]bool{}
		var all []option
		for n := 1; n < 7; n++ {
			odds := r.IntN(4)
			for stance := range 2 {
				for push := range pushes {
					if r.IntN(3) == 0 {
						continue
					}
					at := [3]int{n, stance, push}
					has[at], bad[at] = true, r.IntN(3) < odds
					all = append(all, option{first: row{float64(n), float64(len(all))}, kept: make([]int, n), stance: stance, push: push})
				}
			}
		}
		b := bayOf(0, 1, 6, all)
		k.say(b, 1, "", func(i int) (hit, bool) {
			o := &b.all[i]
			return hit{excess{Creepage, 1, 2, "mm"}, "too near"}, bad[[3]int{len(o.kept), o.stance, o.push}]
		})
		var got, want []string
		for _, e := range k.excluded {
			if len(e.Counts) == 0 || e.Limit != Creepage || e.Actual != 1 || e.Need != 2 || e.Unit != "mm" {
				t.Fatalf("%+v", e)
			}
			for _, n := range e.Counts {
				got = append(got, fmt.Sprint(n, " ", e.Push))
			}
		}
		for n := 1; n < 7; n++ {
			ways, out := 0, []string(nil)
			for p, push := range pushes {
				if at := [3]int{n, 1, p}; has[at] {
					ways++
					if bad[at] {
						out = append(out, fmt.Sprint(n, " ", push))
					}
				}
			}
			switch {
			case len(out) == 0:
				clean++
			case len(out) == ways:
				out = []string{fmt.Sprint(n, " ")}
				whole++
			default:
				pushed++
			}
			want = append(want, out...)
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Fatalf("said of %q, judged %q", got, want)
		}
	}
	if min(whole, pushed, clean) < 100 {
		t.Errorf("drawn too one-sidedly: %d whole, %d by push, %d clean", whole, pushed, clean)
	}
}

// Every order of up to seven boxes is tried; of eight the result says that it was not.
func TestOnlyMoreThanSevenBoxesAreRemarked(t *testing.T) {
	for n := 1; n < 10; n++ {
		boxes := make([]*layout.Box, n)
		for i := range boxes {
			boxes[i] = &layout.Box{ID: fmt.Sprint("box-", i+1)}
		}
		k := &runner{ground: &ground{boxes: boxes, blocked: make([]string, n), always: make([]bool, n)}, options: &Options{Objectives: []Objective{Energy}}}
		var out Result
		k.remark(&out, nil)
		if remarked := len(out.Remarks) > 0; remarked != (n > 7) || !out.Complete {
			t.Errorf("%d boxes: %q, complete %v", n, out.Remarks, out.Complete)
		}
	}
}

// Progress is passed on where the last report is long ago and kept back where it is not, but for the end of a stage.
func TestProgressIsKeptBackBetweenReports(t *testing.T) {
	now := time.Now()
	for _, c := range []struct {
		last time.Time
		done int
		said bool
	}{{time.Time{}, 1, true}, {now.Add(-time.Hour), 1, true}, {now.Add(time.Hour), 1, false}, {now.Add(time.Hour), 5, true}, {now.Add(-time.Hour), 5, true}} {
		var got []Progress
		r := reporter{to: func(p Progress) { got = append(got, p) }, start: now, last: c.last}
		r.say("packing", c.done, 5, 2)
		if said := len(got) > 0; said != c.said {
			t.Errorf("%d of 5, the last report at %v: said %v", c.done, c.last, said)
		}
		if c.said && (got[0].Stage != "packing" || got[0].Done != c.done || got[0].Total != 5 || got[0].Found != 2 || r.last.Before(now)) {
			t.Errorf("%+v, the last report at %v", got[0], r.last)
		}
	}
}

// Reports come no more often than every 50 ms: one that follows sooner is kept back, one that follows later is passed on. Which the clock makes
// of one attempt is left open, of twenty it is not.
func TestReportsAreFiftyMillisecondsApart(t *testing.T) {
	said := func(after time.Duration) (n int) {
		for range 20 {
			r := reporter{to: func(Progress) { n++ }, last: time.Now().Add(-after)}
			r.say("packing", 1, 5, 0)
		}
		return n
	}
	if n := said(50*time.Millisecond + time.Microsecond); n != 20 {
		t.Errorf("%d of 20 reports passed on after 50 ms", n)
	}
	if n := said(20 * time.Millisecond); n == 20 {
		t.Error("no report kept back after 20 ms")
	}
}

// While boxes are packed nothing is found yet.
func TestNothingIsFoundWhilePacking(t *testing.T) {
	y := newYard(t, []site{{-250, -300, 500, 1, 2, 1, false}, {1200, -450, 250, 2, 1, 1, false}}, block("b", 300, 150, 100, 14, 50, 400, vehicles.Flat))
	last := map[string]Progress{}
	_, err := Run(context.Background(), y.plan, y.a, y.lib, y.options(), func(p Progress) { last[p.Stage] = p })
	if p := last["packing"]; err != nil || p.Done != 2 || p.Total != 2 || p.Found != 0 {
		t.Errorf("%v, %+v", err, p)
	}
	if p := last["comparing"]; p.Done != p.Total || p.Found == 0 {
		t.Errorf("%+v", p)
	}
}

// Searches run on as many workers as are stated, on one a core where none are. Each number is called for once, whatever the workers.
func TestWorkers(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(3))
	for stated, want := range map[int]int{0: 3, -1: 3, 1: 1, 2: 2, 5: 5} {
		for range 2 {
			if got := (&runner{options: &Options{Workers: stated}}).workers(); got != want {
				t.Errorf("%d stated: %d", stated, got)
			}
		}
		for _, n := range []int{0, 1, 4, 17} {
			called := make([]atomic.Int32, n)
			var busy, most atomic.Int32
			each(n, stated, func(i int) {
				busy.Add(1)
				for range 50 { // so that every other worker gets a turn
					runtime.Gosched()
					most.Store(max(most.Load(), busy.Load()))
				}
				called[i].Add(1)
				busy.Add(-1)
			})
			for i := range called {
				if called[i].Load() != 1 {
					t.Errorf("%d workers call %d of %d %d times", stated, i, n, called[i].Load())
				}
			}
			if int(most.Load()) > max(stated, 1) {
				t.Errorf("%d workers, %d at once", stated, most.Load())
			}
		}
	}
}

// Module types are searched by how many of them go into the boxes, fewest first; of those that are alike the first stays first.
func TestFewestModulesFirst(t *testing.T) {
	a, b, c, d := &task{most: []int{3, 4}}, &task{most: []int{9}}, &task{most: []int{2, 2, 3}}, &task{most: []int{8, 0}}
	if got := fewestModulesFirst([]*task{b, a, d, c}); !slices.Equal(got, []*task{a, c, d, b}) {
		t.Errorf("%v", got)
	}
}

// Of what is not beaten, the most energy comes first, of the same energy in steps the lightest; what is alike in all stays in the order of the
// groups.
func TestGatheredInOrder(t *testing.T) {
	k := &task{module: &vehicles.Module{ID: "m"}, on: active(nil, false), ground: &ground{target: 55, rules: &rules{wheels: wheels{base: 2500, front: 1500, rear: 1500, share: 0.5}}}}
	var groups []*group
	for i, v := range [][2]float64{{20, 1450}, {20.01, 1400}, {30, 1500}, {20, 1400.1}, {9, 1000}} {
		g := &group{task: k, subset: &subset{}, members: []member{{first: row{v[1], v[1] * 1200, 0, v[1] * 600}}, {first: row{v[1], v[1] * 1200, 0, v[1] * 700}}}}
		g.values[Energy], g.values[Mass], g.choice.Series = v[0], v[1], i
		groups = append(groups, g)
	}
	out := Result{Resolution: Resolution{}.filled()}
	out.gather(groups, [][]bool{{false, false}, {false, true}, {true, false}, {false, false}, {true, true}})
	var got []string
	for i := range out.Found {
		got = append(got, fmt.Sprint(out.Found[i].Series, out.Found[i].member))
	}
	if want := "[2 1 1 0 3 0 3 1 0 0 0 1]"; fmt.Sprint(got) != want {
		t.Errorf("%v, not %s", got, want)
	}
}

// A way to use a box that a ban hits is said of with the first ban that does, be it the first of all.
func TestWhatIsSaidOfBans(t *testing.T) {
	k := &task{module: &vehicles.Module{}, ground: &ground{boxes: []*layout.Box{{ID: "box"}}}, pushes: []Push{Low}, stances: []Stance{{Module: &vehicles.Module{Name: "m"}}}}
	k.free = []*bay{bayOf(0, 1, 3, []option{{first: row{1}, kept: []int{0}}, {first: row{2}, kept: []int{1, 2}}, {first: row{3}, kept: []int{0, 1, 2}}})}
	k.sayBans(boxBans{{{{[]int{0}, excess{Clearance, 1, 5, "mm"}, "first"}, {[]int{1, 2}, excess{Clearance, 2, 5, "mm"}, "second."}}}}, "at 5 in series, ")
	var got []string
	for _, e := range k.excluded {
		got = append(got, fmt.Sprint(e.Text, e.Counts, e.Actual, e.Need))
	}
	if want := []string{"m, at 5 in series, 1 to 3 modules in box box: left out for the clearance: first.[1 2 3] 1 5"}; !slices.Equal(got, want) {
		t.Errorf("%q, not %q", got, want)
	}
	k.excluded = nil
	k.sayBans(boxBans{{{{[]int{3}, excess{}, "third"}}}}, "")
	if len(k.excluded) != 0 {
		t.Errorf("of a ban that hits nothing: %+v", k.excluded)
	}
}
