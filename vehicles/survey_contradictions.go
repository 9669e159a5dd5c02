package vehicles

import (
	"fmt"
	"math"
)

// Contradiction is something in a survey that does not agree with something else in it. It is data for whoever judges
// the survey; nothing is refused because of it.
type Contradiction struct {
	Field  string  // path of the field it is about, "scales", "centre_of_gravity.lifts[2].axle_kg"
	Text   string  // what disagrees, in a sentence
	Actual float64 // what the survey gives
	Limit  float64 // what it was held against
	Unit   string
	Source string // where the limit comes from
	// Advice is true for something missing from good practice rather than for a disagreement.
	Advice bool
}

// Bands of the survey's own checks. They are common practice, with no source, unless said otherwise.
const (
	papersBand     = 0.05 // scales against papers, part of the mass
	diagonalBand   = 0.05 // difference of the two diagonals, part of the mass: the floor is not level or a spring is set wrongly
	sideBand       = 0.10 // difference of left and right, part of the mass
	leastAxleShare = 0.25 // an axle with less is hardly a road vehicle in kerb condition
	liftBand       = 0.06 // heights of single lifts against the whole, part of the height; ISO 10392 speaks of a few per cent
	liftSteps      = 3    // ISO 10392: at least three steps an axle
)

const (
	practice = "common practice, no source"
	iso10392 = "ISO 10392"
)

// The lowest and highest centres of gravity and static stability factors of the 1270 vehicles measured in NHTSA's light-vehicle
// data lie within these; a survey outside them is doubted.
const (
	leastHeightMM, mostHeightMM   = 400, 1100
	leastStability, mostStability = 0.85, 1.85
)

// survey gathers contradictions.
type surveyor struct {
	d     *Donor
	s     Survey
	found []Contradiction
}

func (d *Donor) contradictions(s Survey) []Contradiction {
	v := &surveyor{d: d, s: s}
	v.wheels()
	if s.Mass.Value >= leastMassKg {
		v.papers()
		v.balance()
		v.height()
		v.lifts()
		v.ratings()
	}
	v.tyres()
	v.outline()
	return v.found
}

func (v *surveyor) add(field string, actual, limit float64, unit, source, format string, args ...any) {
	v.found = append(v.found, Contradiction{Field: field, Text: fmt.Sprintf(format, args...), Actual: actual, Limit: limit, Unit: unit, Source: source})
}

func (v *surveyor) advise(field string, actual, limit float64, unit, source, format string, args ...any) {
	v.add(field, actual, limit, unit, source, format, args...)
	v.found[len(v.found)-1].Advice = true
}

// wheels wants every wheel to carry something; otherwise the centre of gravity lies on or outside the line of the wheels.
func (v *surveyor) wheels() {
	w := v.d.Scales
	for _, r := range []struct {
		field, name string
		kg          float64
	}{
		{"front_left_kg", "front left", w.FrontLeftKg}, {"front_right_kg", "front right", w.FrontRightKg},
		{"rear_left_kg", "rear left", w.RearLeftKg}, {"rear_right_kg", "rear right", w.RearRightKg},
	} {
		if r.kg <= 0 {
			v.add("scales."+r.field, r.kg, 0, "kg", "balance of moments", "the %s wheel carries nothing, so the centre of gravity is not inside the wheels", r.name)
		}
	}
}

// papers compares the scales with the papers.
func (v *surveyor) papers() {
	paper, mass := v.d.Scales.KerbMassKg, v.s.Mass.Value
	if allowed := papersBand*paper + v.s.Mass.PlusMinus; paper > 0 && math.Abs(mass-paper) > allowed {
		v.add("scales.kerb_mass_kg", mass-paper, allowed, "kg", practice,
			"the four wheels add up to %.0f kg, the papers say %.0f kg; weigh again or look for what is missing or aboard", mass, paper)
	}
}

// balance looks at the shares of axles, sides and diagonals.
func (v *surveyor) balance() {
	w, mass := v.d.Scales, v.s.Mass.Value
	if share := math.Min(v.s.FrontShare, 1-v.s.FrontShare); share < leastAxleShare {
		v.add("scales", 100*share, 100*leastAxleShare, "%", practice, "one axle carries only %.0f %% of the mass; look whether two readings were exchanged", 100*share)
	}
	if d := math.Abs(v.s.Left.Value - v.s.Right.Value); d > sideBand*mass {
		v.add("scales", d, sideBand*mass, "kg", practice, "left and right differ by %.0f kg; look whether two readings were exchanged", d)
	}
	diagonal := math.Abs(w.FrontLeftKg + w.RearRightKg - w.FrontRightKg - w.RearLeftKg)
	if diagonal > diagonalBand*mass {
		v.add("scales", diagonal, diagonalBand*mass, "kg", practice, "the diagonals differ by %.0f kg; the scales do not stand level or a spring is set unevenly", diagonal)
	}
}

// height looks whether the height can be that of a road vehicle.
func (v *surveyor) height() {
	h := v.s.Z.Value
	source := "range of NHTSA's measured light vehicles, widened"
	switch {
	case h <= 0:
		v.add("centre_of_gravity.height_mm", h, 0, "mm", "", "no height of the centre of gravity is known")
		return
	case h < leastHeightMM:
		v.add("centre_of_gravity", h, leastHeightMM, "mm", source, "a centre of gravity %.0f mm above the ground is lower than any measured road vehicle's", h)
	case h > mostHeightMM:
		v.add("centre_of_gravity", h, mostHeightMM, "mm", source, "a centre of gravity %.0f mm above the ground is higher than any measured light vehicle's", h)
	}
	if f := v.s.StabilityFactor.Value; f < leastStability || f > mostStability {
		limit := float64(leastStability)
		if f > mostStability {
			limit = mostStability
		}
		v.add("centre_of_gravity", f, limit, "", source, "track and height give a static stability factor of %.2f, outside what measured light vehicles have", f)
	}
}

// lifts holds the lifts against each other, against the stated height and against the standard's procedure.
func (v *surveyor) lifts() {
	c, fit := v.d.CentreOfGravity, v.s.Lift
	if fit == nil {
		if c.How == "axle_lift" {
			v.add("centre_of_gravity.lifts", 0, 1, "", iso10392, "none of the axle lifts can be used")
		}
		return
	}
	v.eachLift(fit)
	if allowed := math.Max(fit.ScatterMM, liftBand*fit.HeightMM) + c.PlusMinusMM; c.HeightMM > 0 && math.Abs(c.HeightMM-fit.HeightMM) > allowed {
		v.add("centre_of_gravity.height_mm", c.HeightMM-fit.HeightMM, allowed, "mm", iso10392, "the stated height is %.0f mm, the axle lifts give %.0f mm", c.HeightMM, fit.HeightMM)
	}
	if n := max(fit.FrontRaised, fit.RearRaised); n < liftSteps {
		v.advise("centre_of_gravity.lifts", float64(n), liftSteps, "", iso10392, "an axle was lifted in %d steps; at least %d are wanted", n, liftSteps)
	}
	if fit.FrontRaised == 0 || fit.RearRaised == 0 {
		v.advise("centre_of_gravity.lifts", 1, 2, "", iso10392, "only one axle was lifted; lifting the other one too shows errors that one alone hides")
	}
}

// eachLift compares every lift's own height with that of all.
func (v *surveyor) eachLift(fit *LiftFit) {
	if len(fit.Lifts) < 2 {
		return
	}
	for _, l := range fit.Lifts {
		if allowed := math.Max(l.PlusMinusMM, liftBand*fit.HeightMM); math.Abs(l.HeightMM-fit.HeightMM) > allowed {
			v.add(fmt.Sprintf("centre_of_gravity.lifts[%d].axle_kg", l.Index), l.HeightMM-fit.HeightMM, allowed, "mm", iso10392,
				"this lift alone gives a height of %.0f mm, all together %.0f mm", l.HeightMM, fit.HeightMM)
		}
	}
}

// ratings wants the donor itself to be inside its own plates.
func (v *surveyor) ratings() {
	r, s := v.d.Ratings, v.s
	over := func(field, what string, kg, limit float64) {
		if kg > limit {
			v.add("ratings."+field, kg, limit, "kg", "the vehicle's plate", "%s is %.0f kg empty already, rated %.0f kg", what, kg, limit)
		}
	}
	over("front_axle_kg", "the front axle load", s.Front.Value, r.FrontAxleKg)
	over("rear_axle_kg", "the rear axle load", s.Rear.Value, r.RearAxleKg)
	over("gross_kg", "the mass", s.Mass.Value, r.GrossKg)
	if sum := r.FrontAxleKg + r.RearAxleKg; sum < r.GrossKg {
		v.add("ratings.gross_kg", r.GrossKg, sum, "kg", "sum of the axle ratings", "the gross mass of %.0f kg is more than both axle ratings together, %.0f kg", r.GrossKg, sum)
	}
}

// tyres wants the tyres to carry the axle ratings.
func (v *surveyor) tyres() {
	rear := 2.0
	if v.d.TwinRearTyres {
		rear = 4
	}
	v.tyre("tyres.front_load_index", "front", v.d.Tyres.FrontLoadIndex, 2, v.d.Ratings.FrontAxleKg)
	v.tyre("tyres.rear_load_index", "rear", v.d.Tyres.RearLoadIndex, rear, v.d.Ratings.RearAxleKg)
}

func (v *surveyor) tyre(field, axle string, index int, tyres, rating float64) {
	if index == 0 {
		return
	}
	kg, ok := LoadIndexKg(index)
	switch {
	case !ok:
		v.add(field, float64(index), leastLoadIndex, "", "tyre load index table", "load index %d is not in the table of %d to %d, so the %s tyres are not checked", index, leastLoadIndex, mostLoadIndex, axle)
	case kg*tyres < rating:
		v.add(field, kg*tyres, rating, "kg", "tyre load index table", "the %s tyres carry %.0f kg together, less than the axle's rating of %.0f kg", axle, kg*tyres, rating)
	}
}

// outline wants the axles to lie under the body.
func (v *surveyor) outline() {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range v.d.PlanOutline {
		lo, hi = math.Min(lo, p[0]), math.Max(hi, p[0])
	}
	if len(v.d.PlanOutline) > 0 && (lo > 0 || hi < v.d.WheelbaseMM) {
		v.add("plan_outline", hi-lo, v.d.WheelbaseMM, "mm", "frame of reference", "the body runs from x = %.0f to %.0f mm, but the axles stand at 0 and %.0f", lo, hi, v.d.WheelbaseMM)
	}
}
