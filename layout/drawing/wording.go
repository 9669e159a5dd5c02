package drawing

import (
	"math"
	"strconv"
	"unicode/utf8"

	"github.com/golang/geo/r2"
)

// Conversions to inches and pounds: exact by definition (international yard and pound agreement of 1959).
const (
	mmPerInch  = 25.4
	kgPerPound = 0.45359237
)

// leastNameMM is the least size of a name in the vehicle's views: 1.8 mm at 1:25, the least lettering of
// technical drawings (ISO 3098-1; from memory, not checked against the text).
const leastNameMM = 45

// length words a length in mm: whole millimetres, or tenths of an inch; what is below an inch to hundredths.
func length(mm float64, imperial bool) string {
	if imperial {
		return strconv.FormatFloat(mm/mmPerInch, 'f', inchDecimals(mm), 64) + " in"
	}
	return strconv.FormatFloat(mm, 'f', 0, 64)
}

// fine words a small length to a tenth of a millimetre or a hundredth of an inch.
func fine(mm float64, imperial bool) string {
	if imperial {
		return strconv.FormatFloat(mm/mmPerInch, 'f', 2, 64) + " in"
	}
	return strconv.FormatFloat(mm, 'f', -1, 64)
}

// inchDecimals is how many decimals of an inch stand for whole millimetres.
func inchDecimals(mm float64) int {
	if math.Abs(mm) < mmPerInch && math.Abs(mm) >= mmPerInch/200 {
		return 2
	}
	return 1
}

// mass words a mass in kg to the whole unit.
func mass(kg float64, imperial bool) string {
	if imperial {
		return strconv.FormatFloat(kg/kgPerPound, 'f', 0, 64) + " lb"
	}
	return strconv.FormatFloat(kg, 'f', 0, 64) + " kg"
}

// TextWidth estimates the width of a text in ems, for a sans-serif face; painters that know their font
// measure it themselves. The widths are rounded up from common sans-serif faces (common practice).
func TextWidth(s string) float64 {
	w := 0.0
	for _, r := range s {
		w += runeWidth(r)
	}
	return w
}

func runeWidth(r rune) float64 {
	switch {
	case r == 'i' || r == 'j' || r == 'l' || r == '.' || r == ',' || r == ':' || r == '\'' || r == '|' || r == ' ' || r == 'I':
		return 0.3
	case r == 'f' || r == 't' || r == 'r' || r == '-' || r == '(' || r == ')' || r == '/':
		return 0.38
	case r == 'm' || r == 'w' || r == 'M' || r == 'W':
		return 0.9
	case r >= 'A' && r <= 'Z':
		return 0.7
	}
	return 0.57
}

// fitted is the text size at which s stays inside a rectangle of the view, or 0 if it would be smaller than
// least.
func fitted(s string, w, h, least, most float64) float64 {
	if utf8.RuneCountInString(s) == 0 {
		return 0
	}
	size := min(most, h, w/TextWidth(s))
	if size < least {
		return 0
	}
	return size
}

// extent is the rectangle that a text sized in millimetres covers, for a text without turn.
func (t Text) extent() r2.Rect {
	w, h := TextWidth(t.S)*t.InMM, t.InMM
	c := t.At
	switch t.Anchor {
	case West:
		c.X += w / 2
	case East:
		c.X -= w / 2
	case North:
		c.Y -= h / 2
	case South:
		c.Y += h / 2
	}
	return r2.RectFromCenterSize(c, r2.Point{X: w, Y: h})
}
