package layout

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A disk that is really full, and one that is really read-only: small file systems in memory, which only the superuser can make.
func TestFullAndReadOnlyDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("none", dir, "tmpfs", 0, "size=128k"); err != nil {
		t.Skipf("no file system can be made here: %v", err)
	}
	defer syscall.Unmount(dir, syscall.MNT_DETACH)
	path := filepath.Join(dir, "plan.yaml")
	p := testPlan()
	if err := Save(path, p); err != nil {
		t.Fatal(err)
	}
	filler, err := os.Create(filepath.Join(dir, "filler"))
	if err != nil {
		t.Fatal(err)
	}
	for err == nil {
		_, err = filler.Write(make([]byte, 4096))
	}
	if filler.Close(); !errors.Is(err, syscall.ENOSPC) {
		t.Fatal(err)
	}
	unspoilt(t, path, p, "the disk is full")
	if err := os.Remove(filler.Name()); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mount("none", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skipf("the file system cannot be made read-only: %v", err)
	}
	unspoilt(t, path, p, "the disk is read-only")
}

// unspoilt saves another plan, which must fail with the words given and leave the first one, alone, as it was.
func unspoilt(t *testing.T, path string, p *Plan, want string) {
	t.Helper()
	other := *p
	other.Note = strings.Repeat("x", 19000)
	err := Save(path, &other)
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("got %v, want %q", err, want)
	}
	got, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(p, got, sameContents); d != "" {
		t.Error(d)
	}
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".tmp") {
			t.Errorf("%s is left", e.Name())
		}
	}
}
