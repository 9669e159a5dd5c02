package ui

import (
	"fmt"
	"os"
	"time"

	"fyne.io/fyne/v2"

	"stowbay/layout"
)

// Timings says what is printed for measuring.
type Timings int

// Nothing, what each frame shows, or also how long everything takes.
const (
	NoTimings Timings = iota
	FrameTimings
	AllTimings
)

// timings prints to standard error, for measuring, how long things take and what each frame shows. Off, it does nothing.
type timings struct {
	on       bool
	each     bool          // print how long things take too
	after    func(func())  // does something between this frame and the next
	framing  bool          // the frame being painted will be printed
	handled  fyne.Position // of the mouse in the window, as handled last
	readings fyne.Position // of the mouse when it made the plan whose readings are painted
	steps    []dragStep    // the latest, the oldest first
}

// dragStep is a plan shown during a drag and where the mouse was.
type dragStep struct {
	plan *layout.Plan
	at   fyne.Position
}

// mostSteps is how many steps of a drag are remembered: more than are under way at once.
const mostSteps = 64

// took prints how long something took.
func (t *timings) took(what string, began time.Time) {
	if t.each {
		fmt.Fprintf(os.Stderr, "timing %s %.3f ms\n", what, float64(time.Since(began).Microseconds())/1000)
	}
}

// moved notes where the mouse is while it is handled.
func (t *timings) moved(at fyne.Position) { t.handled = at }

// stepped notes that the mouse's place made a plan.
func (t *timings) stepped(p *layout.Plan) {
	if !t.on {
		return
	}
	if len(t.steps) >= mostSteps {
		t.steps = append(t.steps[:0], t.steps[mostSteps/2:]...)
	}
	t.steps = append(t.steps, dragStep{p, t.handled})
}

// reads notes that the readings of a plan are painted.
func (t *timings) reads(p *layout.Plan) {
	for _, s := range t.steps {
		if s.plan == p {
			t.readings = s.at
		}
	}
}

// framed has a line printed once the frame that is being painted is shown: when, in microseconds of the clock, and the
// places of the mouse that its views and its readings follow. During a drag that is when the next frame begins.
func (t *timings) framed() {
	if !t.on || t.framing {
		return
	}
	t.framing = true
	view := t.handled
	t.after(func() {
		t.framing = false
		fmt.Fprintf(os.Stderr, "frame %d views %.0f %.0f readings %.0f %.0f\n", time.Now().UnixMicro(), view.X, view.Y, t.readings.X, t.readings.Y)
	})
}
