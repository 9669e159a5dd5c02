package search

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// By the definition, pair by pair: a member goes where one of another group is no worse in everything and better in something, or
// the same and of an earlier group. How many work at it does not matter.
func TestMergePairByPair(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	marked := 0
	for range 60 {
		var groups []*group
		for range 1 + r.IntN(6) {
			g := &group{}
			for i := range g.key {
				g.key[i] = int32(r.IntN(8) / 7)
			}
			for range r.IntN(4) {
				g.members = append(g.members, member{spot: spot{int32(r.IntN(3)), int32(r.IntN(3)), int32(r.IntN(3))}})
			}
			groups = append(groups, g)
		}
		want := make([][]bool, len(groups))
		for i, g := range groups {
			want[i] = make([]bool, len(g.members))
			for n, m := range g.members {
				for k, o := range groups {
					want[i][n] = want[i][n] || k != i && slices.ContainsFunc(o.members, func(p member) bool {
						equal := o.key == g.key && p.spot == m.spot
						return o.key.reaches(&g.key) && p.spot.reaches(m.spot) && (!equal || k < i)
					})
				}
				if want[i][n] {
					marked++
				}
			}
		}
		for _, workers := range []int{0, 1, 2, 5} {
			if got := merge(groups, workers); fmt.Sprint(got) != fmt.Sprint(want) {
				t.Fatalf("%d workers: %v, not %v", workers, got, want)
			}
		}
	}
	if marked < 50 {
		t.Errorf("only %d members to mark", marked)
	}
}

// A packing in one posture that holds more than the best found in any mix takes its place, proved where it reaches the bound.
func TestMixedIsNoWorseThanOnePosture(t *testing.T) {
	for _, c := range []struct {
		mixed, bound, one, want int
		proved                  bool
	}{{5, 8, 7, 7, false}, {5, 7, 7, 7, true}, {7, 8, 5, 7, false}, {7, 9, 7, 7, false}} {
		m := &vehicles.Module{ID: "m"}
		b := &layout.Box{ID: "b"}
		any, flat := Stance{Module: m}, Stance{Module: m, Posture: vehicles.Flat}
		ps := NewPackings()
		ps.of[packKey{b, any}] = &Packing{Placements: make([]layout.Placement, c.mixed), Bound: c.bound}
		ps.of[packKey{b, flat}] = &Packing{Placements: make([]layout.Placement, c.one), Bound: c.one, Proved: true}
		ps.mixed(b, []Stance{any, flat})
		if got := ps.Of(b, any); len(got.Placements) != c.want || got.Bound != c.bound || got.Proved != c.proved {
			t.Errorf("%+v: %d modules of at most %d, proved %v", c, len(got.Placements), got.Bound, got.Proved)
		}
	}
}

// Any mix of postures comes first, then each alone where there are several.
func TestStancesOfAModule(t *testing.T) {
	for _, postures := range [][]vehicles.Posture{nil, {vehicles.Flat}, {vehicles.Flat, vehicles.Side}, {vehicles.Flat, vehicles.Side, vehicles.End}} {
		m := &vehicles.Module{Postures: postures}
		want := []Stance{{Module: m}}
		if len(postures) > 1 {
			for _, p := range postures {
				want = append(want, Stance{m, p})
			}
		}
		if got := stances(m); !slices.Equal(got, want) {
			t.Errorf("%v: %v", postures, got)
		}
	}
}
