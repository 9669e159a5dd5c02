package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Sizes of the frame in units of the screen.
const (
	railWidth  = 46
	tabsHeight = 34
	seamWidth  = 5
	leastDock  = 180
	mostDock   = 520
)

// shell lays out the window: tools at the left edge, stores and details beside them, the views in the middle under
// the arrangements, readings and findings at the right, the status line below.
type shell struct {
	rail, tabs, left, seamL, views, seamR, right, status fyne.CanvasObject
	leftWidth, rightWidth                                float32
	leftOff, rightOff                                    bool
}

func (s *shell) objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{s.rail, s.tabs, s.left, s.seamL, s.views, s.seamR, s.right, s.status}
}

// MinSize implements [fyne.Layout].
func (s *shell) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(820, 480) }

// Layout implements [fyne.Layout].
func (s *shell) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(max(w, 1), max(h, 1)))
	}
	body := size.Height - statusHeight
	put(s.status, 0, body, size.Width, statusHeight)
	put(s.rail, 0, 0, railWidth, body)
	x0, x1 := float32(railWidth), size.Width
	if !s.leftOff {
		put(s.left, x0, 0, s.leftWidth, body)
		put(s.seamL, x0+s.leftWidth, 0, seamWidth, body)
		x0 += s.leftWidth + seamWidth
	}
	if !s.rightOff {
		x1 -= s.rightWidth
		put(s.right, x1, 0, s.rightWidth, body)
		x1 -= seamWidth
		put(s.seamR, x1, 0, seamWidth, body)
	}
	put(s.tabs, x0, 0, x1-x0, tabsHeight)
	put(s.views, x0, tabsHeight, x1-x0, body-tabsHeight)
	setShown(s.left, !s.leftOff)
	setShown(s.seamL, !s.leftOff)
	setShown(s.right, !s.rightOff)
	setShown(s.seamR, !s.rightOff)
}

func setShown(o fyne.CanvasObject, shown bool) {
	if o.Visible() != shown {
		if shown {
			o.Show()
		} else {
			o.Hide()
		}
	}
}

// seam is the edge of a dock, by which its width is pulled.
type seam struct {
	widget.BaseWidget
	rect *canvas.Rectangle
	move func(dx float32)
}

func newSeam(c color.Color, move func(float32)) *seam {
	s := &seam{rect: canvas.NewRectangle(c), move: move}
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer implements [fyne.Widget].
func (s *seam) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(s.rect) }

// Dragged implements [fyne.Draggable].
func (s *seam) Dragged(e *fyne.DragEvent) { s.move(e.Dragged.DX) }

// DragEnd implements [fyne.Draggable].
func (s *seam) DragEnd() {}

// Cursor implements [desktop.Cursorable].
func (s *seam) Cursor() desktop.Cursor { return desktop.HResizeCursor }

// viewsLayout shows one view, or four, see [fourViews].
type viewsLayout struct {
	one   int // index of the view shown alone; -1: all four
	order [4]fyne.CanvasObject
}

// The views' places in a [viewsLayout].
const (
	planAt = iota
	sideAt
	solidAt
	rearAt
)

// MinSize implements [fyne.Layout].
func (v *viewsLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(240, 180) }

// Layout implements [fyne.Layout].
func (v *viewsLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	for i, o := range v.order {
		setShown(o, v.one < 0 || v.one == i)
	}
	if v.one >= 0 {
		v.order[v.one].Move(fyne.NewPos(0, 0))
		v.order[v.one].Resize(size)
		return
	}
	for i, r := range fourViews(size) {
		v.order[i].Move(r.pos)
		v.order[i].Resize(r.size)
	}
}

// place is where a view stands.
type place struct {
	pos  fyne.Position
	size fyne.Size
}

func placeAt(x, y, w, h float32) place { return place{fyne.NewPos(x, y), fyne.NewSize(w, h)} }

// fourViews shares out the room for the views: the plan above, the side view under it so that both show the vehicle's
// length, and beside that the view from behind and the one from a corner; above one another where the room is narrow.
func fourViews(size fyne.Size) (out [4]place) {
	whole := func(part, of float32) float32 { return float32(int(part * of)) }
	h, w := whole(0.56, size.Height), whole(0.47, size.Width)
	if size.Width < 1.2*size.Height {
		h, w = whole(0.505, size.Height), whole(0.61, size.Width)
	}
	low, rest := size.Height-h, size.Width-w
	out[planAt], out[sideAt] = placeAt(0, 0, size.Width, h), placeAt(0, h, w, low)
	if rest > low {
		behind := whole(0.46, rest)
		out[rearAt], out[solidAt] = placeAt(w, h, behind, low), placeAt(w+behind, h, rest-behind, low)
		return out
	}
	behind := whole(0.57, low)
	out[rearAt], out[solidAt] = placeAt(w, h, rest, behind), placeAt(w, h+behind, rest, low-behind)
	return out
}
