package check

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// By construction: the plane through the point at angle a touches the circle, so that the distance of the circle's
// centre from it is the radius.
func TestTangentTouchesTheTyre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(200, 600).Draw(t, "radius")
		ahead := rapid.Float64Range(r, 3000).Draw(t, "ahead")
		height := rapid.Float64Range(1, 600).Draw(t, "height")
		a := tangentDeg(r, ahead, height) * math.Pi / 180
		if math.Hypot(ahead, r-height) <= r {
			return
		}
		// the line through (ahead, height) falling by a towards the tyre at x = 0
		d := math.Abs(math.Sin(a)*(0-ahead) - math.Cos(a)*(r-height))
		if math.Abs(d-r) > 1e-6*r {
			t.Fatalf("centre %g from the plane, radius %g", d, r)
		}
	})
	// On the ground there is no angle; straight above the tyre nothing is in the way.
	if a := tangentDeg(300, 1000, 0); math.Abs(a) > 1e-9 {
		t.Errorf("%g on the ground", a)
	}
	if a := tangentDeg(300, 0, 700); a != 90 {
		t.Errorf("%g above the tyre", a)
	}
}

// A brute-force twin: the base moved in 400 steps meets an obstacle where the sweep says so.
func TestSweepAgainstSmallSteps(t *testing.T) {
	base := geometry.Ring{{X: 0, Y: 0}, {X: 200, Y: 0}, {X: 200, Y: 150}, {X: 90, Y: 150}, {X: 90, Y: 60}, {X: 0, Y: 60}}.Polygon()
	p := geometry.Prism{Base: base, Bottom: 0, Top: 100}
	dirs := []r3.Vector{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}}
	met, clear := 0, 0
	r := rand.New(rand.NewPCG(1, 2))
	between := func(lo, hi int) float64 { return float64(10 * (lo + r.IntN(hi-lo))) }
	for range 500 {
		dir := dirs[r.IntN(len(dirs))]
		lo := r3.Vector{X: between(-8, 25), Y: between(-8, 20), Z: between(-8, 14)}.Add(dir.Mul(between(-30, 60)))
		o := geometry.NewBox(lo, lo.Add(r3.Vector{X: 37, Y: 23, Z: 41}))
		if o.Overlaps(p) {
			continue
		}
		want := false
		for i := range 401 {
			want = want || p.Translate(dir.Mul(float64(i))).Overlaps(o)
		}
		got := false
		for _, s := range sweep(p, dir, 400) {
			got = got || s.Overlaps(o)
		}
		if got != want {
			t.Fatalf("sweep %v, small steps %v for %v", got, want, o)
		}
		if want {
			met++
		} else {
			clear++
		}
	}
	if met < 50 || clear < 50 {
		t.Errorf("met %d, clear %d", met, clear)
	}
}

// stand is an invented vehicle 4 m long and 1.6 m wide with one bay and one box in it.
func stand(change func(*vehicles.Donor, *layout.Arrangement)) *Evaluation {
	d := &vehicles.Donor{
		ID: "stand", Name: "stand", WheelbaseMM: 2500, TrackFrontMM: 1400, TrackRearMM: 1400, WheelRadiusMM: 300, GroundClearMM: 150,
		ApproachDeg: 25, DepartureDeg: 20, RampDeg: 25,
		PlanOutline:     []vehicles.XY{{-800, -800}, {3200, -800}, {3200, 800}, {-800, 800}},
		Scales:          vehicles.Scales{FrontLeftKg: 300, FrontRightKg: 300, RearLeftKg: 300, RearRightKg: 300},
		CentreOfGravity: vehicles.CGRise{HeightMM: 550, How: "maker"}, Ratings: vehicles.Ratings{FrontAxleKg: 900, RearAxleKg: 900, GrossKg: 1700},
	}
	a := &layout.Arrangement{ID: "a", Name: "a",
		Bays:  []vehicles.Bay{{ID: "bay", Access: "below", Levels: []vehicles.Level{{Outline: rect(780, -420, 1720, 420), FloorMM: 180, CeilingMM: 480}}}},
		Boxes: []*layout.Box{{ID: "box", Bay: "bay", At: vehicles.XYZ{800, -400, 200}, Levels: []vehicles.Level{{Outline: rect(0, 0, 900, 800), FloorMM: 0, CeilingMM: 250}}}},
	}
	if change != nil {
		change(d, a)
	}
	p := &layout.Plan{Format: 1, Name: "p", Donor: d.ID, Arrangements: []*layout.Arrangement{a}}
	return Evaluate(p, a, vehicles.Catalogue().With(vehicles.Records{Donors: []*vehicles.Donor{d}}), nil)
}

func rect(x0, y0, x1, y1 float64) []vehicles.XY {
	return []vehicles.XY{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// said returns the one finding of a rule, of the severity wanted.
func said(t *testing.T, e *Evaluation, rule string, want Severity) Finding {
	t.Helper()
	var out []Finding
	for _, f := range e.Findings {
		if f.Rule == rule {
			out = append(out, f)
		}
	}
	if len(out) != 1 || out[0].Severity != want {
		t.Fatalf("%s: %+v, want one that %s", rule, out, want)
	}
	return out[0]
}

func TestPlaceOfABoxThatStandsWell(t *testing.T) {
	e := stand(nil)
	said(t, e, "place.crush", Passes)
	said(t, e, "place.removal", Passes)
	if f := said(t, e, "place.ground", Passes); f.Actual != 200 {
		t.Errorf("%g mm above the ground, want 200", f.Actual)
	}
	said(t, e, "place.lid", Notes) // the lid is above, the bay open below
}

// UN R100 6.4.2: 420 mm behind the front edge, 300 mm ahead of the rear edge.
func TestCrushMarginsOfUNR100(t *testing.T) {
	move := func(x float64) func(*vehicles.Donor, *layout.Arrangement) {
		return func(_ *vehicles.Donor, a *layout.Arrangement) { a.Boxes[0].At[0] = x }
	}
	for _, c := range []struct {
		x    float64
		want Severity
	}{{-380, Passes}, {-381, Warns}, {2000, Passes}, {2001, Warns}} {
		said(t, stand(move(c.x)), "place.crush", c.want)
	}
	f := said(t, stand(func(_ *vehicles.Donor, a *layout.Arrangement) { a.Boxes[0].At[1] = -730 }), "place.crush", Warns)
	if f.Actual != 70 || f.Required != 100 {
		t.Errorf("%+v", f)
	}
}

func TestSideMarginFollowsATaperedBody(t *testing.T) {
	body := geometry.Polygon{Outer: geometry.Ring{{X: 0, Y: -500}, {X: 1000, Y: -400}, {X: 1000, Y: 400}, {X: 0, Y: 500}}}
	d, at, _ := sideMargin(body, []geometry.Prism{{Base: geometry.NewRect(100, -300, 600, 300), Top: 1}})
	if math.Abs(d-140) > 1e-9 || at.X != 600 {
		t.Errorf("%g at %v, want 140 at x 600", d, at)
	}
}

// By hand: a corner 1250 mm from both axles at 100 mm, tyres of 300 mm. asin(300/hypot(1250,200)) = 13.71 degrees less
// atan(200/1250) = 9.09: 4.62 on each side.
func TestRampAngleByHand(t *testing.T) {
	e := stand(func(_ *vehicles.Donor, a *layout.Arrangement) {
		a.Boxes[0].At = vehicles.XYZ{1249, -400, 100}
		a.Boxes[0].Levels[0].Outline = rect(0, 0, 2, 800)
	})
	for _, f := range e.Findings {
		if f.Rule == "place.angles" && f.Severity == Warns {
			if math.Abs(f.Actual-9.24) > 0.03 {
				t.Errorf("%.2f degrees, want 9.24", f.Actual)
			}
			return
		}
	}
	t.Error("nothing warns")
}

func TestCabinWantsSealAndVent(t *testing.T) {
	cabin := func(sealed bool, openings ...layout.Opening) *Evaluation {
		return stand(func(d *vehicles.Donor, a *layout.Arrangement) {
			d.Zones = []vehicles.Zone{{ID: "cabin", Kind: "passenger", Outline: rect(0, -700, 2000, 700), FloorMM: 300, CeilingMM: 1400}}
			a.Boxes[0].Sealed, a.Boxes[0].Openings = sealed, openings
		})
	}
	said(t, cabin(false), "place.cabin", Fails)
	said(t, cabin(true), "place.cabin", Warns)
	said(t, cabin(true, layout.Opening{ID: "v", Kind: "vent", Face: "top", DiameterMM: 20}), "place.cabin", Passes)
}

func TestWhatIsInTheWayOut(t *testing.T) {
	under := func(kind string) *Evaluation {
		return stand(func(d *vehicles.Donor, _ *layout.Arrangement) {
			d.KeepOuts = []vehicles.KeepOut{{ID: "k", Name: "thing", Kind: kind, Outline: rect(1000, -50, 1100, 50), FloorMM: 100, CeilingMM: 140}}
		})
	}
	said(t, under("structure"), "place.removal", Fails)
	said(t, under("moving"), "place.removal", Warns)
	said(t, under("path"), "place.removal", Passes)
	e := stand(func(_ *vehicles.Donor, a *layout.Arrangement) { a.Bays[0].Access = "" })
	said(t, e, "place.removal", Notes)
}

func TestConnectorNeedsAHand(t *testing.T) {
	e := stand(func(_ *vehicles.Donor, a *layout.Arrangement) {
		a.Boxes[0].Openings = []layout.Opening{{ID: "c", Kind: "connector", Face: "rear", At: vehicles.XYZ{900, 400, 100}, DiameterMM: 40}}
		a.Boxes = append(a.Boxes, &layout.Box{ID: "other", At: vehicles.XYZ{1740, -400, 200}, Levels: []vehicles.Level{{Outline: rect(0, 0, 200, 800), CeilingMM: 200}}})
	})
	if f := said(t, e, "place.connector", Warns); math.Abs(f.Actual-40) > 1e-9 {
		t.Errorf("%g mm, want 40", f.Actual)
	}
}

func TestAcrossOfARing(t *testing.T) {
	lo, hi, ok := across(geometry.NewRect(0, -1, 2, 3), 1)
	if lo != -1 || hi != 3 || !ok {
		t.Error(lo, hi, ok)
	}
	if _, _, ok := across(geometry.Polygon{Outer: geometry.Ring{r2.Point{}, {X: 1}, {Y: 1}}}, 5); ok {
		t.Error("beyond the ring")
	}
}

// The way out of the bay, by hand: along one axis, until all of the box has passed the bay's other end.
func TestWayOutOfTheBay(t *testing.T) {
	e := stand(func(_ *vehicles.Donor, a *layout.Arrangement) { a.Boxes[0].At = vehicles.XYZ{790, -390, 210} }) // 790 to 1690, -390 to 410, 210 to 460 in 780 to 1720, -420 to 420, 180 to 480
	bay := e.Scene.Bay("bay")
	for side, want := range map[string]struct {
		dir r3.Vector
		by  float64
	}{
		"below": {r3.Vector{Z: -1}, 280}, "above": {r3.Vector{Z: 1}, 270}, "left": {r3.Vector{Y: -1}, 830}, "right": {r3.Vector{Y: 1}, 810},
		"front": {r3.Vector{X: -1}, 910}, "rear": {r3.Vector{X: 1}, 930}, "": {r3.Vector{}, 0},
	} {
		b := *bay.Bay
		b.Access = side
		open := *bay
		open.Bay = &b
		if dir, by := wayFrom(&open, e.Scene.Boxes[0]); dir != want.dir || math.Abs(by-want.by) > 1e-9 {
			t.Errorf("%q: %v by %g mm, not %v by %g", side, dir, by, want.dir, want.by)
		}
	}
}

// A hand takes 80 mm in front of an opening, as wide as it is, but 30 mm at least.
func TestHandInFrontOfAnOpening(t *testing.T) {
	for face, want := range map[string][2]r3.Vector{
		"front": {{X: 20, Y: 180, Z: 280}, {X: 99, Y: 220, Z: 320}}, "rear": {{X: 101, Y: 180, Z: 280}, {X: 180, Y: 220, Z: 320}},
		"left": {{X: 80, Y: 120, Z: 280}, {X: 120, Y: 199, Z: 320}}, "right": {{X: 80, Y: 201, Z: 280}, {X: 120, Y: 280, Z: 320}},
		"bottom": {{X: 80, Y: 180, Z: 220}, {X: 120, Y: 220, Z: 299}}, "top": {{X: 80, Y: 180, Z: 301}, {X: 120, Y: 220, Z: 380}},
	} {
		p := handSpace(&layout.Opening{Face: face, At: vehicles.XYZ{100, 200, 300}, DiameterMM: 40})
		if lo, hi := corners(p); lo != want[0] || hi != want[1] {
			t.Errorf("%s: from %v to %v, not %v", face, lo, hi, want)
		}
	}
	if lo, hi := corners(handSpace(&layout.Opening{Face: "rear", At: vehicles.XYZ{100, 200, 300}, DiameterMM: 10})); hi.Y-lo.Y != 30 {
		t.Errorf("%g mm wide", hi.Y-lo.Y)
	}
}
