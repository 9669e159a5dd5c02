package vehicles

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Half widths of a height's uncertainty, as a part of the height, where the survey states none.
const (
	liftAccuracy     = 0.03  // ISO 10392: the axle lift is good to a few per cent, whatever its readings' scatter
	pendulumAccuracy = 0.005 // ISO 10392: the pendulum to about 0.5 %
	makerAccuracy    = 0.02  // common practice, no source
	estimateAccuracy = 0.10  // common practice, no source
)

// LiftFit is the height of the centre of gravity found from axle lifts (ISO 10392).
//
// With one axle raised the vehicle turns about the other axle's wheel centres by an angle a with sin a = raised / wheelbase,
// and the load on the axle that stays down grows by dW = W (h - r) tan a / L. So the readings L dW / W lie on a
// line through the origin against tan a, whose slope is h - r: r being the wheel centres' height, W the whole mass
// and L the wheelbase. It is fitted by least squares over all lifts of both axles.
type LiftFit struct {
	HeightMM float64
	// ScatterMM is the half width of the height's uncertainty from the readings alone: the scales' resolution, and the
	// scatter about the line with Student's factor for 95 % where there are at least two lifts.
	ScatterMM   float64
	Lifts       []LiftHeight // every lift that could be used, by itself
	FrontRaised int          // how many of them raised the front axle
	RearRaised  int          // how many raised the rear axle
}

// LiftHeight is the height that follows from one lift alone.
type LiftHeight struct {
	Index       int // in the donor's list
	Raised      string
	HeightMM    float64
	PlusMinusMM float64 // from the scales' resolution only
}

// liftPoint is a lift as a point of the fitted line.
type liftPoint struct {
	index  int
	raised string
	x, y   float64
}

// height decides on the height of the centre of gravity: from the lifts where that is how it was found, else as stated.
func (d *Donor) height(s Survey) (Measure, *LiftFit) {
	c := d.CentreOfGravity
	fit := d.fitLifts(s)
	if fit == nil || c.How != "axle_lift" {
		return Measure{c.HeightMM, c.statedUncertainty(), "mm", knownAs(c.How)}, fit
	}
	pm := math.Hypot(fit.ScatterMM, liftAccuracy*fit.HeightMM)
	if c.PlusMinusMM > 0 {
		pm = c.PlusMinusMM
	}
	return Measure{fit.HeightMM, pm, "mm", "axle lift"}, fit
}

// accuracies are used where a survey states no uncertainty, as a part of the height.
var accuracies = map[string]float64{"axle_lift": liftAccuracy, "pendulum": pendulumAccuracy, "maker": makerAccuracy}

func (c CGRise) statedUncertainty() float64 {
	if c.PlusMinusMM > 0 {
		return c.PlusMinusMM
	}
	part, ok := accuracies[c.How]
	if !ok {
		part = estimateAccuracy
	}
	return part * math.Abs(c.HeightMM)
}

func knownAs(how string) string {
	if how == "axle_lift" {
		return "axle lift"
	}
	return how
}

// fitLifts fits the line through all lifts that can be used; nil where there are none.
func (d *Donor) fitLifts(s Survey) *LiftFit {
	points := d.liftPoints(s)
	if len(points) == 0 {
		return nil
	}
	var xx, xy float64
	sums := map[string]float64{}
	for _, p := range points {
		xx += p.x * p.x
		xy += p.x * p.y
		sums[p.raised] += p.x
	}
	slope := xy / xx
	reading := d.Scales.readingUncertainty() * math.Sqrt2 * d.WheelbaseMM / s.Mass.Value // of y, two wheels to an axle
	// Each lift has a reading of its own; all lifts of one axle share the reading on level ground.
	own := 2 * reading / math.Sqrt(xx)
	shared := 2 * reading * math.Hypot(sums["front"], sums["rear"]) / xx
	fit := &LiftFit{
		HeightMM:  d.WheelRadiusMM + slope,
		ScatterMM: math.Hypot(max(own, scatter(points, slope, xx)), shared),
	}
	for _, p := range points {
		fit.add(LiftHeight{p.index, p.raised, d.WheelRadiusMM + p.y/p.x, 2 * reading * math.Sqrt2 / p.x})
	}
	return fit
}

func (f *LiftFit) add(l LiftHeight) {
	f.Lifts = append(f.Lifts, l)
	if l.Raised == "front" {
		f.FrontRaised++
	} else {
		f.RearRaised++
	}
}

// leastSlope is the least raised/wheelbase of a lift that says anything about the height.
const leastSlope = 0.001

// liftPoints turns the lifts into points of the line. A lift by nothing or by more than the wheelbase gives none.
func (d *Donor) liftPoints(s Survey) []liftPoint {
	var out []liftPoint
	for i, l := range d.CentreOfGravity.Lifts {
		sin := l.RaisedMM / d.WheelbaseMM
		if !(sin >= leastSlope && sin < 1) || s.Mass.Value < leastMassKg {
			continue
		}
		level := s.Rear.Value
		if l.Raised == "rear" {
			level = s.Front.Value
		}
		out = append(out, liftPoint{i, l.Raised, sin / math.Sqrt(1-sin*sin), (l.AxleKg - level) * d.WheelbaseMM / s.Mass.Value})
	}
	return out
}

// scatter is the 95 % half width of a slope through the origin from the points' distances to the line.
func scatter(points []liftPoint, slope, xx float64) float64 {
	free := len(points) - 1
	if free < 1 {
		return 0
	}
	var square float64
	for _, p := range points {
		e := p.y - slope*p.x
		square += e * e
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(free)}.Quantile(0.975)
	return t * math.Sqrt(square/float64(free)/xx)
}
