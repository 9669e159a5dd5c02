package layout

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// FileError says in plain words why a file could not be opened, read or saved.
type FileError struct {
	Doing string // "open", "read", "save"
	Path  string
	Why   string // what is wrong and what to do
	Err   error  // as the system has it
}

// Error implements error.
func (e *FileError) Error() string { return fmt.Sprintf("cannot %s %s: %s", e.Doing, e.Path, e.Why) }

// Unwrap gives the system's error.
func (e *FileError) Unwrap() error { return e.Err }

// Explain wraps an error of the system met while working on a file or folder in plain words; doing is "open", "read" or
// "save". An error that is explained already is returned as it is.
func Explain(doing, path string, err error) error {
	var done *FileError
	if err == nil || errors.As(err, &done) {
		return err
	}
	return explain(doing, path, err)
}

func explain(doing, path string, err error) error {
	return &FileError{Doing: doing, Path: path, Why: why(doing, path, err), Err: err}
}

func why(doing, path string, err error) string {
	switch {
	case isFull(err):
		return "the disk is full; make room or save elsewhere. The file is as it was before"
	case errors.Is(err, syscall.EROFS):
		return "the disk is read-only; save elsewhere"
	case errors.Is(err, fs.ErrPermission) && doing == "save":
		return "you may not write in this folder; save elsewhere or ask who runs this machine"
	case errors.Is(err, fs.ErrPermission):
		return "you may not read it"
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "the name is too long; choose a shorter one"
	case errors.Is(err, syscall.ENOTDIR):
		return "part of its path is a file, not a folder"
	case errors.Is(err, syscall.EINVAL):
		return "the name has characters that this system does not allow"
	case errors.Is(err, fs.ErrNotExist):
		return missing(doing, path)
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, errQuota) || errors.Is(err, syscall.EFBIG)
}

func missing(doing, path string) string {
	dir := filepath.Dir(path)
	if _, err := os.Stat(dir); err != nil {
		return "the folder " + dir + " is not there; it was moved, renamed or unplugged"
	}
	if doing == "save" {
		return "nothing can be made there; save elsewhere"
	}
	return "there is no such file"
}
