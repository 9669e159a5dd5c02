package view

import (
	"fmt"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/drawing"
)

// cornerDrag is a corner being dragged in the plan.
type cornerDrag struct {
	m       *Model
	corner  Corner
	from    r2.Point // where the corner was
	press   r2.Point // where the mouse was pressed
	to      r2.Point
	moved   bool
	snapper Snapper
	snaps   [2]Snap
}

// newCornerDrag gets ready to drag a corner. What it can line up with is what stands there before the drag.
func newCornerDrag(m *Model, c Corner, press r2.Point) *cornerDrag {
	at := m.cornerPlace(c)
	return &cornerDrag{m: m, corner: c, from: at, press: press, to: at, snapper: m.DrawSnapper(nil)}
}

func (d *cornerDrag) move(p Pointer) {
	if !d.moved && p.At.Sub(d.press).Norm() < p.Slack {
		return
	}
	d.moved = true
	d.to = d.place(p)
	if d.m.Preview(d.act) == nil {
		d.m.Say(d.hint())
	}
	d.m.tell(TheTool)
}

// place is where the corner goes: with the mouse, along one direction from where it was while Shift is held, snapped.
func (d *cornerDrag) place(p Pointer) r2.Point {
	at := d.from.Add(p.At.Sub(d.press))
	d.snaps = [2]Snap{}
	if p.Shift {
		at = squared(d.from, at)
	}
	if p.Alt || !d.m.Display.Snap {
		return tidyPoint(at)
	}
	d.snapper.Reach = 2 * p.Slack
	x, y := d.snapper.Point(at)
	if p.Shift && at.X == d.from.X {
		x = Snap{}
	}
	if p.Shift && at.Y == d.from.Y {
		y = Snap{}
	}
	d.snaps = [2]Snap{x, y}
	return tidyPoint(at.Add(r2.Point{X: x.By, Y: y.By}))
}

func (d *cornerDrag) act(p *layout.Plan, a string) (layout.Edit, error) {
	return MoveCorner(p, a, d.corner, d.to)
}

func (d *cornerDrag) hint() string {
	u, by := d.m.Units(), d.to.Sub(d.from)
	return fmt.Sprintf("corner at %s, %s, moved %s, %s. Shift: one direction; Alt: no snapping; Esc: back",
		u.Text(d.to.X, "mm"), u.Text(d.to.Y, "mm"), u.Delta(by.X, "mm"), u.Delta(by.Y, "mm"))
}

// release makes the drag one step of the history.
func (d *cornerDrag) release() {
	if !d.moved {
		return
	}
	if d.to == d.from {
		d.m.Drop()
		return
	}
	if d.m.Do(d.act) == nil {
		d.m.Say("")
	}
}

// overlay is the guides and the lengths of the two edges that meet in the corner.
func (d *cornerDrag) overlay() []drawing.Item {
	if !d.moved || !d.m.Previewing() {
		return nil
	}
	out := guides(d.snaps[:]...)
	before, after := d.m.cornerSides(d.corner)
	for _, s := range [][2]r2.Point{before, after} {
		length := s[1].Sub(s[0]).Norm()
		out = append(out, drawing.Dimension{Of: tag(RoleDraft), A: s[0], B: s[1], S: d.m.Units().Text(length, "mm")})
	}
	return out
}

// Handles are the corners of the one thing picked, as squares of a half width in mm, for the view that they can be
// dragged in. The one under the pointer is filled.
func (m *Model) Handles(v drawing.View, half float64) []drawing.Item {
	t, ok := m.tool.(*Select)
	if !ok || v != drawing.PlanView {
		return nil
	}
	var out []drawing.Item
	for _, s := range m.shapesPicked() {
		for i, c := range s.ring {
			role := RoleHandle
			if t.hot == (Corner{s.Shape, i}) {
				role = RoleHandleHot
			}
			area := geometry.NewRect(c.X-half, c.Y-half, c.X+half, c.Y+half)
			out = append(out, drawing.Fill{Of: tag(role), Area: area}, drawing.Stroke{Of: tag(role), Points: area.Outer, Closed: true})
		}
	}
	return out
}

// AddCornerHere puts a corner on the edge of the thing picked that is within reach of a place.
func (m *Model) AddCornerHere(at r2.Point, reach float64) error {
	edge, on, ok := m.EdgeAt(at, reach)
	if !ok {
		return nil
	}
	return m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return AddCorner(p, a, edge, on) })
}

// RemoveCornerHere takes out the corner of the thing picked that is within reach of a place.
func (m *Model) RemoveCornerHere(at r2.Point, reach float64) error {
	c, ok := m.CornerAt(at, reach)
	if !ok {
		return nil
	}
	return m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return RemoveCorner(p, a, c) })
}
