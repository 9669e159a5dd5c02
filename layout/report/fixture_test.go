package report_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/layout/report"
	"stowbay/vehicles"
)

// demonstration is the plan that the program carries, with its arrangements computed.
func demonstration(t testing.TB) (*layout.Plan, []*check.Evaluation) {
	t.Helper()
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	return p, evaluated(p)
}

func evaluated(p *layout.Plan) []*check.Evaluation {
	lib := p.LibraryOver(vehicles.Catalogue())
	var es []*check.Evaluation
	for _, a := range p.Arrangements {
		es = append(es, check.Evaluate(p, a, lib, nil))
	}
	return es
}

func pdfOf(t testing.TB, p *layout.Plan, es []*check.Evaluation, o report.Options) []byte {
	t.Helper()
	out, err := report.PDF(p, es, o)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// saved writes a document to a file of the test's own.
func saved(t testing.TB, doc []byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(name, doc, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// tool runs a program that reads PDFs, or skips the test where it is not installed.
func tool(t testing.TB, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed", name)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, bytes.TrimSpace(out))
	}
	return string(out)
}

// solid takes all blanks out of a text, so that it is found however its lines are broken.
func solid(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsControl(r) {
			return -1
		}
		return r
	}, s)
}

// words are the texts of a document in the order in which they were set, without blanks.
func words(t testing.TB, doc []byte) string {
	t.Helper()
	return solid(tool(t, "pdftotext", "-raw", saved(t, doc), "-"))
}
