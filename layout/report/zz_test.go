package report_test

import (
	"os"
	"testing"

	"stowbay/layout/report"
)

func TestZZ(t *testing.T) {
	p, es := demonstration(t)
	out := pdfOf(t, p, es, report.Options{Sections: []string{"assembly"}})
	os.WriteFile("/tmp/asm.pdf", out, 0o600)
}
