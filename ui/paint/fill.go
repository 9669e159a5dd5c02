package paint

import (
	"image"
	"image/draw"
	"math"

	"github.com/golang/geo/r2"
	"golang.org/x/image/vector"

	"stowbay/geometry"
)

// filler paints areas through a mask that it keeps from one area to the next.
type filler struct {
	ras  vector.Rasterizer
	mask image.Alpha
}

// polygon paints a polygon with holes; a point is inside where rings wind round it.
func (f *filler) polygon(s surface, p geometry.Polygon, at func(r2.Point) r2.Point, k ink) {
	if k.a == 0 || len(p.Outer) < 3 {
		return
	}
	if x0, y0, x1, y1, ok := upright(p, at); ok {
		s.rect(x0, y0, x1, y1, k)
		return
	}
	p = p.Normalised()
	rings := make([][]r2.Point, 0, 1+len(p.Holes))
	rings = append(rings, pixels(p.Outer, at))
	for _, h := range p.Holes {
		rings = append(rings, pixels(h, at))
	}
	f.rings(s, rings, k)
}

func pixels(r geometry.Ring, at func(r2.Point) r2.Point) []r2.Point {
	out := make([]r2.Point, len(r))
	for i, p := range r {
		out[i] = at(p)
	}
	return out
}

// upright returns the pixel rectangle of a polygon that is one with its sides along the axes.
func upright(p geometry.Polygon, at func(r2.Point) r2.Point) (x0, y0, x1, y1 float64, ok bool) {
	o := p.Outer
	if len(o) != 4 || len(p.Holes) > 0 {
		return
	}
	flat := o[0].Y == o[1].Y && o[1].X == o[2].X && o[2].Y == o[3].Y && o[3].X == o[0].X
	tall := o[0].X == o[1].X && o[1].Y == o[2].Y && o[2].X == o[3].X && o[3].Y == o[0].Y
	if !flat && !tall {
		return
	}
	a, b := at(o[0]), at(o[2])
	return min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X), max(a.Y, b.Y), true
}

// rings paints closed curves of pixels through a mask no larger than the part of them in the picture.
func (f *filler) rings(s surface, rings [][]r2.Point, k ink) {
	x0, y0, w, h := window(s, rings)
	if w <= 0 || h <= 0 {
		return
	}
	f.ras.Reset(w, h)
	for _, r := range rings {
		f.trace(r, float64(x0), float64(y0), float64(w), float64(h))
	}
	f.grow(w, h)
	f.ras.DrawOp = draw.Src
	f.ras.Draw(&f.mask, f.mask.Rect, image.Opaque, image.Point{})
	s.mask(&f.mask, x0, y0, k)
}

// trace hands a ring to the rasterizer. Points far outside are brought to the window's edge band so that single
// precision holds; what lies left of a window still counts for the winding.
func (f *filler) trace(r []r2.Point, x0, y0, w, h float64) {
	clip := clipRing(r, x0-8, y0-8, x0+w+8, y0+h+8)
	for i, p := range clip {
		x, y := float32(p.X-x0), float32(p.Y-y0)
		if i == 0 {
			f.ras.MoveTo(x, y)
		} else {
			f.ras.LineTo(x, y)
		}
	}
	if len(clip) > 0 {
		f.ras.ClosePath()
	}
}

func (f *filler) grow(w, h int) {
	if cap(f.mask.Pix) < w*h {
		f.mask.Pix = make([]byte, w*h)
	}
	f.mask.Pix = f.mask.Pix[:w*h]
	f.mask.Stride = w
	f.mask.Rect = image.Rect(0, 0, w, h)
}

// window returns the pixel rectangle of the part of the rings in the picture.
func window(s surface, rings [][]r2.Point) (x, y, w, h int) {
	b := r2.EmptyRect()
	for _, r := range rings {
		for _, p := range r {
			b = b.AddPoint(p)
		}
	}
	if b.IsEmpty() || math.IsNaN(b.X.Lo) || math.IsNaN(b.Y.Lo) {
		return
	}
	x, y = int(max(0, math.Floor(b.X.Lo))), int(max(0, math.Floor(b.Y.Lo)))
	return x, y, int(min(float64(s.w), math.Ceil(b.X.Hi))) - x, int(min(float64(s.h), math.Ceil(b.Y.Hi))) - y
}

// clipRing cuts a ring to an upright rectangle (Sutherland and Hodgman, Communications of the ACM 17, 1974).
func clipRing(r []r2.Point, x0, y0, x1, y1 float64) []r2.Point {
	inside := true
	for _, p := range r {
		if p.X < x0 || p.X > x1 || p.Y < y0 || p.Y > y1 {
			inside = false
			break
		}
	}
	if inside {
		return r
	}
	r = cutRing(r, func(p r2.Point) float64 { return p.X - x0 })
	r = cutRing(r, func(p r2.Point) float64 { return x1 - p.X })
	r = cutRing(r, func(p r2.Point) float64 { return p.Y - y0 })
	return cutRing(r, func(p r2.Point) float64 { return y1 - p.Y })
}

func cutRing(r []r2.Point, in func(r2.Point) float64) []r2.Point {
	var out []r2.Point
	for i, b := range r {
		a := r[(i+len(r)-1)%len(r)]
		da, db := in(a), in(b)
		if (da >= 0) != (db >= 0) {
			out = append(out, a.Add(b.Sub(a).Mul(da/(da-db))))
		}
		if db >= 0 {
			out = append(out, b)
		}
	}
	return out
}
