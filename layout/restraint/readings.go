package restraint

import (
	"fmt"

	"stowbay/layout"
)

const ec3 = "EN 1993-1-8 table 3.4, ISO 898-1"

// Readings returns the figures of every box that is held against a chosen set.
func (r *Result) Readings() []layout.Reading {
	var out []layout.Reading
	for _, b := range r.Boxes {
		p, ok := b.Governing()
		if !ok {
			continue
		}
		out = append(out, r.usedUp(b, p), r.largestPull(b))
	}
	return out
}

// usedUp is how much of the weakest part of the weakest foot is used.
func (r *Result) usedUp(b *Box, p Peak) layout.Reading {
	return layout.Reading{Key: "restraint_use_pct", Of: b.Scene.Box.ID, Label: "Mounting used up", Value: 100 * p.Use.Ratio, Unit: "%", Basis: layout.Estimated,
		Why: func() layout.Why {
			return layout.Why{
				Formula: "largest of load over resistance, over all feet, directions and ways to give; rigid box on elastic bolts",
				Inputs: []layout.Input{
					{Name: "mass with contents", Value: b.Kg, Unit: "kg"},
					{Name: string(p.Case.Direction), Value: p.Case.G, Unit: "g", Note: r.Set.Name + ", " + string(r.Set.Known)},
					{Name: "pull on foot " + p.Load.Foot.ID, Value: p.Load.PullN, Unit: "N"},
					{Name: "shear on it", Value: p.Load.ShearN, Unit: "N"},
				},
				Source: r.Set.Source + "; " + ec3,
				Remark: fmt.Sprintf("the %s of foot %s governs, thrown %s; friction and preload are not counted on", p.Mode, p.Load.Foot.ID, p.Case.Direction),
			}
		}}
}

func (r *Result) largestPull(b *Box) layout.Reading {
	worst, in := 0.0, Peak{}
	for i := range b.Cases {
		for k := range b.Cases[i].Feet {
			if l := &b.Cases[i].Feet[k]; l.PullN > worst {
				worst, in = l.PullN, Peak{Case: &b.Cases[i], Load: l}
			}
		}
	}
	return layout.Reading{Key: "restraint_pull_n", Of: b.Scene.Box.ID, Label: "Largest pull on a foot", Value: worst, Unit: "N", Basis: layout.Estimated,
		Why: func() layout.Why {
			w := layout.Why{Formula: "reaction of a rigid box on elastic bolts, along the bolts", Source: r.Set.Source,
				Inputs: []layout.Input{{Name: "mass with contents", Value: b.Kg, Unit: "kg"}}}
			if in.Load != nil {
				w.Inputs = append(w.Inputs, layout.Input{Name: string(in.Case.Direction), Value: in.Case.G, Unit: "g", Note: r.Set.Name})
				w.Remark = "at foot " + in.Load.Foot.ID
			}
			return w
		}}
}
