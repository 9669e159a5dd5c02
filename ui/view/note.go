package view

import (
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// HitUnits is how near to a thing in units of the screen counts as on it: what [Pointer.Slack] is in mm.
const HitUnits = 5

// unit is how many mm of the view's plane one unit of the screen shows.
func (p Pointer) unit() float64 { return p.Slack / HitUnits }

// Roles of what stands beside the pointer, and of the sign where it snapped.
const (
	RoleTip      drawing.Role = "note at the pointer"
	RoleTipText  drawing.Role = "text of a note"
	RoleTipField drawing.Role = "typed at the pointer"
	RoleSnap     drawing.Role = "snap sign"
)

// note is what stands beside the pointer while something is drawn or dragged.
type note struct {
	field string // what was typed so far, with a bar after it; "" while nothing was
	lines []string
}

// Sizes of a note in units of the screen.
const (
	noteLine = 15
	noteText = 11.5
	notePad  = 6
	noteOff  = 16
)

// pointsAUnit is a unit of the screen in points.
const pointsAUnit = 72.0 / 96

// items draws the note at the lower right of a place, or on its other side where the view ends there.
func (n note) items(p Pointer, at r2.Point) []drawing.Item {
	rows := n.rows()
	if len(rows) == 0 || p.unit() == 0 {
		return nil
	}
	k, box := p.unit(), n.area(p, at)
	area := geometry.NewRect(box.X.Lo, box.Y.Lo, box.X.Hi, box.Y.Hi)
	back := drawing.Tag{Role: RoleTip}
	out := []drawing.Item{drawing.Fill{Of: back, Area: area}, drawing.Stroke{Of: back, Points: area.Outer, Closed: true}}
	for i, r := range rows {
		y := box.Y.Hi - (float64(i)*noteLine+noteLine/2+notePad/2)*k
		out = append(out, drawing.Text{Of: drawing.Tag{Role: r.role}, At: r2.Point{X: box.X.Lo + notePad*k, Y: y},
			S: r.s, Pt: noteText * pointsAUnit, Anchor: drawing.West})
	}
	return out
}

// area is what the note covers, empty where there is nothing to say.
func (n note) area(p Pointer, at r2.Point) r2.Rect {
	rows, k := n.rows(), p.unit()
	if len(rows) == 0 || k == 0 {
		return r2.EmptyRect()
	}
	wide := 0.0
	for _, r := range rows {
		wide = max(wide, drawing.TextWidth(r.s)*noteText)
	}
	return p.room(at, (wide+2*notePad)*k, (float64(len(rows))*noteLine+notePad)*k, noteOff*k)
}

type noteRow struct {
	role drawing.Role
	s    string
}

func (n note) rows() []noteRow {
	var out []noteRow
	if n.field != "" {
		out = append(out, noteRow{RoleTipField, n.field + "|"})
	}
	for _, s := range n.lines {
		if s != "" {
			out = append(out, noteRow{RoleTipText, s})
		}
	}
	return out
}

// room is the rectangle of a size beside a place that stays in what is seen.
func (p Pointer) room(at r2.Point, w, h, off float64) r2.Rect {
	lo := r2.Point{X: at.X + off, Y: at.Y - off - h}
	if p.Seen != (r2.Rect{}) && !p.Seen.IsEmpty() {
		if lo.X+w > p.Seen.X.Hi {
			lo.X = max(at.X-off-w, p.Seen.X.Lo)
		}
		if lo.Y < p.Seen.Y.Lo {
			lo.Y = at.Y + off
		}
	}
	return r2.RectFromPoints(lo, lo.Add(r2.Point{X: w, Y: h}))
}
