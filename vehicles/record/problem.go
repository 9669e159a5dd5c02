package record

import (
	"fmt"
	"sort"
	"strings"
)

// A Problem is one thing wrong in a record.
type Problem struct {
	File         string // name as given to Read; empty for a value in memory
	Line, Column int    // from 1; 0 for a value in memory or a problem of the whole file
	Path         string // "bays[0].levels[1].floor_mm"; empty for the whole record
	Msg          string // what is wrong and what is allowed
}

// String gives the problem as file:line:column: path: what is wrong. Parts that are not known are left out.
func (p Problem) String() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File + ":")
	}
	if p.Line > 0 {
		fmt.Fprintf(&b, "%d:%d:", p.Line, p.Column)
	}
	if b.Len() > 0 {
		b.WriteByte(' ')
	}
	if p.Path != "" {
		b.WriteString(p.Path + ": ")
	}
	return b.String() + p.Msg
}

// Problems is everything wrong with a record, in the order of the file. It is never empty when used as an error.
type Problems []Problem

// Error lists the problems, one a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// maxProblems is how many problems are listed before the rest is only counted; after enoughProblems reading stops.
const (
	maxProblems    = 200
	enoughProblems = 1000
)

// err returns ps as an error, sorted and cut to a readable number, or nil where there is none.
func (ps Problems) err() error {
	if len(ps) == 0 {
		return nil
	}
	sort.SliceStable(ps, func(i, j int) bool {
		a, b := ps[i], ps[j]
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	})
	if n := len(ps) - maxProblems; n > 0 {
		last := ps[maxProblems]
		last.Path, last.Msg = "", fmt.Sprintf("and %d more problems", n)
		if len(ps) >= enoughProblems {
			last.Msg = fmt.Sprintf("and at least %d more problems", n)
		}
		ps = append(ps[:maxProblems:maxProblems], last)
	}
	return ps
}
