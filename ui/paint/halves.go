package paint

import (
	"image"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// Halves paints display lists with two painters at once, one for the upper and one for the lower half of a
// picture. It is used by one goroutine at a time.
type Halves struct{ upper, lower *Painter }

// NewHalves returns painters that paint with a look.
func NewHalves(look Look) *Halves { return &Halves{New(look), New(look)} }

// SetLook changes the look of the pictures painted from now on.
func (h *Halves) SetLook(look Look) {
	h.upper.SetLook(look)
	h.lower.SetLook(look)
}

// Paint paints the paper, what under paints on it where it is not nil, and lists of items in their order.
func (h *Halves) Paint(dst *image.RGBA, cam Camera, pxPerPt float64, under func(*Painter), lists ...[]drawing.Item) {
	layers := make([]Layer, 0, len(lists)+1)
	for _, l := range append(lists, nil) {
		layers = append(layers, Layer{h.upper.look, cam, pxPerPt, l})
	}
	NewRepainter(h).Paint(dst, Under{Paint: under}, layers...)
}

// Picture paints a picture over what is there; see [Picture].
func (p *Painter) Picture(src image.Image, at Placed) {
	cam := p.cam
	cam.Centre = cam.ToMM(p.off.Add(r2.Point{X: cam.W / 2, Y: cam.H / 2}))
	Picture(p.picture, src, cam, at)
}
