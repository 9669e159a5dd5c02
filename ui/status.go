package ui

import (
	"fmt"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/golang/geo/r2"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
)

// statusHeight is the height of the status line.
const statusHeight = 26

// status is the line along the window's lower edge: what to do next, where the pointer is, what the findings come to.
type status struct {
	painted
	w     *Window
	brush *paint.Repainter
	at    string
}

func newStatus(w *Window) *status {
	s := &status{w: w, brush: paint.NewRepainter(w.halves)}
	s.init(s, fyne.NewSize(300, statusHeight), s.draw)
	return s
}

// place shows where the pointer is.
func (s *status) place(text string) {
	if text != s.at {
		s.at = text
		s.repaint()
	}
}

func (s *status) draw(img *image.RGBA, scale float64) {
	w, h := float64(img.Rect.Dx())/scale, float64(img.Rect.Dy())/scale
	var items []drawing.Item
	text := func(x float64, role drawing.Role, a drawing.Anchor, t string) {
		items = append(items, drawing.Text{Of: drawing.Tag{Role: role}, At: r2.Point{X: x, Y: -h / 2}, S: t, Pt: 12, Anchor: a})
	}
	right := w - 12
	counts := s.counts()
	text(right, roleFrameText, drawing.East, counts)
	right -= s.w.pages.fonts.Width(counts, 12, false) + 24
	text(right, roleFrameFaint, drawing.East, s.at)
	right -= max(s.w.pages.fonts.Width(s.at, 12, false), 190) + 16
	say := s.w.model.Status()
	if say == "" {
		say = s.w.model.Tool().Hint()
	}
	text(12, roleFrameText, drawing.West, s.w.pages.fonts.Cut(say, 12, right-12, false))
	s.brush.Paint(img, paint.Under{}, screenLayer(onFrame{s.w.skin}, w*scale, h*scale, scale, items))
}

func (s *status) counts() string {
	if s.w.idle() {
		return ""
	}
	n := s.w.model.Eval().Counts()
	return fmt.Sprintf("%d fail · %d warn · %d note", n[check.Fails], n[check.Warns], n[check.Notes])
}

// MouseIn implements [desktop.Hoverable].
func (s *status) MouseIn(*desktop.MouseEvent) {}

// MouseMoved implements [desktop.Hoverable].
func (s *status) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements [desktop.Hoverable].
func (s *status) MouseOut() {}

// coordinates writes a place in a view's plane.
func (w *Window) coordinates(v drawing.View, p r2.Point) string {
	n := axisNames[v]
	u := w.model.Units()
	a, unit := u.Show(p.X, "mm")
	b, _ := u.Show(p.Y, "mm")
	d := 0
	if u == view.Imperial {
		d = 2
	}
	return fmt.Sprintf("%s %s   %s %s %s", n[0], view.Number(a, d), n[1], view.Number(b, d), unit)
}
