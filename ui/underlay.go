package ui

import (
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
	"stowbay/vehicles"
)

// picture is an underlay's picture as read, or why it could not be.
type picture struct {
	img image.Image
	err error
}

// viewNames are the views' names in plan files.
var viewNames = map[drawing.View]string{drawing.PlanView: "plan", drawing.SideView: "side", drawing.RearView: "rear"}

// picture returns the picture of an underlay, read once.
func (w *Window) picture(file string) *picture {
	if w.pictures == nil {
		w.pictures = map[string]*picture{}
	}
	key := w.path + "\x00" + file
	if p, ok := w.pictures[key]; ok {
		return p
	}
	p := &picture{}
	p.img, p.err = readPicture(w.path, file)
	w.pictures[key] = p
	if p.err != nil {
		w.model.Say("Picture " + file + ": " + p.err.Error())
	}
	return p
}

func readPicture(plan, file string) (image.Image, error) {
	r, err := layout.OpenBeside(plan, file)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	data, err := io.ReadAll(io.LimitReader(r, paint.MaxPictureBytes+1))
	if err != nil {
		return nil, err
	}
	return paint.DecodePicture(data)
}

// pictured lists the pictures to be seen under a view, with where they lie.
func (p *pane) pictured() (pics []*picture, at []paint.Placed) {
	for _, u := range p.w.model.Plan().Underlays {
		if u.View == viewNames[p.view] && !u.Hidden {
			if pic := p.w.picture(u.File); pic.err == nil {
				pics, at = append(pics, pic), append(at, placed(u))
			}
		}
	}
	return pics, at
}

// drawUnderlays returns what paints the pictures under a view.
func (p *pane) drawUnderlays() paint.Under {
	pics, at := p.pictured()
	if len(pics) == 0 {
		return paint.Under{}
	}
	key := ""
	for i, pic := range pics {
		key += fmt.Sprintf("%p %v\n", pic, at[i])
	}
	return paint.Under{Key: key, Paint: func(pt *paint.Painter) {
		for i, pic := range pics {
			pt.Picture(pic.img, at[i])
		}
	}}
}

func placed(u layout.Underlay) paint.Placed {
	return paint.Placed{At: u.At.Point(), MMPerPx: u.MMPerPx, TurnDeg: u.TurnDeg, Fade: u.FadePct / 100}
}

func (w *Window) askUnderlay() { w.askFile([]string{".png", ".jpg", ".jpeg"}, w.addUnderlay) }

// addUnderlay asks for the view that a picture lies under, the one that the pointer was in last unless another is
// chosen. Pictures are kept beside the plan.
func (w *Window) addUnderlay(path string) {
	if w.path == "" {
		w.askPath(func() { w.addUnderlay(path) })
		w.model.Say("Pictures are kept beside the plan, so it is saved first.")
		return
	}
	file, img, err := w.bring(path)
	if err != nil {
		w.showError("The picture cannot be used", err)
		return
	}
	var names []string
	for _, p := range w.panes {
		names = append(names, p.view.String())
	}
	under := newChoice(names, nil)
	under.SetSelected(w.under.view.String())
	items := []*widget.FormItem{widget.NewFormItem("Under the view", under)}
	d := dialog.NewForm("Picture "+file, "Lay it there", "Cancel", items, func(ok bool) {
		if i := under.SelectedIndex(); ok && i >= 0 {
			w.layUnder(w.panes[i], file, img)
		}
	}, w.win)
	d.Resize(fyne.NewSize(420, 140))
	w.ask(d)
}

// layUnder lays a picture under a view as large as what is seen and goes on to set its scale.
func (w *Window) layUnder(p *pane, file string, img image.Image) {
	seen, size := p.cam.Visible(), img.Bounds().Size()
	scale := 0.8 * min(seen.Size().X/float64(size.X), seen.Size().Y/float64(size.Y))
	c := seen.Center()
	u := layout.Underlay{View: viewNames[p.view], File: file, MMPerPx: scale, FadePct: 50,
		At: vehicles.XY{c.X - scale*float64(size.X)/2, c.Y + scale*float64(size.Y)/2}}
	u.ID = layout.FreshID("picture", func(id string) bool { return w.underlay(id) != nil })
	if w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutUnderlay(p, u) }) == nil {
		w.calibrate()
	}
}

func (w *Window) underlay(id string) *layout.Underlay {
	us := w.model.Plan().Underlays
	for i := range us {
		if us[i].ID == id {
			return &us[i]
		}
	}
	return nil
}

// bring reads a picture and copies it beside the plan unless it is there.
func (w *Window) bring(path string) (file string, img image.Image, err error) {
	data, err := readSome(path, paint.MaxPictureBytes)
	if err != nil {
		return "", nil, err
	}
	if img, err = paint.DecodePicture(data); err != nil {
		return "", nil, err
	}
	dir, file := w.folder(), filepath.Base(path)
	if filepath.Dir(path) == dir {
		return file, img, nil
	}
	target := filepath.Join(dir, file)
	if _, err := os.Stat(target); err == nil {
		return "", nil, fmt.Errorf("%s is beside the plan already; give one of them another name", file)
	}
	return file, img, layout.ReplaceFile(target, data)
}

// calibrate takes two points of a known distance on the underlay of a view.
func (w *Window) calibrate() {
	w.model.SetTool(view.NewCalibrate(w.model, w.askDistance))
}

// movePicture takes a place on the picture of a view and where it belongs.
func (w *Window) movePicture() {
	w.model.SetTool(view.NewMovePicture(w.model, func(v drawing.View, a, b r2.Point) {
		w.model.SetTool(view.NewSelect(w.model))
		if u := w.pictureUnder(v); u != nil {
			w.putUnderlay(view.Moved(*u, b.Sub(a)))
		}
	}))
}

func (w *Window) putUnderlay(u layout.Underlay) {
	w.say(w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutUnderlay(p, u) }))
}

// pictureUnder is the picture seen under a view that was laid there last; it says so where there is none.
func (w *Window) pictureUnder(v drawing.View) *layout.Underlay {
	us := w.model.Plan().Underlays
	for i := len(us) - 1; i >= 0; i-- {
		if us[i].View == viewNames[v] && !us[i].Hidden {
			return &us[i]
		}
	}
	w.model.Say("There is no picture under this view.")
	return nil
}

// The ways to turn a picture by two points clicked on it, in the order of [view.Turning].
var turnWords = []string{"leave the picture's turn", "the two points lie level", "the second point lies above the first"}

// anywhere is a point of a picture of which only the distance to the other is known.
const anywhere = "a place that I do not know"

// askDistance asks what is known of two points clicked on a picture: what they are, or how far apart they are.
func (w *Window) askDistance(v drawing.View, a, b r2.Point) {
	u := w.pictureUnder(v)
	w.model.SetTool(view.NewSelect(w.model))
	if u == nil || b.Sub(a).Norm() < 1e-6 {
		return
	}
	was, marks := *u, view.Landmarks(w.model.Scene().Donor, v)
	names := []string{anywhere}
	for _, l := range marks {
		names = append(names, l.Name)
	}
	at := func(c *choice) *r2.Point {
		if i := c.SelectedIndex(); i > 0 {
			return &marks[i-1].At
		}
		return nil
	}
	e := w.numberEntry(b.Sub(a).Norm(), view.Length)
	turn, first, second := newChoice(turnWords, nil), newChoice(names, nil), newChoice(names, nil)
	both := func(string) {
		p, q := at(first), at(second)
		if p == nil || q == nil || *p == *q {
			e.Enable()
			turn.Enable()
			return
		}
		d, _ := w.model.Units().Show(q.Sub(*p).Norm(), "mm")
		e.SetText(label(d))
		e.Disable()
		turn.Disable()
	}
	turn.SetSelectedIndex(0)
	first.SetSelectedIndex(0)
	second.SetSelectedIndex(0)
	first.OnChanged, second.OnChanged = both, both
	items := []*widget.FormItem{widget.NewFormItem("First point", first), widget.NewFormItem("Second point", second),
		w.numberItem("True distance", e, "mm"), widget.NewFormItem("Turn", turn)}
	d := dialog.NewForm("Set the picture's scale and place", "Set", "Cancel", items, func(ok bool) {
		real, err := w.model.Units().Evaluate(e.Text, view.Length)
		if !ok || err != nil || real <= 0 {
			return
		}
		f := view.Fitting{Distance: real, Turn: view.Turning(turn.SelectedIndex()), First: at(first), Second: at(second)}
		if f.First != nil && f.Second != nil && *f.First == *f.Second {
			f.Second = nil
		}
		w.putUnderlay(view.Fitted(was, a, b, f))
	}, w.win)
	d.Resize(fyne.NewSize(520, 280))
	w.ask(d)
}

// editPictures opens the list of pictures.
func (w *Window) editPictures() {
	v := &struct {
		Pictures []layout.Underlay `yaml:"pictures" rule:"maxlen=20" doc:"pictures laid under the views"`
	}{clone(w.model.Plan()).Underlays}
	f := &form{w: w, value: v, changed: func(string) {}}
	add := newPush("Another picture …", w.askUnderlay)
	d := dialog.NewCustomConfirm("Pictures under the views", "Keep", "Cancel", container.NewVScroll(container.NewVBox(f.rows(""), add)), func(ok bool) {
		if ok {
			w.say(w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) {
				q := *p
				q.Underlays = v.Pictures
				return layout.Diff(p, &q, "Change the pictures")
			}))
		}
	}, w.win)
	d.Resize(fyne.NewSize(520, 420))
	w.ask(d)
}
