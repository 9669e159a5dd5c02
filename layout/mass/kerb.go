package mass

import (
	"github.com/golang/geo/r3"

	"stowbay/vehicles"
)

// axles is what wheel loads follow from: the donor's wheels, its roll stiffness share and the twist that its
// own weighing showed.
type axles struct {
	base, front, rear float64 // wheelbase and tracks, mm
	share             float64 // front axle's share of the roll stiffness; 0: as the loads
	twist             float64 // lateral moment of the front axle beyond its share at kerb, kg mm
}

// wheel is one wheel's reading and place.
type wheel struct {
	kg float64
	at r3.Vector
}

// wheelsOf are the four wheels in the order front left, front right, rear left, rear right. The height is that
// of the centre of gravity, which wheel loads do not know.
func wheelsOf(d *vehicles.Donor, h float64) [4]wheel {
	f, r, l := d.TrackFrontMM/2, d.TrackRearMM/2, d.WheelbaseMM
	return [4]wheel{
		{d.Scales.FrontLeftKg, r3.Vector{Y: -f, Z: h}},
		{d.Scales.FrontRightKg, r3.Vector{Y: f, Z: h}},
		{d.Scales.RearLeftKg, r3.Vector{X: l, Y: -r, Z: h}},
		{d.Scales.RearRightKg, r3.Vector{X: l, Y: r, Z: h}},
	}
}

// kerbOf is the donor in kerb condition from its survey: each wheel's reading is independent of the others, and
// the height of the centre of gravity of them all.
func kerbOf(d *vehicles.Donor, v vehicles.Survey) sum {
	var s sum
	reading := v.Mass.PlusMinus / 2 // four alike and independent make the whole
	for _, w := range wheelsOf(d, v.Z.Value) {
		s.first = s.first.plus(at(w.at), w.kg)
		s.spread(at(w.at).times(reading))
	}
	s.spread(inZ.times(s.kg() * v.Z.PlusMinus))
	s.second = pointSecond(s.kg(), s.cg())
	return s
}

func axlesOf(d *vehicles.Donor, kerb *sum) axles {
	a := axles{base: d.WheelbaseMM, front: d.TrackFrontMM, rear: d.TrackRearMM, share: d.RollShareFront}
	measured := (d.Scales.FrontRightKg - d.Scales.FrontLeftKg) * a.front / 2
	a.twist = measured - a.rollShare(kerb)*kerb.first[2]
	return a
}

// rollShare is the front axle's share of a lateral moment: the roll stiffness share given, or the axle's share
// of the load (an assumption).
func (a axles) rollShare(s *sum) float64 {
	if a.share > 0 {
		return a.share
	}
	return s.ratio(a.frontRow(), oneKg).Value
}

// frontRow is the front axle's load, by moments about the rear axle.
func (a axles) frontRow() row { return oneKg.plus(inX, -1/a.base) }

// rearRow is the rear axle's load, by moments about the front axle.
func (a axles) rearRow() row { return inX.times(1 / a.base) }
