package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"stowbay/layout/check"
	"stowbay/vehicles"
)

// After halving, no point in front is greater along the axis than one behind.
func TestHalve(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	for n := 1; n < 60; n++ {
		for axis := range 3 {
			ps := make([]point, n)
			for i := range ps {
				ps[i].at[axis] = float64(r.IntN(20))
			}
			k := r.IntN(n)
			halve(ps, k, axis)
			for _, a := range ps[:k] {
				for _, b := range ps[k:] {
					if a.at[axis] > b.at[axis] {
						t.Fatalf("%d of %d along axis %d: %g in front of %g", k, n, axis, a.at[axis], b.at[axis])
					}
				}
			}
		}
	}
}

// Ways add up by limit, and the breach nearest to its limit is kept.
func TestBreaksAddUp(t *testing.T) {
	b := breaks{}
	for _, actual := range []float64{1100, 1020, 1300} {
		b.add(excess{limit: FrontAxle, actual: actual, need: 1000}, 3)
	}
	b.add(excess{limit: RearAxle, actual: 900, need: 800}, 2)
	if f, r := b[FrontAxle], b[RearAxle]; f.ways != 9 || f.nearest.actual != 1020 || r.ways != 2 {
		t.Errorf("%+v, %+v", f, r)
	}
}

// What was found stands with the most energy first, and of what is alike in that, the lightest, and so on.
func TestFoundInOrder(t *testing.T) {
	y := three(t)
	r := found(t, y, Options{})
	for i := 1; i < len(r.Found); i++ {
		for o := range objectives {
			a, b := r.Resolution.rounded(Objective(o), r.Found[i-1].Values[o]), r.Resolution.rounded(Objective(o), r.Found[i].Values[o])
			if a > b {
				t.Errorf("%s stands before %s, which is better in objective %d", r.Found[i-1].Name(), r.Found[i].Name(), o)
			}
			if a != b {
				break
			}
		}
	}
	if len(r.Found) < 5 {
		t.Errorf("only %d found", len(r.Found))
	}
}

// Coolant in the modules' plates is weighed with them.
func TestCoolantIsFound(t *testing.T) {
	wet := block("wet", 300, 150, 100, 14, 50, 400, vehicles.Flat)
	wet.Cooling = vehicles.Cooling{Kind: "plate", ChannelMM: 8, ChannelLenMM: 1000, Channels: 2, VolumeL: 3, WPerK: 50}
	y := newYard(t, []site{{-250, -300, 500, 1, 2, 2, false}, {1200, -450, 250, 2, 3, 1, false}}, wet)
	r := found(t, y, Options{})
	for i := range r.Found {
		e := check.Evaluate(y.plan, r.Open(i), y.lib, nil)
		if v := e.Value("mass_kg"); math.Abs(v-r.Found[i].Values[Mass]) > 8 {
			t.Errorf("%s: %.1f kg when opened, %.1f found", r.Found[i].Name(), v, r.Found[i].Values[Mass])
		}
	}
	if len(r.Found) == 0 {
		t.Error("nothing is found")
	}
}

// Arrangements are told apart in steps of 0.1 kWh, points and metres and of one kilogram, millimetre and unit of money; counts that
// differ by one are never alike. A step that is stated is kept.
func TestStepsOfTheObjectives(t *testing.T) {
	var stated Resolution
	stated[Mass], stated[Height] = 5, -1
	got, kept := Resolution{}.filled(), stated.filled()
	for i, step := range []float64{0.1, 1, 0.1, 1, 0.1, 0.1, 1, 1, 1} {
		o := Objective(i)
		if got[o] != step || o != Mass && kept[o] != step {
			t.Errorf("%s is told apart by %g and %g, not %g", o.Key(), got[o], kept[o], step)
		}
		for n := range 40 {
			a, b := got.rounded(o, float64(n)*step), got.rounded(o, float64(n+1)*step)
			if want := int32(1); !o.More() && b-a != want || o.More() && a-b != want {
				t.Errorf("%s: %d and %d steps are rounded to %d and %d", o.Key(), n, n+1, a, b)
			}
		}
	}
	if kept[Mass] != 5 {
		t.Errorf("masses are told apart by %g kg, not the 5 stated", kept[Mass])
	}
}
