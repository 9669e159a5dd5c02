package ui

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
)

// tips shows what a button or a row is for beside the pointer that rests on it. The toolkit has nothing of the kind.
// It lies over the window without taking the mouse. The layer is always there, empty or not: the toolkit does not paint
// for what it never saw before.
type tips struct {
	w    *Window
	root *fyne.Container
	back *canvas.Rectangle
	wait *time.Timer
	turn int // counts what was pointed at, so that a late timer is passed over
}

// How long the pointer rests before a tip shows, how wide its text may be and how it is set.
const (
	tipDelay  = 600 * time.Millisecond
	tipWidth  = 300
	tipSize   = 12
	tipMargin = 7
	tipLine   = 17
)

func newTips(w *Window) *tips {
	t := &tips{w: w, back: canvas.NewRectangle(w.skin.ink.frame)}
	t.back.StrokeWidth = 1
	t.root = container.NewWithoutLayout()
	return t
}

// soon shows a text beside a place of the window when the pointer has rested there; an empty text shows nothing.
func (t *tips) soon(text string, at fyne.Position) {
	t.hide()
	if text == "" || !t.w.shown || t.w.blocked() {
		return
	}
	turn := t.turn
	t.wait = time.AfterFunc(tipDelay, func() {
		fyne.Do(func() {
			if t.turn == turn && !t.w.blocked() {
				t.show(text, at)
			}
		})
	})
}

// hide takes the tip away, or keeps it from showing.
func (t *tips) hide() {
	t.turn++
	if t.wait != nil {
		t.wait.Stop()
	}
	if t.showing() {
		t.root.RemoveAll()
		t.root.Refresh()
	}
}

// showing tells whether a tip is to be seen.
func (t *tips) showing() bool { return len(t.root.Objects) > 0 }

func (t *tips) show(text string, at fyne.Position) {
	fonts := t.w.pages.fonts
	lines := fonts.Wrap(text, tipSize, tipWidth, false)
	wide := 0.0
	t.root.Objects = []fyne.CanvasObject{t.back}
	for _, line := range lines {
		c := canvas.NewText(line, t.w.skin.ink.frameText)
		c.TextSize = tipSize
		t.root.Add(c)
		wide = max(wide, fonts.Width(line, tipSize, false))
	}
	size := fyne.NewSize(float32(wide)+2*tipMargin+4, float32(len(lines))*tipLine+tipMargin)
	place := tipPlace(at, size, t.w.win.Canvas().Size())
	t.back.FillColor, t.back.StrokeColor = t.w.skin.ink.frame, t.w.skin.ink.mark
	t.back.Move(place)
	t.back.Resize(size)
	for i, o := range t.root.Objects[1:] {
		o.Move(place.AddXY(tipMargin, tipMargin/2+float32(i)*tipLine))
		o.Resize(o.MinSize())
	}
	t.root.Refresh()
}

// tipPlace is where a tip of a size goes for the pointer at a place: below it to the right, and inside the window.
func tipPlace(at fyne.Position, size, room fyne.Size) fyne.Position {
	const off = 16
	x, y := at.X+off, at.Y+off
	if y+size.Height > room.Height {
		y = at.Y - off/2 - size.Height
	}
	return fyne.NewPos(max(min(x, room.Width-size.Width-4), 2), max(y, 2))
}
