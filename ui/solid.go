package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"github.com/golang/geo/r2"

	"stowbay/ui/paint"
)

// solid shows the arrangement from a corner; the mouse turns it.
type solid struct {
	painted
	w *Window
}

func newSolid(w *Window) *solid {
	s := &solid{w: w}
	s.init(s, fyne.NewSize(120, 90), s.draw)
	return s
}

func (s *solid) draw(img *image.RGBA, scale float64) {
	pt := s.w.painter
	pt.SetLook(s.w.skin)
	pt.Begin(img, paint.Camera{Centre: r2.Point{}, Scale: scale, W: float64(img.Rect.Dx()), H: float64(img.Rect.Dy())}, pointPx*scale)
}
