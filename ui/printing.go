package ui

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout/report"
	"stowbay/ui/view"
)

// printer is the system's print command.
const printer = "lp"

// printPatience is how long the print command may take.
const printPatience = 30 * time.Second

// askPatience is how long the system may take to name its printers.
const askPatience = 2 * time.Second

// usualPrinter stands for the printer that the system takes where none is named.
const usualPrinter = "the usual printer"

// askPrint asks what to print and where. Without a print command the report goes to the viewer.
func (w *Window) askPrint() {
	ask := newReportAsk()
	where, copies := newChoice(append([]string{usualPrinter}, printers()...), nil), newField()
	where.SetSelectedIndex(0)
	copies.SetText("1")
	items := []*widget.FormItem{widget.NewFormItem("Of", ask.which), widget.NewFormItem("Paper", ask.paper)}
	goes := "Print"
	if canPrint() {
		items = append(items, widget.NewFormItem("Printer", where), widget.NewFormItem("Copies", copies))
	} else {
		goes = "Open in the viewer"
		note := widget.NewLabel("This computer has no print command (" + printer + "). The report opens in your PDF viewer; print it from there. It stays in a file of its own.")
		note.Wrapping = fyne.TextWrapWord
		items = append(items, widget.NewFormItem("Printer", note))
	}
	items = append(items, widget.NewFormItem("", cautionLabel()))
	d := dialog.NewForm("Print the report", goes, "Cancel", items, func(ok bool) {
		if !ok {
			return
		}
		n, err := view.Metric.Evaluate(copies.Text, view.Plain)
		if err != nil || n != float64(int(n)) || n < 1 || n > 99 {
			w.showError("Not printed", errors.New("copies: a whole number from 1 to 99 is wanted"))
			return
		}
		to := where.Selected
		if to == usualPrinter {
			to = ""
		}
		w.print(ask, to, int(n))
	}, w.win)
	d.Resize(fyne.NewSize(620, 360))
	w.ask(d)
}

func cautionLabel() *widget.Label {
	l := widget.NewLabel(view.Caution)
	l.Wrapping = fyne.TextWrapWord
	return l
}

func canPrint() bool {
	_, err := exec.LookPath(printer)
	return err == nil
}

// printers are the names of the printers that the system knows; none where it cannot say, or not soon.
func printers() []string {
	ctx, cancel := context.WithTimeout(context.Background(), askPatience)
	defer cancel()
	out, err := exec.CommandContext(ctx, "lpstat", "-e").Output()
	if err != nil {
		return nil
	}
	return strings.Fields(string(out))
}

// print writes the report to a file of its own and hands it to the printer or the viewer.
func (w *Window) print(ask *reportAsk, to string, copies int) {
	dir, err := os.MkdirTemp("", "stowbay-print")
	if err != nil {
		w.showError("Not printed", err)
		return
	}
	path := filepath.Join(dir, w.stemName()+"-report.pdf")
	title := w.model.Plan().Name
	w.makeReport(path, true, ask.all(), ask.options(), func() {
		if !canPrint() {
			w.openFile(path)
			return
		}
		w.model.Say("Handing the report to the printer …")
		go func() {
			err := sendToPrinter(path, title, to, copies)
			fyne.Do(func() { w.printed(path, title, err) })
		}()
	})
}

// printed says how printing went. A report that was not printed is kept.
func (w *Window) printed(path, title string, err error) {
	if err != nil {
		w.model.Say("")
		w.showError("Not printed", fmt.Errorf("%w\n\nThe report is kept as %s", err, path))
		return
	}
	os.RemoveAll(filepath.Dir(path))
	w.model.Say("Handed to the printer: " + title)
}

// sendToPrinter hands a file to the system's print command.
func sendToPrinter(path, title, to string, copies int) error {
	args := []string{"-t", title, "-n", strconv.Itoa(copies)}
	if to != "" {
		args = append(args, "-d", to)
	}
	ctx, cancel := context.WithTimeout(context.Background(), printPatience)
	defer cancel()
	cmd := exec.CommandContext(ctx, printer, append(args, path)...)
	cmd.WaitDelay = time.Second // for what it started and left behind
	out, err := cmd.CombinedOutput()
	said := strings.TrimSpace(string(out))
	switch {
	case err == nil:
		return nil
	case ctx.Err() != nil:
		return fmt.Errorf("the print command (%s) did not end within %v", printer, printPatience)
	case said == "":
		return fmt.Errorf("the print command (%s) failed without saying why (%w)", printer, err)
	}
	return fmt.Errorf("the print command (%s) says: %s", printer, said)
}

// openFile opens a file in the program that the system has for it.
func (w *Window) openFile(path string) {
	u := &url.URL{Scheme: "file", Path: filepath.ToSlash(path)}
	if err := w.app.OpenURL(u); err != nil {
		w.showError("It cannot be opened here", fmt.Errorf("nothing on this computer opens it (%w)\n\nIt is kept as %s", err, path))
		return
	}
	w.model.Say("Opened in the viewer: " + path)
}

// reportAsk are the choices that printing and writing a report share.
type reportAsk struct {
	which *radios
	paper *choice
}

const thisArrangement = "this arrangement"

func newReportAsk() *reportAsk {
	a := &reportAsk{newRadios([]string{thisArrangement, "all arrangements, compared"}, nil), newChoice([]string{"A4, 210 × 297 mm", "Letter, 8.5 × 11 in"}, nil)}
	a.which.SetSelected(thisArrangement)
	a.paper.SetSelectedIndex(0)
	return a
}

func (a *reportAsk) all() bool { return a.which.Selected != thisArrangement }

func (a *reportAsk) options() report.Options {
	if a.paper.SelectedIndex() == 1 {
		return report.Options{Paper: report.Letter}
	}
	return report.Options{Paper: report.A4}
}
