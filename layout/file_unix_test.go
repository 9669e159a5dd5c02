//go:build unix

package layout

import (
	"path/filepath"
	"syscall"
	"testing"
)

// A pipe in the plan's folder is no picture; opening it would wait for ever.
func TestOpenBesideRefusesAPipe(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o600); err != nil {
		t.Skip("no pipes can be made here: ", err)
	}
	if f, err := OpenBeside(filepath.Join(dir, "plan.yaml"), "pipe"); err == nil {
		f.Close()
		t.Error("the pipe was opened")
	}
}
