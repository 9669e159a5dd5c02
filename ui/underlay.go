package ui

import (
	"fmt"
	"image"
	"io"
	"math"
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

// drawUnderlays returns what paints the pictures under a view.
func (p *pane) drawUnderlays() paint.Under {
	var pics []*picture
	var at []paint.Placed
	key := ""
	for _, u := range p.w.model.Plan().Underlays {
		if u.View == viewNames[p.view] && !u.Hidden {
			if pic := p.w.picture(u.File); pic.err == nil {
				pics, at = append(pics, pic), append(at, placed(u))
				key += fmt.Sprintf("%p %v\n", pic, placed(u))
			}
		}
	}
	if len(pics) == 0 {
		return paint.Under{}
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

// addUnderlay lays a picture under the view that the pointer was in last. Pictures are kept beside the plan.
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
	p := w.under
	seen := p.cam.Visible()
	scale := 0.8 * seen.Size().X / float64(img.Bounds().Dx())
	u := layout.Underlay{View: viewNames[p.view], File: file, MMPerPx: scale, FadePct: 50,
		At: vehicles.XY{seen.X.Lo + 0.1*seen.Size().X, seen.Y.Hi - 0.1*seen.Size().Y}}
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

// The ways to turn a picture by two points clicked on it.
const (
	turnNot   = "leave the picture's turn"
	turnLevel = "the two points lie level"
	turnUp    = "the second point lies above the first"
)

func (w *Window) askDistance(v drawing.View, a, b r2.Point) {
	var u *layout.Underlay
	for i := range w.model.Plan().Underlays {
		if c := &w.model.Plan().Underlays[i]; c.View == viewNames[v] && !c.Hidden {
			u = c
		}
	}
	w.model.SetTool(view.NewSelect(w.model))
	if u == nil || b.Sub(a).Norm() < 1e-6 {
		w.model.Say("There is no picture under this view.")
		return
	}
	was := *u
	e := w.numberEntry(b.Sub(a).Norm(), view.Length)
	turn := newChoice([]string{turnNot, turnLevel, turnUp}, nil)
	turn.SetSelectedIndex(0)
	w.ask(dialog.NewForm("Set the picture's scale", "Set", "Cancel", []*widget.FormItem{w.numberItem("True distance", e, "mm"), widget.NewFormItem("Turn", turn)}, func(ok bool) {
		real, err := w.model.Units().Evaluate(e.Text, view.Length)
		if !ok || err != nil || real <= 0 {
			return
		}
		next := calibrated(was, a, b, real, turn.Selected)
		w.say(w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutUnderlay(p, next) }))
	}, w.win))
}

// calibrated is an underlay scaled so that a and b are as far apart as they truly are, and turned about a.
func calibrated(u layout.Underlay, a, b r2.Point, real float64, turn string) layout.Underlay {
	d := b.Sub(a)
	k := real / d.Norm()
	rot := 0.0
	switch turn {
	case turnLevel:
		rot = -math.Atan2(d.Y, d.X)
		if d.X < 0 {
			rot = -math.Atan2(-d.Y, -d.X)
		}
	case turnUp:
		rot = math.Pi/2 - math.Atan2(d.Y, d.X)
	}
	sin, cos := math.Sincos(rot)
	o := u.At.Point().Sub(a).Mul(k)
	at := a.Add(r2.Point{X: o.X*cos - o.Y*sin, Y: o.X*sin + o.Y*cos})
	u.At = vehicles.XY{at.X, at.Y}
	u.MMPerPx *= k
	u.TurnDeg = math.Remainder(u.TurnDeg-rot*180/math.Pi, 360)
	return u
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
