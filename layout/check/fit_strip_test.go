package check

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
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
