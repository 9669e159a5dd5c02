package record

import (
	"fmt"
	"strings"
)

// suggestion names the field that was probably meant.
func suggestion(name string, s *schema) string {
	name = strings.ToLower(shorten(name))
	best, distance := "", max(2, len(name)/3)+1
	for _, f := range s.fields {
		if d := unlikeness(name, f.name, distance); d < distance {
			best, distance = f.name, d
		}
	}
	if best == "" {
		return "; allowed here are " + names(s)
	}
	return fmt.Sprintf("; did you mean %q?", best)
}

// names lists the fields of a record, the first of many.
func names(s *schema) string {
	const shown = 12
	var list []string
	for _, f := range s.fields[:min(shown, len(s.fields))] {
		list = append(list, f.name)
	}
	text := strings.Join(list, ", ")
	if more := len(s.fields) - shown; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// unlikeness counts the edits between what was written and a field's name; it stops where there are as many as limit.
func unlikeness(written, name string, limit int) int {
	switch more := len(name) - len(written); {
	case len(written) >= 4 && strings.HasPrefix(name, written):
		return 1 // most often the unit is missing
	case max(more, -more) >= limit:
		return limit // each letter more or less is an edit
	}
	return editDistance(written, name)
}

// editDistance counts the insertions, deletions and replacements that turn a into b (Levenshtein).
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		corner := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			corner, row[j+1] = row[j+1], min(corner+cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
