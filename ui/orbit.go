package ui

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/ui/paint"
	"stowbay/ui/view"
)

// pivot is what the view from a corner turns about: a place of the vehicle that stays where it is in the picture, at a scale
// that stays the same.
type pivot struct {
	at    r3.Vector
	scale float64 // pixels a mm
}

// hold keeps what is seen in the middle there while the view turns. While the whole vehicle is shown it goes on being shown
// whole instead.
func (s *solid) hold() {
	if s.pivot != nil || s.zoom == 1 && s.off == (r2.Point{}) || s.cam.Scale == 0 {
		return
	}
	s.pivot = &pivot{view.SolidPlace(s.w.model.Scene(), s.w.model.Display.Off, s.eye(), s.cam.Centre, s.w.middle()), s.cam.Scale}
}

// keepPivot puts the pivot into the middle of the picture, where whole is the camera that shows all of it.
func (s *solid) keepPivot(whole paint.Camera) {
	if s.pivot == nil {
		return
	}
	s.zoom = s.pivot.scale / whole.Scale
	s.off = s.eye().Point(s.pivot.at).Sub(whole.Centre)
}
