package paint

import (
	"math"
	"strconv"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// dimension paints a dimension line with its extension lines, slanted ticks and text.
func (p *Painter) dimension(d drawing.Dimension, st drawing.Style) {
	along := d.B.Sub(d.A)
	length := along.Norm()
	if length == 0 {
		return
	}
	left := along.Ortho().Mul(d.Offset / length)
	a, b := p.at(d.A.Add(left)), p.at(d.B.Add(left))
	k, width := inkOf(st.Line), p.line(0, st)
	p.extension(p.at(d.A), a, width, k)
	p.extension(p.at(d.B), b, width, k)
	p.dst.segment(a, b, width, k)
	p.tick(a, b, width, k)
	p.tick(b, a, width, k)
	p.dimensionText(d, a, b, length, st)
}

// extension paints the line from what is measured to a little beyond the dimension line.
func (p *Painter) extension(from, to r2.Point, width float64, k ink) {
	d := to.Sub(from)
	n := d.Norm()
	if n < 1 {
		return
	}
	over := d.Mul(3 * p.pxPerPt / n)
	p.dst.segment(from.Add(over.Mul(0.5)), to.Add(over), width, k)
}

// tick paints the slanted stroke at the end a of the line from a to b.
func (p *Painter) tick(a, b r2.Point, width float64, k ink) {
	d := b.Sub(a).Normalize()
	t := d.Add(d.Ortho()).Mul(3 * p.pxPerPt)
	p.dst.segment(a.Sub(t), a.Add(t), width*1.4, k)
}

func (p *Painter) dimensionText(d drawing.Dimension, a, b r2.Point, length float64, st drawing.Style) {
	l, f := p.dimensionLabel(d, a, b, length, st)
	p.dst.text(f, l, inkOf(st.Text), inkOf(p.look.Paper()))
}

// dimensionLabel is the text of a dimension whose line goes from a to b in pixels: over the line, or beyond its end where
// that is too short.
func (p *Painter) dimensionLabel(d drawing.Dimension, a, b r2.Point, length float64, st drawing.Style) (label, *face) {
	s := d.S
	if s == "" {
		s = strconv.FormatFloat(length, 'f', 0, 64)
	}
	deg := -math.Atan2(b.Y-a.Y, b.X-a.X) * 180 / math.Pi
	if deg > 90.5 {
		deg -= 180
	}
	if deg < -89.5 {
		deg += 180
	}
	f, px := p.regular, st.Size*p.pxPerPt
	mid := a.Add(b).Mul(0.5)
	anchor := drawing.South
	if f.width(s, px) > b.Sub(a).Norm()-4 {
		mid = mid.Add(b.Sub(a).Normalize().Mul(f.width(s, px)/2 + b.Sub(a).Norm()/2 + 6))
		anchor = drawing.Middle
	}
	return label{s: s, at: mid, px: px, deg: deg, anchor: anchor, halo: true}, f
}
