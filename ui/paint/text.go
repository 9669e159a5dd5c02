package paint

import (
	"math"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// Cap height and depth below the base line of the built-in fonts, as shares of the size.
const (
	capHeight = 0.72
	descent   = 0.2
)

// label is a line of text ready to be painted, in pixels.
type label struct {
	s      string
	at     r2.Point
	px     float64
	deg    float64
	anchor drawing.Anchor
	halo   bool
}

// text paints a label.
func (s surface) text(f *face, l label, k, paper ink) {
	if l.px < 1 || l.s == "" {
		return
	}
	w := f.width(l.s, l.px)
	if !s.near(l.at, w+l.px) {
		return
	}
	pen := l.start(w)
	if l.halo {
		s.glyphs(f, l, pen, paper, true)
	}
	s.glyphs(f, l, pen, k, false)
}

func (s surface) near(p r2.Point, d float64) bool {
	return p.X > -d && p.Y > -d && p.X < float64(s.w)+d && p.Y < float64(s.h)+d
}

// start is where the pen begins on the base line.
func (l label) start(w float64) r2.Point {
	dx, dy := -w/2, capHeight*l.px/2
	switch l.anchor {
	case drawing.West:
		dx = 0
	case drawing.East:
		dx = -w
	case drawing.North:
		dy = capHeight * l.px
	case drawing.South:
		dy = -descent * l.px
	}
	sin, cos := math.Sincos(-l.deg * math.Pi / 180)
	return l.at.Add(r2.Point{X: dx*cos - dy*sin, Y: dx*sin + dy*cos})
}

func (s surface) glyphs(f *face, l label, pen r2.Point, k ink, halo bool) {
	sin, cos := math.Sincos(-l.deg * math.Pi / 180)
	key := glyphKey{size: int32(math.Round(l.px * 4)), deg: int16(math.Round(l.deg)), halo: halo}
	if l.deg == 0 {
		pen.Y = nearest(pen.Y)
	}
	for _, r := range l.s {
		bx, by := math.Floor(pen.X), math.Floor(pen.Y)
		key.r, key.sx, key.sy = r, int8((pen.X-bx)*4), int8((pen.Y-by)*4)
		if g := f.glyph(key); g != nil {
			s.mask(&g.mask, int(bx)+g.x, int(by)+g.y, k)
		}
		step := f.advance(r) * l.px
		pen = pen.Add(r2.Point{X: cos * step, Y: sin * step})
	}
}
