package ui

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout/drawing"
)

func TestViewFromACornerIsLinked(t *testing.T) {
	w, _ := testWindow(t)
	s, plan := w.solid, w.panes[0]
	plan.zoom(plan.middle(), 2)
	w.win.Canvas().Capture()
	if math.Abs(s.zoom-2) > 1e-9 {
		t.Errorf("zoomed %v times from a corner, 2 in the plan", s.zoom)
	}
	mid := s.eye().Point(w.middle())
	if d := s.cam.Centre.Sub(mid).Norm() * s.cam.Scale; d > 1 { // cameras are snapped to pixels
		t.Errorf("its middle is %v pixels off that of the others", d)
	}
	was := plan.cam.Scale
	s.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.Delta{DY: 1}})
	if math.Abs(plan.cam.Scale/was-zoomStep) > 1e-9 {
		t.Errorf("the plan zoomed %v times", plan.cam.Scale/was)
	}
}

func TestHoverAndClickFromACorner(t *testing.T) {
	w, _ := testWindow(t)
	s := w.solid
	body := w.model.Scene().Body("mid/m1")
	c := body.Prism.Base.Bounds().Center()
	px := s.cam.ToPx(drawing.Eye{YawDeg: s.yaw, PitchDeg: s.pitch}.Point(r3.Vector{X: c.X, Y: c.Y, Z: body.Prism.Top}))
	at := fyne.NewPos(float32(px.X/s.scale), float32(px.Y/s.scale))
	s.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	if got := w.model.Hover(); got != "mid/m1" {
		t.Errorf("hover %q over m1", got)
	}
	s.MouseOut()
	if w.model.Hover() != "" {
		t.Error("hover stays after the pointer left")
	}
	s.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary})
	s.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary})
	if got := w.model.Selection.Last(); got != "mid/m1" {
		t.Errorf("picked %q", got)
	}
}

// The four views fill the room, none over another, and no view of the vehicle's length is narrower than half of it.
func TestFourViewsShareTheRoom(t *testing.T) {
	for _, size := range []fyne.Size{{Width: 672, Height: 718}, {Width: 1312, Height: 998}, {Width: 300, Height: 900}, {Width: 2400, Height: 700}} {
		area := float32(0)
		places := fourViews(size)
		for i, p := range places {
			area += p.size.Width * p.size.Height
			r := r2.RectFromPoints(r2.Point{X: float64(p.pos.X), Y: float64(p.pos.Y)}, r2.Point{X: float64(p.pos.X + p.size.Width), Y: float64(p.pos.Y + p.size.Height)})
			for _, q := range places[i+1:] {
				o := r2.RectFromPoints(r2.Point{X: float64(q.pos.X), Y: float64(q.pos.Y)}, r2.Point{X: float64(q.pos.X + q.size.Width), Y: float64(q.pos.Y + q.size.Height)})
				if r.InteriorIntersects(o) {
					t.Errorf("%v: view %d lies over another", size, i)
				}
			}
		}
		if area != size.Width*size.Height {
			t.Errorf("%v: views cover %v", size, area)
		}
		if places[sideAt].size.Width < 0.45*size.Width || places[planAt].size.Width != size.Width {
			t.Errorf("%v: plan %v, side %v", size, places[planAt].size, places[sideAt].size)
		}
	}
}

func TestFitLeavesRoomForWhatStandsAlongTheEdges(t *testing.T) {
	w, _ := testWindow(t)
	for _, p := range w.panes {
		body := w.drawList(p, noNames).Bounds
		m := edges[p.view]
		lo, hi := p.cam.ToPx(r2.Point{X: body.X.Lo, Y: body.Y.Hi}), p.cam.ToPx(r2.Point{X: body.X.Hi, Y: body.Y.Lo})
		if lo.X < m.left*p.scale-1 || lo.Y < m.top*p.scale-1 || hi.X > p.cam.W-m.right*p.scale+1 || hi.Y > p.cam.H-m.bottom*p.scale+1 {
			t.Errorf("%v: the vehicle covers %v to %v of %v by %v pixels", p.view, lo, hi, p.cam.W, p.cam.H)
		}
	}
}

// Turned while it is zoomed in, the view from a corner keeps what is in its middle there, as large as it was; shown whole,
// it stays whole. The places are those of the drawing's own projection.
func TestTurnsAboutTheMiddleOfWhatIsSeen(t *testing.T) {
	w, _ := testWindow(t)
	s := w.solid
	turn := func() {
		s.MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
		for range 3 {
			s.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(40, 12)})
		}
		s.DragEnd()
		w.win.Canvas().Capture()
	}
	turn()
	if s.zoom != 1 || s.off != (r2.Point{}) {
		t.Errorf("shown whole, it is zoomed by %v and off by %v after turning", s.zoom, s.off)
	}
	b := w.model.Scene().Body("mid/m1").Prism
	c := b.Base.Bounds().Center()
	top := r3.Vector{X: c.X, Y: c.Y, Z: b.Top}
	s.follow(4, top)
	w.win.Canvas().Capture()
	scale := s.cam.Scale
	turn()
	if d := s.eye().Point(top).Sub(s.cam.Centre).Norm() * s.cam.Scale; d > 1.5 {
		t.Errorf("the module in the middle moved by %v pixels", d)
	}
	if math.Abs(s.cam.Scale/scale-1) > 1e-9 {
		t.Errorf("turning zoomed by %v", s.cam.Scale/scale)
	}
}
