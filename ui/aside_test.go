package ui

import (
	"testing"
	"time"
)

// A frame shows what is soon worked out, and does not wait for what takes long.
func TestFramesWaitForReadingsThatComeSoon(t *testing.T) {
	w := &Window{}
	w.pulse.going.Store(true) // frames come
	shown := 0
	w.inBackground(func() func() {
		time.Sleep(2 * time.Millisecond)
		return func() { shown++ }
	})
	w.collectPainting()
	if shown != 1 {
		t.Fatalf("shown %d times with the frame", shown)
	}
	hold := make(chan struct{})
	w.aside.took.Store(int64(time.Second))
	w.inBackground(func() func() { <-hold; return func() { shown++ } })
	w.collectPainting() // would never come back if it waited
	if shown != 1 {
		t.Fatal("shown before it was worked out")
	}
	close(hold)
	<-w.aside.done
	w.collect()
	if shown != 2 {
		t.Errorf("shown %d times between frames", shown)
	}
}
