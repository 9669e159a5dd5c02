package problemfile

import (
	"slices"
	"strings"
)

func sorted(known map[string]bool) []string {
	var out []string
	for name := range known {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

func allowed(known map[string]bool) string { return strings.Join(sorted(known), ", ") }
