package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/geometry/outline"
	"stowbay/layout/drawing"
	"stowbay/ui/view"
)

func (w *Window) askImport() { w.askFile([]string{".dxf", ".svg"}, w.importOutline) }

// found is the closed outlines of a drawing, and what a person should know of them.
type found struct {
	names []string
	rings []geometry.Ring
	notes []string
}

// readOutlines reads the closed outlines of a DXF or SVG file.
func readOutlines(path string) (found, error) {
	f, err := os.Open(path)
	if err != nil {
		return found{}, err
	}
	defer f.Close()
	if strings.EqualFold(filepath.Ext(path), ".dxf") {
		d, err := outline.ReadDXF(f)
		return named(d, "layer "), err
	}
	d, err := outline.ReadSVG(f)
	return named(d, ""), err
}

func named(d outline.Drawing, kind string) found {
	out := found{notes: d.Notes}
	for _, o := range d.Outlines {
		out.names = append(out.names, fmt.Sprintf("%s%s, line %d", kind, o.Layer, o.Line))
		out.rings = append(out.rings, o.Ring)
	}
	return out
}

// What an imported outline can become.
const (
	asBay     = "a bay"
	asKeepOut = "a keep-out"
	asBox     = "a box"
)

// importOutline shows the outlines of a drawing and puts the one chosen in.
func (w *Window) importOutline(path string) {
	got, err := readOutlines(path)
	if err == nil && len(got.rings) == 0 {
		err = errors.New("there is no closed outline in it\n" + strings.Join(got.notes, "\n"))
	}
	if err != nil {
		w.showError(filepath.Base(path)+" cannot be used", err)
		return
	}
	pic := newPreview(w, fyne.NewSize(380, 240))
	size := widget.NewLabel("")
	scale, x, y := newField(), w.numberEntry(0, view.Length), w.numberEntry(0, view.Length)
	scale.SetText("1")
	chosen := 0
	ring := func() geometry.Ring {
		k, err := view.Metric.Evaluate(scale.Text, view.Plain)
		if err != nil || k <= 0 {
			k = 1
		}
		return scaled(got.rings[chosen], k)
	}
	show := func() {
		r := ring()
		pic.show(ringList(r))
		s := r.Bounds().Size()
		size.SetText(fmt.Sprintf("%s by %s, %d corners", w.model.Units().Text(s.X, "mm"), w.model.Units().Text(s.Y, "mm"), len(r)))
	}
	list := newChoice(got.names, nil)
	list.OnChanged = func(string) { chosen = max(list.SelectedIndex(), 0); show() }
	scale.OnChanged = func(string) { show() }
	kind := newChoice([]string{asBay, asKeepOut, asBox}, nil)
	kind.SetSelectedIndex(0)
	items := []*widget.FormItem{widget.NewFormItem("Outline", list), widget.NewFormItem("", pic), widget.NewFormItem("Size", size),
		widget.NewFormItem("Times", scale), w.numberItem("Front-most corner at x", x, "mm"), w.numberItem("Left-most corner at y", y, "mm"), widget.NewFormItem("Becomes", kind)}
	if len(got.notes) > 0 {
		notes := widget.NewLabel(strings.Join(got.notes, "\n"))
		notes.Wrapping = fyne.TextWrapWord
		items = append(items, widget.NewFormItem("Notes", container.NewGridWrap(fyne.NewSize(380, 70), container.NewVScroll(notes))))
	}
	d := dialog.NewForm("Import an outline", "Go on", "Cancel", items, func(ok bool) {
		if ok {
			px, _ := w.model.Units().Evaluate(x.Text, view.Length)
			py, _ := w.model.Units().Evaluate(y.Text, view.Length)
			w.putOutline(ring(), r2.Point{X: px, Y: py}, kind.Selected)
		}
	}, w.win)
	list.SetSelectedIndex(0)
	d.Resize(fyne.NewSize(600, 600))
	w.ask(d)
}

func scaled(r geometry.Ring, k float64) geometry.Ring {
	out := make(geometry.Ring, len(r))
	for i, p := range r {
		out[i] = p.Mul(k)
	}
	return out
}

func ringList(r geometry.Ring) *drawing.List {
	t := drawing.Tag{Role: view.RoleDraft}
	return &drawing.List{Bounds: r.Bounds(), Items: []drawing.Item{drawing.Fill{Of: t, Area: r.Polygon()}, drawing.Stroke{Of: t, Points: r, Closed: true}}}
}

// putOutline moves an outline's least corner to a place and puts it in.
func (w *Window) putOutline(r geometry.Ring, at r2.Point, kind string) {
	by := at.Sub(r.Bounds().Lo())
	ps := make([]r2.Point, len(r))
	for i, p := range r {
		ps[i] = p.Add(by)
	}
	if problems := geometry.Ring(ps).Polygon().Validate(); len(problems) > 0 {
		w.showError("The outline cannot be used", w.inUnits(errors.Join(problems...)))
		return
	}
	tool := map[string]func() view.Tool{asKeepOut: w.keepOutTool, asBox: w.boxTool, asBay: w.bayTool}[kind]()
	w.model.SetTool(tool)
	if o, ok := tool.(*view.Outline); ok {
		o.Take(ps)
	}
}
