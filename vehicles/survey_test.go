package vehicles_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"stowbay/vehicles"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > within {
		t.Errorf("%s: got %g, want %g within %g", what, got, want, within)
	}
}

// onScales is a donor with the given axle loads, alike left and right.
func onScales(wheelbase, front, rear float64) *vehicles.Donor {
	return &vehicles.Donor{
		WheelbaseMM: wheelbase, TrackFrontMM: 1500, TrackRearMM: 1500, WheelRadiusMM: 300,
		Scales:          vehicles.Scales{FrontLeftKg: front / 2, FrontRightKg: front / 2, RearLeftKg: rear / 2, RearRightKg: rear / 2, ResolutionKg: 0.5},
		CentreOfGravity: vehicles.CGRise{How: "estimate", HeightMM: 550},
		Ratings:         vehicles.Ratings{FrontAxleKg: 1e4, RearAxleKg: 1e4, GrossKg: 2e4},
	}
}

const g = 9.81

// Textbook of vehicle dynamics, example 40 (worked example E4-01): 2.34 m, 2000 and 1800 N a wheel.
func TestStaticBalanceOfTextbookExample(t *testing.T) {
	want := recomputed(t, "E4-01")
	s := onScales(2340, 2*2000/g, 2*1800/g).Survey()
	near(t, "a1", s.X.Value/1000, want[0], 1e-4)
	near(t, "a2", (2340-s.X.Value)/1000, want[1], 1e-4)
}

// The same textbook's exercises 1 and 2 (E4-02, E4-03) give a1 and a2 and ask for the axle loads: the survey has
// to find a1 again from those loads.
func TestStaticBalanceOfTextbookExercises(t *testing.T) {
	for _, c := range []struct {
		id     string
		mass   float64
		a1, a2 float64
	}{{"E4-02", 1765, 1.22, 1.62}, {"E4-03", 1245, 1.100, 1.323}} {
		loads := recomputed(t, c.id)
		s := onScales(1000*(c.a1+c.a2), loads[0]/g, loads[1]/g).Survey()
		near(t, c.id+" mass", s.Mass.Value, c.mass, 0.05)
		near(t, c.id+" a1", s.X.Value, 1000*c.a1, 0.05)
	}
}

// Question bank on the dynamics of vehicles (E4-04): 1200 kg, 6 to 4, wheelbase 2.7 m.
func TestStaticBalanceOfQuestionBank(t *testing.T) {
	s := onScales(2700, 720, 480).Survey()
	near(t, "to the rear axle", (2700-s.X.Value)/1000, recomputed(t, "E4-04")[0], 1e-9)
}

// Axle lift after ISO 10392 (E4-10; its numbers are derived from two independent derivations of the formula):
// 1200 kg, 2.5 m, front 624 kg level and 653.67 kg with the rear raised by 0.6 m, wheel centres 0.3 m up.
func TestAxleLiftExample(t *testing.T) {
	d := onScales(2500, 624, 576)
	d.CentreOfGravity = vehicles.CGRise{How: "axle_lift", Lifts: []vehicles.Lift{{Raised: "rear", RaisedMM: 600, AxleKg: 653.67}}}
	s := d.Survey()
	near(t, "height", s.Z.Value, 550, 0.1)
	if s.Z.Known != "axle lift" || s.Lift == nil || s.Lift.RearRaised != 1 {
		t.Errorf("height known by %q from %+v", s.Z.Known, s.Lift)
	}
}

// A vehicle is tilted by turning its centre of gravity about the axle that stays down, in coordinates and without the formula
// that the survey uses: the load on that axle follows from moments about the raised wheels' contact.
func tilted(wheelbase, mass, rear, h, r, raised float64, end string) float64 {
	a := math.Asin(raised / wheelbase)
	back := rear / mass * wheelbase // x of the centre of gravity
	arm := wheelbase - back         // how far it lies from the raised rear axle
	if end == "front" {
		arm = back
	}
	// Seen from the raised wheel's centre: along the line of wheel centres by arm, square to it by h - r, which
	// leans towards the axle that stays down as the line tilts.
	level := arm*math.Cos(a) + (h-r)*math.Sin(a)
	return mass * level / (wheelbase * math.Cos(a))
}

func TestAxleLiftFindsTheHeightOfATiltedBody(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		L := rapid.Float64Range(1800, 4000).Draw(t, "wheelbase")
		m := rapid.Float64Range(600, 4000).Draw(t, "mass")
		rear := m * rapid.Float64Range(0.3, 0.7).Draw(t, "rear share")
		h := rapid.Float64Range(450, 1000).Draw(t, "height")
		d := onScales(L, m-rear, rear)
		for _, end := range []string{"front", "rear"} {
			for _, up := range []float64{150, 300, 450, 600} {
				d.CentreOfGravity.Lifts = append(d.CentreOfGravity.Lifts, vehicles.Lift{Raised: end, RaisedMM: up, AxleKg: tilted(L, m, rear, h, 300, up, end)})
			}
		}
		d.CentreOfGravity.How, d.CentreOfGravity.HeightMM = "axle_lift", 0
		s := d.Survey()
		if math.Abs(s.Z.Value-h) > 1e-6*h {
			t.Fatalf("height %g, want %g", s.Z.Value, h)
		}
		for _, l := range s.Lift.Lifts {
			if math.Abs(l.HeightMM-h) > 1e-6*h {
				t.Fatalf("lift %d alone gives %g, want %g", l.Index, l.HeightMM, h)
			}
		}
	})
}

// The uncertainty of a fitted height is compared with the spread of heights from many weighings read off scales of coarse
// steps: about 95 in 100 have to lie inside it (JCGM 101 does it by such trials).
func TestLiftUncertaintyCoversTheTruth(t *testing.T) {
	const L, m, rear, h, step = 2500.0, 1300.0, 590.0, 620.0, 2.0
	round := func(kg, off float64) float64 { return math.Round(kg/step+off)*step - off*step }
	inside, trials := 0, 400
	seed := uint64(1)
	random := func() float64 { // a fixed sequence, so that the test always draws the same trials
		seed = seed*6364136223846793005 + 1442695040888963407
		return float64(seed>>40)/(1<<24) - 0.5
	}
	for range trials {
		d := onScales(L, 0, 0)
		wheel := func(kg float64) float64 { return round(kg, random()) }
		d.Scales = vehicles.Scales{FrontLeftKg: wheel((m - rear) / 2), FrontRightKg: wheel((m - rear) / 2), RearLeftKg: wheel(rear / 2), RearRightKg: wheel(rear / 2), ResolutionKg: step}
		for _, end := range []string{"front", "rear"} {
			for _, up := range []float64{300, 500, 700} {
				kg := tilted(L, m, rear, h, 300, up, end)
				d.CentreOfGravity.Lifts = append(d.CentreOfGravity.Lifts, vehicles.Lift{Raised: end, RaisedMM: up, AxleKg: wheel(kg/2) + wheel(kg/2)})
			}
		}
		d.CentreOfGravity.How = "axle_lift"
		if s := d.Survey(); math.Abs(s.Lift.HeightMM-h) <= s.Lift.ScatterMM {
			inside++
		}
	}
	if share := float64(inside) / float64(trials); share < 0.93 {
		t.Errorf("the truth lies inside the uncertainty in %.0f %% of the trials, want about 95", 100*share)
	}
}

// A single lift's uncertainty is what a step of the scales on level ground and one on the slope do to its height.
func TestUncertaintyOfOneLift(t *testing.T) {
	d := onScales(2500, 700, 500)
	d.CentreOfGravity = lifted([]vehicles.Lift{{Raised: "rear", RaisedMM: 500, AxleKg: 735}})
	base := d.Survey()
	d.CentreOfGravity.Lifts[0].AxleKg += 1e-3
	slope := (d.Survey().Lift.HeightMM - base.Lift.HeightMM) / 1e-3 // mm of height a kilogram
	axle := 0.5 / math.Sqrt(12) * math.Sqrt2                        // JCGM 100: two scales of 0.5 kg steps
	want := 2 * axle * math.Sqrt2 * slope
	near(t, "alone", base.Lift.Lifts[0].PlusMinusMM, want, 1e-3)
	near(t, "fitted", base.Lift.ScatterMM, want, 1e-3)
	near(t, "with the method's own accuracy", base.Z.PlusMinus, math.Hypot(want, 0.03*base.Z.Value), 1e-3)
	d.CentreOfGravity.PlusMinusMM = 44
	near(t, "as stated", d.Survey().Z.PlusMinus, 44, 0)
}

// The scatter about the line, worked out here with Student's factors from the statistical tables every handbook prints
// (two-sided 95 %: 4.303 for two degrees of freedom), governs where it is larger than the scales' steps.
func TestUncertaintyOfScatteredLifts(t *testing.T) {
	d := onScales(2500, 700, 500)
	d.Scales.ResolutionKg = 1e-6
	var xs, ys []float64
	for i, kg := range []float64{712, 729, 738} {
		up := 200 * float64(i+1)
		d.CentreOfGravity.Lifts = append(d.CentreOfGravity.Lifts, vehicles.Lift{Raised: "rear", RaisedMM: up, AxleKg: kg})
		xs, ys = append(xs, math.Tan(math.Asin(up/2500))), append(ys, (kg-700)*2500/1200)
	}
	var xx, xy, rest float64
	for i := range xs {
		xx, xy = xx+xs[i]*xs[i], xy+xs[i]*ys[i]
	}
	for i := range xs {
		rest += math.Pow(ys[i]-xy/xx*xs[i], 2)
	}
	near(t, "scatter", d.Survey().Lift.ScatterMM, 4.303*math.Sqrt(rest/2/xx), 0.01)
	near(t, "height", d.Survey().Lift.HeightMM, 300+xy/xx, 1e-9)
}

// CommonRoad vehicle models: three parameter sets. Their distances a and b are those of the sprung mass, so the unsprung mass comes
// off both axles before they are compared.
func TestSurveyOfParameterSets(t *testing.T) {
	for _, row := range table(t, "commonroad_vehicles.csv") {
		v := func(column string) float64 { return number(t, row[column]) }
		d := onScales(1000*v("wheelbase_m"), v("front_axle_kg_computed"), v("rear_axle_kg_computed"))
		d.TrackFrontMM, d.TrackRearMM, d.CentreOfGravity.HeightMM = 1000*v("track_f_m"), 1000*v("track_r_m"), 1000*v("h_cg_m")
		s := d.Survey()
		near(t, row["id"]+" mass", s.Mass.Value, v("mass_kg"), 0.02)
		near(t, row["id"]+" stability factor", s.StabilityFactor.Value, v("SSF_computed"), 2e-4)

		unsprung := v("unsprung_per_axle_kg")
		s = onScales(d.WheelbaseMM, v("front_axle_kg_computed")-unsprung, v("rear_axle_kg_computed")-unsprung).Survey()
		near(t, row["id"]+" sprung mass", s.Mass.Value, v("sprung_kg"), 0.02)
		near(t, row["id"]+" a", s.X.Value/1000, v("a_m"), 1e-4)
		near(t, row["id"]+" b", v("wheelbase_m")-s.X.Value/1000, v("b_m"), 1e-4)
	}
}

// NHTSA's measured vehicles: the published static stability factor within 1 % of T / 2h, and no vehicle doubted for its height.
func TestStabilityFactorOfMeasuredVehicles(t *testing.T) {
	inconsistent := []string{"pickup-128", "suv-076", "suv-185", "sedan-118", "sedan-129"} // contradict themselves
	n := 0
	for _, row := range table(t, "nhtsa_cg_ssf.csv") {
		if slices.Contains(inconsistent, row["id"]) {
			continue
		}
		n++
		track, height, want := number(t, row["track_avg_m"]), number(t, row["cg_height_m"]), number(t, row["ssf_published"])
		near(t, row["id"], vehicles.StabilityFactor(track, height), want, 0.01*want)
		d := onScales(2500, 700, 700)
		d.TrackFrontMM, d.TrackRearMM, d.CentreOfGravity.HeightMM = 1000*track, 1000*track, 1000*height
		if c := d.Survey().Contradictions; len(c) > 0 {
			t.Errorf("%s: %v", row["id"], c)
		}
	}
	if n != 1265 {
		t.Errorf("%d vehicles compared, want 1265", n)
	}
}

func TestLoadIndexTable(t *testing.T) {
	rows := table(t, "tyre_load_index.csv")
	for _, row := range rows {
		index := int(number(t, row["load_index"]))
		if kg, ok := vehicles.LoadIndexKg(index); !ok || kg != number(t, row["kg_per_tyre"]) {
			t.Errorf("load index %d: got %g, %v, want %s", index, kg, ok, row["kg_per_tyre"])
		}
	}
	for _, index := range []int{-1, 0, 59, 120} {
		if _, ok := vehicles.LoadIndexKg(index); ok {
			t.Errorf("load index %d is not in the table", index)
		}
	}
}

func TestCentreOfGravityBalancesTheWheels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kg := rapid.Float64Range(1, 2000)
		d := onScales(rapid.Float64Range(1500, 5000).Draw(t, "wheelbase"), 0, 0)
		d.TrackFrontMM, d.TrackRearMM = rapid.Float64Range(800, 2200).Draw(t, "front track"), rapid.Float64Range(800, 2200).Draw(t, "rear track")
		w := vehicles.Scales{FrontLeftKg: kg.Draw(t, "fl"), FrontRightKg: kg.Draw(t, "fr"), RearLeftKg: kg.Draw(t, "rl"), RearRightKg: kg.Draw(t, "rr")}
		d.Scales = w
		s := d.Survey()
		x, y := s.X.Value, s.Y.Value
		overX := (w.FrontLeftKg+w.FrontRightKg)*(0-x) + (w.RearLeftKg+w.RearRightKg)*(d.WheelbaseMM-x)
		overY := w.FrontLeftKg*(-d.TrackFrontMM/2-y) + w.FrontRightKg*(d.TrackFrontMM/2-y) + w.RearLeftKg*(-d.TrackRearMM/2-y) + w.RearRightKg*(d.TrackRearMM/2-y)
		if math.Abs(overX) > 1e-6*s.Mass.Value || math.Abs(overY) > 1e-6*s.Mass.Value {
			t.Fatalf("moments left over about the centre of gravity: %g, %g", overX, overY)
		}
		if sum := s.Front.Value + s.Rear.Value; sum != s.Mass.Value || math.Abs(s.Left.Value+s.Right.Value-sum) > 1e-9*sum {
			t.Fatal("the parts do not add up to the mass")
		}
		d.Scales = vehicles.Scales{FrontLeftKg: w.FrontRightKg, FrontRightKg: w.FrontLeftKg, RearLeftKg: w.RearRightKg, RearRightKg: w.RearLeftKg}
		if m := d.Survey(); math.Abs(m.Y.Value+y) > 1e-9*d.TrackFrontMM || math.Abs(m.X.Value-x) > 1e-9*d.WheelbaseMM {
			t.Fatal("the mirror image is not mirrored")
		}
	})
}

// The uncertainty of a place is what the readings' own steps do to it: compared with a numerical derivative.
func TestPlaceUncertaintyFollowsFromTheReadings(t *testing.T) {
	d := onScales(2400, 700, 500)
	d.Scales.FrontRightKg += 40
	base := d.Survey()
	var xx, yy float64
	for _, w := range []*float64{&d.Scales.FrontLeftKg, &d.Scales.FrontRightKg, &d.Scales.RearLeftKg, &d.Scales.RearRightKg} {
		*w += 1e-3
		s := d.Survey()
		xx += math.Pow((s.X.Value-base.X.Value)/1e-3, 2)
		yy += math.Pow((s.Y.Value-base.Y.Value)/1e-3, 2)
		*w -= 1e-3
	}
	u := 2 * 0.5 / math.Sqrt(12) // JCGM 100: resolution 0.5 kg as a rectangular distribution, coverage factor 2
	near(t, "x", base.X.PlusMinus, u*math.Sqrt(xx), 1e-4)
	near(t, "y", base.Y.PlusMinus, u*math.Sqrt(yy), 1e-4)
	near(t, "mass", base.Mass.PlusMinus, u*2, 1e-12)
	near(t, "front", base.Front.PlusMinus, u*math.Sqrt2, 1e-12)
}

func TestHeightUncertainty(t *testing.T) {
	for _, c := range []struct {
		how   string
		given float64
		want  float64
	}{{"estimate", 0, 60}, {"estimate", 25, 25}, {"maker", 0, 12}, {"pendulum", 0, 3}, {"pendulum", 5, 5}, {"estimate", 2, 2}} {
		d := onScales(2500, 700, 500)
		d.CentreOfGravity = vehicles.CGRise{How: c.how, HeightMM: 600, PlusMinusMM: c.given}
		s := d.Survey()
		near(t, c.how, s.Z.PlusMinus, c.want, 1e-9)
		near(t, c.how+" stability", s.StabilityFactor.PlusMinus, s.StabilityFactor.Value*c.want/600, 1e-9)
	}
}

func TestContradictions(t *testing.T) {
	lifts := func(heights ...float64) []vehicles.Lift {
		var out []vehicles.Lift
		for i, h := range heights {
			end := []string{"front", "rear"}[i%2]
			up := 200 * float64(1+i/2)
			out = append(out, vehicles.Lift{Raised: end, RaisedMM: up, AxleKg: tilted(2500, 1200, 560, h, 300, up, end)})
		}
		return out
	}
	for name, c := range map[string]struct {
		change func(*vehicles.Donor)
		want   string // part of the only contradiction's text; "" for none
	}{
		"sound":                      {func(*vehicles.Donor) {}, ""},
		"papers":                     {func(d *vehicles.Donor) { d.Scales.KerbMassKg = 1000 }, "add up to 1200 kg, the papers say 1000 kg"},
		"papers agree":               {func(d *vehicles.Donor) { d.Scales.KerbMassKg = 1160 }, ""},
		"papers just differ":         {func(d *vehicles.Donor) { d.Scales.KerbMassKg = 1140 }, "the papers say 1140 kg"},
		"papers just agree":          {func(d *vehicles.Donor) { d.Scales.KerbMassKg = 1143 }, ""},
		"papers within steps":        {func(d *vehicles.Donor) { d.Scales.KerbMassKg = 1142.5 }, ""},
		"light front":                {func(d *vehicles.Donor) { d.Scales = scales(149, 149, 451, 451) }, "one axle carries only 25 %"},
		"light front, allowed":       {func(d *vehicles.Donor) { d.Scales = scales(151, 151, 449, 449) }, ""},
		"leaning right":              {func(d *vehicles.Donor) { d.Scales = scales(285, 346, 254, 315) }, "left and right differ by 122 kg"},
		"leaning, allowed":           {func(d *vehicles.Donor) { d.Scales = scales(285, 344, 256, 315) }, ""},
		"twisted a little":           {func(d *vehicles.Donor) { d.Scales = scales(335, 305, 265, 296) }, "the diagonals differ by 61 kg"},
		"twisted, allowed":           {func(d *vehicles.Donor) { d.Scales = scales(335, 306, 266, 294) }, ""},
		"just too low":               {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 399; d.TrackFrontMM, d.TrackRearMM = 1400, 1400 }, "lower than any measured"},
		"low":                        {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 401; d.TrackFrontMM, d.TrackRearMM = 1400, 1400 }, ""},
		"just too high":              {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 1101; d.TrackFrontMM, d.TrackRearMM = 2100, 2100 }, "higher than any measured"},
		"high":                       {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 1099; d.TrackFrontMM, d.TrackRearMM = 2100, 2100 }, ""},
		"too stable":                 {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 403 }, "static stability factor of 1.86"},
		"stable":                     {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 408 }, ""},
		"hardly stable":              {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 885 }, "static stability factor of 0.85"},
		"hardly stable, yet":         {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 880 }, ""},
		"light wheel":                {func(d *vehicles.Donor) { d.Scales = scales(2, 2, 2, 2) }, ""},
		"body behind the front axle": {func(d *vehicles.Donor) { d.PlanOutline = []vehicles.XY{{1, -800}, {2600, -800}, {2600, 800}, {1, 800}} }, "the body runs from x = 1 to 2600 mm"},
		"body over both axles": {func(d *vehicles.Donor) {
			d.PlanOutline = []vehicles.XY{{-1, -800}, {2501, -800}, {2501, 800}, {-1, 800}}
		}, ""},
		"lifts and stated height agree": {func(d *vehicles.Donor) {
			d.CentreOfGravity = lifted(lifts(560, 560, 560, 560, 560, 560))
			d.CentreOfGravity.HeightMM = 590
		}, ""},
		"stated height just differs": {func(d *vehicles.Donor) {
			d.CentreOfGravity = lifted(lifts(560, 560, 560, 560, 560, 560))
			d.CentreOfGravity.HeightMM = 595
		}, "the stated height is 595 mm"},
		"stated height within its own uncertainty": {func(d *vehicles.Donor) {
			d.CentreOfGravity = lifted(lifts(560, 560, 560, 560, 560, 560))
			d.CentreOfGravity.HeightMM, d.CentreOfGravity.PlusMinusMM = 595, 5
		}, ""},
		"one lift a little off": {func(d *vehicles.Donor) { d.CentreOfGravity = lifted(lifts(560, 560, 560, 560, 560, 530)) }, ""},
		"one lift just off":     {func(d *vehicles.Donor) { d.CentreOfGravity = lifted(lifts(560, 560, 560, 560, 600, 560)) }, ""},
		"one lift too far off":  {func(d *vehicles.Donor) { d.CentreOfGravity = lifted(lifts(560, 560, 560, 560, 630, 560)) }, "this lift alone gives"},
		"weak twin rear tyres": {func(d *vehicles.Donor) {
			d.Tyres.RearLoadIndex, d.TwinRearTyres = 100, true
			d.Ratings.RearAxleKg, d.Ratings.GrossKg = 3201, 9000
		}, "the rear tyres carry 3200 kg"},
		"two lifts disagree":         {func(d *vehicles.Donor) { d.CentreOfGravity = lifted(lifts(500, 620)) }, "this lift alone gives"},
		"wheel in the air":           {func(d *vehicles.Donor) { d.Scales.RearLeftKg, d.Scales.RearRightKg = 0, 0 }, "carries nothing"},
		"exchanged axles":            {func(d *vehicles.Donor) { d.Scales = scales(500, 500, 120, 120) }, "one axle carries only 19 %"},
		"leaning":                    {func(d *vehicles.Donor) { d.Scales = scales(400, 240, 350, 210) }, "left and right differ by 300 kg"},
		"twisted":                    {func(d *vehicles.Donor) { d.Scales = scales(370, 270, 230, 330) }, "the diagonals differ by 200 kg"},
		"too low":                    {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 395; d.TrackRearMM = 1000 }, "lower than any measured"},
		"too high":                   {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 1150; d.TrackFrontMM, d.TrackRearMM = 2100, 2100 }, "higher than any measured"},
		"no height":                  {func(d *vehicles.Donor) { d.CentreOfGravity = vehicles.CGRise{} }, "no height"},
		"unstable":                   {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 950 }, "static stability factor of 0.79"},
		"over the front axle rating": {func(d *vehicles.Donor) { d.Ratings.FrontAxleKg = 630 }, "the front axle load is 640 kg empty already"},
		"over the rear axle rating":  {func(d *vehicles.Donor) { d.Ratings.RearAxleKg = 550 }, "the rear axle load is 560 kg empty already"},
		"over gross":                 {func(d *vehicles.Donor) { d.Ratings.GrossKg = 1199 }, "the mass is 1200 kg empty already"},
		"gross over the axles":       {func(d *vehicles.Donor) { d.Ratings.GrossKg = 20001 }, "more than both axle ratings"},
		"weak front tyres": {func(d *vehicles.Donor) {
			d.Tyres.FrontLoadIndex = 91
			d.Ratings.FrontAxleKg, d.Ratings.GrossKg = 1231, 9000
		}, "the front tyres carry 1230 kg"},
		"strong front tyres": {func(d *vehicles.Donor) {
			d.Tyres.FrontLoadIndex = 91
			d.Ratings.FrontAxleKg, d.Ratings.GrossKg = 1230, 9000
		}, ""},
		"twin rear tyres": {func(d *vehicles.Donor) {
			d.Tyres.RearLoadIndex, d.TwinRearTyres = 100, true
			d.Ratings.RearAxleKg, d.Ratings.GrossKg = 3200, 9000
		}, ""},
		"weak rear tyres": {func(d *vehicles.Donor) {
			d.Tyres.RearLoadIndex = 100
			d.Ratings.RearAxleKg, d.Ratings.GrossKg = 1601, 9000
		}, "the rear tyres carry 1600 kg"},
		"unknown load index": {func(d *vehicles.Donor) { d.Tyres.RearLoadIndex = 140 }, "load index 140 is not in the table"},
		"body ahead of the axles": {func(d *vehicles.Donor) {
			d.PlanOutline = []vehicles.XY{{-500, -800}, {2400, -800}, {2400, 800}, {-500, 800}}
		}, "the body runs from x = -500 to 2400 mm"},
		"lifts agree":  {func(d *vehicles.Donor) { d.CentreOfGravity = lifted(lifts(560, 560, 560, 560, 560, 560)) }, ""},
		"one lift off": {func(d *vehicles.Donor) { d.CentreOfGravity = lifted(lifts(560, 560, 560, 760, 560, 560)) }, "this lift alone gives"},
		"few steps":    {func(d *vehicles.Donor) { d.CentreOfGravity = lifted(lifts(560, 560, 560, 560)) }, "lifted in 2 steps"},
		"one axle only": {func(d *vehicles.Donor) {
			l := lifts(560, 560, 560, 560, 560, 560)
			d.CentreOfGravity = lifted([]vehicles.Lift{l[0], l[2], l[4]})
		}, "only one axle was lifted"},
		"stated height differs": {func(d *vehicles.Donor) {
			d.CentreOfGravity = lifted(lifts(560, 560, 560, 560, 560, 560))
			d.CentreOfGravity.HeightMM = 640
		}, "the stated height is 640 mm, the axle lifts give 560 mm"},
		"useless lifts": {func(d *vehicles.Donor) {
			d.CentreOfGravity = lifted([]vehicles.Lift{{Raised: "rear", RaisedMM: 2500, AxleKg: 700}})
			d.CentreOfGravity.HeightMM = 560
		}, "none of the axle lifts can be used"},
	} {
		t.Run(name, func(t *testing.T) {
			d := onScales(2500, 640, 560)
			c.change(d)
			var texts []string
			for _, f := range d.Survey().Contradictions {
				texts = append(texts, f.Text)
			}
			all := strings.Join(texts, "\n")
			if c.want == "" && all != "" || c.want != "" && !strings.Contains(all, c.want) {
				t.Errorf("want %q, got:\n%s", c.want, all)
			}
		})
	}
}

func scales(fl, fr, rl, rr float64) vehicles.Scales {
	return vehicles.Scales{FrontLeftKg: fl, FrontRightKg: fr, RearLeftKg: rl, RearRightKg: rr, ResolutionKg: 0.5}
}

func lifted(lifts []vehicles.Lift) vehicles.CGRise {
	return vehicles.CGRise{How: "axle_lift", Lifts: lifts}
}

// No survey, however senseless, gives a number that is not finite.
func TestSurveyOfAnythingIsFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		any := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-1e6, 1e6), rapid.SampledFrom([]float64{1e-300, 1, 2500, -1}))
		d := onScales(any.Draw(t, "wheelbase"), any.Draw(t, "front"), any.Draw(t, "rear"))
		d.TrackFrontMM, d.WheelRadiusMM = any.Draw(t, "track"), any.Draw(t, "radius")
		d.Scales.RearLeftKg, d.Scales.ResolutionKg = any.Draw(t, "rear left"), any.Draw(t, "resolution")
		d.CentreOfGravity = vehicles.CGRise{How: rapid.SampledFrom([]string{"", "estimate", "axle_lift"}).Draw(t, "how"), HeightMM: any.Draw(t, "height")}
		for range rapid.IntRange(0, 3).Draw(t, "lifts") {
			d.CentreOfGravity.Lifts = append(d.CentreOfGravity.Lifts, vehicles.Lift{Raised: "rear", RaisedMM: any.Draw(t, "raised"), AxleKg: any.Draw(t, "axle")})
		}
		s := d.Survey()
		for _, m := range []vehicles.Measure{s.Mass, s.X, s.Y, s.Z, s.StabilityFactor} {
			if math.IsNaN(m.Value) || math.IsInf(m.Value, 0) || math.IsNaN(m.PlusMinus) || math.IsInf(m.PlusMinus, 0) {
				t.Fatalf("%+v", s)
			}
		}
	})
}

func TestMeasureReadsWell(t *testing.T) {
	for _, c := range []struct {
		m    vehicles.Measure
		want string
	}{
		{vehicles.Measure{Value: 1283.6, PlusMinus: 17.2, Unit: "kg"}, "1284 ± 18 kg"},
		{vehicles.Measure{Value: 722, Unit: "mm"}, "722 mm"},
		{vehicles.Measure{Value: 722, PlusMinus: 2, Unit: "mm"}, "722 ± 2 mm"},
	} {
		if got := fmt.Sprint(c.m); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestUncertaintyOfLoads(t *testing.T) {
	d := onScales(2400, 700, 500)
	d.Scales.ResolutionKg = 0 // not stated: 1 kg is assumed
	s := d.Survey()
	u := 1 / math.Sqrt(12) // JCGM 100: a rectangular distribution as wide as the resolution
	for name, m := range map[string]vehicles.Measure{"front": s.Front, "rear": s.Rear, "left": s.Left, "right": s.Right} {
		near(t, name, m.PlusMinus, 2*u*math.Sqrt2, 1e-12)
	}
	near(t, "mass", s.Mass.PlusMinus, 2*u*2, 1e-12)
	near(t, "least", s.Mass.Least(), 1200-4*u, 1e-9)
	near(t, "most", s.Mass.Most(), 1200+4*u, 1e-9)
}

func TestSharesOfSidesAndAxles(t *testing.T) {
	d := onScales(2400, 0, 0)
	d.Scales = scales(320, 310, 260, 280)
	s := d.Survey()
	near(t, "front share", s.FrontShare, 630.0/1170, 1e-12)
	near(t, "left share", s.LeftShare, 580.0/1170, 1e-12)
	near(t, "left", s.Left.Value, 580, 0)
	near(t, "right", s.Right.Value, 590, 0)
	if got := s.CG(); got != (vehicles.XYZ{s.X.Value, s.Y.Value, 550}) {
		t.Errorf("centre of gravity %v", got)
	}
}

func TestEmptyScales(t *testing.T) {
	d := onScales(2400, 0, 0)
	s := d.Survey()
	if s.X.Value != 1200 || s.Y.Value != 0 || s.X.PlusMinus != 0 || s.Mass.Value != 0 || s.FrontShare != 0 {
		t.Errorf("%+v", s)
	}
	d.Scales.FrontLeftKg = 1.2
	if s := d.Survey(); s.X.Value != 0 || s.FrontShare != 1 {
		t.Errorf("%+v", s)
	}
	if f := vehicles.StabilityFactor(1500, 0); f != 0 {
		t.Errorf("stability factor %g without a height", f)
	}
}

func TestHowTheHeightIsKnown(t *testing.T) {
	d := onScales(2500, 700, 500)
	for how, want := range map[string]string{"estimate": "estimate", "maker": "maker", "pendulum": "pendulum", "axle_lift": "axle lift"} {
		d.CentreOfGravity = vehicles.CGRise{How: how, HeightMM: 600, PlusMinusMM: 2}
		s := d.Survey()
		if s.Z.Known != want || s.Z.PlusMinus != 2 || s.Z.Value != 600 || s.Lift != nil {
			t.Errorf("%s: %+v", how, s.Z)
		}
	}
	d.CentreOfGravity = lifted([]vehicles.Lift{{Raised: "rear", RaisedMM: 3, AxleKg: 701}})
	d.CentreOfGravity.PlusMinusMM = 2
	if s := d.Survey(); s.Z.PlusMinus != 2 || s.Lift == nil {
		t.Errorf("a lift by little more than a thousandth of the wheelbase counts: %+v", s.Z)
	}
	d.CentreOfGravity.Lifts[0].RaisedMM = 2
	if d.Survey().Lift != nil {
		t.Error("a lift by less than a thousandth of the wheelbase says nothing")
	}
}

// What was found and what it was held against have to be the numbers of the sentence.
func TestContradictionsCarryTheirNumbers(t *testing.T) {
	tooStable := 1500.0 / 2 / 403
	for field, c := range map[string]struct {
		change        func(*vehicles.Donor)
		actual, limit float64
		unit          string
		advice        bool
	}{
		"scales.kerb_mass_kg":         {func(d *vehicles.Donor) { d.Scales.KerbMassKg = 1000 }, 200, 50 + 4*0.5/math.Sqrt(12), "kg", false},
		"scales.front_left_kg":        {func(d *vehicles.Donor) { d.Scales.FrontLeftKg, d.Scales.RearRightKg = 0, 0 }, 0, 0, "kg", false},
		"centre_of_gravity":           {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 403 }, tooStable, 1.85, "", false},
		"centre_of_gravity.height_mm": {func(d *vehicles.Donor) { d.CentreOfGravity.HeightMM = 0 }, 0, 0, "mm", false},
		"ratings.front_axle_kg":       {func(d *vehicles.Donor) { d.Ratings.FrontAxleKg = 630 }, 640, 630, "kg", false},
		"ratings.gross_kg":            {func(d *vehicles.Donor) { d.Ratings.GrossKg = 20001 }, 20001, 20000, "kg", false},
		"tyres.rear_load_index":       {func(d *vehicles.Donor) { d.Tyres.RearLoadIndex = 100 }, 1600, 10000, "kg", false},
		"tyres.front_load_index":      {func(d *vehicles.Donor) { d.Tyres.FrontLoadIndex = 140 }, 140, 60, "", false},
		"plan_outline":                {func(d *vehicles.Donor) { d.PlanOutline = []vehicles.XY{{1, 0}, {2600, 0}, {1, 9}} }, 2599, 2500, "mm", false},
		"scales":                      {func(d *vehicles.Donor) { d.Scales = scales(500, 500, 120, 120) }, 100 * 240.0 / 1240, 25, "%", false},
		"centre_of_gravity.lifts": {func(d *vehicles.Donor) {
			d.CentreOfGravity = lifted([]vehicles.Lift{{Raised: "rear", RaisedMM: 400, AxleKg: 664}})
		}, 1, 3, "", true},
	} {
		d := onScales(2500, 640, 560)
		c.change(d)
		found := d.Survey().Contradictions
		if len(found) == 0 || found[0].Field != field {
			t.Errorf("%s: found %+v", field, found)
			continue
		}
		near(t, field+": actual", found[0].Actual, c.actual, 1e-9)
		near(t, field+": limit", found[0].Limit, c.limit, 1e-9)
		if found[0].Unit != c.unit || found[0].Advice != c.advice {
			t.Errorf("%s: %+v", field, found[0])
		}
	}
}

func TestAdviceOnLiftsCarriesItsNumbers(t *testing.T) {
	d := onScales(2500, 640, 560)
	d.CentreOfGravity = lifted([]vehicles.Lift{{Raised: "rear", RaisedMM: 2500, AxleKg: 700}})
	d.CentreOfGravity.HeightMM = 560
	if c := d.Survey().Contradictions; len(c) != 1 || c[0].Actual != 0 || c[0].Limit != 1 || c[0].Advice {
		t.Errorf("no usable lift: %+v", c)
	}
	d.CentreOfGravity = lifted(nil)
	for _, up := range []float64{200, 400, 600} {
		d.CentreOfGravity.Lifts = append(d.CentreOfGravity.Lifts, vehicles.Lift{Raised: "rear", RaisedMM: up, AxleKg: tilted(2500, 1200, 560, 560, 300, up, "rear")})
	}
	if c := d.Survey().Contradictions; len(c) != 1 || c[0].Actual != 1 || c[0].Limit != 2 || !c[0].Advice {
		t.Errorf("one axle lifted: %+v", c)
	}
}

// A lift by less than a thousandth of the wheelbase says nothing about the height, nor does one by the wheelbase and more.
func TestLiftsThatSayNothing(t *testing.T) {
	for up, says := range map[float64]bool{0: false, 2.49: false, 2.5: true, 600: true, 2499: true, 2500: false, -300: false} {
		d := onScales(2500, 624, 576)
		d.CentreOfGravity = vehicles.CGRise{How: "axle_lift", Lifts: []vehicles.Lift{{Raised: "rear", RaisedMM: up, AxleKg: 653.67}}}
		if got := d.Survey().Lift != nil; got != says {
			t.Errorf("raised by %g mm: it says something %v, want %v", up, got, says)
		}
	}
}

func TestCentreOfGravityOfAModule(t *testing.T) {
	m := vehicles.Module{LengthMM: 300, WidthMM: 200, HeightMM: 100}
	if got := m.CG(); got != (r3.Vector{X: 150, Y: 100, Z: 50}) {
		t.Errorf("unstated: %v, want the middle of the block", got)
	}
	m.CGAt = &vehicles.XYZ{140, 90, 45}
	if got := m.CG(); got != (r3.Vector{X: 140, Y: 90, Z: 45}) {
		t.Errorf("stated: %v", got)
	}
}

// The signs and bands of what the survey says of its lifts, sides and diagonals: the stated height minus the lifts', 6 % of
// the lifts' height, 10 and 5 % of the mass.
func TestContradictionsCarrySignAndBand(t *testing.T) {
	only := func(d *vehicles.Donor, text string) vehicles.Contradiction {
		t.Helper()
		for _, c := range d.Survey().Contradictions {
			if strings.Contains(c.Text, text) {
				return c
			}
		}
		t.Errorf("nothing says %q in %+v", text, d.Survey().Contradictions)
		return vehicles.Contradiction{}
	}
	d := onScales(2500, 640, 560)
	d.CentreOfGravity = lifted(nil)
	for _, end := range []string{"front", "rear"} {
		for _, up := range []float64{300, 450, 600} {
			d.CentreOfGravity.Lifts = append(d.CentreOfGravity.Lifts, vehicles.Lift{Raised: end, RaisedMM: up, AxleKg: tilted(2500, 1200, 560, 560, 300, up, end)})
		}
	}
	d.CentreOfGravity.HeightMM, d.CentreOfGravity.PlusMinusMM = 640, 1
	c := only(d, "the stated height is 640 mm")
	near(t, "stated minus lifted", c.Actual, 80, 1e-6)
	near(t, "6 % and what was stated", c.Limit, 0.06*560+1, 1e-6)

	d.CentreOfGravity.HeightMM = 0.5 // stated, if wrongly
	only(d, "the stated height is 0 mm")
	d.CentreOfGravity.HeightMM = 0
	for i := range d.CentreOfGravity.Lifts[:1] {
		d.CentreOfGravity.Lifts[i].AxleKg += 9
	}
	c = only(d, "this lift alone")
	if alone := d.Survey().Lift.Lifts[0].HeightMM; math.Abs(c.Actual-(alone-d.Survey().Lift.HeightMM)) > 1e-9 || c.Actual < 30 {
		t.Errorf("the lift alone gives %g mm, and %g mm more than all", alone, c.Actual)
	}

	d = onScales(2500, 640, 560)
	d.Scales = scales(400, 240, 350, 210)
	c = only(d, "left and right differ by 300 kg")
	near(t, "a tenth of the mass", c.Limit, 120, 1e-9)
	d.Scales = scales(360, 280, 240, 320)
	c = only(d, "the diagonals differ by 160 kg")
	near(t, "a twentieth of the mass", c.Limit, 60, 1e-9)

	d = onScales(2500, 640, 560)
	d.Scales.KerbMassKg = 0.5 // papers that give next to nothing contradict, too
	only(d, "the papers say 0 kg")
	d = onScales(2500, 640, 560)
	d.Scales.FrontLeftKg = 0.5 // a wheel that carries little carries something
	for _, c := range d.Survey().Contradictions {
		if strings.Contains(c.Text, "carries nothing") {
			t.Errorf("%+v", c)
		}
	}
	d.CentreOfGravity.HeightMM = 0.5
	only(d, "lower than any measured")
	d = onScales(2500, 640, 560)
	d.PlanOutline = []vehicles.XY{{0.5, 0}, {2600, 0}, {0.5, 9}}
	only(d, "the body runs from x = 0 to 2600 mm")
}

// Two donors at the very ends of what was measured are not doubted, and beyond them they are: 400 to 1100 mm.
func TestHeightsOfMeasuredVehicles(t *testing.T) {
	for h, doubted := range map[float64]bool{399.9: true, 400: false, 1100: false, 1100.1: true} {
		d := onScales(2500, 640, 560)
		d.TrackFrontMM, d.TrackRearMM = 2*1.2*h, 2*1.2*h // a stability factor of 1.2
		d.CentreOfGravity.HeightMM = h
		if got := len(d.Survey().Contradictions) > 0; got != doubted {
			t.Errorf("%g mm: %+v", h, d.Survey().Contradictions)
		}
	}
}

// An uncertainty below one is one; rounding noise above a whole one does not raise it.
func TestSmallUncertaintiesAreSaid(t *testing.T) {
	for _, c := range []struct {
		plusMinus float64
		want      string
	}{{0.5, "5 ± 1 kg"}, {1, "5 ± 1 kg"}, {1 + 5e-10, "5 ± 1 kg"}, {1.01, "5 ± 2 kg"}, {0, "5 kg"}} {
		if got := (vehicles.Measure{Value: 5, PlusMinus: c.plusMinus, Unit: "kg"}).String(); got != c.want {
			t.Errorf("%g: %q, want %q", c.plusMinus, got, c.want)
		}
	}
	d := onScales(2500, 700, 500)
	d.CentreOfGravity.PlusMinusMM = 0.5
	near(t, "half a millimetre stated", d.Survey().Z.PlusMinus, 0.5, 0)
	d.CentreOfGravity = lifted([]vehicles.Lift{{Raised: "rear", RaisedMM: 600, AxleKg: 735}})
	d.CentreOfGravity.PlusMinusMM = 0.5
	near(t, "half a millimetre stated for a lift", d.Survey().Z.PlusMinus, 0.5, 0)
	d.CentreOfGravity.HeightMM, d.CentreOfGravity.How = 1.5, "maker"
	near(t, "stability of a plate", d.Survey().StabilityFactor.Value, 1500/3.0, 1e-9)
}
