package report

import (
	"strings"

	"stowbay/layout"
	"stowbay/layout/report/page"
)

// readings sets every figure, its basis and how it was computed.
func (b *book) readings() {
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "reading", MM: 38}, {Head: "of", MM: 18}, {Head: "value", Right: true, MM: 28}, {Head: "basis", MM: 17}, {Head: "how, and the source"}}}
	for _, r := range b.e.Readings {
		t.Rows = append(t.Rows, page.Row(r.Label, r.Of, b.reading(r), or(string(r.Basis), "computed"), whyWords(r)))
	}
	b.Table(t)
}

// whyWords says how a reading was computed.
func whyWords(r layout.Reading) string {
	if r.Why == nil {
		return ""
	}
	w := r.Why()
	var out []string
	if w.Formula != "" {
		out = append(out, w.Formula)
	}
	if w.Source != "" {
		out = append(out, "["+w.Source+"]")
	}
	if w.Remark != "" {
		out = append(out, w.Remark)
	}
	return strings.Join(out, "  ")
}
