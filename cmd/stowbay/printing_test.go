package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// standIn puts a script of the test in the place of a program of the system. The program on the desk finds no others then, so
// that nothing is printed in earnest.
func (d *desk) standIn(name, script string) {
	d.t.Helper()
	d.bin = filepath.Join(d.dir, "bin")
	if err := os.MkdirAll(d.bin, 0o755); err != nil {
		d.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(d.bin, name), []byte("#!/bin/sh\nPATH=/usr/bin:/bin\n"+script+"\n"), 0o755); err != nil {
		d.t.Fatal(err)
	}
}

// wrote waits for a file that a script writes and returns what is in it.
func (d *desk) wrote(name string) string {
	d.t.Helper()
	var data []byte
	d.until(name, func() bool {
		data, _ = os.ReadFile(filepath.Join(d.dir, name))
		return bytes.HasSuffix(data, []byte("\n"))
	})
	return strings.TrimSpace(string(data))
}

// Printing from the real window with scripts in the place of the system's programs: the report goes to the print command;
// where that fails, it is kept; where there is none, it goes to the viewer.
func TestPrintInTheRealWindow(t *testing.T) {
	d := newDesk(t, 1280, 800)
	path := filepath.Join(d.dir, "plan.yaml")
	testPlan(t, path)
	kept := filepath.Join(d.dir, "temporary")
	if err := os.Mkdir(kept, 0o755); err != nil {
		t.Fatal(err)
	}
	t.Setenv("TMPDIR", kept)
	reports := func() []string {
		found, _ := filepath.Glob(filepath.Join(kept, "stowbay-print*", "plan-report.pdf"))
		return found
	}
	d.standIn("lpstat", "echo shop")
	d.standIn("lp", `for last; do :; done; head -c 5 "$last" > head; echo >> head; echo "$@" > arguments`)
	d.start(path)
	d.print("print")
	if head, args := d.wrote("head"), d.wrote("arguments"); head != "%PDF-" || !strings.HasPrefix(args, "-t Window test -n 1 ") {
		t.Errorf("printed %q with %q", head, args)
	}
	d.until("the report printed to be taken away", func() bool { return len(reports()) == 0 })

	d.standIn("lp", "echo lp: no default destination >&2; exit 1")
	d.print("print-fails")
	d.until("the report not printed to be kept", func() bool { return len(reports()) == 1 })
	d.until("the words of the print command", func() bool { return dimmed(d.shot()) && inked(d.shot()) > 200 })
	d.step("print-failed")
	d.key("Escape")
	d.closed()

	if err := os.Remove(filepath.Join(d.bin, "lp")); err != nil {
		t.Fatal(err)
	}
	d.standIn("xdg-open", `echo "$1" > opened`)
	d.print("print-none")
	url := d.wrote("opened")
	if at := strings.TrimPrefix(url, "file://"); len(reports()) != 2 || !strings.HasPrefix(at, kept) {
		t.Errorf("%s is opened; kept are %q", url, reports())
	}
}

// print asks for the report to be printed as the dialog proposes.
func (d *desk) print(step string) {
	d.t.Helper()
	d.key("ctrl+shift+p")
	d.opened()
	d.step(step)
	d.accept()
}
