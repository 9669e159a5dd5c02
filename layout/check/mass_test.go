package check_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/vehicles"
)

const lb = 0.45359237 // kg, exact by definition

// weighed is an invented donor with the axle loads given, even left and right.
func weighed(front, rear float64) *vehicles.Donor {
	return &vehicles.Donor{
		ID: "cart", Name: "cart", WheelbaseMM: 2500, TrackFrontMM: 1400, TrackRearMM: 1400, WheelRadiusMM: 300,
		Scales:          vehicles.Scales{FrontLeftKg: front / 2, FrontRightKg: front / 2, RearLeftKg: rear / 2, RearRightKg: rear / 2, ResolutionKg: 1},
		CentreOfGravity: vehicles.CGRise{HeightMM: 600, How: "maker", PlusMinusMM: 10},
		Ratings:         vehicles.Ratings{FrontAxleKg: 1500, RearAxleKg: 1500, GrossKg: 2600},
	}
}

// massFindings evaluates a donor with parts put in and returns the findings of one rule.
func massFindings(d *vehicles.Donor, s layout.Mass, rule string) []check.Finding {
	a := &layout.Arrangement{ID: "a", Name: "a"}
	p := &layout.Plan{Format: 1, Name: "p", Donor: d.ID, Arrangements: []*layout.Arrangement{a}, Settings: layout.Settings{Mass: s}}
	lib := vehicles.Catalogue().With(vehicles.Records{Donors: []*vehicles.Donor{d}})
	var out []check.Finding
	for _, f := range check.Evaluate(p, a, lib, nil).Findings {
		if f.Rule == rule {
			out = append(out, f)
		}
	}
	return out
}

func only(t *testing.T, fs []check.Finding, want check.Severity) check.Finding {
	t.Helper()
	if len(fs) != 1 || fs[0].Severity != want {
		t.Fatalf("findings %+v, want one that %s", fs, want)
	}
	return fs[0]
}

func seats(x ...float64) []vehicles.Seat {
	var out []vehicles.Seat
	for _, v := range x {
		out = append(out, vehicles.Seat{Name: "seat", At: vehicles.XYZ{v, 0, 700}})
	}
	return out
}

// 49 CFR 567.4(g)(3), worked example E4-12: 1200 kg, 400 kg of cargo and five occupants of 150 lb need a gross rating of
// 1940.2 kg.
func TestGrossRatingOfSeatsAndCargo(t *testing.T) {
	d := weighed(600, 600)
	d.Seats = seats(900, 900, 1700, 1700, 1700)
	d.Ratings.GrossKg = 1940.2
	us := layout.Mass{OccupantKg: 150 * lb}
	f := only(t, massFindings(d, us, "mass.seats"), check.Passes)
	if math.Abs(f.Actual-400) > 0.05 {
		t.Errorf("%.2f kg left for goods, want 400", f.Actual)
	}
	d.Ratings.GrossKg = 1440.2 // 100 kg less than vehicle and occupants weigh
	if f := only(t, massFindings(d, us, "mass.seats"), check.Fails); !strings.HasPrefix(f.Text, "With 5 occupants of 68 kg the vehicle is 100 ± ") {
		t.Error(f.Text)
	}
	d.Ratings.GrossKg = 1540
	only(t, massFindings(d, us, "mass.seats"), check.Fails)
	d.Ratings.GrossKg = 1540.4 // 0.2 kg left, less than the scales can tell
	only(t, massFindings(d, us, "mass.seats"), check.Warns)
}

// 49 CFR 571.110 S4.2.1.2, worked example E4-13: load index 91 carries 615 kg, 578.1 kg at normal load.
func TestNormalLoadOnTyres(t *testing.T) {
	d := weighed(600, 600)
	d.Seats = seats(900, 900, 1700, 1700, 1700)
	d.Tyres = vehicles.Tyres{FrontLoadIndex: 91, RearLoadIndex: 91}
	us := layout.Mass{OccupantKg: 150 * lb}
	for _, f := range massFindings(d, us, "mass.tyre_normal") {
		if f.Severity != check.Passes || math.Abs(f.Required-578.1) > 1e-9 {
			t.Errorf("%+v: want a pass against 578.1 kg", f)
		}
	}
	// Two in front at x = 900 and one behind at 1700 on 2500: 2 x 68.04 x 1600/2500 + 68.04 x 800/2500 on the front axle.
	want := (600 + 68.0389*(2*1600+800)/2500) / 2
	if got := massFindings(d, us, "mass.tyre_normal")[0].Actual; math.Abs(got-want) > 0.01 {
		t.Errorf("front wheel %.2f kg at normal load, want %.2f", got, want)
	}
	if fs := massFindings(d, layout.Mass{}, "mass.tyre_normal"); len(fs) != 0 {
		t.Errorf("normal load is judged with the European occupant: %+v", fs)
	}
}

// The label examples of 49 CFR 567.4 and 571.110: a car with 4400 lb gross, 2000 lb front and 2400 lb rear; a lorry
// with 2441 kg gross and 1299 kg on each axle. A little under all ratings passes, at them it cannot be told, over
// them it fails.
func TestLabelExamples(t *testing.T) {
	for _, l := range []struct{ gross, front, rear float64 }{{4400 * lb, 2000 * lb, 2400 * lb}, {2441, 1299, 1299}} {
		for share, want := range map[float64]check.Severity{0.99: check.Passes, 1: check.Warns, 1.01: check.Fails} {
			d := weighed(l.front*share, (l.gross-l.front)*share)
			d.Ratings = vehicles.Ratings{FrontAxleKg: l.front, RearAxleKg: l.rear, GrossKg: l.gross}
			for _, f := range massFindings(d, layout.Mass{}, "mass.gross") {
				if f.Severity != want {
					t.Errorf("gross at %v of its rating: %+v", share, f)
				}
			}
			for _, f := range massFindings(d, layout.Mass{}, "mass.axle") {
				if f.Subject == "front axle" && strings.HasPrefix(f.Text, "Kerb") && f.Severity != want {
					t.Errorf("front axle at %v of its rating: %+v", share, f)
				}
			}
			if want != check.Passes && !breached(massFindings(d, layout.Mass{}, "mass.axle"), "front axle", want) {
				t.Errorf("front axle at %v of its rating: nothing %s", share, want)
			}
		}
	}
}

func breached(fs []check.Finding, subject string, s check.Severity) bool {
	for _, f := range fs {
		if f.Subject == subject && f.Severity == s && strings.HasPrefix(f.Text, "Kerb") {
			return true
		}
	}
	return false
}

// A limit passes only with the whole uncertainty: for any mass put in, by how it is known.
func TestPassesOnlyWithUncertainty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := weighed(600, 600)
		kg := rapid.Float64Range(100, 900).Draw(t, "kg")
		pm := rapid.Float64Range(0.1, 90).Draw(t, "half width")
		d.Added = []vehicles.Part{{ID: "p", MassKg: kg, PlusMinusKg: pm, At: vehicles.XYZ{1250, 0, 500}, Known: "guess"}}
		d.Ratings.GrossKg = 1600
		want, whole := check.Passes, math.Hypot(pm, 4/math.Sqrt(12)) // four scales of 1 kg, coverage 2
		switch {
		case 1200+kg > 1600:
			want = check.Fails
		case 1200+kg+whole > 1600:
			want = check.Warns
		}
		for _, f := range massFindings(d, layout.Mass{}, "mass.gross") {
			if f.Severity != want {
				t.Fatalf("%v ± %v kg put in: %s, want %s: %s", kg, pm, f.Severity, want, f.Text)
			}
		}
	})
}

// Each rule has a case that it does not pass and one that it does.
func TestEachMassRuleBothWays(t *testing.T) {
	part := func(kg, x, y, z float64) vehicles.Part {
		return vehicles.Part{ID: "p", MassKg: kg, At: vehicles.XYZ{x, y, z}, Known: "weighed"}
	}
	for _, c := range []struct {
		rule string
		want check.Severity
		set  func(*vehicles.Donor, *layout.Mass)
	}{
		{"mass.axle", check.Fails, func(d *vehicles.Donor, _ *layout.Mass) { d.Added = []vehicles.Part{part(1000, 0, 0, 500)} }},
		{"mass.gross", check.Fails, func(d *vehicles.Donor, _ *layout.Mass) { d.Added = []vehicles.Part{part(1500, 1250, 0, 500)} }},
		{"mass.seats", check.Fails, func(d *vehicles.Donor, _ *layout.Mass) {
			d.Seats, d.Added = seats(900, 900), []vehicles.Part{part(1300, 1250, 0, 500)}
		}},
		{"mass.tyre", check.Fails, func(d *vehicles.Donor, _ *layout.Mass) { d.Tyres.FrontLoadIndex, d.Tyres.RearLoadIndex = 65, 91 }},
		{"mass.steering", check.Warns, func(d *vehicles.Donor, _ *layout.Mass) { d.Added = []vehicles.Part{part(1300, 3200, 0, 500)} }},
		{"mass.inside", check.Fails, func(d *vehicles.Donor, _ *layout.Mass) { d.Added = []vehicles.Part{part(1000, 4500, 0, 500)} }},
		{"mass.split", check.Warns, func(d *vehicles.Donor, _ *layout.Mass) { d.Added = []vehicles.Part{part(300, 2500, 0, 500)} }},
		{"mass.side", check.Warns, func(d *vehicles.Donor, _ *layout.Mass) { d.Added = []vehicles.Part{part(200, 1250, -600, 500)} }},
		{"mass.cg_height", check.Warns, func(d *vehicles.Donor, _ *layout.Mass) { d.Added = []vehicles.Part{part(200, 1250, 0, 1200)} }},
		{"mass.ssf", check.Warns, func(d *vehicles.Donor, _ *layout.Mass) { d.Added = []vehicles.Part{part(200, 1250, 0, 1200)} }},
		{"mass.growth", check.Notes, func(d *vehicles.Donor, _ *layout.Mass) { d.Added = []vehicles.Part{part(400, 1250, 0, 500)} }},
		{"mass.survey", check.Warns, func(d *vehicles.Donor, _ *layout.Mass) { d.Scales.KerbMassKg = 1900 }},
		{"mass.known", check.Notes, func(d *vehicles.Donor, _ *layout.Mass) { d.CentreOfGravity.How = "estimate" }},
	} {
		good, bad := weighed(600, 600), weighed(600, 600)
		for _, d := range []*vehicles.Donor{good, bad} {
			d.Seats, d.Tyres = seats(900, 900), vehicles.Tyres{FrontLoadIndex: 100, RearLoadIndex: 100}
			d.LoadPlaces = []vehicles.LoadPlace{{ID: "floor", At: vehicles.XYZ{1500, 0, 700}}}
		}
		good.Added = []vehicles.Part{part(10, 1250, 0, 300)}
		var s layout.Mass
		if c.rule == "mass.known" {
			bad.Added = nil
		}
		for _, f := range massFindings(good, s, c.rule) {
			if f.Severity != check.Passes || f.Text == "" || f.Source == "" {
				t.Errorf("%s should pass, with text and source: %+v", c.rule, f)
			}
		}
		c.set(bad, &s)
		found := false
		for _, f := range massFindings(bad, s, c.rule) {
			found = found || f.Severity == c.want
			if f.Text == "" || f.Source == "" || strings.Contains(f.Text, "%!") {
				t.Errorf("%s: no text or source: %+v", c.rule, f)
			}
		}
		if !found {
			t.Errorf("%s: nothing %s: %+v", c.rule, c.want, massFindings(bad, s, c.rule))
		}
	}
}

// A donor with nothing in its survey, or none at all, brings findings but no crash and no numbers out of nothing.
func TestMassRulesWithoutSurvey(t *testing.T) {
	for _, d := range []*vehicles.Donor{{ID: "bare", Name: "bare"}, {ID: "no-scales", Name: "n", WheelbaseMM: 2500, TrackFrontMM: 1400, TrackRearMM: 1400}} {
		for _, r := range check.Table() {
			if !strings.HasPrefix(r.Name, "mass.") {
				continue
			}
			for _, f := range massFindings(d, layout.Mass{}, r.Name) {
				if math.IsNaN(f.Actual) || math.IsInf(f.Actual, 0) || math.IsNaN(f.Required) {
					t.Errorf("%s: %+v", r.Name, f)
				}
			}
		}
	}
	a := &layout.Arrangement{ID: "a", Name: "a"}
	p := &layout.Plan{Donor: "nowhere", Arrangements: []*layout.Arrangement{a}}
	check.Evaluate(p, a, vehicles.Catalogue(), nil)
}

// Taking off the goods that the finding on the rear axle asks for brings the axle to its rating, uncertainty included.
func TestFewerGoodsBringTheAxleToItsRating(t *testing.T) {
	d := weighed(700, 500)
	d.LoadPlaces = []vehicles.LoadPlace{{ID: "bed", Name: "load floor", At: vehicles.XYZ{2300, 0, 800}}}
	d.Ratings = vehicles.Ratings{FrontAxleKg: 1200, RearAxleKg: 1300, GrossKg: 2400}
	if fs := massFindings(d, layout.Mass{}, "mass.axle"); len(failing(fs)) != 0 || !strings.Contains(fs[0].Text, "over it too") {
		t.Errorf("the donor is over the rating as well: %+v", fs)
	}
	d.Removed = []vehicles.Part{{ID: "engine", MassKg: 200, Known: "weighed", At: vehicles.XYZ{500, 0, 600}}}
	d.Added = []vehicles.Part{{ID: "pack", MassKg: 200, Known: "weighed", At: vehicles.XYZ{1900, 0, 500}}}
	d.Ratings.RearAxleKg = 1610
	f := only(t, failing(massFindings(d, layout.Mass{}, "mass.axle")), check.Fails)
	var kg, of float64
	if _, err := fmt.Sscanf(f.Text[strings.Index(f.Text, "It would"):], "It would pass with %f kg instead of %f kg", &kg, &of); err != nil {
		t.Fatalf("%v in %q", err, f.Text)
	}
	empty := 500 + 200*(1900-500)/2500.0
	if of != 1200 || math.Abs(empty+kg*2300/2500-1610) > 6 || empty+kg*2300/2500 > 1610 {
		t.Errorf("%v of %v kg put %.1f kg on the rear axle, rated 1610: %s", kg, of, empty+kg*2300/2500, f.Text)
	}
}

func failing(fs []check.Finding) []check.Finding {
	return slices.DeleteFunc(slices.Clone(fs), func(f check.Finding) bool { return f.Severity != check.Fails })
}
