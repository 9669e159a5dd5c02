package ui

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2/test"
)

func TestPulseDoesTheLatestStepBeforeEachFrame(t *testing.T) {
	test.NewTempApp(t)
	var p pulse
	var done []int
	step := func(i int) func() { return func() { done = append(done, i) } }
	p.each = func() { done = append(done, 0) }
	p.begin()
	p.soon(step(1)) // no frames are seen yet: at once
	p.tick()
	p.tick()
	p.soon(step(2))
	p.soon(step(3))
	if !slices.Equal(done, []int{0, 1, 0, 0}) {
		t.Errorf("between frames %v was done", done)
	}
	p.tick()
	p.tick()
	p.soon(step(4))
	p.after(step(5))
	p.end()
	p.soon(step(6)) // nothing is held any more: at once
	if want := []int{0, 1, 0, 0, 0, 3, 0, 0, 5, 4, 6}; !slices.Equal(done, want) {
		t.Errorf("done %v, not %v", done, want)
	}
}
