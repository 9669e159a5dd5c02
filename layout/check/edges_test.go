package check

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/electric"
	"stowbay/layout/restraint"
	"stowbay/vehicles"
)

// block is a body of a box between two corners.
func block(id string, x0, y0, z0, x1, y1, z1 float64) solid {
	s := solid{id: id, lo: r3.Vector{X: x0, Y: y0, Z: z0}, hi: r3.Vector{X: x1, Y: y1, Z: z1}}
	s.pose = layout.Pose{At: s.lo, Size: s.hi.Sub(s.lo)}
	return s
}

// Two bodies that touch along one axis do not overlap, along whichever it is; a lattice step deep they do not either, two are.
func TestTouchingBodiesDoNotOverlap(t *testing.T) {
	for axis := range 3 {
		for depth, overlap := range map[float64]bool{0: false, -5: false, 0.009: false, 0.02: true} {
			a, b := block("a", 0, 0, 0, 100, 100, 100), block("b", 10, 10, 10, 90, 90, 90)
			b.lo, b.hi = withComponent(b.lo, axis, 100-depth), withComponent(b.hi, axis, 200)
			f := &boxFit{}
			f.pair(&a, &b)
			got := len(f.breaches) == 1 && f.breaches[0].rule == "fit.overlap"
			if got != overlap || !overlap && len(f.breaches) != 0 {
				t.Errorf("axis %d, %g mm deep: %+v", axis, depth, f.breaches)
			}
		}
	}
}

// The two ends of a gap lie on the faces that look at each other, in the middle of what the bodies share, whichever comes
// first.
func TestEndsOfAGapFaceEachOther(t *testing.T) {
	for axis := range 3 {
		a, b := block("a", 0, 0, 0, 100, 60, 40), block("b", 20, 10, 10, 120, 80, 50)
		a.lo, a.hi = withComponent(a.lo, axis, -30), withComponent(a.hi, axis, -10)
		b.lo, b.hi = withComponent(b.lo, axis, 25), withComponent(b.hi, axis, 75)
		mid := r3.Vector{X: 60, Y: 35, Z: 25}
		low, high := withComponent(mid, axis, -10), withComponent(mid, axis, 25)
		if from, to := facing(&a, &b, axis); from != low || to != high {
			t.Errorf("axis %d: %v to %v, want %v to %v", axis, from, to, low, high)
		}
		if from, to := facing(&b, &a, axis); from != high || to != low {
			t.Errorf("axis %d, the other way: %v to %v", axis, from, to)
		}
		if got := component(low, axis); got != -10 {
			t.Errorf("component %d of %v is %g", axis, low, got)
		}
	}
}

// A body that swells by 8 mm over life comes half of it, 4 mm, nearer to the wall it faces and to the lid.
func TestSwellingTowardsWallAndLid(t *testing.T) {
	sp := geometry.Space{Solids: []geometry.Prism{{Base: geometry.NewRect(0, 0, 400, 300), Bottom: 0, Top: 200}}}
	inside, err := sp.Prepare()
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		swell  r3.Vector
		x0, y0 float64
		top    float64
		want   float64 // needed; 0 where nothing is said
	}{
		"along x near the wall":       {r3.Vector{X: 8}, 3, 100, 100, 4},
		"along x far enough":          {r3.Vector{X: 8}, 4.1, 100, 100, 0},
		"along x near the other wall": {r3.Vector{X: 8}, 100, 3, 100, 0},
		"along y near the wall":       {r3.Vector{Y: 8}, 100, 3, 100, 4},
		"along y near the other wall": {r3.Vector{Y: 8}, 3, 100, 100, 0},
		"upwards near the lid":        {r3.Vector{Z: 8}, 100, 100, 197, 4},
		"upwards far enough":          {r3.Vector{Z: 8}, 100, 100, 195.9, 0},
	} {
		s := block("m", c.x0, c.y0, 0, c.x0+100, c.y0+100, c.top)
		s.gaps.Swell = c.swell
		f := &boxFit{}
		f.walls(&s, &inside)
		if c.want == 0 && len(f.breaches) != 0 || c.want != 0 && (len(f.breaches) != 1 || f.breaches[0].required != c.want) {
			t.Errorf("%s: %+v", name, f.breaches)
		}
	}
	f := &boxFit{}
	f.against(&solid{id: "m"}, "the wall", 0.5, 0.2, r3.Vector{}, r3.Vector{})
	if len(f.breaches) != 1 {
		t.Error("half a millimetre that is wanted is not asked for")
	}
}

// A body of another posture than its maker allows is pointed at in its middle.
func TestPostureIsShownInTheMiddle(t *testing.T) {
	s := block("m", 10, 20, 30, 110, 60, 50)
	s.posture, s.postures = vehicles.Side, []vehicles.Posture{vehicles.Flat}
	f := &boxFit{}
	f.posture(&s)
	if len(f.breaches) != 1 || f.breaches[0].place != (r3.Vector{X: 60, Y: 40, Z: 40}) || !strings.Contains(f.breaches[0].text, "stands on its side") {
		t.Errorf("%+v", f.breaches)
	}
}

// A body that only touches another one's side has nothing under it, one that overlaps it by a hair has.
func TestSideBySideIsNoSupport(t *testing.T) {
	sp := geometry.Space{Solids: []geometry.Prism{{Base: geometry.NewRect(0, 0, 400, 300), Bottom: 0, Top: 200}}}
	inside, err := sp.Prepare()
	if err != nil {
		t.Fatal(err)
	}
	for x, hangs := range map[float64]bool{100: true, 99.5: false, 50: false} {
		low, up := block("low", 0, 0, 0, 100, 100, 50), block("up", x, 0, 50, x+100, 100, 100)
		all := []solid{low, up}
		f := &boxFit{}
		f.support(nil, &all[1], all, &inside)
		if got := len(f.breaches) > 0; got != hangs {
			t.Errorf("at %g mm: %+v", x, f.breaches)
		}
	}
}

// A strip gives way by a lattice step on every side, and one too thin for that stays as it is.
func TestStripsGiveWay(t *testing.T) {
	p := geometry.Prism{Base: geometry.NewRect(10, 20, 40, 60), Bottom: 5, Top: 30}
	got := slackened(p)
	b := got.Base.Bounds()
	for what, c := range map[string][2]float64{"x lo": {b.X.Lo, 10.01}, "x hi": {b.X.Hi, 39.99}, "y lo": {b.Y.Lo, 20.01}, "y hi": {b.Y.Hi, 59.99}} {
		if math.Abs(c[0]-c[1]) > 1e-9 {
			t.Errorf("%s: %g, want %g", what, c[0], c[1])
		}
	}
	for _, thin := range []geometry.Prism{
		{Base: geometry.NewRect(10, 20, 10.02, 60), Bottom: 5, Top: 30}, {Base: geometry.NewRect(10, 20, 40, 20.02), Bottom: 5, Top: 30}, {Base: geometry.NewRect(10, 20, 40, 60), Bottom: 5, Top: 5.02},
	} {
		if got := slackened(thin).Base.Bounds(); got != thin.Base.Bounds() {
			t.Errorf("%v became %v", thin.Base.Bounds(), got)
		}
	}
	if got := slackened(geometry.Prism{Base: geometry.NewRect(0, 0, 0.025, 9), Bottom: 0, Top: 9}).Base.Bounds(); math.Abs(got.X.Lo-0.01) > 1e-9 {
		t.Errorf("a strip of 0.025 mm gives way: %v", got)
	}
}

// Figures below one are figures: a fuse that breaks half a kiloampere, gear for half a volt and half an ampere.
func TestSmallRatingsAreChecked(t *testing.T) {
	at := &layout.GearBody{ID: "g", Gear: &vehicles.Gear{VoltageMinV: 0.4, VoltageMaxV: 0.5, ContinuousA: 0.5, BreakingKA: 0.5}}
	units := func(fs []Finding) string {
		var all []string
		for _, f := range fs {
			all = append(all, f.Unit)
		}
		return strings.Join(all, " ")
	}
	if got := units(ratedFigures(&electric.Rated{Gear: at, MaxV: 0.45, MinV: 0.9, LoadA: 0.9})); got != "V V A" {
		t.Errorf("rated gear: %q", got)
	}
	if got := units(ratedFigures(&electric.Rated{Gear: at, MaxV: 0.45})); got != "V" {
		t.Errorf("no lowest voltage, no load: %q", got)
	}
	if got := fuseIntegrals(&electric.FuseCheck{Fuse: at, FaultA: 400}, func(required, actual float64, compare, unit string, bad Severity, good, wrong string) Finding {
		return Finding{Unit: unit, Required: required, Actual: actual}
	}); got[0].Unit != "kA" || got[0].Required != 0.4 || got[0].Actual != 0.5 {
		t.Errorf("%+v", got)
	}
}

// The peak is shared among the strings as the continuous current is, below an ampere too.
func TestPeakOfAString(t *testing.T) {
	e := &Evaluation{Electric: &electric.Result{Strings: []electric.String{{ID: "s", ShareA: 0.25, ContinuousA: 1, PeakA: 2}}}}
	e.Electric.Load.ContinuousA, e.Electric.Load.PeakA = 0.5, 0.8
	got := moduleCurrent(e)
	if len(got) != 2 || math.Abs(max(got[1].Actual, got[1].Required)-2) > 1e-12 || math.Abs(min(got[1].Actual, got[1].Required)-0.4) > 1e-12 {
		t.Errorf("%+v", got)
	}
}

// A cable of just the section that is needed is thick enough, whatever the others have.
func TestCableOfJustTheSection(t *testing.T) {
	r := &electric.Result{Cables: []electric.Run{{Kind: "cable", ID: "c1", SectionMM2: 35}, {Kind: "cable", ID: "c2", SectionMM2: 34.9}, {Kind: "links", ID: "l", SectionMM2: 5}}}
	r.Sections.Cable = electric.Conductor{SectionMM2: 50, AmpacityMM2: 35, AdiabaticMM2: 20}
	if got := thinCables(r); len(got) != 1 || got[0].Subject != "c2" {
		t.Errorf("%+v", got)
	}
}

// A box that reaches past the vehicle's end is said to do so by a length, not by a length below nought.
func TestBoxPastTheEnd(t *testing.T) {
	b := &layout.BoxScene{Box: &layout.Box{ID: "b"}}
	if got := margin(b, "rear", -40, 300, r3.Vector{}, r3.Vector{}).Text; !strings.Contains(got, "reaches 40 mm past the vehicle's rear") {
		t.Error(got)
	}
	if got := margin(b, "rear", 0, 300, r3.Vector{}, r3.Vector{}).Text; !strings.Contains(got, "lies 0 mm from") {
		t.Error(got)
	}
}

// Whoever has a keep-out half a metre away or farther is not beside it.
func TestBesideIsWithinHalfAMetre(t *testing.T) {
	for gap, near := range map[float64]bool{499.9: true, 500.05: false, 500.9: false} {
		k := layout.KeepOutScene{Ref: "k", KeepOut: &vehicles.KeepOut{ID: "k", Kind: "hot", CeilingMM: 100, Outline: rect(100+gap, 0, 700+gap, 100)}}
		b := &layout.BoxScene{Box: &layout.Box{ID: "b"}}
		b.Outer.Solids = []geometry.Prism{{Base: geometry.NewRect(0, 0, 100, 100), Top: 100}}
		f, got := beside(k, b, 100)
		if got != near || near && math.Abs(f.Actual-gap) > 0.01 {
			t.Errorf("%g mm: %v, %+v", gap, got, f)
		}
	}
}

// Edges that trail or lie along the way draw no band: a square on its way to the right draws one.
func TestBandsOfASweep(t *testing.T) {
	p := geometry.Prism{Base: geometry.NewRect(0, 0, 100, 50), Top: 10}
	got := sweep(p, r3.Vector{X: 1}, 30)
	if len(got) != 1 || got[0].Base.Bounds() != r2.RectFromPoints(r2.Point{X: 100}, r2.Point{X: 130, Y: 50}) {
		t.Errorf("%+v", got)
	}
	slim := geometry.Prism{Base: geometry.NewRect(0, 0, 1, 1.5), Top: 10}
	if got := sweep(slim, r3.Vector{X: 1}, 1); len(got) != 1 {
		t.Errorf("an edge of 1.5 mm moved by 1 mm: %+v", got)
	}
}

// Where springs are known the body sinks with what it takes aboard, whatever the wheelbase.
func TestSunkBetweenTheAxles(t *testing.T) {
	e := stand(func(d *vehicles.Donor, _ *layout.Arrangement) {
		d.Springs = vehicles.Springs{FrontNPerMM: 20, RearNPerMM: 20}
		d.Added = []vehicles.Part{{ID: "p", Name: "part", MassKg: 100, Known: "weighed", At: vehicles.XYZ{0, 0, 500}}}
	})
	c := e.Mass.Change
	if got := e.sunk(625); math.Abs(got+0.75*c.RideFront.Value+0.25*c.RideRear.Value) > 1e-9 {
		t.Errorf("a quarter of the way back: %g, from %g in front and %g behind", got, c.RideFront.Value, c.RideRear.Value)
	}
	e.Scene.Donor.WheelbaseMM = 0.5
	if got := e.sunk(0); math.Abs(got+c.RideFront.Value) > 1e-9 || got == 0 {
		t.Errorf("a short wheelbase: %g", got)
	}
	e.Scene.Donor.WheelbaseMM = 0
	if got := e.sunk(0); got != 0 {
		t.Errorf("no wheelbase: %g", got)
	}
}

// A corner over the front axle is between the axles, one ahead of it is not: from there the approach angle is taken.
func TestCornersOverTheFrontAxle(t *testing.T) {
	for x, end := range map[float64]int{-400: 0, 0: 2, 0.5: 2, 2500: 2, 2900: 1} {
		e := stand(func(d *vehicles.Donor, a *layout.Arrangement) {
			a.Boxes[0].At[0] = x
			a.Boxes[0].Levels[0].Outline = rect(0, 0, 0.1, 800)
			if x == 2500 {
				a.Boxes[0].Levels[0].Outline = rect(-0.1, 0, 0, 800)
			}
		})
		for i, a := range e.angles(e.Scene.Donor) {
			if (a.box != "") != (i == end) {
				t.Errorf("a box at x = %g, %s angle: %+v", x, a.name, a)
			}
		}
	}
}

// Lists in sentences, by hand.
func TestWordsForLists(t *testing.T) {
	for want, names := range map[string][]string{"": nil, "a": {"a"}, "a and b": {"a", "b"}, "a, b and c": {"a", "b", "c"}} {
		if got := listed(names); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for want, ids := range map[string][]string{"foot a": {"a"}, "feet a and b": {"a", "b"}, "feet a, b and c": {"a", "b", "c"}} {
		if got := feetWords(ids); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Of terminals under the next layer the first three are named.
func TestBuriedTerminalsNamed(t *testing.T) {
	for n, want := range map[int]string{3: "c1 under m1, c2 under m2", 4: "and 1 more", 5: "and 2 more"} {
		var list []assembly.Buried
		for i := range n {
			id := string(rune('0' + i))
			list = append(list, assembly.Buried{Conductor: &assembly.Conductor{ID: "c" + id, Box: &layout.BoxScene{Box: &layout.Box{ID: "b"}}}, Under: &layout.Body{ID: "m" + id}})
		}
		text := buriedIn(list).Text
		if !strings.Contains(text, want) || strings.Contains(text, "c3 under") || strings.Contains(text, "more") != (n > 3) {
			t.Errorf("%d: %s", n, text)
		}
	}
}

// A failing finding outweighs a thousand warnings, no more and no less.
func TestTroubleOfAnArrangement(t *testing.T) {
	e := stand(func(d *vehicles.Donor, a *layout.Arrangement) { a.Boxes[0].At[2] = 100 })
	fails, warns := 0, 0
	for _, f := range e.Findings {
		switch f.Severity {
		case Fails:
			fails++
		case Warns:
			warns++
		}
	}
	if got := Trouble(e.Plan, e.Scene.Library)(e.Arrangement); fails == 0 || got != float64(1000*fails+warns) {
		t.Errorf("%g of %d that fail and %d that warn", got, fails, warns)
	}
}

// Torque above 90 % of the proof load is warned of, up to it is not. ISO 898-1: proof stress 600 MPa of class 8.8.
func TestTorqueAtNineTenthsOfProof(t *testing.T) {
	for share, warned := range map[float64]bool{0.89: false, 0.91: true, 0.95: true} {
		foot := restraint.Foot{Foot: &layout.Foot{ID: "f"}, TorqueNm: 30}
		foot.Thread, foot.Class = restraint.ThreadOf("M8"), restraint.ClassOf("8.8")
		foot.PreloadN = share * foot.Class.ProofMPa(foot.Thread) * foot.Thread.AreaMM2
		e := &Evaluation{Restraint: &restraint.Result{Boxes: []*restraint.Box{{Scene: &layout.BoxScene{Box: &layout.Box{ID: "b"}}, Feet: []restraint.Foot{foot}}}}}
		if got := slices.ContainsFunc(torques(e), func(f Finding) bool { return strings.Contains(f.Text, "of its proof load") && f.Severity != Passes }); got != warned {
			t.Errorf("%g of the proof load: warned %v", share, got)
		}
	}
}
