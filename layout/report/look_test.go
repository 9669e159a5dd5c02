package report

import (
	"maps"
	"testing"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
)

// What fails or warns is marked in drawings, the gravest mark where there are several; what is about more than four things is not.
func TestDrawingMarks(t *testing.T) {
	e := &check.Evaluation{Findings: []check.Finding{
		{Severity: check.Fails, Refs: []string{"a", "b"}},
		{Severity: check.Fails, Refs: []string{"p", "q", "r", "s", "t"}},
		{Severity: check.Warns, Refs: []string{"b", "c", "d", "e"}},
		{Severity: check.Notes, Refs: []string{"n"}},
		{Severity: check.Passes, Refs: []string{"o"}},
	}}
	want := map[string]drawing.Mark{"a": drawing.Breached, "b": drawing.Breached, "c": drawing.Warned, "d": drawing.Warned, "e": drawing.Warned}
	if got := drawingMarks(e); !maps.Equal(got, want) {
		t.Errorf("%v", got)
	}
}
