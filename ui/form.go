package ui

import (
	"errors"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	plan "stowbay/layout"
	"stowbay/ui/view"
	"stowbay/vehicles/record"
)

// form edits a record through fields made from the record's tags. It works on a copy of the record: value is a
// pointer to it.
type form struct {
	w       *Window
	value   any
	skip    []string       // fields that are not shown
	changed func(f string) // a field was set; told its name
	narrow  bool           // labels above the fields
	refresh []func()       // bring each field up to date with the record
}

// field is a text field that tells when it is left.
type field struct {
	widget.Entry
	left   func()
	gained func()
	keys   func(fyne.KeyName) bool // takes keys before the field does; may be nil
	mouse  bool                    // the keyboard comes by a click, which puts the cursor where it was made
}

func newField() *field {
	f := &field{}
	f.ExtendBaseWidget(f)
	return f
}

// newNote is a field of several lines.
func newNote() *field {
	f := &field{}
	f.MultiLine = true
	f.Wrapping = fyne.TextWrapWord
	f.ExtendBaseWidget(f)
	return f
}

// TypedKey implements [fyne.Focusable]: Escape lets go of the field, and closes the dialog that it stands in; Return
// goes ahead with the dialog.
func (f *field) TypedKey(e *fyne.KeyEvent) {
	c := fyne.CurrentApp().Driver().CanvasForObject(f)
	switch {
	case f.keys != nil && f.keys(e.Name):
	case c == nil:
		f.Entry.TypedKey(e)
	case e.Name == fyne.KeyEscape && c.Overlays().Top() == nil:
		c.Unfocus()
	case e.Name == fyne.KeyEscape, returns(e.Name) && !f.MultiLine && f.OnSubmitted == nil:
		handOn(f, e)
	default:
		f.Entry.TypedKey(e)
	}
}

// FocusLost implements [fyne.Focusable].
func (f *field) FocusLost() {
	f.Entry.FocusLost()
	if f.left != nil {
		f.left()
	}
}

// MouseDown implements [desktop.Mouseable].
func (f *field) MouseDown(e *desktop.MouseEvent) {
	f.mouse = true
	f.Entry.MouseDown(e)
	f.mouse = false
}

// FocusGained implements [fyne.Focusable]: coming by Tab picks all, so that typing replaces it.
func (f *field) FocusGained() {
	f.Entry.FocusGained()
	bringIntoSight(f)
	if !f.mouse && !f.MultiLine && f.Text != "" {
		f.Entry.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
	if f.gained != nil {
		f.gained()
	}
}

// update brings all fields up to date with the record.
func (f *form) update() {
	for _, r := range f.refresh {
		r()
	}
}

// rows builds the fields of the record at a path, "" for the whole record.
func (f *form) rows(path string) *fyne.Container {
	t := f.typeAt(path)
	box := container.NewVBox()
	grid := container.New(layout.NewFormLayout())
	flush := func() {
		if len(grid.Objects) > 0 {
			box.Add(grid)
			grid = container.New(layout.NewFormLayout())
		}
	}
	for _, fd := range record.Fields(t) {
		if slices.Contains(f.skip, fd.Name) || fd.Name == "format" {
			continue
		}
		p := join(path, fd.Name)
		if obj := f.single(p, fd, t); obj != nil {
			if f.narrow {
				box.Add(container.New(&tight{}, f.label(fd), obj))
				continue
			}
			grid.Add(f.label(fd))
			grid.Add(obj)
			continue
		}
		flush()
		if obj := f.group(p, fd); obj != nil {
			box.Add(obj)
		}
	}
	flush()
	return box
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// typeAt is the struct type at a path.
func (f *form) typeAt(path string) reflect.Type {
	return reflect.Indirect(f.at(path)).Type()
}

// at is the value at a path; paths come from the record's own fields, so that they exist.
func (f *form) at(path string) reflect.Value {
	v := reflect.ValueOf(f.value).Elem()
	if path == "" {
		return v
	}
	for _, step := range strings.Split(path, ".") {
		name, index, listed := strings.Cut(step, "[")
		v = byTag(reflect.Indirect(v), name)
		if listed {
			i, _ := strconv.Atoi(strings.TrimSuffix(index, "]"))
			v = reflect.Indirect(v).Index(i)
		}
	}
	return v
}

// byTag is the field of a struct with that name in files.
func byTag(v reflect.Value, name string) reflect.Value {
	i := tagIndex(v.Type(), name)
	return v.Field(i)
}

func tagIndex(t reflect.Type, name string) int {
	for i := range t.NumField() {
		if tag, _, _ := strings.Cut(t.Field(i).Tag.Get("yaml"), ","); tag == name {
			return i
		}
	}
	return -1
}

// oneOf lists the values that a field's rules allow, where they are listed.
func oneOf(t reflect.Type, name string) []string {
	i := tagIndex(t, name)
	if i < 0 {
		return nil
	}
	for _, r := range strings.Split(t.Field(i).Tag.Get("rule"), ",") {
		if list, ok := strings.CutPrefix(r, "oneof="); ok {
			return strings.Split(list, "|")
		}
	}
	return nil
}

// choices lists what a field may hold: what its rules list, or the converters of the library for settings that
// name one.
func (f *form) choices(t reflect.Type, name string) []string {
	if names := moduleField(f.value); names && name == "module" {
		var out []string
		for _, m := range f.w.model.Library().Modules() {
			out = append(out, m.ID)
		}
		return out
	}
	if _, ok := f.value.(*plan.Settings); ok && (name == "inverter" || name == "charger") {
		var out []string
		for _, g := range f.w.model.Library().AllGear() {
			if g.Kind == name {
				out = append(out, g.ID)
			}
		}
		return out
	}
	return oneOf(t, name)
}

// moduleField reports whether the field "module" of a record names one of the library.
func moduleField(record any) bool {
	switch record.(type) {
	case *plan.Placement, *plan.Received:
		return true
	}
	return false
}

// words turns a field's name in files into words, without its unit.
func words(fd record.Field) string {
	s := view.FieldWords(fd.Name, fd.Unit)
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func (f *form) label(fd record.Field) fyne.CanvasObject {
	text := words(fd)
	if _, unit := f.w.model.Units().Show(0, fd.Unit); unit != "" {
		text += ", " + unit
	}
	if fd.Required && !f.narrow {
		text += " *"
	}
	l := widget.NewLabel(text)
	if f.narrow {
		l.SizeName = theme.SizeNameCaptionText
		return l
	}
	return container.New(&fixedWidth{210}, l)
}

// tight puts a field close under its label.
type tight struct{}

// labelOverlap is how much of a label's own padding is taken back.
const labelOverlap = 6

// MinSize implements [fyne.Layout].
func (*tight) MinSize(os []fyne.CanvasObject) fyne.Size {
	a, b := os[0].MinSize(), os[1].MinSize()
	return fyne.NewSize(max(60, min(a.Width, 120), b.Width), a.Height+b.Height-labelOverlap)
}

// Layout implements [fyne.Layout].
func (*tight) Layout(os []fyne.CanvasObject, size fyne.Size) {
	h := os[0].MinSize().Height
	os[0].Resize(fyne.NewSize(size.Width, h))
	os[0].Move(fyne.NewPos(0, 0))
	os[1].Move(fyne.NewPos(0, h-labelOverlap))
	os[1].Resize(fyne.NewSize(size.Width, size.Height-h+labelOverlap))
}

// fixedWidth gives what it holds one width.
type fixedWidth struct{ w float32 }

// MinSize implements [fyne.Layout].
func (l *fixedWidth) MinSize(os []fyne.CanvasObject) fyne.Size {
	os[0].Resize(fyne.NewSize(l.w, os[0].Size().Height))
	return fyne.NewSize(l.w, os[0].MinSize().Height)
}

// Layout implements [fyne.Layout].
func (l *fixedWidth) Layout(os []fyne.CanvasObject, size fyne.Size) { os[0].Resize(size) }

// single builds the editor of a field that holds one value, or three coordinates; nil for others.
func (f *form) single(path string, fd record.Field, t reflect.Type) fyne.CanvasObject {
	v := f.at(path)
	if choices := f.choices(t, fd.Name); choices != nil && v.Kind() != reflect.Slice {
		return f.choice(path, fd, choices)
	}
	switch v.Kind() {
	case reflect.Bool:
		return f.check(path, fd)
	case reflect.String, reflect.Float64, reflect.Int:
		return f.text(path, fd)
	case reflect.Array:
		return f.coordinates(path, fd, v.Len())
	}
	return nil
}

// text builds a text field that checks what is typed as it is typed.
func (f *form) text(path string, fd record.Field) fyne.CanvasObject {
	e := newField()
	if fd.Name == "note" {
		e = newNote()
		e.SetMinRowsVisible(2)
	}
	show := func() {
		if a := f.w.model.Units().Assumed(fd); a != "" {
			e.SetPlaceHolder(a + " unless stated")
		}
		if s := f.shown(path, fd); s != e.Text {
			e.SetText(s)
		}
	}
	show()
	wrong := f.wrong()
	e.OnChanged = func(s string) {
		if err := f.checked(path, fd, s); err != nil {
			text := f.problem(fd, err)
			wrong.say(text)
			f.w.model.Say(words(fd) + ": " + text)
		} else {
			wrong.say("")
			f.w.model.Say(f.w.model.Units().Prose(fd.Doc))
		}
	}
	e.gained = func() { f.w.model.Say(f.help(fd)) }
	keep := func() {
		if f.set(path, fd, e.Text) {
			show()
		}
	}
	e.left = func() { f.unsay(fd); keep() }
	if f.narrow { // in a dock Return keeps the field; in a dialog it keeps the record
		e.OnSubmitted = func(string) { keep() }
	}
	f.refresh = append(f.refresh, show)
	return container.NewBorder(nil, wrong.text, nil, nil, e)
}

// help is what the status line says while a field has the keyboard.
func (f *form) help(fd record.Field) string { return f.w.model.Units().FieldHelp(fd) }

// unsay takes a field's help from the status line, where nothing else was said since.
func (f *form) unsay(fd record.Field) {
	if f.w.model.Status() == f.help(fd) {
		f.w.model.Say("")
	}
}

// wrong says under a field what is wrong with what was typed.
type wrong struct{ text *widget.Label }

func (f *form) wrong() wrong {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	l.Importance = widget.DangerImportance
	l.SizeName = theme.SizeNameCaptionText
	l.Hide()
	return wrong{l}
}

func (w wrong) say(s string) {
	w.text.SetText(s)
	setShown(w.text, s != "")
}

// problem writes what is wrong with a field in the units shown.
func (f *form) problem(fd record.Field, err error) string {
	return f.w.model.Units().ProblemOf(fd.Unit, err.Error())
}

// shown is a field's value as shown, in the units chosen; nothing where 0 stands for something that is assumed.
func (f *form) shown(path string, fd record.Field) string {
	s, err := record.Text(f.value, path)
	if err != nil {
		return ""
	}
	if s == "0" && f.w.model.Units().Assumed(fd) != "" {
		return ""
	}
	if v, err := strconv.ParseFloat(s, 64); err == nil && (fd.Unit == "mm" || fd.Unit == "kg") {
		u, _ := f.w.model.Units().Show(v, fd.Unit)
		return label(u)
	}
	return s
}

// stored turns what was typed into what the record holds; numbers may be sums and carry units.
func (f *form) stored(path string, fd record.Field, typed string) (string, error) {
	v := f.at(pathOnly(path))
	if v.Kind() == reflect.String || typed == "" {
		return typed, nil
	}
	x, err := f.w.model.Units().EvaluateIn(typed, fd.Unit)
	if err != nil {
		return "", err
	}
	return strconv.FormatFloat(x, 'f', -1, 64), nil
}

// pathOnly is a path without a trailing index.
func pathOnly(path string) string {
	if strings.HasSuffix(path, "]") {
		return path[:strings.LastIndex(path, "[")]
	}
	return path
}

func (f *form) checked(path string, fd record.Field, typed string) error {
	s, err := f.stored(path, fd, typed)
	if err != nil {
		return err
	}
	if msg := record.CheckText(f.value, path, s); msg != "" {
		return errors.New(msg)
	}
	return nil
}

// set puts a value typed into the record and reports whether it did.
func (f *form) set(path string, fd record.Field, typed string) bool {
	if typed == f.shown(path, fd) {
		return true
	}
	s, err := f.stored(path, fd, typed)
	if err == nil {
		err = record.SetText(f.value, path, s)
	}
	if err != nil {
		f.w.model.Say("Not taken: " + f.problem(fd, err))
		return false
	}
	f.changed(words(fd))
	return true
}

// absent is how a choice that is left open is shown.
const absent = "(not stated)"

func (f *form) choice(path string, fd record.Field, choices []string) fyne.CanvasObject {
	if !fd.Required && !slices.Contains(choices, "0") {
		choices = append([]string{absent}, choices...)
	}
	s := newChoice(choices, nil)
	show := func() {
		t, _ := record.Text(f.value, path)
		if t == "" {
			t = absent
		}
		s.Selected = t
		s.Refresh()
	}
	show()
	s.OnChanged = func(t string) {
		if t == absent {
			t = ""
		}
		if now, _ := record.Text(f.value, path); now == t {
			return
		}
		if err := record.SetText(f.value, path, t); err != nil {
			f.w.model.Say(f.problem(fd, err))
			show()
			return
		}
		f.changed(words(fd))
	}
	f.refresh = append(f.refresh, show)
	return s
}

func (f *form) check(path string, fd record.Field) fyne.CanvasObject {
	c := newTickBox("", nil)
	show := func() {
		t, _ := record.Text(f.value, path)
		c.Checked = t == "true"
		c.Refresh()
	}
	show()
	c.OnChanged = func(on bool) {
		if now, _ := record.Text(f.value, path); now == strconv.FormatBool(on) {
			return
		}
		if err := record.SetText(f.value, path, strconv.FormatBool(on)); err == nil {
			f.changed(words(fd))
		}
	}
	f.refresh = append(f.refresh, show)
	return c
}
