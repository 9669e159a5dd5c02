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
	s.Plan.Settings.Mass.FrontTargetPct = 0.5
	near(t, "set very low", Evaluate(s, nil, nil).Target(), 0.5, 0)
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

// A box with a plate of another kind that still holds coolant is on the way of the hoses.
func TestHosesGoWhereCoolantIs(t *testing.T) {
	s := sceneOf(donor(), fleet(2, 6), nil)
	s.Boxes[0].Modules[0].Module.Cooling = vehicles.Cooling{VolumeL: 0.3} // shared by all
	n := 0
	for _, e := range Evaluate(s, nil, nil).Ledger() {
		if e.Group == Coolant {
			n++
		}
	}
	if n != 3 {
		t.Errorf("%d lines of coolant, want the hoses and two boxes", n)
	}
}

// One box fewer links than modules, with the half width of an estimate: a quarter.
func TestLinksOfABox(t *testing.T) {
	for _, e := range Evaluate(sceneOf(donor(), fleet(1, 6), nil), nil, nil).Ledger() {
		if e.Group == Links {
			near(t, "links", e.Kg, 5*50*151*8.9e-6, 1e-9)
			near(t, "half width", e.PlusMinus, e.Kg/4, 1e-12)
			if e.Count != 5 {
				t.Errorf("%d links of 6 modules", e.Count)
			}
		}
	}
}

// A cable of the plan weighs by its own section, its half width being a quarter as the way is estimated.
func TestPlannedCable(t *testing.T) {
	a := fleet(2, 6)
	a.Cables = []layout.Cable{{ID: "c", From: "b1", To: "b2", SectionMM2: 30}}
	for _, e := range Evaluate(sceneOf(donor(), a, nil), nil, nil).Ledger() {
		if e.Group == Cables {
			near(t, e.ID, e.Kg, (150+700)*1.1*30*8.9e-6*1.5, 1e-9)
			near(t, "half width", e.PlusMinus, e.Kg/4, 1e-12)
		}
	}
}

// From an inverter outside to the only box and back.
func TestCableToASingleBoxGoesThereAndBack(t *testing.T) {
	a := fleet(1, 6)
	inverter := &vehicles.Gear{ID: "inv", Name: "inverter", Kind: "inverter", LengthMM: 100, WidthMM: 100, HeightMM: 50, MassKg: 8}
	other := &vehicles.Gear{ID: "charger", Name: "charger", Kind: "charger", LengthMM: 100, WidthMM: 100, HeightMM: 50, MassKg: 8}
	a.Gear = []layout.PlacedGear{{ID: "h", Gear: "charger", At: vehicles.XYZ{0, 0, 300}}, {ID: "g", Gear: "inv", At: vehicles.XYZ{640, 650, 300}}}
	s := sceneOf(donor(), a, nil)
	s.Library = s.Library.With(vehicles.Records{Gear: []*vehicles.Gear{inverter, other}})
	for _, id := range []string{"g", "inv"} { // by its place or by its record
		s.Plan.Settings.Inverter = id
		for _, e := range Evaluate(layout.Resolve(s.Plan, a, s.Library, nil), nil, nil).Ledger() {
			if e.Group == Cables {
				near(t, id, e.Kg/(1.1*50*8.9e-6*1.5), 2*1000, 1e-6)
			}
		}
	}
}

// Goods without a load place stand over the middle of the rear axle, at the height of the centre of gravity: they move nothing sideways
// and nothing up. Their errors make up for the vehicle's.
func TestGoodsOverTheRearAxle(t *testing.T) {
	d := donor()
	d.LoadPlaces, d.Seats = nil, nil
	r := Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil)
	kerb, gross := r.Of(CaseKerb).Now, r.Of(CaseGross).Now
	near(t, "front axle", gross.Front.Value, kerb.Front.Value, 1e-9)
	near(t, "height", gross.Body.Z.Value, kerb.Body.Z.Value, 1e-9)
	near(t, "to the side", gross.Body.Y.Value*gross.Body.Kg.Value, kerb.Body.Y.Value*kerb.Body.Kg.Value, 1e-6)
}

// Load places fill up in their order and are no source of error themselves: the first is full, what the second takes makes up for the
// vehicle's errors, so that its half width is all there is and falls on the place between them.
func TestFullLoadPlaceHasNoErrorOfItsOwn(t *testing.T) {
	var s sum
	s.add(1000, 10, r3.Vector{X: 1000}, 0, Second{})
	d := &vehicles.Donor{Ratings: vehicles.Ratings{GrossKg: 1400}, LoadPlaces: []vehicles.LoadPlace{{ID: "p", At: vehicles.XYZ{2000, 0, 0}, MaxKg: 100}, {ID: "q", At: vehicles.XYZ{3000, 0, 0}}}}
	loads, remark := fillTo(&s, d)
	if len(loads) != 2 || loads[0].Kg != 100 || loads[1].Kg != 300 || remark != "" {
		t.Errorf("%+v, %q", loads, remark)
	}
	near(t, "mass", s.linear(oneKg).PlusMinus, 0, 1e-9)
	near(t, "moment", s.linear(inX).PlusMinus, 10*(3000-1000), 1e-6) // ten kilograms more here are ten fewer there
}

// The first seat is the driver's where none is named so.
func TestDriverWithoutANamedSeat(t *testing.T) {
	d := donor()
	d.Seats = []vehicles.Seat{{Name: "left", At: vehicles.XYZ{700, -380, 900}}, {Name: "right", At: vehicles.XYZ{700, 380, 900}}}
	if loads := Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil).Of(CaseDriver).Loads; len(loads) != 1 || loads[0].Name != "left" {
		t.Errorf("%+v", loads)
	}
}

func TestWheelsStandOnTheGround(t *testing.T) {
	r := Evaluate(sceneOf(donor(), &layout.Arrangement{ID: "a"}, nil), nil, nil)
	for i, want := range []r3.Vector{{Y: -720}, {Y: 720}, {X: 2600, Y: -700}, {X: 2600, Y: 700}} {
		if got := r.WheelPlace(i); got != want {
			t.Errorf("wheel %d at %v, want %v", i, got, want)
		}
	}
}

// Two boxes go together as far as the one with less room; a box that stands beyond its bay has none.
func TestRoomOfBoxesTogether(t *testing.T) {
	for _, order := range [][2]float64{{1500, 1700}, {1700, 1500}} {
		a := fleet(2, 6)
		for i, end := range order {
			id := []string{"p", "q"}[i]
			a.Bays = append(a.Bays, vehicles.Bay{ID: id, ClearanceMM: 10, Levels: []vehicles.Level{{Outline: rect(50, -700, end, 700), FloorMM: 200, CeilingMM: 500}}})
			a.Boxes[i].Bay = id
		}
		r := Evaluate(sceneOf(donor(), a, nil), nil, nil)
		moves := r.Bring(r.Of(CaseKerb).Now.FrontSharePct.Value - 1e-3)
		near(t, "first", moves[1].FreeMM, order[0]-1180-10, 1e-9)
		near(t, "second", moves[2].FreeMM, order[1]-1330-10, 1e-9)
		near(t, "together", moves[0].FreeMM, min(moves[1].FreeMM, moves[2].FreeMM), 1e-9)
		if moves[1].ByMM <= 0 || moves[1].ByMM >= 1 {
			t.Errorf("moved by %v, want less than a millimetre", moves[1].ByMM)
		}
		a.Bays[0].Levels[0].Outline = rect(50, -700, 1000, 700)
		r = Evaluate(sceneOf(donor(), a, nil), nil, nil)
		near(t, "beyond its bay", r.Bring(r.Of(CaseKerb).Now.FrontSharePct.Value - 1)[1].FreeMM, 0, 0)
	}
}

// An empty box of half a kilogram can be moved too, if only it is told how far.
func TestLightBoxMovesFar(t *testing.T) {
	b := &layout.Box{ID: "b", Levels: []vehicles.Level{{Outline: rect(0, 0, 100, 100), CeilingMM: 80}}, Shell: layout.Shell{WallMM: 1, Material: "aluminium"}}
	r := Evaluate(sceneOf(donor(), &layout.Arrangement{ID: "a", Boxes: []*layout.Box{b}}, nil), nil, nil)
	own := r.Boxes[0].Body.Kg.Value
	moves := r.Bring(r.Of(CaseKerb).Now.FrontSharePct.Value - 0.1)
	if own >= 1 || len(moves) != 2 {
		t.Fatalf("%v kg, %+v", own, moves)
	}
	want := 0.001 * r.Now.Kg.Value * 2600 / own
	near(t, "alone", moves[1].ByMM, want, 1e-6)
	near(t, "all", moves[0].ByMM, want, 1e-6)
}

// The main readings are all in the trim table: three for each way along, across and one for height with the stability that hangs on it.
func TestTrimHasTheMainReadings(t *testing.T) {
	r := Evaluate(sceneOf(donor(), fleet(1, 4), nil), nil, nil)
	var got string
	for _, x := range r.Trim() {
		got += x.Axis + " " + x.Key + ", "
	}
	if want := "x axles_kg.front, x axles_kg.rear, x front_share_pct, x cg_mm.x, y cg_mm.y, y side_pct, y wheels_kg.front_left, y wheels_kg.rear_left, z cg_mm.z, z ssf, "; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
