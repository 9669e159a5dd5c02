package ui

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/ui/view"
	"stowbay/vehicles/record"
)

// recordPane is the dialog on the build record: what came in, what goes where, what sits where.
type recordPane struct {
	w                           *Window
	received, matched, register *pagePane
	proposal                    *assembly.Matching
	putIn, export               *push
}

func (w *Window) showRecord() *recordPane {
	r := &recordPane{w: w}
	page := func(build func(float64) *view.Page, click func(string)) *pagePane {
		return newPagePane(w, fyne.NewSize(300, 200), build, click)
	}
	r.received = page(func(wide float64) *view.Page { return w.model.ReceivedPage(wide, w.pages.fonts) }, nil)
	r.matched = page(func(wide float64) *view.Page { return w.model.MatchingPage(wide, w.pages.fonts, r.proposal) }, nil)
	r.register = page(func(wide float64) *view.Page { return w.model.RegisterPage(wide, w.pages.fonts) }, r.click)
	r.putIn = newPush("Put them in …", r.askPutIn)
	r.putIn.Importance = widget.HighImportance
	r.putIn.Disable()
	r.export = newPush("Write as CSV …", r.askExport)
	bring := newPush("Import CSV …", func() { w.askFile([]string{".csv"}, r.importFrom) })
	enter := newPush("Enter one …", r.askReceived)
	propose := newPush("Propose a matching", r.propose)
	tabs := container.NewAppTabs(
		container.NewTabItem("Received", container.NewBorder(container.NewHBox(bring, enter, r.export), nil, nil, nil, r.received)),
		container.NewTabItem("Matching", container.NewBorder(container.NewHBox(propose, r.putIn), nil, nil, nil, r.matched)),
		container.NewTabItem("Register", r.register))
	tabs.OnSelected = func(t *container.TabItem) {
		if t.Text == "Matching" && r.proposal == nil {
			r.propose()
		}
	}
	caution := widget.NewLabel(view.Caution)
	caution.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustom("Build record of "+w.model.Arrangement().Name, "Close", container.NewBorder(nil, caution, nil, nil, tabs), w.win)
	d.Resize(fyne.NewSize(1180, 700))
	r.update()
	w.ask(d)
	return r
}

// update shows the record as it is now.
func (r *recordPane) update() {
	r.received.update()
	r.matched.update()
	r.register.update()
	enable(r.export, r.w.model.Plan().Build != nil && len(r.w.model.Plan().Build.Received) > 0)
}

// importFrom reads received modules and asks before they are appended. Where something is wrong with the table all of
// it is said, and nothing is taken in.
func (r *recordPane) importFrom(path string) {
	data, err := readSome(path, record.MaxBytes)
	var rs []layout.Received
	if err == nil {
		rs, err = assembly.ImportReceived(filepath.Base(path), data, r.w.model.Plan().Build)
	}
	if err == nil && len(rs) == 0 {
		err = errors.New("there is no module in it")
	}
	if err != nil {
		r.w.showError("Nothing was imported", err)
		return
	}
	text := fmt.Sprintf("%s from %s, %s to %s. They are appended to the record, where entries stand for good.",
		counted(len(rs), "module"), filepath.Base(path), rs[0].Shop, rs[len(rs)-1].Shop)
	r.w.confirm("Append to the build record?", text, "Append", func() {
		r.append("Receive "+counted(len(rs), "module"), layout.Build{Received: rs})
	})
}

// askReceived asks for one module received, in the fields of its record.
func (r *recordPane) askReceived() {
	in := &layout.Received{Date: today()}
	if b := r.w.model.Plan().Build; b != nil && len(b.Received) > 0 {
		last := b.Received[len(b.Received)-1]
		in.Module, in.By = last.Module, last.By
	}
	r.w.edit("Module received (appended to the record, where it stands for good)", in, func() error {
		err := r.w.model.AppendToBuild("Receive "+in.Shop, layout.Build{Received: []layout.Received{*in}})
		if err == nil {
			r.proposal = nil
			r.putIn.Disable()
			r.update()
		}
		return err
	})
}

// readSome reads a file that holds at most so many bytes.
func readSome(path string, most int) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, layout.Explain("open", path, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, int64(most)+1))
	if err != nil {
		return nil, layout.Explain("read", path, err)
	}
	if len(data) > most {
		return nil, fmt.Errorf("%s: the file is too large; up to %d bytes are read", path, most)
	}
	return data, nil
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// append adds entries and shows the record; a proposal made before no longer holds.
func (r *recordPane) append(text string, more layout.Build) {
	if err := r.w.model.AppendToBuild(text, more); err != nil {
		r.w.showError("Not appended", err)
		return
	}
	if len(more.Received) > 0 {
		r.proposal = nil
		r.putIn.Disable()
	}
	r.update()
}

// propose matches received modules to slots in the background.
func (r *recordPane) propose() {
	r.proposal = nil
	r.putIn.Disable()
	r.matched.update()
	m := r.w.model.Eval().Assembly.Model
	go func() {
		x, err := assembly.Match(m)
		if err == nil && len(x.Slots) == 0 {
			err = errors.New("there is no string of modules, so there is no slot to match to")
		}
		fyne.Do(func() {
			if err != nil {
				r.w.showError("Nothing to match", err)
				return
			}
			r.proposal = x
			r.putIn.Enable()
			r.matched.update()
		})
	}()
}

// askPutIn asks who puts the modules in, and appends the proposal to the register.
func (r *recordPane) askPutIn() {
	if r.proposal == nil {
		return
	}
	more, others := view.Proposed(r.proposal, r.w.model.Plan().Build, "", "")
	if len(more) == 0 {
		r.w.showError("Nothing to put in", errors.New("every module sits where it is proposed already"))
		return
	}
	text := fmt.Sprintf("%s to put in.", counted(len(more), "module"))
	if others > 0 {
		text = fmt.Sprintf("%s to put in; %d of them replace another one, by a later entry for the slot.", counted(len(more), "module"), others)
	}
	date, by := newField(), newField()
	date.SetText(today())
	items := []*widget.FormItem{widget.NewFormItem("", widget.NewLabel(text)), widget.NewFormItem("Put in by", by), widget.NewFormItem("Date", date)}
	d := dialog.NewForm("Append to the register", "Append", "Cancel", items, func(ok bool) {
		if ok {
			more, _ := view.Proposed(r.proposal, r.w.model.Plan().Build, date.Text, by.Text)
			r.append("Put in "+counted(len(more), "module"), layout.Build{Slots: more})
		}
	}, r.w.win)
	d.Resize(fyne.NewSize(560, 250))
	r.w.ask(d)
}

func today() string { return time.Now().Format(time.DateOnly) }

// click asks for the module that goes into a slot of the register.
func (r *recordPane) click(key string) {
	slot, ok := strings.CutPrefix(key, "slot ")
	if !ok {
		return
	}
	free := r.w.model.FreeFor(slot)
	if len(free) == 0 {
		r.w.showError("No module for "+slot, errors.New("every module of its type that was received sits in a slot or is refused"))
		return
	}
	was, replaces := r.w.model.Sits(slot)
	shop, date, by, why := newChoice(free, nil), newField(), newField(), newField()
	shop.SetSelectedIndex(0)
	date.SetText(today())
	items := []*widget.FormItem{widget.NewFormItem("Shop number", shop), widget.NewFormItem("Put in by", by), widget.NewFormItem("Date", date)}
	if replaces {
		items = append(items, widget.NewFormItem("Why it replaces "+was.Shop, why))
	}
	d := dialog.NewForm("Module in "+slot, "Append", "Cancel", items, func(ok bool) {
		if ok {
			s := layout.Slot{Arrangement: r.w.model.Arrangement().ID, Slot: slot, Shop: shop.Selected, Date: date.Text, By: by.Text, Reason: why.Text}
			r.append("Put in "+s.Shop, layout.Build{Slots: []layout.Slot{s}})
		}
	}, r.w.win)
	d.Resize(fyne.NewSize(560, 290))
	r.w.ask(d)
}

// askExport asks where the table of received modules goes.
func (r *recordPane) askExport() {
	where := newField()
	where.SetText(filepath.Join(r.w.folder(), r.w.stemName()+"-received.csv"))
	d := dialog.NewForm("Write the modules received as CSV", "Write", "Cancel", []*widget.FormItem{widget.NewFormItem("To", where)}, func(ok bool) {
		if path := strings.TrimSpace(where.Text); ok && path != "" {
			r.confirmExport(path)
		}
	}, r.w.win)
	d.Resize(fyne.NewSize(600, 160))
	r.w.ask(d)
}

// confirmExport asks first where another file stands at the path. The plan's own file is never written over.
func (r *recordPane) confirmExport(path string) {
	switch _, err := os.Stat(path); {
	case path == r.w.path:
		r.w.showError("Not written", errors.New("that is the plan's own file; choose another name"))
	case errors.Is(err, os.ErrNotExist):
		r.exportTo(path)
	default:
		r.w.confirm("Write over it?", filepath.Base(path)+" is there already; what it holds is lost.", "Write over it", func() { r.exportTo(path) })
	}
}

func (r *recordPane) exportTo(path string) {
	data, err := assembly.ExportReceived(r.w.model.Plan().Build.Received)
	if err == nil {
		err = layout.ReplaceFile(path, data)
	}
	if err != nil {
		r.w.showError("Not written", err)
		return
	}
	r.w.model.Say("Written: " + path)
}
