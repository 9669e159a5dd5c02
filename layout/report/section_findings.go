package report

import (
	"strings"

	"stowbay/layout/check"
	"stowbay/layout/report/page"
)

// findings lists every finding with what is required, what is there, the margin and the source.
func (b *book) findings() {
	if len(b.e.Findings) == 0 {
		b.Para("No rule has anything to say about this arrangement: there is nothing in it to compare.")
		return
	}
	b.Para("Every comparison made, gravest first. Numbers such as F1 are those in the drawings; a subject leads to the page that shows it. " +
		"That a comparison holds says no more than that the two figures beside it compare as required.")
	t := page.Table{Pt: 6.8, Columns: []page.Column{
		{Head: "verdict", MM: 13}, {Head: "no.", MM: 9}, {Head: "rule", MM: 25}, {Head: "subject", MM: 25}, {Head: "what was found"},
		{Head: "required", Right: true, MM: 22}, {Head: "actual", Right: true, MM: 15}, {Head: "margin", Right: true, MM: 15}, {Head: "unit", MM: 10}, {Head: "source", MM: 46},
	}}
	for i, f := range b.e.Findings {
		t.Rows = append(t.Rows, b.findingRow(i, f))
	}
	b.tableWithAnchors(t)
}

func (b *book) findingRow(i int, f check.Finding) []page.Cell {
	row := []page.Cell{severityCell(f), {S: findingNumber(i)}, {S: f.Rule}, {S: f.Subject, Link: b.shows(f)}, {S: f.Text}, {}, {}, {}, {}, {S: f.Source}}
	if f.Compare != "" {
		row[5].S = f.Compare + " " + b.num(f.Required, f.Unit)
		row[6].S = b.num(f.Actual, f.Unit)
		row[7].S = b.num(f.Margin(), f.Unit)
		row[8].S = b.unit(f.Unit)
	}
	return row
}

// tableWithAnchors sets the table of findings so that each can be linked to.
func (b *book) tableWithAnchors(t page.Table) {
	t.Anchors = make([]string, len(t.Rows))
	for i := range t.Rows {
		t.Anchors[i] = b.anchor("findings/" + findingNumber(i))
	}
	b.Table(t)
}

// shows is the place of the report that shows what a finding is about.
func (b *book) shows(f check.Finding) string {
	for _, ref := range append([]string{f.Subject}, f.Refs...) {
		id, _, _ := strings.Cut(ref, "/")
		if b.e.Scene.Box(id) != nil && b.has[b.anchor("boxes")] {
			return b.to("boxes", id)
		}
	}
	room, _, _ := strings.Cut(f.Rule, ".")
	if to := b.to(sectionOf[room], ""); to != "" {
		return to
	}
	return b.to("drawings", "")
}

// sectionOf is the section that shows what the rules of a subject are about.
var sectionOf = map[string]string{
	"mass": "loads", "electric": "electric", "assembly": "assembly", "restraint": "mounting", "cooling": "cooling", "road": "range", "range": "range",
}
