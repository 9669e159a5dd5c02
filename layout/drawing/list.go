// Package drawing turns a plan into display lists: plan view, elevations, sections, axonometric, single-line
// diagram and charts. A display list says what is drawn, in millimetres of the view's plane and in roles, not
// in colours; who paints it (screen, PDF, SVG, DXF) is not known here.
//
// View planes, as drawn with the first axis to the right and the second upward: plan (x, y) seen from above
// with the front at the left; side (x, z) seen from the vehicle's left; rear (y, z) seen from behind.
package drawing

import (
	"github.com/golang/geo/r2"

	"stowbay/geometry"
)

// List is a display list. Items are painted in order. Coordinates are millimetres in the view's plane, the
// second axis upward. Line widths and text sizes are points on the paper or screen and do not scale with zoom,
// but for text with InMM set.
type List struct {
	Title  string
	Bounds r2.Rect // what the view has to show
	Items  []Item
}

// Item is one thing drawn: Fill, Stroke, Hatch, Text or Dimension.
type Item interface {
	Tag() Tag
}

// Tag ties an item to the thing it shows.
type Tag struct {
	Role Role   // what it is, for colour, pattern and layer
	Ref  string // what it shows: "box/module", a bay's or keep-out's id; empty for decoration
	Mark Mark   // state: selected, in breach ...
}

// Mark is the state of a thing in a drawing; marks can be combined.
type Mark uint8

// The marks.
const (
	Selected Mark = 1 << iota
	Hovered
	Breached // a finding fails there
	Warned   // a finding warns there
	Locked
	Ghost // where it was before the drag
)

// Fill is a filled area.
type Fill struct {
	Of   Tag
	Area geometry.Polygon
}

// Stroke is a line through points.
type Stroke struct {
	Of     Tag
	Points []r2.Point
	Closed bool
	Pt     float64 // width in points; 0: the role's
	Dash   []float64

	// Radius is not 0 for a whole circle about Centre, for painters that know circles; Points are then corners on it.
	Centre r2.Point
	Radius float64
}

// Hatch is an area filled with parallel lines.
type Hatch struct {
	Of      Tag
	Area    geometry.Polygon
	Deg     float64 // direction of the lines
	PitchPt float64 // distance between them in points; 0: the role's
	Cross   bool    // a second set at right angles
}

// Text is a line of text.
type Text struct {
	Of     Tag
	At     r2.Point
	S      string
	Pt     float64 // size in points; 0: the role's
	InMM   float64 // size in millimetres of the view instead, so that it scales with zoom
	Deg    float64 // turn, counter-clockwise
	Anchor Anchor
	Halo   bool // set off from what lies under it
}

// Anchor says which point of a text lies at its place.
type Anchor uint8

// The anchors.
const (
	Middle Anchor = iota
	West          // left end
	East          // right end
	North         // top middle
	South         // bottom middle
)

// Dimension is a dimension line between two points, moved sideways by Offset.
type Dimension struct {
	Of     Tag
	A, B   r2.Point
	Offset float64 // millimetres to the left of A to B
	S      string  // text; empty: the distance in mm, without decimals
}

// Tag returns what the item shows.
func (f Fill) Tag() Tag { return f.Of }

// Tag returns what the item shows.
func (s Stroke) Tag() Tag { return s.Of }

// Tag returns what the item shows.
func (h Hatch) Tag() Tag { return h.Of }

// Tag returns what the item shows.
func (t Text) Tag() Tag { return t.Of }

// Tag returns what the item shows.
func (d Dimension) Tag() Tag { return d.Of }
