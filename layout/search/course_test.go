package search

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Steps a kg mm are what a load of a kilogram makes that is moved by a millimetre: so much the front share, the side and the height change
// by, for a vehicle of the donor's mass. An even roll share splits a moment between equal tracks alike.
func TestStepsOfAMoment(t *testing.T) {
	y := three(t)
	k := tasksOf(t, y)[0]
	k.ground.rules.wheels = wheels{base: 2800, front: 1460, rear: 1460, share: 0.5}
	w := &k.ground.rules.wheels
	k.steps[FrontOff], k.steps[Side], k.steps[Height] = 0.2, 0.5, 3
	kg := k.ground.bare.Now.Kg.Value
	v := row{kg, kg * 1300, kg * 10, kg * 560}
	moved := row{kg, v[1] + 1, v[2] + 1, v[3] + 1}
	want := moments{
		(w.frontPct(&v) - w.frontPct(&moved)) / 0.2,
		(w.sidePct(kg, moved[2], 0.5) - w.sidePct(kg, v[2], 0.5)) / 0.5,
		(moved[3] - v[3]) / kg / 3,
	}
	got := k.perMoment()
	for i := range want {
		if math.Abs(got[i]/want[i]-1) > 1e-5 {
			t.Errorf("axis %d: %g steps a kg mm, not %g", i, got[i], want[i])
		}
	}
	k.on[Side] = false
	if less := k.perMoment(); less[0] != got[0] || less[1] > got[1]/10 || less[1] <= 0 || less[2] != got[2] {
		t.Errorf("without the side %v, with it %v", less, got)
	}
}

// What boxes still to be settled can add is counted and spanned here way by way, for sets of up to six boxes: the boxes with most options are left
// for the two pools, and at most four are.
func TestWhatTheRestCanAdd(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	k := &task{per: moments{0.5, 4, 2}, slopes: slopesOf(moments{1, 0, 5})}
	for range 40 {
		f := &field{task: k, pools: map[[2]int]*lazy[*pool]{}}
		var boxes []int
		for i := range 1 + r.IntN(6) {
			f.bays = append(f.bays, someBay(r, i, r.IntN(2), 1+r.IntN(2)))
			boxes = append(boxes, i)
		}
		c := f.courseOf(&subset{boxes: boxes})
		inner := slices.Concat(c.a.bays, c.b.bays)
		if len(inner) != min(4, len(boxes)) || len(c.outer)+len(inner) != len(boxes) || len(c.b.bays)-len(c.a.bays) > 1 || len(c.a.bays) > len(c.b.bays) {
			t.Fatalf("%d boxes: %d outside, %d and %d in the pools", len(boxes), len(c.outer), len(c.a.bays), len(c.b.bays))
		}
		for _, o := range c.outer {
			for _, b := range inner {
				if len(o.all) > len(b.all) {
					t.Fatalf("a box with %d ways outside, one with %d in a pool", len(o.all), len(b.all))
				}
			}
		}
		for n := range c.rests {
			want := combined(slices.Concat(c.outer[n:], inner)...)
			for left := range 20 {
				var got rest
				if left < len(c.rests[n]) {
					got = c.rests[n][left]
				}
				s := spanned(&k.slopes, want[left])
				if got.ways != float64(len(want[left])) || got.ways > 0 && !got.near(&s) {
					t.Fatalf("%d settled, %d modules left: %+v, way by way %d that span %+v", n, left, got, len(want[left]), s)
				}
				if whole, ok := c.whole(left); n == 0 && (ok != (len(want[left]) > 0) || whole.ways != got.ways && ok) {
					t.Fatalf("%d modules in all: %+v, %v", left, whole, ok)
				}
			}
		}
	}
}
