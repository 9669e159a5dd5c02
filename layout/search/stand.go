package search

import (
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// wheels is what axle and wheel loads follow from, as layout/mass has it: moments about the axles, a lateral moment
// shared by the roll stiffness share or, where none is given, as the loads, on top of the twist the donor was
// weighed with.
type wheels struct {
	base, front, rear float64
	share             float64
	twist             float64 // kg mm
}

// wheelsOf takes the twist from how a state that mass worked out stands.
func wheelsOf(d *vehicles.Donor, s *mass.State) wheels {
	w := wheels{base: d.WheelbaseMM, front: d.TrackFrontMM, rear: d.TrackRearMM, share: d.RollShareFront}
	r := rowOf(s.Body)
	w.twist = (s.FrontRight.Value-s.FrontLeft.Value)*w.front/2 - w.rollShare(&r)*r[2]
	return w
}

func rowOf(b mass.Body) row {
	kg := b.Kg.Value
	return row{kg, kg * b.X.Value, kg * b.Y.Value, kg * b.Z.Value}
}

func (w *wheels) frontKg(r *row) float64 { return r[0] - r[1]/w.base }
func (w *wheels) rearKg(r *row) float64  { return r[1] / w.base }

func (w *wheels) rollShare(r *row) float64 {
	if w.share > 0 {
		return w.share
	}
	return w.frontKg(r) / r[0]
}

// loads are front left, front right, rear left and rear right.
func (w *wheels) loads(r *row) [4]float64 {
	phi := w.rollShare(r)
	f := (phi*r[2] + w.twist) / w.front
	b := ((1-phi)*r[2] - w.twist) / w.rear
	front, rear := w.frontKg(r)/2, w.rearKg(r)/2
	return [4]float64{front - f, front + f, rear - b, rear + b}
}

// sidePct is the right side's share less 50, in points, for a roll share.
func (w *wheels) sidePct(kg, my, phi float64) float64 {
	f := (phi*my + w.twist) / w.front
	b := ((1-phi)*my - w.twist) / w.rear
	return 100 * (f + b) / kg
}

func (w *wheels) frontPct(r *row) float64 { return 100 * w.frontKg(r) / r[0] }

// apart is the distance of a number from a range.
func apart(lo, hi, v float64) float64 { return max(0, lo-v, v-hi) }
