package view

import (
	"fmt"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/drawing"
)

// gripDrag is a corner, an edge, a floor or a ceiling being dragged, or waiting for what is typed.
type gripDrag struct {
	m       *Model
	grip    Grip
	view    drawing.View
	from    r2.Point // where the grip was
	to      r2.Point
	press   r2.Point // where the mouse was pressed
	last    Pointer
	moved   bool
	snapper *PointSnapper
	snap    PointSnap
	ring    []r2.Point // the shape as it was
	typed   entry
	other   bool // what is typed counts from the corner after instead of the one before
}

// newGripDrag gets ready to drag a grip. What it can line up with is what stands there before the drag.
func newGripDrag(m *Model, g gripAt, p Pointer) *gripDrag {
	d := &gripDrag{m: m, grip: g.Grip, view: p.View, from: g.at, to: g.at, press: p.At, last: p,
		snapper: m.PointSnapper(p.View, nil, false)}
	d.snapper.leaveOut(g)
	if s := shapes(m.Arrangement(), g.Ref); g.Level < len(s) {
		d.ring = s[g.Level].ring
	}
	return d
}

// move follows the mouse.
func (d *gripDrag) move(p Pointer) {
	if !d.moved && p.At.Sub(d.press).Norm() < p.Slack {
		return
	}
	d.moved, d.last, d.typed = true, p, ""
	d.to = d.place(p)
	if d.m.Preview(d.act) == nil {
		d.m.Say(d.hint())
	}
	d.m.tell(TheTool)
}

// place is where the grip goes: with the mouse, along one direction from where it was while Shift is held, snapped.
func (d *gripDrag) place(p Pointer) r2.Point {
	at := d.from.Add(p.At.Sub(d.press))
	d.snapper.Reach = 2 * p.Slack
	d.snap = PointSnap{At: at}
	snaps := !p.Alt && d.m.Display.Snap
	switch {
	case d.grip.Kind == EdgeGrip:
		return d.edgePlace(at, snaps)
	case d.grip.Kind != CornerGrip:
		at.X = d.from.X
		d.snap = PointSnap{At: at}
		if snaps {
			d.snap = d.snapper.Along(at, false)
		}
	case p.Shift:
		at = squared(d.from, at)
		d.snap = PointSnap{At: at}
		if snaps {
			d.snap = d.snapper.Along(at, at.Y == d.from.Y)
		}
	case snaps:
		d.snap = d.snapper.Point(at)
	}
	return tidyPoint(d.snap.At)
}

// edgePlace moves an edge's middle straight off the edge; an edge along an axis snaps.
func (d *gripDrag) edgePlace(at r2.Point, snaps bool) r2.Point {
	a, b := d.edge()
	off := b.Sub(a).Ortho().Normalize()
	at = d.from.Add(off.Mul(off.Dot(at.Sub(d.from))))
	d.snap = PointSnap{At: at}
	if snaps && off.X*off.Y == 0 {
		d.snap = d.snapper.Along(at, off.Y == 0)
	}
	return tidyPoint(d.snap.At)
}

// edge is the edge dragged as it was.
func (d *gripDrag) edge() (a, b r2.Point) {
	return d.ring[d.grip.Index], d.ring[(d.grip.Index+1)%len(d.ring)]
}

func (d *gripDrag) act(p *layout.Plan, a string) (layout.Edit, error) {
	switch d.grip.Kind {
	case CornerGrip:
		return MoveCorner(p, a, d.grip.Corner, d.to)
	case EdgeGrip:
		return MoveEdge(p, a, d.grip.Corner, d.to.Sub(d.from))
	}
	return SetHeight(p, a, d.grip, d.to.Y)
}

func (d *gripDrag) hint() string {
	u, by := d.m.Units(), d.to.Sub(d.from)
	const keys = " Shift: one direction; Alt: no snapping; Esc: back"
	switch d.grip.Kind {
	case CornerGrip:
		return fmt.Sprintf("corner at %s, %s, moved %s, %s.", u.Text(d.to.X, "mm"), u.Text(d.to.Y, "mm"), u.Delta(by.X, "mm"), u.Delta(by.Y, "mm")) + keys
	case EdgeGrip:
		a, b := d.edge()
		return fmt.Sprintf("edge moved %s.", u.Delta(distanceOff(a, b, d.to), "mm")) + keys
	}
	return fmt.Sprintf("%s %s above the ground, moved %s.", d.grip.Kind, u.Text(d.to.Y, "mm"), u.Delta(by.Y, "mm")) + keys
}

// String returns the kind as a user would say it.
func (k GripKind) String() string { return [...]string{"corner", "edge", "floor", "ceiling"}[k] }

// release makes the drag one step of the history.
func (d *gripDrag) release() {
	if d.to == d.from {
		d.m.Drop()
		return
	}
	if d.m.Do(d.act) == nil {
		d.m.Say("")
	}
}

// overlay is the guides, the lengths of what changes and a note.
func (d *gripDrag) overlay() []drawing.Item {
	out := d.dimensions()
	if d.moved && d.typed == "" {
		out = append(out, d.snap.items(d.last)...)
	}
	return append(out, d.note().items(d.last, d.to)...)
}

func (d *gripDrag) note() note {
	out := note{field: string(d.typed)}
	switch {
	case d.typed != "":
		if _, err := d.wanted(); err != nil {
			out.lines = append(out.lines, err.Error())
		}
	case d.moved:
		out.lines = d.snap.Words
	default:
		out.lines = []string{d.asks()}
	}
	return out
}

// dimensions are the lengths of the edges that change, or the heights.
func (d *gripDrag) dimensions() []drawing.Item {
	s := shapes(d.m.Arrangement(), d.grip.Ref)
	if d.grip.Level >= len(s) || d.grip.Index >= len(s[d.grip.Level].ring) {
		return nil
	}
	if d.grip.Kind == FloorGrip || d.grip.Kind == CeilingGrip {
		h := spans(d.m.Arrangement(), d.grip.Ref)[d.grip.Level]
		x := d.from.X
		return []drawing.Item{d.dimension(r2.Point{X: x, Y: h.floor}, r2.Point{X: x, Y: h.ceiling}), d.dimension(r2.Point{X: x}, r2.Point{X: x, Y: h.floor})}
	}
	ring := s[d.grip.Level].ring
	n, i := len(ring), d.grip.Index
	at := func(k int) r2.Point { return ring[(i+k+n)%n] }
	if d.grip.Kind == CornerGrip {
		return []drawing.Item{d.dimension(at(-1), at(0)), d.dimension(at(0), at(1))}
	}
	return []drawing.Item{d.dimension(at(-1), at(0)), d.dimension(at(0), at(1)), d.dimension(at(1), at(2))}
}

func (d *gripDrag) dimension(a, b r2.Point) drawing.Item {
	return drawing.Dimension{Of: tag(RoleDraft), A: a, B: b, S: d.m.Units().Text(b.Sub(a).Norm(), "mm")}
}
