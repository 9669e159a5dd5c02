package ui

import (
	"fmt"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
	"stowbay/vehicles"
)

// preview is a picture of a display list in a dialog.
type preview struct {
	painted
	w      *Window
	list   *drawing.List
	cam    paint.Camera     // as painted last
	picked func(ref string) // a point of a scatter was clicked; may be nil
}

func newPreview(w *Window, least fyne.Size) *preview {
	p := &preview{w: w}
	p.init(p, least, p.draw)
	return p
}

func (p *preview) show(l *drawing.List) {
	p.list = l
	p.repaint()
}

func (p *preview) draw(img *image.RGBA, scale float64) {
	cam := paint.Camera{W: float64(img.Rect.Dx()), H: float64(img.Rect.Dy()), Scale: 1}
	if p.list != nil {
		cam = cam.Fit(p.list.Bounds, 12*scale)
	}
	var items []drawing.Item
	if p.list != nil {
		items = p.list.Items
	}
	p.cam = cam
	p.w.halves.SetLook(p.w.skin)
	p.w.halves.Paint(img, cam, pointPx*scale, nil, items)
}

// Tapped implements [fyne.Tappable].
func (p *preview) Tapped(e *fyne.PointEvent) {
	if p.picked == nil || p.list == nil || p.cam.W == 0 {
		return
	}
	at := p.cam.ToMM(p.px(e.Position))
	if ref := p.list.SpotAt(at, hitPx*p.scale/p.cam.Scale); ref != "" {
		p.picked(ref)
	}
}

// askNew asks for the donor of a new plan.
func (w *Window) askNew() { w.askBeforeLosing(w.chooseDonor) }

func (w *Window) chooseDonor() {
	donors := catalogue().Donors()
	pic := newPreview(w, fyne.NewSize(430, 230))
	facts := widget.NewLabel("")
	facts.Wrapping = fyne.TextWrapWord
	name := newField()
	name.SetPlaceHolder("Name of the plan")
	chosen := -1
	var names []string
	for _, d := range donors {
		names = append(names, d.Name)
	}
	list := newRowList(names, func(i int) {
		chosen = i
		pic.show(donorList(donors[i], w.model.Units()))
		facts.SetText(donorFacts(w, donors[i]))
	})
	right := container.NewVBox(pic, facts, bold("Name of the plan"), name)
	body := container.NewBorder(nil, nil, container.New(&fixedWidth{250}, list), nil, right)
	d := dialog.NewCustomConfirm("New plan: choose the donor", "Begin", "Cancel", body, func(ok bool) {
		if ok && chosen >= 0 {
			w.beginPlan(donors[chosen], name.Text)
		}
	}, w.win)
	d.Resize(fyne.NewSize(760, 520))
	w.ask(d)
	list.Select(0)
}

func (w *Window) beginPlan(d *vehicles.Donor, name string) {
	if name == "" {
		name = d.Name
	}
	w.load(layout.NewPlan(d, name), "", nil)
	w.model.Document().MarkDirty()
	w.titled()
	w.showLeft(guidePane)
	w.model.Say("Next: pick a bay and choose Place, Box for the bay picked; or press P to pack every bay.")
}

// openDemo shows the demonstration plan, which has no file yet.
func (w *Window) openDemo() {
	w.askBeforeLosing(func() {
		p, err := demo.Plan()
		if err != nil {
			w.showError("The demonstration cannot be opened", err)
			return
		}
		w.load(p, "", nil)
		w.showLeft(guidePane)
	})
}

// previewNames makes names large enough to be read in a picture of a whole vehicle in a dialog.
const previewNames = 2.4

// donorList draws a donor with its bays, for choosing.
func donorList(d *vehicles.Donor, u view.Units) *drawing.List {
	p := layout.NewPlan(d, d.Name)
	s := layout.Resolve(p, p.Arrangements[0], catalogue(), nil)
	return drawing.Plan(s, drawing.Options{Off: drawing.LayerZones | drawing.LayerLabels | drawing.LayerLoads, NameScale: previewNames, Imperial: u == view.Imperial})
}

func donorFacts(w *Window, d *vehicles.Donor) string {
	u := w.model.Units()
	kerb := d.Scales.FrontLeftKg + d.Scales.FrontRightKg + d.Scales.RearLeftKg + d.Scales.RearRightKg
	s := fmt.Sprintf("Wheelbase %s; %s on the scales; gross %s; %d bays, %d keep-outs surveyed.",
		u.Text(d.WheelbaseMM, "mm"), u.Text(kerb, "kg"), u.Text(d.Ratings.GrossKg, "kg"), len(d.Bays), len(d.KeepOuts))
	if d.Invented {
		s += " Invented for demonstration; it describes no real vehicle."
	}
	return s
}

// editHeading opens the plan's title block.
func (w *Window) editHeading() {
	p := w.model.Plan()
	fields := []*field{newField(), newField(), newField(), newField(), newNote()}
	for i, s := range []string{p.Name, p.Revision, p.Date, p.Author, p.Note} {
		fields[i].SetText(s)
	}
	var items []*widget.FormItem
	for i, s := range []string{"Name", "Revision", "Date", "Author", "Notes"} {
		items = append(items, widget.NewFormItem(s, fields[i]))
	}
	d := dialog.NewForm("Title block", "Keep", "Cancel", items, func(ok bool) {
		if ok {
			h := layout.Heading{Name: fields[0].Text, Revision: fields[1].Text, Date: fields[2].Text, Author: fields[3].Text, Note: fields[4].Text}
			w.say(w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) { return layout.PutHeading(p, h) }))
		}
	}, w.win)
	d.Resize(fyne.NewSize(520, 380))
	w.ask(d)
}
