package paint

import (
	"image/color"

	"stowbay/layout/drawing"
)

// Look chooses styles; drawing's palettes are looks.
type Look interface {
	Style(drawing.Tag) drawing.Style
	Paper() color.NRGBA
}
