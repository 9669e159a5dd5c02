package check

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// lowCorners calls f for every lower corner of a box.
func lowCorners(b *layout.BoxScene, f func(r3.Vector)) {
	for _, p := range b.Outer.Solids {
		for _, c := range p.Base.Outer {
			f(r3.Vector{X: c.X, Y: c.Y, Z: p.Bottom})
		}
	}
}

// sunk is by how much the body has come down at a place along x with the conversion, mm; 0 where it is not known or
// has come up.
func (e *Evaluation) sunk(x float64) float64 {
	c := e.Mass.Change
	d := e.Scene.Donor
	if d == nil || !c.HasRide || d.WheelbaseMM <= 0 {
		return 0
	}
	return max(0, -(c.RideFront.Value + (c.RideRear.Value-c.RideFront.Value)*x/d.WheelbaseMM))
}

// groundClearance compares each box's lowest corner with the donor's clearance line, the springs' give taken off.
func groundClearance(e *Evaluation) []Finding {
	d := e.Scene.Donor
	if d == nil {
		return nil
	}
	var out []Finding
	for _, b := range e.Scene.Boxes {
		if len(b.Outer.Solids) == 0 {
			continue
		}
		var low r3.Vector
		least, sunk := math.Inf(1), 0.0
		lowCorners(b, func(c r3.Vector) {
			if s := e.sunk(c.X); c.Z-s < least {
				least, low, sunk = c.Z-s, c, s
			}
		})
		ground := r3.Vector{X: low.X, Y: low.Y}
		f := Finding{Severity: Fails, Subject: b.Box.ID, Refs: []string{b.Box.ID}, Required: d.GroundClearMM, Actual: least, Unit: "mm", Compare: "at least", Place: &low, To: &ground}
		text := fmt.Sprintf("Box %s ends %.0f mm above the ground; the donor's clearance line is at %.0f mm.", b.Box.ID, least, d.GroundClearMM)
		if sunk > 0.5 {
			text += fmt.Sprintf(" The springs' give of %.0f mm at kerb mass is taken off.", sunk)
		}
		f = f.judge(text)
		if f.Severity == Fails && f.Actual+sunk >= f.Required-tolerance {
			f.Severity = Warns
			f.Text += " Springs set for the new mass would keep the line."
		} else {
			f = f.mending("Raise the box, or make it flatter.")
		}
		out = append(out, f)
	}
	return out
}

// tangentDeg is the angle in degrees of the plane that touches a tyre of radius r below and passes through a point at
// the distance ahead of the tyre's centre and the height: 90 where the point does not come in the way.
func tangentDeg(r, ahead, height float64) float64 {
	reach := math.Hypot(ahead, r-height)
	if ahead <= 0 || reach <= r {
		return 90
	}
	return (math.Asin(r/reach) - math.Atan2(r-height, ahead)) * 180 / math.Pi
}

// rampAngle is one of the three angles: the boxes' least, where it is and whose.
type rampAngle struct {
	name        string
	before, deg float64
	at          r3.Vector
	box         string
}

func (a *rampAngle) take(deg float64, at r3.Vector, box string) {
	if deg < a.deg {
		a.deg, a.at, a.box = deg, at, box
	}
}

// rampAngles gives approach, departure and ramp angle after the conversion: the donor's, or what a box leaves of them.
func rampAngles(e *Evaluation) []Finding {
	d := e.Scene.Donor
	if d == nil || len(e.Scene.Boxes) == 0 {
		return nil
	}
	var out []Finding
	for _, a := range e.angles(d) {
		if a.before == 0 {
			continue
		}
		f := Finding{Severity: Warns, Subject: "vehicle", Required: a.before, Actual: min(a.before, a.deg), Unit: "°", Compare: "at least"}
		text := fmt.Sprintf("The %s angle stays at the donor's %.0f°.", a.name, a.before)
		if a.deg < a.before {
			at := a.at
			f.Subject, f.Refs, f.Place = a.box, []string{a.box}, &at
			text = fmt.Sprintf("The %s angle was %.0f° and is %.1f° with box %s.", a.name, a.before, a.deg, a.box)
		}
		out = append(out, f.judge(text).mending("Raise the box, or move it away from that edge."))
	}
	return out
}

func (e *Evaluation) angles(d *vehicles.Donor) [3]rampAngle {
	out := [3]rampAngle{{name: "approach", before: d.ApproachDeg, deg: 90}, {name: "departure", before: d.DepartureDeg, deg: 90}, {name: "ramp", before: d.RampDeg, deg: 180}}
	r := d.WheelRadiusMM
	for _, b := range e.Scene.Boxes {
		lowCorners(b, func(c r3.Vector) {
			z := c.Z - e.sunk(c.X)
			front, rear := tangentDeg(r, c.X, z), tangentDeg(r, d.WheelbaseMM-c.X, z)
			switch {
			case c.X < 0:
				out[0].take(tangentDeg(r, -c.X, z), c, b.Box.ID)
			case c.X > d.WheelbaseMM:
				out[1].take(tangentDeg(r, c.X-d.WheelbaseMM, z), c, b.Box.ID)
			default:
				out[2].take(front+rear, c, b.Box.ID)
			}
		})
	}
	return out
}
