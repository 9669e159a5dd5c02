// Package recordtest checks readers of records against files that carry their expected problems beside the
// offending lines:
//
//	wheelbase_mm: -3 # want "wheelbase_mm: -3 is out of range"
//
// A comment may hold several texts in double quotes; each has to be part of one problem of that line, printed as
// "path: what is wrong", and every problem has to be expected. A problem of the whole file, which has no line, is
// expected by "# want-file" on any line of its own. Inside the quotes only \" is an escape.
package recordtest

import (
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"stowbay/vehicles/record"
)

// Fixture reads the file with read and fails t for every difference from what its comments expect. A file
// without such comments has to be read without a problem.
func Fixture(t *testing.T, file string, read func(name string, data []byte) error) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range Compare(file, data, read) {
		t.Error(d)
	}
}

// Compare returns the differences between the problems found and those expected.
func Compare(file string, data []byte, read func(name string, data []byte) error) []string {
	found, err := problems(read(file, data))
	if err != nil {
		return []string{err.Error()}
	}
	var diffs []string
	for line, texts := range wanted(string(data)) {
		for _, text := range texts {
			i := index(found, line, text)
			if i < 0 {
				diffs = append(diffs, fmt.Sprintf("%s:%d: expected but not found: %s", file, line, text))
				continue
			}
			found = append(found[:i:i], found[i+1:]...)
		}
	}
	for _, p := range found {
		diffs = append(diffs, "not expected: "+p.String())
	}
	return diffs
}

func problems(err error) ([]record.Problem, error) {
	var ps record.Problems
	if err != nil && !errors.As(err, &ps) {
		return nil, fmt.Errorf("want record.Problems, got %T: %w", err, err)
	}
	return append([]record.Problem(nil), ps...), nil
}

func index(ps []record.Problem, line int, text string) int {
	for i, p := range ps {
		p.File = ""
		p.Line, line = max(p.Line, 0), max(line, 0)
		if p.Line != line {
			continue
		}
		p.Line = 0
		if strings.Contains(p.String(), text) {
			return i
		}
	}
	return -1
}

var (
	want   = regexp.MustCompile(`# want(-file)? (".*)$`)
	quoted = regexp.MustCompile(`"((?:[^"\\]|\\.)*)"`)
)

// wanted collects the expected texts by line; those of the whole file stand under line 0.
func wanted(data string) map[int][]string {
	out := map[int][]string{}
	for i, text := range strings.Split(data, "\n") {
		m := want.FindStringSubmatch(text)
		if m == nil {
			continue
		}
		line := i + 1
		if m[1] != "" {
			line = 0
		}
		for _, q := range quoted.FindAllStringSubmatch(m[2], -1) {
			out[line] = append(out[line], strings.ReplaceAll(q[1], `\"`, `"`))
		}
	}
	return out
}
