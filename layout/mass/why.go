package mass

import (
	"fmt"

	"stowbay/layout"
)

const (
	balance     = "moment balance of a rigid vehicle on two axles"
	propagation = "Half widths carried by first derivatives (JCGM 100:2008, 5.1.2); different things taken as independent, modules of one type as sharing one error."
)

// inputs lists ledger lines with their masses.
func inputs(es []Entry) []layout.Input {
	out := make([]layout.Input, len(es))
	for i, e := range es {
		note := fmt.Sprintf("%s, %s", e.Known, halfWidth(e.PlusMinus, "kg"))
		if e.Assumed {
			note += " (assumed)"
		}
		if e.Note != "" {
			note += "; " + e.Note
		}
		out[i] = layout.Input{Name: e.Name, Value: e.Kg, Unit: "kg", Note: note}
		if e.Of != "" {
			out[i].Name = e.Of + ": " + e.Name
		}
	}
	return out
}

// halfWidth words an uncertainty: to a tenth, below one to two figures, so that none reads as nothing.
func halfWidth(v float64, unit string) string {
	if v != 0 && v < 1 {
		return fmt.Sprintf("±%.2g %s", v, unit)
	}
	return fmt.Sprintf("±%.1f %s", v, unit)
}

func (r *Result) whySum() layout.Why {
	return layout.Why{Formula: "donor as weighed - taken out + put in", Inputs: inputs(r.Ledger()), Source: "mass ledger", Remark: propagation}
}

func (r *Result) whyCG(axis string) func() layout.Why {
	return func() layout.Why {
		return layout.Why{
			Formula: fmt.Sprintf("%s = Σ(m %s) / Σm over the ledger", axis, axis), Inputs: inputs(r.Ledger()),
			Source: "first moments of mass", Remark: r.heightRemark(axis) + propagation,
		}
	}
}

func (r *Result) heightRemark(axis string) string {
	if d := r.Scene.Donor; axis == "z" && d != nil {
		return fmt.Sprintf("The donor's height of %.0f ± %.0f mm is by %s. ", r.Donor.Z.Value, r.Donor.Z.PlusMinus, howHeight[d.CentreOfGravity.How])
	}
	return ""
}

var howHeight = map[string]string{
	"axle_lift": "axle-lift weighing (ISO 10392)", "pendulum": "pendulum test (ISO 10392)", "maker": "the maker's data", "estimate": "estimate",
}

func (r *Result) whyChange(what string) func() layout.Why {
	return func() layout.Why {
		return layout.Why{
			Formula: what + " converted - " + what + " of the donor, both at kerb", Inputs: inputs(r.Ledger()), Source: balance,
			Remark: "Errors of the donor's survey count only as far as they do not cancel. " + propagation,
		}
	}
}

func (r *Result) dimensions() []layout.Input {
	return []layout.Input{
		{Name: "wheelbase L", Value: r.axles.base, Unit: "mm", Note: "donor"},
		{Name: "front track", Value: r.axles.front, Unit: "mm", Note: "donor"},
		{Name: "rear track", Value: r.axles.rear, Unit: "mm", Note: "donor"},
	}
}

// of lists a case's mass and centre of gravity with the vehicle's dimensions.
func (r *Result) of(c *Case) []layout.Input {
	b := c.Now.Body
	return append([]layout.Input{
		{Name: "mass m, " + c.Name, Value: b.Kg.Value, Unit: "kg", Note: halfWidth(b.Kg.PlusMinus, "kg")},
		{Name: "x of the centre of gravity", Value: b.X.Value, Unit: "mm", Note: halfWidth(b.X.PlusMinus, "mm")},
		{Name: "y of the centre of gravity", Value: b.Y.Value, Unit: "mm", Note: halfWidth(b.Y.PlusMinus, "mm")},
		{Name: "height h", Value: b.Z.Value, Unit: "mm", Note: halfWidth(b.Z.PlusMinus, "mm")},
	}, r.dimensions()...)
}

func (r *Result) whyAxle(c *Case, front bool) func() layout.Why {
	return func() layout.Why {
		f := "rear axle = m x / L"
		if front {
			f = "front axle = m (L - x) / L"
		}
		return layout.Why{Formula: f, Inputs: r.of(c), Source: balance, Remark: propagation}
	}
}

func (r *Result) whyWheel(c *Case) func() layout.Why {
	return func() layout.Why {
		in := append(r.of(c), layout.Input{Name: "front share of roll stiffness φ", Value: r.phi(c), Note: r.phiNote()},
			layout.Input{Name: "twist as weighed q", Value: r.axles.twist, Unit: "kg mm", Note: "donor's corner scales"})
		return layout.Why{
			Formula: "front wheels = front axle / 2 ± (φ m y + q) / front track; rear wheels = rear axle / 2 ± ((1 - φ) m y - q) / rear track",
			Inputs:  in, Source: balance + "; the axles' shares of a lateral moment follow the roll stiffness",
			Remark: "Statics does not settle how two axles share a lateral moment. " + r.phiNote() + ". The twist of the frame that the donor was weighed with is kept.",
		}
	}
}

func (r *Result) phi(c *Case) float64 {
	if r.axles.share > 0 {
		return r.axles.share
	}
	return c.Now.FrontSharePct.Value / 100
}

func (r *Result) phiNote() string {
	if r.axles.share > 0 {
		return "from the donor's record"
	}
	return "assumption: each axle takes the share of its static load"
}

func (r *Result) whyPayload(c *Case) func() layout.Why {
	return func() layout.Why {
		return layout.Why{
			Formula: "gross mass - mass in this load case",
			Inputs: []layout.Input{
				{Name: "gross mass", Value: r.Scene.Donor.Ratings.GrossKg, Unit: "kg", Note: "plated"},
				{Name: "mass, " + c.Name, Value: c.Now.Body.Kg.Value, Unit: "kg", Note: halfWidth(c.Now.Body.Kg.PlusMinus, "kg")},
			},
			Source: "plated gross mass", Remark: c.Remark,
		}
	}
}

func (r *Result) whySSF(c *Case) func() layout.Why {
	return func() layout.Why {
		return layout.Why{
			Formula: "SSF = T / (2 h), T the mean of both tracks", Inputs: r.of(c), Source: "NHTSA static stability factor",
			Remark: "Rigid vehicle; tyres, springs and steering are not in it. " + r.heightRemark("z"),
		}
	}
}

func (r *Result) whySlope(c *Case) func() layout.Why {
	return func() layout.Why {
		return layout.Why{
			Formula: "side: tan = (half track at x - |y|) / h; backward: tan = (L - x) / h; forward: tan = x / h", Inputs: r.of(c),
			Source: "the weight's line through the tyres' contact points, rigid vehicle",
			Remark: "On springs and tyres a vehicle tips earlier, and it slides where the grip ends first: no angle to drive at. " + r.heightRemark("z"),
		}
	}
}

func (r *Result) whyBraking(c *Case) func() layout.Why {
	return func() layout.Why {
		in := append(r.of(c), layout.Input{Name: "deceleration a", Value: c.Now.BrakingG, Unit: "g", Note: "settings"})
		return layout.Why{
			Formula: "front = m (L - x) / L + m a h / L; rear = m x / L - m a h / L, a in g", Inputs: in,
			Source: balance + " with the inertia force at height h", Remark: "Level road, no air drag, pitch of the body left out. " + r.heightRemark("z"),
		}
	}
}

func (r *Result) whyLoads(c *Case) func() layout.Why {
	return func() layout.Why {
		in := append([]layout.Input{{Name: "converted vehicle at kerb", Value: r.Now.Kg.Value, Unit: "kg", Note: halfWidth(r.Now.Kg.PlusMinus, "kg")}}, inputs(c.Loads)...)
		return layout.Why{Formula: "kerb mass + what is on board", Inputs: in, Source: "mass ledger", Remark: c.Remark}
	}
}

func (r *Result) whyRide() layout.Why {
	k := r.Scene.Donor.Springs
	return layout.Why{
		Formula: "-(axle load now - donor's) g / (2 wheel rate)",
		Inputs: []layout.Input{
			{Name: "front axle now", Value: r.Cases[0].Now.Front.Value, Unit: "kg"}, {Name: "front axle, donor", Value: r.Cases[0].Donor.Front.Value, Unit: "kg"},
			{Name: "rear axle now", Value: r.Cases[0].Now.Rear.Value, Unit: "kg"}, {Name: "rear axle, donor", Value: r.Cases[0].Donor.Rear.Value, Unit: "kg"},
			{Name: "front wheel rate", Value: k.FrontNPerMM, Unit: "N/mm", Note: "donor"}, {Name: "rear wheel rate", Value: k.RearNPerMM, Unit: "N/mm", Note: "donor"},
		},
		Source: "linear springs", Remark: "At kerb, over the axles; up positive. Worn springs, bump stops and progressive rates are not in it.",
	}
}

func (r *Result) whyInertia() layout.Why {
	return layout.Why{
		Formula: "Σ(own + m d²) over what changed, about the new centre of gravity, + donor's mass x (its centre's shift)²", Inputs: inputs(r.Ledger()[1:]),
		Source: "parallel-axis theorem",
		Remark: "The donor's own inertia is not surveyed and drops out of the change. The per cent of yaw is against mass x front arm x rear arm, an estimate from common practice without a source. Parts without a size count as points.",
	}
}

func (r *Result) whyBox(id string) func() layout.Why {
	return func() layout.Why {
		var own []Entry
		for _, e := range r.Ledger() {
			if e.Of == id {
				own = append(own, e)
			}
		}
		return layout.Why{Formula: "sum of the box's lines in the ledger", Inputs: inputs(own), Source: "mass ledger", Remark: propagation}
	}
}

func (r *Result) whyShell(b *BoxMass) func() layout.Why {
	return func() layout.Why {
		in := make([]layout.Input, len(b.Panels))
		for i, p := range b.Panels {
			in[i] = layout.Input{Name: p.ID, Value: p.Kg, Unit: "kg", Note: fmt.Sprintf("%.4f m² of %g mm %s, %g kg/m³", p.AreaMM2/1e6, p.ThicknessMM, p.Material, p.DensityKgM3)}
		}
		return layout.Why{
			Formula: "area x thickness x density, panel by panel", Inputs: in, Source: "the drawn box; densities from memory, not checked against a standard's text",
			Remark: "Bend radii, welds, bolts and sealant are left out and stand in the half width.",
		}
	}
}
