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

// viewsLayout shows one view, or four: the plan across the whole width, and under it the side view, the rear view
// and the view from a corner.
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
	h := float32(int(size.Height * 0.56))
	w1, w2 := float32(int(size.Width*0.5)), float32(int(size.Width*0.21))
	low := size.Height - h
	put := func(i int, x, y, w, h float32) {
		v.order[i].Move(fyne.NewPos(x, y))
		v.order[i].Resize(fyne.NewSize(w, h))
	}
	put(planAt, 0, 0, size.Width, h)
	put(sideAt, 0, h, w1, low)
	put(rearAt, w1, h, w2, low)
	put(solidAt, w1+w2, h, size.Width-w1-w2, low)
}
