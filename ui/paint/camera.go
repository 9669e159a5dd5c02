package paint

import (
	"image"
	"math"

	"github.com/golang/geo/r2"
)

// Camera maps millimetres of a view's plane to pixels. The plane's second axis points up, pixels count downward.
type Camera struct {
	Centre r2.Point // the place in the middle of the picture, mm
	Scale  float64  // pixels a millimetre, above zero
	W, H   float64  // size of the picture, pixels
}

// ToPx returns where a place lies in the picture.
func (c Camera) ToPx(p r2.Point) r2.Point {
	return r2.Point{X: c.W/2 + (p.X-c.Centre.X)*c.Scale, Y: c.H/2 - (p.Y-c.Centre.Y)*c.Scale}
}

// ToMM returns the place that lies at a pixel.
func (c Camera) ToMM(p r2.Point) r2.Point {
	return r2.Point{X: c.Centre.X + (p.X-c.W/2)/c.Scale, Y: c.Centre.Y - (p.Y-c.H/2)/c.Scale}
}

// Visible returns the part of the plane in the picture.
func (c Camera) Visible() r2.Rect {
	return r2.RectFromPoints(c.ToMM(r2.Point{}), c.ToMM(r2.Point{X: c.W, Y: c.H}))
}

// Zoomed returns the camera after zooming by a factor so that the place under the pixel stays there.
func (c Camera) Zoomed(at r2.Point, factor float64) Camera {
	keep := c.ToMM(at)
	c.Scale = min(max(c.Scale*factor, MinScale), MaxScale)
	c.Centre = c.Centre.Add(keep.Sub(c.ToMM(at)))
	return c
}

// The smallest and the largest scale in pixels a millimetre: a lorry on a thumbnail, a bolt on a screen.
const (
	MinScale = 0.002
	MaxScale = 100
)

// Panned returns the camera after the picture was pushed by pixels.
func (c Camera) Panned(by r2.Point) Camera {
	c.Centre = c.Centre.Add(r2.Point{X: -by.X / c.Scale, Y: by.Y / c.Scale})
	return c
}

// Snapped returns the camera moved by less than a pixel so that the plane's origin lies at a fixed place within one. Pictures
// under snapped cameras of one scale are each other's, pushed by whole pixels. The place is not halfway, where rounding
// would decide on which side lines through the origin are seen.
func (c Camera) Snapped() Camera {
	const within = 0.3
	snap := func(half, centre float64) float64 {
		return (half - within - math.Round(half-within-centre*c.Scale)) / c.Scale
	}
	c.Centre = r2.Point{X: snap(c.W/2, c.Centre.X), Y: snap(c.H/2, c.Centre.Y)}
	return c
}

// Resized returns the camera for another picture size, with the same place in the middle.
func (c Camera) Resized(w, h float64) Camera {
	c.W, c.H = w, h
	return c
}

// Fit returns the camera that shows the whole of r with a margin in pixels all round.
func (c Camera) Fit(r r2.Rect, margin float64) Camera {
	if r.IsEmpty() || c.W <= 0 || c.H <= 0 {
		return c
	}
	size := r.Size()
	sx := max(c.W-2*margin, 1) / max(size.X, 1)
	sy := max(c.H-2*margin, 1) / max(size.Y, 1)
	c.Scale = min(max(math.Min(sx, sy), MinScale), MaxScale)
	c.Centre = r.Center()
	return c
}

// pushed returns by how many whole pixels the picture of c has to be pushed to become that of d, but for what comes into
// sight; false where it is another picture.
func (c Camera) pushed(d Camera) (image.Point, bool) {
	if c.W != d.W || c.H != d.H || c.Scale != d.Scale {
		return image.Point{}, false
	}
	by := c.Centre.Sub(d.Centre).Mul(c.Scale)
	x, y := math.Round(by.X), math.Round(-by.Y)
	const whole = 1e-6
	if math.Abs(by.X-x) > whole || math.Abs(-by.Y-y) > whole || math.Abs(x)+math.Abs(y) > farPx {
		return image.Point{}, false
	}
	return image.Pt(int(x), int(y)), true
}
