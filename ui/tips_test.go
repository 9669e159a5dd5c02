package ui

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// A tip lies inside the window wherever the pointer is, and never under it.
func TestTipLiesInTheWindow(t *testing.T) {
	room, size := fyne.NewSize(1280, 800), fyne.NewSize(300, 40)
	for _, at := range []fyne.Position{{X: 5, Y: 5}, {X: 1275, Y: 5}, {X: 1275, Y: 795}, {X: 5, Y: 795}, {X: 640, Y: 400}} {
		p := tipPlace(at, size, room)
		if p.X < 0 || p.Y < 0 || p.X+size.Width > room.Width || p.Y+size.Height > room.Height {
			t.Errorf("for %v it is at %v", at, p)
		}
		if at.X >= p.X && at.X < p.X+size.Width && at.Y >= p.Y && at.Y < p.Y+size.Height {
			t.Errorf("for %v it is under the pointer", at)
		}
	}
}

// Every button of the rail and the strips says what it is for, and a tip of it can be set.
func TestEveryButtonHasATip(t *testing.T) {
	w, _ := testWindow(t)
	for _, s := range []*strip{w.rail, w.tabs, w.left.head, w.right.head, w.right.list} {
		s.spans()
		for i, b := range s.now {
			if b.tip == "" {
				t.Errorf("button %d (%s%s) has no tip", i, b.icon, b.text)
			}
		}
	}
	w.tips.show("a tip", fyne.NewPos(10, 10))
	if !w.tips.root.Visible() || len(w.tips.root.Objects) != 2 || w.tips.root.Size() != w.win.Content().Size() {
		t.Error("the tip does not show")
	}
	w.rail.MouseDown(&desktop.MouseEvent{})
	if w.tips.showing() {
		t.Error("the tip stays when a button is pressed")
	}
}
