package ui

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
)

// solid shows the arrangement from a corner; the mouse turns it.
type solid struct {
	painted
	w          *Window
	yaw, pitch float64
	zoom       float64
	off        r2.Point // of the middle, mm
	brush      *paint.Repainter
	list       *drawing.List
	last       fyne.Position
	button     desktop.MouseButton
	cam        paint.Camera // as painted last
	turned     bool         // dragged since the button went down
	pivot      *pivot       // what it turns about; nil: the whole
}

// How the view from a corner opens, in degrees.
const (
	firstYaw   = 35
	firstPitch = 28
)

func newSolid(w *Window) *solid {
	s := &solid{w: w, yaw: firstYaw, pitch: firstPitch, zoom: 1, brush: paint.NewRepainter(w.halves)}
	s.init(s, fyne.NewSize(120, 90), s.draw)
	return s
}

func (s *solid) stale() {
	s.list = nil
	s.repaint()
}

func (s *solid) draw(img *image.RGBA, scale float64) {
	began := time.Now()
	if s.list == nil {
		o := s.w.model.Options()
		o.Off |= drawing.LayerKeepOuts | drawing.LayerStrips
		s.list = drawing.Axonometric(s.w.model.Scene(), o, s.yaw, s.pitch)
	}
	cam := paint.Camera{W: float64(img.Rect.Dx()), H: float64(img.Rect.Dy())}.Fit(s.list.Bounds, 14*scale)
	s.keepPivot(cam)
	cam.Scale *= s.zoom
	cam.Centre = cam.Centre.Add(s.off)
	cam = cam.Snapped()
	s.cam = cam
	s.brush.Paint(img, paint.Under{}, paint.Layer{Look: s.w.skin, Cam: cam, PxPerPt: pointPx * scale, Items: s.list.Items}, s.name(cam, scale))
	s.w.timings.took("paint from a corner", began)
}

// name is the view's name and its edge.
func (s *solid) name(cam paint.Camera, scale float64) paint.Layer {
	const text = "Drag to turn, click to pick"
	w, h := cam.W/scale, cam.H/scale
	wide := s.w.pages.fonts.Width(text, 11.5, true)
	return screenLayer(onPane{s.w.skin}, cam.W, cam.H, scale, []drawing.Item{
		drawing.Fill{Of: drawing.Tag{Role: roleFrame}, Area: geometry.NewRect(0, -2, w, 0)},
		drawing.Fill{Of: drawing.Tag{Role: roleFrame}, Area: geometry.NewRect(0, -h, 2, 0)},
		drawing.Fill{Of: drawing.Tag{Role: view.RolePane}, Area: geometry.NewRect(w-wide-18, -h, w, -(h - 22))},
		drawing.Text{Of: drawing.Tag{Role: view.RoleHead}, At: r2.Point{X: w - 9, Y: -(h - 11)}, S: text, Pt: 11.5, Anchor: drawing.East},
	})
}

// MouseDown implements [desktop.Mouseable].
func (s *solid) MouseDown(e *desktop.MouseEvent) {
	s.button, s.last, s.turned, s.pivot = e.Button, e.Position, false, nil
}

// MouseUp implements [desktop.Mouseable]. A click that turned nothing picks what is seen there.
func (s *solid) MouseUp(e *desktop.MouseEvent) {
	held := s.button
	s.button = 0
	if held != desktop.MouseButtonPrimary || s.turned || s.cam.Scale == 0 {
		return
	}
	ref := s.under(e.Position)
	if e.Modifier&fyne.KeyModifierControl == 0 {
		s.w.model.Pick()
	}
	if ref != "" {
		s.w.model.Pick(append(s.w.model.Selection.Refs(), ref)...)
	}
}

// under is what is seen at a place of the widget, or "".
func (s *solid) under(pos fyne.Position) string {
	if s.cam.Scale == 0 {
		return ""
	}
	at := s.cam.ToMM(s.px(pos))
	return view.SolidTop(s.w.model.Scene(), s.w.model.Display.Off, s.eye(), at)
}

func (s *solid) eye() drawing.Eye { return drawing.Eye{YawDeg: s.yaw, PitchDeg: s.pitch} }

// MouseIn implements [desktop.Hoverable].
func (s *solid) MouseIn(*desktop.MouseEvent) {}

// MouseMoved implements [desktop.Hoverable].
func (s *solid) MouseMoved(e *desktop.MouseEvent) {
	if s.button == desktop.MouseButtonSecondary {
		s.slide(e.Position)
		return
	}
	s.w.model.SetHover(s.under(e.Position))
}

// MouseOut implements [desktop.Hoverable].
func (s *solid) MouseOut() { s.w.model.SetHover("") }

// Dragged implements [fyne.Draggable].
func (s *solid) Dragged(e *fyne.DragEvent) {
	s.turned = true
	if s.button != desktop.MouseButtonPrimary {
		s.slide(e.Position)
		return
	}
	s.hold()
	s.yaw += float64(e.Dragged.DX) * 0.5
	s.pitch = min(max(s.pitch+float64(e.Dragged.DY)*0.5, 5), 88)
	s.last = e.Position
	s.stale()
}

// slide pushes the picture along with the mouse.
func (s *solid) slide(to fyne.Position) {
	if s.list == nil {
		return
	}
	by := to.Subtract(s.last)
	s.last, s.pivot = to, nil
	k := paint.Camera{W: float64(s.Size().Width), H: float64(s.Size().Height)}.Fit(s.list.Bounds, 14).Scale * s.zoom
	s.off = s.off.Add(r2.Point{X: -float64(by.X) / k, Y: float64(by.Y) / k})
	s.repaint()
}

// DragEnd implements [fyne.Draggable].
func (s *solid) DragEnd() { s.button = 0 }

// Scrolled implements [fyne.Scrollable].
func (s *solid) Scrolled(e *fyne.ScrollEvent) {
	switch {
	case e.Scrolled.DY > 0:
		s.zoomBy(zoomStep)
	case e.Scrolled.DY < 0:
		s.zoomBy(1 / zoomStep)
	}
}

// zoomBy zooms this view and the others with it.
func (s *solid) zoomBy(factor float64) {
	s.pivot = nil
	s.zoom *= factor
	s.repaint()
	for _, p := range s.w.panes {
		if p.cam.Scale > 0 {
			p.fitted = false
			p.cam.Scale = min(max(p.cam.Scale*factor, paint.MinScale), paint.MaxScale)
			p.repaint()
		}
	}
}

// follow shows what the other views show: as near, with the same place in the middle.
func (s *solid) follow(zoom float64, middle r3.Vector) {
	s.zoom, s.pivot = zoom, nil
	if s.list != nil {
		s.off = s.eye().Point(middle).Sub(s.list.Bounds.Center())
	}
	s.repaint()
}
