package layout

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
)

// BackupSuffix is what the name of a file's backup ends with.
const BackupSuffix = "~"

// ReplaceFile gives a file new contents so that at every moment either the old or the new ones are there, whole, even if the program
// or the machine stops. The old contents are kept as a backup beside it, its name ending with [BackupSuffix]. Permissions stay as
// they were; a symbolic link stays and the file it leads to is replaced.
//
// On an error the old contents stand, and the message says in plain words what to do.
func ReplaceFile(path string, data []byte) error {
	target, err := followLinks(path)
	if err != nil {
		return explain("save", path, err)
	}
	old, err := os.Stat(target)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return explain("save", path, err)
	}
	if old != nil && !old.Mode().IsRegular() {
		return fmt.Errorf("cannot save %s: it is no ordinary file", path)
	}
	temp, err := writeTemp(target, data, old)
	if err != nil {
		return explain("save", path, err)
	}
	if err := swap(temp, target, old); err != nil {
		os.Remove(temp)
		return explain("save", path, err)
	}
	return nil
}

// swap puts temp in the place of target, keeping a backup where there is an old file.
func swap(temp, target string, old fs.FileInfo) error {
	if old != nil {
		if err := backUp(target, old); err != nil {
			return fmt.Errorf("the backup %s: %w", filepath.Base(target)+BackupSuffix, err)
		}
	}
	if err := os.Rename(temp, target); err != nil {
		return err
	}
	return SyncFolder(filepath.Dir(target))
}

// mostLinks is how many links in a row are followed, as the system does.
const mostLinks = 40

// followLinks gives the file that a path leads to, which need not exist.
func followLinks(path string) (string, error) {
	for range mostLinks {
		to, err := os.Readlink(path)
		if err != nil {
			return path, nil
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return "", errors.New("its links lead in a circle")
}

// writeTemp writes a new file beside target and makes sure that it is on the disk.
func writeTemp(target string, data []byte, like fs.FileInfo) (string, error) {
	f, err := createTemp(target)
	if err != nil {
		return "", err
	}
	if like != nil {
		err = f.Chmod(like.Mode().Perm())
		if runtime.GOOS == "windows" {
			err = nil
		}
	}
	if err == nil {
		_, err = f.Write(data)
	}
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		os.Remove(f.Name())
		return "", err
	}
	return f.Name(), nil
}

// createTemp makes a file of a new name beside target, with the permissions that a new file has.
func createTemp(target string) (*os.File, error) {
	dir, base := filepath.Split(target)
	for n := range 1000 {
		name := filepath.Join(dir, "."+shortBase(base)+"."+strconv.Itoa(os.Getpid())+"-"+strconv.Itoa(n)+".tmp")
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
	return nil, errors.New("the folder is full of temporary files")
}

// shortBase keeps the temporary file's name within what file systems allow where the file's own name is near it.
func shortBase(base string) string {
	if len(base) > 100 {
		base = strings.ToValidUTF8(base[:100], "")
	}
	return base
}

// backUp keeps the contents of target under the backup's name: as a second name for the same file where the file system
// has such, else as a copy.
func backUp(target string, old fs.FileInfo) error {
	backup := target + BackupSuffix
	temp, err := createTemp(backup)
	if err != nil {
		return err
	}
	temp.Close()
	os.Remove(temp.Name())
	if os.Link(target, temp.Name()) != nil {
		if err := copyFile(target, temp.Name(), old); err != nil {
			os.Remove(temp.Name())
			return err
		}
	}
	if err := os.Rename(temp.Name(), backup); err != nil {
		os.Remove(temp.Name())
		return err
	}
	// Renaming one name of a file to another name of the same file does nothing and leaves both.
	os.Remove(temp.Name())
	return nil
}

func copyFile(from, to string, like fs.FileInfo) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, like.Mode().Perm())
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err == nil {
		err = out.Sync()
	}
	if e := out.Close(); err == nil {
		err = e
	}
	return err
}

// SyncFolder makes sure that a rename in a folder is on the disk. Not every system can; Windows does it by itself.
func SyncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return nil // a folder that can be written but not read
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}
