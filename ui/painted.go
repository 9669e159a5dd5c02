package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// painted is a widget whose whole face is painted by a function into one picture.
type painted struct {
	widget.BaseWidget
	raster *canvas.Raster
	img    *image.RGBA
	scale  float64 // pixels a unit of the screen
	face   func(img *image.RGBA, scale float64)
	least  fyne.Size
}

// init makes the picture; self is the widget that embeds this one.
func (p *painted) init(self fyne.Widget, least fyne.Size, face func(*image.RGBA, float64)) {
	p.face, p.least, p.scale = face, least, 1
	p.raster = canvas.NewRaster(p.generate)
	p.raster.ScaleMode = canvas.ImageScalePixels // the picture has the size of its place, to the pixel
	p.ExtendBaseWidget(self)
}

// generate paints the picture at its size in pixels. The buffer serves again while the size stays the same.
func (p *painted) generate(w, h int) image.Image {
	if w <= 0 || h <= 0 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	if p.img == nil || p.img.Rect.Dx() != w || p.img.Rect.Dy() != h {
		p.img = image.NewRGBA(image.Rect(0, 0, w, h))
	}
	if size := p.raster.Size(); size.Width > 0 {
		p.scale = float64(w) / float64(size.Width)
	}
	p.face(p.img, p.scale)
	return p.img
}

// px is where a place of the widget lies in the picture, in pixels.
func (p *painted) px(pos fyne.Position) r2.Point {
	return r2.Point{X: float64(pos.X) * p.scale, Y: float64(pos.Y) * p.scale}
}

// repaint has the picture painted again before the next frame.
func (p *painted) repaint() { canvas.Refresh(p.raster) }

// MinSize implements [fyne.Widget].
func (p *painted) MinSize() fyne.Size {
	p.ExtendBaseWidget(p)
	return p.least
}

// CreateRenderer implements [fyne.Widget].
func (p *painted) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.raster) }

// pagePainter paints pages and what stands on the frame. One serves the whole window.
type pagePainter struct {
	painter *paint.Painter
	fonts   *paint.Fonts
}

// screenLayer is a layer whose places are in units of the screen from the upper left corner, downward below zero, of a
// picture w by h pixels.
func screenLayer(look paint.Look, w, h, scale float64, items []drawing.Item) paint.Layer {
	cam := paint.Camera{Centre: r2.Point{X: w / scale / 2, Y: -h / scale / 2}, Scale: scale, W: w, H: h}
	return paint.Layer{Look: look, Cam: cam, PxPerPt: scale, Items: items}
}
