package packing

import (
	"testing"

	"pgregory.net/rapid"
)

// bruteForce counts the most modules at whole positions by trying, for the first
// column of the oracle's model, to take it or to leave it.
func bruteForce(p Problem, r Region, nodes *int) int {
	q := p.Postures[0]
	turns := []int{0, 90}
	if q.EndsDiffer {
		turns = []int{0, 90, 180, 270}
	}
	b := boundsMM(r)
	var all []Placement
	for _, turn := range turns {
		for x := 0.0; x < b.X; x++ {
			for y := 0.0; y < b.Y; y++ {
				a := Placement{Bay: "bay", X: x, Y: y, Posture: "m", Turn: turn}
				if standingIn(p, Result{}, p.Bays[0], a) == "" {
					all = append(all, a)
				}
			}
		}
	}
	meets := make([][]bool, len(all))
	for i := range all {
		meets[i] = make([]bool, len(all))
		for j := range all {
			meets[i][j] = clash(p, all[i], all[j]) != ""
		}
	}
	live := make([]int, len(all))
	for i := range live {
		live[i] = i
	}
	best := 0
	tryAll(live, meets, 0, &best, nodes)
	return best
}

// tryAll branches on the live column with the fewest conflicts: it or one of those
// that conflict with it is in some best packing.
func tryAll(live []int, meets [][]bool, taken int, best, nodes *int) {
	*best = max(*best, taken)
	if *nodes--; *nodes < 0 || len(live) == 0 {
		return
	}
	pick, fewest := -1, 1<<30
	for _, i := range live {
		n := 0
		for _, j := range live {
			if meets[i][j] {
				n++
			}
		}
		if n < fewest {
			pick, fewest = i, n
		}
	}
	if taken+cliqueCover(live, meets) <= *best {
		return
	}
	for _, i := range live {
		if !meets[pick][i] {
			continue
		}
		var rest []int
		for _, j := range live {
			if !meets[i][j] {
				rest = append(rest, j)
			}
		}
		tryAll(rest, meets, taken+1, best, nodes)
	}
}

// cliqueCover bounds the count by a greedy cover with cliques.
func cliqueCover(live []int, meets [][]bool) int {
	var cliques [][]int
next:
	for _, i := range live {
	clique:
		for k, c := range cliques {
			for _, j := range c {
				if !meets[i][j] {
					continue clique
				}
			}
			cliques[k] = append(c, i)
			continue next
		}
		cliques = append(cliques, []int{i})
	}
	return len(cliques)
}

// TestAgainstBruteForce compares small bays of every trait, slanted ones too, with
// exhaustive search over whole positions.
func TestAgainstBruteForce(t *testing.T) {
	proved, all := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		q := drawPosture(rt)
		w, h := float64(rapid.IntRange(7, 13).Draw(rt, "w")), float64(rapid.IntRange(6, 10).Draw(rt, "h"))
		c := float64(rapid.IntRange(0, 3).Draw(rt, "cut"))
		r := Region{Outline: []Point{{0, 0}, {w, 0}, {w, h - c - 1}, {w - c - 1, h}, {0, h}}}
		slanted := rapid.Bool().Draw(rt, "slanted")
		if !slanted {
			r.Outline = []Point{{0, 0}, {w, 0}, {w, h - c - 1}, {w - c - 1, h - c - 1}, {w - c - 1, h}, {0, h}}
		}
		if rapid.Bool().Draw(rt, "island") {
			r.KeepOuts = [][]Point{drawIsland(rt, w, h)}
		}
		p := oneBay(r, q)
		nodes := 30_000
		want := bruteForce(p, r, &nodes)
		if nodes < 0 {
			rt.Skip("too many nodes")
		}
		res := solved(rt, t, p)
		all++
		if res.Proved {
			proved++
		}
		if res.Bound < want || res.Count < want || (!slanted && res.Count > want) {
			rt.Errorf("%d of at most %d, brute force finds %d: %s", res.Count, res.Bound, want, res.Argument)
		}
	})
	t.Logf("%d of %d proved", proved, all)
}
