package ui

import (
	"context"
	"fmt"
	"strings"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/fill"
	"stowbay/layout/packing"
	"stowbay/ui/view"
	"stowbay/vehicles"
)

// goals are the second goals of a packing as the dialog shows them.
var goals = []struct {
	name string
	set  func(*packing.Goal)
}{
	{"no second goal", func(*packing.Goal) {}},
	{"low", func(g *packing.Goal) { g.Low = true }},
	{"forward", func(g *packing.Goal) { g.Forward = true }},
	{"rearward", func(g *packing.Goal) { g.Rearward = true }},
	{"near the centre plane", func(g *packing.Goal) { g.Centre = true }},
	{"in rows", func(g *packing.Goal) { g.Rows = true }},
	{"terminals facing each other", func(g *packing.Goal) { g.FacingTerminals = true }},
	{"left and right alike", func(g *packing.Goal) { g.Mirror = true }},
}

// askPack asks what to pack where.
func (w *Window) askPack() {
	if len(w.model.Arrangement().Boxes)+len(w.model.Arrangement().Bays) == 0 {
		w.model.Say("Draw a bay or a box first.")
		return
	}
	ids, names := w.moduleChoices()
	module := newChoice(names, nil)
	module.SetSelectedIndex(w.usualModule(ids))
	box := w.packTarget()
	where := newRadios([]string{"Every bay and box that is not locked"}, nil)
	if box != "" {
		where.Options = append(where.Options, "Only "+box)
	}
	where.SetSelected(where.Options[len(where.Options)-1])
	var names2 []string
	for _, g := range goals {
		names2 = append(names2, g.name)
	}
	goal := newChoice(names2, nil)
	goal.SetSelectedIndex(0)
	keep := newTickBox("Leave every module that is in a box already, not only the locked ones", nil)
	items := []*widget.FormItem{widget.NewFormItem("Module", module), widget.NewFormItem("Where", where),
		widget.NewFormItem("Among the fullest", goal), widget.NewFormItem("", keep)}
	d := dialog.NewForm("Pack the most modules", "Pack", "Cancel", items, func(ok bool) {
		if !ok || module.SelectedIndex() < 0 {
			return
		}
		wish := fill.Wish{Module: w.model.Library().Module(ids[module.SelectedIndex()]), KeepAll: keep.Checked, Limit: packLimit, Donor: w.model.Scene().Donor}
		goals[goal.SelectedIndex()].set(&wish.Goal)
		only := ""
		if where.Selected != where.Options[0] {
			only = box
		}
		w.pack(wish, only)
	}, w.win)
	d.Resize(fyne.NewSize(560, 320))
	w.ask(d)
}

// packLimit bounds the search in one box; stopping earlier keeps the best found.
const packLimit = 30 * time.Second

func (w *Window) moduleChoices() (ids, names []string) {
	for _, m := range w.model.Library().Modules() {
		ids = append(ids, m.ID)
		names = append(names, m.Name)
	}
	return ids, names
}

// usualModule is the index of the module that the plan uses, or that is in hand.
func (w *Window) usualModule(ids []string) int {
	usual := fill.UsualModule(w.model.Plan(), w.model.Arrangement())
	if key, ok := strings.CutPrefix(view.PlaceKey(w.model.Tool()), view.ModuleKey); ok {
		usual = key
	}
	for i, id := range ids {
		if id == usual {
			return i
		}
	}
	return 0
}

// packTarget is the box picked, or the bay picked; "" for none.
func (w *Window) packTarget() string {
	if b := w.boxPicked(); b != "" {
		return b
	}
	if b := w.model.Arrangement().Bay(w.model.Selection.Last()); b != nil {
		return b.ID
	}
	return ""
}

// pack packs in the background with a way to stop it, and puts the outcome in as one step.
func (w *Window) pack(wish fill.Wish, only string) {
	ctx, cancel := context.WithCancel(context.Background())
	a, lib := w.model.Kept(), w.model.Library()
	wish.Trouble = check.Trouble(w.model.Document().Plan(), lib)
	text := widget.NewLabel("Looking …")
	bar := widget.NewProgressBar()
	known := false
	bar.TextFormatter = func() string {
		if !known {
			return ""
		}
		return fmt.Sprintf("%.0f of at most %.0f", bar.Value, bar.Max)
	}
	var d dialog.Dialog
	dropped := false
	drop := func() {
		dropped, w.busy = true, false
		cancel()
		d.Hide()
		w.model.Say("Packing was cancelled; nothing was changed.")
	}
	halt := func() { text.SetText("Stopping …"); cancel() }
	stop, leave := newPush("Stop and keep the best", halt), newPush("Cancel and leave all as it was", drop)
	d = dialog.NewCustomWithoutButtons("Packing "+wish.Module.Name, container.NewVBox(text, bar, container.NewGridWithColumns(2, stop, leave)), w.win)
	d.Resize(fyne.NewSize(520, 170))
	w.busy = true
	w.ask(d)
	w.hear(d, func(k fyne.KeyName) bool {
		if k == fyne.KeyEscape {
			drop()
		}
		return k == fyne.KeyEscape
	})
	began := time.Now()
	var latest atomic.Pointer[packing.Progress]
	progress := func(p packing.Progress) { latest.Store(&p) }
	go tick(ctx, progressEvery, func() {
		p := latest.Load()
		text.SetText(progressText(p, a, time.Since(began)))
		if p != nil && p.Bound > 0 {
			known, bar.Max = true, float64(p.Bound)
			bar.SetValue(float64(p.Count))
		}
	})
	go func() {
		done, err := packOnly(ctx, a, lib, wish, only, progress)
		fyne.Do(func() {
			cancel()
			if dropped {
				return
			}
			w.busy = false
			d.Hide()
			w.packed(done, err)
		})
	}()
}

// progressEvery is how often a search under way is shown.
const progressEvery = 200 * time.Millisecond

// tick calls f on the window's goroutine again and again until the context ends.
func tick(ctx context.Context, every time.Duration, f func()) {
	t := time.NewTicker(every)
	defer t.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-t.C:
			fyne.Do(f)
		}
	}
}

// progressText says how far a search has come in a box of an arrangement, which is called by its name where it has one.
func progressText(p *packing.Progress, a *layout.Arrangement, since time.Duration) string {
	if p == nil {
		return fmt.Sprintf("Looking, %.0f s", since.Seconds())
	}
	name := p.Bay
	if b := a.Box(name); b != nil && b.Name != "" {
		name = b.Name
	}
	return fmt.Sprintf("%s: %d found, no more than %d can fit; %.0f s", name, p.Count, p.Bound, since.Seconds())
}

// packOnly packs one box or bay, or all where only is "".
func packOnly(ctx context.Context, a *layout.Arrangement, lib *vehicles.Library, wish fill.Wish, only string, progress func(packing.Progress)) (fill.Done, error) {
	if only == "" {
		return fill.Arrangement(ctx, a, lib, wish, progress)
	}
	return fill.Only(ctx, a, only, lib, wish, progress)
}

// packed puts a packing in and says plainly what came out.
func (w *Window) packed(done fill.Done, err error) {
	if err != nil {
		w.showError("Not packed", w.inUnits(err))
		return
	}
	err = w.model.Do(func(p *layout.Plan, _ string) (layout.Edit, error) {
		return layout.Diff(p, p.WithArrangement(done.Arrangement), "Pack "+packedWhat(done))
	})
	if err != nil {
		w.showError("Not packed", w.inUnits(err))
		return
	}
	w.model.Say(placedText(w.model.Scene().Count()))
	w.showPage("Packed", w.model.Units().Prose(packedText(done)))
}

func placedText(n int) string {
	if n == 0 {
		return "No module was placed."
	}
	return counted(n, "module") + " placed."
}

// packedText says of each box, or bay that gets none, how many fit and what is proved, and how.
func packedText(done fill.Done) string {
	var b strings.Builder
	for _, o := range done.Outcomes {
		fmt.Fprintf(&b, "**%s: %s.**\n\n%s: %s.\n\n", o.Name(), o.Words(), because(o.Result), strings.TrimSuffix(o.Result.Reason, "."))
	}
	return b.String()
}

// because introduces the reason of a result.
func because(r packing.Result) string {
	switch {
	case r.Count > 0:
		return "How it is known"
	case r.Proved:
		return "Why"
	}
	return "Why, as far as it is known"
}

func packedWhat(done fill.Done) string {
	if len(done.Outcomes) == 1 {
		return "box " + done.Outcomes[0].ID()
	}
	return fmt.Sprintf("%d boxes", len(done.Outcomes))
}
