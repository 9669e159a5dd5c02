package search

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// wetBlock is a block with a plate for coolant.
func wetBlock(id string, litres float64) *vehicles.Module {
	m := block(id, 300, 150, 100, 14, 50, 400, vehicles.Flat, vehicles.Side)
	m.Cooling = vehicles.Cooling{Kind: "plate", ChannelMM: 8, ChannelLenMM: 1000, Channels: 2, VolumeL: litres, WPerK: 50}
	return m
}

// weighed is a vehicle with some ways to use a set of boxes as layout/mass has it, and a link on top of each module.
func weighed(k *task, boxes []int, ways []*option, linkKg float64) row {
	var in []*layout.Box
	for i, b := range boxes {
		one := *k.ground.boxes[b]
		one.Modules = k.placed(b, ways[i])
		in = append(in, &one)
	}
	r := mass.Evaluate(k.ground.sceneWith(in, nil), noCables, nil)
	at := r.Now
	sum := row{at.Kg.Value, at.Kg.Value * at.X.Value, at.Kg.Value * at.Y.Value, at.Kg.Value * at.Z.Value}
	r.Scene.Bodies(func(_ *layout.BoxScene, m *layout.Body) {
		p := r3.Vector{X: m.CG.X, Y: m.CG.Y, Z: m.Prism.Top}
		for i, v := range [4]float64{1, p.X, p.Y, p.Z} {
			sum[i] += linkKg * v
		}
	})
	return sum
}

// A set of boxes with its gear and hoses, and the modules of a way to use each box with their coolant and links, add up to the vehicle as
// layout/mass weighs it. By hand: a link of 150 mm and 50 mm2 of copper at 8.89 kg a litre (IEC 60028, from memory) weighs 0.0667 kg, one of
// 120 mm2 0.160 kg.
func TestWaysToUseBoxesAddUpToTheVehicle(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	for _, c := range []struct{ litres, mm2, linkKg float64 }{{3, 0, 0.0667}, {0, 120, 0.1600}} {
		m := wetBlock("wet", c.litres)
		if c.litres == 0 {
			m.Cooling = vehicles.Cooling{}
		}
		y := newYard(t, []site{{-250, -300, 500, 1, 2, 2, false}, {1200, -450, 250, 2, 3, 1, true}, {2700, -300, 400, 1, 1, 1, false}}, m)
		y.plan.Settings.Electric.LinkMM2 = c.mm2
		k := tasksOf(t, y)[0]
		if got := k.linkKg(); math.Abs(got/c.linkKg-1) > 0.002 {
			t.Errorf("a link of %g mm2 weighs %g kg", c.mm2, got)
		}
		if len(k.sets) != 4 { // the second box always stays
			t.Fatalf("sets %v", k.sets)
		}
		for n, boxes := range k.sets {
			for range 12 {
				sum := k.subset(n).base
				var ways []*option
				count := 0
				for _, b := range boxes {
					all := k.free[b].all
					ways = append(ways, &all[r.IntN(len(all))])
					sum = sum.plus(ways[len(ways)-1].first, 1)
					count += len(ways[len(ways)-1].kept)
				}
				if count == 0 {
					continue
				}
				want := weighed(k, boxes, ways, k.linkKg())
				if len(boxes) > 1 && slices.ContainsFunc(ways, func(o *option) bool { return len(o.kept) == 0 }) {
					continue // no hoses lead to a box without modules
				}
				for i := range sum {
					if math.Abs(sum[i]-want[i]) > 1e-6*max(1, math.Abs(want[i])) {
						t.Fatalf("boxes %v, %g litres: %v, weighed %v", boxes, c.litres, sum, want)
					}
				}
				if got := sum[0] - k.subset(n).base[0]; math.Abs(got-float64(count)*k.moduleKg) > 1e-9 {
					t.Fatalf("%d modules weigh %g kg, %g kg each", count, got, k.moduleKg)
				}
			}
		}
	}
}

// A single module that fits is weighed with its link.
func TestOneModuleIsWeighed(t *testing.T) {
	y := newYard(t, []site{{-250, -300, 500, 1, 1, 1, false}}, block("b", 300, 150, 100, 14, 50, 1, vehicles.Flat))
	if k := tasksOf(t, y)[0]; math.Abs(k.moduleKg-14.0667) > 2e-4 {
		t.Errorf("%g kg", k.moduleKg)
	}
}

// The coolant of a module is the mean over all that have some; lines of other groups and of the vehicle's own hoses do not count.
func TestCoolantOfAModule(t *testing.T) {
	y := newYard(t, []site{{-250, -300, 500, 1, 2, 2, false}, {1200, -450, 250, 2, 3, 1, false}}, wetBlock("wet", 3))
	k := tasksOf(t, y)[0]
	scene := func(n, m int) *layout.Scene {
		boxes := slices.Clone(k.full[0])
		for i, c := range []int{n, m} {
			one := *boxes[i]
			one.Modules = one.Modules[:c]
			boxes[i] = &one
		}
		return k.ground.sceneWith(boxes, nil)
	}
	kg := func(n, m int) float64 { return mass.Evaluate(scene(n, m), noCables, nil).Now.Kg.Value }
	for _, c := range [][2]int{{1, 0}, {1, 1}, {3, 1}, {4, 6}} {
		if got, want := k.coolantKg(mass.Evaluate(scene(c[0], c[1]), noCables, nil)), kg(2, 3)-kg(1, 3)-14; math.Abs(got-want) > 1e-9 || got < 3 || got > 3.4 {
			t.Errorf("%v modules: %g kg of coolant each, by one more of them %g", c, got, want)
		}
	}
	if got := k.coolantKg(mass.Evaluate(scene(0, 0), noCables, nil)); got != 0 {
		t.Errorf("%g kg of coolant in no module", got)
	}
}

// A set of boxes is searched where it has every box that always stays, none that takes no module unless it stays, and no two that stand in
// each other unless both stay; smaller sets first. Counted by hand from all sets.
func TestSetsOfBoxesOneByOne(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 44))
	for range 300 {
		n := 1 + r.IntN(5)
		k := &task{free: make([]*bay, n), most: make([]int, n), ground: &ground{always: make([]bool, n)}}
		for b := range n {
			k.most[b], k.ground.always[b] = r.IntN(3), r.IntN(4) == 0
			for c := range b {
				if r.IntN(5) == 0 {
					k.ground.clashes = append(k.ground.clashes, [2]int{b, c})
				}
			}
		}
		var want []string
		var choose func(b int, in []int)
		choose = func(b int, in []int) {
			if b < n {
				if !k.ground.always[b] {
					choose(b+1, in)
				}
				if k.ground.always[b] || k.most[b] > 0 {
					choose(b+1, append(slices.Clone(in), b))
				}
				return
			}
			for _, c := range k.ground.clashes {
				if slices.Contains(in, c[0]) && slices.Contains(in, c[1]) && (!k.ground.always[c[0]] || !k.ground.always[c[1]]) {
					return
				}
			}
			if len(in) > 0 {
				want = append(want, fmt.Sprint(in))
			}
		}
		choose(0, nil)
		var got []string
		last := 0
		for _, s := range k.setsOfBoxes() {
			if len(s) < last {
				t.Fatalf("%v comes after a set of %d", s, last)
			}
			last = len(s)
			got = append(got, fmt.Sprint(s))
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Fatalf("boxes take %v, always %v, clashes %v: %v, want %v", k.most, k.ground.always, k.ground.clashes, got, want)
		}
	}
}

// Boxes are tried with one module each, of the first stance that holds any there.
func TestBoxesWithOneModuleEach(t *testing.T) {
	box := func(ids ...string) *layout.Box {
		b := &layout.Box{}
		for _, id := range ids {
			b.Modules = append(b.Modules, layout.Placement{ID: id})
		}
		return b
	}
	k := &task{full: [][]*layout.Box{{box(), box("a", "b"), box(), box("c")}, {box("d", "e"), box("f"), box(), box()}}}
	var got []string
	for _, b := range k.fewFull([]int{0, 1, 2, 3}) {
		s := ""
		for _, m := range b.Modules {
			s += m.ID
		}
		got = append(got, s)
	}
	if want := []string{"d", "a", "", "c"}; !slices.Equal(got, want) {
		t.Errorf("%q, not %q", got, want)
	}
	if len(k.full[0][1].Modules) != 2 {
		t.Error("the full box was changed")
	}
}

// A box that is locked with modules of one type, or holds one that is, has no way to be used with another type. One that cannot be packed
// otherwise has just the way without modules where it always stays, none otherwise.
func TestBoxesThatCannotBePacked(t *testing.T) {
	for name, c := range map[string]struct {
		spoil      func(b *layout.Box, in []layout.Placement)
		ways, more int // with the type of what stands in it, with the other
	}{
		"nothing in it":         {func(*layout.Box, []layout.Placement) {}, 0, 0},
		"locked, empty":         {func(b *layout.Box, _ []layout.Placement) { b.Locked = true }, 1, 1},
		"locked with a module":  {func(b *layout.Box, in []layout.Placement) { b.Locked, b.Modules = true, in[:1] }, 1, 0},
		"holds a locked module": {func(b *layout.Box, in []layout.Placement) { b.Modules = in[:2]; b.Modules[0].Locked = true }, 2, 0},
		"holds a loose module":  {func(b *layout.Box, in []layout.Placement) { b.Modules = in[:2] }, 0, 0},
	} {
		y := newYard(t, []site{{-250, -300, 500, 1, 2, 1, false}, {1200, -450, 250, 2, 3, 1, false}},
			block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat), block("long", 300, 150, 100, 27, 100, 700, vehicles.Flat))
		b := y.a.Boxes[0]
		in := slices.Clone(y.packings.Of(b, Stance{Module: y.modules[0]}).Placements)
		c.spoil(b, in)
		for i, m := range y.modules {
			p := &Packing{Problem: "it does not go in"}
			if i == 0 && len(b.Modules) > 0 && holdsLocked(b) {
				p = &Packing{Placements: b.Modules, Proved: true}
			} else if b.Locked {
				p = asItStands(b, Stance{Module: m})
			}
			y.packings.Put(b, Stance{Module: m}, p)
		}
		ks := tasksOf(t, y)
		ways := func(k *task) (n int) {
			k.free[0].each(func(int, int, *option) { n++ })
			return n
		}
		if got := [2]int{ways(ks[0]), ways(ks[1])}; got != [2]int{c.ways, c.more} {
			t.Errorf("%s: %v ways, want %d and %d", name, got, c.ways, c.more)
		}
		for i, k := range ks {
			said := slices.ContainsFunc(k.excluded, func(e Excluded) bool {
				return e.Box == "box-1" && e.Limit == Packed && e.All && e.Module == k.module.ID && strings.HasPrefix(e.Text, k.module.Name+" in box box-1: ")
			})
			if packed := y.packings.Of(b, Stance{Module: k.module}).Problem == ""; said == packed {
				t.Errorf("%s, module %d: said %v", name, i, said)
			}
		}
	}
}

// Up to sixteen boxes are searched: their sets are gone through one by one.
func TestSixteenBoxesAreSearched(t *testing.T) {
	for n, want := range map[int]string{0: "has 0 boxes", 1: "", 16: "", 17: "has 17 boxes; the search takes 1 to 16"} {
		y := newYard(t, make([]site, n), block("b", 300, 150, 100, 14, 50, 1, vehicles.Flat))
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		r, err := Run(ctx, y.plan, y.a, y.lib, y.options(), nil)
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) || err == nil && !r.Stopped {
			t.Errorf("%d boxes: %v, stopped %v", n, err, r.Stopped)
		}
	}
}

// What the boxes take in all is what the counts are judged by: of 4, 6 and 1 modules in the boxes 11.
func TestRoomIsWhatAllBoxesTake(t *testing.T) {
	y := newYard(t, []site{{-250, -300, 500, 1, 2, 2, false}, {1200, -450, 250, 2, 3, 1, false}, {2700, -300, 400, 1, 1, 1, false}}, block("b", 300, 150, 100, 14, 50, 1, vehicles.Flat))
	k := tasksOf(t, y)[0]
	rooms := 0
	for _, e := range k.excluded {
		if e.Limit == Room && e.Unit == "" {
			rooms++
			if e.Need != 11 {
				t.Errorf("%+v", e)
			}
		}
	}
	if rooms == 0 {
		t.Error("nothing is said of the room")
	}
}

// The cost counts where every module type has a price, however little.
func TestCostCountsWhereEverythingHasAPrice(t *testing.T) {
	for price, want := range map[float64]bool{0: false, 0.5: true, 300: true} {
		y := newYard(t, []site{{-250, -300, 500, 1, 2, 2, false}}, block("b", 300, 150, 100, 14, 50, 20, vehicles.Flat), block("c", 300, 150, 100, 14, 50, price, vehicles.Flat))
		r := found(t, y, Options{Pushes: []Push{Low}})
		said := slices.ContainsFunc(r.Remarks, func(s string) bool { return strings.HasPrefix(s, "Cost is left out") })
		if got := slices.Contains(r.Objectives, Cost); got != want || said == want {
			t.Errorf("price %g: counts %v, said %v", price, got, said)
		}
		only := found(t, y, Options{Objectives: []Objective{Mass}})
		if len(only.Remarks) != 0 || len(only.Objectives) != 1 {
			t.Errorf("mass alone: %v, %v", only.Objectives, only.Remarks)
		}
	}
}
