package view

import (
	"errors"
	"regexp"
	"strconv"
	"strings"

	"stowbay/layout"
	"stowbay/vehicles/record"
)

// Problem writes what is wrong with an edit in the units shown. What is wrong with a file is about what stands in it, and
// stays.
func (u Units) Problem(err error) string {
	var file *layout.FileError
	if u == Metric || errors.As(err, &file) {
		return err.Error()
	}
	var many record.Problems
	switch found := errors.As(err, &many); {
	case !found:
		return u.ProblemOf("", err.Error())
	case many[0].Line > 0:
		return err.Error()
	}
	var lines []string
	for _, p := range many {
		lines = append(lines, u.ProblemAt(p))
	}
	return strings.Replace(err.Error(), many.Error(), strings.Join(lines, "\n"), 1)
}

// ProblemAt writes a problem of a record in the units shown.
func (u Units) ProblemAt(p record.Problem) string {
	if u == Imperial {
		p.Msg = u.ProblemOf(record.Unit(fieldOf(p.Path)), p.Msg)
		p.Path = unitless(p.Path)
	}
	return p.String()
}

// ProblemInForm writes a problem of a record as its form names the field: "Cell, nominal" for cell.nominal_v, "Levels 2, floor"
// for levels[1].floor_mm.
func (u Units) ProblemInForm(p record.Problem) string {
	msg := u.ProblemOf(record.Unit(fieldOf(p.Path)), p.Msg)
	if p.Path == "" {
		return msg
	}
	var names []string
	for _, step := range strings.Split(p.Path, ".") {
		name, index, listed := strings.Cut(step, "[")
		name = FieldWords(name, record.Unit(name))
		if i, err := strconv.Atoi(strings.TrimSuffix(index, "]")); listed && err == nil {
			name += " " + strconv.Itoa(i+1)
		}
		names = append(names, name)
	}
	return firstUpper(strings.Join(names, ", ")) + ": " + msg
}

// FieldWords turns a field's name in files into words, without its unit.
func FieldWords(name, unit string) string {
	if unit != "" {
		if i := strings.LastIndex(name, "_"); i > 0 {
			name = name[:i]
		}
	}
	if name == "soc" {
		return "state of charge"
	}
	return strings.ReplaceAll(name, "_", " ")
}

// ProblemOf writes what is wrong with the value of a field that holds mm or kg in files: numbers without a unit are in the
// field's. unit is "" where there is no such field; pairs in brackets are places in mm.
func (u Units) ProblemOf(unit, msg string) string {
	if u == Metric {
		return msg
	}
	msg = pairs.ReplaceAllStringFunc(msg, func(s string) string {
		return "(" + oneFigure.ReplaceAllStringFunc(strings.Trim(s, "()"), func(n string) string { return u.figureTo(n, "mm", 0) }) + ") in"
	})
	if _, shown := u.Show(0, unit); shown == unit || strings.HasPrefix(msg, "has ") {
		return unitless(u.Prose(msg))
	}
	return unitless(u.prose(msg, func(s string) string { return u.unmarked(s, unit) }))
}

// FieldHelp says what a field is for and what it may hold, in the units shown.
func (u Units) FieldHelp(f record.Field) string {
	doc, _, _ := strings.Cut(f.Doc, zeroMeans)
	doc = u.Prose(doc)
	if a := u.Assumed(f); a != "" {
		doc += zeroMeans + a
	}
	if f.Allowed == "" {
		return doc
	}
	allowed := f.Allowed
	if _, shown := u.Show(0, f.Unit); shown != f.Unit {
		allowed = u.unmarked(allowed, f.Unit)
	}
	return doc + " (" + allowed + ")"
}

// zeroMeans comes before what a field that holds 0, or nothing, stands for.
const zeroMeans = "; 0 means "

// bareStart is a number without a unit that a text begins with.
var bareStart = regexp.MustCompile(`^\d+(?:\.\d+)?(?:$| \()`)

// Assumed is what a field stands for that holds 0 or nothing, in the units shown; "" where it stands for nothing else.
func (u Units) Assumed(f record.Field) string {
	_, s, _ := strings.Cut(f.Doc, zeroMeans)
	if _, shown := u.Show(0, f.Unit); shown != f.Unit && bareStart.MatchString(s) {
		return u.unmarked(s, f.Unit)
	}
	return u.Prose(strings.Replace(s, " C", " °C", 1))
}

// pairs are places as geometry writes them: "(1200.00, -300.00)".
var pairs = regexp.MustCompile(`\(-?\d+(?:\.\d+)?, -?\d+(?:\.\d+)?\)`)

// bareFigures are one number without a unit, or two as a range.
var bareFigures = regexp.MustCompile(`-?\d+(?:\.\d+)?(?: to -?\d+(?:\.\d+)?)?`)

// unmarked writes the numbers in a text, which are in a field's unit, in the one shown. Numbers in names and of entries stay.
func (u Units) unmarked(s, unit string) string {
	var out strings.Builder
	last := 0
	_, shown := u.Show(0, unit)
	for _, at := range bareFigures.FindAllStringIndex(s, -1) {
		if inWord(s, at[0], at[1]) {
			continue
		}
		out.WriteString(s[last:at[0]])
		out.WriteString(oneFigure.ReplaceAllStringFunc(s[at[0]:at[1]], func(n string) string { return u.figure(n, unit) }))
		out.WriteString(" " + shown)
		last = at[1]
	}
	return out.String() + s[last:]
}

// inWord reports whether a number is part of a name, of an index or of a quotation.
func inWord(s string, from, to int) bool {
	if partOfWord(s[:from]) || strings.Count(s[:from], `"`)%2 == 1 {
		return true
	}
	next := s[to:]
	return strings.HasPrefix(next, "]") && strings.HasSuffix(s[:from], "[") || next != "" && isWord(rune(next[0]))
}

// figure writes one number given in a unit as it is in the one shown, without it, with no more figures than it was stated with.
func (u Units) figure(n, unit string) string { return u.figureTo(n, unit, statedDecimals(n)) }

// figureTo writes one number as if it were stated with so many decimals.
func (u Units) figureTo(n, unit string, stated int) string {
	v, err := strconv.ParseFloat(n, 64)
	if err != nil {
		return n
	}
	x, shown := u.Show(v, unit)
	return strconv.FormatFloat(x, 'f', proseDecimals(x, stated, shown), 64)
}

// doubt writes an uncertainty given in a unit to two figures of the one shown, without it.
func (u Units) doubt(n, unit string) string {
	v, err := strconv.ParseFloat(n, 64)
	if err != nil {
		return n
	}
	x, _ := u.Show(v, unit)
	return strconv.FormatFloat(x, 'f', twoFigures(x), 64)
}

// statedDecimals is how many decimals a number is stated with.
func statedDecimals(n string) int {
	_, decimals, _ := strings.Cut(n, ".")
	return len(decimals)
}

// fieldNames are names of fields with their units in files.
var fieldNames = regexp.MustCompile(`\b([a-z][a-z_]*)_(?:mm|kg)\b`)

// unitless takes the units in files out of names of fields, where others are shown.
func unitless(s string) string { return fieldNames.ReplaceAllString(s, "$1") }

// fieldOf is the name of the field that a path leads to: "levels[0].at_mm[1]" leads to at_mm.
func fieldOf(path string) string {
	path, _, _ = strings.Cut(path[strings.LastIndex(path, ".")+1:], "[")
	return path
}
