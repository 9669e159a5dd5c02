package ui

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/report"
)

// What a report can be written as.
const (
	reportPDF    = "one PDF file"
	reportFolder = "a folder with the PDF, drawings (SVG, DXF), tables (CSV) and readings (JSON)"
)

// askReport asks what the report is to hold and where it goes.
func (w *Window) askReport() {
	form := newRadios([]string{reportPDF, reportFolder}, nil)
	form.SetSelected(reportPDF)
	ask := newReportAsk()
	where := newField()
	where.SetText(filepath.Join(w.folder(), w.stemName()+"-report.pdf"))
	form.OnChanged = func(s string) {
		base := strings.TrimSuffix(where.Text, ".pdf")
		if s == reportPDF {
			base += ".pdf"
		}
		where.SetText(base)
	}
	items := []*widget.FormItem{widget.NewFormItem("Write", form), widget.NewFormItem("Of", ask.which), widget.NewFormItem("Paper", ask.paper),
		widget.NewFormItem("To", where), widget.NewFormItem("", cautionLabel())}
	d := dialog.NewForm("Report", "Write", "Cancel", items, func(ok bool) {
		if ok {
			path := strings.TrimSpace(where.Text)
			w.makeReport(path, form.Selected == reportPDF, ask.all(), ask.options(), func() { w.reportWritten(path) })
		}
	}, w.win)
	d.Resize(fyne.NewSize(680, 420))
	w.ask(d)
}

// reportWritten says where the report is and offers to open it.
func (w *Window) reportWritten(path string) {
	w.model.Say("Report written: " + path)
	text := widget.NewLabel(path)
	text.Wrapping = fyne.TextWrapBreak
	text.Selectable = true
	d := dialog.NewCustomWithoutButtons("The report is written", text, w.win)
	open := newPush("Open it", func() { d.Hide(); w.openFile(path) })
	closing := newPush("Close", d.Hide)
	closing.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{open, closing})
	d.Resize(fyne.NewSize(520, 150))
	w.ask(d)
}

func (w *Window) stemName() string {
	if w.path == "" {
		return "plan"
	}
	return strings.TrimSuffix(filepath.Base(w.path), filepath.Ext(w.path))
}

// evaluations are those of this arrangement, or of all.
func (w *Window) evaluations(all bool) []*check.Evaluation {
	if !all {
		return []*check.Evaluation{w.model.Eval()}
	}
	var out []*check.Evaluation
	p := w.model.Document().Plan()
	for _, a := range p.Arrangements {
		out = append(out, check.Evaluate(p, a, w.model.Library(), nil))
	}
	return out
}

// makeReport writes in the background with a way to stop it, and goes on when it went well.
func (w *Window) makeReport(path string, pdf, all bool, o report.Options, then func()) {
	ctx, cancel := context.WithCancel(context.Background())
	bar, text := widget.NewProgressBar(), widget.NewLabel("")
	d := dialog.NewCustomWithoutButtons("Writing the report", container.NewVBox(text, bar, newPush("Stop", cancel)), w.win)
	d.Resize(fyne.NewSize(420, 160))
	w.busy = true
	w.ask(d)
	o.Progress = func(done float64, s string) { fyne.Do(func() { bar.SetValue(done); text.SetText(s) }) }
	p, es := w.model.Document().Plan(), w.evaluations(all)
	go func() {
		err := writeReport(ctx, path, pdf, p, es, o)
		fyne.Do(func() {
			cancel()
			w.busy = false
			d.Hide()
			if err != nil {
				w.showError("The report was not written", err)
				return
			}
			w.markReported(es)
			then()
		})
	}()
}

// markReported remembers for the guide that a report was written of arrangements.
func (w *Window) markReported(es []*check.Evaluation) {
	for _, e := range es {
		w.reported[e.Arrangement.ID] = true
	}
	w.left.guide.update()
}

func writeReport(ctx context.Context, path string, pdf bool, p *layout.Plan, es []*check.Evaluation, o report.Options) error {
	if !pdf {
		_, err := report.WriteAll(ctx, path, p, es, o)
		return err
	}
	data, err := report.PDF(p, es, o)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return fmt.Errorf("stopped")
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return layout.ReplaceFile(path, data)
}
