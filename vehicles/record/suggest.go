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
		d := editDistance(name, f.name)
		if len(name) >= 4 && strings.HasPrefix(f.name, name) {
			d = 1 // most often the unit is missing
		}
		if d < distance {
			best, distance = f.name, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", best)
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
