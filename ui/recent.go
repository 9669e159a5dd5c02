package ui

import (
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// maxRecent is how many plans are remembered.
const maxRecent = 8

// recents are the files of the plans opened lately, the last one first.
func (w *Window) recents() []string { return w.app.Preferences().StringList(recentsKey) }

// remember puts a plan's file at the head of the list.
func (w *Window) remember(path string) {
	if path == "" {
		return
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return
	}
	list := append([]string{abs}, w.without(abs)...)
	w.setRecents(list[:min(len(list), maxRecent)])
}

// forget takes a plan's file out of the list.
func (w *Window) forget(path string) {
	w.setRecents(w.without(path))
	w.model.Say(filepath.Base(path) + " is out of the list of recent plans. Its file stays where it is.")
}

// forgetAll empties the list.
func (w *Window) forgetAll() {
	w.setRecents(nil)
	w.model.Say("The list of recent plans is empty. The plans' files stay where they are.")
}

func (w *Window) without(path string) []string {
	return slices.DeleteFunc(slices.Clone(w.recents()), func(p string) bool { return p == path })
}

func (w *Window) setRecents(list []string) {
	w.app.Preferences().SetStringList(recentsKey, list)
	w.menuTicks()
	w.start.refill()
}

// askForget says that a plan of the list is not there any more and offers to take it out.
func (w *Window) askForget(path string) {
	w.choose("The plan is not there", path+" is not there any more. It was moved, renamed or deleted, or its disk is not connected.",
		way{"Take it out of the list", func() { w.forget(path) }}, way{"Keep it in the list", nil})
}

// recentItem is the part of the menu that opens recent plans and tidies the list of them.
func (w *Window) recentItem() *fyne.MenuItem {
	item := fyne.NewMenuItem("Open recent", nil)
	var open, out []*fyne.MenuItem
	for _, path := range w.recents() {
		open = append(open, fyne.NewMenuItem(path, func() { w.askBeforeLosing(func() { w.open(path) }) }))
		out = append(out, fyne.NewMenuItem(path, func() { w.forget(path) }))
	}
	if len(open) == 0 {
		none := fyne.NewMenuItem("None yet", nil)
		none.Disabled = true
		item.ChildMenu = fyne.NewMenu("", none)
		return item
	}
	one := fyne.NewMenuItem("Take one out of this list", nil)
	one.ChildMenu = fyne.NewMenu("", out...)
	item.ChildMenu = fyne.NewMenu("", append(open, fyne.NewMenuItemSeparator(), one, fyne.NewMenuItem("Empty this list", w.forgetAll))...)
	return item
}

// recentList is the part of the first page that opens recent plans and tidies the list of them; nil where there are none.
func (w *Window) recentList() []fyne.CanvasObject {
	list := w.recents()
	if len(list) == 0 {
		return nil
	}
	empty := newPush("Empty this list", w.forgetAll)
	empty.Importance = widget.LowImportance
	out := []fyne.CanvasObject{container.NewBorder(nil, nil, nil, empty, bold("Plans opened lately"))}
	for _, path := range list {
		out = append(out, w.recentRow(path))
	}
	return out
}

func (w *Window) recentRow(path string) fyne.CanvasObject {
	open := newPush(filepath.Base(path)+"   ("+filepath.Dir(path)+")", func() { w.open(path) })
	open.Alignment, open.Importance = widget.ButtonAlignLeading, widget.LowImportance
	return container.NewBorder(nil, nil, nil, newCross(w, "Take it out of this list; the plan's file stays", func() { w.forget(path) }), open)
}

// cross is a small button that takes a row out of a list and says so when the pointer rests on it.
type cross struct {
	push
	w   *Window
	tip string
}

func newCross(w *Window, tip string, do func()) *cross {
	c := &cross{w: w, tip: tip}
	c.Icon, c.Importance, c.OnTapped = theme.CancelIcon(), widget.LowImportance, do
	c.ExtendBaseWidget(c)
	return c
}

// MouseIn implements [desktop.Hoverable].
func (c *cross) MouseIn(e *desktop.MouseEvent) {
	c.push.MouseIn(e)
	c.w.tips.soon(c.tip, e.AbsolutePosition)
}

// MouseOut implements [desktop.Hoverable].
func (c *cross) MouseOut() {
	c.push.MouseOut()
	c.w.tips.hide()
}

// Tapped implements [fyne.Tappable].
func (c *cross) Tapped(e *fyne.PointEvent) {
	c.w.tips.hide()
	c.push.Tapped(e)
}
