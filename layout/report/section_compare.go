package report

import (
	"fmt"

	"github.com/golang/geo/r2"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/layout/report/page"
)

// compareKeys are the readings that arrangements are set side by side by.
var compareKeys = []string{
	"count", "series", "parallel", "voltage_v.min", "voltage_v.nominal", "voltage_v.max", "energy_kwh", "usable_kwh", "range_km.wltc", "consumption_wh_km.wltc", "continuous_a", "heat_w",
	"mass_kg", "axles_kg.front", "axles_kg.rear", "front_share_pct", "cg_mm.x", "cg_mm.y", "cg_mm.z", "ssf", "payload_kg", "worst_gap_mm", "links_mm", "bridges_hazardous", "segment_v", "leftover",
}

// compare sets the arrangements side by side.
func (b *book) compare() {
	b.compareTable()
	b.compareMultiples()
	b.compareScatter()
}

func (b *book) compareTable() {
	t := page.Table{Columns: []page.Column{{Head: "reading"}}}
	for _, e := range b.es {
		t.Columns = append(t.Columns, page.Column{Head: e.Arrangement.Name, Right: true})
	}
	for _, s := range []check.Severity{check.Fails, check.Warns, check.Notes, check.Passes} {
		row := page.Row("findings: " + severityWords[s])
		for _, e := range b.es {
			c := page.Cell{S: fmt.Sprint(e.Counts()[s]), Bold: true}
			if s == check.Fails && e.Counts()[s] > 0 {
				c.Tone = page.Bad
			}
			row = append(row, c)
		}
		t.Rows = append(t.Rows, row)
	}
	for _, k := range compareKeys {
		if row := b.compareRow(k); row != nil {
			t.Rows = append(t.Rows, row)
		}
	}
	b.Table(t)
}

var severityWords = map[check.Severity]string{check.Fails: "fail", check.Warns: "warn", check.Notes: "to note", check.Passes: "hold"}

// compareRow is a reading of all arrangements, or nothing where none has it.
func (b *book) compareRow(key string) []page.Cell {
	label := ""
	cells := []page.Cell{{}}
	for _, e := range b.es {
		r, ok := e.Reading(key)
		if !ok {
			cells = append(cells, page.Cell{S: "none"})
			continue
		}
		label = r.Label
		cells = append(cells, page.Cell{S: b.reading(r)})
	}
	if label == "" {
		return nil
	}
	cells[0].S = label
	return cells
}

// compareMultiples sets the plans of all arrangements side by side at one scale.
func (b *book) compareMultiples() {
	var lists []*drawing.List
	for i, e := range b.es {
		b.e, b.n = e, i+1
		l := drawing.Plan(e.Scene, drawing.Options{Imperial: b.imperial, Marks: drawingMarks(e), Off: drawing.LayerDimensions | drawing.LayerScale | drawing.LayerLabels})
		l.Title = e.Arrangement.Name
		lists = append(lists, l)
	}
	b.e = nil
	const columns, w, h = 2, 87.0, 52.0
	rows := (len(lists) + columns - 1) / columns
	for from := 0; from < rows; from += 4 {
		to := min(rows, from+4)
		part := lists[from*columns : min(len(lists), to*columns)]
		b.Figure(drawing.Multiples("Plans at one scale", part, columns, w, h), page.Figure{MM: (h+4)*float64(to-from) + 8, Fill: true, Bare: true})
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
