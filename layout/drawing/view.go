package drawing

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

// View is one of the vehicle's three views.
type View uint8

// The views: from above, from the left, from behind.
const (
	PlanView View = iota
	SideView
	RearView
)

// String returns the view's name as shown.
func (v View) String() string {
	switch v {
	case SideView:
		return "Side, seen from the left"
	case RearView:
		return "Rear, seen from behind"
	}
	return "Plan, seen from above"
}

// Point projects a place of the vehicle's frame into the view's plane.
func (v View) Point(p r3.Vector) r2.Point {
	switch v {
	case SideView:
		return r2.Point{X: p.X, Y: p.Z}
	case RearView:
		return r2.Point{X: p.Y, Y: p.Z}
	}
	return r2.Point{X: p.X, Y: p.Y}
}

// towards is the direction from the vehicle to the eye.
func (v View) towards() r3.Vector {
	switch v {
	case SideView:
		return r3.Vector{Y: -1}
	case RearView:
		return r3.Vector{X: 1}
	}
	return r3.Vector{Z: 1}
}

// nearness orders prisms: the larger, the nearer to the eye.
func (v View) nearness(p geometry.Prism) float64 {
	switch v {
	case SideView:
		return -p.Base.Bounds().Y.Lo
	case RearView:
		return p.Base.Bounds().X.Hi
	}
	return p.Top
}

// Draw builds the view of a scene.
func (v View) Draw(s *layout.Scene, o Options) *List { return drawView(v, s, &o) }

// Plan draws a scene from above: x to the right, so that the front is at the left, y upward.
func Plan(s *layout.Scene, o Options) *List { return PlanView.Draw(s, o) }

// Side draws a scene from the vehicle's left: x to the right, z upward.
func Side(s *layout.Scene, o Options) *List { return SideView.Draw(s, o) }

// Rear draws a scene from behind: y to the right, z upward.
func Rear(s *layout.Scene, o Options) *List { return RearView.Draw(s, o) }

func drawView(v View, s *layout.Scene, o *Options) *List {
	p := newPen(v, o).forView()
	p.drawn(layerKey{part: "vehicle", donor: s.Donor}, func(p *pen) { p.vehicleUnder(s) })
	p.site(s)
	p.boxes(s)
	p.lines()
	p.ghosts()
	p.vehicleOver(s)
	p.balance(s)
	p.wheelLoads(s)
	clear := p.clearForPlaces(s)
	p.places(clear)
	p.selection(s)
	p.names(s)
	p.morePlaces(clear)
	p.scaleBar()
	return p.list(title(v, s))
}

func title(v View, s *layout.Scene) string {
	if s.Arrangement == nil || s.Arrangement.Name == "" {
		return v.String()
	}
	return s.Arrangement.Name + ": " + v.String()
}
