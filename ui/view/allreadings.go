package view

import (
	"strings"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// AllReadings lists every reading of the arrangement whose name holds the words typed: those of the whole first, then
// load case by load case and box by box. A row's key is made by [ReadingKey].
func (m *Model) AllReadings(width float64, fonts *paint.Fonts, filter string) *Page {
	g := &gauges{writer: newWriter(width, fonts), m: m, e: m.eval, start: m.Start(), u: m.Units()}
	g.y = 8
	words := strings.Fields(strings.ToLower(filter))
	head, first := "", true
	for _, r := range m.eval.Readings {
		of := m.belongsTo(r.Of)
		if !holds(words, r.Label, r.Key, of) {
			continue
		}
		if first || of != head {
			g.head(of)
			head, first = of, false
		}
		g.listed(r)
	}
	if first {
		g.wrapped(g.pad, g.w-g.pad, RoleFaint, 12, "No reading is called that.", 0)
	}
	g.y += 8
	return g.done()
}

// belongsTo is a heading for readings of a part.
func (m *Model) belongsTo(of string) string {
	switch {
	case of == "":
		return "The whole arrangement"
	case m.Arrangement().Box(of) != nil:
		return "Box " + of
	}
	if m.eval.Mass != nil {
		for _, c := range m.eval.Mass.Cases {
			if c.ID == of {
				return "Load case: " + c.Name
			}
		}
	}
	return of
}

func holds(words []string, texts ...string) bool {
	all := strings.ToLower(strings.Join(texts, " "))
	for _, w := range words {
		if !strings.Contains(all, w) {
			return false
		}
	}
	return true
}

func (g *gauges) listed(r layout.Reading) {
	top := g.y
	x := &Explanation{Reading: r, units: g.u}
	right := g.w - g.pad - 110
	figure := x.figure(r.Value) + doubt(r)
	g.text(g.pad, g.y+8, RoleBody, 12.5, drawing.West, g.fonts.Cut(x.Name(), 12.5, right-g.pad-g.fonts.Width(figure, 12.5, true)-10, false))
	g.text(right, g.y+8, RoleFigure, 12.5, drawing.East, figure)
	if g.start != nil {
		if was, ok := find(g.start.Readings, r.Key, r.Of); ok {
			if d := x.delta(was.Value); d != "no change" {
				g.text(g.w-g.pad, g.y+8, RoleFaint, 11, drawing.East, d)
			}
		}
	}
	g.y += 18
	g.row(top, ReadingKey(r.Key, r.Of), g.u.Prose(basisTip(r)))
}

// ReadingKey is the key of a row that stands for a reading; [SplitReading] takes it apart.
func ReadingKey(key, of string) string {
	if of == "" {
		return key
	}
	return key + "|" + of
}

// SplitReading takes a row's key apart into a reading's key and what it belongs to.
func SplitReading(row string) (key, of string) {
	key, of, _ = strings.Cut(row, "|")
	return key, of
}
