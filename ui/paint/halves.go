package paint

import (
	"image"
	"sync"

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
	rows := dst.Rect.Dy() / 2
	top := dst.SubImage(image.Rect(0, 0, dst.Rect.Dx(), rows)).(*image.RGBA)
	low := dst.SubImage(image.Rect(0, rows, dst.Rect.Dx(), dst.Rect.Dy())).(*image.RGBA)
	var wg sync.WaitGroup
	wg.Go(func() { h.upper.half(top, cam.rows(0, float64(rows)), pxPerPt, under, lists) })
	h.lower.half(low, cam.rows(float64(rows), cam.H), pxPerPt, under, lists)
	wg.Wait()
}

func (p *Painter) half(dst *image.RGBA, cam Camera, pxPerPt float64, under func(*Painter), lists [][]drawing.Item) {
	p.Begin(dst, cam, pxPerPt)
	if under != nil {
		under(p)
	}
	for _, l := range lists {
		p.Items(l)
	}
}

// rows is the camera for some rows of its picture.
func (c Camera) rows(from, to float64) Camera {
	c.Centre.Y += ((to-from)/2 - c.H/2 + from) * -1 / c.Scale
	c.H = to - from
	return c
}

// Picture paints a picture over what is there; see [Picture].
func (p *Painter) Picture(src image.Image, at Placed) {
	Picture(p.picture, src, p.cam, at)
}
