package view

import (
	"math"

	"github.com/golang/geo/r2"
)

// Edge is an upright or level line that things snap to.
type Edge struct {
	At   float64 // place along the axis, mm
	Span [2]float64
	Why  string // what it is: "wall", "centre line", "5 mm from m3"
	Mid  bool   // the middle of what is moved snaps to it, not its sides
	Side int8   // -1: only the low side of what is moved, +1: only its high side, 0: both
}

// Snapper finds how to move a thing a little so that it lines up.
type Snapper struct {
	X, Y  []Edge  // edges at a given x, at a given y
	Reach float64 // how far a snap pulls, mm
}

// Snap is what a snap did along one axis.
type Snap struct {
	By   float64
	Why  string // "" where nothing was near
	Line [2]r2.Point
}

// Box moves a rectangle by the smallest steps that line it up along x and along y, each on its own.
func (s *Snapper) Box(r r2.Rect) (x, y Snap) {
	if r.IsEmpty() {
		return
	}
	x = s.along(s.X, r.X.Lo, r.X.Hi, [2]float64{r.Y.Lo, r.Y.Hi})
	y = s.along(s.Y, r.Y.Lo, r.Y.Hi, [2]float64{r.X.Lo, r.X.Hi})
	x.Line = lineOf(x, func(at, t float64) r2.Point { return r2.Point{X: at, Y: t} })
	y.Line = lineOf(y, func(at, t float64) r2.Point { return r2.Point{X: t, Y: at} })
	return x, y
}

// Point moves a point onto the nearest edges and corners.
func (s *Snapper) Point(p r2.Point) (x, y Snap) {
	return s.Box(r2.RectFromPoints(p))
}

func (s *Snapper) along(edges []Edge, lo, hi float64, across [2]float64) Snap {
	best := Snap{By: math.Inf(1)}
	var line [3]float64
	try := func(at, from float64, e Edge) {
		by := at - from
		if math.Abs(by) <= s.Reach && math.Abs(by) < math.Abs(best.By)-1e-9 {
			best = Snap{By: by, Why: e.Why}
			line = [3]float64{at, min(e.Span[0], across[0]), max(e.Span[1], across[1])}
		}
	}
	for _, e := range edges {
		switch {
		case e.Mid:
			try(e.At, (lo+hi)/2, e)
		default:
			if e.Side <= 0 {
				try(e.At, lo, e)
			}
			if e.Side >= 0 {
				try(e.At, hi, e)
			}
		}
	}
	if math.IsInf(best.By, 1) {
		return Snap{}
	}
	best.Line = [2]r2.Point{{X: line[0], Y: line[1]}, {X: line[0], Y: line[2]}}
	return best
}

// lineOf turns the place and the span of a snap along one axis into the guide line to show.
func lineOf(s Snap, point func(at, t float64) r2.Point) [2]r2.Point {
	if s.Why == "" {
		return [2]r2.Point{}
	}
	return [2]r2.Point{point(s.Line[0].X, s.Line[0].Y), point(s.Line[1].X, s.Line[1].Y)}
}

// AddSolid adds the sides of a standing thing: contact with the gap kept on either side, and flush with it.
func (s *Snapper) AddSolid(r r2.Rect, gapX, gapY float64, name string) {
	yy, xx := [2]float64{r.Y.Lo, r.Y.Hi}, [2]float64{r.X.Lo, r.X.Hi}
	s.X = append(s.X,
		Edge{At: r.X.Hi + gapX, Span: yy, Side: -1, Why: gapText(gapX, name)},
		Edge{At: r.X.Lo - gapX, Span: yy, Side: +1, Why: gapText(gapX, name)},
		Edge{At: r.X.Lo, Span: yy, Side: -1, Why: "in line with " + name},
		Edge{At: r.X.Hi, Span: yy, Side: +1, Why: "in line with " + name})
	s.Y = append(s.Y,
		Edge{At: r.Y.Hi + gapY, Span: xx, Side: -1, Why: gapText(gapY, name)},
		Edge{At: r.Y.Lo - gapY, Span: xx, Side: +1, Why: gapText(gapY, name)},
		Edge{At: r.Y.Lo, Span: xx, Side: -1, Why: "in line with " + name},
		Edge{At: r.Y.Hi, Span: xx, Side: +1, Why: "in line with " + name})
}

func gapText(gap float64, name string) string {
	if gap == 0 {
		return "touching " + name
	}
	return Metric.Text(gap, "mm") + " from " + name
}

// AddRing adds the sides of a ring that run along the axes, seen from inside and kept off by a gap along either axis.
func (s *Snapper) AddRing(ring []r2.Point, gapX, gapY float64, why string) {
	for i, b := range ring {
		a := ring[(i+len(ring)-1)%len(ring)]
		d := b.Sub(a)
		switch {
		case math.Abs(d.X) < 1e-6 && d.Y != 0:
			side := sign(d.Y) // anticlockwise: a rising side has the inside at its left
			s.X = append(s.X, Edge{At: a.X - side*gapX, Span: ordered(a.Y, b.Y), Side: int8(side), Why: why})
		case math.Abs(d.Y) < 1e-6 && d.X != 0:
			side := sign(d.X)
			s.Y = append(s.Y, Edge{At: a.Y + side*gapY, Span: ordered(a.X, b.X), Side: int8(-side), Why: why})
		}
	}
}

// AddCorners adds the corners of a ring for drawing onto them.
func (s *Snapper) AddCorners(ring []r2.Point, why string) {
	for _, p := range ring {
		s.X = append(s.X, Edge{At: p.X, Span: [2]float64{p.Y, p.Y}, Why: why})
		s.Y = append(s.Y, Edge{At: p.Y, Span: [2]float64{p.X, p.X}, Why: why})
	}
}

// AddCentreLine adds the line at y = 0 for middles and sides.
func (s *Snapper) AddCentreLine(span [2]float64) {
	s.Y = append(s.Y,
		Edge{At: 0, Span: span, Mid: true, Why: "middle on the centre line"},
		Edge{At: 0, Span: span, Why: "on the centre line"})
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

func ordered(a, b float64) [2]float64 { return [2]float64{min(a, b), max(a, b)} }
