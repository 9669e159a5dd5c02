package search

import (
	"fmt"
	"math/rand/v2"
	"slices"
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
