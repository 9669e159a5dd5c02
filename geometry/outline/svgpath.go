package outline

import (
	"errors"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"stowbay/geometry"
)

// ParseSVGPath reads the path data of SVG (the "d" attribute) into its closed
// outlines, in the order drawn. It knows every command of the SVG 1.1
// recommendation, section 8.3: M L H V C S Q T A Z, absolute and relative.
// Coordinates are taken as millimetres and as they stand; the y axis of a
// drawing on screen points down, which the caller must turn if it matters.
//
// Each part of the path must be closed, by Z or by ending at its start, and
// have three corners at least. The rings are not otherwise checked; see
// [geometry.Polygon.Validate]. All faults of closing are told at once, as
// [*Fault] joined; a fault of grammar ends the reading.
func ParseSVGPath(d string) ([]geometry.Ring, error) {
	if len(d) > MaxPathBytes {
		return nil, &Fault{Wrong: "the path is longer than a megabyte"}
	}
	p := pather{scanner: scanner{text: d}}
	if err := p.run(); err != nil {
		return nil, errors.Join(append(p.faults, err)...)
	}
	if len(p.faults) > 0 {
		return nil, errors.Join(p.faults...)
	}
	return p.rings, nil
}

// pather follows a path.
type pather struct {
	scanner
	rings  []geometry.Ring
	faults []error
	part   []r2.Point // the part being drawn
	opened scanner    // where it starts
	start  r2.Point   // its first point
	pen    r2.Point
	handle r2.Point // the last control point, for S and T
	last   byte     // the last command, in capitals
	points int
}

// wants is how many numbers each command takes.
var wants = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

func (p *pather) run() error {
	p.skip()
	for !p.done() {
		if err := p.command(); err != nil {
			return err
		}
	}
	p.finish(false)
	return nil
}

// command reads a command with all the sets of numbers that follow it.
func (p *pather) command() error {
	letter := p.text[p.at]
	name := letter &^ 0x20
	n, known := wants[name]
	if !known || letter < 'A' {
		return p.fault("%s: a command, one of MLHVCSQTAZ, is wanted", p.here())
	}
	if p.last == 0 && name != 'M' {
		return p.fault("%s: a path starts with M", p.here())
	}
	before := p.scanner
	p.at++
	if name == 'M' {
		p.finish(false)
		p.opened = before
	}
	for first := true; ; first = false {
		comma := p.skip()
		if n == 0 || (!first && !comma && !p.startsNumber()) {
			break
		}
		args, err := p.numbers(name, n)
		if err != nil {
			return err
		}
		if err := p.draw(name, letter != name, first, args); err != nil {
			return err
		}
	}
	if n == 0 {
		p.finish(true)
		p.pen, p.opened = p.start, before
	}
	p.last = name
	return nil
}

func (p *pather) numbers(name byte, n int) (args [7]float64, err error) {
	for i := range n {
		if i > 0 {
			p.skip()
		}
		if name == 'A' && (i == 3 || i == 4) {
			args[i], err = p.flag()
		} else {
			args[i], err = p.number()
		}
		if err != nil {
			return args, err
		}
	}
	return args, nil
}

// draw carries out one set of numbers of a command.
func (p *pather) draw(name byte, relative, first bool, v [7]float64) error {
	from := r2.Point{}
	if relative {
		from = p.pen
	}
	pt := func(i int) r2.Point { return from.Add(r2.Point{X: v[i], Y: v[i+1]}) }
	if name == 'M' && first {
		p.start = pt(0)
		return p.line(p.start)
	}
	if len(p.part) == 0 {
		p.part = []r2.Point{p.pen}
	}
	ok := true
	switch name {
	case 'M', 'L':
		return p.line(pt(0))
	case 'H':
		return p.line(r2.Point{X: from.X + v[0], Y: p.pen.Y})
	case 'V':
		return p.line(r2.Point{X: p.pen.X, Y: from.Y + v[0]})
	case 'C', 'S':
		b, c, d := pt(0), pt(2), pt(4)
		if name == 'S' {
			b, c, d = p.reflected('C', 'S'), pt(0), pt(2)
		}
		p.part, ok = cubic(p.part, p.pen, b, c, d, ChordTolerance)
		return p.curve(ok, d, c, name)
	case 'Q', 'T':
		b, c := pt(0), pt(2)
		if name == 'T' {
			b, c = p.reflected('Q', 'T'), pt(0)
		}
		p.part, ok = quadratic(p.part, p.pen, b, c, ChordTolerance)
		return p.curve(ok, c, b, name)
	}
	end := pt(5)
	e, round := arcBetween(p.pen, end, v[0], v[1], v[2]*math.Pi/180, v[3] == 1, v[4] == 1)
	if !round {
		return p.line(end)
	}
	p.part, ok = e.flatten(p.part, end, ChordTolerance)
	return p.curve(ok, end, end, name)
}

func (p *pather) line(to r2.Point) error {
	p.part = append(p.part, to)
	return p.arrive(to, to)
}

// curve ends a curve at a point, its last control point kept.
func (p *pather) curve(ok bool, end, handle r2.Point, name byte) error {
	if !ok {
		return p.fault("a curve would need more than %d chords to keep within %g mm", maxCurve, ChordTolerance)
	}
	p.last = name
	return p.arrive(end, handle)
}

// arrive moves the pen.
func (p *pather) arrive(at, handle r2.Point) error {
	p.pen, p.handle = at, handle
	if !inRange(at) || !inRange(handle) {
		return p.fault("(%g, %g) is too far out: coordinates must be within ±%g mm", at.X, at.Y, float64(geometry.MaxCoordinate))
	}
	if p.points+len(p.part) > maxPoints {
		return p.fault("the path has more than %d corners", maxPoints)
	}
	return nil
}

// reflected is the last control point reflected in the pen, or the pen itself
// after a command that has none.
func (p *pather) reflected(after ...byte) r2.Point {
	for _, c := range after {
		if p.last == c {
			return p.pen.Mul(2).Sub(p.handle)
		}
	}
	return p.pen
}

// finish takes up the part drawn so far as an outline.
func (p *pather) finish(closed bool) {
	part := p.part
	p.part = nil
	p.points += len(part)
	if len(part) < 2 || len(p.faults) >= maxFaults { // a move alone draws nothing
		return
	}
	ring := closeUp(part)
	switch {
	case !closed && !same(part[0], part[len(part)-1]):
		p.faults = append(p.faults, p.opened.fault("the outline that starts here is not closed: it needs a Z"))
	case len(ring) < 3:
		p.faults = append(p.faults, p.opened.fault("the outline that starts here has %d corners: at least 3 are needed", len(ring)))
	case len(ring) > geometry.MaxCorners:
		p.faults = append(p.faults, p.opened.fault("the outline that starts here has %d corners: at most %d are allowed", len(ring), geometry.MaxCorners))
	case slices.ContainsFunc(ring, func(q r2.Point) bool { return !inRange(q) }): // a curve may go farther out than its ends
		p.faults = append(p.faults, p.opened.fault("the outline that starts here goes too far out: coordinates must be within ±%g mm", float64(geometry.MaxCoordinate)))
	case len(p.rings) == MaxOutlines:
		p.faults = append(p.faults, p.opened.fault("there are more than %d outlines", MaxOutlines))
	default:
		p.rings = append(p.rings, ring)
	}
}
