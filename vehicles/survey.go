package vehicles

import (
	"fmt"
	"math"
)

// Measure is a surveyed value with its uncertainty.
type Measure struct {
	Value float64
	// PlusMinus is the half width of the uncertainty. Where it is computed from readings it is the expanded
	// uncertainty with coverage factor 2 of JCGM 100 (about 95 %).
	PlusMinus float64
	Unit      string // "kg", "mm"
	Known     string // how the value is known: "weighed", "axle lift", "pendulum", "maker", "estimate"
}

// String gives the value with its uncertainty in whole units; the uncertainty is rounded up.
func (m Measure) String() string {
	if m.PlusMinus <= 0 {
		return fmt.Sprintf("%.0f %s", m.Value, m.Unit)
	}
	return fmt.Sprintf("%.0f ± %.0f %s", m.Value, math.Ceil(m.PlusMinus-1e-9), m.Unit)
}

// Least and Most are the ends of the uncertainty.
func (m Measure) Least() float64 { return m.Value - m.PlusMinus }

// Most is the upper end of the uncertainty.
func (m Measure) Most() float64 { return m.Value + m.PlusMinus }

// Survey is what the scales and the lifts say about a donor in kerb condition.
type Survey struct {
	Mass, Front, Rear, Left, Right Measure // kg
	// X, Y, Z is the centre of gravity in the vehicle's frame, in mm. Where the scales read nothing at all it is the
	// point midway between the axles on the centre plane.
	X, Y, Z Measure
	// FrontShare and LeftShare are parts of the whole, 0 to 1.
	FrontShare, LeftShare float64
	// StabilityFactor is the static stability factor, see [StabilityFactor]; 0 where no height is known.
	StabilityFactor Measure
	// Lift says how the height followed from axle lifts; nil where there are none that can be used.
	Lift *LiftFit
	// Contradictions are the things in the survey that do not agree with one another.
	Contradictions []Contradiction
}

// CG returns the centre of gravity as a place in the vehicle's frame.
func (s Survey) CG() XYZ { return XYZ{s.X.Value, s.Y.Value, s.Z.Value} }

// Survey works out the donor's mass, axle loads and centre of gravity from its readings. Any donor can be surveyed: what makes
// no sense ends up in the list of contradictions, and every number stays finite for finite readings.
//
// The uncertainties cover what the scales can show (their resolution), the scatter of the lifts and what was stated for the
// height. The tape measure's error in wheelbase and track is not in them.
func (d *Donor) Survey() Survey {
	s := d.weigh()
	s.Z, s.Lift = d.height(s)
	s.StabilityFactor = stability(d.meanTrack(), s.Z)
	s.Contradictions = d.contradictions(s)
	return s
}

// defaultResolutionKg is assumed where the scales' smallest step is not stated (an assumption of ours).
const defaultResolutionKg = 1

// readingUncertainty is the standard uncertainty of one scale reading: the resolution as a rectangular distribution
// (JCGM 100, 4.3.7 and F.2.2.1).
func (s Scales) readingUncertainty() float64 {
	r := s.ResolutionKg
	if r <= 0 {
		r = defaultResolutionKg
	}
	return r / math.Sqrt(12)
}

// leastMassKg is what the scales have to show before there is a centre of gravity to speak of.
const leastMassKg = 1

// weigh takes the moments of the four wheel loads. Static balance: a1 = L Fr / (Ff + Fr), as in any textbook of vehicle dynamics.
func (d *Donor) weigh() Survey {
	w := d.Scales
	wheels := []wheel{
		{w.FrontLeftKg, 0, -d.TrackFrontMM / 2}, {w.FrontRightKg, 0, d.TrackFrontMM / 2},
		{w.RearLeftKg, d.WheelbaseMM, -d.TrackRearMM / 2}, {w.RearRightKg, d.WheelbaseMM, d.TrackRearMM / 2},
	}
	u := w.readingUncertainty()
	kg := func(v float64, readings float64) Measure {
		return Measure{v, 2 * u * math.Sqrt(readings), "kg", "weighed"}
	}
	s := Survey{
		Front: kg(w.FrontLeftKg+w.FrontRightKg, 2), Rear: kg(w.RearLeftKg+w.RearRightKg, 2),
		Left: kg(w.FrontLeftKg+w.RearLeftKg, 2), Right: kg(w.FrontRightKg+w.RearRightKg, 2),
	}
	s.Mass = kg(s.Front.Value+s.Rear.Value, 4)
	s.X = moment(wheels, u, func(w wheel) float64 { return w.x }, d.WheelbaseMM/2)
	s.Y = moment(wheels, u, func(w wheel) float64 { return w.y }, 0)
	if m := s.Mass.Value; m >= leastMassKg {
		s.FrontShare, s.LeftShare = s.Front.Value/m, s.Left.Value/m
	}
	return s
}

// wheel is one wheel's load and where it stands.
type wheel struct{ kg, x, y float64 }

// moment is the loads' mean place along one axis, with the uncertainty that follows from each reading's own
// (dq/dF = (place - q) / sum of F). Without any load it is the given middle.
func moment(wheels []wheel, u float64, place func(wheel) float64, middle float64) Measure {
	var sum, turn, square float64
	for _, w := range wheels {
		sum += w.kg
		turn += w.kg * place(w)
	}
	if sum < leastMassKg {
		return Measure{middle, 0, "mm", "weighed"}
	}
	q := turn / sum
	for _, w := range wheels {
		c := (place(w) - q) / sum * u
		square += c * c
	}
	return Measure{q, 2 * math.Sqrt(square), "mm", "weighed"}
}

func (d *Donor) meanTrack() float64 { return (d.TrackFrontMM + d.TrackRearMM) / 2 }

// StabilityFactor is the static stability factor T / 2h of 49 CFR 575's rollover rating: half the mean track
// over the height of the centre of gravity, both in the same unit. It is 0 where the height is not positive.
func StabilityFactor(track, height float64) float64 {
	if height <= 0 {
		return 0
	}
	return track / (2 * height)
}

// leastHeight is the least height in mm that a stability factor is worked out from.
const leastHeight = 1

func stability(track float64, z Measure) Measure {
	if z.Value < leastHeight {
		return Measure{}
	}
	f := StabilityFactor(track, z.Value)
	return Measure{Value: f, PlusMinus: f * z.PlusMinus / z.Value, Known: z.Known}
}
