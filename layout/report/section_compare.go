package report

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/layout/report/page"
	"stowbay/layout/search"
)

// compareKeys are the readings that arrangements are set side by side by.
var compareKeys = []string{
	"count", "series", "parallel", "voltage_v.min", "voltage_v.nominal", "voltage_v.max", "energy_kwh", "usable_kwh", "range_km.wltc", "consumption_wh_km.wltc", "continuous_a", "heat_w",
	"mass_kg", "axles_kg.front", "axles_kg.rear", "front_share_pct", "cg_mm.x", "cg_mm.y", "cg_mm.z", "ssf", "payload_kg", "worst_gap_mm", "links_mm", "bridges_hazardous", "segment_v", "leftover",
}

// compare sets the arrangements side by side. The first is what the others are compared with.
func (b *book) compare() {
	t := search.Compare(b.es)
	for from := 1; from < len(b.es); from += abreast - 1 {
		b.compareTable(&t, append([]int{0}, through(from, min(from+abreast-1, len(b.es)))...))
	}
	b.compareMultiples()
	b.compareOverlays()
	b.compareScatter()
	b.compareScatters(&t)
	b.compareFindings(&t)
	b.oneMore(&t)
}

// abreast is how many arrangements stand side by side in a table.
const abreast = 5

// through lists whole numbers from one up to before another.
func through(from, to int) []int {
	var out []int
	for i := from; i < to; i++ {
		out = append(out, i)
	}
	return out
}

func (b *book) compareTable(c *search.Table, cols []int) {
	t := page.Table{Columns: []page.Column{{Head: "reading"}}}
	for _, i := range cols {
		t.Columns = append(t.Columns, page.Column{Head: fmt.Sprintf("%d  %s", i+1, c.Columns[i].Name), Right: true})
	}
	for _, s := range []check.Severity{check.Fails, check.Warns, check.Notes, check.Passes} {
		row := page.Row("findings: " + severityWords[s])
		for _, i := range cols {
			n := c.Columns[i].Counts[s]
			cell := page.Cell{S: fmt.Sprint(n), Bold: true}
			if s == check.Fails && n > 0 {
				cell.Tone = page.Bad
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, row)
	}
	for _, k := range compareKeys {
		if r := c.Row(k, ""); r != nil {
			t.Rows = append(t.Rows, b.compareRow(r, cols))
		}
	}
	b.Table(t)
	b.Small("In brackets the difference from the first arrangement. \"best\": no other arrangement is better in that figure, and some are worse.")
}

var severityWords = map[check.Severity]string{check.Fails: "fail", check.Warns: "warn", check.Notes: "to note", check.Passes: "hold", "": "nothing said"}

// compareRow is a reading of several arrangements.
func (b *book) compareRow(r *search.Row, cols []int) []page.Cell {
	cells := page.Row(r.Label)
	for _, i := range cols {
		c := r.Cells[i]
		if !c.Has {
			cells = append(cells, page.Cell{S: "none"})
			continue
		}
		s := b.reading(layout.Reading{Value: c.Value, PlusMinus: c.PlusMinus, Unit: r.Unit})
		if i > 0 && r.Cells[0].Has && r.Differs {
			s += " (" + difference(b.value(c.Diff, r.Unit)) + ")"
		}
		if c.Best {
			s += ", best"
		}
		cells = append(cells, page.Cell{S: s, Bold: c.Best})
	}
	return cells
}

// difference is a figure with its sign.
func difference(v float64) string {
	s := trim(v)
	if v > 0 && s != "0" {
		s = "+" + s
	}
	return s
}

// compareFindings lists what fails or warns in some arrangements only.
func (b *book) compareFindings(c *search.Table) {
	b.Section("Findings that the arrangements do not meet alike", "", 1, 25)
	if len(c.Findings) == 0 {
		b.Para("None: whatever fails or warns does so in all of them.")
		return
	}
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "rule", MM: 34}, {Head: "subject", MM: 30}, {Head: "against the first"}, {Head: "what is said, by arrangement"}}}
	for _, f := range c.Findings {
		var said []string
		for i, text := range f.Texts {
			if text != "" {
				said = append(said, fmt.Sprintf("%d %s: %s", i+1, severityWords[f.Severities[i]], text))
			}
		}
		t.Rows = append(t.Rows, page.Row(f.Rule, f.Subject, f.Change, strings.Join(said, "\n")))
	}
	b.Table(t)
}

// oneMore sets what one module more in each box would do.
func (b *book) oneMore(c *search.Table) {
	if len(c.Sensitivities) == 0 {
		return
	}
	b.Section("What one module more in a box would do, were there room", "", 1, 25)
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "arrangement"}, {Head: "box"}, {Head: "module"}, {Head: "front axle, " + b.unit("kg"), Right: true}, {Head: "rear axle, " + b.unit("kg"), Right: true}, {Head: "front share, points", Right: true}, {Head: "right side, points", Right: true}, {Head: "centre of gravity up, " + b.unit("mm"), Right: true}, {Head: "kWh", Right: true}}}
	for _, s := range c.Sensitivities {
		t.Rows = append(t.Rows, page.Row(fmt.Sprintf("%d  %s", s.Arrangement+1, c.Columns[s.Arrangement].Name), s.Box, s.Module, b.mass2(s.FrontKg), b.mass2(s.RearKg), fixed(s.FrontPoints, 2), fixed(s.SidePoints, 2), fixed(b.value(s.HeightMM, "mm"), 1), trim(s.EnergyKWh)))
	}
	b.Table(t)
	for _, s := range c.Sensitivities {
		if !b.imperial { // the sentences are in kilograms
			b.Small(fmt.Sprintf("%d  %s", s.Arrangement+1, s.Text))
		}
	}
}

// How the plans of all arrangements stand side by side: so many across, each in a cell of this size on paper.
const (
	plansAcross        = 2
	planWide, planHigh = 87.0, 52.0
	planGap            = 4.0
	planRows           = 4 // on a page
)

// compareMultiples sets the plans of all arrangements side by side at one scale.
func (b *book) compareMultiples() {
	lists := b.plansAlike()
	for part := range slices.Chunk(lists, planRows*plansAcross) {
		l := drawing.Multiples("Plans at one scale", part, plansAcross, planWide, planHigh)
		l.Bounds.X.Hi = max(l.Bounds.X.Hi, l.Bounds.X.Lo+plansAcross*(planWide+planGap)) // one plan is as large as two
		rows := (len(part) + plansAcross - 1) / plansAcross
		b.Figure(l, page.Figure{MM: (planHigh+planGap)*float64(rows) + 8, Fill: true, Bare: true})
	}
}

// plansAlike are the plans of all arrangements with bounds of the same size, so that they come to the same scale page by page.
func (b *book) plansAlike() []*drawing.List {
	var lists []*drawing.List
	size := r2.Point{}
	for _, e := range b.es {
		l := drawing.Plan(e.Scene, drawing.Options{Imperial: b.imperial, Marks: drawingMarks(e), Off: drawing.LayerDimensions | drawing.LayerScale | drawing.LayerLabels})
		l.Title = e.Arrangement.Name
		lists = append(lists, l)
		if s := l.Bounds.Size(); !l.Bounds.IsEmpty() {
			size = r2.Point{X: max(size.X, s.X), Y: max(size.Y, s.Y)}
		}
	}
	for _, l := range lists {
		if !l.Bounds.IsEmpty() {
			l.Bounds = r2.RectFromCenterSize(l.Bounds.Center(), size)
		}
	}
	return lists
}

// compareOverlays draws each further arrangement dashed over the first, in plan.
func (b *book) compareOverlays() {
	for i, e := range b.es[1:] {
		l := drawing.Overlay(drawing.PlanView, b.es[0].Scene, e.Scene, drawing.Options{Imperial: b.imperial,
			Off: drawing.LayerDimensions | drawing.LayerZones | drawing.LayerLabels | drawing.LayerLoads})
		l.Title = fmt.Sprintf("Plan: 1  %s, and dashed over it %d  %s", b.es[0].Arrangement.Name, i+2, e.Arrangement.Name)
		b.Figure(l, page.Figure{MM: 85, Fill: true})
	}
}

// scatterKeys are the readings that energy is set against besides the mass, as far as the arrangements differ in them.
var scatterKeys = []string{"cg_mm.z", "change.front_share_pct", "cable_mm", "heat_w"}

// compareScatters sets energy against further readings.
func (b *book) compareScatters(t *search.Table) {
	for _, k := range scatterKeys {
		r := t.Row(k, "")
		if r == nil || !r.Differs || b.imperial { // its axes are in the units of the readings
			continue
		}
		if l := drawing.ComparedScatter(t, k, 150, 60); l != nil {
			b.Figure(l, page.Figure{MM: 70, Fill: true, Bare: true})
		}
	}
}

// compareScatter sets energy against mass.
func (b *book) compareScatter() {
	var spots []drawing.Spot
	for _, e := range b.es {
		x, ok1 := e.Reading("mass_kg")
		y, ok2 := e.Reading("energy_kwh")
		if ok1 && ok2 {
			s := drawing.Spot{X: b.value(x.Value, "kg"), Y: y.Value, Name: e.Arrangement.Name}
			if e.Counts()[check.Fails] > 0 {
				s.Mark = drawing.Breached
			}
			spots = append(spots, s)
		}
	}
	if len(spots) < 2 {
		return
	}
	best(spots)
	l := drawing.Scatter("Energy against vehicle mass; a cross: some finding fails", drawing.Axis{Title: "kerb mass, " + b.unit("kg"), Less: true}, drawing.Axis{Title: "energy, kWh"}, spots, 150, 80)
	if l.Bounds != r2.EmptyRect() {
		b.Figure(l, page.Figure{MM: 90, Fill: true, Bare: true})
	}
}

// best marks the spots that no other one beats in both figures: less mass and more energy.
func best(spots []drawing.Spot) {
	for i := range spots {
		spots[i].Best = true
		for k := range spots {
			a, c := spots[i], spots[k]
			if c.X <= a.X && c.Y >= a.Y && (c.X < a.X || c.Y > a.Y) {
				spots[i].Best = false
			}
		}
	}
}
