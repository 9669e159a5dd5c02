package report

import (
	"maps"
	"slices"

	"stowbay/layout/check"
	"stowbay/layout/report/page"
)

// sources lists every rule with what it guards against and where it comes from, whether or not it found anything.
func (b *book) sources() {
	b.Para("Every rule that was run. Where no standard or regulation stands behind a rule it says so. Titles and years are those of the texts the rules were written from; check them against the editions that apply where the vehicle is used.")
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "rule", MM: 34}, {Head: "guards against"}, {Head: "source", MM: 62}, {Head: "fail", Right: true, MM: 9}, {Head: "warn", Right: true, MM: 10}}}
	for _, r := range check.Table() {
		t.Rows = append(t.Rows, page.Row(r.Name, r.Guards, r.Source, b.tally(r.Name, check.Fails), b.tally(r.Name, check.Warns)))
	}
	b.Table(t)
	b.Small("The last two columns count the findings of all arrangements in this report.")
	b.formulaSources()
}

// formulaSources lists the sources of the formulas behind the readings, each with the readings that rest on it.
func (b *book) formulaSources() {
	of := map[string][]string{}
	for _, e := range b.es {
		for _, r := range e.Readings {
			if r.Why == nil {
				continue
			}
			if s := r.Why().Source; s != "" && !slices.Contains(of[s], r.Label) {
				of[s] = append(of[s], r.Label)
			}
		}
	}
	b.Section("Sources of the formulas behind the readings", "", 1, 30)
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "source", MM: 70}, {Head: "readings"}}}
	for _, s := range slices.Sorted(maps.Keys(of)) {
		t.Rows = append(t.Rows, page.Row(s, joined(of[s])))
	}
	t.Rows = append(t.Rows, page.Row("DIN 6935 (bend allowance; from memory, not checked against the text)", "flat patterns"),
		page.Row("ISO 273, medium fit (clearance holes; from memory, not checked against the text)", "lid bolts"))
	b.Table(t)
}

func (b *book) tally(rule string, s check.Severity) string {
	n := 0
	for _, e := range b.es {
		for _, f := range e.Findings {
			if f.Rule == rule && f.Severity == s {
				n++
			}
		}
	}
	if n == 0 {
		return ""
	}
	return fixed(float64(n), 0)
}
