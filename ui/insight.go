package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// bringIntoSight scrolls what a thing stands in so far that it is seen: where Tab leads to it, the user has to see it.
func bringIntoSight(o fyne.CanvasObject) {
	c := fyne.CurrentApp().Driver().CanvasForObject(o)
	if c == nil {
		return
	}
	root := c.Content()
	if pop, ok := contents(c.Overlays().Top()).(*widget.PopUp); ok {
		root = pop.Content
	}
	for _, s := range scrollsAbout(root, o) {
		scrollTo(s, o)
	}
}

// scrollsAbout are the scrolled panes under a root that a thing stands in, the innermost first; none where it does not.
func scrollsAbout(root, o fyne.CanvasObject) []*container.Scroll {
	found, _ := pathTo(root, o)
	return found
}

func pathTo(root, o fyne.CanvasObject) (scrolls []*container.Scroll, ok bool) {
	if root == o {
		return nil, true
	}
	for _, in := range inside(root) {
		if in == nil {
			continue
		}
		if scrolls, ok = pathTo(in, o); ok {
			if s, is := root.(*container.Scroll); is {
				scrolls = append(scrolls, s)
			}
			return scrolls, true
		}
	}
	return nil, false
}

// aboutFocus is how much is shown above and below what the keyboard is at, for its label and what is wrong with it.
const aboutFocus = 28

func scrollTo(s *container.Scroll, o fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	top := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(s.Content).Y
	bottom, high := top+o.Size().Height+aboutFocus, s.Size().Height
	y := min(s.Offset.Y, max(top-aboutFocus, 0))
	if bottom > y+high {
		y = min(bottom-high, max(top-aboutFocus, 0))
	}
	if y != s.Offset.Y {
		s.ScrollToOffset(fyne.NewPos(s.Offset.X, y))
	}
}
