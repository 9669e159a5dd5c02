package report

import (
	"fmt"

	"stowbay/layout"
	"stowbay/layout/report/page"
)

// readings sets every figure with its basis, and after that how they were computed: many share a way.
func (b *book) readings() {
	var ways []layout.Why
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "reading"}, {Head: "of", MM: 24}, {Head: "value", Right: true}, {Head: "basis", MM: 20}, {Head: "how", MM: 12}}}
	for _, r := range b.e.Readings {
		how := page.Cell{}
		if r.Why != nil {
			var n int
			n, ways = wayNumber(ways, r.Why())
			how = page.Cell{S: fmt.Sprintf("W%d", n), Link: b.anchor(fmt.Sprintf("readings/W%d", n))}
		}
		t.Rows = append(t.Rows, append(page.Row(r.Label, r.Of, b.reading(r), or(string(r.Basis), "computed")), how))
	}
	b.Table(t)
	b.ways(ways)
}

// wayNumber is the number, from 1, of the way a reading was computed. Ways differ by formula, source and remark.
func wayNumber(ways []layout.Why, w layout.Why) (int, []layout.Why) {
	for i, v := range ways {
		if v.Formula == w.Formula && v.Source == w.Source && v.Remark == w.Remark {
			return i + 1, ways
		}
	}
	return len(ways) + 1, append(ways, w)
}

func (b *book) ways(ways []layout.Why) {
	if len(ways) == 0 {
		return
	}
	b.Heading("How the readings were computed")
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "", MM: 9}, {Head: "formula"}, {Head: "source", MM: 44}, {Head: "remark"}}}
	for i, w := range ways {
		n := fmt.Sprintf("W%d", i+1)
		t.Rows = append(t.Rows, page.Row(n, w.Formula, w.Source, w.Remark))
		t.Anchors = append(t.Anchors, b.anchor("readings/"+n))
	}
	b.Table(t)
}
