package fill

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// slab is an invented module of 300 × 150 × 100 mm with 10 mm to walls and above it; turned up on its side it is 150 mm high.
func slab(ps ...vehicles.Posture) *vehicles.Module {
	return &vehicles.Module{Format: 1, ID: "slab", Name: "slab", LengthMM: 300, WidthMM: 150, HeightMM: 100, Postures: ps,
		Gaps: vehicles.Gaps{EndMM: 10, SideMM: 10, TopMM: 10, WallMM: 10}}
}

// bayOf is a bay of a size that a box fills without clearance.
func bayOf(id string, x, y, z float64) vehicles.Bay {
	return vehicles.Bay{ID: id, Name: "Bay " + id, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {x, 0}, {x, y}, {0, y}}, FloorMM: 200, CeilingMM: 200 + z}}}
}

func slabLibrary(m *vehicles.Module) *vehicles.Library {
	return vehicles.Catalogue().With(vehicles.Records{Modules: []*vehicles.Module{m}})
}

// A bay in which nothing fits gets no box, and the outcome says why; the boxes that stood before stay.
func TestNoBoxWhereNothingFits(t *testing.T) {
	flat := slab(vehicles.Flat)
	lib := slabLibrary(flat)
	stood := &layout.Box{ID: "stood", At: vehicles.XYZ{3000, 0, 200}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {100, 0}, {100, 100}, {0, 100}}, CeilingMM: 100}}}
	thin := bayOf("thin", 500, 300, 300)
	thin.ClearanceMM = 150
	sheet := bayOf("sheet", 500, 300, 3)
	a := &layout.Arrangement{ID: "a", Boxes: []*layout.Box{stood},
		Bays: []vehicles.Bay{bayOf("low", 500, 300, 90), bayOf("narrow", 500, 150, 300), bayOf("good", 500, 300, 300), thin, sheet}}
	// A shell has 1.5 mm of sheet where the plan states none, and a new one in a bay 2 mm of liner at walls and floor.
	done, err := Arrangement(context.Background(), a, lib, Wish{Module: flat, Limit: time.Second}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, b := range done.Arrangement.Boxes {
		ids = append(ids, b.ID)
	}
	if got := strings.Join(ids, " "); got != "stood good-box" || len(a.Boxes) != 1 {
		t.Errorf("boxes %s, want the one that stood and the one of the good bay", got)
	}
	want := []struct{ id, name, words, why string }{
		{"stood", "stood", "none fits, which is proved", "the height inside is 97 mm, and the module needs 110 mm in the lowest posture that it may stand in"},
		{"low", "Bay low", "none fits, which is proved; the bay gets no box", "the height inside is 85 mm, and the module needs 110 mm in the lowest posture that it may stand in"},
		{"narrow", "Bay narrow", "none fits, which is proved; the bay gets no box", "in plan the inside measures 493 × 143 mm, and the module needs 320 × 170 mm with its gaps to the walls"},
		{"good-box", "Bay good", "2 fit; 3 is proved impossible", ""},
		{"thin", "Bay thin", "none fits, which is proved; the bay gets no box", "nothing is left of bay Bay thin at a clearance of 150 mm"},
		{"sheet", "Bay sheet", "none fits, which is proved; the bay gets no box", ""},
	}
	if len(done.Outcomes) != len(want) {
		t.Fatalf("%d outcomes, want %d", len(done.Outcomes), len(want))
	}
	for i, c := range want {
		o := done.Outcomes[i]
		if o.ID() != c.id || o.Name() != c.name || o.Words() != c.words || c.why != "" && o.Result.Reason != c.why || o.Result.Reason == "" {
			t.Errorf("%s, %q, %q, because %q\nwant %v", o.ID(), o.Name(), o.Words(), o.Result.Reason, c)
		}
	}
}

func TestPackingOneOnly(t *testing.T) {
	flat := slab(vehicles.Flat)
	lib := slabLibrary(flat)
	a := &layout.Arrangement{ID: "a", Bays: []vehicles.Bay{bayOf("low", 500, 300, 90), bayOf("good", 500, 300, 300)}}
	w := Wish{Module: flat, Limit: time.Second}
	done, err := Only(context.Background(), a, "low", lib, w, nil)
	if err != nil || len(done.Arrangement.Boxes) != 0 || done.Outcomes[0].Box != nil || done.Outcomes[0].Bay != &a.Bays[0] {
		t.Errorf("a low bay: %v, %+v", err, done)
	}
	done, err = Only(context.Background(), a, "good", lib, w, nil)
	if err != nil || len(done.Arrangement.Boxes) != 1 || len(done.Arrangement.Boxes[0].Modules) != 2 || len(a.Boxes) != 0 {
		t.Fatalf("a good bay: %v, %+v", err, done)
	}
	full := done.Arrangement
	again, err := Only(context.Background(), full, full.Boxes[0].ID, lib, Wish{Module: flat, Target: 1, Limit: time.Second}, nil)
	if err != nil || len(again.Arrangement.Boxes) != 1 || len(again.Arrangement.Boxes[0].Modules) != 1 || len(full.Boxes[0].Modules) != 2 {
		t.Errorf("the box again, with one module: %v, %+v", err, again)
	}
	if _, err = Only(context.Background(), a, "none", lib, w, nil); err == nil || err.Error() != `there is no box or bay "none"` {
		t.Errorf("neither: %v", err)
	}
}

// What was not looked at before packing was stopped gets no empty box either.
func TestStoppedBeforeItBegan(t *testing.T) {
	flat := slab(vehicles.Flat)
	a := &layout.Arrangement{ID: "a", Bays: []vehicles.Bay{bayOf("good", 500, 300, 300)}}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	done, err := Arrangement(ctx, a, slabLibrary(flat), Wish{Module: flat}, nil)
	if err != nil {
		t.Fatal(err)
	}
	o := done.Outcomes[0]
	if o.Result.Count == 0 && (o.Box != nil || len(done.Arrangement.Boxes) != 0 || o.Result.Proved) {
		t.Errorf("%q: %+v", o.Words(), o)
	}
}

// An empty box with four walls is said to be too small exactly where the solver, which adds nothing up in this way, finds that
// nothing fits.
func TestTooSmallIsWhatHoldsNone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := [][]vehicles.Posture{{vehicles.Flat}, {vehicles.Side}, {vehicles.End}, {vehicles.Flat, vehicles.Side, vehicles.End}}
		m := slab(rapid.SampledFrom(ps).Draw(t, "postures")...)
		faces := rapid.SliceOfDistinct(rapid.SampledFrom([]vehicles.Face{vehicles.Front, vehicles.Back, vehicles.Left, vehicles.Top}), func(f vehicles.Face) vehicles.Face { return f })
		for _, f := range faces.Draw(t, "terminals") {
			m.Terminals = append(m.Terminals, vehicles.Terminal{ID: string(f), Face: f, StripMM: 40})
		}
		side := rapid.Float64Range(50, 400)
		x, y, z := side.Draw(t, "x"), side.Draw(t, "y"), side.Draw(t, "z")
		b := &layout.Box{ID: "b", Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {x, 0}, {x, y}, {0, y}}, CeilingMM: z}}}
		p, err := Problem(b, slabLibrary(m), Wish{Module: m, Limit: time.Second})
		if err != nil {
			t.Skip(err)
		}
		r, err := packing.Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if why := tooSmall(p); why == "" != (r.Count > 0) {
			t.Fatalf("%d fit, and %q is said", r.Count, why)
		}
	})
}

func TestWordsForNone(t *testing.T) {
	for want, r := range map[string]packing.Result{
		"none fits, which is proved": {Proved: true},
		"none fits on a 0.5 mm grid, which is proved; no more than 2 at any position":     {Bound: 2, GridProved: true, GridMM: 0.5},
		"none fits in whole layers, which is proved; no more than 2 at any heights":       {Bound: 2, Layered: true},
		"none found in layers; no more than 1 in whole layers, nor than 2 at any heights": {Bound: 2, Layered: true, LayeredBound: 1},
		"none found when stopped; no more than 2":                                         {Bound: 2, Stopped: true},
		"none found; no more than 2":                                                      {Bound: 2},
	} {
		if got := Words(r); got != want {
			t.Errorf("%+v: %q, want %q", r, got, want)
		}
	}
}

// What a posture takes, by hand: 300 and 40 before one end, 10 to the wall at the other; 10 on either side; above it the strip
// of 30 rather than the gap of 10.
func TestRoomThatAPostureNeeds(t *testing.T) {
	q := packing.Posture{LengthMM: 300, WidthMM: 150, HeightMM: 100, Gaps: packing.Gaps{WallMM: 10, TopMM: 10},
		Strips: []packing.Strip{{Face: packing.PlusX, DepthMM: 40}, {Face: packing.MinusY, DepthMM: 5}, {Face: packing.Top, DepthMM: 30}}}
	if x, y := planNeeded(q); x != 350 || y != 170 || heightNeeded(q) != 130 {
		t.Errorf("%g × %g × %g mm", x, y, heightNeeded(q))
	}
}

// Of the postures that are low enough the one that takes least is named: 320 × 120 on the side rather than 320 × 170 flat.
func TestTooSmallNamesTheSmallestPosture(t *testing.T) {
	for _, ps := range [][]vehicles.Posture{{vehicles.Flat, vehicles.Side}, {vehicles.Side, vehicles.Flat}} {
		m := slab(ps...)
		b := &layout.Box{ID: "b", Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {303.25, 0}, {303.25, 103}, {0, 103}}, CeilingMM: 203}}}
		p, err := Problem(b, slabLibrary(m), Wish{Module: m})
		if err != nil {
			t.Fatal(err)
		}
		if got, want := tooSmall(p), "in plan the inside measures 300.3 × 100 mm, and the module needs 320 × 120 mm with its gaps to the walls"; got != want {
			t.Errorf("%v: %q", ps, got)
		}
	}
}

// Only the postures wished for are packed, of those that the maker allows.
func TestPosturesWishedFor(t *testing.T) {
	m := slab(vehicles.Flat, vehicles.Side)
	for _, c := range []struct{ wish, want []vehicles.Posture }{{nil, m.Postures}, {[]vehicles.Posture{vehicles.Side}, []vehicles.Posture{vehicles.Side}},
		{[]vehicles.Posture{vehicles.End, vehicles.Flat}, []vehicles.Posture{vehicles.Flat}}, {[]vehicles.Posture{vehicles.End}, nil}} {
		var got []vehicles.Posture
		for _, p := range postures(Wish{Module: m, Postures: c.wish}) {
			got = append(got, vehicles.Posture(p.Name))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("wished for %v: %v, want %v", c.wish, got, c.want)
		}
	}
}

// New modules are numbered from m1 on, past the ids of those that stay.
func TestNewModulesAreNumbered(t *testing.T) {
	b := &layout.Box{Modules: []layout.Placement{{ID: "m2", Locked: true}, {ID: "m1"}}}
	var got []string
	for _, m := range Placements(b, Wish{Module: slab()}, []packing.Placement{{Fixed: true}, {}, {}, {}}) {
		got = append(got, m.ID)
	}
	if want := []string{"m2", "m1", "m3", "m4"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Of two modules that fit one is taken out where the only string has one in series; where nothing is stated all stay.
func TestStringsOfOneModule(t *testing.T) {
	flat := slab(vehicles.Flat)
	for series, want := range map[int]int{0: 2, 1: 1, 2: 2} {
		a := &layout.Arrangement{ID: "a", Series: series, Bays: []vehicles.Bay{bayOf("good", 500, 300, 300)}}
		done, err := Arrangement(context.Background(), a, slabLibrary(flat), Wish{Module: flat, Limit: 20 * time.Millisecond}, nil)
		if err != nil || count(done.Arrangement) != want || done.Outcomes[0].Result.Count != 2 {
			t.Errorf("%d in series: %d modules, %v", series, count(done.Arrangement), err)
		}
	}
}
