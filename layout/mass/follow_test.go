package mass

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
)

// What a caller gives in the place of an estimate, or gives no more, counts as in a fresh evaluation.
func TestFollowsWhatIsGiven(t *testing.T) {
	s := sceneOf(donor(), fleet(2, 6), nil)
	entry := func(g Group) Entry {
		return Entry{ID: string(g), Group: g, Name: string(g), Count: 1, Kg: 1.25, Known: Rule}
	}
	given := [][]Entry{nil, {entry(Links)}, {entry(Coolant)}, {entry(Links), entry(Coolant)}}
	seen := map[float64]bool{}
	for i, before := range given {
		for k, now := range given {
			fresh := Evaluate(s, now, nil)
			followed := Evaluate(s, now, Evaluate(s, before, nil))
			if a, b := fresh.Now.Kg.Value, followed.Now.Kg.Value; math.Abs(a-b) > 1e-9 {
				t.Errorf("from %d to %d: %v kg, fresh %v kg", i, k, b, a)
			}
			seen[math.Round(1e6*fresh.Now.Kg.Value)] = true
		}
	}
	if len(seen) != len(given) {
		t.Errorf("%d different masses for %d sets: the estimates do not weigh", len(seen), len(given))
	}
}

// The centroid of a rectangle is its middle, whatever its size; a region without area has one that is a number.
func TestCentroidOfARectangle(t *testing.T) {
	for _, side := range []float64{0.5, 1, 2, 300} {
		got := planeOf(geometry.NewRect(10, 20, 10+side, 20+1/side)).centroid()
		if got.Sub(r2.Point{X: 10 + side/2, Y: 20 + 0.5/side}).Norm() > 1e-9 {
			t.Errorf("side %v: %v", side, got)
		}
	}
	if got := (plane{}).centroid(); got != (r2.Point{}) {
		t.Errorf("without area: %v", got)
	}
}
