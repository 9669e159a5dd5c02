//go:build unix

package ui

import (
	"fmt"
	"math"
	"path/filepath"
	"syscall"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/ui/view"
)

// What the program itself has to work for one picture of a pan and of a drag, without the toolkit and its driver: the
// mouse's step, the readings and all that is painted. The time of the processors holds on a busy machine too.
func BenchmarkFrame(b *testing.B) {
	for _, plan := range []struct{ boxes, each int }{{4, 100}, {1, 400}, {30, 67}} {
		for _, g := range []struct {
			name   string
			button desktop.MouseButton
		}{{"pan", desktop.MouseButtonTertiary}, {"drag", desktop.MouseButtonPrimary}} {
			b.Run(fmt.Sprintf("%dx%d/%s", plan.boxes, plan.each, g.name), func(b *testing.B) {
				w := largeWindow(b, plan.boxes, plan.each)
				p := w.panes[0]
				from := p.cam.ToPx(view.PlanBounds(w.model.Scene(), "b1/m1").Center())
				at := fyne.NewPos(float32(math.Round(from.X/p.scale)), float32(math.Round(from.Y/p.scale)))
				press(p, at, g.button, 0)
				b.ReportAllocs()
				began := cpuTime()
				i := 0
				for ; b.Loop(); i++ {
					a := 2 * math.Pi * float64(stepsAFrame*i) / 97
					p.motion(at.AddXY(float32(math.Round(12+50*math.Sin(a))), float32(math.Round(30*math.Sin(1.7*a)))))
					w.paintAll()
				}
				b.ReportMetric(float64(cpuTime()-began)/1e6/float64(i), "cpu-ms/frame")
				p.release(at)
			})
		}
	}
}

// stepsAFrame is how many steps a mouse that moves 125 times a second makes for each of 40 pictures a second.
const stepsAFrame = 3

// paintAll paints what a step of the mouse in a view may change.
func (w *Window) paintAll() {
	for _, p := range w.panes {
		p.generate(p.img.Rect.Dx(), p.img.Rect.Dy())
	}
	for _, p := range []*painted{&w.solid.painted, &w.right.gauges.painted, &w.right.findings.painted, &w.right.list.painted, &w.status.painted} {
		p.generate(p.img.Rect.Dx(), p.img.Rect.Dy())
	}
}

func largeWindow(b *testing.B, boxes, each int) *Window {
	plan, err := demo.Large(boxes, each)
	if err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(b.TempDir(), "large.yaml")
	if err := layout.Save(path, plan); err != nil {
		b.Fatal(err)
	}
	w := New(test.NewTempApp(b), plan, Options{Path: path})
	b.Cleanup(w.end)
	w.win.Resize(fyne.NewSize(1280, 800))
	w.win.Canvas().Capture()
	w.model.Background = nil // a step ends with its readings
	return w
}

// cpuTime is the time of the processors that this process took, in nanoseconds.
func cpuTime() int64 {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return u.Utime.Nano() + u.Stime.Nano()
}
