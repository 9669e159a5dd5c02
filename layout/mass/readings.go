package mass

import (
	"fmt"

	"stowbay/layout"
)

// Readings returns the figures of an arrangement in a fixed order. Keys are stable. Those of a load case have
// its id in Of, those of a box the box's.
func (r *Result) Readings() []layout.Reading {
	out := []layout.Reading{
		r.reading("mass_kg", "Mass at kerb", r.Now.Kg, "kg", r.whySum),
		r.reading("cg_mm.x", "Centre of gravity, rearward of the front axle", r.Now.X, "mm", r.whyCG("x")),
		r.reading("cg_mm.y", "Centre of gravity, right of the centre plane", r.Now.Y, "mm", r.whyCG("y")),
		r.heightReading("cg_mm.z", "Centre of gravity, above the ground", r.Now.Z, "mm", r.whyCG("z")),
	}
	if len(r.Cases) == 0 {
		return append(out, r.boxReadings()...)
	}
	out = append(out, r.changeReadings()...)
	out = append(out, r.stateReadings("", &r.Cases[0])...)
	out = append(out, r.inertiaReadings()...)
	for i := range r.Cases {
		out = append(out, r.stateReadings(r.Cases[i].ID, &r.Cases[i])...)
	}
	return append(out, r.boxReadings()...)
}

func (r *Result) reading(key, label string, f Figure, unit string, why func() layout.Why) layout.Reading {
	return layout.Reading{Key: key, Label: label, Value: f.Value, PlusMinus: f.PlusMinus, Unit: unit, Basis: layout.Computed, Why: why}
}

// heightReading is a reading that rests on the height of the donor's centre of gravity.
func (r *Result) heightReading(key, label string, f Figure, unit string, why func() layout.Why) layout.Reading {
	out := r.reading(key, label, f, unit, why)
	if d := r.Scene.Donor; d != nil && d.CentreOfGravity.How == "estimate" {
		out.Basis = layout.Estimated
	}
	return out
}

// sideReading is a reading that rests on how the axles share a lateral moment.
func (r *Result) sideReading(key, label string, f Figure, why func() layout.Why) layout.Reading {
	out := r.reading(key, label, f, "kg", why)
	if r.axles.share == 0 {
		out.Basis = layout.Assumed
	}
	return out
}

func (r *Result) changeReadings() []layout.Reading {
	c := r.Change
	out := []layout.Reading{
		r.reading("change.mass_kg", "Mass against the donor", c.Kg, "kg", r.whySum),
		r.reading("change.front_share_pct", "Front-axle share against the donor", c.FrontSharePct, "points", r.whyChange("front-axle share")),
		r.reading("change.cg_mm.x", "Centre of gravity moved rearward", c.X, "mm", r.whyChange("x")),
		r.reading("change.cg_mm.y", "Centre of gravity moved right", c.Y, "mm", r.whyChange("y")),
		r.heightReading("change.cg_mm.z", "Centre of gravity raised", c.Z, "mm", r.whyChange("z")),
		r.heightReading("change.ssf", "Static stability factor against the donor", c.SSF, "", r.whyChange("T/(2h)")),
	}
	if c.HasRide {
		out = append(out,
			r.reading("ride_mm.front", "Ride height change, front", c.RideFront, "mm", r.whyRide),
			r.reading("ride_mm.rear", "Ride height change, rear", c.RideRear, "mm", r.whyRide))
	}
	return out
}

func (r *Result) inertiaReadings() []layout.Reading {
	i := r.Change.Inertia
	yaw := r.reading("yaw_change_pct", "Yaw inertia against an estimate of the donor's", Figure{Value: r.Change.YawPct}, "%", r.whyInertia)
	yaw.Basis = layout.Estimated
	return []layout.Reading{
		r.reading("inertia_change_kgm2.yaw", "Yaw inertia change", Figure{Value: i.ZZ}, "kg m²", r.whyInertia),
		r.reading("inertia_change_kgm2.roll", "Roll inertia change", Figure{Value: i.XX}, "kg m²", r.whyInertia),
		r.reading("inertia_change_kgm2.pitch", "Pitch inertia change", Figure{Value: i.YY}, "kg m²", r.whyInertia),
		yaw,
	}
}

// stateReadings are a load case's; with an empty of, the kerb case's as the arrangement's own.
func (r *Result) stateReadings(of string, c *Case) []layout.Reading {
	s := &c.Now
	g := func(l string) string { return fmt.Sprintf("%s, braking at %g g", l, s.BrakingG) }
	out := []layout.Reading{
		r.reading("axles_kg.front", "Front axle", s.Front, "kg", r.whyAxle(c, true)),
		r.reading("axles_kg.rear", "Rear axle", s.Rear, "kg", r.whyAxle(c, false)),
		r.sideReading("wheels_kg.front_left", "Front left wheel", s.FrontLeft, r.whyWheel(c)),
		r.sideReading("wheels_kg.front_right", "Front right wheel", s.FrontRight, r.whyWheel(c)),
		r.sideReading("wheels_kg.rear_left", "Rear left wheel", s.RearLeft, r.whyWheel(c)),
		r.sideReading("wheels_kg.rear_right", "Rear right wheel", s.RearRight, r.whyWheel(c)),
		r.reading("front_share_pct", "Front-axle share", s.FrontSharePct, "%", r.whyAxle(c, true)),
		r.reading("side_pct", "Right side over an even split", s.SidePct, "points", r.whyWheel(c)),
		r.reading("payload_kg", "Payload left to the gross mass", c.PayloadLeft, "kg", r.whyPayload(c)),
		r.heightReading("ssf", "Static stability factor", s.SSF, "", r.whySSF(c)),
		r.heightReading("tilt_deg", "Side slope at which it tips", s.TiltDeg, "°", r.whySlope(c)),
		r.heightReading("climb_deg", "Grade at which it tips backward", s.ClimbDeg, "°", r.whySlope(c)),
		r.heightReading("descend_deg", "Grade at which it tips forward", s.DescendDeg, "°", r.whySlope(c)),
		r.heightReading("braking_kg.front", g("Front axle"), s.BrakingFront, "kg", r.whyBraking(c)),
		r.heightReading("braking_kg.rear", g("Rear axle"), s.BrakingRear, "kg", r.whyBraking(c)),
	}
	if of != "" {
		out = append(out, r.reading("mass_kg", "Mass", s.Body.Kg, "kg", r.whyLoads(c)))
	}
	for i := range out {
		out[i].Of = of
	}
	return out
}

func (r *Result) boxReadings() []layout.Reading {
	var out []layout.Reading
	for i := range r.Boxes {
		b := &r.Boxes[i]
		for _, f := range []layout.Reading{
			r.reading("box_kg", "Box with contents", b.Body.Kg, "kg", r.whyBox(b.ID)),
			r.reading("shell_kg", "Empty box", Figure{Value: b.SheetKg}, "kg", r.whyShell(b)),
		} {
			f.Of = b.ID
			out = append(out, f)
		}
	}
	return out
}
