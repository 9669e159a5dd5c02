package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// details shows what is picked, in fields.
type details struct {
	w    *Window
	root *fyne.Container
}

func newDetails(w *Window) *details { return &details{w: w, root: container.NewVBox()} }

func (d *details) update(bool) {}
