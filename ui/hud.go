package ui

import (
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
)

// margins are the widths in units of the screen of what stands along a view's edges.
type margins struct{ left, right, top, bottom float64 }

// markHigh is the height of the strip at a view's lower edge with the scale bar and the view's name.
const markHigh = 26

// edges leave room for rulers, wheel loads, scale bar and name round the whole vehicle.
var edges = map[drawing.View]margins{
	drawing.PlanView: {rulerSize + 14, 14, rulerSize + 34, 32 + markHigh},
	drawing.SideView: {rulerSize + 14, 14, rulerSize + 22, 54 + markHigh},
	drawing.RearView: {rulerSize + 14, 14, rulerSize + 12, 30 + markHigh},
}

// fitBetween returns the camera that shows the whole of a rectangle between margins, at so many pixels a unit.
func fitBetween(c paint.Camera, r r2.Rect, m margins, scale float64) paint.Camera {
	inner := c
	inner.W, inner.H = c.W-(m.left+m.right)*scale, c.H-(m.top+m.bottom)*scale
	inner = inner.Fit(r, 0)
	c.Scale, c.Centre = inner.Scale, inner.Centre
	return c.Panned(r2.Point{X: (m.left - m.right) * scale / 2, Y: (m.top - m.bottom) * scale / 2})
}

// within is where names have to stay so that the view's edges cut none: what is seen while the whole vehicle is shown,
// anywhere after that, since the view may be pushed.
func (p *pane) within() r2.Rect {
	if !p.fitted || p.cam.Scale == 0 {
		return r2.EmptyRect()
	}
	r, k := p.cam.Visible(), p.scale/p.cam.Scale
	r.X.Lo, r.Y.Hi, r.Y.Lo = r.X.Lo+rulerSize*k, r.Y.Hi-rulerSize*k, r.Y.Lo+markHigh*k
	return r.ExpandedByMargin(-3 * k)
}

// marks sets what a view shows wherever it looks: the way to the front, or left and right, and a scale bar.
func (r *ruler) marks(seen r2.Rect) {
	off := r.p.w.model.Display.Off
	if off&drawing.LayerVehicle == 0 && r.p.w.model.Scene().Donor != nil {
		if r.p.view == drawing.RearView {
			r.sides()
		} else {
			r.front()
		}
	}
	if off&drawing.LayerScale == 0 {
		r.scaleBar(seen)
	}
}

// front is the arrow to the vehicle's front, which lies to the left in plan and side view.
func (r *ruler) front() {
	const x, y = rulerSize + 8, rulerSize + 14
	r.fill(x-4, y-10, x+68, y+10, view.RolePane)
	r.arrow(x, y, 9, 4.5)
	r.fill(x+8, y-0.8, x+24, y+0.8, view.RoleName)
	r.text(x+30, y, view.RoleName, 12, 0, drawing.West, "front")
}

// arrow is a head that points to the left, of a length and half a width in units of the screen.
func (r *ruler) arrow(x, y, long, half float64) {
	r.items = append(r.items, drawing.Fill{Of: drawing.Tag{Role: view.RoleName},
		Area: geometry.Polygon{Outer: []r2.Point{{X: x, Y: -y}, {X: x + long, Y: -y - half}, {X: x + long, Y: -y + half}}}})
}

// sides names the vehicle's left and right.
func (r *ruler) sides() {
	const y = rulerSize + 14
	wide := r.p.w.pages.fonts.Width("right", 12, true)
	r.fill(rulerSize+4, y-10, rulerSize+12+r.p.w.pages.fonts.Width("left", 12, true), y+10, view.RolePane)
	r.text(rulerSize+8, y, view.RoleName, 12, 0, drawing.West, "left")
	r.fill(r.w-wide-12, y-10, r.w-4, y+10, view.RolePane)
	r.text(r.w-8, y, view.RoleName, 12, 0, drawing.East, "right")
}

// mostBar is how long a scale bar is at most: in units of the screen, and as a share of the view's width.
const (
	mostBar      = 150
	mostBarShare = 0.3
)

// scaleBar sets a bar of a round length into the lower left corner.
func (r *ruler) scaleBar(seen r2.Rect) {
	mm := seen.Size().X / r.w
	bar := view.NewScaleBar(mm, min(mostBar, mostBarShare*r.w), r.p.w.model.Units())
	x, y, long := rulerSize+10.0, r.h-12, bar.LengthMM/mm
	r.fill(rulerSize, r.h-markHigh+4, x+long+14+r.p.w.pages.fonts.Width(bar.Text, 11, false), r.h, view.RolePane)
	for i := range bar.Parts {
		x0, x1 := x+long*float64(i)/float64(bar.Parts), x+long*float64(i+1)/float64(bar.Parts)
		r.fill(x0, y-3, x1, y+3, view.RoleBody)
		if i%2 == 1 {
			r.fill(x0, y-2, x1, y+2, view.RolePane)
		}
	}
	r.text(x+long+6, y, view.RoleBody, 11, 0, drawing.West, bar.Text)
}
