package ui

import (
	"math"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
)

// pulse has things done before every frame while a button is held: the latest step of the mouse, so that a mouse that
// moves several times between two frames costs one step and the frame shows the last of them; and what work in the
// background left to do. Where frames take long the toolkit does what it is given by other goroutines once a frame or
// less, and it piles up.
type pulse struct {
	each  func()          // done at every beat; may be nil
	beat  *fyne.Animation // the toolkit ticks it after the events and before the painting
	beats int
	going atomic.Bool // beats are seen to come
	next  func()      // the step to do; nil: none
	once  []func()    // to be done at the next beat
}

// begin begins to beat.
func (p *pulse) begin() {
	p.end()
	p.beats = 0
	p.beat = fyne.NewAnimation(time.Duration(math.MaxInt64/2), func(float32) { p.tick() })
	p.beat.Start()
}

func (p *pulse) tick() {
	if p.beats++; p.beats == 2 { // the toolkit's test driver ticks once and no more
		p.going.Store(true)
	}
	p.clear()
}

// clear does what waits, the step last.
func (p *pulse) clear() {
	if p.each != nil {
		p.each()
	}
	once := p.once
	p.once = nil
	for _, f := range once {
		f()
	}
	p.flush()
}

// soon has a step done at the next beat, or at once where none come. A later step takes the place of one not yet done.
func (p *pulse) soon(step func()) {
	p.next = step
	if !p.going.Load() {
		p.flush()
	}
}

// after has something done between this frame and the next.
func (p *pulse) after(f func()) {
	if p.going.Load() {
		p.once = append(p.once, f)
		return
	}
	go fyne.Do(f)
}

// flush does the step that waits.
func (p *pulse) flush() {
	if step := p.next; step != nil {
		p.next = nil
		step()
	}
}

// end does what waits and beats no more.
func (p *pulse) end() {
	if p.beat != nil {
		p.beat.Stop()
		p.beat = nil
	}
	if p.going.Swap(false) {
		p.clear()
	}
	p.flush()
}
