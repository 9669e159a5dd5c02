package recordtest

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"stowbay/internal/inputs"
	"stowbay/vehicles/record"
)

// place is how a problem found in a file starts. What concerns the whole file has no line.
var place = regexp.MustCompile(`^[^:]+:(\d+:\d+:)? `)

// echoed is a number of the file that a message repeats as it stands there: it may end with a point.
var echoed = regexp.MustCompile(`the number [^ ,;]+`)

// slips are marks of a message that was not written for people.
var slips = []string{"%!", "<nil>", "{{", "struct {", "map[", "reflect.", "runtime error", "yaml: ", "0x", "!!"}

// Form says what is wrong with the form of a problem found in a file; "" where nothing is. The form is
// file:line:column: path: what is wrong, what is allowed, in one line, without a full stop. It is for files written to
// be wrong: what a message repeats of an arbitrary file may look like a slip.
func Form(p record.Problem) string {
	if wrong := Place(p); wrong != "" {
		return wrong
	}
	said := echoed.ReplaceAllString(p.Msg, "the number 0")
	first, _ := utf8.DecodeRuneInString(said)
	if unicode.IsUpper(first) || strings.HasSuffix(said, ".") {
		return "starts like a sentence or ends like one"
	}
	for _, s := range slips {
		if strings.Contains(unquoted(said), s) {
			return fmt.Sprintf("says %q", s)
		}
	}
	return ""
}

// Refused checks that a file was refused with problems, and where it is looked at closely that each is one line of text
// with a place.
func Refused(t inputs.T, err error, closely bool) {
	t.Helper()
	var ps record.Problems
	if !errors.As(err, &ps) || len(ps) == 0 {
		t.Fatalf("want problems, got %T: %v", err, err)
	}
	if !closely {
		return
	}
	for _, p := range ps {
		if wrong := Place(p); wrong != "" {
			t.Errorf("%q %s", p, wrong)
		}
	}
}

// Place says what keeps a problem of any file from being one line of text with a place; "" where nothing does.
func Place(p record.Problem) string {
	text := p.String()
	switch {
	case p.File == "" || !place.MatchString(text):
		return "has no place"
	case p.Line < 0 || p.Line > 0 && p.Column < 1:
		return fmt.Sprintf("has the place %d:%d", p.Line, p.Column)
	case p.Msg == "" || strings.TrimSpace(p.Msg) != p.Msg:
		return "says nothing, or has blanks around it"
	case strings.ContainsAny(text, "\n\r"):
		return "has several lines"
	case utf8.RuneCountInString(p.Msg) > 400:
		return "is too long to be read"
	}
	return ""
}

var cited = regexp.MustCompile(`"(\\.|[^"\\])*"`)

// unquoted leaves out what a message cites of the file.
func unquoted(msg string) string { return cited.ReplaceAllString(msg, "") }
