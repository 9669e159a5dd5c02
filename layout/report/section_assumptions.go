package report

import (
	"slices"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/mass"
	"stowbay/layout/report/page"
)

// assumptions lists in one place what the figures rest on that nobody weighed or read off a data sheet.
func (b *book) assumptions() {
	b.Para("What the figures rest on besides measurement and makers' data. Replace an estimate by a measurement and the findings follow.")
	b.settingsInUse()
	for i, e := range b.es {
		b.e, b.n = e, i+1
		b.assumed(e)
	}
	b.e = nil
}

func (b *book) assumed(e *check.Evaluation) {
	title := "Readings"
	if len(b.es) > 1 {
		title = "Readings of " + e.Arrangement.Name
	}
	b.Heading(title + " that rest on an estimate or an assumption")
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "reading"}, {Head: "of"}, {Head: "value", Right: true}, {Head: "basis"}, {Head: "why"}}}
	for _, r := range e.Readings {
		if r.Basis == layout.Estimated || r.Basis == layout.Assumed {
			t.Rows = append(t.Rows, page.Row(r.Label, r.Of, b.reading(r), string(r.Basis), remark(r)))
		}
	}
	if len(t.Rows) == 0 {
		b.Para("None says so of itself.")
	} else {
		b.Table(t)
	}
	b.guessedMasses(e)
	b.surveyDoubts(e)
}

func remark(r layout.Reading) string {
	if r.Why == nil {
		return ""
	}
	w := r.Why()
	out := w.Remark
	const few = 6
	if len(w.Inputs) > few {
		return out + " From the mass ledger and other lists of this report."
	}
	for _, in := range w.Inputs {
		if in.Note != "" {
			out += " " + in.Name + ": " + in.Note + "."
		}
	}
	return out
}

// guessedMasses are the masses in the ledger that were neither weighed nor computed.
func (b *book) guessedMasses(e *check.Evaluation) {
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "mass"}, {Head: "in"}, {Head: b.unit("kg"), Right: true}, {Head: "± " + b.unit("kg"), Right: true}, {Head: "known from"}, {Head: "how"}}}
	for _, l := range ledgerLines(e.Mass.Ledger()) {
		if l.Known == "guess" || l.Known == mass.Estimate {
			t.Rows = append(t.Rows, page.Row(l.Name, l.Of, b.mass2(l.Kg), b.mass2(l.pm), l.Known, l.Note))
		}
	}
	if len(t.Rows) > 0 {
		b.Heading("Masses that were estimated")
		b.Table(t)
	}
}

// surveyDoubts is what the donor's survey says against itself.
func (b *book) surveyDoubts(e *check.Evaluation) {
	if e.Scene.Donor == nil {
		return
	}
	var out []string
	for _, c := range e.Mass.Survey().Contradictions {
		out = append(out, c.Text+" ("+c.Source+")")
	}
	if len(out) > 0 {
		b.Heading("What the donor's survey leaves in doubt")
		b.Bullets(slices.Compact(out))
	}
}
