package view

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// Outline draws a closed outline in the plan: click after click, by typed lengths and angles, or as a rectangle
// pulled from corner to corner.
type Outline struct {
	m    *Model
	name string
	done func([]r2.Point)

	points  []r2.Point
	typed   string
	pointer r2.Point
	pressed bool
	from    r2.Point
	snaps   [2]Snap
}

// NewOutline returns a tool that hands the corners drawn to done.
func NewOutline(m *Model, name string, done func([]r2.Point)) *Outline {
	return &Outline{m: m, name: name, done: done}
}

// Name implements [Tool].
func (t *Outline) Name() string { return t.name }

// Points returns the corners set so far.
func (t *Outline) Points() []r2.Point { return t.points }

// Hint implements [Tool].
func (t *Outline) Hint() string {
	switch {
	case t.typed != "":
		return "Length " + t.typed + "  (Return sets the corner; length<angle sets a direction in degrees)"
	case len(t.points) == 0:
		return "Click the first corner, or pull a rectangle from corner to corner."
	case len(t.points) < 3:
		return "Click the next corner, or type a length and press Return. Shift: square. Backspace: one back."
	}
	return "Click the first corner or press Return to close. Shift: square. Backspace: one corner back."
}

// Press implements [Tool].
func (t *Outline) Press(p Pointer) {
	if p.View != drawing.PlanView {
		t.m.Say("Outlines are drawn in the plan view.")
		return
	}
	t.pressed, t.from = true, t.place(p)
}

// Move implements [Tool].
func (t *Outline) Move(p Pointer, down bool) {
	if p.View != drawing.PlanView {
		return
	}
	t.pointer = t.place(p)
	t.m.Say(t.measure())
	t.m.tell(TheTool)
}

// measure is what the status line says of the side being drawn.
func (t *Outline) measure() string {
	if t.typed != "" || len(t.points) == 0 {
		return t.Hint()
	}
	d := t.pointer.Sub(t.points[len(t.points)-1])
	return fmt.Sprintf("%s at %.1f°. %s", t.m.Units().Text(d.Norm(), "mm"), math.Atan2(d.Y, d.X)*180/math.Pi, t.Hint())
}

// Release implements [Tool].
func (t *Outline) Release(p Pointer) {
	if !t.pressed {
		return
	}
	t.pressed = false
	at := t.place(p)
	pulled := at.Sub(t.from)
	switch {
	case len(t.points) == 0 && math.Abs(pulled.X) > 3*p.Slack && math.Abs(pulled.Y) > 3*p.Slack:
		t.points = geometry.NewRect(t.from.X, t.from.Y, at.X, at.Y).Outer
		t.close()
	case len(t.points) > 2 && at.Sub(t.points[0]).Norm() <= 2*p.Slack:
		t.close()
	default:
		t.add(at)
	}
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

// place is the pointer with snapping, and square to the last corner while Shift is held.
func (t *Outline) place(p Pointer) r2.Point {
	at := p.At
	t.snaps = [2]Snap{}
	if t.m.Display.Snap && !p.Alt {
		s := t.m.DrawSnapper(t.points)
		s.Reach = 2 * p.Slack
		x, y := s.Point(at)
		t.snaps = [2]Snap{x, y}
		at = at.Add(r2.Point{X: x.By, Y: y.By})
	}
	if p.Shift && len(t.points) > 0 {
		at = squared(t.points[len(t.points)-1], at)
	}
	return tidyPoint(at)
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

// DrawSnapper returns what corners being drawn can snap to: corners and edges of bays, keep-outs and boxes, the
// corners drawn so far, the centre line, the mirror image of what is there, and the grid.
func (m *Model) DrawSnapper(drawn []r2.Point) Snapper {
	s := Snapper{Grid: m.Display.GridMM / 10}
	s.AddCorners(drawn, "corner drawn")
	for i := range m.scene.Bays {
		for _, p := range m.scene.Bays[i].Space.Solids {
			addRingAndMirror(&s, p.Base.Outer, m.scene.Bays[i].Bay.ID)
		}
	}
	for _, k := range m.scene.KeepOuts {
		addRingAndMirror(&s, k.Prism.Base.Outer, k.KeepOut.ID)
	}
	for _, b := range m.scene.Boxes {
		for _, p := range b.Outer.Solids {
			addRingAndMirror(&s, p.Base.Outer, b.Box.ID)
		}
	}
	if d := m.scene.Donor; d != nil {
		s.AddCentreLine([2]float64{0, d.WheelbaseMM})
		for _, x := range []float64{0, d.WheelbaseMM} {
			s.X = append(s.X, Edge{At: x, Span: [2]float64{-d.TrackFrontMM / 2, d.TrackFrontMM / 2}, Why: "axle line"})
		}
	}
	return s
}

func addRingAndMirror(s *Snapper, r geometry.Ring, name string) {
	s.AddCorners(r, name)
	for _, p := range r {
		s.Y = append(s.Y, Edge{At: -p.Y, Span: [2]float64{p.X, p.X}, Why: "mirror of " + name})
	}
}

// Type implements [Tool]: a length, or a length and an angle as 450<30.
func (t *Outline) Type(r rune) bool {
	if len(t.points) == 0 || !strings.ContainsRune("0123456789.,+-*/()<°minchft'\" ", r) || len(t.typed) > 60 {
		return false
	}
	t.typed += string(r)
	t.m.Say(t.Hint())
	return true
}

// Key implements [Tool].
func (t *Outline) Key(name string) bool {
	switch name {
	case "Return":
		t.enter()
	case "BackSpace":
		t.back()
	case "Escape":
		if len(t.points) == 0 && t.typed == "" {
			return false
		}
		t.Cancel()
	default:
		return false
	}
	t.m.Say(t.Hint())
	t.m.tell(TheTool)
	return true
}

func (t *Outline) enter() {
	if t.typed == "" {
		if len(t.points) > 2 {
			t.close()
		}
		return
	}
	p, err := t.typedCorner()
	if err != nil {
		t.m.Say(err.Error())
		t.typed = ""
		return
	}
	t.add(p)
}

// typedCorner is the corner at the length typed, towards the pointer or in the direction typed.
func (t *Outline) typedCorner() (r2.Point, error) {
	last := t.points[len(t.points)-1]
	length, angle, given := strings.Cut(t.typed, "<")
	l, err := t.m.Units().Evaluate(length, Length)
	if err != nil {
		return last, fmt.Errorf("length: %w", err)
	}
	dir := t.pointer.Sub(last)
	if given {
		deg, err := t.m.Units().Evaluate(angle, Angle)
		if err != nil {
			return last, fmt.Errorf("angle: %w", err)
		}
		sin, cos := math.Sincos(deg * math.Pi / 180)
		dir = r2.Point{X: cos, Y: sin}
	}
	if dir.Norm() < 1e-9 {
		return last, fmt.Errorf("point where the side is to go, or type length<angle")
	}
	return last.Add(dir.Normalize().Mul(l)), nil
}

func (t *Outline) back() {
	switch {
	case t.typed != "":
		r := []rune(t.typed)
		t.typed = string(r[:len(r)-1])
	case len(t.points) > 0:
		t.points = t.points[:len(t.points)-1]
	}
}

func (t *Outline) close() {
	ps := t.points
	t.Cancel()
	if problems := geometry.Ring(ps).Polygon().Validate(); len(problems) > 0 {
		t.m.Say("Not an outline: " + problems[0].Error())
		return
	}
	t.done(ps)
}

// Cancel implements [Tool].
func (t *Outline) Cancel() {
	t.points, t.typed, t.pressed, t.snaps = nil, "", false, [2]Snap{}
	t.m.tell(TheTool)
}

// Overlay implements [Tool].
func (t *Outline) Overlay(v drawing.View) []drawing.Item {
	if v != drawing.PlanView {
		return nil
	}
	out := guides(t.snaps[:]...)
	tag := drawing.Tag{Role: RoleDraft}
	if t.pressed && len(t.points) == 0 {
		r := geometry.NewRect(t.from.X, t.from.Y, t.pointer.X, t.pointer.Y).Outer
		return append(out, drawing.Stroke{Of: tag, Points: r, Closed: true},
			drawing.Dimension{Of: tag, A: r[0], B: r[1]}, drawing.Dimension{Of: tag, A: r[1], B: r[2]})
	}
	if len(t.points) == 0 {
		return out
	}
	last := t.points[len(t.points)-1]
	ps := append(append([]r2.Point{}, t.points...), t.pointer)
	out = append(out, drawing.Stroke{Of: tag, Points: ps},
		drawing.Stroke{Of: drawing.Tag{Role: RoleGuide}, Points: []r2.Point{t.pointer, t.points[0]}})
	if t.pointer.Sub(last).Norm() > 1 {
		out = append(out, drawing.Dimension{Of: tag, A: last, B: t.pointer, S: t.m.Units().Text(t.pointer.Sub(last).Norm(), "mm")})
	}
	return out
}
