package view

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout/drawing"
)

// Pointer is the mouse in a view.
type Pointer struct {
	At    r2.Point     // place in the view's plane, mm
	View  drawing.View // the view it is in
	Slack float64      // how near counts as on, mm
	Seen  r2.Rect      // the part of the plane in sight
	Index *Index       // what lies there

	Shift, Ctrl, Alt bool
	Twice            bool // second press of a double click
}

// Vehicle returns the shift in the vehicle's frame that a shift in a view's plane is.
func Vehicle(v drawing.View, d r2.Point) r3.Vector {
	switch v {
	case drawing.SideView:
		return r3.Vector{X: d.X, Z: d.Y}
	case drawing.RearView:
		return r3.Vector{Y: d.X, Z: d.Y}
	}
	return r3.Vector{X: d.X, Y: d.Y}
}

// Tool is what the mouse does in the views.
type Tool interface {
	Name() string
	Hint() string // what to do next, in a sentence
	Press(Pointer)
	Move(p Pointer, down bool)
	Release(Pointer)
	Type(r rune) bool     // text typed while the pointer is in a view; false where it means nothing
	Key(name string) bool // "Return", "BackSpace", "Escape"
	Cancel()
	Overlay(v drawing.View) []drawing.Item // painted over a view
}

// Roles of what tools show over a view; palettes of the views know them besides the drawing's own.
const (
	RoleGuide drawing.Role = "snap line"
	RoleBand  drawing.Role = "rubber band"
	RoleDraft drawing.Role = "outline being drawn"

	RoleComing drawing.Role = "what would be put in"

	RoleHandle    drawing.Role = "corner to drag"
	RoleHandleHot drawing.Role = "corner under the pointer"
)

// still is the part of a tool that does nothing.
type still struct{}

func (still) Type(rune) bool                      { return false }
func (still) Key(string) bool                     { return false }
func (still) Cancel()                             {}
func (still) Release(Pointer)                     {}
func (still) Overlay(drawing.View) []drawing.Item { return nil }

// guides draws snap lines. Their reasons stand in the note at the pointer.
func guides(snaps ...Snap) []drawing.Item {
	var out []drawing.Item
	for _, s := range snaps {
		if s.Why == "" || s.Line[0] == s.Line[1] {
			continue
		}
		out = append(out, drawing.Stroke{Of: tag(RoleGuide), Points: s.Line[:]})
	}
	return out
}
