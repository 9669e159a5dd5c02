// Package problemfile runs packing problems given outside a plan: tables of
// rectangles as CSV, and one free-form region as JSON. All lengths are mm.
//
// A faulty input gives an error with a line `line:column: path: what, what is
// allowed` for every fault, and nothing is written.
package problemfile

import (
	"fmt"
	"strings"
)

// Errors lists every fault of an input, one an entry, each led by line:column.
type Errors []string

// Error joins the faults, one a line.
func (e Errors) Error() string { return strings.Join(e, "\n") }

type faults struct{ list Errors }

func (f *faults) addf(line, column int, format string, args ...any) {
	f.list = append(f.list, fmt.Sprintf("%d:%d: ", line, column)+fmt.Sprintf(format, args...))
}

// maxBytes bounds an input.
const maxBytes = 64 << 20
