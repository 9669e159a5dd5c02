package outline

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"

	"stowbay/geometry"
)

// Outline is one closed outline of a drawing.
type Outline struct {
	Layer string
	Line  int // of the file, where its first entity starts
	Ring  geometry.Ring
}

// Drawing is what was read of a DXF file.
type Drawing struct {
	// Outlines are the closed outlines in mm: first those closed in
	// themselves, in the order of the file, then those joined up from pieces.
	Outlines []Outline
	// MMPerUnit is the length of a unit of the file in mm, already applied.
	MMPerUnit float64
	// Notes tell what a person should know: the unit, what was assumed, what
	// was left out.
	Notes []string
}

// unit is a drawing unit.
type unit struct {
	name string
	mm   float64
}

// units are the values of $INSUNITS that make sense for a part of a vehicle
// (DXF reference, HEADER section; from memory, not checked against the text).
var units = map[int]unit{
	1: {"inches", 25.4}, 2: {"feet", 304.8}, 4: {"millimetres", 1}, 5: {"centimetres", 10},
	6: {"metres", 1000}, 8: {"microinches", 25.4e-6}, 9: {"thousandths of an inch", 0.0254},
	10: {"yards", 914.4}, 13: {"micrometres", 0.001}, 14: {"decimetres", 100},
}

// ReadDXF reads the closed outlines of an ASCII DXF file, of release 12 or
// later: LWPOLYLINE, POLYLINE with its VERTEX entities, CIRCLE, and what LINE,
// ARC and open polylines of one layer join up to end to end on the lattice.
// Bulges and arcs become chords. Lengths are brought to mm by $INSUNITS; where
// the file does not say, they are taken as mm and a note says so.
//
// Everything wrong with the file is told at once, as [*Fault] joined, up to a
// limit. Entities of other kinds, and pieces that do not join up, are left out
// with a note; entities in blocks are not looked for.
func ReadDXF(r io.Reader) (Drawing, error) {
	d := drawer{pairs: newPairReader(r, MaxDXFBytes), skipped: map[string]int{}}
	if err := d.file(); err != nil {
		d.faults = append(d.faults, err)
	}
	if len(d.faults) == 0 {
		d.assemble()
	}
	if len(d.faults) > 0 {
		return Drawing{}, errors.Join(d.faults...)
	}
	return d.out, nil
}

// drawer gathers the entities of a file.
type drawer struct {
	pairs    *pairReader
	ahead    *pair // read but not used yet
	unit     int
	unitSeen bool
	paths    []path
	points   int
	skipped  map[string]int
	others   int // skipped, of more kinds than are told
	faults   []error
	out      Drawing
}

func (d *drawer) next() (pair, error) {
	if p := d.ahead; p != nil {
		d.ahead = nil
		return *p, nil
	}
	return d.pairs.next()
}

// file reads section by section up to EOF.
func (d *drawer) file() error {
	section := ""
	for {
		p, err := d.next()
		switch {
		case err == io.EOF:
			return &Fault{Line: d.pairs.line, Wrong: "the file ends without EOF: it may be cut short, or no DXF"}
		case err != nil:
			return err
		case p.code == 0 && p.value == "EOF":
			return nil
		case p.code == 0 && (p.value == "SECTION" || p.value == "ENDSEC"):
			section = ""
		case p.code == 2 && section == "":
			section = p.value
		case p.code == 9 && section == "HEADER" && p.value == "$INSUNITS":
			err = d.insUnits()
		case p.code == 0 && section == "ENTITIES":
			err = d.entity(p)
		}
		if err != nil && !d.tell(err) {
			return nil
		}
	}
}

// tell keeps a fault and tells whether to go on.
func (d *drawer) tell(err error) bool {
	d.faults = append(d.faults, err)
	return len(d.faults) < maxFaults
}

func (d *drawer) insUnits() error {
	p, err := d.next()
	if err != nil {
		return err
	}
	d.unit, err = p.integer()
	d.unitSeen = err == nil
	return err
}

// scale finds the unit and notes it.
func (d *drawer) scale() (float64, error) {
	u, known := units[d.unit]
	switch {
	case !d.unitSeen || d.unit == 0:
		d.note("the file names no unit: its lengths are taken as millimetres")
		return 1, nil
	case !known:
		return 0, &Fault{Wrong: fmt.Sprintf("$INSUNITS %d is not a unit that can be read: save the drawing in millimetres or inches", d.unit)}
	}
	d.note("the unit of the file is %s", u.name)
	return u.mm, nil
}

func (d *drawer) note(format string, args ...any) {
	d.out.Notes = append(d.out.Notes, fmt.Sprintf(format, args...))
}

// assemble makes outlines of the paths.
func (d *drawer) assemble() {
	mm, err := d.scale()
	if err != nil {
		d.faults = append(d.faults, err)
		return
	}
	d.out.MMPerUnit = mm
	var open []chain
	total := 0
	for _, p := range d.paths {
		c, err := p.chain(mm)
		if total += len(c.pts); total > maxPoints {
			d.tell(&Fault{Line: p.line, Wrong: fmt.Sprintf("the drawing has more than %d points", maxPoints)})
			return
		}
		if err != nil {
			if !d.tell(err) {
				return
			}
			continue
		}
		if p.closed || (len(c.pts) > 3 && same(c.pts[0], c.pts[len(c.pts)-1])) {
			d.take(c)
		} else {
			open = append(open, c)
		}
	}
	loops, loose := join(open)
	for _, c := range loops {
		d.take(c)
	}
	d.noteLeftOut(loose)
}

func (d *drawer) noteLeftOut(loose []chain) {
	byLayer := map[string]int{}
	for _, c := range loose {
		byLayer[c.layer]++
	}
	for _, l := range slices.Sorted(maps.Keys(byLayer)) {
		d.note("layer %q: %d open pieces left out", l, byLayer[l])
	}
	for _, k := range slices.Sorted(maps.Keys(d.skipped)) {
		d.note("%d of the kind %s left out", d.skipped[k], k)
	}
	if d.others > 0 {
		d.note("%d of other kinds left out", d.others)
	}
}

// take keeps a closed chain as an outline.
func (d *drawer) take(c chain) {
	ring := closeUp(c.pts)
	switch {
	case len(ring) < 3:
		d.note("line %d: an outline with fewer than 3 corners left out", c.line)
	case len(ring) > geometry.MaxCorners:
		d.faults = append(d.faults, &Fault{Line: c.line, Wrong: fmt.Sprintf("the outline that starts here has %d corners: at most %d are allowed", len(ring), geometry.MaxCorners)})
	case len(d.out.Outlines) == MaxOutlines:
		d.faults = append(d.faults, &Fault{Line: c.line, Wrong: fmt.Sprintf("there are more than %d outlines", MaxOutlines)})
	case len(d.out.Outlines) < MaxOutlines:
		d.out.Outlines = append(d.out.Outlines, Outline{Layer: c.layer, Line: c.line, Ring: ring})
	}
}
