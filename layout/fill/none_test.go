package fill

import (
	"strings"
	"testing"

	"stowbay/layout/packing"
)

// Whether a box is too small for a module, said only where it is: turned a quarter or not.
func TestTooSmall(t *testing.T) {
	for _, c := range []struct {
		x, y, z float64
		says    string
	}{
		{320, 170, 120, ""}, {170, 320, 120, ""}, {300, 150, 100, ""}, {150, 300, 100, ""},
		{299, 170, 120, "in plan the inside measures 299 × 170 mm"}, {320, 149, 120, "in plan the inside measures 320 × 149 mm"},
		{290, 290, 120, "in plan the inside measures 290 × 290 mm"}, {320, 170, 99, "the height inside is 99 mm"},
	} {
		p := packing.Problem{Bays: []packing.Bay{{ID: "box", Levels: []packing.Level{{
			Region: packing.Region{Outline: []packing.Point{{X: 0, Y: 0}, {X: c.x, Y: 0}, {X: c.x, Y: c.y}, {X: 0, Y: c.y}}}, CeilingMM: c.z}}}},
			Postures: []packing.Posture{{Name: "flat", LengthMM: 300, WidthMM: 150, HeightMM: 100}}}
		if got := tooSmall(p); !strings.HasPrefix(got, c.says) || c.says == "" && got != "" {
			t.Errorf("%v x %v x %v: %q, want %q", c.x, c.y, c.z, got, c.says)
		}
	}
}
