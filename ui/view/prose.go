package view

import (
	"math"
	"regexp"
	"strings"
	"unicode/utf8"
)

// figures are one or several numbers before a length or a mass: "12 mm", "1099 ± 3 kg", "600 × 400 mm", "5 to 15 mm".
var figures = regexp.MustCompile(`[+−-]?\d+(?:\.\d+)?(?:(?: to | and | or | of |[ ]?[×±/–][ ]?)[+−-]?\d+(?:\.\d+)?)* ?(?:mm|kg)`)

var oneFigure = regexp.MustCompile(`\d+(?:\.\d+)?`)

// Prose writes the lengths and masses in a sentence in the units shown. Compound units (mm², kg/m, kg m²) stay.
func (u Units) Prose(s string) string {
	if u == Metric {
		return s
	}
	return u.prose(s, func(s string) string { return s })
}

// prose writes lengths and masses in the units shown, and what stands between them as between says.
func (u Units) prose(s string, between func(string) string) string {
	var out strings.Builder
	last := 0
	for _, at := range figures.FindAllStringIndex(s, -1) {
		if compound(s[at[1]:]) || at[0] > 0 && partOfWord(s[:at[0]]) {
			continue
		}
		out.WriteString(between(s[last:at[0]]))
		out.WriteString(u.figures(s[at[0]:at[1]]))
		last = at[1]
	}
	out.WriteString(between(s[last:]))
	return out.String()
}

// compound reports whether a unit goes on after mm or kg.
func compound(rest string) bool {
	r, _ := utf8.DecodeRuneInString(rest)
	return strings.ContainsRune("²³/·", r) && rest != "" || isWord(r) || strings.HasPrefix(rest, " m²") || strings.HasPrefix(rest, " m/")
}

// partOfWord reports whether a number belongs to a name: m12, 4.5.
func partOfWord(before string) bool {
	r, _ := utf8.DecodeLastRuneInString(before)
	return isWord(r) || r == '.' || r == '_'
}

func isWord(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9'
}

func (u Units) figures(s string) string {
	unit := s[len(s)-2:]
	numbers := strings.TrimSuffix(s[:len(s)-2], " ")
	_, shown := u.Show(0, unit)
	return oneFigure.ReplaceAllStringFunc(numbers, func(n string) string { return u.figure(n, unit) }) + " " + shown
}

// proseDecimals keeps about three figures of what a sentence says.
func proseDecimals(x float64) int {
	switch a := math.Abs(x); {
	case a == 0 || a >= 100:
		return 0
	case a >= 10:
		return 1
	}
	return 2
}
