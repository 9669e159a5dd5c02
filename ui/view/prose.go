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

// prose writes lengths and masses in the units shown, and what stands between them as between says. Figures that differ in the
// sentence differ in what is written, too.
func (u Units) prose(s string, between func(string) string) string {
	for finer := 0; ; finer++ {
		r := rewriting{u: u, finer: finer, of: map[string]string{}}
		if out := r.sentence(s, between); !r.alike || finer == mostFiner {
			return out
		}
	}
}

// mostFiner is how many more decimals are written to tell figures apart.
const mostFiner = 2

// rewriting is a sentence being written in other units.
type rewriting struct {
	u     Units
	finer int               // more decimals than the figures deserve
	of    map[string]string // what each figure written was, with its unit
	alike bool              // two different figures came out alike
}

func (r *rewriting) sentence(s string, between func(string) string) string {
	var out strings.Builder
	last := 0
	for _, at := range figures.FindAllStringIndex(s, -1) {
		if compound(s[at[1]:]) || at[0] > 0 && partOfWord(s[:at[0]]) {
			continue
		}
		out.WriteString(between(s[last:at[0]]))
		out.WriteString(r.figures(s[at[0]:at[1]]))
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

func (r *rewriting) figures(s string) string {
	unit := s[len(s)-2:]
	value, doubt, doubted := strings.Cut(strings.TrimSuffix(s[:len(s)-2], " "), "±")
	out := oneFigure.ReplaceAllStringFunc(value, func(n string) string { return r.figure(n, unit) })
	if doubted {
		out += "±" + oneFigure.ReplaceAllStringFunc(doubt, func(n string) string { return r.u.doubt(n, unit) })
	}
	_, shown := r.u.Show(0, unit)
	return out + " " + shown
}

func (r *rewriting) figure(n, unit string) string {
	s := r.u.figureTo(n, unit, statedDecimals(n)+r.finer)
	if was, ok := r.of[s+unit]; ok && was != n {
		r.alike = true
	}
	r.of[s+unit] = n
	return s
}

// proseDecimals is how many decimals a length or mass x in the unit shown deserves that is stated with so many in mm or kg: a
// tenth of an inch stands for a millimetre and a pound for a kilogram, one more decimal for each of a statement finer than
// that, and two figures at least. What comes out whole has none.
func proseDecimals(x float64, stated int, unit string) int {
	d := stated
	if unit == "in" {
		d++
	}
	if math.Abs(x-math.Round(x)) < 1e-9 {
		return 0
	}
	return max(d, twoFigures(x))
}

// twoFigures is how many decimals two figures of a number take, as uncertainties are stated (JCGM 100:2008, 7.2.6: at most two
// significant digits usually suffice).
func twoFigures(x float64) int {
	if x == 0 {
		return 0
	}
	return min(max(1-int(math.Floor(math.Log10(math.Abs(x)))), 0), 6)
}
