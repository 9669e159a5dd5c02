package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// radios are a few ways of which one is chosen, all in sight. They are one stop of Tab; the arrows choose. One is always chosen
// once one was.
type radios struct {
	widget.BaseWidget
	Options   []string
	Selected  string
	OnChanged func(string)

	focused bool
}

func newRadios(options []string, changed func(string)) *radios {
	r := &radios{Options: options, OnChanged: changed}
	r.ExtendBaseWidget(r)
	return r
}

// SetSelected chooses one of the options; others are passed over.
func (r *radios) SetSelected(option string) {
	if option == r.Selected || !slices.Contains(r.Options, option) {
		return
	}
	r.Selected = option
	r.Refresh()
	if r.OnChanged != nil {
		r.OnChanged(option)
	}
}

// FocusGained implements [fyne.Focusable].
func (r *radios) FocusGained() {
	r.focus(true)
	bringIntoSight(r)
}

// FocusLost implements [fyne.Focusable].
func (r *radios) FocusLost() { r.focus(false) }

func (r *radios) focus(on bool) {
	r.focused = on
	r.Refresh()
}

// TypedRune implements [fyne.Focusable].
func (r *radios) TypedRune(rune) {}

// TypedKey implements [fyne.Focusable].
func (r *radios) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyUp, fyne.KeyLeft:
		r.step(-1)
	case fyne.KeyDown, fyne.KeyRight:
		r.step(1)
	case fyne.KeySpace:
		r.step(0)
	default:
		handOn(r, e)
	}
}

// step chooses the option so many on, the first where none is chosen yet.
func (r *radios) step(by int) {
	if len(r.Options) == 0 {
		return
	}
	at := slices.Index(r.Options, r.Selected)
	if at < 0 {
		at, by = 0, 0
	}
	r.SetSelected(r.Options[min(max(at+by, 0), len(r.Options)-1)])
}

// Tapped implements [fyne.Tappable].
func (r *radios) Tapped(e *fyne.PointEvent) {
	if n := len(r.Options); n > 0 {
		i := int(e.Position.Y / (r.Size().Height / float32(n)))
		r.SetSelected(r.Options[min(max(i, 0), n-1)])
	}
}

// CreateRenderer implements [fyne.Widget].
func (r *radios) CreateRenderer() fyne.WidgetRenderer {
	v := &radiosRenderer{of: r, box: container.NewVBox(), ring: canvas.NewRectangle(nil)}
	v.Refresh()
	return v
}

// radiosRenderer shows each option with its sign, and a ring round all of them while they have the keyboard.
type radiosRenderer struct {
	of   *radios
	box  *fyne.Container
	ring *canvas.Rectangle
}

// Refresh implements [fyne.WidgetRenderer].
func (v *radiosRenderer) Refresh() {
	v.box.Objects = nil
	for _, o := range v.of.Options {
		sign := theme.Icon(theme.IconNameRadioButton)
		if o == v.of.Selected {
			sign = theme.Icon(theme.IconNameRadioButtonChecked)
		}
		v.box.Add(container.NewBorder(nil, nil, widget.NewIcon(theme.NewPrimaryThemedResource(sign)), nil, widget.NewLabel(o)))
	}
	v.ring.StrokeWidth = 0
	if v.of.focused {
		v.ring.StrokeWidth, v.ring.StrokeColor = theme.Size(theme.SizeNameInputBorder), theme.Color(theme.ColorNamePrimary)
	}
	v.ring.CornerRadius = theme.Size(theme.SizeNameInputRadius)
	v.Layout(v.of.Size())
	canvas.Refresh(v.of)
}

// Layout implements [fyne.WidgetRenderer].
func (v *radiosRenderer) Layout(size fyne.Size) {
	v.box.Resize(size)
	v.ring.Resize(size)
}

// MinSize implements [fyne.WidgetRenderer].
func (v *radiosRenderer) MinSize() fyne.Size { return v.box.MinSize() }

// Objects implements [fyne.WidgetRenderer].
func (v *radiosRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{v.box, v.ring} }

// Destroy implements [fyne.WidgetRenderer].
func (v *radiosRenderer) Destroy() {}
