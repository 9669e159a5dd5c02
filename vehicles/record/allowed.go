package record

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// ids is how a short name looks.
var ids = regexp.MustCompile(`^[a-z0-9_-]{1,64}$`)

// IsID reports whether s may be a record's short name: lower-case letters, digits, dash, underscore, 1 to 64 of them.
func IsID(s string) bool { return ids.MatchString(s) }

// largest is the greatest size of a number whose field states no limit.
const largest = 1e12

// scalarProblem applies a field's rules to a scalar value. It returns what is wrong, or "".
func scalarProblem(v reflect.Value, f *field) string {
	switch v.Kind() {
	case reflect.String:
		return stringProblem(v.String(), f.rules)
	case reflect.Int, reflect.Int64:
		return numberProblem(float64(v.Int()), f)
	case reflect.Float64:
		return numberProblem(v.Float(), f)
	}
	return ""
}

func numberProblem(x float64, f *field) string {
	lo, hi := -largest, largest
	if f.rules.min != nil {
		lo = *f.rules.min
	}
	if f.rules.max != nil {
		hi = *f.rules.max
	}
	if x >= lo && x <= hi {
		return ""
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "want a finite number; allowed is " + span(lo, hi, f.name)
	}
	return formatNumber(x) + " is out of range; allowed is " + span(lo, hi, f.name)
}

func span(lo, hi float64, name string) string {
	text := formatNumber(lo) + " to " + formatNumber(hi)
	if u := Unit(name); u != "" {
		text += " " + u
	}
	return text
}

func stringProblem(s string, r rules) string {
	switch {
	case s == "" && r.required:
		return "must not be empty"
	case s == "":
		return ""
	case r.id && !IsID(s):
		return fmt.Sprintf("%q is no short name; allowed are 1 to 64 lower-case letters, digits, dashes and underscores", shorten(s))
	case len(r.oneOf) > 0 && !slices.Contains(r.oneOf, s):
		return fmt.Sprintf("%q is not known; allowed is %s", shorten(s), oneOf(r.oneOf))
	}
	if msg := textProblem(s); msg != "" {
		return msg
	}
	limit := r
	if len(r.oneOf) > 0 || r.id {
		limit.minLen, limit.maxLen = -1, -1 // on a list of texts these bound the list
	}
	return lengthProblem(utf8.RuneCountInString(s), limit, "characters", maxText)
}

// textProblem refuses texts that cannot be written and read back: broken UTF-8 and control characters.
func textProblem(s string) string {
	if !utf8.ValidString(s) {
		return "is not valid UTF-8 text"
	}
	for _, c := range s {
		if c != '\n' && c != '\t' && (unicode.IsControl(c) || c == '\uFEFF' || c == '\u2028' || c == '\u2029' || c == '\uFFFE' || c == '\uFFFF') {
			return fmt.Sprintf("has the control character %U", c)
		}
	}
	return ""
}

// lengthProblem applies minlen and maxlen to a length counted in the given unit.
func lengthProblem(n int, r rules, unit string, most int) string {
	if r.maxLen >= 0 {
		most = r.maxLen
	}
	switch {
	case n < r.minLen:
		return fmt.Sprintf("has %s; at least %d wanted", count(n, unit), r.minLen)
	case n > most:
		return fmt.Sprintf("has %s; at most %d allowed", count(n, unit), most)
	}
	return ""
}

// count says a number of things: "1 entry", "3 entries", "no entries".
func count(n int, unit string) string {
	switch {
	case n == 0:
		return "no " + unit
	case n == 1 && strings.HasSuffix(unit, "ies"):
		return "1 " + strings.TrimSuffix(unit, "ies") + "y"
	case n == 1:
		return "1 " + strings.TrimSuffix(unit, "s")
	}
	return strconv.Itoa(n) + " " + unit
}

// oneOf lists the allowed texts: "a, b or c".
func oneOf(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	last := len(list) - 1
	return strings.Join(list[:last], ", ") + " or " + list[last]
}

// arrayForm says how a fixed array is written.
func arrayForm(t reflect.Type) string {
	names := []string{"x", "y", "z"}
	if t.Len() > len(names) {
		return fmt.Sprintf("%d numbers", t.Len())
	}
	return "[" + strings.Join(names[:t.Len()], ", ") + "]"
}

// wanted says what a missing field should hold.
func wanted(f *field) string {
	t := f.typ
	if len(f.rules.oneOf) > 0 {
		return oneOf(f.rules.oneOf)
	}
	switch t.Kind() {
	case reflect.Slice:
		return "a list: " + f.doc
	case reflect.Array:
		return arrayForm(t) + ": " + f.doc
	case reflect.Struct, reflect.Pointer:
		return f.doc
	}
	return scalarName(t.Kind()) + ": " + f.doc
}
