package view

import (
	"fmt"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// TwoPoints takes two places in a view: to measure between them, or to set the scale of an underlay.
type TwoPoints struct {
	still
	m      *Model
	name   string
	hints  [2]string
	done   func(v drawing.View, a, b r2.Point) // may be nil
	view   drawing.View
	points []r2.Point
	to     r2.Point
	snap   bool // both points snap
	snapTo bool // the second point snaps

	last    Pointer
	snapped PointSnap
}

// NewMeasure returns the tool that measures distances.
func NewMeasure(m *Model) *TwoPoints {
	return &TwoPoints{m: m, name: "Measure", snap: true,
		hints: [2]string{"Click where to measure from.", "Click where to measure to."}}
}

// NewCalibrate returns the tool that takes the two ends of a known distance on an underlay.
func NewCalibrate(m *Model, done func(v drawing.View, a, b r2.Point)) *TwoPoints {
	return &TwoPoints{m: m, name: "Set underlay scale", done: done,
		hints: [2]string{"Click one end of a distance that you know, such as an axle's centre.", "Click its other end."}}
}

// Name implements [Tool].
func (t *TwoPoints) Name() string { return t.name }

// Hint implements [Tool].
func (t *TwoPoints) Hint() string { return t.hints[len(t.points)%2] }

// Press implements [Tool].
func (t *TwoPoints) Press(p Pointer) {
	if len(t.points) == 2 {
		t.points = nil
	}
	if len(t.points) == 1 && p.View != t.view {
		t.points = nil
	}
	at := t.place(p)
	t.view, t.to = p.View, at
	t.points = append(t.points, at)
	if len(t.points) == 2 {
		t.m.Say(t.distance())
		if t.done != nil {
			a, b := t.points[0], t.points[1]
			t.points = nil
			t.done(t.view, a, b)
		}
	} else {
		t.m.Say(t.Hint())
	}
	t.m.tell(TheTool)
}

// place takes the pointer, snapped to what is drawn there while measuring.
func (t *TwoPoints) place(p Pointer) r2.Point {
	t.last, t.snapped = p, PointSnap{At: p.At}
	if (t.snap || t.snapTo && len(t.points) == 1) && !p.Alt && t.m.Display.Snap {
		s := t.m.PointSnapper(p.View, t.points, true)
		s.Grid, s.Reach = 0, 1.5*p.Slack
		t.snapped = s.Point(p.At)
	}
	if p.Shift && len(t.points) == 1 {
		t.snapped = PointSnap{At: squared(t.points[0], t.snapped.At)}
	}
	return t.snapped.At
}

// Move implements [Tool].
func (t *TwoPoints) Move(p Pointer, _ bool) {
	if len(t.points) == 2 {
		return
	}
	if len(t.points) == 1 && p.View != t.view {
		return
	}
	t.to, t.view = t.place(p), p.View
	if len(t.points) == 1 {
		t.m.Say(t.distance())
	}
	t.m.tell(TheTool)
}

func (t *TwoPoints) ends() (a, b r2.Point) {
	if len(t.points) == 2 {
		return t.points[0], t.points[1]
	}
	return t.points[0], t.to
}

func (t *TwoPoints) distance() string {
	a, b := t.ends()
	d := b.Sub(a)
	u := t.m.Units()
	return fmt.Sprintf("%s (across %s, up %s) at %.1f°", u.Text(d.Norm(), "mm"), u.Text(d.X, "mm"), u.Text(d.Y, "mm"),
		degreesOf(d))
}

// Key implements [Tool].
func (t *TwoPoints) Key(name string) bool {
	if name != "Escape" || len(t.points) == 0 {
		return false
	}
	t.Cancel()
	return true
}

// Cancel implements [Tool].
func (t *TwoPoints) Cancel() {
	t.points, t.snapped = nil, PointSnap{}
	t.m.tell(TheTool)
}

// Overlay implements [Tool].
func (t *TwoPoints) Overlay(v drawing.View) []drawing.Item {
	if v != t.view {
		return nil
	}
	if len(t.points) == 0 {
		return append(t.snapped.items(t.last), note{lines: t.snapped.Words}.items(t.last, t.to)...)
	}
	a, b := t.ends()
	if b.Sub(a).Norm() < 0.5 {
		return nil
	}
	out := []drawing.Item{drawing.Dimension{Of: tag(RoleDraft), A: a, B: b, S: t.m.Units().Text(b.Sub(a).Norm(), "mm")}}
	if len(t.points) == 2 {
		return append(out, note{lines: []string{t.distance()}}.items(t.last, b)...)
	}
	out = append(out, t.snapped.items(t.last)...)
	return append(out, note{lines: append([]string{t.distance()}, t.snapped.Words...)}.items(t.last, b)...)
}
