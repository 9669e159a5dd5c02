package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"stowbay/layout/demo"
)

func demoFile(t *testing.T) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "plan.yaml")
	if err := os.WriteFile(name, demo.File(), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestReportCommandWritesPDFAndFolder(t *testing.T) {
	plan, dir := demoFile(t), t.TempDir()
	file := filepath.Join(dir, "fit.pdf")
	if code := run(context.Background(), []string{"report", plan, "-q", "-o", file, "--only", "summary,findings", "--paper", "letter"}); code == exitBadInput {
		t.Errorf("exit code %d", code)
	}
	if b, err := os.ReadFile(file); err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) {
		t.Errorf("no PDF: %v", err)
	}
	folder := filepath.Join(dir, "fit")
	if code := run(context.Background(), []string{"report", plan, "-q", "-o", folder, "--only", "cautions"}); code == exitBadInput {
		t.Errorf("exit code %d", code)
	}
	got, err := os.ReadFile(filepath.Join(folder, "plan.yaml"))
	if err != nil || !bytes.Equal(got, demo.File()) {
		t.Errorf("the plan's copy differs from the plan: %v", err)
	}
}

func TestReportCommandRefusesBadInputAndWritesNothing(t *testing.T) {
	plan, dir := demoFile(t), t.TempDir()
	bad := filepath.Join(t.TempDir(), "bad.yaml")
	if err := os.WriteFile(bad, []byte("format: 1\nname: x\nsoup: 3\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	for _, args := range [][]string{
		{"report", plan},
		{"report", plan, "-o", out, "--only", "soup"},
		{"report", plan, "-o", out, "--paper", "a5"},
		{"report", plan, "-o", out, "-a", "nowhere"},
		{"report", bad, "-o", out},
		{"report", filepath.Join(dir, "missing.yaml"), "-o", out},
	} {
		if code := run(context.Background(), args); code != exitBadInput {
			t.Errorf("%v: exit code %d, want %d", args[1:], code, exitBadInput)
		}
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("something was written: %v", left)
	}
}
