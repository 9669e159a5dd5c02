package mass

import "math"

// State is how a vehicle stands: its mass, wheel loads and stability, level and on its four wheels.
type State struct {
	Body                                       Body
	FrontLeft, FrontRight, RearLeft, RearRight Figure // wheel loads, kg
	Front, Rear                                Figure // axle loads, kg
	FrontSharePct                              Figure // front axle's share of the mass
	SidePct                                    Figure // right side's share less 50, percentage points
	SSF                                        Figure // static stability factor, mean track over twice the height
	TiltDeg                                    Figure // side slope at which it tips, towards the side the centre is on
	ClimbDeg, DescendDeg                       Figure // grades at which it tips over its rear and its front wheels
	BrakingFront, BrakingRear                  Figure // axle loads at BrakingG on the level, kg
	BrakingG                                   float64
}

// stateOf works out a state. Statics gives the axle loads; how a lateral moment is shared between the axles is
// statically undetermined and goes by the roll stiffness share, on top of the twist that the donor was weighed
// with.
func (a axles) stateOf(s *sum, g float64) State {
	st := State{Body: s.body(), BrakingG: g}
	if a.base <= 0 || s.kg() <= 0 {
		return st
	}
	front, rear := a.frontRow(), a.rearRow()
	st.Front, st.Rear = s.linear(front), s.linear(rear)
	st.FrontSharePct = s.ratio(front.times(100), oneKg)
	st.setWheels(a, s)
	st.setStability(a, s)
	st.BrakingFront, st.BrakingRear = s.linear(front.plus(inZ, g/a.base)), s.linear(rear.plus(inZ, -g/a.base))
	return st
}

func (st *State) setWheels(a axles, s *sum) {
	phi := a.rollShare(s)
	frontSide, rearSide := inY.times(phi/a.front), inY.times((1-phi)/a.rear)
	half := func(axle, side row, k, twist float64) Figure {
		f := s.linear(axle.times(0.5).plus(side, k))
		f.Value += twist
		return f
	}
	tf, tr := a.twist/a.front, -a.twist/a.rear
	st.FrontLeft = half(a.frontRow(), frontSide, -1, -tf)
	st.FrontRight = half(a.frontRow(), frontSide, 1, tf)
	st.RearLeft = half(a.rearRow(), rearSide, -1, -tr)
	st.RearRight = half(a.rearRow(), rearSide, 1, tr)
	right := frontSide.plus(rearSide, 1).times(100)
	st.SidePct = s.ratio(right, oneKg)
	st.SidePct.Value += 100 * (tf + tr) / s.kg()
}

// setStability works out SSF = T/(2h) with the mean track (NHTSA, 49 CFR part 575 rollover ratings) and the
// angles at which the weight's line passes outside the tyres' contact points, for a rigid vehicle.
func (st *State) setStability(a axles, s *sum) {
	if s.first[3] <= 0 {
		return
	}
	st.SSF = s.ratio(oneKg.times(a.meanTrack()/2), inZ)
	side := 1.0
	if s.first[2] < 0 {
		side = -1
	}
	reach := oneKg.times(a.front/2).plus(inX, (a.rear-a.front)/2/a.base).plus(inY, -side)
	st.TiltDeg = angle(s.ratio(reach, inZ))
	st.ClimbDeg = angle(s.ratio(oneKg.times(a.base).plus(inX, -1), inZ))
	st.DescendDeg = angle(s.ratio(inX, inZ))
}

func (a axles) meanTrack() float64 { return (a.front + a.rear) / 2 }

// angle is the angle in degrees whose tangent is given.
func angle(tan Figure) Figure {
	const deg = 180 / math.Pi
	return Figure{math.Atan(tan.Value) * deg, tan.PlusMinus / (1 + tan.Value*tan.Value) * deg}
}

// Wheels are the four wheel loads: front left, front right, rear left, rear right.
func (st State) Wheels() [4]Figure {
	return [4]Figure{st.FrontLeft, st.FrontRight, st.RearLeft, st.RearRight}
}
