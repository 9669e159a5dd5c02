package check

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// Of any bodies, those that reach into a stretch along x are among those found for it, and they come in their own order.
func TestNoBodyAlongAStripIsMissed(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		all := make([]solid, r.IntN(40))
		for i := range all {
			x := float64(r.IntN(2000)) / 2
			all[i] = solid{lo: r3.Vector{X: x}, hi: r3.Vector{X: x + float64(r.IntN(600))/2}}
		}
		near := alongX(all)
		for range 20 {
			lo := float64(r.IntN(2400))/2 - 100
			hi := lo + float64(r.IntN(200))/2
			found := near.touching(lo, hi)
			if !slices.IsSorted(found) {
				t.Fatalf("out of order: %v", found)
			}
			for i := range all {
				if all[i].hi.X >= lo && all[i].lo.X <= hi && !slices.Contains(found, i) {
					t.Fatalf("body %d from %v to %v is missed for the stretch from %v to %v", i, all[i].lo.X, all[i].hi.X, lo, hi)
				}
			}
		}
	}
}

// A strip pushed against a slanted wall of which it is rounded past by less than the tolerance does not leave the box;
// one that is two tolerances past does.
func TestStripAtASlantedWall(t *testing.T) {
	space := geometry.Space{Solids: []geometry.Prism{{Base: geometry.Ring{{}, {X: 1000}, {X: 700, Y: 500}, {Y: 500}}.Polygon(), Bottom: 0, Top: 100}}}
	inside, err := space.Prepare()
	if err != nil {
		t.Fatal(err)
	}
	const wall = 1000 - 300*400/500. // where y is 400
	for past, want := range map[float64]bool{-1: true, 0: true, 0.004: true, 0.05: false, 1: false} {
		strip := geometry.Prism{Base: geometry.NewRect(wall-150+past, 360, wall+past, 400), Bottom: 0, Top: 50}
		if got := inside.ContainsPrism(slackened(strip)); got != want {
			t.Errorf("a strip %v mm past the wall is inside: %v", past, got)
		}
	}
}
