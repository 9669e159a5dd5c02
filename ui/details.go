package ui

import (
	"fmt"
	"reflect"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/ui/view"
	"stowbay/vehicles"
)

// details shows what is picked, in fields.
type details struct {
	w      *Window
	root   *fyne.Container
	scroll *container.Scroll
	shown  string // reference shown
	form   *form
	value  any // the copy that the fields work on
}

func newDetails(w *Window) *details {
	d := &details{w: w}
	d.scroll = container.NewVScroll(widget.NewLabel(""))
	d.root = container.NewStack(d.scroll)
	return d
}

// update shows what is picked now; where it is the same thing as before its fields are only brought up to date.
func (d *details) update(anew bool) {
	ref := d.w.model.Selection.Last()
	if d.w.model.Selection.Len() > 1 {
		ref = fmt.Sprint(d.w.model.Selection.Refs())
	}
	value := d.current(ref)
	if !anew && ref == d.shown && value != nil && d.value != nil && reflect.TypeOf(value) == reflect.TypeOf(d.value) {
		reflect.ValueOf(d.value).Elem().Set(reflect.ValueOf(value).Elem())
		d.form.update()
		return
	}
	d.shown, d.value, d.form = ref, value, nil
	d.scroll.Content = d.build(ref)
	d.scroll.ScrollToTop()
	d.scroll.Refresh()
}

// current is a copy of the record of what is picked; nil for none or several.
func (d *details) current(ref string) any {
	a := d.w.model.Arrangement()
	box, inner := view.Split(ref)
	if b := a.Box(box); b != nil {
		return inBox(b, inner)
	}
	if i := slices.IndexFunc(a.Gear, func(g layout.PlacedGear) bool { return g.ID == ref }); i >= 0 {
		return clone(&a.Gear[i])
	}
	if b := a.Bay(ref); b != nil {
		return clone(b)
	}
	if k := a.KeepOut(ref); k != nil {
		return clone(k)
	}
	return nil
}

func inBox(b *layout.Box, inner string) any {
	if inner == "" {
		return clone(b)
	}
	if i := b.Placement(inner); i >= 0 {
		return clone(&b.Modules[i])
	}
	if i := b.GearIndex(inner); i >= 0 {
		return clone(&b.Gear[i])
	}
	if i := b.FootIndex(inner); i >= 0 {
		return clone(&b.Feet[i])
	}
	return nil
}

// clone is a deep copy.
func clone[T any](v *T) *T {
	out := new(T)
	deepCopy(reflect.ValueOf(out).Elem(), reflect.ValueOf(v).Elem())
	return out
}

func deepCopy(to, from reflect.Value) {
	switch from.Kind() {
	case reflect.Pointer:
		if !from.IsNil() {
			to.Set(reflect.New(from.Type().Elem()))
			deepCopy(to.Elem(), from.Elem())
		}
	case reflect.Slice:
		if !from.IsNil() {
			to.Set(reflect.MakeSlice(from.Type(), from.Len(), from.Len()))
			for i := range from.Len() {
				deepCopy(to.Index(i), from.Index(i))
			}
		}
	case reflect.Struct:
		for i := range from.NumField() {
			deepCopy(to.Field(i), from.Field(i))
		}
	default:
		to.Set(from)
	}
}

func (d *details) build(ref string) fyne.CanvasObject {
	if d.value == nil {
		return d.nothing(ref)
	}
	d.form = &form{w: d.w, value: d.value, narrow: true, skip: []string{"id", "modules", "gear"}}
	if _, ok := d.value.(*layout.PlacedGear); ok {
		d.form.skip = []string{"id", "gear"}
	}
	d.form.changed = func(name string) { d.keep(ref, name) }
	head := widget.NewLabel(d.title(ref))
	head.TextStyle.Bold = true
	head.Wrapping = fyne.TextWrapWord
	return container.NewVBox(head, container.NewPadded(d.form.rows("")))
}

func (d *details) title(ref string) string {
	switch v := d.value.(type) {
	case *layout.Placement:
		if m := d.w.model.Library().Module(v.Module); m != nil {
			return ref + ": " + m.Name
		}
	case *layout.PlacedGear:
		if g := d.w.model.Library().Gear(v.Gear); g != nil {
			return ref + ": " + g.Name
		}
	case *layout.Box:
		return "Box " + ref
	case *layout.Foot:
		return "Foot " + ref
	case *vehicles.Bay:
		return "Bay " + ref
	case *vehicles.KeepOut:
		if bay := d.w.model.Arrangement().KeepOutBay(ref); bay != "" {
			return "Keep-out " + v.ID + " of bay " + bay
		}
		return "Keep-out " + v.ID
	}
	return ref
}

// nothing is what is shown where there is no single thing to show.
func (d *details) nothing(ref string) fyne.CanvasObject {
	text := "Pick a module, a piece of gear, a box, a bay or a keep-out to see it in numbers."
	switch n := d.w.model.Selection.Len(); {
	case n > 1:
		text = fmt.Sprintf("%d things are picked. Move, turn, line up, space or repeat them together; pick one alone to see its numbers.", n)
	case n == 1:
		text = ref + " is part of the donor's survey. It is changed in the donor: Edit, Donor."
	}
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// keep makes a step of a field that was set.
func (d *details) keep(ref, name string) {
	fresh := d.value
	err := d.w.model.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		return layout.Change(p, a, "Change "+ref+": "+name, func(a *layout.Arrangement) error { return putBack(a, ref, fresh) })
	})
	if err != nil {
		d.update(true)
		d.w.model.Say("Not taken: " + d.w.model.Units().Problem(err))
	}
}

// putBack puts a changed copy in the place of the record with that reference.
func putBack(a *layout.Arrangement, ref string, value any) error {
	box, inner := view.Split(ref)
	switch v := value.(type) {
	case *layout.Box:
		*a = *a.WithBox(clone(v))
	case *layout.Placement:
		b := *a.Box(box)
		b.Modules = slices.Clone(b.Modules)
		b.Modules[b.Placement(inner)] = *v
		*a = *a.WithBox(&b)
	case *layout.PlacedGear:
		putGear(a, box, inner, v)
	case *layout.Foot:
		b := *a.Box(box)
		b.Feet = replaced(b.Feet, *v, func(f layout.Foot) bool { return f.ID == v.ID })
		*a = *a.WithBox(&b)
	case *vehicles.Bay:
		a.Bays = replaced(a.Bays, *clone(v), func(b vehicles.Bay) bool { return b.ID == ref })
	case *vehicles.KeepOut:
		view.ChangeKeepOut(a, ref, func(k *vehicles.KeepOut) { *k = *clone(v) })
	default:
		return fmt.Errorf("%s cannot be changed here", ref)
	}
	return nil
}

func putGear(a *layout.Arrangement, box, inner string, g *layout.PlacedGear) {
	if inner == "" {
		a.Gear = replaced(a.Gear, *g, func(p layout.PlacedGear) bool { return p.ID == box })
		return
	}
	b := *a.Box(box)
	b.Gear = replaced(b.Gear, *g, func(p layout.PlacedGear) bool { return p.ID == inner })
	*a = *a.WithBox(&b)
}

func replaced[T any](list []T, v T, is func(T) bool) []T {
	out := slices.Clone(list)
	if i := slices.IndexFunc(out, is); i >= 0 {
		out[i] = v
	}
	return out
}
