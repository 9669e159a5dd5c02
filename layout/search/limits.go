package search

import (
	"math"
	"strings"

	"stowbay/layout"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// Limit is the name of what excludes arrangements.
type Limit string

// The limits of the search.
const (
	Room        Limit = "room"            // more modules than fit
	Voltage     Limit = "voltage"         // outside the window of inverter, charger or converter
	Current     Limit = "current"         // more current than the modules allow
	LeastEnergy Limit = "energy"          // less energy than wanted
	Fit         Limit = "fit"             // the box itself does not go where it stands
	Clearance   Limit = "clearance"       // bodies closer than their makers allow
	Creepage    Limit = "creepage"        // live parts closer than the insulation asks for
	Restraint   Limit = "restraint"       // the feet do not hold the box
	Together    Limit = "boxes"           // two boxes that stand in each other
	Packed      Limit = "packing"         // the module cannot be packed into the box at all
	FrontAxle   Limit = "front axle"      // its rating
	RearAxle    Limit = "rear axle"       // its rating
	Gross       Limit = "gross mass"      // the vehicle's rating
	FrontTyres  Limit = "front tyres"     // their load index
	RearTyres   Limit = "rear tyres"      // their load index
	WheelOff    Limit = "wheel on ground" // a wheel would lift
	Steering    Limit = "steering axle"   // less than 20 % of the mass on the front axle
	Growth      Limit = "mass growth"     // heavier than the local code lets a conversion become
	FrontSplit  Limit = "front split"     // strict only: off the donor's by more than the band
	SideSplit   Limit = "side split"      // strict only
	Rise        Limit = "height"          // strict only: centre of gravity above the donor's
	Stability   Limit = "stability"       // strict only: static stability factor below the donor's
)

// excess is by how much a limit is broken, in its own unit; not positive where it holds.
type excess struct {
	limit  Limit
	actual float64
	need   float64
	unit   string
}

// loadCase is a load case with its limits.
type loadCase struct {
	loads     row  // what is on board, without goods that fill up to the gross mass
	toGross   bool // goods are put in up to the gross mass
	gross     bool // the gross mass is a limit
	front     float64
	rear      float64
	steered   bool
	growth    float64 // heaviest; 0: no limit
	frontTyre float64 // one side's; 0: not known
	rearTyre  float64
}

// rules are all limits of mass and stability of a plan.
type rules struct {
	donor  *vehicles.Donor
	wheels wheels
	cases  []loadCase
	places []vehicles.LoadPlace
	strict *strict
}

// strict is what an arrangement must keep besides, where nothing may warn.
type strict struct {
	frontPct, band, side, height, ssf float64
}

func rulesOf(p *layout.Plan, base *mass.Result, beStrict bool) *rules {
	d := base.Scene.Donor
	r := &rules{donor: d, wheels: wheelsOf(d, &base.Cases[0].Now), places: d.LoadPlaces}
	if len(r.places) == 0 { // as layout/mass assumes; its height is not needed
		r.places = []vehicles.LoadPlace{{ID: "rear-axle", At: vehicles.XYZ{d.WheelbaseMM, 0, 0}}}
	}
	france := strings.Contains(strings.ToLower(p.Settings.Code), "france")
	for i := range base.Cases {
		r.cases = append(r.cases, r.caseOf(&base.Cases[i], france))
	}
	if beStrict {
		r.strict = strictOf(p.Settings.Mass, base)
	}
	return r
}

func (r *rules) caseOf(c *mass.Case, france bool) loadCase {
	d := r.donor
	l := loadCase{front: d.Ratings.FrontAxleKg, rear: d.Ratings.RearAxleKg, frontTyre: tyre(d.Tyres.FrontLoadIndex, 1), rearTyre: tyre(d.Tyres.RearLoadIndex, twin(d))}
	l.toGross = c.ID == mass.CaseGross
	l.gross = !l.toGross
	for _, e := range c.Loads {
		if !strings.HasPrefix(e.ID, mass.GoodsPrefix) {
			l.loads = l.loads.plus(row{1, e.At.X, e.At.Y, e.At.Z}, e.Kg)
		}
	}
	if l.toGross { // where the donor is over a rating too, the load places are to blame and the check only warns
		l.front, l.rear = unlessOver(l.front, c.Donor.Front.Value), unlessOver(l.rear, c.Donor.Rear.Value)
	}
	l.steered = c.ID != mass.CaseKerb && d.Category != "" && d.Category != "M1"
	if c.ID == mass.CaseDriver && france {
		l.growth = 1.2 * c.Donor.Body.Kg.Value
	}
	return l
}

func unlessOver(rating, donor float64) float64 {
	if donor > rating {
		return math.Inf(1)
	}
	return rating
}

func twin(d *vehicles.Donor) float64 {
	if d.TwinRearTyres {
		return 2
	}
	return 1
}

func tyre(index int, n float64) float64 {
	kg, ok := vehicles.LoadIndexKg(index)
	if !ok {
		return 0
	}
	return n * kg
}

func strictOf(m layout.Mass, base *mass.Result) *strict {
	s := &strict{band: m.SplitBandPct, side: m.SideBandPct}
	if s.band == 0 {
		s.band = 3
	}
	if s.side == 0 {
		s.side = 2
	}
	donor := &base.Cases[0].Donor
	s.frontPct = donor.FrontSharePct.Value
	s.height, s.ssf = base.Donor.Z.Value+m.CGRiseMM, donor.SSF.Value
	return s
}

// slack is the rounding of sums, as in the checks.
const slack = 1e-9

// laden are the loads of every case on a vehicle of a mass, goods included.
func (r *rules) laden(kg float64) []row {
	out := make([]row, len(r.cases))
	for i := range r.cases {
		c := &r.cases[i]
		out[i] = c.loads
		if !c.toGross {
			continue
		}
		left := r.donor.Ratings.GrossKg - kg - c.loads[0]
		for _, p := range r.places {
			if left <= 0 {
				break
			}
			n := left
			if p.MaxKg > 0 {
				n = min(n, p.MaxKg)
			}
			out[i] = out[i].plus(row{1, p.At[0], p.At[1], p.At[2]}, n)
			left -= n
		}
	}
	return out
}

// heavy finds a limit of mass alone that is broken, whatever stands where.
func (r *rules) heavy(kg float64) (excess, bool) {
	for i := range r.cases {
		c := &r.cases[i]
		now := kg + c.loads[0]
		if c.gross && now > r.donor.Ratings.GrossKg+slack {
			return excess{Gross, now, r.donor.Ratings.GrossKg, "kg"}, true
		}
		if c.growth > 0 && now > c.growth+slack {
			return excess{Growth, now, c.growth, "kg"}, true
		}
	}
	return excess{}, false
}

// broken finds the first limit that a vehicle breaks.
func (r *rules) broken(v *row, laden []row) (excess, bool) {
	for i := range r.cases {
		at := v.plus(laden[i], 1)
		if e, bad := r.cases[i].broken(&r.wheels, &at); bad {
			return e, true
		}
	}
	if r.strict != nil {
		return r.strict.broken(r, v)
	}
	return excess{}, false
}

func (c *loadCase) broken(w *wheels, r *row) (excess, bool) {
	front, rear := w.frontKg(r), w.rearKg(r)
	switch {
	case front > c.front+slack:
		return excess{FrontAxle, front, c.front, "kg"}, true
	case rear > c.rear+slack:
		return excess{RearAxle, rear, c.rear, "kg"}, true
	case c.steered && 100*front/r[0] < 20-slack:
		return excess{Steering, 100 * front / r[0], 20, "%"}, true
	}
	l := w.loads(r)
	for i, kg := range l {
		limit, name := c.tyre(i)
		if limit > 0 && kg > limit+slack {
			return excess{name, kg, limit, "kg"}, true
		}
		if kg < -slack {
			return excess{WheelOff, kg, 0, "kg"}, true
		}
	}
	return excess{}, false
}

func (s *strict) broken(r *rules, v *row) (excess, bool) {
	off := math.Abs(r.wheels.frontPct(v) - s.frontPct)
	side := math.Abs(r.wheels.sidePct(v[0], v[2], r.wheels.rollShare(v)))
	z := v[3] / v[0]
	ssf := (r.wheels.front + r.wheels.rear) / 4 / z
	switch {
	case off > s.band+slack:
		return excess{FrontSplit, off, s.band, "points"}, true
	case side > s.side+slack:
		return excess{SideSplit, side, s.side, "points"}, true
	case z > s.height+slack:
		return excess{Rise, z, s.height, "mm"}, true
	case s.ssf > 0 && ssf < s.ssf-slack:
		return excess{Stability, ssf, s.ssf, ""}, true
	}
	return excess{}, false
}

// tyre is what the tyres of a wheel carry, and the limit's name: front left, front right, rear left, rear right.
func (c *loadCase) tyre(wheel int) (float64, Limit) {
	if wheel > 1 {
		return c.rearTyre, RearTyres
	}
	return c.frontTyre, FrontTyres
}
