package journal

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"stowbay/layout"
)

// Recovery is what a journal leads to.
type Recovery struct {
	Plan    *layout.Plan // the plan with all edits made
	Unsaved bool         // the plan is not what its file holds: there is something to recover
	Edits   int          // edits made since the journal began
	File    string       // the plan's file; empty for a plan without a name
	Lost    int          // lines at the end that could not be read or made: at most one after a crash
	Other   bool         // the plan's file is not the one that the edits build on: it was changed, moved or taken away since
}

// ErrNone is what Recover gives where there is no journal, or none with a whole header.
var ErrNone = errors.New("there is no journal")

// Recover reads a journal and gives the plan it leads to. It changes no file. A torn last line is left out.
func Recover(path string) (*Recovery, error) {
	header, lines, lost, err := read(path)
	if err != nil {
		return nil, err
	}
	r := &Recovery{Lost: lost}
	var now string
	var data []byte
	if header.Plan != "" {
		r.File = header.Plan
		if !filepath.IsAbs(r.File) {
			r.File = filepath.Join(filepath.Dir(path), filepath.Base(r.File))
		}
		if data, err = os.ReadFile(r.File); err == nil {
			now = hashOf(data)
		}
	}
	if at := savedAt(lines, now); at >= 0 {
		// The saving went through, only the journal was not begun anew.
		err = r.follow(r.File, data, lines[at+1:])
	} else {
		r.Other = now != header.Hash
		err = r.follow(path, []byte(header.Base), lines)
	}
	if err != nil {
		return nil, err
	}
	r.Unsaved = !holds(data, r.Plan)
	return r, nil
}

// holds tells whether the contents of a file are a plan. The edits alone do not say: the plan that a journal begins with may be a recovered one.
func holds(data []byte, p *layout.Plan) bool {
	q, err := layout.Parse("", data)
	if err != nil {
		return false
	}
	a, aerr := layout.Encode(p)
	b, berr := layout.Encode(q)
	return aerr == nil && berr == nil && bytes.Equal(a, b)
}

// savedAt is the index of the last mark of a saving that made the file as it is now, or -1.
func savedAt(lines []line, hash string) int {
	at := -1
	for i, l := range lines {
		if l.Saving != "" && l.Saving == hash {
			at = i
		}
	}
	return at
}

// follow makes the edits, as far as they can be made.
func (r *Recovery) follow(name string, base []byte, lines []line) error {
	p, err := layout.Parse(name, base)
	if err != nil {
		return fmt.Errorf("the plan that the journal builds on cannot be read: %w", err)
	}
	r.Plan = p
	for i, l := range lines {
		if l.Edit == nil {
			continue
		}
		e, err := layout.UnmarshalEdit(l.Edit)
		if err == nil {
			p, err = e.Apply(p)
		}
		if err != nil {
			r.Lost += len(lines) - i
			return nil
		}
		r.Plan = p
		r.Edits++
	}
	return nil
}

// mostBytes bounds what is read of a journal: far more than a day's work.
const mostBytes = 1 << 30

// read gives the lines of a journal up to the first one that is not whole.
func read(path string) (header line, lines []line, lost int, err error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return line{}, nil, 0, ErrNone
	}
	if err != nil {
		return line{}, nil, 0, err
	}
	defer f.Close()
	in := bufio.NewReader(io.LimitReader(f, mostBytes))
	for n := 0; ; n++ {
		data, err := in.ReadBytes('\n')
		if len(data) == 0 && err != nil {
			break
		}
		l, ok := unseal(bytes.TrimSuffix(data, []byte("\n")))
		switch {
		case n == 0 && (!ok || l.Journal == 0):
			return line{}, nil, 0, ErrNone
		case n == 0 && l.Journal > version:
			return line{}, nil, 0, fmt.Errorf("%s was written by a newer version of this program; use that one", path)
		case n == 0:
			header = l
		case lost > 0 || !ok || err != nil:
			lost++
		default:
			lines = append(lines, l)
		}
	}
	if header.Journal == 0 {
		return line{}, nil, 0, ErrNone
	}
	return header, lines, lost, nil
}
