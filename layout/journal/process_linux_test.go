package journal

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// ticks is the time since the boot by another of the kernel's files, in its clock ticks, a hundred a second (proc(5)).
func ticks(t *testing.T) int64 {
	t.Helper()
	data, err := os.ReadFile("/proc/uptime")
	if err != nil {
		t.Skip(err)
	}
	first, _, _ := strings.Cut(string(data), " ")
	seconds, err := strconv.ParseFloat(first, 64)
	if err != nil {
		t.Fatal(err)
	}
	return int64(seconds*100 + 0.5)
}

// A process started between two looks at the clock has started between them, also where its name holds blanks and brackets.
func TestStartOfAProcess(t *testing.T) {
	boot, err := os.ReadFile("/proc/sys/kernel/random/boot_id")
	if err != nil {
		t.Skip(err)
	}
	sleep, err := exec.LookPath("sleep")
	if err != nil {
		t.Skip(err)
	}
	odd := filepath.Join(t.TempDir(), "a) R (b 1")
	if err := os.Symlink(sleep, odd); err != nil {
		t.Fatal(err)
	}
	for _, program := range []string{sleep, odd} {
		before := ticks(t)
		cmd := exec.Command(program, "60")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		after := ticks(t)
		started := startOf(cmd.Process.Pid)
		cmd.Process.Kill()
		cmd.Wait()
		id, at, _ := strings.Cut(started, "/")
		n, err := strconv.ParseInt(at, 10, 64)
		if err != nil || n < before-2 || n > after+2 || id != strings.TrimSpace(string(boot)) {
			t.Errorf("%s: started at %s, between %d and %d ticks after the boot %s", filepath.Base(program), started, before, after, boot)
		}
		if gone := startOf(cmd.Process.Pid); gone == started {
			t.Errorf("%s: started at %s and is no more", filepath.Base(program), gone)
		}
	}
	if started := startOf(1 << 30); started != "" {
		t.Errorf("no process started at %s", fmt.Sprint(started))
	}
}
