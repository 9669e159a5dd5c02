package check

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/cooling"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
	"stowbay/layout/restraint"
	"stowbay/vehicles"
)

// By hand: bodies that grow by 6 and 10 mm over life meet half-way, so that 8 mm stay free between them along that axis, 9 where
// one of them asks for more from the next body. Above counts what the lower one asks for.
func TestGapOfTwoBodiesThatSwell(t *testing.T) {
	for axis := range 3 {
		swelling := func(mm float64) layout.BodyGaps {
			return layout.BodyGaps{Swell: withComponent(r3.Vector{}, axis, mm)}
		}
		a, b := solid{gaps: swelling(6)}, solid{gaps: swelling(10), lo: r3.Vector{Z: 100}}
		for _, between := range []struct{ low, high, want float64 }{{0, 0, 8}, {9, 0, 9}, {0, 9, 9}, {7, 5, 8}} {
			a.gaps.Between, b.gaps.Between = withComponent(r3.Vector{}, axis, between.low), withComponent(r3.Vector{}, axis, between.high)
			want := between.want
			if axis == 2 && between.high > between.low {
				want = 8
			}
			got := neededGap(&a, &b)
			if got != withComponent(r3.Vector{}, axis, want) || neededGap(&b, &a) != got {
				t.Errorf("axis %d, %+v: %v and %v, want %g", axis, between, got, neededGap(&b, &a), want)
			}
		}
	}
}

// A body 3.5 mm from a wall that has to be 8 mm off is to move by the rest.
func TestByHowMuchABodyIsToMove(t *testing.T) {
	f := &boxFit{}
	f.against(&solid{id: "m1"}, "the wall", 8, 3.5, r3.Vector{}, r3.Vector{X: 3.5})
	if len(f.breaches) != 1 || !strings.Contains(f.breaches[0].text, "Only 3.5 mm") || !strings.Contains(f.breaches[0].text, "8.0 mm are needed") || !strings.Contains(f.breaches[0].text, "Move it 4.5 mm away") {
		t.Errorf("%+v", f.breaches)
	}
}

// Links and cables go into the ledger numbered from one, with a quarter of their mass in doubt and their place to 50 mm: an
// estimate of ours.
func TestConductorsInTheLedger(t *testing.T) {
	at := r3.Vector{X: 1, Y: 2, Z: 3}
	got := conductors(&electric.Result{Cables: []electric.Run{
		{Kind: "links", From: "front", SectionMM2: 35, LengthMM: 900, MassKg: 0.4, Centre: at},
		{Kind: "string", From: "front", To: "rear", SectionMM2: 50, LengthMM: 2500, MassKg: 1.6, Centre: at},
	}})
	want := []mass.Entry{
		{ID: "cables/1", Group: mass.Links, Of: "front", Name: "links in front, 35 mm²", Count: 1, Kg: 0.4, PlusMinus: 0.1, Known: mass.Estimate, At: at, PlaceMM: 50, Note: "0.90 m along the computed route"},
		{ID: "cables/2", Group: mass.Cables, Name: "cable front to rear, 50 mm²", Count: 1, Kg: 1.6, PlusMinus: 0.4, Known: mass.Estimate, At: at, PlaceMM: 50, Note: "2.50 m along the computed route"},
	}
	for i := range want {
		if len(got) != len(want) || got[i] != want[i] {
			t.Errorf("%+v, want %+v", got, want[i])
		}
	}
}

// ETRTO: a load index of 91 stands for 615 kg; two such tyres a side carry 1230 kg.
func TestRatingOfTyres(t *testing.T) {
	d := &vehicles.Donor{TwinRearTyres: true, Tyres: vehicles.Tyres{FrontLoadIndex: 91, RearLoadIndex: 91}}
	for i, want := range []float64{615, 1230} {
		a := tyreAxles(d)[i]
		if kg, unknown := a.rating(); kg != want || unknown != "" {
			t.Errorf("%s axle: %g kg, want %g (%s)", a.name, kg, want, unknown)
		}
		if twins := strings.Contains(a.source(), "twin"); twins != (want > 1000) {
			t.Errorf("%s axle: %s", a.name, a.source())
		}
	}
}

// A box that ends at the clearance line before the springs give is below it afterwards: springs for the new mass mend that. One
// that is below the line on the donor's own springs already has to be moved. By hand: 100 kg half-way between the axles let
// springs of 20 N/mm a wheel give 100 x 9.80665 / 4 / 20 = 12.26 mm.
func TestSpringsMendWhatTheyGive(t *testing.T) {
	for z, want := range map[float64]Severity{170: Passes, 162: Warns, 150: Warns, 149.9: Fails} {
		e := stand(func(d *vehicles.Donor, a *layout.Arrangement) {
			d.Springs = vehicles.Springs{FrontNPerMM: 20, RearNPerMM: 20}
			d.Added = []vehicles.Part{{ID: "p", Name: "part", MassKg: 100, Known: "weighed", At: vehicles.XYZ{1250, 0, 500}}}
			a.Boxes[0].At[2] = z
			a.Boxes[0].Levels[0].Outline = rect(0, 0, 2, 800)
			a.Boxes[0].At[0] = 1249
		})
		boxKg := e.Mass.Boxes[0].Body.Kg.Value
		f := said(t, e, "place.ground", want)
		if give := (100 + boxKg) * 9.80665 / 4 / 20; math.Abs(z-give-f.Actual) > 0.02 {
			t.Errorf("at %g mm: %g mm above the ground, want %g", z, f.Actual, z-give)
		}
		if mend := strings.Contains(f.Text, "Springs set for the new mass"); mend != (want == Warns) {
			t.Errorf("at %g mm: %s", z, f.Text)
		}
	}
}

func TestWordsForPullAndPush(t *testing.T) {
	for n, want := range map[float64]string{-1: "pressed", 0: "pulled", 1: "pulled"} {
		if got := pulled(n); got != want {
			t.Errorf("%g N: %s, want %s", n, got, want)
		}
	}
	if bears(restraint.Weld) != "weld holds" {
		t.Error(bears(restraint.Weld))
	}
}

// One crossing is noted as one, none is not.
func TestCrossingLinksAreCounted(t *testing.T) {
	e := &Evaluation{Electric: &electric.Result{Strings: []electric.String{{ID: "s0"}, {ID: "s1", Crossings: 1}, {ID: "s2", Crossings: 2}}}}
	fs := crossingLinks(e)
	for i, want := range []struct {
		severity Severity
		says     string
	}{{Passes, "No two links of string s0 cross"}, {Notes, "cross in 1 place"}, {Notes, "cross in 2 places"}} {
		if fs[i].Severity != want.severity || fs[i].Actual != float64(i) || !strings.Contains(fs[i].Text, want.says) {
			t.Errorf("%+v, want %+v", fs[i], want)
		}
	}
}

// Within 5 K of what the maker permits a module warns, beyond it fails; just 5 K are enough (common practice).
func TestHottestModuleAtItsLimits(t *testing.T) {
	for c, want := range map[float64]Severity{20: Passes, 54.5: Passes, 55: Passes, 55.1: Warns, 60: Warns, 60.1: Fails} {
		body := &layout.Body{ID: "box/m", Module: &vehicles.Module{TempMaxC: 60}}
		e := &Evaluation{Cooling: &cooling.Result{Plates: []cooling.Plate{{Body: body, Known: true, CellC: c}}}}
		fs := hottest(e)
		if len(fs) != 1 || fs[0].Severity != want || fs[0].Actual != c || fs[0].Required != 60 || strings.Contains(fs[0].Text, "Less than 5 K") != (want == Warns) {
			t.Errorf("%g °C: %+v, want one that %s", c, fs, want)
		}
	}
}

// Moving the boxes by what the finding says brings the front share to its target, forward as well as rearward.
func TestWayThatBringsTheFrontShareBack(t *testing.T) {
	for way, x := range map[string]float64{"forward": 2000, "rearward": 0} {
		at := func(x float64) *Evaluation {
			e := stand(func(_ *vehicles.Donor, a *layout.Arrangement) { a.Boxes[0].At[0] = x })
			e.Plan.Settings.Mass.SplitBandPct = 1e-4
			return Evaluate(e.Plan, e.Arrangement, e.fits.lib, nil)
		}
		e := at(x)
		var mm, pct float64
		_, said, _ := strings.Cut(frontSplit(e)[0].Text, "All boxes together would have to go ")
		if n, err := fmt.Sscanf(said, "%f mm "+way+" for %f %%.", &mm, &pct); n != 2 || err != nil || mm <= 0 {
			t.Fatalf("at %g mm: %q, want so many mm %s", x, said, way)
		}
		if way == "forward" {
			mm = -mm
		}
		if got := at(x + mm).Mass.Cases[0].Now.FrontSharePct.Value; math.Abs(got-e.Mass.Target()) > 0.01 || math.Abs(pct-e.Mass.Target()) > 0.05 {
			t.Errorf("moved by %g mm the front carries %g %%, want %g", mm, got, e.Mass.Target())
		}
	}
}

// The flow is told in the units of its name; a branch that gets less than 70 % of another warns, and a plate between laminar and
// turbulent flow (Reynolds numbers of 2300 and 4000) is noted.
func TestFlowOfALoopAtItsLimits(t *testing.T) {
	for _, c := range []struct {
		weak, re float64
		want     Severity
		says     string
	}{
		{10, 1000, Passes, "The pump moves 20.0 L/min at 31.5 kPa through"}, {10, 1000, Passes, "250.0 m of hose"}, {7, 1000, Passes, "7.0 to 10.0 L/min"}, {6.9, 1000, Warns, "6.9 to 10.0 L/min"},
		{10, 2300, Passes, ""}, {10, 2301, Notes, "In 1 plate the flow"}, {10, 3999, Notes, "In 1 plate the flow"}, {10, 4000, Passes, ""}, {6, 3000, Warns, "uneven"},
	} {
		r := &cooling.Result{Cooled: 2, Flows: true, FlowLPM: 20, HeadKPa: 31.5, HoseMM: 250_000,
			Branches: []cooling.Branch{{FlowLPM: 10}, {FlowLPM: c.weak}}, Plates: []cooling.Plate{{Re: c.re}, {Re: 5000}}}
		fs := loopFlows(&Evaluation{Cooling: r})
		if len(fs) != 1 || fs[0].Severity != c.want || !strings.Contains(fs[0].Text, c.says) {
			t.Errorf("%+v: %+v", c, fs)
		}
	}
}
