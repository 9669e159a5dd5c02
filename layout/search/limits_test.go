package search

import (
	"math"
	"testing"

	"stowbay/layout"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// What each load case puts on board is what layout/mass puts there, with load places of the donor's own and without; the front
// axle has to steer where the clause is written for the category, and nobody drives an empty vehicle.
func TestLimitsOfTheLoadCases(t *testing.T) {
	for _, category := range []string{"", "M1", "N1"} {
		for _, places := range []string{"the donor's", "one of little", "none"} {
			y := newYard(t, []site{{x: 700, y: -300, z: 220, along: 2, across: 2, up: 1}}, block("b", 300, 150, 100, 11, 50, 1, vehicles.Flat))
			d := y.lib.Donor("yard-cart")
			d.Category = category
			switch places {
			case "one of little":
				d.LoadPlaces[0].MaxKg = 0.6
			case "none":
				d.LoadPlaces = nil
			}
			g, err := groundOf(y.plan, y.a, y.lib, y.a.Boxes, false)
			if err != nil {
				t.Fatal(err)
			}
			laden := g.rules.laden(g.bare.Cases[0].Now.Body.Kg.Value)
			for i := range g.bare.Cases {
				c := &g.bare.Cases[i]
				var want row
				for _, l := range c.Loads {
					want = want.plus(row{1, l.At.X, l.At.Y, 0}, l.Kg)
				}
				for k := range 3 { // heights are not needed
					if math.Abs(laden[i][k]-want[k]) > 1e-6*max(1, math.Abs(want[k])) {
						t.Errorf("%s, load places: %s: %v on board, not %v", c.ID, places, laden[i], want)
						break
					}
				}
				if got, want := g.rules.cases[i].steered, category == "N1" && c.ID != mass.CaseKerb; got != want {
					t.Errorf("category %q, %s: has to steer %v", category, c.ID, got)
				}
			}
		}
	}
}

// By hand: a vehicle of 1000 kg with its centre of gravity half-way between axles 2500 mm apart, weighed without a twist, on
// tracks of 1500 mm. Each wheel carries 250 kg; a moment of 600 kg m to the right, shared in halves, takes 200 kg from each left
// wheel and gives it to the right one. Static stability factor: half the track over the height (NHTSA, 49 CFR 575.105).
func TestLimitsOfOneVehicle(t *testing.T) {
	r := &rules{wheels: wheels{base: 2500, front: 1500, rear: 1500, share: 0.5}}
	at := func(y, z float64) row { return row{1000, 1000 * 1250, 1000 * y, 1000 * z} }
	loose := loadCase{front: 2000, rear: 2000}
	tyres := func(front, rear float64) loadCase {
		c := loose
		c.frontTyre, c.rearTyre = front, rear
		return c
	}
	for name, c := range map[string]struct {
		limits loadCase
		strict *strict
		at     row
		want   excess
	}{
		"nothing broken":     {loose, nil, at(600, 500), excess{}},
		"a wheel lifts":      {loose, nil, at(900, 500), excess{WheelOff, -50, 0, "kg"}},
		"front tyres":        {tyres(449, 449), nil, at(600, 500), excess{FrontTyres, 450, 449, "kg"}},
		"rear tyres":         {tyres(451, 449), nil, at(600, 500), excess{RearTyres, 450, 449, "kg"}},
		"stable":             {loose, &strict{50, 3, 3, 520, 1.49}, at(0, 500), excess{}},
		"less stable":        {loose, &strict{50, 3, 3, 520, 1.51}, at(0, 500), excess{Stability, 1.5, 1.51, ""}},
		"less than one":      {loose, &strict{50, 3, 3, 1000, 0.9}, at(0, 900), excess{Stability, 750.0 / 900, 0.9, ""}},
		"all at the limit":   {loadCase{front: 500, rear: 500, steered: true, frontTyre: 250, rearTyre: 250}, &strict{50, 0, 0, 500, 1.5}, at(0, 500), excess{}},
		"too light in front": {loadCase{front: 2000, rear: 2000, steered: true}, nil, row{1000, 1000 * 2002.5, 0, 5e5}, excess{Steering, 19.9, 20, "%"}},
		"just not too light": {loadCase{front: 2000, rear: 2000, steered: true}, nil, row{1000, 1000 * 2000, 0, 5e5}, excess{}},
		"not to steer":       {loose, nil, row{1000, 1000 * 2002.5, 0, 5e5}, excess{}},
		"stability unsaid":   {loose, &strict{50, 3, 3, 520, 0}, at(0, 500), excess{}},
		"higher":             {loose, &strict{50, 3, 3, 499, 1.49}, at(0, 500), excess{Rise, 500, 499, "mm"}},
		"to the side":        {loose, &strict{50, 3, 3, 520, 1.49}, at(60, 500), excess{SideSplit, 4, 3, "points"}},
		"to the front":       {loose, &strict{46, 3, 3, 520, 1.49}, at(0, 500), excess{FrontSplit, 4, 3, "points"}},
	} {
		r.cases, r.strict = []loadCase{c.limits}, c.strict
		e, bad := r.broken(&c.at, []row{{}})
		if bad != (c.want.limit != "") || e.limit != c.want.limit || e.unit != c.want.unit || math.Abs(e.actual-c.want.actual) > 1e-9 || e.need != c.want.need {
			t.Errorf("%s: %+v, not %+v", name, e, c.want)
		}
	}
}

// A load index of 99 stands for 775 kg (ETRTO); twin tyres carry twice that, front tyres are never twins.
func TestTwinTyresCarryTwice(t *testing.T) {
	for twin, rear := range map[bool]float64{false: 775, true: 1550} {
		y := newYard(t, []site{{x: 700, y: -300, z: 220, along: 1, across: 1, up: 1}}, block("b", 300, 150, 100, 11, 50, 1, vehicles.Flat))
		y.lib.Donor("yard-cart").TwinRearTyres = twin
		g, err := groundOf(y.plan, y.a, y.lib, y.a.Boxes, false)
		if err != nil {
			t.Fatal(err)
		}
		if c := &g.rules.cases[0]; c.rearTyre != rear || c.frontTyre != 690 {
			t.Errorf("twins %v: front tyres carry %g, rear ones %g", twin, c.frontTyre, c.rearTyre)
		}
	}
}

// Joints are made without a hazardous voltage up to 60 V of direct current (UN R100, from memory: high voltage lies above 60 V), where
// the plan states no other limit: of modules of 20.2 V two may be joined before, of 12 V five.
func TestJointsAtAHazardousVoltage(t *testing.T) {
	g := &ground{plan: &layout.Plan{}}
	for _, cell := range []float64{20.2, 12, 19.9, 61} {
		m := &vehicles.Module{Series: 1, Parallel: 1, Cell: vehicles.Cell{MaxV: cell}}
		for series := 1; series < 12; series++ {
			for parallel := 1; parallel < 3; parallel++ {
				if got, want := g.liveSteps(m, series, parallel), liveByHand(m, series, parallel); got != want {
					t.Errorf("%d x %d modules of %g V: %d joints, one by one %d", series, parallel, cell, got, want)
				}
			}
		}
	}
}

// Where the plan states no bands, three points about the donor's front share and two points of side are kept, as the field reference
// says; the height is the donor's and what the plan lets it rise.
func TestBandsOfStrictLimits(t *testing.T) {
	base := &mass.Result{Cases: make([]mass.Case, 1)}
	base.Cases[0].Donor.FrontSharePct.Value, base.Cases[0].Donor.SSF.Value, base.Donor.Z.Value = 52, 1.25, 600
	for _, c := range []struct {
		set  layout.Mass
		want strict
	}{
		{layout.Mass{}, strict{frontPct: 52, band: 3, side: 2, height: 600, ssf: 1.25}},
		{layout.Mass{SplitBandPct: 1.5, SideBandPct: 0.5, CGRiseMM: 20}, strict{frontPct: 52, band: 1.5, side: 0.5, height: 620, ssf: 1.25}},
	} {
		if got := strictOf(c.set, base); *got != c.want {
			t.Errorf("%+v, want %+v", *got, c.want)
		}
	}
}
