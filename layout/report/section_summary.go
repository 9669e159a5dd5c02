package report

import (
	"fmt"

	"stowbay/layout/check"
	"stowbay/layout/report/page"
)

// summary sets the one page that says how an arrangement stands.
func (b *book) summary() {
	n := b.e.Counts()
	b.Tallies([]page.Tally{
		{Number: fmt.Sprint(n[check.Fails]), Words: "findings fail", Tone: toneIf(n[check.Fails], page.Bad), Link: b.to("findings", "")},
		{Number: fmt.Sprint(n[check.Warns]), Words: "findings warn", Tone: toneIf(n[check.Warns], page.Poor), Link: b.to("findings", "")},
		{Number: fmt.Sprint(n[check.Notes]), Words: "to note", Link: b.to("findings", "")},
		{Number: fmt.Sprint(n[check.Passes]), Words: "comparisons hold", Link: b.to("findings", "")},
	})
	if b.e.Arrangement.Note != "" {
		b.Para(b.e.Arrangement.Note)
	}
	b.Figure(b.picture(), page.Figure{MM: 72, Fill: true})
	b.Facts(b.summaryFacts(), 2)
	b.summaryCharts()
	b.gravest()
}

func toneIf(n int, t page.Tone) page.Tone {
	if n == 0 {
		return page.Plain
	}
	return t
}

// summaryFacts are the main readings as far as the arrangement has them.
func (b *book) summaryFacts() [][2]string {
	var out [][2]string
	add := func(label string, keys ...string) {
		s := ""
		for _, k := range keys {
			r, ok := b.e.Reading(k)
			if !ok {
				return
			}
			if s != "" {
				s += " / "
			}
			s += b.reading(r)
		}
		out = append(out, [2]string{label, s})
	}
	add("Modules", "count")
	add("In series / strings in parallel", "series", "parallel")
	add("Voltage, least / nominal / most", "voltage_v.min", "voltage_v.nominal", "voltage_v.max")
	add("Energy, nominal", "energy_kwh")
	add("Energy, usable", "usable_kwh")
	add("Range in the cycle WLTC, estimated", "range_km.wltc")
	add("Tightest gap in a box", "worst_gap_mm")
	add("Vehicle mass, kerb", "mass_kg")
	add("Front / rear axle", "axles_kg.front", "axles_kg.rear")
	add("Front axle's share", "front_share_pct")
	add("Centre of gravity x / y / z", "cg_mm.x", "cg_mm.y", "cg_mm.z")
	add("Static stability factor", "ssf")
	return out
}

func (b *book) summaryCharts() {
	if c := b.axleChart(); c != nil {
		b.Figure(c, page.Figure{MM: 26, Fill: true, Bare: true})
	}
}

// gravest lists the first findings that fail or warn, as many as there is room for on the page.
func (b *book) gravest() {
	t := page.Table{Pt: 7.2, Columns: []page.Column{{Head: "verdict", MM: 15}, {Head: "no.", MM: 10}, {Head: "what does not hold"}}}
	for i, f := range b.e.Findings {
		if f.Severity == check.Fails || f.Severity == check.Warns {
			t.Rows = append(t.Rows, []page.Cell{severityCell(f), {S: findingNumber(i), Link: b.to("findings", findingNumber(i))}, {S: f.Text}})
		}
	}
	if len(t.Rows) == 0 {
		b.Para("No finding fails or warns. That is a comparison of figures, not a judgement of the vehicle.")
		return
	}
	all := len(t.Rows)
	const rest = 6.0
	for len(t.Rows) > 0 && b.TableHeight(t) > b.Room()-rest {
		t.Rows = t.Rows[:len(t.Rows)-1]
	}
	if len(t.Rows) > 0 {
		b.Table(t)
	}
	if n := all - len(t.Rows); n > 0 {
		b.Small(fmt.Sprintf("%d more fail or warn; see the findings.", n))
	}
}

func severityCell(f check.Finding) page.Cell {
	switch f.Severity {
	case check.Fails:
		return page.Cell{S: "FAILS", Bold: true, Tone: page.Bad}
	case check.Warns:
		return page.Cell{S: "warns", Bold: true, Tone: page.Poor}
	case check.Notes:
		return page.Cell{S: "note", Tone: page.Faint}
	}
	return page.Cell{S: "holds"}
}
