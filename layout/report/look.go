package report

import (
	"fmt"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
)

// number names a finding in tables and drawings: F1 is the first of the list.
func findingNumber(i int) string { return fmt.Sprintf("F%d", i+1) }

// look is what a view of the whole vehicle shows besides the scene: the balance, and the findings that fail or
// warn, by their numbers.
func (b *book) look() drawing.Options {
	o := drawing.Options{Marks: drawingMarks(b.e), Imperial: b.imperial, Lines: append(cableLines(b.e), hoseLines(b.e)...)}
	o.CG, o.CGDonor = point(b.e, "cg_mm"), donorPoint(b.e)
	o.WheelKg = wheels(b.e)
	for i, f := range b.e.Findings {
		m := markOf(f.Severity)
		if f.Place == nil || m == 0 {
			continue
		}
		p := drawing.Place{A: *f.Place, B: *f.Place, Text: findingNumber(i), Mark: m, Ref: f.Subject}
		if f.To != nil {
			p.B = *f.To
		}
		o.Places = append(o.Places, p)
		if len(o.Places) == mostPlaces {
			break
		}
	}
	return o
}

// mostPlaces bounds the findings shown in one view; all of them are in the table.
const mostPlaces = 24

func markOf(s check.Severity) drawing.Mark {
	switch s {
	case check.Fails:
		return drawing.Breached
	case check.Warns:
		return drawing.Warned
	}
	return 0
}

// drawingMarks marks what findings that fail or warn are about. A finding about more than a few things, such as a
// whole string, would mark them all and point at none: it is left to the table.
func drawingMarks(e *check.Evaluation) map[string]drawing.Mark {
	const few = 4
	out := map[string]drawing.Mark{}
	for i := len(e.Findings) - 1; i >= 0; i-- {
		f := e.Findings[i]
		m := markOf(f.Severity)
		if m == 0 || len(f.Refs) > few {
			continue
		}
		for _, ref := range f.Refs {
			out[ref] = m
		}
	}
	return out
}

func point(e *check.Evaluation, key string) *r3.Vector {
	x, ok := e.Reading(key + ".x")
	if !ok {
		return nil
	}
	return &r3.Vector{X: x.Value, Y: e.Value(key + ".y"), Z: e.Value(key + ".z")}
}

// donorPoint is the donor's centre of gravity, where its survey gives one.
func donorPoint(e *check.Evaluation) *r3.Vector {
	if e.Mass == nil || e.Mass.Donor.Kg.Value <= 0 {
		return nil
	}
	at := e.Mass.Donor.CG()
	return &at
}

func wheels(e *check.Evaluation) *[4]float64 {
	var out [4]float64
	for i, k := range []string{"wheels_kg.front_left", "wheels_kg.front_right", "wheels_kg.rear_left", "wheels_kg.rear_right"} {
		r, ok := e.Reading(k)
		if !ok {
			return nil
		}
		out[i] = r.Value
	}
	return &out
}

// cableLines are the cables between boxes and gear.
func cableLines(e *check.Evaluation) []drawing.Line {
	var out []drawing.Line
	for _, c := range e.Electric.Cables {
		if c.Kind != "links" && len(c.Path) > 1 {
			out = append(out, drawing.Line{Role: drawing.RoleCable, Ref: c.ID, Points: c.Path})
		}
	}
	return out
}

// linkLines are the links and leads of the strings inside one box.
func linkLines(e *check.Evaluation, box string) []drawing.Line {
	var out []drawing.Line
	for i := range e.Electric.Strings {
		s := &e.Electric.Strings[i]
		for _, l := range s.Links {
			if l.FromBox == box && l.ToBox == box && len(l.Path) > 1 {
				out = append(out, drawing.Line{Role: drawing.RoleLink, Ref: l.From, Points: l.Path})
			}
		}
	}
	return out
}

// picture is the vehicle seen from above one of its corners.
func (b *book) picture() *drawing.List {
	return drawing.Axonometric(b.e.Scene, drawing.Options{Marks: drawingMarks(b.e), Imperial: b.imperial, NameScale: 1.6}, -30, 25)
}

// boxSheet is a box's dimensioned drawing with its links.
func (b *book) boxSheet(box *layout.BoxScene) *drawing.List {
	l := drawing.BoxSheet(b.e.Scene, box, drawing.Options{Imperial: b.imperial, Marks: drawingMarks(b.e), Lines: linkLines(b.e, box.Box.ID)})
	l.Title = boxTitle(box.Box)
	return l
}
