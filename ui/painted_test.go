package ui

import (
	"image"
	"math/rand/v2"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"stowbay/layout/demo"
	"stowbay/ui/paint"
)

// After any pushing, dragging, zooming and hovering every picture is as one painted whole. Of pixels on slanted edges
// some may be off a little where a part ended.
func TestPicturesFollowAsIfPaintedWhole(t *testing.T) {
	plan, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	w := New(test.NewTempApp(t), plan, Options{Unnamed: true})
	t.Cleanup(w.end)
	w.win.Resize(fyne.NewSize(1280, 800))
	w.win.Canvas().Capture()
	w.model.Background = nil
	r := rand.New(rand.NewPCG(7, 8))
	for range 12 {
		w.anyGesture(r)
		for _, c := range []struct {
			p     *painted
			brush **paint.Repainter
			name  string
		}{
			{&w.panes[0].painted, &w.panes[0].brush, "plan"}, {&w.panes[1].painted, &w.panes[1].brush, "side"}, {&w.panes[2].painted, &w.panes[2].brush, "rear"},
			{&w.solid.painted, &w.solid.brush, "corner"}, {&w.right.gauges.painted, &w.right.gauges.brush, "readings"},
			{&w.right.findings.painted, &w.right.findings.brush, "findings"}, {&w.status.painted, &w.status.brush, "status"},
		} {
			size := c.p.img.Rect.Size()
			live := slices.Clone(c.p.generate(size.X, size.Y).(*image.RGBA).Pix)
			*c.brush = paint.NewRepainter(w.halves)
			whole := c.p.generate(size.X, size.Y).(*image.RGBA).Pix
			if n := off(live, whole); n > 0 {
				t.Fatalf("%s: %d bytes are off", c.name, n)
			}
		}
	}
}

// anyGesture is a few steps of some gesture in some view, each painted.
func (w *Window) anyGesture(r *rand.Rand) {
	p := w.panes[r.IntN(len(w.panes))]
	size := p.Size()
	at := fyne.NewPos(float32(r.IntN(int(size.Width))), float32(r.IntN(int(size.Height))))
	button := []desktop.MouseButton{0, desktop.MouseButtonPrimary, desktop.MouseButtonTertiary, desktop.MouseButtonTertiary}[r.IntN(4)]
	if refs := w.model.Arrangement().Boxes[0].Modules; button == desktop.MouseButtonPrimary {
		w.model.Pick(w.model.Arrangement().Boxes[0].ID + "/" + refs[r.IntN(len(refs))].ID)
	}
	if r.IntN(3) == 0 {
		p.zoom(at, zoomStep)
	}
	if button != 0 {
		press(p, at, button, 0)
	}
	for range 6 {
		at = at.AddXY(float32(r.IntN(31)-15), float32(r.IntN(21)-10))
		p.motion(at)
		for _, c := range []*painted{&w.panes[0].painted, &w.panes[1].painted, &w.panes[2].painted, &w.solid.painted, &w.right.gauges.painted, &w.right.findings.painted, &w.status.painted} {
			c.generate(c.img.Rect.Dx(), c.img.Rect.Dy())
		}
	}
	if button != 0 {
		p.release(at)
	}
}

// off counts the bytes of two pictures that differ by more than rounding.
func off(a, b []byte) int {
	n := 0
	for i := range a {
		if d := int(a[i]) - int(b[i]); d > 16 || d < -16 {
			n++
		}
	}
	return n
}
