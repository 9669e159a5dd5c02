package report

import (
	"fmt"

	"stowbay/layout/drawing"
	"stowbay/layout/report/page"
)

// drawings sets plan, elevations and sections, each on a sheet of its own, the views at one scale.
func (b *book) drawings() {
	o := b.look()
	s := b.e.Scene
	o.Off = drawing.LayerZones
	views := []drawing.View{drawing.PlanView, drawing.SideView, drawing.RearView}
	lists := make([]*drawing.List, len(views))
	for i, v := range views {
		lists[i] = b.dimensioned(v, o)
	}
	scale := b.OneScale(lists)
	for i, v := range views {
		if i > 0 {
			b.Wide()
		}
		b.Figure(lists[i], page.Figure{Anchor: b.anchor("drawings/" + v.String()), Scale: scale})
	}
	b.Wide()
	b.Figure(b.survey(), page.Figure{Anchor: b.anchor("drawings/survey")})
	for _, x := range sectionPlaces(b) {
		b.Wide()
		b.Figure(drawing.Section(s, x, o), page.Figure{Anchor: b.anchor(fmt.Sprintf("drawings/section %.0f", x))})
	}
}

// survey is the vehicle with its bays, keep-outs and zones and without what is put in.
func (b *book) survey() *drawing.List {
	l := drawing.Plan(b.e.Scene, drawing.Options{Imperial: b.imperial, Off: drawing.LayerBoxes | drawing.LayerModules | drawing.LayerTerminals | drawing.LayerStrips | drawing.LayerGear |
		drawing.LayerFixings | drawing.LayerLinks | drawing.LayerCables | drawing.LayerHoses | drawing.LayerLoads | drawing.LayerFindings})
	l.Title = "Bays, keep-outs and zones, seen from above"
	return l
}

// sectionPlaces are the places of cross-sections: through the middle of each box, those that nearly coincide
// taken together.
func sectionPlaces(b *book) []float64 {
	var out []float64
	for _, box := range b.e.Scene.Boxes {
		lo, hi := box.Outer.Bounds()
		x := (lo.X + hi.X) / 2
		near := false
		for _, y := range out {
			near = near || x-y < 150 && y-x < 150
		}
		if !near && len(out) < 4 {
			out = append(out, x)
		}
	}
	return out
}
