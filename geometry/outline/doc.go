// Package outline reads closed outlines from the two forms in which people
// have them: the path data of an SVG drawing and the polylines of a DXF drawing.
//
// Curves become chords that stay within [ChordTolerance] of them. Readers take
// any bytes whatever without panicking, stop at stated limits, and tell what is
// wrong by line and column.
package outline

import (
	"fmt"

	"github.com/golang/geo/r2"
	"stowbay/geometry"
)

// ChordTolerance is the greatest distance in mm between a curve and the chords
// that stand for it. The chords of an outline bulging outward lie inside it by
// up to this much.
const ChordTolerance = 0.05

// Limits of the readers.
const (
	MaxPathBytes = 1 << 20
	MaxDXFBytes  = 64 << 20
	MaxSVGBytes  = 64 << 20
	MaxOutlines  = 2000
	maxCurve     = 2000 // chords of one curve
	maxPoints    = 200000
	maxFaults    = 50
	maxKinds     = 100 // of entities left out, told by name
)

// Fault is one thing wrong with a drawing, at a line and column counted from 1.
// Column is 0 where only the line is known, and Line is 0 for the drawing as a
// whole.
type Fault struct {
	Line, Column int
	Wrong        string
}

// Error gives place and fault in one line.
func (f *Fault) Error() string {
	switch {
	case f.Line == 0:
		return f.Wrong
	case f.Column == 0:
		return fmt.Sprintf("%d: %s", f.Line, f.Wrong)
	}
	return fmt.Sprintf("%d:%d: %s", f.Line, f.Column, f.Wrong)
}

// closeUp drops corners that fall on their predecessor on the lattice and a
// last corner that falls on the first.
func closeUp(pts []r2.Point) geometry.Ring {
	var out geometry.Ring
	for _, p := range pts {
		if len(out) == 0 || !same(out[len(out)-1], p) {
			out = append(out, p)
		}
	}
	for len(out) > 1 && same(out[0], out[len(out)-1]) {
		out = out[:len(out)-1]
	}
	return out
}

// same tells whether two points are within a lattice step of each other on
// either axis.
func same(a, b r2.Point) bool {
	d := a.Sub(b)
	return max(d.X, -d.X) < geometry.Lattice && max(d.Y, -d.Y) < geometry.Lattice
}

// inRange tells whether both coordinates are numbers of allowed size.
func inRange(p r2.Point) bool {
	const m = geometry.MaxCoordinate
	return p.X >= -m && p.X <= m && p.Y >= -m && p.Y <= m
}
