package ui

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/ui/view"
	"stowbay/vehicles/record"
)

// group builds the editor of a record within the record, of a list of records, of points or of values.
func (f *form) group(path string, fd record.Field) fyne.CanvasObject {
	v := f.at(path)
	switch v.Kind() {
	case reflect.Struct:
		return f.section(words(fd), f.rows(path))
	case reflect.Pointer:
		return f.optional(path, fd)
	case reflect.Slice:
		elem := v.Type().Elem()
		for elem.Kind() == reflect.Pointer {
			elem = elem.Elem()
		}
		switch elem.Kind() {
		case reflect.Struct:
			return f.list(path, fd)
		case reflect.Array:
			return f.section(words(fd)+": corners, one a line", f.points(path, fd))
		default:
			return f.section(words(fd), f.values(path, fd))
		}
	}
	return nil
}

// optional builds a box to tick and, where it is ticked, the fields of coordinates that may be absent.
func (f *form) optional(path string, fd record.Field) fyne.CanvasObject {
	body := container.NewStack()
	what, _, _ := strings.Cut(fd.Doc, ";")
	stated := newTickBox("State the "+what, nil)
	show := func() {
		set := !f.at(path).IsNil()
		stated.Checked = set
		stated.Refresh()
		switch {
		case !set:
			body.RemoveAll()
		case len(body.Objects) == 0:
			body.Add(f.coordinates(path, fd, f.at(path).Elem().Len()))
		}
	}
	show()
	stated.OnChanged = func(on bool) {
		v := f.at(path)
		if on == !v.IsNil() {
			return
		}
		if v.SetZero(); on {
			v.Set(reflect.New(v.Type().Elem()))
		}
		show()
		f.changed(words(fd))
	}
	f.refresh = append(f.refresh, show)
	return container.NewVBox(stated, body)
}

// coordinates builds fields side by side for the numbers of a fixed list.
func (f *form) coordinates(path string, fd record.Field, n int) fyne.CanvasObject {
	row := container.NewGridWithColumns(n)
	for i := range n {
		row.Add(f.text(fmt.Sprintf("%s[%d]", path, i), fd))
	}
	return row
}

// section puts a heading over something.
func (f *form) section(title string, body fyne.CanvasObject) fyne.CanvasObject {
	head := widget.NewLabel(title)
	head.TextStyle.Bold = true
	return container.NewVBox(head, body)
}

// points edits a list of corners as lines of text.
func (f *form) points(path string, fd record.Field) fyne.CanvasObject {
	return f.lines(path, fd, 4, func(v reflect.Value) string {
		var out []string
		for i := range v.Len() {
			var cs []string
			for k := range v.Index(i).Len() {
				c, _ := f.w.model.Units().Show(v.Index(i).Index(k).Float(), "mm")
				cs = append(cs, label(c))
			}
			out = append(out, strings.Join(cs, ", "))
		}
		return strings.Join(out, "\n")
	}, func(text string, elem reflect.Type) (reflect.Value, error) {
		out := reflect.MakeSlice(reflect.SliceOf(elem), 0, 8)
		for n, line := range strings.Split(strings.TrimSpace(text), "\n") {
			p, err := f.point(line, elem)
			if err != nil {
				return out, fmt.Errorf("line %d: %w", n+1, err)
			}
			out = reflect.Append(out, p)
		}
		return out, nil
	})
}

func (f *form) point(line string, elem reflect.Type) (reflect.Value, error) {
	p := reflect.New(elem).Elem()
	parts := strings.Split(line, ",")
	if len(parts) != p.Len() {
		return p, fmt.Errorf("%d coordinates are wanted, parted by commas", p.Len())
	}
	for i, s := range parts {
		x, err := f.w.model.Units().Evaluate(s, view.Length)
		if err != nil {
			return p, err
		}
		p.Index(i).SetFloat(x)
	}
	return p, nil
}

// values edits a list of words or numbers on one line.
func (f *form) values(path string, fd record.Field) fyne.CanvasObject {
	return f.lines(path, fd, 1, func(v reflect.Value) string {
		var out []string
		for i := range v.Len() {
			out = append(out, fmt.Sprint(v.Index(i).Interface()))
		}
		return strings.Join(out, ", ")
	}, func(text string, elem reflect.Type) (reflect.Value, error) {
		out := reflect.MakeSlice(reflect.SliceOf(elem), 0, 8)
		for _, s := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == '\n' }) {
			e := reflect.New(elem).Elem()
			if err := setScalar(e, strings.TrimSpace(s)); err != nil {
				return out, err
			}
			out = reflect.Append(out, e)
		}
		return out, nil
	})
}

func setScalar(v reflect.Value, s string) error {
	switch v.Kind() {
	case reflect.String:
		v.SetString(s)
	case reflect.Float64:
		x, err := view.Metric.Evaluate(s, view.Plain)
		if err != nil {
			return err
		}
		v.SetFloat(x)
	case reflect.Int:
		n, err := strconv.Atoi(s)
		if err != nil {
			return fmt.Errorf("%q is not a whole number", s)
		}
		v.SetInt(int64(n))
	default:
		return fmt.Errorf("cannot be typed here")
	}
	return nil
}

// lines edits a whole list as text. What the list's rules refuse is said and not taken.
func (f *form) lines(path string, fd record.Field, rows int, show func(reflect.Value) string, read func(string, reflect.Type) (reflect.Value, error)) fyne.CanvasObject {
	e := newField()
	e.MultiLine = rows > 1
	e.SetMinRowsVisible(rows)
	fresh := func() { e.SetText(show(f.at(path))) }
	fresh()
	try := func(text string) error {
		v := f.at(path)
		got, err := read(text, v.Type().Elem())
		if err != nil {
			return err
		}
		old := reflect.New(v.Type()).Elem()
		old.Set(v)
		v.Set(got.Convert(v.Type()))
		problems := record.CheckField(f.value, path)
		v.Set(old)
		if len(problems) > 0 {
			return fmt.Errorf("%s", problems[0].Msg)
		}
		return nil
	}
	wrong := f.wrong()
	e.gained = func() { f.w.model.Say(f.help(fd)) }
	e.OnChanged = func(s string) {
		err := try(s)
		if err == nil {
			wrong.say("")
			return
		}
		text := f.problem(fd, err)
		wrong.say(text)
		f.w.model.Say(words(fd) + ": " + text)
	}
	e.left = func() {
		f.unsay(fd)
		if e.Text == show(f.at(path)) || try(e.Text) != nil {
			return
		}
		got, _ := read(e.Text, f.at(path).Type().Elem())
		f.at(path).Set(got.Convert(f.at(path).Type()))
		f.changed(words(fd))
	}
	f.refresh = append(f.refresh, fresh)
	return container.NewBorder(nil, wrong.text, nil, nil, e)
}

// list edits a list of records: each opens in a dialog of its own.
func (f *form) list(path string, fd record.Field) fyne.CanvasObject {
	rows := container.NewVBox()
	title := widget.NewLabel("")
	title.TextStyle.Bold = true
	var fill func()
	fill = func() {
		v := f.at(path)
		title.SetText(fmt.Sprintf("%s (%d)", words(fd), v.Len()))
		rows.Objects = nil
		for i := range v.Len() {
			edit := newPush(summary(f.w.model.Units(), v.Index(i), i), func() { f.editItem(path, i, fd, fill) })
			edit.Alignment = widget.ButtonAlignLeading
			drop := newPush("Take out", func() {
				list := f.at(path)
				list.Set(reflect.AppendSlice(reflect.AppendSlice(reflect.MakeSlice(list.Type(), 0, list.Len()), list.Slice(0, i)), list.Slice(i+1, list.Len())))
				f.changed(words(fd))
				fill()
			})
			rows.Add(container.NewBorder(nil, nil, nil, drop, edit))
		}
		rows.Refresh()
	}
	add := newPush("Add …", func() {
		list := f.at(path)
		list.Set(reflect.Append(list, newElement(list.Type().Elem(), fd.Name, list.Len())))
		f.editItem(path, list.Len()-1, fd, fill)
		f.changed(words(fd))
		fill()
	})
	fill()
	f.refresh = append(f.refresh, fill)
	return container.NewVBox(container.NewBorder(nil, nil, nil, add, title), rows)
}

// newElement is a new record for a list, with an id of its own.
func newElement(t reflect.Type, list string, n int) reflect.Value {
	v := reflect.New(t).Elem()
	s := v
	if t.Kind() == reflect.Pointer {
		s = reflect.New(t.Elem())
		v.Set(s)
		s = s.Elem()
	}
	if i := tagIndex(s.Type(), "id"); i >= 0 && s.Field(i).Kind() == reflect.String {
		s.Field(i).SetString(fmt.Sprintf("%s%d", strings.TrimSuffix(strings.ReplaceAll(list, "_", "-"), "s"), n+1))
	}
	return v
}

// summary is what a record in a list is called.
func summary(u view.Units, v reflect.Value, i int) string {
	v = reflect.Indirect(v)
	for _, name := range []string{"name", "id", "kind"} {
		if k := tagIndex(v.Type(), name); k >= 0 && v.Field(k).Kind() == reflect.String && v.Field(k).String() != "" {
			return v.Field(k).String()
		}
	}
	if lo, hi := tagIndex(v.Type(), "floor_mm"), tagIndex(v.Type(), "ceiling_mm"); lo >= 0 && hi >= 0 {
		return fmt.Sprintf("no. %d, %s to %s", i+1, u.Text(v.Field(lo).Float(), "mm"), u.Text(v.Field(hi).Float(), "mm"))
	}
	return fmt.Sprintf("no. %d", i+1)
}

// editItem opens one record of a list.
func (f *form) editItem(path string, i int, fd record.Field, done func()) {
	item := f.at(path).Index(i)
	if item.Kind() == reflect.Pointer {
		item = item.Elem()
	}
	sub := &form{w: f.w, value: item.Addr().Interface()}
	note := problemsLabel(f.w)
	sub.changed = func(string) {
		note.set(sub.value)
		f.changed(words(fd))
		done()
	}
	note.set(sub.value)
	body := container.NewBorder(nil, note.root, nil, nil, container.NewVScroll(container.NewPadded(sub.rows(""))))
	d := dialog.NewCustom(words(fd)+": "+summary(f.w.model.Units(), item, i), "Done", body, f.w.win)
	d.Resize(fyne.NewSize(560, 520))
	f.w.ask(d)
}

// problems says what is wrong with a record, as it is typed.
type problems struct {
	w     *Window
	label *widget.Label
	root  fyne.CanvasObject
}

func problemsLabel(w *Window) *problems {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	scroll := container.NewVScroll(l)
	scroll.SetMinSize(fyne.NewSize(200, 68)) // four lines
	return &problems{w, l, scroll}
}

// set checks a record and reports whether nothing is wrong.
func (p *problems) set(value any) bool {
	ps := record.Check(value)
	p.label.Importance = widget.SuccessImportance
	text := "Nothing is missing, and every figure is within what is allowed."
	if len(ps) > 0 {
		p.label.Importance = widget.DangerImportance
		lines := []string{fmt.Sprintf("%s to put right:", counted(len(ps), "thing"))}
		for _, q := range ps {
			lines = append(lines, p.w.model.Units().ProblemInForm(q))
		}
		text = strings.Join(lines, "\n")
	}
	p.label.SetText(text)
	return len(ps) == 0
}
