package mass

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// The angles at which it tips, against a search: the slope is turned up until the weight's line leaves the outline of
// the four tyres' contact points.
func TestTippingAnglesAgainstASearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDonor(t)
		r := Evaluate(sceneOf(d, anyArrangement(t), nil), nil, nil)
		s := r.Of(CaseKerb).Now
		c := s.Body.CG()
		stand := geometry.Polygon{Outer: geometry.Ring{
			{X: 0, Y: -d.TrackFrontMM / 2}, {X: d.WheelbaseMM, Y: -d.TrackRearMM / 2}, {X: d.WheelbaseMM, Y: d.TrackRearMM / 2}, {X: 0, Y: d.TrackFrontMM / 2},
		}}
		if stand.Contains(vehicles.XY{c.X, c.Y}.Point()) != geometry.Inside {
			t.Skip("stands on three wheels already")
		}
		tips := func(dx, dy float64) float64 {
			lo, hi := 0.0, 89.9
			for range 60 {
				mid := (lo + hi) / 2
				way := c.Z * math.Tan(mid*math.Pi/180)
				if stand.Contains(vehicles.XY{c.X + dx*way, c.Y + dy*way}.Point()) == geometry.Inside {
					lo = mid
				} else {
					hi = mid
				}
			}
			return lo
		}
		side := min(tips(0, 1), tips(0, -1))
		for _, a := range []struct {
			what      string
			got, want float64
		}{{"side", s.TiltDeg.Value, side}, {"climb", s.ClimbDeg.Value, tips(1, 0)}, {"descend", s.DescendDeg.Value, tips(-1, 0)}} {
			if a.what != "side" && !throughAxle(stand, c, d.WheelbaseMM) {
				continue
			}
			if math.Abs(a.got-a.want) > 0.01 {
				t.Fatalf("%s: %v degrees, the search gives %v", a.what, a.got, a.want)
			}
		}
	})
}

// throughAxle tells whether a line along the vehicle through c passes between the wheels of both axles, so that it tips
// over an axle and not over one wheel.
func throughAxle(stand geometry.Polygon, c r3.Vector, base float64) bool {
	for _, x := range []float64{1, base - 1} {
		if stand.Contains(vehicles.XY{x, c.Y}.Point()) != geometry.Inside {
			return false
		}
	}
	return true
}

// Inertia of a box's own sheet, turned in the vehicle, against each panel as eight points.
func TestSheetInertiaAgainstPointMasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := donor()
		d.Removed, d.Added = nil, nil
		b := box("b", 2, vehicles.XYZ{900, -300, 250})
		b.TurnDeg = between(-180, 180).Draw(t, "turn")
		b.Modules, b.Openings, b.Feet = nil, nil, nil
		b.Shell = layout.Shell{WallMM: 2, LinerMM: 3, FlangeMM: 1e-9}
		b.Barriers = []layout.Barrier{{ID: "w", Outline: []vehicles.XY{{100, 10}, {103, 10}, {103, 200}, {100, 200}}, FloorMM: 5, CeilingMM: 120}}
		s := sceneOf(d, &layout.Arrangement{ID: "a", Boxes: []*layout.Box{b}}, nil)
		r := Evaluate(s, nil, nil)
		ps := []point{{r.Donor.Kg.Value, r.Donor.CG()}}
		f := s.Boxes[0].Frame
		for _, p := range Panels(b) {
			e := p.Outline.Bounds()
			size := r3.Vector{X: e.X.Length(), Y: e.Y.Length()}
			ps = append(ps, cloud(p.Kg, f.ToVehicle(p.Centroid), size, f.Direction(p.U), f.Direction(p.V), r3.Vector{})...)
		}
		_, _, want := tensor(ps)
		got := r.Change.Inertia
		for i, v := range []float64{got.XX, got.YY, got.ZZ, got.XY, got.XZ, got.YZ} {
			w := []float64{want.At(0, 0), want.At(1, 1), want.At(2, 2), want.At(0, 1), want.At(0, 2), want.At(1, 2)}[i]
			if math.Abs(v-w) > 1e-6 {
				t.Fatalf("inertia element %d: got %v, points give %v", i, v, w)
			}
		}
	})
}

// A square of 100 mm with a square hole of 20 mm in it, whichever way the rings run.
func TestPlaneWithHole(t *testing.T) {
	outer, hole := geometry.NewRect(0, 0, 100, 100).Outer, geometry.NewRect(10, 10, 30, 30).Outer
	for _, p := range []geometry.Polygon{
		{Outer: outer, Holes: []geometry.Ring{hole}}, {Outer: outer, Holes: []geometry.Ring{hole.Reversed()}}, {Outer: outer.Reversed(), Holes: []geometry.Ring{hole}},
	} {
		a := planeOf(p)
		near(t, "area", a.area, 9600, 1e-9)
		near(t, "first moment", a.first.X, 1e4*50-400*20, 1e-6)
		near(t, "second moment", a.xx, 1e8/3-(400*400+400*20*20/12.0), 1e-3)
		near(t, "product", a.xy, 1e4*2500-400*400, 1e-3)
	}
}

func TestEndsOfAFigure(t *testing.T) {
	near(t, "upper end", Figure{300, 4}.Most(), 304, 0)
	near(t, "lower end", Figure{300, 4}.Least(), 296, 0)
}

// A box 980 mm long with 150 mm before and 370 mm behind it in its bay, 10 mm clearance: 140 and 360 mm free.
func TestRoomToMove(t *testing.T) {
	a := fleet(2, 6)
	a.Bays = []vehicles.Bay{{ID: "bay", ClearanceMM: 10, Levels: []vehicles.Level{{Outline: rect(50, -700, 1550, 0), FloorMM: 200, CeilingMM: 500}}}}
	a.Boxes[0].Bay = "bay"
	a.Boxes[1].Locked = true
	r := Evaluate(sceneOf(donor(), a, nil), nil, nil)
	back, forward := r.Bring(r.Of(CaseKerb).Now.FrontSharePct.Value-0.1), r.Bring(r.Of(CaseKerb).Now.FrontSharePct.Value+0.1)
	for _, c := range []struct {
		moves []Move
		free  float64
		sign  float64
	}{{back, 360, 1}, {forward, 140, -1}} {
		all, one, locked := c.moves[0], c.moves[1], c.moves[2]
		if all.Box != "" || all.ByMM != one.ByMM || one.ByMM*c.sign <= 0 || !one.InBay || !one.Possible() || !all.Possible() {
			t.Errorf("together %+v, alone %+v: only one box may move", all, one)
		}
		near(t, "free", one.FreeMM, c.free, 1e-9)
		if !locked.Locked || locked.Possible() || locked.InBay {
			t.Errorf("locked box %+v", locked)
		}
	}
	if far := r.Bring(r.Of(CaseKerb).Now.FrontSharePct.Value - 10); far[1].Possible() {
		t.Errorf("%+v goes beyond its bay", far[1])
	}
	a.Boxes[0].Locked = true
	if all := Evaluate(sceneOf(donor(), a, nil), nil, nil).Bring(50)[0]; !all.Locked || all.ByMM != 0 || all.Possible() {
		t.Errorf("all boxes are locked, but %+v", all)
	}
}

// The share aimed at is the setting's, else the donor's.
func TestTarget(t *testing.T) {
	s := sceneOf(donor(), fleet(1, 4), nil)
	near(t, "donor's", Evaluate(s, nil, nil).Target(), 100*730/1374.0, 1e-9)
	s.Plan.Settings.Mass.FrontTargetPct = 52
	near(t, "set", Evaluate(s, nil, nil).Target(), 52, 0)
}

// Hoses run only where a module has a coolant plate, and with the pump there and back.
func TestHoses(t *testing.T) {
	a := fleet(2, 6)
	s := sceneOf(donor(), a, nil)
	way := 0.0
	for _, e := range Evaluate(s, nil, nil).Ledger() {
		if e.ID == "hoses" {
			way = e.Kg / (math.Pi/4*16*16*1e-6*1.0649 + 0.35/1000) / 1.1
		}
	}
	near(t, "way", way, 150+700, 1e-6)
	s.Boxes[0].Modules[0].Module.Cooling = vehicles.Cooling{} // shared by all: none is cooled
	for _, e := range Evaluate(s, nil, nil).Ledger() {
		if e.Group == Coolant {
			t.Errorf("coolant without a plate: %+v", e)
		}
	}
}
