package mass

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Half widths against a Monte Carlo run (JCGM 101): masses and places drawn at random by gonum, the vehicle
// evaluated for each draw, the scatter of the results taken. Half widths and scatter are both of one width.
func TestHalfWidthsAgainstMonteCarlo(t *testing.T) {
	d, a := donor(), fleet(2, 6)
	r := Evaluate(sceneOf(d, a, nil), nil, nil)
	src := rand.NewPCG(1, 2)
	normal := func(mu, sigma float64) float64 { return distuv.Normal{Mu: mu, Sigma: sigma, Src: src}.Rand() }
	survey := d.Survey()
	reading := survey.Mass.PlusMinus / 2
	got := map[string][]float64{}
	for range 3000 {
		height := normal(survey.Z.Value, survey.Z.PlusMinus)
		var s sum
		for _, w := range wheelsOf(d, height) {
			s.add(normal(w.kg, reading), 0, w.at, 0, Second{})
		}
		module := normal(0, moduleHalf(module(), defaultsOf(layout.Mass{}))) // one error for all of the type
		for _, e := range r.Ledger()[1:] {
			p := r3.Vector{X: normal(e.At.X, e.PlaceMM), Y: normal(e.At.Y, e.PlaceMM), Z: normal(e.At.Z, e.PlaceMM)}
			kg := normal(e.Kg, e.PlusMinus)
			if e.Group == Modules {
				kg = e.Kg + module*float64(e.Count)
			}
			s.add(kg, 0, p, 0, Second{})
		}
		st := r.axles.stateOf(&s, 0.5)
		for k, v := range map[string]float64{
			"mass": st.Body.Kg.Value, "x": st.Body.X.Value, "y": st.Body.Y.Value, "z": st.Body.Z.Value, "front": st.Front.Value, "rear": st.Rear.Value,
			"share": st.FrontSharePct.Value, "ssf": st.SSF.Value, "tilt": st.TiltDeg.Value, "climb": st.ClimbDeg.Value, "braking": st.BrakingFront.Value,
		} {
			got[k] = append(got[k], v)
		}
	}
	st := r.Of(CaseKerb).Now
	for k, f := range map[string]Figure{
		"mass": st.Body.Kg, "x": st.Body.X, "y": st.Body.Y, "z": st.Body.Z, "front": st.Front, "rear": st.Rear,
		"share": st.FrontSharePct, "ssf": st.SSF, "tilt": st.TiltDeg, "climb": st.ClimbDeg, "braking": st.BrakingFront,
	} {
		mean, dev := stat.MeanStdDev(got[k], nil)
		near(t, k, f.Value, mean, 0.1*dev+1e-3*math.Abs(mean))
		near(t, k+" half width", f.PlusMinus, dev, 0.06*dev)
	}
}

// The half width of a change against the donor leaves out what both share: an exact mass put on at the centre of
// gravity moves nothing, and the survey's error counts only by the share that the mass takes of the whole.
func TestChangeCancelsSharedErrors(t *testing.T) {
	d := donor()
	at := Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil).Donor.CG()
	d.Removed, d.Added = nil, nil
	exact := []Entry{{ID: "lump", Group: PutIn, Kg: 100, At: at}}
	r := Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), exact, nil)
	for k, f := range map[string]Figure{"x": r.Change.X, "y": r.Change.Y, "z": r.Change.Z, "share": r.Change.FrontSharePct, "ssf": r.Change.SSF} {
		near(t, k, f.Value, 0, 1e-9)
		own := map[string]float64{"x": r.Donor.X.PlusMinus, "y": r.Donor.Y.PlusMinus, "z": r.Donor.Z.PlusMinus}[k]
		if own > 0 {
			near(t, k+" half width", f.PlusMinus, own*100/1474, 1e-6)
		}
	}
	near(t, "mass", r.Change.Kg.Value, 100, 1e-9)
	near(t, "mass half width", r.Change.Kg.PlusMinus, 0, 1e-9)
}

// Running totals, the last being the mass at kerb; signs and groups in order.
func TestLedgerAddsUp(t *testing.T) {
	r := Evaluate(sceneOf(donor(), fleet(3, 4), nil), nil, nil)
	total, square, modules := 0.0, 0.0, 0.0
	ids := map[string]bool{}
	for _, e := range r.Ledger() {
		total += e.Kg
		near(t, e.ID+" running", e.Running, total, 1e-9)
		if ids[e.ID] || e.Name == "" || e.Known == "" {
			t.Errorf("line %+v repeats an id or lacks a word", e)
		}
		ids[e.ID] = true
		if (e.Group == TakenOut) != (e.Kg < 0) {
			t.Errorf("line %s has the wrong sign", e.ID)
		}
		if e.Group == Modules {
			modules += e.PlusMinus
		} else {
			square += e.PlusMinus * e.PlusMinus
		}
	}
	near(t, "total", total, r.Now.Kg.Value, 1e-9)
	near(t, "half width: lines in quadrature, modules of one type in full", r.Now.Kg.PlusMinus, math.Sqrt(square+modules*modules), 1e-9)
}

// What the caller knows better replaces the estimates, and links count with their box.
func TestExtrasReplaceEstimates(t *testing.T) {
	s := sceneOf(donor(), fleet(2, 6), nil)
	own := Evaluate(s, nil, nil)
	extras := []Entry{
		{ID: "links", Group: Links, Of: "b1", Name: "links", Kg: 0.5, Known: Estimate, At: own.Boxes[0].Body.CG()},
		{ID: "cable", Group: Cables, Name: "cable", Kg: 3, Known: Estimate},
	}
	r := Evaluate(s, extras, own)
	n := map[Group]int{}
	for _, e := range r.Ledger() {
		n[e.Group]++
	}
	if n[Links] != 1 || n[Cables] != 1 || n[Coolant] != 3 {
		t.Errorf("lines by group %v, want one link, one cable, coolant as before", n)
	}
	link := own.boxes[0].of.links.Kg
	near(t, "first box", r.Boxes[0].Body.Kg.Value, own.Boxes[0].Body.Kg.Value-link+0.5, 1e-9)
	near(t, "second box", r.Boxes[1].Body.Kg.Value, own.Boxes[1].Body.Kg.Value-link, 1e-9)
	back := Evaluate(s, nil, r)
	near(t, "and back", back.Now.Kg.Value, own.Now.Kg.Value, 1e-9)
}

// Load cases by hand: the driver's seat by its name, goods in the order of the load places up to what each carries.
func TestLoadCases(t *testing.T) {
	d := donor()
	d.Removed, d.Added = nil, nil
	d.Seats[0], d.Seats[1] = d.Seats[1], d.Seats[0]
	d.LoadPlaces = []vehicles.LoadPlace{{ID: "box", At: vehicles.XYZ{2000, 0, 800}, MaxKg: 300}, {ID: "bed", At: vehicles.XYZ{2600, 100, 900}}}
	a := &layout.Arrangement{ID: "a"}
	s := sceneOf(d, a, nil)
	s.Plan.Settings.Mass = layout.Mass{OccupantKg: 68, Cases: []layout.LoadCase{{ID: "ball", Seats: []int{2}, Loads: []vehicles.Part{{ID: "nose", MassKg: 75, At: vehicles.XYZ{3500, 0, 450}, Known: "weighed"}}}}}
	r := Evaluate(s, nil, nil)
	driver, gross, own := r.Of(CaseDriver), r.Of(CaseGross), r.Of("ball")
	if len(driver.Loads) != 1 || driver.Loads[0].Name != "driver" || driver.Loads[0].Kg != 68 {
		t.Errorf("driver case carries %+v", driver.Loads)
	}
	near(t, "front axle with the driver at x = 700", driver.Now.Front.Value, 730+68*1900/2600.0, 1e-9)
	goods := gross.Loads[len(gross.Loads)-2:]
	near(t, "first load place", goods[0].Kg, 300, 0)
	near(t, "second load place", goods[1].Kg, 2200-1374-4*68-300, 1e-9)
	near(t, "gross", gross.Now.Body.Kg.Value, 2200, 1e-9)
	near(t, "gross half width", gross.Now.Body.Kg.PlusMinus, 0, 1e-9)
	near(t, "payload left", r.Of(CaseSeats).PayloadLeft.Value, 2200-1374-4*68, 1e-9)
	near(t, "rear axle with nose weight", own.Now.Rear.Value, 644+68*700/2600.0+75*3500/2600.0, 1e-9)
	near(t, "donor in the same case", own.Donor.Rear.Value, own.Now.Rear.Value, 1e-9)
}

// Where load places end before the gross mass, and where the seats alone are over it, the case says so.
func TestGrossCaseThatCannotBe(t *testing.T) {
	d := donor()
	d.LoadPlaces = []vehicles.LoadPlace{{ID: "box", At: vehicles.XYZ{2000, 0, 800}, MaxKg: 50}}
	if c := Evaluate(sceneOf(d, fleet(1, 4), nil), nil, nil).Of(CaseGross); c.PayloadLeft.Value < 1 || !strings.Contains(c.Remark, "less than the gross mass") {
		t.Errorf("limited load places: %v left, %q", c.PayloadLeft, c.Remark)
	}
	d.LoadPlaces = nil
	if c := Evaluate(sceneOf(d, fleet(1, 4), nil), nil, nil).Of(CaseGross); math.Abs(c.PayloadLeft.Value) > 1e-9 || !strings.Contains(c.Remark, "assumption") {
		t.Errorf("no load places: %v left, %q", c.PayloadLeft, c.Remark)
	}
	d.Ratings.GrossKg = 1300
	if c := Evaluate(sceneOf(d, fleet(1, 4), nil), nil, nil).Of(CaseGross); c.PayloadLeft.Value >= 0 || !strings.Contains(c.Remark, "over its gross mass") {
		t.Errorf("over gross: %v left, %q", c.PayloadLeft, c.Remark)
	}
}

// 100 kg over the front axle on two springs of 22 N/mm lower it by 980.665/44 mm; 56 kg over the rear one on two of 28
// N/mm by 9.80665 mm.
func TestRideHeight(t *testing.T) {
	d := donor()
	d.Removed, d.Added = nil, []vehicles.Part{{ID: "p", MassKg: 100, Known: "weighed", At: vehicles.XYZ{0, 0, 500}}}
	c := Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil).Change
	near(t, "front", c.RideFront.Value, -980.665/44, 1e-9)
	near(t, "rear", c.RideRear.Value, 0, 1e-9)
	d.Added = []vehicles.Part{{ID: "p", MassKg: 56, Known: "weighed", At: vehicles.XYZ{2600, 0, 500}}}
	near(t, "rear", Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil).Change.RideRear.Value, -9.80665, 1e-9)
	d.Springs.RearNPerMM = 0
	if Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil).Change.HasRide {
		t.Error("a ride height without spring rates")
	}
}

// Yaw of the donor is estimated as mass x front arm x rear arm; 100 kg at 1 m from an unmoved centre add 100 kg m2.
func TestYawShare(t *testing.T) {
	d := donor()
	at := Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil).Donor.CG()
	d.Removed, d.Added = nil, []vehicles.Part{
		{ID: "p", MassKg: 50, Known: "weighed", At: vehicles.XYZ{at.X - 1000, at.Y, at.Z}}, {ID: "q", MassKg: 50, Known: "weighed", At: vehicles.XYZ{at.X + 1000, at.Y, at.Z}},
	}
	c := Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil).Change
	near(t, "yaw", c.Inertia.ZZ, 100, 1e-6)
	near(t, "pitch", c.Inertia.YY, 100, 1e-6)
	near(t, "roll", c.Inertia.XX, 0, 1e-6)
	near(t, "share", c.YawPct, 100*100/(1374*at.X*(2600-at.X)*1e-6), 1e-9)
}

// Every reading is a number, has a name and explains itself; keys do not repeat.
func TestReadingsExplainThemselves(t *testing.T) {
	d := donor()
	d.CentreOfGravity.How = "estimate"
	r := Evaluate(sceneOf(d, fleet(2, 6), nil), nil, nil)
	seen := map[string]bool{}
	for _, x := range r.Readings() {
		if id := x.Of + "/" + x.Key; seen[id] || math.IsNaN(x.Value) || math.IsInf(x.Value, 0) || x.Label == "" || x.Why == nil {
			t.Errorf("reading %+v", x)
		} else {
			seen[id] = true
		}
		w := x.Why()
		if w.Formula == "" || w.Source == "" || len(w.Inputs) == 0 {
			t.Errorf("%s %s does not explain itself: %+v", x.Of, x.Key, w)
		}
		if strings.HasPrefix(x.Key, "ssf") && x.Basis != layout.Estimated {
			t.Errorf("%s rests on an estimated height but says %q", x.Key, x.Basis)
		}
	}
	for _, k := range []string{"/mass_kg", "/axles_kg.front", "/axles_kg.rear", "/cg_mm.x", "/wheels_kg.rear_right", "/front_share_pct", "/payload_kg", "/ssf", "/tilt_deg", "gross/axles_kg.rear", "b1/box_kg"} {
		if !seen[k] {
			t.Errorf("no reading %s", k)
		}
	}
}

// Nothing to go by gives nothing, not numbers out of the air.
func TestWithoutDonor(t *testing.T) {
	s := sceneOf(donor(), fleet(1, 4), nil)
	s.Donor = nil
	r := Evaluate(s, nil, nil)
	if len(r.Cases) != 0 || r.Bring(50) != nil || r.Trim() != nil || r.Target() != 0 {
		t.Error("load cases or trim without a donor")
	}
	for _, x := range r.Readings() {
		if math.IsNaN(x.Value) || math.IsInf(x.Value, 0) {
			t.Errorf("reading %+v", x)
		}
		x.Why()
	}
	d := donor()
	d.Scales = vehicles.Scales{}
	for _, x := range Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil).Readings() {
		if math.IsNaN(x.Value) || math.IsInf(x.Value, 0) {
			t.Errorf("reading without scales %+v", x)
		}
	}
}

// A cable of 50 mm2 between boxes 1500 mm apart along the axes.
func TestCableEstimate(t *testing.T) {
	a := fleet(2, 6)
	a.Cables = []layout.Cable{{ID: "c", From: "b1", To: "b2", SectionMM2: 50}}
	r := Evaluate(sceneOf(donor(), a, nil), nil, nil)
	for _, e := range r.Ledger() {
		if e.Group == Cables {
			way := 150 + 700.0 // the boxes stand 150 mm on and 700 mm across
			near(t, "cable", e.Kg, way*1.1*50*8.9e-6*1.5, 1e-9)
		}
	}
}

// Without cables in the plan: one conductor from box to box, and with an inverter there and back.
func TestDefaultCable(t *testing.T) {
	cable := func(s *layout.Scene) float64 {
		for _, e := range Evaluate(s, nil, nil).Ledger() {
			if e.Group == Cables {
				return e.Kg / (1.1 * 50 * 8.9e-6 * 1.5)
			}
		}
		return 0
	}
	a := fleet(2, 6)
	s := sceneOf(donor(), a, nil)
	near(t, "box to box", cable(s), 150+700, 1e-6)
	inverter := &vehicles.Gear{ID: "inv", Name: "inverter", Kind: "inverter", LengthMM: 100, WidthMM: 100, HeightMM: 50, MassKg: 8}
	a.Gear = []layout.PlacedGear{{ID: "g", Gear: "inv", At: vehicles.XYZ{640, -350, 300}}} // its middle is at the first box's
	s.Library = s.Library.With(vehicles.Records{Gear: []*vehicles.Gear{inverter}})
	s.Plan.Settings.Inverter = "inv"
	near(t, "there and back", cable(layout.Resolve(s.Plan, a, s.Library, nil)), 2*(150+700), 1e-6)
	near(t, "one box", cable(sceneOf(donor(), fleet(1, 6), nil)), 0, 0)
}
