package outline

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// pair is one group of a DXF file: a code that tells the meaning, and a value,
// each on a line of its own; line is that of the value.
type pair struct {
	code  int
	value string
	line  int
}

// number reads the value as a finite number.
func (p pair) number() (float64, error) {
	v, err := strconv.ParseFloat(p.value, 64)
	if err != nil || v-v != 0 {
		return 0, &Fault{Line: p.line, Wrong: fmt.Sprintf("%.30q is not a number (group code %d)", p.value, p.code)}
	}
	return v, nil
}

func (p pair) integer() (int, error) {
	v, err := strconv.Atoi(p.value)
	if err != nil {
		return 0, &Fault{Line: p.line, Wrong: fmt.Sprintf("%.30q is not a whole number (group code %d)", p.value, p.code)}
	}
	return v, nil
}

// pairReader reads the groups of an ASCII DXF file.
type pairReader struct {
	lines *bufio.Scanner
	left  *io.LimitedReader
	line  int
}

const maxLine = 64 << 10 // bytes of one line

// newPairReader reads a file of at most so many bytes.
func newPairReader(r io.Reader, most int64) *pairReader {
	left := &io.LimitedReader{R: r, N: most + 1}
	lines := bufio.NewScanner(left)
	lines.Buffer(make([]byte, 0, 4096), maxLine)
	return &pairReader{lines: lines, left: left}
}

// next reads a group; the error is io.EOF only at a clean end.
func (r *pairReader) next() (pair, error) {
	text, err := r.text()
	if err != nil {
		return pair{}, err
	}
	code, err := strconv.Atoi(text)
	if err != nil || code < -5 || code > 1071 {
		return pair{}, r.fault("%.30q is not a group code", text)
	}
	value, err := r.text()
	if err == io.EOF {
		return pair{}, r.fault("the file ends after a group code, without its value")
	}
	return pair{code: code, value: value, line: r.line}, err
}

func (r *pairReader) text() (string, error) {
	if !r.lines.Scan() {
		return "", r.ending(r.lines.Err())
	}
	r.line++
	s := r.lines.Text()
	if strings.Contains(s, "\x00") {
		return "", r.fault("binary data: only the text form of DXF can be read")
	}
	return strings.TrimSpace(s), nil
}

func (r *pairReader) ending(err error) error {
	switch {
	case r.left.N == 0:
		return r.fault("the file is greater than %d MB", MaxDXFBytes>>20)
	case errors.Is(err, bufio.ErrTooLong):
		r.line++
		return r.fault("the line is longer than %d kB", maxLine>>10)
	case err != nil:
		return fmt.Errorf("line %d: %w", r.line, err)
	}
	return io.EOF
}

func (r *pairReader) fault(format string, args ...any) error {
	return &Fault{Line: r.line, Wrong: fmt.Sprintf(format, args...)}
}
