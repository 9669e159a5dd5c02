package ui

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/ui/view"
)

// explain opens a reading: formula, inputs, source, and what it was before.
func (w *Window) explain(key string) {
	if key == view.WheelKeys[0] {
		w.explainWheels()
		return
	}
	r, ok := w.model.Eval().Reading(key)
	if !ok {
		return
	}
	w.showPage(r.Label, w.explanation(r))
}

func (w *Window) explainWheels() {
	var parts []string
	for _, key := range view.WheelKeys {
		if r, ok := w.model.Eval().Reading(key); ok {
			parts = append(parts, w.explanation(r))
		}
	}
	w.showPage("Wheel loads at kerb", strings.Join(parts, "\n\n"))
}

func (w *Window) explanation(r layout.Reading) string {
	u := w.model.Units()
	var b strings.Builder
	fmt.Fprintf(&b, "**%s: %s**", r.Label, u.Text(r.Value, r.Unit))
	if r.PlusMinus > 0 {
		fmt.Fprintf(&b, ", give or take %s", u.Text(r.PlusMinus, r.Unit))
	}
	if r.Basis != "" && r.Basis != layout.Computed {
		fmt.Fprintf(&b, ". It rests on an **%s**.", r.Basis)
	}
	if s := w.model.Start(); s != nil {
		if was, ok := s.Reading(r.Key); ok && was.Value != r.Value {
			fmt.Fprintf(&b, "\n\nAt the start of this session it was %s (%s).", u.Text(was.Value, was.Unit), u.Delta(r.Value-was.Value, r.Unit))
		}
	}
	if r.Why != nil {
		w.writeWhy(&b, r.Why())
	}
	return b.String()
}

func (w *Window) writeWhy(b *strings.Builder, why layout.Why) {
	fmt.Fprintf(b, "\n\nFormula: %s\n", why.Formula)
	for _, in := range why.Inputs {
		fmt.Fprintf(b, "\n- %s: %s", in.Name, label(math.Round(in.Value*1000)/1000))
		if in.Unit != "" {
			b.WriteString(" " + in.Unit)
		}
		if in.Note != "" {
			b.WriteString(" (" + in.Note + ")")
		}
	}
	if why.Source != "" {
		fmt.Fprintf(b, "\n\nSource: %s", why.Source)
	}
	if why.Remark != "" {
		fmt.Fprintf(b, "\n\n%s", why.Remark)
	}
}

// explainFinding opens a finding: what was required and found, what the rule guards against, and its source.
func (w *Window) explainFinding(f check.Finding) {
	u := w.model.Units()
	var b strings.Builder
	fmt.Fprintf(&b, "**%s:** %s\n\n", strings.ToUpper(string(f.Severity[:1]))+string(f.Severity[1:]), f.Text)
	if f.Compare != "" {
		fmt.Fprintf(&b, "Required: %s %s. Found: %s.\n\n", f.Compare, u.Text(f.Required, f.Unit), u.Text(f.Actual, f.Unit))
	}
	for _, r := range check.Table() {
		if r.Name == f.Rule {
			fmt.Fprintf(&b, "The rule %s guards against %s.\n\n", r.Name, r.Guards)
		}
	}
	fmt.Fprintf(&b, "Source: %s\n\n%s", f.Source, view.Caution)
	w.showPage("Finding about "+f.Subject, b.String())
}

// Width of a text in a dialog, and how many letters go on one of its lines.
const (
	pageWidth   = 620
	pageLetters = 85
)

// showPage shows a text in a dialog.
func (w *Window) showPage(title, markdown string) {
	text := widget.NewRichTextFromMarkdown(markdown)
	text.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustom(title, "Close", container.NewVScroll(text), w.win)
	lines := 0
	for _, l := range strings.Split(markdown, "\n") {
		lines += 1 + len(l)/pageLetters
	}
	d.Resize(fyne.NewSize(pageWidth, float32(min(130+19*lines, 620))))
	w.ask(d)
}
