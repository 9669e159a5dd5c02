package view

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// Outline draws a closed outline in the plan: click after click, by typed lengths, angles and places, or as a
// rectangle pulled from corner to corner.
type Outline struct {
	m    *Model
	name string
	done func([]r2.Point)

	points  []r2.Point
	typed   entry
	to      r2.Point // the pointer, snapped
	last    Pointer  // as it came
	snap    PointSnap
	pressed bool
	from    r2.Point
	closed  bool // handed over; it stays in sight until the tool is put away
}

// NewOutline returns a tool that hands the corners drawn to done. The outline stays in sight until another tool is
// taken, so that what asks for the rest of it can be seen against it; see [Outline.Reopen].
func NewOutline(m *Model, name string, done func([]r2.Point)) *Outline {
	return &Outline{m: m, name: name, done: done}
}

// Name implements [Tool].
func (t *Outline) Name() string { return t.name }

// Points returns the corners set so far.
func (t *Outline) Points() []r2.Point { return t.points }

// Take takes an outline made elsewhere as if it had just been drawn.
func (t *Outline) Take(ps []r2.Point) {
	t.points = slices.Clone(ps)
	t.close()
}

// Reopen goes on with an outline that was handed over but is not wanted yet: its corners can be taken back one by one.
func (t *Outline) Reopen() {
	t.closed = false
	t.m.Say(t.Hint())
	t.m.tell(TheTool)
}

// Hint implements [Tool].
func (t *Outline) Hint() string {
	switch {
	case t.typed != "":
		return string(t.typed) + ": Return sets the corner. 450 length, 450<90 length and direction, 450<<90 turned from the last side, <90 direction, =800,-350 place."
	case len(t.points) == 0:
		return "Click the first corner, or type = and its place, or pull a rectangle from corner to corner."
	case len(t.points) < 3:
		return "Click the next corner, or type its length, length<angle or =x,y. Shift: square. Alt: no snapping. Backspace: one back."
	}
	return "Click the first corner or press Return to close. Type a length or click for another corner. Backspace: one back."
}

// Press implements [Tool].
func (t *Outline) Press(p Pointer) {
	if t.closed {
		return
	}
	if p.View != drawing.PlanView {
		t.m.Say("Outlines are drawn in the plan view.")
		return
	}
	t.place(p)
	t.pressed, t.from = true, t.to
}

// Move implements [Tool].
func (t *Outline) Move(p Pointer, _ bool) {
	if p.View != drawing.PlanView || t.closed {
		return
	}
	t.place(p)
	t.m.Say(t.Hint())
	t.m.tell(TheTool)
}

// Release implements [Tool].
func (t *Outline) Release(p Pointer) {
	if !t.pressed {
		return
	}
	t.pressed = false
	t.place(p)
	pulled := t.to.Sub(t.from)
	switch {
	case len(t.points) == 0 && math.Abs(pulled.X) > 3*p.Slack && math.Abs(pulled.Y) > 3*p.Slack:
		t.points = geometry.NewRect(t.from.X, t.from.Y, t.to.X, t.to.Y).Outer
		t.close()
	case t.closes():
		t.close()
	default:
		t.add(t.to)
	}
}

// closes tells whether the pointer is on the first corner so that a click closes the outline.
func (t *Outline) closes() bool {
	return len(t.points) > 2 && t.last.At.Sub(t.points[0]).Norm() <= 2*t.last.Slack
}

func (t *Outline) add(p r2.Point) {
	if n := len(t.points); n > 0 && t.points[n-1].Sub(p).Norm() < 0.5 {
		return
	}
	t.points = append(t.points, tidyPoint(p))
	t.typed = ""
	t.m.Say(t.Hint())
	t.m.tell(TheTool)
}

// place takes the pointer with snapping, and square to the last corner while Shift is held.
func (t *Outline) place(p Pointer) {
	t.last = p
	at := p.At
	square := p.Shift && len(t.points) > 0
	if square {
		at = squared(t.points[len(t.points)-1], at)
	}
	t.snap = PointSnap{At: at}
	if t.m.Display.Snap && !p.Alt {
		s := t.m.PointSnapper(drawing.PlanView, t.points, false)
		s.Reach = 2 * p.Slack
		if square {
			t.snap = s.Along(at, at.Y == t.points[len(t.points)-1].Y)
		} else {
			t.snap = s.Point(at)
		}
	}
	t.snap.At = tidyPoint(t.snap.At)
	t.to = t.snap.At
	if t.closes() {
		t.to = t.points[0]
		t.snap = PointSnap{At: t.to, Kind: OnCorner, Words: []string{"closes the outline"}}
	}
}

// squared moves b so that the line from a runs along an axis.
func squared(a, b r2.Point) r2.Point {
	if d := b.Sub(a); math.Abs(d.X) > math.Abs(d.Y) {
		b.Y = a.Y
	} else {
		b.X = a.X
	}
	return b
}

// Type implements [Tool]: lengths, angles and places, see [entry].
func (t *Outline) Type(r rune) bool {
	if t.closed || t.typed == "" && !t.typed.begins(r, len(t.points) == 0) {
		return false
	}
	t.typed = t.typed.add(r)
	t.m.Say(t.Hint())
	t.m.tell(TheTool)
	return true
}

// Key implements [Tool].
func (t *Outline) Key(name string) bool {
	switch name {
	case "Return", "KP_Enter":
		t.enter()
		return true
	case "BackSpace":
		t.back()
	case "Escape":
		if len(t.points) == 0 && t.typed == "" {
			return false
		}
		t.escape()
	default:
		return t.typed != "" && len(name) == 1
	}
	t.m.Say(t.Hint())
	t.m.tell(TheTool)
	return true
}

// escape lets go of what is typed first, then of the outline.
func (t *Outline) escape() {
	if t.typed != "" {
		t.typed = ""
		return
	}
	t.Cancel()
}

// enter sets the corner typed, or closes the outline. What cannot be read stays, to be mended.
func (t *Outline) enter() {
	if t.typed == "" {
		if len(t.points) > 2 {
			t.close()
		}
		return
	}
	p, err := t.next()
	if err != nil {
		t.m.Say(err.Error())
		return
	}
	t.add(p)
}

// next is the corner that would be set now: as typed, or where the pointer is.
func (t *Outline) next() (r2.Point, error) {
	if t.typed == "" {
		return t.to, nil
	}
	a, err := t.typed.aim(t.m.Units())
	if err != nil {
		return t.to, err
	}
	if len(t.points) == 0 && !a.placed {
		return t.to, fmt.Errorf("the first corner is typed as a place: =800,-350")
	}
	return a.corner(t.lastCorner(), t.lastSide(), t.to)
}

func (t *Outline) lastCorner() r2.Point {
	if n := len(t.points); n > 0 {
		return t.points[n-1]
	}
	return r2.Point{}
}

// lastSide is the direction of the side drawn last; zero where there is none.
func (t *Outline) lastSide() r2.Point {
	if n := len(t.points); n > 1 {
		return t.points[n-1].Sub(t.points[n-2])
	}
	return r2.Point{}
}

func (t *Outline) back() {
	switch n := len(t.points); {
	case t.typed != "":
		t.typed = t.typed.back()
	case n > 0:
		t.points = t.points[:n-1]
	}
}

func (t *Outline) close() {
	if problems := geometry.Ring(t.points).Polygon().Validate(); len(problems) > 0 {
		t.m.Say("Not an outline: " + t.m.Units().Problem(problems[0]))
		return
	}
	t.closed, t.typed, t.snap = true, "", PointSnap{}
	t.m.tell(TheTool)
	t.done(slices.Clone(t.points))
}

// Cancel implements [Tool].
func (t *Outline) Cancel() {
	t.points, t.typed, t.pressed, t.closed, t.snap = nil, "", false, false, PointSnap{}
	t.m.tell(TheTool)
}

// Overlay implements [Tool].
func (t *Outline) Overlay(v drawing.View) []drawing.Item {
	draft := tag(RoleDraft)
	switch {
	case v != drawing.PlanView:
		return nil
	case t.closed:
		return []drawing.Item{drawing.Fill{Of: draft, Area: geometry.Polygon{Outer: t.points}}, drawing.Stroke{Of: draft, Points: t.points, Closed: true}}
	case t.pressed && len(t.points) == 0:
		r := geometry.NewRect(t.from.X, t.from.Y, t.to.X, t.to.Y).Outer
		out := append(t.snap.items(t.last), drawing.Stroke{Of: draft, Points: r, Closed: true}, t.side(r[0], r[1]), t.side(r[1], r[2]))
		return append(out, note{lines: t.snap.Words}.items(t.last, t.to)...)
	}
	to, err := t.next()
	out := t.drawnSides(to)
	if t.typed == "" {
		out = append(out, t.snap.items(t.last)...)
	}
	return append(out, t.note(to, err).items(t.last, to)...)
}

// drawnSides are the sides set so far, the one to the corner that comes next, and the one that would close.
func (t *Outline) drawnSides(to r2.Point) []drawing.Item {
	n := len(t.points)
	if n == 0 {
		return nil
	}
	draft := tag(RoleDraft)
	out := []drawing.Item{drawing.Stroke{Of: draft, Points: append(slices.Clone(t.points), to)},
		drawing.Stroke{Of: tag(RoleGuide), Points: []r2.Point{to, t.points[0]}}}
	half := 2.5 * t.last.unit()
	for _, p := range t.points {
		out = append(out, drawing.Fill{Of: tag(RoleHandleHot), Area: geometry.NewRect(p.X-half, p.Y-half, p.X+half, p.Y+half)})
	}
	if to.Sub(t.points[n-1]).Norm() > 1 {
		out = append(out, t.side(t.points[n-1], to))
	}
	return out
}

func (t *Outline) side(a, b r2.Point) drawing.Dimension {
	return drawing.Dimension{Of: tag(RoleDraft), A: a, B: b, S: t.m.Units().Text(b.Sub(a).Norm(), "mm")}
}

// note says of the side being drawn how long it is and where it goes, what is typed, and what the pointer snapped to.
func (t *Outline) note(to r2.Point, err error) note {
	out := note{field: string(t.typed)}
	switch {
	case err != nil:
		out.lines = []string{err.Error()}
		return out
	case len(t.points) > 0:
		out.lines = append(out.lines, t.measure(to))
	}
	if t.typed == "" {
		out.lines = append(out.lines, t.snap.Words...)
	}
	return out
}

// measure words the side to a corner: its length, its direction, and how it turns from the side before.
func (t *Outline) measure(to r2.Point) string {
	d := to.Sub(t.lastCorner())
	if d.Norm() < 0.5 {
		return ""
	}
	s := fmt.Sprintf("%s at %.1f°", t.m.Units().Text(d.Norm(), "mm"), degreesOf(d))
	if side := t.lastSide(); side.Norm() > 0 {
		s += fmt.Sprintf(", turned %.1f°", math.Remainder(degreesOf(d)-degreesOf(side), 360))
	}
	return s
}
