package ui

import (
	"reflect"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// The toolkit's buttons, ticks and choices swallow every key but the space bar while they have the keyboard. Ours
// hand Escape and Return on, so that the dialog that they stand in closes or goes ahead.

// push is a button.
type push struct{ widget.Button }

func newPush(text string, do func()) *push {
	b := &push{}
	b.Text, b.OnTapped = text, do
	b.ExtendBaseWidget(b)
	return b
}

// pushFor is a push that stands in for a button of the toolkit's own.
func pushFor(of *widget.Button) *push {
	b := newPush(of.Text, of.OnTapped)
	b.Icon, b.Importance, b.Alignment = of.Icon, of.Importance, of.Alignment
	if of.Disabled() {
		b.Disable()
	}
	return b
}

// FocusGained implements [fyne.Focusable].
func (b *push) FocusGained() {
	b.Button.FocusGained()
	bringIntoSight(b)
}

// TypedKey implements [fyne.Focusable]: Return and the space bar push the button.
func (b *push) TypedKey(e *fyne.KeyEvent) {
	switch {
	case returns(e.Name) && !b.Disabled():
		b.Tapped(nil)
	case e.Name == fyne.KeySpace:
		b.Button.TypedKey(e)
	default:
		handOn(b, e)
	}
}

// tickBox is a box to tick.
type tickBox struct{ widget.Check }

func newTickBox(text string, changed func(bool)) *tickBox {
	t := &tickBox{}
	t.Text, t.OnChanged = text, changed
	t.ExtendBaseWidget(t)
	return t
}

// FocusGained implements [fyne.Focusable].
func (t *tickBox) FocusGained() {
	t.Check.FocusGained()
	bringIntoSight(t)
}

// TypedKey implements [fyne.Focusable].
func (t *tickBox) TypedKey(e *fyne.KeyEvent) { handOn(t, e) }

// choice is a choice of one among several.
type choice struct{ widget.Select }

func newChoice(options []string, changed func(string)) *choice {
	c := &choice{}
	c.Options, c.OnChanged, c.PlaceHolder = options, changed, "(choose one)"
	c.ExtendBaseWidget(c)
	return c
}

// FocusGained implements [fyne.Focusable].
func (c *choice) FocusGained() {
	c.Select.FocusGained()
	bringIntoSight(c)
}

// TypedKey implements [fyne.Focusable].
func (c *choice) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape || returns(e.Name) {
		handOn(c, e)
		return
	}
	c.Select.TypedKey(e)
}

func returns(k fyne.KeyName) bool { return k == fyne.KeyReturn || k == fyne.KeyEnter }

// handOn lets go of the keyboard and gives a key to the window.
func handOn(from fyne.CanvasObject, e *fyne.KeyEvent) {
	c := fyne.CurrentApp().Driver().CanvasForObject(from)
	if c == nil {
		return
	}
	c.Unfocus()
	if f := c.OnTypedKey(); f != nil {
		f(e)
	}
}

// wire makes the buttons of a dialog that is shown hear the keyboard, and returns what Return does in it: the button
// set off among those along its lower edge, the one button there, or the one set off in what it shows.
func (w *Window) wire() (accept func()) {
	body := w.frontBody()
	if body == nil {
		return nil
	}
	row, ok := body.Objects[buttonsAt].(*fyne.Container)
	if !ok {
		return nil
	}
	for i, o := range row.Objects {
		if b, ok := o.(*widget.Button); ok {
			row.Objects[i] = pushFor(b)
		}
	}
	if b := setOff(row); b != nil {
		return tapper(b)
	}
	if len(row.Objects) == 1 {
		if b, ok := row.Objects[0].(*push); ok {
			return tapper(b)
		}
	}
	if len(row.Objects) == 0 {
		if b := setOff(body.Objects[contentAt]); b != nil {
			return tapper(b)
		}
	}
	return nil
}

// Where the toolkit's dialogs keep what they show and their buttons.
const (
	contentAt = 2
	buttonsAt = 3
)

// frontBody is what the toolkit's dialog in front is made of; nil where that is something else. The toolkit wraps what
// lies over the window in a type of its own that cannot be named here; its contents are read by the field's name, and
// TestDialogsHearTheKeyboard fails should that change.
func (w *Window) frontBody() *fyne.Container {
	top := w.win.Canvas().Overlays().Top()
	if top == nil {
		return nil
	}
	pop, ok := contents(top).(*widget.PopUp)
	if !ok {
		return nil
	}
	body, ok := pop.Content.(*fyne.Container)
	if !ok || len(body.Objects) <= buttonsAt {
		return nil
	}
	return body
}

func contents(o fyne.CanvasObject) any {
	v := reflect.Indirect(reflect.ValueOf(o))
	if v.Kind() != reflect.Struct {
		return nil
	}
	if f := v.FieldByName("Content"); f.IsValid() && f.CanInterface() {
		return f.Interface()
	}
	return nil
}

func tapper(b *push) func() {
	return func() {
		if !b.Disabled() {
			b.Tapped(nil)
		}
	}
}

// setOff is the first button set off in an object, or nil.
func setOff(o fyne.CanvasObject) *push {
	var found *push
	walk(o, func(o fyne.CanvasObject) bool {
		if b, ok := o.(*push); ok && b.Importance == widget.HighImportance {
			found = b
		}
		return found == nil
	})
	return found
}

// firstField is the first field to type in in an object, or nil.
func firstField(o fyne.CanvasObject) *field {
	var found *field
	walk(o, func(o fyne.CanvasObject) bool {
		if f, ok := o.(*field); ok && !f.Disabled() {
			found = f
		}
		return found == nil
	})
	return found
}

// walk visits the objects in containers and scrolled panes while the visitor says so.
func walk(o fyne.CanvasObject, visit func(fyne.CanvasObject) bool) bool {
	if o == nil || !o.Visible() || !visit(o) {
		return false
	}
	for _, c := range inside(o) {
		if c != nil && c.Visible() && !walk(c, visit) {
			return false
		}
	}
	return true
}

func inside(o fyne.CanvasObject) []fyne.CanvasObject {
	switch v := o.(type) {
	case *fyne.Container:
		return v.Objects
	case *widget.Form:
		var out []fyne.CanvasObject
		for _, i := range v.Items {
			out = append(out, i.Widget)
		}
		return out
	case *container.Scroll:
		return []fyne.CanvasObject{v.Content}
	case *container.Split:
		return []fyne.CanvasObject{v.Leading, v.Trailing}
	case *container.AppTabs:
		if t := v.Selected(); t != nil {
			return []fyne.CanvasObject{t.Content}
		}
	}
	return nil
}

// enter gives the keyboard to a dialog's first field, where it asks for something.
func (w *Window) enter(d dialog.Dialog) {
	body := w.frontBody()
	if body == nil || w.accepts[d] == nil {
		return
	}
	if row, ok := body.Objects[buttonsAt].(*fyne.Container); !ok || len(row.Objects) < 2 {
		return
	}
	if f := firstField(body.Objects[contentAt]); f != nil {
		w.win.Canvas().Focus(f)
	}
}
