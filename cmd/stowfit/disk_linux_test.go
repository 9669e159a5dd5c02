package main

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"

	"github.com/rogpeppe/go-internal/testscript"
)

// canMakeDisks tries to make a small file system in memory, which only the superuser can and not everywhere.
func canMakeDisks() bool {
	dir, err := os.MkdirTemp("", "disk")
	if err != nil {
		return false
	}
	defer os.Remove(dir)
	if syscall.Mount("none", dir, "tmpfs", 0, "size=64k") != nil {
		return false
	}
	return syscall.Unmount(dir, syscall.MNT_DETACH) == nil
}

// tinyDisk makes a folder that is a disk of its own: tinydisk DIR SIZE
func tinyDisk(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: tinydisk DIR SIZE")
	}
	dir := ts.MkAbs(args[0])
	ts.Check(os.MkdirAll(dir, 0o777))
	ts.Check(syscall.Mount("none", dir, "tmpfs", 0, "size="+args[1]))
	ts.Defer(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
}

// fillDisk writes until the disk is full: fill DIR
func fillDisk(ts *testscript.TestScript, neg bool, args []string) {
	f, err := os.Create(filepath.Join(ts.MkAbs(args[0]), "filler"))
	ts.Check(err)
	for err == nil {
		_, err = f.Write(make([]byte, 4096))
	}
	if f.Close(); !errors.Is(err, syscall.ENOSPC) {
		ts.Fatalf("fill: %v", err)
	}
}

// readOnly makes a disk made with tinydisk one that cannot be written: readonly DIR
func readOnly(ts *testscript.TestScript, neg bool, args []string) {
	ts.Check(syscall.Mount("none", ts.MkAbs(args[0]), "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
}
