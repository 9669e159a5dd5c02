package fabricate

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// Pattern draws a blank at full size for cutting: outline, holes, bend lines, and its name inside. With words set
// it is drawn for reading too: overall sizes, and the hole and bend notes.
func Pattern(b *Blank, words bool, place func(mm float64) string) *drawing.List {
	size := b.Size()
	l := &drawing.List{Title: "Flat pattern " + b.ID, Bounds: r2.RectFromPoints(r2.Point{}, size)}
	l.Items = append(l.Items, stroke(drawing.RoleSheet, b.Outline.Outer))
	for _, h := range b.Outline.Holes {
		l.Items = append(l.Items, stroke(drawing.RoleSheet, h))
	}
	for _, h := range b.Holes {
		l.Items = append(l.Items, holeStroke(h))
	}
	for _, line := range b.Bends {
		l.Items = append(l.Items, drawing.Stroke{Of: drawing.Tag{Role: bendRole(line.Up)}, Points: []r2.Point{line.A, line.B}})
	}
	if words {
		annotate(l, b, place)
	}
	return l
}

func bendRole(up bool) drawing.Role {
	if up {
		return drawing.RoleBendUp
	}
	return drawing.RoleBendDown
}

func stroke(role drawing.Role, ps []r2.Point) drawing.Stroke {
	return drawing.Stroke{Of: drawing.Tag{Role: role}, Points: ps, Closed: true}
}

func holeStroke(h Hole) drawing.Stroke {
	s := stroke(drawing.RoleHole, h.Outline())
	if h.DiameterMM > 0 {
		s.Centre, s.Radius = h.At, h.DiameterMM/2
	}
	return s
}

// annotate adds overall sizes and notes at the bends.
func annotate(l *drawing.List, b *Blank, place func(mm float64) string) {
	size := b.Size()
	off := 0.045 * math.Max(size.X, size.Y)
	dim := drawing.Tag{Role: drawing.RoleDimension}
	l.Items = append(l.Items,
		drawing.Dimension{Of: dim, A: r2.Point{X: size.X}, B: r2.Point{}, Offset: off, S: place(size.X)},
		drawing.Dimension{Of: dim, A: r2.Point{Y: size.Y}, B: r2.Point{}, Offset: -off, S: place(size.Y)})
	for _, line := range b.Bends {
		l.Items = append(l.Items, bendNote(line, place))
	}
	for _, h := range b.Holes {
		if !h.Drilled {
			l.Items = append(l.Items, holeNote(h, place))
		}
	}
	l.Bounds = r2.RectFromPoints(r2.Point{X: -2.2 * off, Y: -2.2 * off}, size.Add(r2.Point{X: 0.3 * off, Y: 0.3 * off}))
}

// bendNote says which way and how far a line is bent, written along it.
func bendNote(line BendLine, place func(mm float64) string) drawing.Text {
	d := line.B.Sub(line.A)
	deg := math.Atan2(d.Y, d.X) * 180 / math.Pi
	if deg > 91 || deg <= -89 {
		deg -= math.Copysign(180, deg)
	}
	way := "down"
	if line.Up {
		way = "up"
	}
	return drawing.Text{Of: drawing.Tag{Role: bendRole(line.Up)}, At: line.A.Add(d.Mul(0.5)), Deg: deg, Anchor: drawing.South, Halo: true, Pt: 6,
		S: fmt.Sprintf("%s %g° r %s", way, line.Deg, place(line.RadiusMM))}
}

// holeNote says what a cut-out is for, its size and where its middle is from the lower left corner.
func holeNote(h Hole, place func(mm float64) string) drawing.Text {
	size := "dia " + place(h.DiameterMM)
	if h.DiameterMM == 0 {
		size = place(h.WidthMM) + " x " + place(h.HeightMM)
	}
	return drawing.Text{Of: drawing.Tag{Role: drawing.RoleLabel}, At: h.At.Add(r2.Point{X: 0.55*max(h.DiameterMM, h.WidthMM) + 2}), Anchor: drawing.West, Halo: true, Pt: 6,
		S: fmt.Sprintf("%s, %s at %s, %s", h.For, size, place(h.At.X), place(h.At.Y))}
}

// Layout draws a sheet with the pieces nested on it.
func Layout(n Nest, sheet int) *drawing.List {
	l := &drawing.List{Title: fmt.Sprintf("%s %g mm, sheet %d of %d", n.Material, n.ThicknessMM, sheet+1, len(n.Sheets)),
		Bounds: r2.RectFromPoints(r2.Point{}, r2.Point{X: n.Length, Y: n.Wide})}
	edge := l.Bounds.Vertices()
	l.Items = append(l.Items, stroke(drawing.RoleGrid, edge[:]))
	for _, p := range n.Sheets[sheet] {
		l.Items = append(l.Items, p.items()...)
	}
	return l
}

func (p Piece) items() []drawing.Item {
	place := func(q r2.Point) r2.Point {
		if p.Turned {
			q = r2.Point{X: p.Blank.Size().Y - q.Y, Y: q.X}
		}
		return q.Add(p.At)
	}
	ring := make([]r2.Point, len(p.Blank.Outline.Outer))
	for i, q := range p.Blank.Outline.Outer {
		ring[i] = place(q)
	}
	items := []drawing.Item{stroke(drawing.RoleSheet, ring)}
	for _, h := range p.Blank.Holes {
		var hole []r2.Point
		for _, q := range h.Outline() {
			hole = append(hole, place(q))
		}
		s := stroke(drawing.RoleHole, hole)
		if h.DiameterMM > 0 {
			s.Centre, s.Radius = place(h.At), h.DiameterMM/2
		}
		items = append(items, s)
	}
	for _, b := range p.Blank.Bends {
		items = append(items, drawing.Stroke{Of: drawing.Tag{Role: bendRole(b.Up)}, Points: []r2.Point{place(b.A), place(b.B)}})
	}
	return append(items, p.name(place))
}

func (p Piece) name(place func(r2.Point) r2.Point) drawing.Text {
	size := p.Blank.Size()
	w, h := size.X, size.Y
	if p.Turned {
		w, h = h, w
	}
	return drawing.Text{Of: drawing.Tag{Role: drawing.RoleLabel}, At: place(size.Mul(0.5)), S: p.Blank.ID, InMM: min(30, 0.8*h, 0.9*w/drawing.TextWidth(p.Blank.ID)), Halo: true}
}
