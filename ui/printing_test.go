package ui

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Printing hands a PDF with title and copies to the system's print command.
func TestPrintCommand(t *testing.T) {
	dir := t.TempDir()
	script := "#!/bin/sh\nfor last; do :; done\nhead -c 5 \"$last\" > " + dir + "/head\necho \"$@\" > " + dir + "/args\n"
	if err := os.WriteFile(filepath.Join(dir, printer), []byte(script), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", dir+string(os.PathListSeparator)+os.Getenv("PATH"))
	w, _ := testWindow(t)
	pdf := filepath.Join(dir, "r.pdf")
	if err := writeReport(t.Context(), pdf, true, w.model.Plan(), w.evaluations(false), newReportAsk().options()); err != nil {
		t.Fatal(err)
	}
	if !canPrint() {
		t.Fatal("the print command is not found")
	}
	if err := sendToPrinter(pdf, "Test plan", "shop", 2); err != nil {
		t.Fatal(err)
	}
	head, _ := os.ReadFile(filepath.Join(dir, "head"))
	args, _ := os.ReadFile(filepath.Join(dir, "args"))
	if string(head) != "%PDF-" || !strings.HasPrefix(string(args), "-t Test plan -n 2 -d shop ") {
		t.Errorf("printed %q with %q", head, args)
	}
	if err := os.WriteFile(filepath.Join(dir, printer), []byte("#!/bin/sh\necho no such printer >&2\nexit 1\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := sendToPrinter(pdf, "Test", "", 1); err == nil || !strings.Contains(err.Error(), "no such printer") {
		t.Errorf("what the print command says is lost: %v", err)
	}
}

// What a print command that fails leaves: its own words, or that it had none.
func TestPrintCommandThatFails(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("PATH", dir)
	for script, want := range map[string]string{
		"echo lp: Error - no default destination available. >&2; exit 1": "no default destination",
		"exit 3": "without saying why",
	} {
		if err := os.WriteFile(filepath.Join(dir, printer), []byte("#!/bin/sh\n"+script+"\n"), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := sendToPrinter("x.pdf", "Test", "", 1); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", script, err)
		}
	}
}

// A report that was not printed is kept and named; one that was is taken away.
func TestReportIsKeptWhereItWasNotPrinted(t *testing.T) {
	w, _ := testWindow(t)
	path := filepath.Join(t.TempDir(), "stowbay-print", "plan-report.pdf")
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte("%PDF-"), 0o600); err != nil {
		t.Fatal(err)
	}
	w.printed(path, "Test", errors.New("out of paper"))
	if got := shown(w); !strings.Contains(got, "out of paper") || !strings.Contains(got, "kept as "+path) {
		t.Errorf("shown:\n%s", got)
	}
	if _, err := os.Stat(path); err != nil {
		t.Error(err)
	}
	w.printed(path, "Test", nil)
	if _, err := os.Stat(filepath.Dir(path)); err == nil || !strings.Contains(w.model.Status(), "Handed to the printer: Test") {
		t.Errorf("after printing it is still there, or nothing is said: %q", w.model.Status())
	}
}

// Without a print command the dialog says so, in place of printer and copies.
func TestNoPrintCommand(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	w, _ := testWindow(t)
	w.Do("print")
	if got := shown(w); !strings.Contains(got, "has no print command (lp)") || strings.Contains(got, "Copies") {
		t.Errorf("shown:\n%s", got)
	}
}
