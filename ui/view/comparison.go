package view

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/layout/search"
	"stowbay/ui/paint"
)

// MostCompared is how many arrangements stand side by side.
const MostCompared = 6

// compared are the readings that arrangements are compared by first.
var compared = []string{
	"count", "series", "parallel", "voltage_v.min", "voltage_v.nominal", "voltage_v.max", "energy_kwh", "usable_kwh", "range_km.wltc",
	"continuous_a", "heat_w", "mass_kg", "payload_kg", "axles_kg.front", "axles_kg.rear", "front_share_pct", "change.cg_mm.x", "change.cg_mm.y",
	"change.cg_mm.z", "ssf", "worst_gap_mm", "links_mm", "cable_mm", "bridges_hazardous", "segment_v", "leftover",
}

// breaksBefore are the readings that begin another subject: masses, and how the pack is built.
var breaksBefore = []string{"mass_kg", "worst_gap_mm"}

// Comparison sets arrangements side by side: readings with the difference from the first arrangement, and which is
// best in a figure that is better one way. With all, every reading is there, else those that tell most.
func Comparison(width float64, fonts *paint.Fonts, u Units, t *search.Table, all bool) *Page {
	w := newWriter(width, fonts)
	left := min(max(width*0.26, 210), 300)
	c := comparison{w, u, t, left, min((width-left-12)/float64(max(len(t.Columns), 1)), widestColumn)}
	w.y = 8
	c.heads()
	c.counts()
	if all {
		for i := range t.Rows {
			c.reading(&t.Rows[i])
		}
	} else {
		for _, k := range compared {
			if slices.Contains(breaksBefore, k) {
				c.rule()
			}
			if r := t.Row(k, ""); r != nil {
				c.reading(r)
			}
		}
	}
	w.y += 6
	w.wrapped(w.pad, w.w-w.pad, RoleFaint, 11, "With its sign: the difference from the first arrangement. Best: no other arrangement is better in that figure, and some are worse. "+Caution, 0)
	w.y += 8
	return w.done()
}

type comparison struct {
	*writer
	u         Units
	t         *search.Table
	left, col float64
}

// widestColumn keeps figures near their names where there are few arrangements.
const widestColumn = 250

// bestWide is the room for the mark of the best at the right of a cell.
const bestWide = 42

// right is where the figures of a column end.
func (c comparison) right(i int) float64 { return c.left + float64(i+1)*c.col - bestWide }

func (c comparison) heads() {
	for i, a := range c.t.Columns {
		c.text(c.right(i), c.y+8, RoleName, 12.5, drawing.East, c.fonts.Cut(fmt.Sprintf("%d  %s", i+1, a.Name), 12.5, c.col-bestWide-6, true))
	}
	c.y += 21
	c.rule()
}

// edge is where the last column ends.
func (c comparison) edge() float64 {
	return min(c.left+c.col*float64(len(c.t.Columns))+c.pad, c.w-c.pad)
}

// rule is a line under a group of rows.
func (c comparison) rule() {
	c.fill(c.pad, c.y, c.edge(), c.y+1, RoleRule)
	c.y += 3
}

func (c comparison) counts() {
	for _, s := range []check.Severity{check.Fails, check.Warns, check.Notes} {
		sign := severitySigns[s]
		c.text(c.pad, c.y+10, RoleBody, 12.5, drawing.West, "Findings: "+sign.sign+" "+string(s))
		for i, a := range c.t.Columns {
			role := RoleFigure
			if s == check.Fails && a.Counts[s] > 0 {
				role = RoleBad
			}
			c.text(c.right(i), c.y+10, role, 12.5, drawing.East, fmt.Sprint(a.Counts[s]))
		}
		c.y += 20
	}
	c.rule()
}

func (c comparison) reading(r *search.Row) {
	top, name := c.y, c.u.Prose(rowLabel(r))
	if r.Of != "" {
		name += ", " + r.Of
	}
	c.text(c.pad, c.y+10, RoleBody, 12.5, drawing.West, c.fonts.Cut(name, 12.5, c.left-c.pad-6, false))
	shown := c.shown(r)
	for i, cell := range r.Cells {
		cell.Best = cell.Best && slices.ContainsFunc(shown, func(s string) bool { return s != shown[i] })
		c.cell(i, r, cell, shown[i])
	}
	c.y += 20
	c.row(top, "reading "+r.Key+" "+r.Of, name)
}

// rowLabels name readings whose own labels ask for the line above them.
var rowLabels = map[string]string{"bridges_hazardous": "Pairs bridged above 60 V"}

func rowLabel(r *search.Row) string { return or(rowLabels[r.Key], r.Label) }

// shown are the figures of a row as they are written.
func (c comparison) shown(r *search.Row) []string {
	out := make([]string, len(r.Cells))
	for i, x := range r.Cells {
		switch {
		case !x.Has:
			out[i] = "none"
			continue
		case r.Unit != "":
			out[i] = c.u.Text(x.Value, r.Unit)
		default:
			out[i] = Number(x.Value, bareDecimals(r))
		}
		out[i] += doubt(layout.Reading{Basis: x.Basis})
	}
	return out
}

// bareDecimals are those of a row without a unit: counts have none.
func bareDecimals(r *search.Row) int {
	if slices.ContainsFunc(r.Cells, func(x search.Cell) bool { return x.Value != math.Round(x.Value) }) {
		return 2
	}
	return 0
}

// diff is the difference of a cell from the first one as it is written; "" where there is none to show.
func (c comparison) diff(r *search.Row, x search.Cell) string {
	switch {
	case !r.Differs || !r.Cells[0].Has:
		return ""
	case r.Unit == "":
		return signed(x.Diff, bareDecimals(r))
	}
	if s := c.u.bareDelta(x.Diff, r.Unit); !strings.HasPrefix(s, "±") {
		return s
	}
	return ""
}

func (c comparison) cell(i int, r *search.Row, x search.Cell, s string) {
	if !x.Has {
		c.text(c.right(i), c.y+10, RoleFaint, 12.5, drawing.East, s)
		return
	}
	c.text(c.right(i), c.y+10, RoleFigure, 12.5, drawing.East, s)
	if diff := c.diff(r, x); diff != "" {
		at := c.right(i) - c.fonts.Width(s, 12.5, true) - 10
		if room := at - (c.right(i) - c.col + bestWide); room > c.fonts.Width(diff, 11, false) {
			c.text(at, c.y+10, RoleFaint, 11, drawing.East, diff)
		}
	}
	if x.Best {
		c.shape(c.right(i)+8, c.y+10, RoleGood, [][2]float64{{0, -4}, {4, 0}, {0, 4}, {-4, 0}})
		c.text(c.right(i)+15, c.y+10, RoleGood, 11, drawing.West, "best")
	}
}

func shownUnit(u Units, unit string) string {
	_, shown := u.Show(0, unit)
	return shown
}

// ComparedFindings lists what fails or warns in some of the arrangements only, and what appears or vanishes against
// the first.
func ComparedFindings(width float64, fonts *paint.Fonts, u Units, t *search.Table) *Page {
	w := newWriter(width, fonts)
	w.y = 8
	if len(t.Findings) == 0 {
		w.wrapped(w.pad, width-w.pad, RoleFaint, 12.5, "Whatever fails or warns does so in all of these arrangements alike.", 0)
	}
	for _, f := range t.Findings {
		w.head(fonts.Cut(f.Rule+", "+f.Subject, 11, width-2*w.pad, true))
		w.wrapped(w.pad, width-w.pad, RoleName, 12.5, changeWords(f), 0)
		for i, text := range f.Texts {
			sign, ok := severitySigns[f.Severities[i]]
			if !ok {
				continue
			}
			w.text(w.pad, w.y+8, sign.role, 12, drawing.West, sign.sign)
			w.wrapped(w.pad+16, width-w.pad, RoleBody, 12, fmt.Sprintf("%d %s: %s", i+1, f.Severities[i], u.Prose(text)), 0)
		}
		w.y += 4
	}
	w.y += 8
	return w.done()
}

// changeWords say what a finding is about and what becomes of it against the first arrangement.
func changeWords(f search.FindingRow) string {
	change := "Against the first: " + f.Change + "."
	if g := guards(f.Rule); g != "" {
		return firstUpper(g) + ". " + change
	}
	return change
}

// OneMorePage says what one more module in each box would do.
func OneMorePage(width float64, fonts *paint.Fonts, u Units, t *search.Table) *Page {
	w := newWriter(width, fonts)
	w.y = 8
	w.wrapped(w.pad, width-w.pad, RoleBody, 12, "What one module more in a box would do at kerb, were there room for it. Whether it fits and makes a usable string is not asked.", 0)
	w.y += 4
	kg, mm := shownUnit(u, "kg"), shownUnit(u, "mm")
	cols := []gridColumn{{"arrangement", 20, false}, {"box", 14, false}, {"module", 12, false}, {"front axle, " + kg, 11, true}, {"rear axle, " + kg, 11, true},
		{"front share, points", 13, true}, {"right side, points", 13, true}, {"CG up, " + mm, 10, true}, {"kWh", 7, true}}
	w.gridHeads(cols)
	for _, s := range t.Sensitivities {
		top := w.y
		w.grid(cols, "", fmt.Sprintf("%d  %s", s.Arrangement+1, t.Columns[s.Arrangement].Name), s.Box, s.Module, u.bareDelta(s.FrontKg, "kg"), u.bareDelta(s.RearKg, "kg"),
			or(signed(s.FrontPoints, 2), "0"), or(signed(s.SidePoints, 2), "0"), or(signed(shown(u, s.HeightMM), 1), "0"), Number(s.EnergyKWh, 1))
		w.row(top, fmt.Sprintf("more %d %s", s.Arrangement, s.Box), u.Prose(s.Text))
	}
	w.head("In words")
	for _, s := range t.Sensitivities {
		w.wrapped(w.pad, width-w.pad, RoleBody, 12, fmt.Sprintf("%d  %s", s.Arrangement+1, u.Prose(s.Text)), 0)
		w.y += 3
	}
	w.y += 8
	return w.done()
}

func shown(u Units, mm float64) float64 {
	v, _ := u.Show(mm, "mm")
	return v
}

// ScatterChoices are the readings that energy can be set against: those of the whole arrangement that differ, those
// that tell most first.
func ScatterChoices(t *search.Table) (keys, names []string) {
	add := func(r *search.Row) {
		if r != nil && r.Of == "" && r.Differs && r.Key != "energy_kwh" {
			keys, names = append(keys, r.Key), append(names, r.Label)
		}
	}
	first := map[string]bool{}
	for _, k := range append([]string{"mass_kg"}, compared...) {
		if !first[k] {
			first[k] = true
			add(t.Row(k, ""))
		}
	}
	for i := range t.Rows {
		if !first[t.Rows[i].Key] {
			add(&t.Rows[i])
		}
	}
	return keys, names
}

// Scattered sets energy against a reading, or says that it cannot be.
func Scattered(t *search.Table, key string) *drawing.List {
	if l := drawing.ComparedScatter(t, key, 180, 110); l != nil {
		return l
	}
	text := drawing.Text{Of: tag(RoleBody), S: "Fewer than two of these arrangements have both figures.", Pt: 12}
	return &drawing.List{Bounds: r2.RectFromPoints(r2.Point{X: -100, Y: -50}, r2.Point{X: 100, Y: 50}), Items: []drawing.Item{text}}
}

// Overlaid draws an arrangement in plan with another one over it, dashed.
func Overlaid(a, b *check.Evaluation, u Units) *drawing.List {
	return drawing.Overlay(drawing.PlanView, a.Scene, b.Scene, drawing.Options{Imperial: u == Imperial,
		Off: drawing.LayerDimensions | drawing.LayerZones | drawing.LayerLabels | drawing.LayerLoads})
}

// Pictured draws arrangements in plan side by side at one scale, in a pane of a width and a height.
func Pictured(es []*check.Evaluation, u Units, width, height float64) *drawing.List {
	var lists []*drawing.List
	cell := r2.Point{X: pictureWide}
	for i, e := range es {
		l := drawing.Plan(e.Scene, drawing.Options{Imperial: u == Imperial,
			Off: drawing.LayerDimensions | drawing.LayerZones | drawing.LayerScale | drawing.LayerLabels | drawing.LayerLoads})
		l.Title = cutTo(fmt.Sprintf("%d  %s", i+1, e.Arrangement.Name), pictureLetters)
		lists = append(lists, l)
		if size := l.Bounds.Size(); size.X > 0 {
			cell.Y = max(cell.Y, pictureWide*size.Y/size.X+pictureTitle)
		}
	}
	return drawing.Multiples("", lists, pictureColumns(len(lists), cell, width/max(height, 1)), cell.X, cell.Y)
}

// A picture's width and the room for its title, in mm, and the letters that go in it.
const (
	pictureWide    = 90
	pictureTitle   = 8
	pictureLetters = 44
)

// cutTo is a text of so many letters at most.
func cutTo(s string, letters int) string {
	if r := []rune(s); len(r) > letters {
		return string(r[:letters-1]) + "…"
	}
	return s
}

// pictureColumns is how many pictures of a size stand abreast so that they come out large in a pane of an aspect.
func pictureColumns(n int, cell r2.Point, aspect float64) int {
	best, most := 1, 0.0
	for c := 1; c <= max(n, 1); c++ {
		rows := (n + c - 1) / c
		if scale := min(aspect/(float64(c)*cell.X), 1/(float64(rows)*max(cell.Y, 1))); scale > most {
			best, most = c, scale
		}
	}
	return best
}
