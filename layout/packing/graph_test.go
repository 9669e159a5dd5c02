package packing

import (
	"math/rand/v2"
	"testing"
)

// Rows are sound where no two of their places can both be taken, and lose nothing where every two places that exclude one another
// share a row to which no place can be added. Which places do is asked pair by pair of the tests' own verifier.
func TestRowsOfAGraphAreAllThatExcludesOneAnother(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	rows := 0
	for k := range 24 {
		in := randomInstance(rng, []string{"gaps", "strips", "islands with strips", "gaps at steps"}[k%4], k)
		prob := in.problem()
		if prob.Validate() != nil {
			continue
		}
		p := planarProblem(t, in)
		spots, ok := candidates(p)
		if !ok || len(spots) > 400 {
			continue
		}
		g := newGraph(p, spots)
		meets := pairwise(prob, p, g.spots)
		for i := range g.spots {
			for j := range g.spots {
				if g.against[i].has(int32(j)) != meets[i][j] {
					t.Fatalf("%s: %v and %v exclude one another: %v", in.Name, g.spots[i], g.spots[j], meets[i][j])
				}
			}
		}
		wantCliques(t, in.Name, g, meets)
		rows += g.rows()
	}
	t.Logf("%d rows", rows)
	if rows < 500 {
		t.Errorf("only %d rows", rows)
	}
}

// pairwise tells of every two places whether they exclude one another; a place excludes itself.
func pairwise(prob Problem, p *plane, spots []spot) [][]bool {
	at := func(s spot) Placement {
		return Placement{Bay: "bay", X: float64(s.x) / 100, Y: float64(s.y) / 100, Posture: "module", Turn: p.options[s.opt].turn}
	}
	meets := make([][]bool, len(spots))
	for i := range spots {
		meets[i] = make([]bool, len(spots))
		for j := range spots {
			meets[i][j] = i == j || clash(prob, at(spots[i]), at(spots[j])) != ""
		}
	}
	return meets
}

func wantCliques(t *testing.T, name string, g *graph, meets [][]bool) {
	t.Helper()
	met := make([][]bool, len(meets))
	for i := range met {
		met[i] = make([]bool, len(meets))
		met[i][i] = true
	}
	for r, ms := range g.members {
		for _, i := range ms {
			for _, j := range ms {
				if met[i][j] = true; !meets[i][j] {
					t.Fatalf("%s: row %d holds %v and %v, which stand beside one another", name, r, g.spots[i], g.spots[j])
				}
			}
		}
		for i := range g.spots {
			all := !g.in[r].has(int32(i))
			for _, j := range ms {
				all = all && meets[i][j]
			}
			if all {
				t.Fatalf("%s: %v excludes all of row %d and is not in it", name, g.spots[i], r)
			}
		}
	}
	for i := range meets {
		for j := range meets {
			if meets[i][j] && !met[i][j] {
				t.Fatalf("%s: %v and %v exclude one another in no row", name, g.spots[i], g.spots[j])
			}
		}
	}
}
