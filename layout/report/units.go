package report

import (
	"math"

	"stowbay/layout"
)

// units is how figures are shown: as the files hold them, or in inches and pounds.
type units struct{ imperial bool }

// unitsOf are the units asked for, or else the plan's.
func unitsOf(p *layout.Plan, o Options) units {
	return units{o.Units == "in_lb" || o.Units == "" && p.Settings.Units == "in_lb"}
}

// factor is what a metric unit is in the customary one: 1 in = 25.4 mm, 1 lb = 0.45359237 kg (both exact,
// international yard and pound agreement of 1959), 1 lbf = 4.4482216152605 N.
type factor struct {
	unit string
	by   float64
}

var customary = map[string]factor{
	"mm":    {"in", 1 / 25.4},
	"m":     {"ft", 1 / 0.3048},
	"km":    {"mi", 1 / 1.609344},
	"kg":    {"lb", 1 / 0.45359237},
	"N m":   {"lbf ft", 1 / (4.4482216152605 * 0.3048)},
	"Nm":    {"lbf ft", 1 / (4.4482216152605 * 0.3048)},
	"N":     {"lbf", 1 / 4.4482216152605},
	"kN":    {"lbf", 1000 / 4.4482216152605},
	"L":     {"US gal", 1 / 3.785411784},
	"Wh/km": {"Wh/mi", 1.609344},
	"mm²":   {"in²", 1 / (25.4 * 25.4)},
}

// unit is a unit's name as shown.
func (u units) unit(s string) string {
	if f, ok := customary[s]; ok && u.imperial {
		return f.unit
	}
	return s
}

// value is a figure in the unit shown.
func (u units) value(v float64, unit string) float64 {
	if f, ok := customary[unit]; ok && u.imperial {
		return v * f.by
	}
	return v
}

// num is a figure as text, without its unit.
func (u units) num(v float64, unit string) string { return trim(u.value(v, unit)) }

// text is a figure with its unit.
func (u units) text(v float64, unit string) string {
	s := u.num(v, unit)
	if n := u.unit(unit); n != "" {
		s += " " + n
	}
	return s
}

// place is a coordinate in mm with one decimal, or in inches with two.
func (u units) place(v float64) string {
	if u.imperial {
		return fixed(v/25.4, 2)
	}
	return fixed(v, 1)
}

// reading is a reading's value with its uncertainty and unit. In inches and pounds the uncertainty has two figures.
func (u units) reading(r layout.Reading) string {
	if f, ok := customary[r.Unit]; ok && u.imperial && r.PlusMinus > 0 {
		return trim(r.Value*f.by) + " ± " + twoFigures(r.PlusMinus*f.by) + " " + f.unit
	}
	r.Value, r.PlusMinus = u.value(r.Value, r.Unit), u.value(r.PlusMinus, r.Unit)
	r.Unit = u.unit(r.Unit)
	return Value(r)
}

// twoFigures is a positive number to two figures, as uncertainties are stated (JCGM 100:2008, 7.2.6: at most two significant
// digits usually suffice).
func twoFigures(v float64) string {
	return fixed(v, min(max(1-int(math.Floor(math.Log10(v))), 0), 6))
}
