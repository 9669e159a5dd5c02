package journal

import (
	"errors"
	"io/fs"
	"os"
	"time"
)

// Stamp is what a file was like at some time.
type Stamp struct {
	Path    string
	Size    int64
	ModTime time.Time
	Hash    string // empty where there was no file
}

// Take gives the stamp of a file as it is now. A file that is not there has an empty one.
func Take(path string) (Stamp, error) {
	s := Stamp{Path: path}
	st, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err != nil {
		return s, err
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return s, err
	}
	s.Size, s.ModTime, s.Hash = st.Size(), st.ModTime(), hashOf(data)
	return s, nil
}

// State is what became of a file.
type State int

// The states: as it was; other contents; not there any more.
const (
	Same State = iota
	Changed
	Gone
)

// Now tells what became of the file since the stamp was taken. A file that was only touched or written with the same contents is the same. Where size
// and time are as they were, the contents are not read.
func (s Stamp) Now() (State, error) {
	st, err := os.Stat(s.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && s.Hash == "":
		return Same, nil
	case errors.Is(err, fs.ErrNotExist):
		return Gone, nil
	case err != nil:
		return Same, err
	case s.Hash != "" && st.Size() == s.Size && st.ModTime().Equal(s.ModTime):
		return Same, nil
	}
	now, err := Take(s.Path)
	if err != nil {
		return Same, err
	}
	if now.Hash == s.Hash {
		return Same, nil
	}
	return Changed, nil
}
