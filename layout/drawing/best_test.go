package drawing

import (
	"testing"

	"pgregory.net/rapid"

	"stowbay/layout/search"
)

// The best spots are those of the definition of Pareto: no other one is at least as good in both figures and better in one. Two
// spots that are the same do not beat each other.
func TestMarkBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		figure := rapid.IntRange(-2, 2)
		spots := make([]Spot, rapid.IntRange(1, 8).Draw(t, "spots"))
		for i := range spots {
			spots[i].X, spots[i].Y = float64(figure.Draw(t, "x")), float64(figure.Draw(t, "y"))
		}
		better := rapid.SampledFrom([]search.Better{search.More, search.Less, search.NearZero}).Draw(t, "better")
		markBest(spots, better)
		for i, s := range spots {
			beaten := false
			for _, o := range spots {
				beaten = beaten || !worse(o, s, better) && worse(s, o, better)
			}
			if s.Best == beaten {
				t.Fatalf("%d of %v is marked %v, it is beaten: %v", i, spots, s.Best, beaten)
			}
		}
	})
}

// worse tells whether one spot is worse than another in a figure.
func worse(a, b Spot, better search.Better) bool {
	x := map[search.Better]bool{search.More: a.X < b.X, search.Less: a.X > b.X, search.NearZero: a.X*a.X > b.X*b.X}[better]
	return x || a.Y < b.Y
}

// The frame of DEVELOPERS.md: x rearward, y to the right, z up.
func TestDirectionsFollowTheFrame(t *testing.T) {
	for name, want := range map[string][3]float64{"front": {-1, 0, 0}, "rear": {1, 0, 0}, "left": {0, -1, 0}, "right": {0, 1, 0},
		"": {0, 0, -1}, "down": {0, 0, -1}, "bottom": {0, 0, -1}, "up": {0, 0, 1}, "top": {0, 0, 1}} {
		if d := directions[name]; [3]float64{d.X, d.Y, d.Z} != want {
			t.Errorf("%s is %v", name, d)
		}
	}
}
