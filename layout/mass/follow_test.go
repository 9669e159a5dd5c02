package mass

import (
	"math"
	"reflect"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// What a caller gives in the place of an estimate, or gives no more, counts as in a fresh evaluation.
func TestFollowsWhatIsGiven(t *testing.T) {
	s := sceneOf(donor(), fleet(2, 6), nil)
	entry := func(g Group) Entry {
		return Entry{ID: string(g), Group: g, Name: string(g), Count: 1, Kg: 1.25, Known: Rule}
	}
	given := [][]Entry{nil, {entry(Links)}, {entry(Coolant)}, {entry(Links), entry(Coolant)}}
	seen := map[float64]bool{}
	for i, before := range given {
		for k, now := range given {
			fresh := Evaluate(s, now, nil)
			followed := Evaluate(s, now, Evaluate(s, before, nil))
			if a, b := fresh.Now.Kg.Value, followed.Now.Kg.Value; math.Abs(a-b) > 1e-9 {
				t.Errorf("from %d to %d: %v kg, fresh %v kg", i, k, b, a)
			}
			seen[math.Round(1e6*fresh.Now.Kg.Value)] = true
		}
	}
	if len(seen) != len(given) {
		t.Errorf("%d different masses for %d sets: the estimates do not weigh", len(seen), len(given))
	}
}

// The centroid of a rectangle is its middle, whatever its size; a region without area has one that is a number.
func TestCentroidOfARectangle(t *testing.T) {
	for _, side := range []float64{0.5, 1, 2, 300} {
		got := planeOf(geometry.NewRect(10, 20, 10+side, 20+1/side)).centroid()
		if got.Sub(r2.Point{X: 10 + side/2, Y: 20 + 0.5/side}).Norm() > 1e-9 {
			t.Errorf("side %v: %v", side, got)
		}
	}
	if got := (plane{}).centroid(); got != (r2.Point{}) {
		t.Errorf("without area: %v", got)
	}
}

// What follows from a result before is what a fresh evaluation says, whatever was changed in between, and every one of the changes shows.
func TestFollowsEveryChange(t *testing.T) {
	d := donor()
	plan := func() (*layout.Plan, *layout.Arrangement, *vehicles.Library) {
		b := box("b", 3, vehicles.XYZ{900, -300, 250})
		b.Barriers = []layout.Barrier{{ID: "w", Outline: rect(100, 10, 103, 390), FloorMM: 5, CeilingMM: 120}}
		a := &layout.Arrangement{ID: "a", Boxes: []*layout.Box{b}}
		p := &layout.Plan{Donor: d.ID, Arrangements: []*layout.Arrangement{a}}
		p.Settings.Mass.Cases = []layout.LoadCase{{ID: "own", Seats: []int{1}}, {ID: "more", Seats: []int{1, 2}}}
		return p, a, (&vehicles.Library{}).With(vehicles.Records{Donors: []*vehicles.Donor{d}, Modules: []*vehicles.Module{module()}})
	}
	heavy := module()
	heavy.MassKg++
	other := *d
	other.Scales.FrontLeftKg++
	for name, change := range map[string]func(s *layout.Settings, b *layout.Box, lib **vehicles.Library){
		"weighed":   func(s *layout.Settings, _ *layout.Box, _ **vehicles.Library) { s.Mass.WeighedPct = 7 },
		"sheet":     func(s *layout.Settings, _ *layout.Box, _ **vehicles.Library) { s.Mass.SheetPct = 9 },
		"place":     func(s *layout.Settings, _ *layout.Box, _ **vehicles.Library) { s.Mass.PlaceMM = 80 },
		"occupant":  func(s *layout.Settings, _ *layout.Box, _ **vehicles.Library) { s.Mass.OccupantKg = 68 },
		"braking":   func(s *layout.Settings, _ *layout.Box, _ **vehicles.Library) { s.Mass.BrakingG = 0.8 },
		"case away": func(s *layout.Settings, _ *layout.Box, _ **vehicles.Library) { s.Mass.Cases = s.Mass.Cases[:1] },
		"cases": func(s *layout.Settings, _ *layout.Box, _ **vehicles.Library) {
			s.Mass.Cases = []layout.LoadCase{{ID: "own"}, {ID: "more"}}
		},
		"links":  func(s *layout.Settings, _ *layout.Box, _ **vehicles.Library) { s.Electric.LinkMM2 = 95 },
		"glycol": func(s *layout.Settings, _ *layout.Box, _ **vehicles.Library) { s.Cooling.GlycolPct = 30 },
		"wall":   func(_ *layout.Settings, b *layout.Box, _ **vehicles.Library) { b.Shell.WallMM = 3 },
		"levels": func(_ *layout.Settings, b *layout.Box, _ **vehicles.Library) {
			b.Levels = []vehicles.Level{{Outline: rect(0, 0, 500, 400), CeilingMM: 170}}
		},
		"feet": func(_ *layout.Settings, b *layout.Box, _ **vehicles.Library) {
			b.Feet = []layout.Foot{b.Feet[0], {ID: "f2", At: b.Feet[1].At, Bolt: "M20"}}
		},
		"foot away": func(_ *layout.Settings, b *layout.Box, _ **vehicles.Library) { b.Feet = b.Feet[:1] },
		"opening":   func(_ *layout.Settings, b *layout.Box, _ **vehicles.Library) { b.Openings = nil },
		"barrier": func(_ *layout.Settings, b *layout.Box, _ **vehicles.Library) {
			b.Barriers = []layout.Barrier{{ID: "w", Outline: rect(100, 10, 106, 390), CeilingMM: 90}}
		},
		"the library": func(_ *layout.Settings, _ *layout.Box, lib **vehicles.Library) {
			*lib = (*lib).With(vehicles.Records{Modules: []*vehicles.Module{heavy}})
		},
		"the donor": func(_ *layout.Settings, _ *layout.Box, lib **vehicles.Library) {
			*lib = (*lib).With(vehicles.Records{Donors: []*vehicles.Donor{&other}})
		},
	} {
		p, a, lib := plan()
		scene := layout.Resolve(p, a, lib, nil)
		before := Evaluate(scene, nil, nil)
		p2, b2 := *p, *a.Boxes[0]
		change(&p2.Settings, &b2, &lib)
		a2 := &layout.Arrangement{ID: "a", Boxes: []*layout.Box{&b2}}
		if reflect.DeepEqual(&b2, a.Boxes[0]) {
			a2 = a
		}
		p2.Arrangements = []*layout.Arrangement{a2}
		scene2 := layout.Resolve(&p2, a2, lib, scene)
		was, fresh, followed := told(before), told(Evaluate(scene2, nil, nil)), told(Evaluate(scene2, nil, before))
		if !reflect.DeepEqual(fresh, followed) {
			t.Errorf("%s: what followed differs from a fresh evaluation", name)
		}
		if reflect.DeepEqual(fresh, was) {
			t.Errorf("%s: nothing changed", name)
		}
	}
}

// told is every figure of a result.
func told(r *Result) (out []any) {
	for _, e := range r.Ledger() {
		out = append(out, e)
	}
	for _, x := range r.Readings() {
		out = append(out, x.Of, x.Key, x.Value, x.PlusMinus)
	}
	for i := range r.Cases {
		out = append(out, r.Cases[i].Donor, r.Cases[i].Loads)
	}
	return out
}
