package inputs

import (
	"bytes"
	"math/rand/v2"
	"slices"
)

// A spoiler makes inputs out of the ones it has.
type spoiler struct {
	r     *rand.Rand
	all   [][]byte // examples
	good  [][]byte // examples that are accepted, and inputs that were
	new   [][]byte // inputs that made the reader say something new
	words [][]byte
	most  int // greatest length of an input in bytes
	buf   []byte
}

func newSpoiler(seed uint64, examples, good, words [][]byte, most int) *spoiler {
	return &spoiler{r: rand.New(rand.NewPCG(seed, 0)), all: examples, good: slices.Clone(good), words: words, most: most}
}

// keep adds an input to those that are spoilt further. Where there are many, an old one goes.
func (s *spoiler) keep(accepted bool, input []byte) {
	const many = 1000
	list := &s.new
	if accepted {
		list = &s.good
	}
	if len(*list) < many {
		*list = append(*list, bytes.Clone(input))
		return
	}
	(*list)[s.r.IntN(many)] = bytes.Clone(input)
}

// next makes an input. It is valid until the next call.
func (s *spoiler) next() []byte {
	s.buf = append(s.buf[:0], s.pick()...)
	for {
		s.buf = changes[s.r.IntN(len(changes))](s, s.buf)
		if len(s.buf) > s.most {
			s.buf = s.buf[:s.most]
		}
		if s.r.IntN(2) == 0 {
			return s.buf
		}
	}
}

// pick draws an input to be spoilt: half of the time one that is accepted.
func (s *spoiler) pick() []byte {
	list := s.all
	switch n := s.r.IntN(4); {
	case n < 2 && len(s.good) > 0:
		list = s.good
	case n == 2 && len(s.new) > 0:
		list = s.new
	}
	a, b := list[s.r.IntN(len(list))], list[s.r.IntN(len(list))]
	if len(b) < len(a) {
		return b
	}
	return a
}

// changes are the ways to spoil an input. Each may change b in place and returns the outcome.
var changes = []func(s *spoiler, b []byte) []byte{
	flipBit, anyByte, leaveOut, repeat, putWord, putWord, replaceNumber, replaceNumber, replaceNumber, spliceOther, cutShort, swapLines, repeatLine, leaveLineOut, nest,
}

func flipBit(s *spoiler, b []byte) []byte {
	if len(b) > 0 {
		b[s.r.IntN(len(b))] ^= 1 << s.r.IntN(8)
	}
	return b
}

func anyByte(s *spoiler, b []byte) []byte {
	if len(b) > 0 {
		b[s.r.IntN(len(b))] = byte(s.r.IntN(256))
	}
	return b
}

// span draws a part of b, most often a short one.
func (s *spoiler) span(b []byte) (from, to int) {
	if len(b) == 0 {
		return 0, 0
	}
	most := 8
	if s.r.IntN(4) == 0 {
		most = len(b)
	}
	from = s.r.IntN(len(b))
	return from, min(len(b), from+1+s.r.IntN(most))
}

func leaveOut(s *spoiler, b []byte) []byte {
	from, to := s.span(b)
	return append(b[:from], b[to:]...)
}

func repeat(s *spoiler, b []byte) []byte {
	from, to := s.span(b)
	part := bytes.Repeat(b[from:to], 1+s.r.IntN(4))
	return insert(b, to, part)
}

func putWord(s *spoiler, b []byte) []byte {
	w := s.words[s.r.IntN(len(s.words))]
	at := s.r.IntN(len(b) + 1)
	if s.r.IntN(2) == 0 { // over what is there
		end := min(len(b), at+len(w))
		return insert(append(b[:at], b[end:]...), at, w)
	}
	return insert(b, at, w)
}

// replaceNumber puts a word in the place of a number.
func replaceNumber(s *spoiler, b []byte) []byte {
	if len(b) == 0 {
		return b
	}
	start := s.r.IntN(len(b))
	for start < len(b) && !numeral(b[start]) {
		start++
	}
	end := start
	for end < len(b) && numeral(b[end]) {
		end++
	}
	if start == end {
		return b
	}
	w := numbers[s.r.IntN(len(numbers))]
	return insert(append(b[:start], b[end:]...), start, w)
}

func numeral(c byte) bool { return c >= '0' && c <= '9' || c == '.' || c == '-' }

// spliceOther puts a part of another input somewhere into b.
func spliceOther(s *spoiler, b []byte) []byte {
	other := s.pick()
	if len(other) == 0 {
		return b
	}
	from := s.r.IntN(len(other))
	to := from + 1 + s.r.IntN(len(other)-from)
	return insert(b, s.r.IntN(len(b)+1), other[from:to])
}

func cutShort(s *spoiler, b []byte) []byte {
	if s.r.IntN(4) > 0 || len(b) == 0 {
		return b
	}
	return b[:s.r.IntN(len(b))]
}

// line draws a line of b, its end included.
func (s *spoiler) line(b []byte) (from, to int) {
	if len(b) == 0 {
		return 0, 0
	}
	at := s.r.IntN(len(b))
	from = bytes.LastIndexByte(b[:at], '\n') + 1
	if n := bytes.IndexByte(b[at:], '\n'); n >= 0 {
		return from, at + n + 1
	}
	return from, len(b)
}

func swapLines(s *spoiler, b []byte) []byte {
	from, to := s.line(b)
	line := bytes.Clone(b[from:to])
	b = append(b[:from], b[to:]...)
	at, _ := s.line(b)
	return insert(b, at, line)
}

func repeatLine(s *spoiler, b []byte) []byte {
	from, to := s.line(b)
	return insert(b, to, bytes.Clone(b[from:to]))
}

func leaveLineOut(s *spoiler, b []byte) []byte {
	from, to := s.line(b)
	return append(b[:from], b[to:]...)
}

// nest puts many opening marks in a row.
func nest(s *spoiler, b []byte) []byte {
	if s.r.IntN(8) > 0 {
		return b
	}
	marks := "[{(\"-'"
	c := marks[s.r.IntN(len(marks))]
	return insert(b, s.r.IntN(len(b)+1), bytes.Repeat([]byte{c}, 1+s.r.IntN(80)))
}

// insert puts part into b; part may be a part of b.
func insert(b []byte, at int, part []byte) []byte {
	part = bytes.Clone(part)
	n := len(b)
	b = append(b, part...)
	copy(b[at+len(part):], b[at:n])
	copy(b[at:], part)
	return b
}
