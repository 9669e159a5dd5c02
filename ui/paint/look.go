package paint

import (
	"image/color"

	"stowbay/layout/drawing"
)

// Style is how things of a role are painted. Widths and sizes are in points. A colour without alpha is not painted.
type Style struct {
	Fill  color.NRGBA
	Line  color.NRGBA
	Text  color.NRGBA
	Pt    float64 // line width
	Dash  []float64
	Size  float64 // text size
	Pitch float64 // distance between hatch lines
	Bold  bool
}

// Look chooses styles: a palette.
type Look interface {
	Style(drawing.Tag) Style
	Paper() color.NRGBA
}
