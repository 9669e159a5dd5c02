package view

import (
	"fmt"
	"math"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// compared are the readings that arrangements are compared by, and whether more is better (+1), less is (-1), or
// neither is (0).
var compared = []struct {
	key, name string
	better    int
}{
	{"count", "Modules", +1},
	{"voltage_v.min", "Lowest voltage", 0},
	{"voltage_v.nominal", "Nominal voltage", 0},
	{"voltage_v.max", "Highest voltage", 0},
	{"energy_kwh", "Energy", +1},
	{"usable_kwh", "Usable energy", +1},
	{"mass_kg", "Kerb mass", -1},
	{"payload_kg", "Payload left", +1},
	{"axles_kg.front", "Front axle", 0},
	{"axles_kg.rear", "Rear axle", 0},
	{"front_share_pct", "Front axle share", 0},
	{"change.cg_mm.x", "Centre of gravity moved rearward", 0},
	{"change.cg_mm.y", "Centre of gravity moved right", 0},
	{"change.cg_mm.z", "Centre of gravity raised", -1},
	{"ssf", "Static stability factor", +1},
	{"worst_gap_mm", "Tightest gap", 0},
	{"cable_mm", "Traction cables", -1},
}

// Comparison sets arrangements side by side. The best figure of a row, where one can be told, is marked.
func (m *Model) Comparison(width float64, fonts *paint.Fonts, es []*check.Evaluation) *Page {
	w := newWriter(width, fonts)
	c := comparison{w, m.Units(), es, 230, (width - 230 - 12) / float64(max(len(es), 1))}
	w.y = 10
	c.heads()
	for _, r := range compared {
		c.reading(r.key, r.name, r.better)
	}
	c.findings()
	w.y += 10
	w.wrapped(w.pad, w.w-w.pad, RoleFaint, 11, "A filled mark stands by the best figure of a row where more, or less, is better by itself. "+Caution, 0)
	w.y += 8
	return w.done()
}

type comparison struct {
	*writer
	u         Units
	es        []*check.Evaluation
	left, col float64
}

func (c comparison) heads() {
	for i, e := range c.es {
		c.text(c.left+float64(i+1)*c.col-10, c.y+8, RoleName, 12.5, drawing.East, c.fonts.Cut(e.Arrangement.Name, 12.5, c.col-14, true))
	}
	c.y += 22
	c.rule()
}

func (c comparison) rule() {
	c.fill(c.pad, c.y-2, c.w-c.pad, c.y-1, RoleRule)
}

func (c comparison) reading(key, name string, better int) {
	best := math.Inf(-1)
	alike := true
	for i, e := range c.es {
		v := e.Value(key) * float64(better)
		best = max(best, v)
		if i > 0 && e.Value(key) != c.es[0].Value(key) {
			alike = false
		}
	}
	c.text(c.pad, c.y+9, RoleBody, 12.5, drawing.West, name)
	for i, e := range c.es {
		r, ok := e.Reading(key)
		x := c.left + float64(i+1)*c.col - 10
		s := "–"
		if ok {
			s = c.u.Text(r.Value, r.Unit) + doubt(r)
			if r.Unit == "" && r.Value != math.Round(r.Value) {
				s = Number(r.Value, 2) + doubt(r)
			}
		}
		c.text(x, c.y+9, RoleFigure, 12.5, drawing.East, s)
		if ok && better != 0 && !alike && r.Value*float64(better) == best {
			c.shape(x+6, c.y+9, RoleGood, [][2]float64{{0, -4}, {4, 0}, {0, 4}, {-4, 0}})
		}
	}
	c.y += 20
}

func (c comparison) findings() {
	c.rule()
	c.y += 2
	for _, s := range []check.Severity{check.Fails, check.Warns, check.Notes} {
		c.text(c.pad, c.y+9, RoleBody, 12.5, drawing.West, "Findings: "+string(s))
		for i, e := range c.es {
			c.text(c.left+float64(i+1)*c.col-10, c.y+9, RoleFigure, 12.5, drawing.East, fmt.Sprint(e.Counts()[s]))
		}
		c.y += 20
	}
}
