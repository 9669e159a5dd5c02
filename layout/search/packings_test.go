package search

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"stowbay/layout"
	"stowbay/layout/fill"
	"stowbay/vehicles"
)

// A bay without a box gets the box that filling it makes, once; one with a box keeps that.
func TestBaysWithoutABoxGetOne(t *testing.T) {
	y := newYard(t, []site{{-250, -300, 500, 1, 2, 2, false}}, block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat))
	bay := func(id string, x float64) vehicles.Bay {
		return vehicles.Bay{ID: id, Name: id, Levels: []vehicles.Level{{Outline: []vehicles.XY{{x, 0}, {x + 500, 0}, {x + 500, 300}, {x, 300}}, FloorMM: 200, CeilingMM: 400}}}
	}
	y.a.Bays = []vehicles.Bay{bay("has", -500), bay("none", 1000), bay("more", 2000)}
	y.a.Bays[2].ClearanceMM = 200 // nothing is left of it
	y.a.Boxes[0].Bay = "has"
	ps := NewPackings()
	got := ps.boxesOf(y.a, nil)
	if len(got) != 2 || got[0] != y.a.Boxes[0] || got[1].Bay != "none" || len(y.a.Boxes) != 1 {
		t.Fatalf("%d boxes", len(got))
	}
	done, err := fill.Only(context.Background(), y.a, "none", y.lib, fill.Wish{Module: y.modules[0], Limit: time.Second}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if want := done.Arrangement.Boxes[1]; got[1].Shell != want.Shell || got[1].At != want.At {
		t.Errorf("%+v, filled %+v", got[1], want)
	}
	if again := ps.boxesOf(y.a, nil); !slices.Equal(again, got) {
		t.Error("another box the second time")
	}
}

// What stands in a box is packed around where it is locked and of the type, in the way where it is locked and of another, and replaced where
// it is not. A locked box stays as it is.
func TestPackingAroundWhatIsLocked(t *testing.T) {
	for name, c := range map[string]struct {
		module        string
		locked, whole bool // the module, the box
		count         int
		problem       string
	}{
		"nothing in it":           {"", false, false, 2, ""},
		"a loose one":             {"small", false, false, 2, ""},
		"a loose one of another":  {"long", false, false, 2, ""},
		"a locked one":            {"small", true, false, 2, ""},
		"a locked one of another": {"long", true, false, 0, "module x is locked in it and of another type"},
		"a locked box":            {"small", false, true, 1, ""},
		"one that holds another":  {"long", false, true, 0, "the box is locked and holds long"},
		"an empty locked box":     {"", false, true, 0, ""},
	} {
		small, long := block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat, vehicles.Side), block("long", 300, 150, 100, 27, 100, 700, vehicles.Flat)
		y := newYard(t, []site{{-250, -300, 500, 1, 2, 1, false}}, small, long)
		b := y.a.Boxes[0]
		b.Locked = c.whole
		if c.module != "" {
			b.Modules = []layout.Placement{{ID: "x", Module: c.module, At: vehicles.XYZ{10, 10, 1.5}, Posture: vehicles.Flat, Locked: c.locked}}
		}
		p := packOne(context.Background(), b, Stance{Module: small, Posture: vehicles.Flat}, y.lib, time.Second)
		if len(p.Placements) != c.count || p.Problem != c.problem || p.Problem == "" && (!p.Proved || p.Bound != c.count) {
			t.Errorf("%s: %+v", name, p)
		}
		if kept := slices.ContainsFunc(p.Placements, func(m layout.Placement) bool { return m.ID == "x" }); kept != (c.problem == "" && (c.locked || c.whole && c.count > 0)) {
			t.Errorf("%s: kept %v", name, kept)
		}
		for _, m := range p.Placements {
			if m.Module != "small" || m.Posture != vehicles.Flat {
				t.Errorf("%s: %+v", name, m)
			}
		}
	}
}

// In one posture only that one is packed: four blocks of 100 mm stand on their sides where two lie.
func TestPackingInOnePosture(t *testing.T) {
	y := newYard(t, []site{{-250, -300, 500, 1, 2, 1, false}}, block("b", 300, 150, 100, 14, 50, 400, vehicles.Flat, vehicles.Side))
	b := y.a.Boxes[0]
	b.Levels = []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {320, 0}, {320, 440}, {0, 440}}, CeilingMM: 170}}
	for posture, want := range map[vehicles.Posture]int{"": 4, vehicles.Flat: 2, vehicles.Side: 4} {
		p := packOne(context.Background(), b, Stance{Module: y.modules[0], Posture: posture}, y.lib, time.Second)
		if len(p.Placements) != want || !strings.Contains(p.Words, "fit") {
			t.Errorf("posture %q: %d, %s", posture, len(p.Placements), p.Words)
		}
	}
}

// The mixed packing gives way only to one that holds more: then with the words that say what is known.
func TestWordsOfAMixedPacking(t *testing.T) {
	m, b := &vehicles.Module{ID: "m"}, &layout.Box{ID: "b"}
	any, flat := Stance{Module: m}, Stance{Module: m, Posture: vehicles.Flat}
	for one, want := range map[int]string{4: "as it was", 5: "as it was", 6: "best found 6; no more than 8", 9: "best found 9; no more than 9"} {
		ps := NewPackings()
		ps.Put(b, any, &Packing{Placements: make([]layout.Placement, 5), Bound: 8, Words: "as it was"})
		ps.Put(b, flat, &Packing{Placements: make([]layout.Placement, one)})
		ps.mixed(b, []Stance{any, flat})
		if got := ps.Of(b, any); got.Words != want {
			t.Errorf("%d in one posture: %s", one, got.Words)
		}
	}
}

// A box is packed for as long as is stated: in no time at all not to a proof, which it comes to soon where nothing is stated.
func TestPackingTakesAsLongAsStated(t *testing.T) {
	y := newYard(t, []site{{-250, -300, 500, 1, 2, 1, false}}, block("b", 300, 150, 100, 14, 50, 400, vehicles.Flat))
	b := y.a.Boxes[0]
	b.Levels = []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {980, 0}, {980, 520}, {300, 640}, {0, 640}}, CeilingMM: 120}}
	for limit, proved := range map[time.Duration]bool{1: false, 0: true} {
		ps := NewPackings()
		s := Stance{Module: y.modules[0]}
		if ps.pack(context.Background(), []*layout.Box{b}, []Stance{s}, y.lib, limit, func(int, int) {}); ps.Of(b, s).Proved != proved {
			t.Errorf("limit %v: %+v", limit, ps.Of(b, s))
		}
	}
}
