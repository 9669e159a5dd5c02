package report

import (
	"testing"

	"stowbay/layout"
)

// The pound is 0.45359237 kg by the international yard and pound agreement of 1959; an uncertainty has two figures in it.
func TestReadingsInPounds(t *testing.T) {
	for want, r := range map[string]layout.Reading{
		"2423 ± 6.6 lb": {Value: 1099, PlusMinus: 3, Unit: "kg"},
		"220 ± 26 lb":   {Value: 100, PlusMinus: 12, Unit: "kg"},
	} {
		if got := (units{imperial: true}).reading(r); got != want {
			t.Errorf("%q, want %q", got, want)
		}
		if got := (units{}).reading(r); got != Value(r) {
			t.Errorf("metric: %q, want %q", got, Value(r))
		}
	}
}
