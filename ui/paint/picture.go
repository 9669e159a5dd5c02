package paint

import (
	"image"
	"image/color"
	"math"

	"github.com/golang/geo/r2"
	"golang.org/x/image/draw"
	"golang.org/x/image/math/f64"
)

// Placed says where a picture lies in a view's plane: At is its top left corner, TurnDeg is clockwise as drawn,
// Fade is 0 for as it is and 1 for not to be seen.
type Placed struct {
	At      r2.Point
	MMPerPx float64
	TurnDeg float64
	Fade    float64
}

// Picture paints a picture over what is there.
func Picture(dst *image.RGBA, src image.Image, cam Camera, at Placed) {
	k := at.MMPerPx * cam.Scale
	sin, cos := math.Sincos(at.TurnDeg * math.Pi / 180)
	o := cam.ToPx(at.At)
	b := src.Bounds()
	m := f64.Aff3{k * cos, -k * sin, o.X, k * sin, k * cos, o.Y}
	m[2] -= m[0]*float64(b.Min.X) + m[1]*float64(b.Min.Y)
	m[5] -= m[3]*float64(b.Min.X) + m[4]*float64(b.Min.Y)
	alpha := uint8(255 * (1 - min(max(at.Fade, 0), 1)))
	if alpha == 0 {
		return
	}
	var how draw.Interpolator = draw.ApproxBiLinear
	m[2] += float64(dst.Rect.Min.X)
	m[5] += float64(dst.Rect.Min.Y)
	how.Transform(dst, m, src, b, draw.Over, &draw.Options{SrcMask: image.NewUniform(color.Alpha{A: alpha})})
}
