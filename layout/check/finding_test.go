package check

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// What fails or warns says what would mend it; what passes or is only noted does not.
func TestOnlyWhatDoesNotHoldIsMended(t *testing.T) {
	for severity, want := range map[Severity]string{Fails: "Too high. Set it lower.", Warns: "Too high. Set it lower.", Notes: "Too high.", Passes: "Too high."} {
		if got := (Finding{Severity: severity, Text: "Too high."}).mending("Set it lower.").Text; got != want {
			t.Errorf("%s: %q, want %q", severity, got, want)
		}
	}
}

// Of many findings all that do not pass are kept in their order; where all pass, only the first of those with the least margin.
func TestFindingsThatDoNotPass(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 20))
	severities := []Severity{Passes, Passes, Passes, Passes, Notes, Warns, Fails}
	allPass := 0
	for range 2000 {
		fs := make([]Finding, r.IntN(5))
		for i := range fs {
			fs[i] = Finding{Rule: string(rune('a' + i)), Severity: severities[r.IntN(len(severities))], Compare: []string{"at most", "at least"}[r.IntN(2)], Required: float64(r.IntN(4)), Actual: float64(r.IntN(4))}
		}
		var want []string
		for _, f := range fs {
			if f.Severity != Passes {
				want = append(want, f.Rule)
			}
		}
		if len(want) == 0 && len(fs) > 0 {
			allPass++
			right := func(f Finding) float64 { // how far on the right side
				if f.Compare == "at least" {
					return f.Actual - f.Required
				}
				return f.Required - f.Actual
			}
			least := slices.Clone(fs)
			slices.SortStableFunc(least, func(a, b Finding) int { return int(right(a) - right(b)) })
			want = []string{least[0].Rule}
		}
		var got []string
		for _, f := range notPassing(fs) {
			got = append(got, f.Rule)
		}
		if !slices.Equal(got, want) {
			t.Fatalf("%+v: kept %v, want %v", fs, got, want)
		}
	}
	if allPass < 100 {
		t.Errorf("all pass in %d only", allPass)
	}
}
