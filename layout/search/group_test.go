package search

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/electric"
	"stowbay/vehicles"
)

// By hand: a round of 6 m and two further strings of 2 x 1.5 m make 12 m of cable, at 0.58 kg a metre 6.96 kg at the centre of the round; 20
// modules of 300 in money and gear of 150 cost 6150; modules of 20 V are joined in threes below 60 V, which leaves one joint a string of five and
// two between the three strings.
func TestWhatAGroupHasInCommon(t *testing.T) {
	m := &vehicles.Module{Price: 300, Series: 1, Parallel: 1, Cell: vehicles.Cell{MaxV: 20}}
	lib := vehicles.Catalogue().With(vehicles.Records{Gear: []*vehicles.Gear{{ID: "q", Price: 100}, {ID: "p", Price: 50}}})
	gear := func(ids ...string) (out []layout.PlacedGear) {
		for _, id := range ids {
			out = append(out, layout.PlacedGear{Gear: id})
		}
		return out
	}
	g := &ground{plan: &layout.Plan{}, lib: lib, cableKg: 0.58, boxes: []*layout.Box{{Gear: gear("q", "nobody")}, {Gear: gear("q", "q")}, {Gear: gear("p")}}}
	k := &task{ground: g, steps: Resolution{}.filled(), on: active(nil, true)}
	s := &subset{boxes: []int{0, 2}, base: row{1300, 1, 2, 3}, round: round{lengthMM: 6000, leadMM: 1500, centre: r3.Vector{X: 1000, Y: -100, Z: 400}}}
	c := electric.Choice{Module: m, Series: 5, Parallel: 3, Count: 20, EnergyKWh: 21.64}
	got := (&field{task: k}).groupOf(c, s, 280)
	want := Values{Energy: 21.64, Mass: 1586.96, Cable: 12, Boxes: 2, LiveSteps: 5, Cost: 6150}
	for o, v := range want {
		if math.Abs(got.values[o]-v) > 1e-9 {
			t.Errorf("%s: %g, not %g", Objective(o).Key(), got.values[o], v)
		}
	}
	base := row{1306.96, 1 + 6960, 2 - 696, 3 + 2784}
	if !got.base.alike(&base) {
		t.Errorf("base %v, not %v", got.base, base)
	}
	if got.key != (settled{-216, 1587, 120, 2, 5, 6150}) {
		t.Errorf("key %v", got.key)
	}
	k.on = active([]Objective{Energy, Boxes}, true)
	if got := (&field{task: k}).groupOf(c, s, 280); got.key != (settled{-216, 0, 0, 2, 0, 0}) {
		t.Errorf("energy and boxes alone: key %v", got.key)
	}
}

// Settled figures reach others where none is worse, whichever it is.
func TestSettledFiguresReach(t *testing.T) {
	a := settled{1, 2, 3, 4, 5, 6}
	if !a.reaches(&a) {
		t.Error("it does not reach itself")
	}
	for i := range a {
		b := a
		b[i]++
		if !a.reaches(&b) || b.reaches(&a) {
			t.Errorf("figure %d: %v and %v", i, a, b)
		}
	}
	s := spot{1, 2, 3}
	for i := range s {
		b := s
		b[i]++
		if !s.reaches(b) || b.reaches(s) || !s.reaches(s) {
			t.Errorf("figure %d: %v and %v", i, s, b)
		}
	}
}
