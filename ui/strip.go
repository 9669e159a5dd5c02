package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// button is one thing to click on a strip.
type button struct {
	icon, text string
	tip        string
	on         func() bool // set off; may be nil
	do         func()
	menu       func(at fyne.Position) // secondary button; may be nil
	width      float64                // along the strip; 0: a square
	gap        bool                   // a gap before it
	tab        bool                   // looks like an index tab when on
}

// strip is a row or column of buttons on the frame.
type strip struct {
	painted
	w        *Window
	upright  bool
	thick    float64
	buttons  func() []button
	now      []button
	over     int // index of the button under the pointer, -1: none
	pressed  int
	trailing string // text at the far end
}

func newStrip(w *Window, upright bool, thick float64, buttons func() []button) *strip {
	s := &strip{w: w, upright: upright, thick: thick, buttons: buttons, over: -1, pressed: -1}
	least := fyne.NewSize(float32(thick), float32(thick))
	s.init(s, least, s.draw)
	return s
}

// span is a button's place along the strip.
type span struct{ from, to float64 }

func (s *strip) spans() []span {
	s.now = s.buttons()
	at := 4.0
	out := make([]span, len(s.now))
	for i, b := range s.now {
		if b.gap {
			at += 10
		}
		size := b.width
		if size == 0 {
			size = s.thick - 4
		}
		out[i] = span{at, at + size}
		at += size + 2
	}
	return out
}

// textButton sets the width that a button's text needs.
func (s *strip) textButton(b button) button {
	b.width = s.w.pages.fonts.Width(b.text, 12.5, true) + 22
	if b.icon != "" {
		b.width += 18
	}
	return b
}

func (s *strip) draw(img *image.RGBA, scale float64) {
	w, h := float64(img.Rect.Dx())/scale, float64(img.Rect.Dy())/scale
	pt := s.w.pages.painter
	pt.SetLook(onFrame{s.w.skin})
	pt.Begin(img, paint.Camera{Centre: r2.Point{X: w / 2, Y: -h / 2}, Scale: scale, W: w * scale, H: h * scale}, scale)
	for i, sp := range s.spans() {
		pt.Items(s.button(i, sp))
	}
	if s.trailing != "" {
		pt.Items([]drawing.Item{drawing.Text{Of: drawing.Tag{Role: roleFrameFaint}, At: r2.Point{X: w - 10, Y: -h / 2}, S: s.trailing, Pt: 11.5, Anchor: drawing.East}})
	}
}

func (s *strip) button(i int, sp span) []drawing.Item {
	b := s.now[i]
	on := b.on != nil && b.on()
	x0, y0, x1, y1 := sp.from, 3.0, sp.to, s.thick-3
	if s.upright {
		x0, y0, x1, y1 = 2, sp.from, s.thick-2, sp.to
	}
	var out []drawing.Item
	fill := func(x0, y0, x1, y1 float64, r drawing.Role) {
		out = append(out, drawing.Fill{Of: drawing.Tag{Role: r}, Area: geometry.NewRect(x0, -y1, x1, -y0)})
	}
	text, ink := roleFrameText, roleFrameText
	switch {
	case on && b.tab:
		fill(x0, y0+1, x1, s.thick, roleTab)
		fill(x0, y0+1, x1, y0+4, roleFrameMark)
		text, ink = roleTabText, roleTabText
	case on:
		fill(x0, y0, x1, y1, roleFrameUnder)
		fill(x0, y0, x0+3, y1, roleFrameMark)
	case i == s.over:
		fill(x0, y0, x1, y1, roleFrameUnder)
	}
	left := x0 + 10
	if b.icon != "" {
		size := min(22, y1-y0-4)
		if b.text == "" {
			out = append(out, icon(b.icon, (x0+x1-size)/2, (y0+y1-size)/2, size, ink)...)
		} else {
			out = append(out, icon(b.icon, x0+8, (y0+y1-16)/2, 16, ink)...)
			left += 18
		}
	}
	if b.text != "" {
		out = append(out, drawing.Text{Of: drawing.Tag{Role: text}, At: r2.Point{X: left, Y: -(y0 + y1) / 2}, S: b.text, Pt: 12.5, Anchor: drawing.West})
	}
	return out
}

func (s *strip) at(pos fyne.Position) int {
	v := float64(pos.X)
	if s.upright {
		v = float64(pos.Y)
	}
	for i, sp := range s.spans() {
		if v >= sp.from && v < sp.to {
			return i
		}
	}
	return -1
}

// MouseIn implements [desktop.Hoverable].
func (s *strip) MouseIn(e *desktop.MouseEvent) { s.MouseMoved(e) }

// MouseMoved implements [desktop.Hoverable].
func (s *strip) MouseMoved(e *desktop.MouseEvent) {
	if i := s.at(e.Position); i != s.over {
		s.over = i
		tip := ""
		if i >= 0 {
			tip = s.now[i].tip
		}
		s.w.model.Say(tip)
		s.w.tips.soon(tip, e.AbsolutePosition)
		s.repaint()
	}
}

// MouseOut implements [desktop.Hoverable].
func (s *strip) MouseOut() {
	s.over = -1
	s.w.model.Say("")
	s.w.tips.hide()
	s.repaint()
}

// Cursor implements [desktop.Cursorable].
func (s *strip) Cursor() desktop.Cursor {
	if s.over >= 0 {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// MouseDown implements [desktop.Mouseable].
func (s *strip) MouseDown(e *desktop.MouseEvent) {
	s.w.tips.hide()
	s.pressed = s.at(e.Position)
	if s.pressed >= 0 && e.Button == desktop.MouseButtonSecondary && s.now[s.pressed].menu != nil {
		s.now[s.pressed].menu(e.AbsolutePosition)
		s.pressed = -1
	}
}

// MouseUp implements [desktop.Mouseable].
func (s *strip) MouseUp(e *desktop.MouseEvent) {
	if i := s.at(e.Position); i >= 0 && i == s.pressed && s.now[i].do != nil {
		s.now[i].do()
		s.repaint()
	}
	s.pressed = -1
}
