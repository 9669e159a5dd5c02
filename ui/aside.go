package ui

import (
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
)

// aside is work on another goroutine, one piece after the other.
type aside struct {
	late atomic.Pointer[func()] // what the last piece left to do here
	done chan struct{}          // closed when the last piece is worked out; nil: there was none
	took atomic.Int64           // how long the last piece took, in nanoseconds
}

// worthWaiting is how long a frame waits for the readings of the place that it shows. Where they take longer they are shown
// by a later frame.
const worthWaiting = 15 * time.Millisecond

// inBackground has work done on another goroutine. What is to be done then is done between two frames, or by
// [Window.collectPainting] while one is painted.
func (w *Window) inBackground(work func() func()) {
	began, done := time.Now(), make(chan struct{})
	w.aside.done = done
	go func() {
		then := work()
		w.aside.took.Store(int64(time.Since(began)))
		timed := func() {
			then()
			w.timings.took("readings", began)
		}
		w.aside.late.Store(&timed)
		close(done)
		if !w.pulse.going.Load() {
			fyne.Do(w.collect)
		}
	}()
}

// collect does what work in the background left to do.
func (w *Window) collect() {
	if then := w.aside.late.Swap(nil); then != nil {
		(*then)()
	}
}

// await waits for what is under way if it can be expected soon.
func (a *aside) await() {
	if a.done == nil || time.Duration(a.took.Load()) > worthWaiting {
		return
	}
	select {
	case <-a.done:
	case <-time.After(worthWaiting):
	}
}

// collectPainting brings the readings up to date while the frame is painted, so that those of a step of a drag are shown
// with it.
func (w *Window) collectPainting() {
	w.aside.await()
	w.painting = true
	w.collect()
	w.painting = false
}
