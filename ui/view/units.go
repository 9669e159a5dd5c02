package view

import (
	"math"
	"strconv"
	"strings"
)

// Units says how figures are shown and how bare numbers are read. Files always hold mm and kg.
type Units uint8

// The systems of units.
const (
	Metric   Units = iota // mm, kg
	Imperial              // in, lb
)

// UnitsOf returns the units that a plan's setting names.
func UnitsOf(setting string) Units {
	if setting == "in_lb" {
		return Imperial
	}
	return Metric
}

// Setting returns the name of the units in a plan's settings.
func (u Units) Setting() string {
	if u == Imperial {
		return "in_lb"
	}
	return "mm_kg"
}

// The international yard and pound agreement of 1959 makes the inch 25.4 mm and the pound 0.45359237 kg exactly.
const (
	mmPerInch  = 25.4
	kgPerPound = 0.45359237
)

// Show turns a figure in a file's unit into the one shown: value and unit.
func (u Units) Show(value float64, unit string) (float64, string) {
	if u == Imperial {
		switch unit {
		case "mm":
			return value / mmPerInch, "in"
		case "kg":
			return value / kgPerPound, "lb"
		}
	}
	return value, unit
}

// Text writes a figure with its unit as shown, with no more decimals than it deserves.
func (u Units) Text(value float64, unit string) string {
	v, shown := u.Show(value, unit)
	s := Number(v, decimalsOf(v, shown))
	if shown == "" {
		return s
	}
	return s + " " + shown
}

// Delta writes a difference with its sign and unit.
func (u Units) Delta(value float64, unit string) string {
	s := u.Text(math.Abs(value), unit)
	if strings.Trim(s[:strings.IndexAny(s+" ", " ")], "0.") == "" {
		return "±" + s
	}
	if value < 0 {
		return "−" + s
	}
	return "+" + s
}

// decimalsOf is how many decimals a figure is shown with: one below an inch, which gaps and clearances are, has one more.
func decimalsOf(v float64, unit string) int {
	if a := math.Abs(v); unit == "in" && a >= 0.005 && a < 1 {
		return 2
	}
	return decimals(unit)
}

// bareDelta writes a difference with its sign, its unit being said elsewhere.
func (u Units) bareDelta(value float64, unit string) string {
	_, shown := u.Show(0, unit)
	return strings.TrimSuffix(u.Delta(value, unit), " "+shown)
}

// decimals is how many decimals a unit is shown with.
func decimals(unit string) int {
	switch unit {
	case "in", "kWh", "V", "%", "°", "C", "K", "g":
		return 1
	case "m/s²", "bar":
		return 2
	}
	return 0
}

// Number writes a number with at most the decimals given and a thin gap between thousands.
func Number(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	whole, rest, _ := strings.Cut(s, ".")
	if rest != "" {
		rest = "." + rest
	}
	for i := len(whole) - 3; i > 0 && len(whole) > 4; i -= 3 {
		whole = whole[:i] + " " + whole[i:]
	}
	if v < 0 && strings.Trim(s, "0.") != "" {
		return "−" + whole + rest
	}
	return whole + rest
}
