package ui

import "testing"

// The field that finds findings takes its room only while it is shown.
func TestFindingsTakeTheRoomOfTheirField(t *testing.T) {
	w, _ := testWindow(t)
	d := w.right
	at, high := d.findings.Position().Y, d.findings.Size().Height
	d.toggleWords()
	if d.findings.Position().Y <= at {
		t.Error("the field stands over the findings")
	}
	d.toggleWords()
	if d.findings.Position().Y != at || d.findings.Size().Height != high {
		t.Errorf("the findings stand at %v, %v high; before at %v, %v high", d.findings.Position().Y, d.findings.Size().Height, at, high)
	}
}
