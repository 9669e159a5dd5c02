package outline

import (
	"fmt"
	"strconv"
)

// scanner takes path data apart into commands, numbers and flags.
type scanner struct {
	text string
	at   int
}

// skip passes white space and at most one comma among it; it tells whether
// there was a comma.
func (s *scanner) skip() bool {
	comma := false
	for s.at < len(s.text) {
		switch s.text[s.at] {
		case ' ', '\t', '\n', '\r', '\f':
		case ',':
			if comma {
				return true
			}
			comma = true
		default:
			return comma
		}
		s.at++
	}
	return comma
}

func (s *scanner) done() bool { return s.at >= len(s.text) }

// startsNumber tells whether a number may start here.
func (s *scanner) startsNumber() bool {
	if s.done() {
		return false
	}
	c := s.text[s.at]
	return c == '+' || c == '-' || c == '.' || digit(c)
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// number reads a number of the SVG grammar, which ends where the next cannot
// belong to it: "1.5.5" is 1.5 and .5, "1-2" is 1 and -2.
func (s *scanner) number() (float64, error) {
	start := s.at
	if s.at < len(s.text) && (s.text[s.at] == '+' || s.text[s.at] == '-') {
		s.at++
	}
	whole := s.digits()
	frac := 0
	if s.at < len(s.text) && s.text[s.at] == '.' {
		s.at++
		frac = s.digits()
	}
	if whole+frac == 0 {
		s.at = start
		return 0, s.fault("%s: a number is wanted", s.here())
	}
	s.exponent()
	v, err := strconv.ParseFloat(s.text[start:s.at], 64)
	if err != nil {
		word := s.text[start:s.at]
		s.at = start
		return 0, s.fault("%.20s is too great a number", word)
	}
	return v, nil
}

func (s *scanner) digits() int {
	start := s.at
	for s.at < len(s.text) && digit(s.text[s.at]) {
		s.at++
	}
	return s.at - start
}

// exponent passes an exponent if a whole one is here.
func (s *scanner) exponent() {
	start := s.at
	if s.at >= len(s.text) || (s.text[s.at] != 'e' && s.text[s.at] != 'E') {
		return
	}
	s.at++
	if s.at < len(s.text) && (s.text[s.at] == '+' || s.text[s.at] == '-') {
		s.at++
	}
	if s.digits() == 0 {
		s.at = start
	}
}

// flag reads a 0 or a 1, which need nothing after it.
func (s *scanner) flag() (float64, error) {
	if s.at < len(s.text) && (s.text[s.at] == '0' || s.text[s.at] == '1') {
		s.at++
		return float64(s.text[s.at-1] - '0'), nil
	}
	return 0, s.fault("%s: a flag, 0 or 1, is wanted", s.here())
}

// here names what stands at the place.
func (s *scanner) here() string {
	if s.done() {
		return "the end"
	}
	return strconv.QuoteToASCII(s.text[s.at : s.at+1])
}

func (s *scanner) fault(format string, args ...any) *Fault {
	line, column := 1, 1
	for i := 0; i < s.at && i < len(s.text); i++ {
		if column++; s.text[i] == '\n' {
			line, column = line+1, 1
		}
	}
	return &Fault{Line: line, Column: column, Wrong: fmt.Sprintf(format, args...)}
}
