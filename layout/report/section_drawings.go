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
	for i, v := range []drawing.View{drawing.PlanView, drawing.SideView, drawing.RearView} {
		if i > 0 {
			b.Wide()
		}
		b.Figure(v.Draw(s, o), page.Figure{Anchor: b.anchor("drawings/" + v.String())})
	}
	for _, x := range sectionPlaces(b) {
		b.Wide()
		b.Figure(drawing.Section(s, x, o), page.Figure{Anchor: b.anchor(fmt.Sprintf("drawings/section %.0f", x))})
	}
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
