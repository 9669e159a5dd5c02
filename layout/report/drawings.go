package report

import (
	"stowbay/layout/check"
	"stowbay/layout/drawing"
)

// Drawings returns the drawings of an arrangement as the report sets them, in its order: the picture, dimensioned
// views, sections, boxes and the single-line diagram. They are for a preview; o's paper and sections do not matter.
func Drawings(e *check.Evaluation, o Options) []*drawing.List {
	b := &book{plan: e.Plan, e: e, o: o, units: unitsOf(e.Plan, o)}
	look := b.look()
	look.Off = drawing.LayerZones
	out := []*drawing.List{b.picture()}
	for _, v := range []drawing.View{drawing.PlanView, drawing.SideView, drawing.RearView} {
		out = append(out, b.dimensioned(v, look))
	}
	out = append(out, b.survey())
	for _, x := range sectionPlaces(b) {
		out = append(out, drawing.Section(e.Scene, x, look))
	}
	for _, box := range e.Scene.Boxes {
		out = append(out, b.boxSheet(box))
	}
	if len(e.Electric.Strings) > 0 {
		out = append(out, drawing.SingleLine(e.Electric))
	}
	return out
}
