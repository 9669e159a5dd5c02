package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
)

// The shortest round is as short as the least of every order, found here by sets: the shortest way that ends at a box after passing a
// set of boxes is one leg longer than one without it (Held and Karp, 1962). The order goes through each box once and is as long as said.
func TestShortestRoundAgainstSetBySet(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	place := func() r3.Vector {
		return r3.Vector{X: float64(r.IntN(40)) * 100, Y: float64(r.IntN(15)) * 100, Z: float64(r.IntN(6)) * 100}
	}
	for range 300 {
		at := make([]r3.Vector, 9)
		for i := range at {
			at[i] = place()
		}
		boxes := r.Perm(9)[:1+r.IntN(mostOrdered)]
		var hub *r3.Vector
		if r.IntN(3) > 0 {
			h := place()
			hub = &h
		}
		got := shortestRound(hub, at, boxes)
		if want := heldKarp(hub, at, boxes); math.Abs(got.lengthMM-want) > 1e-6 {
			t.Fatalf("hub %v, boxes %v at %v: %g mm, set by set %g", hub, boxes, at, got.lengthMM, want)
		}
		passed, length, centre, lead := map[int]bool{}, 0.0, r3.Vector{}, 0.0
		ways := make([]r3.Vector, 0, len(boxes)+2)
		for _, b := range got.order {
			passed[b] = true
			ways = append(ways, at[b])
		}
		if hub != nil {
			ways = append(append([]r3.Vector{*hub}, ways...), *hub)
			for _, b := range boxes {
				lead += leg(*hub, at[b])
			}
		}
		for i := 1; i < len(ways); i++ {
			for share := 0.005; share < 1; share += 0.01 { // by hundredths of each leg
				p := ways[i-1].Mul(1 - share).Add(ways[i].Mul(share))
				centre = centre.Add(p.Mul(leg(ways[i-1], ways[i]) / 100))
			}
			length += leg(ways[i-1], ways[i])
		}
		if len(passed) != len(boxes) || len(got.order) != len(boxes) || math.Abs(length-got.lengthMM) > 1e-6 || math.Abs(got.leadMM-lead/float64(len(boxes))) > 1e-9 {
			t.Fatalf("order %v of %v is %g mm long, said %g; lead %g", got.order, boxes, length, got.lengthMM, got.leadMM)
		}
		if length > 0 && centre.Mul(1/length).Sub(got.centre).Norm() > 1e-6 || length == 0 && got.centre != ways[0] {
			t.Fatalf("order %v: centre %v, leg by leg %v", got.order, got.centre, centre.Mul(1/length))
		}
	}
}

func leg(a, b r3.Vector) float64 { return math.Abs(a.X-b.X) + math.Abs(a.Y-b.Y) + math.Abs(a.Z-b.Z) }

// heldKarp is the length of the shortest round from a hub, or of the shortest way where there is none.
func heldKarp(hub *r3.Vector, at []r3.Vector, boxes []int) float64 {
	n := len(boxes)
	out := func(i int) float64 {
		if hub == nil {
			return 0
		}
		return leg(*hub, at[boxes[i]])
	}
	best := make([][]float64, 1<<n) // by set and the box passed last
	for set := 1; set < 1<<n; set++ {
		best[set] = make([]float64, n)
		for last := range n {
			best[set][last] = math.Inf(1)
			rest := set &^ (1 << last)
			if set&(1<<last) == 0 {
				continue
			}
			if rest == 0 {
				best[set][last] = out(last)
			}
			for k := range n {
				if rest&(1<<k) != 0 {
					best[set][last] = min(best[set][last], best[rest][k]+leg(at[boxes[k]], at[boxes[last]]))
				}
			}
		}
	}
	shortest := math.Inf(1)
	for last := range n {
		shortest = min(shortest, best[1<<n-1][last]+out(last))
	}
	return shortest
}

// Of rounds that are as long the one that comes first in the order of the boxes stays: every round has its reverse, and on a line there are more.
// What is shorter by less than 1e-9 mm is rounding.
func TestOfEqualRoundsTheFirstStays(t *testing.T) {
	hub := r3.Vector{}
	line := []r3.Vector{{X: 1}, {X: 2}, {X: 3}, {X: 4}}
	if got := shortestRound(&hub, line, []int{0, 1, 2, 3}); !slices.Equal(got.order, []int{0, 1, 2, 3}) || got.lengthMM != 8 || got.leadMM != 2.5 {
		t.Errorf("%+v", got)
	}
	if got := shortestRound(&hub, line, []int{3, 0, 2}); !slices.Equal(got.order, []int{3, 2, 0}) || got.lengthMM != 8 {
		t.Errorf("%+v", got)
	}
	if got := shortestRound(nil, line, []int{2, 0, 1}); !slices.Equal(got.order, []int{2, 1, 0}) || got.lengthMM != 2 || got.leadMM != 0 {
		t.Errorf("%+v", got)
	}
	for shorter, want := range map[float64]int{0.95e-9: 0, 1.05e-9: 1} {
		at := []r3.Vector{{}, {Y: shorter}, {}} // two of three in one place
		if got := shortestRound(nil, at, []int{0, 1, 2}); got.order[0] != 0 || got.order[1] != 1+want%2 {
			t.Errorf("%g mm shorter: %v", shorter, got.order)
		}
	}
}

// Every order is gone through once, in the order of a dictionary.
func TestPermutations(t *testing.T) {
	var got []string
	list := []int{7, 3, 9}
	permute(list, func(o []int) { got = append(got, fmt.Sprint(o)) })
	if want := "[[7 3 9] [7 9 3] [3 7 9] [3 9 7] [9 7 3] [9 3 7]]"; fmt.Sprint(got) != want || !slices.Equal(list, []int{7, 3, 9}) {
		t.Errorf("%v, not %s", got, want)
	}
	n := 0
	permute([]int{1, 2, 3, 4, 5}, func([]int) { n++ })
	if n != 120 {
		t.Errorf("%d orders of five", n)
	}
}

// Of more than seven boxes the order is the one given, with the round's length and centre as it is.
func TestEightBoxesKeepTheirOrder(t *testing.T) {
	at := make([]r3.Vector, 8)
	for i := range at {
		at[i] = r3.Vector{X: float64(i * 5 % 8)}
	}
	seven, eight := []int{0, 1, 2, 3, 4, 5, 6}, []int{0, 1, 2, 3, 4, 5, 6, 7}
	if got := shortestRound(nil, at, eight); !slices.Equal(got.order, eight) || got.lengthMM != 5+3+5+3+3+5+3 {
		t.Errorf("%+v", got)
	}
	if got := shortestRound(nil, at, seven); slices.Equal(got.order, seven) || got.lengthMM != 7 {
		t.Errorf("%+v", got)
	}
	if got := shortestRound(nil, at, nil); got.lengthMM != 0 || got.centre != (r3.Vector{}) {
		t.Errorf("%+v", got)
	}
}
