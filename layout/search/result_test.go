package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// An arrangement found is named by its number from one on; where the plan has that name already, a number is put behind it.
func TestNamesOfArrangementsFound(t *testing.T) {
	for _, c := range []struct {
		has  []string
		i    int
		want string
	}{{nil, 0, "found-1"}, {nil, 7, "found-8"}, {[]string{"found-2"}, 0, "found-1"}, {[]string{"found-1"}, 0, "found-1-1"}, {[]string{"found-3", "found-3-1"}, 2, "found-3-2"}} {
		p := &layout.Plan{}
		for _, id := range c.has {
			p.Arrangements = append(p.Arrangements, &layout.Arrangement{ID: id})
		}
		if got := freshID(p, c.i); got != c.want {
			t.Errorf("beside %v: %s, want %s", c.has, got, c.want)
		}
	}
}

// By hand: three arrangements of 10, 20 and 12 kWh, 1400, 1500 and 1430 kg. From best to worst they have 1, 0 and 0.8 of the energy's range
// against them and 0, 1 and 0.3 of the mass's: 0.5, 0.5 and 0.55 in the mean, or weighted.
func TestRankByHand(t *testing.T) {
	r := Result{Objectives: []Objective{Energy, Mass, Boxes, Height}}
	for _, v := range [][3]float64{{10, 1400, -50}, {20, 1500, 600}, {12, 1430, -60}} {
		var f Found
		f.Values[Energy], f.Values[Mass], f.Values[Boxes], f.Values[LiveSteps] = v[0], v[1], 2, v[2]
		r.Found = append(r.Found, f)
	}
	lo, hi := r.ranges()
	if lo[Energy] != 10 || hi[Energy] != 20 || lo[Mass] != 1400 || hi[Mass] != 1500 || lo[Boxes] != 2 || hi[Boxes] != 2 || lo[LiveSteps] != -60 || hi[LiveSteps] != 600 {
		t.Errorf("from %v to %v", lo, hi)
	}
	for _, c := range []struct {
		w    Weights
		want string
	}{
		{nil, "[0 1 2]"}, {Weights{Energy: 1}, "[1 2 0]"}, {Weights{Mass: 1}, "[0 2 1]"}, {Weights{Energy: 2, Mass: 1}, "[1 2 0]"}, {Weights{Energy: 1, Mass: 2}, "[0 2 1]"},
		{Weights{Energy: 1, Mass: 1.02}, "[0 1 2]"}, {Weights{Energy: 1.02, Mass: 1}, "[1 0 2]"}, {Weights{Boxes: 1}, "[0 1 2]"}, {Weights{Energy: 1, Mass: 1.5}, "[0 2 1]"},
	} {
		if got := fmt.Sprint(r.Rank(c.w)); got != c.want {
			t.Errorf("%v: %s, want %s", c.w, got, c.want)
		}
	}
}

// A ranking goes by the weighted sum of what each objective lacks to the best, as a share of its range, on random figures.
func TestRankOnRandomFigures(t *testing.T) {
	rnd := rand.New(rand.NewPCG(45, 46))
	for range 100 {
		r := Result{Objectives: Objectives()}
		for range 2 + rnd.IntN(6) {
			var f Found
			for o := range f.Values {
				f.Values[o] = 100*rnd.Float64() - 50
			}
			r.Found = append(r.Found, f)
		}
		var w Weights
		if rnd.IntN(3) > 0 {
			w = Weights{Energy: rnd.Float64(), Mass: rnd.Float64(), Cost: rnd.Float64()}
		}
		lacks := func(i int) (sum float64) {
			for _, o := range Objectives() {
				best, worst := r.Found[0].Values[o], r.Found[0].Values[o]
				for k := range r.Found {
					v := r.Found[k].Values[o]
					if o == Energy && v > best || o != Energy && v < best {
						best = v
					}
					if o == Energy && v < worst || o != Energy && v > worst {
						worst = v
					}
				}
				weight := w[o]
				if w == nil {
					weight = 1
				}
				sum += weight * (r.Found[i].Values[o] - best) / (worst - best)
			}
			return sum
		}
		order := r.Rank(w)
		for i := 1; i < len(order); i++ {
			if a, b := lacks(order[i-1]), lacks(order[i]); a > b+1e-9 {
				t.Fatalf("%v: what lacks %g stands before what lacks %g", w, a, b)
			}
		}
		if slices.Sort(order); len(order) != len(r.Found) || order[0] != 0 || order[len(order)-1] != len(order)-1 {
			t.Fatalf("order of %v", order)
		}
	}
}

// By hand: how the modules stand in the boxes of an arrangement, in words.
func TestArrangementInWords(t *testing.T) {
	f := Found{Module: &vehicles.Module{ID: "nmc"}, Series: 14, Parallel: 2, Boxes: []InBox{
		{"a", 20, 20, "", Low}, {"b", 8, 9, vehicles.Side, Forward}, {"c", 0, 5, vehicles.Side, Low}, {"d", 1, 2, "", Centre}, {"e", 1, 1, vehicles.End, Rearward}, {"f", 0, 0, "", Low},
	}}
	if got, want := f.Name(), "nmc 14s 2p: 20 in a, full; 8 in b all on their sides, forward; none in c; 1 in d, to the centre plane; 1 in e all on their ends, full; none in f"; got != want {
		t.Errorf("%q, not %q", got, want)
	}
	if got, want := f.Short(), "nmc 14s2p: 20 + 8 + 0 + 1 + 1 + 0"; got != want {
		t.Errorf("%q, not %q", got, want)
	}
	v := Values{20.04, 1500.4, 1.26, 600.4, 0.34, 5.04, 2, 3, 900}
	if got, want := objectiveWords(v), "20.0 kWh, 1500 kg at kerb, front share 1.3 points off target, centre of gravity 600 mm high, side 0.3 points, about 5.0 m of cable, 2 boxes, 3 live steps."; got != want {
		t.Errorf("%q, not %q", got, want)
	}
}

// Cables and branches of the coolant that lead to a box left out go with it; others stay, and the arrangement they were taken from keeps its
// own.
func TestCablesToBoxesLeftOutGo(t *testing.T) {
	in, out := &layout.Box{ID: "in"}, &layout.Box{ID: "out"}
	cables := []layout.Cable{{From: "in/m1", To: "inverter"}, {From: "out/m1", To: "inverter"}, {From: "inverter", To: "out"}, {From: "outer", To: "in"}}
	for _, c := range []struct {
		boxes    []*layout.Box
		cables   int
		branches string
	}{{[]*layout.Box{in}, 2, "[[in] [in]]"}, {[]*layout.Box{in, out}, 4, "[[in out] [out] [in]]"}, {[]*layout.Box{out}, 2, "[[out] [out]]"}, {nil, 0, "[]"}} {
		from := layout.Arrangement{Cables: cables}
		from.Loop.Branches = []layout.LoopBranch{{Boxes: []string{"in", "out"}}, {Boxes: []string{"out"}}, {Boxes: []string{"in"}}}
		a := from
		a.Boxes = c.boxes
		dropDangling(&a, []*layout.Box{in, out})
		var branches [][]string
		for _, b := range a.Loop.Branches {
			branches = append(branches, b.Boxes)
		}
		if len(a.Cables) != c.cables || fmt.Sprint(branches) != c.branches {
			t.Errorf("%d boxes: %v, %v", len(c.boxes), a.Cables, branches)
		}
		if len(from.Cables) != 4 || fmt.Sprint(from.Loop.Branches[0].Boxes) != "[in out]" {
			t.Errorf("%d boxes: taken from %v", len(c.boxes), from)
		}
	}
}

// A figure found is that of the member's own masses and moments: by hand, of 1000 kg 480 stand on the rear axle, and 30 mm to the left on
// tracks of 1500 mm take 2 % of the mass from the right.
func TestFiguresOfAMember(t *testing.T) {
	k := &task{module: &vehicles.Module{ID: "m"}, on: active(nil, false), ground: &ground{target: 55, rules: &rules{wheels: wheels{base: 2500, front: 1500, rear: 1500, share: 0.5}}}}
	g := &group{task: k, subset: &subset{}, members: []member{{first: row{1000, 1000 * 1200, -1000 * 30, 1000 * 590}}}}
	g.values[Energy], g.values[Cost], g.values[Mass] = 20, 5000, 1000
	f := g.found(0)
	for o, want := range map[Objective]float64{FrontOff: 3, Height: 590, Side: 2, Energy: 20, Cost: 0, Mass: 1000} {
		if math.Abs(f.Values[o]-want) > 1e-9 {
			t.Errorf("%s: %g, not %g", o.Key(), f.Values[o], want)
		}
	}
	k.on = active(nil, true)
	if f := g.found(0); f.Values[Cost] != 5000 {
		t.Errorf("costs %g", f.Values[Cost])
	}
}
