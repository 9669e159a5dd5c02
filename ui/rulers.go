package ui

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
)

// rulerSize is the width of a ruler in units of the screen.
const rulerSize = 18

// rulerText is the size of the numbers on rulers.
const rulerText = 10

// niceStep is the smallest of 1, 2, 5, 10 ... that is at least v.
func niceStep(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range []float64{1, 2, 5, 10} {
		if f*p >= v*(1-1e-9) {
			return f * p
		}
	}
	return 10 * p
}

// gridLines are the lines of the grid under the view, as fine as can be told apart.
func (p *pane) gridLines() []drawing.Item {
	if p.w.model.Display.Off&drawing.LayerGrid != 0 {
		return nil
	}
	step := niceStep(28 * p.scale / p.cam.Scale)
	seen := p.cam.Visible()
	if seen.Size().X/step > 400 || seen.Size().Y/step > 400 {
		return nil
	}
	// The lines reach beyond the picture, so that most pushes of the view leave them as they are.
	out := func(lo, hi float64) (float64, float64) {
		const lines = 8
		return math.Floor(lo/step/lines) * step * lines, math.Ceil(hi/step/lines) * step * lines
	}
	x0, x1 := out(seen.X.Lo, seen.X.Hi)
	y0, y1 := out(seen.Y.Lo, seen.Y.Hi)
	var items []drawing.Item
	line := func(a, b r2.Point) {
		items = append(items, drawing.Stroke{Of: drawing.Tag{Role: drawing.RoleGrid}, Points: []r2.Point{a, b}, Pt: 0.7})
	}
	for i := range int(math.Round((x1-x0)/step)) + 1 {
		x := x0 + float64(i)*step
		line(r2.Point{X: x, Y: y0}, r2.Point{X: x, Y: y1})
	}
	for i := range int(math.Round((y1-y0)/step)) + 1 {
		y := y0 + float64(i)*step
		line(r2.Point{X: x0, Y: y}, r2.Point{X: x1, Y: y})
	}
	return items
}

// axisNames are the axes along the rulers of each view.
var axisNames = map[drawing.View][2]string{drawing.PlanView: {"x", "y"}, drawing.SideView: {"x", "z"}, drawing.RearView: {"y", "z"}}

// rulers are a ruler along the upper and the left edge, and the view's name.
func (p *pane) rulers(scale float64) paint.Layer {
	r := &ruler{p: p, scale: scale, w: p.cam.W / scale, h: p.cam.H / scale}
	r.bands()
	u := p.w.model.Units()
	per, _ := u.Show(1, "mm")
	step := niceStep(70*scale/p.cam.Scale*per) / per
	seen := p.cam.Visible()
	for x := math.Ceil(seen.X.Lo/step) * step; x <= seen.X.Hi; x += step {
		r.markX((p.cam.ToPx(r2.Point{X: x}).X)/scale, label(x*per))
	}
	for y := math.Ceil(seen.Y.Lo/step) * step; y <= seen.Y.Hi; y += step {
		r.markY((p.cam.ToPx(r2.Point{Y: y}).Y)/scale, label(y*per))
	}
	r.name()
	r.marks(seen)
	return screenLayer(onPane{p.w.skin}, p.cam.W, p.cam.H, scale, r.items)
}

func label(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64) }

// ruler collects what the rulers of a view show, in units of the screen.
type ruler struct {
	p           *pane
	scale, w, h float64
	items       []drawing.Item
}

func (r *ruler) fill(x0, y0, x1, y1 float64, role drawing.Role) {
	r.items = append(r.items, drawing.Fill{Of: drawing.Tag{Role: role}, Area: geometry.NewRect(x0, -y1, x1, -y0)})
}

func (r *ruler) text(x, y float64, role drawing.Role, size, deg float64, a drawing.Anchor, s string) {
	r.items = append(r.items, drawing.Text{Of: drawing.Tag{Role: role}, At: r2.Point{X: x, Y: -y}, S: s, Pt: size, Anchor: a, Deg: deg})
}

func (r *ruler) bands() {
	r.fill(0, 0, r.w, rulerSize, view.RolePane)
	r.fill(0, 0, rulerSize, r.h, view.RolePane)
	r.fill(0, 0, r.w, 2, roleFrame)
	r.fill(0, 0, 2, r.h, roleFrame)
	r.fill(0, rulerSize-1, r.w, rulerSize, view.RoleRule)
	r.fill(rulerSize-1, 0, rulerSize, r.h, view.RoleRule)
}

// wide is how wide a number on a ruler is; one that would be cut off by the ruler's end is left out.
func (r *ruler) wide(s string) float64 { return r.p.w.pages.fonts.Width(s, rulerText, false) }

func (r *ruler) markX(x float64, s string) {
	if x < rulerSize {
		return
	}
	r.fill(x-0.5, rulerSize-6, x+0.5, rulerSize, view.RoleFaint)
	if x+3+r.wide(s) > r.w {
		return
	}
	r.text(x+3, 7, view.RoleFaint, rulerText, 0, drawing.West, s)
}

func (r *ruler) markY(y float64, s string) {
	if y < rulerSize+8 {
		return
	}
	r.fill(rulerSize-6, y-0.5, rulerSize, y+0.5, view.RoleFaint)
	if y-3-r.wide(s) < rulerSize {
		return
	}
	r.text(7, y-3, view.RoleFaint, rulerText, 90, drawing.West, s)
}

// name sets the view's name at the lower right and the rulers' unit in their corner.
func (r *ruler) name() {
	_, unit := r.p.w.model.Units().Show(0, "mm")
	r.fill(2, 2, rulerSize, rulerSize, view.RolePane)
	r.text(rulerSize/2+1, rulerSize/2+1, view.RoleFaint, 8.5, 0, drawing.Middle, unit)
	s := r.p.view.String()
	wide := r.p.w.pages.fonts.Width(s, 11.5, true)
	if wide > 0.45*r.w {
		s, _, _ = strings.Cut(s, ",")
		wide = r.p.w.pages.fonts.Width(s, 11.5, true)
	}
	r.fill(r.w-wide-18, r.h-22, r.w, r.h, view.RolePane)
	r.text(r.w-9, r.h-11, view.RoleHead, 11.5, 0, drawing.East, s)
}
