package view

import "testing"

// The inch is 25.4 mm by the international yard and pound agreement of 1959: 4 mm are 0.157 in, 10 mm 0.394 in, 25 mm 0.984 in.
func TestLengthsBelowAnInchHaveHundredths(t *testing.T) {
	for mm, want := range map[float64]string{4: "0.16 in", 10: "0.39 in", 25: "0.98 in", -4: "−0.16 in", 26: "1.0 in", 200: "7.9 in", 0: "0.0 in", 0.1: "0.0 in"} {
		if got := Imperial.Text(mm, "mm"); got != want {
			t.Errorf("%v mm is %q, want %q", mm, got, want)
		}
	}
	if got := Imperial.Delta(-4, "mm"); got != "−0.16 in" {
		t.Error(got)
	}
}
