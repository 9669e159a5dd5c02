package check

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// maker marks rules whose numbers come from the module's own data.
const maker = "module maker's data as entered"

var fitRules = []Rule{
	{"plan.reference", "records that the plan names but nobody can find", "the plan itself", references},
	{"fit.overlap", "two bodies in one place", "geometry", inBoxes("fit.overlap", "No two bodies in a box overlap")},
	{"fit.outside", "a module or gear that sticks through its box", "geometry", inBoxes("fit.outside", "Every module and all gear lies inside its box")},
	{"fit.gap", "modules closer to each other, to a wall or to the lid than their maker's gap and swelling allowance", maker, inBoxes("fit.gap", "Every gap between modules, to walls and to lids is kept")},
	{"fit.strip", "terminals and ports that no link, hose or spanner can reach", maker, inBoxes("fit.strip", "Every free strip at terminals and ports is free")},
	{"fit.posture", "a posture that the maker does not allow", maker, inBoxes("fit.posture", "Every module stands in a posture that its maker allows")},
	{"fit.support", "a module with nothing under it", "geometry", inBoxes("fit.support", "Every module rests on a floor or on other modules")},
	{"fit.bay", "a box that does not go into its bay with room for flexing, paint and assembly", "bay clearance as entered; 5 to 15 mm is common practice", inBay},
	{"fit.boxes", "two boxes, or box and gear, in one place", "geometry", boxesApart},
	{"fit.keep_out", "a box in the way of shafts, suspension, brakes or the vehicle's structure", "donor survey", keepOuts},
}

// inBoxes returns a rule's run that picks the breaches found inside the boxes; where there are none and
// something was there to check, it says so in one line.
func inBoxes(rule, allWell string) func(*Evaluation) []Finding {
	return func(e *Evaluation) []Finding {
		var out []Finding
		bodies := 0
		for i, b := range e.Scene.Boxes {
			fit := e.fits.byBox[i]
			bodies += len(b.Modules) + len(b.Gear)
			for _, br := range fit.breaches {
				if br.rule == rule {
					out = append(out, br.finding(b))
				}
			}
		}
		if len(out) == 0 && bodies > 0 {
			out = append(out, e.well(rule, allWell, bodies))
		}
		return out
	}
}

func (e *Evaluation) well(rule, text string, bodies int) Finding {
	f := Finding{Severity: Passes, Subject: "boxes", Text: fmt.Sprintf("%s (%s looked at).", text, things(bodies))}
	if t, b := e.tightest(); rule == "fit.gap" && t.found {
		f.Required, f.Actual, f.Unit, f.Compare = t.required, t.actual, "mm", "at least"
		f.Text = fmt.Sprintf("%s; the tightest is %.1f mm where %.1f mm are needed, in box %s.", text, t.actual, t.required, b.Box.ID)
		f.Place, f.To = inVehicle(b, t.from), inVehicle(b, t.to)
	}
	return f
}

func things(n int) string {
	if n == 1 {
		return "1 module or piece of gear"
	}
	return fmt.Sprintf("%d modules and pieces of gear", n)
}

// tightest returns the distance inside the boxes that is closest to what it has to be.
func (e *Evaluation) tightest() (tight, *layout.BoxScene) {
	var best tight
	var at *layout.BoxScene
	for i, f := range e.fits.byBox {
		if f.tightest.found && (!best.found || f.tightest.margin < best.margin) {
			best, at = f.tightest, e.Scene.Boxes[i]
		}
	}
	return best, at
}

func (b breach) finding(box *layout.BoxScene) Finding {
	f := Finding{Severity: Fails, Subject: box.Box.ID + "/" + b.subject, Text: box.Box.ID + ": " + b.text}
	for _, r := range b.refs {
		f.Refs = append(f.Refs, box.Box.ID+"/"+r)
	}
	if b.numbers {
		f.Required, f.Actual, f.Compare, f.Unit = b.required, b.actual, b.compare, "mm"
	}
	f.Place = inVehicle(box, b.place)
	if b.to != (r3.Vector{}) {
		f.To = inVehicle(box, b.to)
	}
	return f
}

func inVehicle(b *layout.BoxScene, p r3.Vector) *r3.Vector {
	v := b.Frame.ToVehicle(p)
	return &v
}

func (e *Evaluation) fitReadings() []layout.Reading {
	t, b := e.tightest()
	if !t.found {
		return nil
	}
	return []layout.Reading{{Key: "worst_gap_mm", Label: "Tightest gap", Value: t.actual, Unit: "mm", Basis: layout.Computed,
		Why: func() layout.Why {
			return layout.Why{
				Formula: "least of actual gap - gap needed, over all pairs of bodies in a box, walls and lids",
				Inputs: []layout.Input{
					{Name: "gap found there", Value: t.actual, Unit: "mm", Note: "geometry of the plan"},
					{Name: "gap needed there", Value: t.required, Unit: "mm", Note: maker},
				},
				Source: maker,
				Remark: fmt.Sprintf("It is in box %s, at %s.", b.Box.ID, strings.Join(t.refs, " and ")),
			}
		}}}
}
