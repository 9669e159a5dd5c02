package packing

import (
	"context"
	"encoding/json"
	"os"
	"testing"
	"time"
)

func TestD(t *testing.T) {
	b, _ := os.ReadFile("/work/shared/benchmarks/free_form.json")
	var cs []ffCase
	if err := json.Unmarshal(b, &cs); err != nil {
		t.Fatal(err)
	}
	for _, c := range cs[11:] {
		p := ffProblem(c)
		ses := newSession(context.Background(), &p, nil, time.Now())
		fl := ses.floors(&p.Bays[0])
		bl := planeBuilder{s: ses, bay: &p.Bays[0], f: &fl[0]}
		pl, _ := bl.layer(0, []int{0}, nil)
		env, _ := pl.envelopes()
		for _, st := range pl.steps() {
			q := newSquares(pl, st)
			start := time.Now()
			cor := q.corners()
			t1 := time.Since(start)
			rch := q.reachable()
			t.Log(c.Name, c.Optimum, st, q.nx, q.ny, len(cor), t1, len(rch), time.Since(start))
			for _, sp := range [][]spot{cor, rch} {
				g := newGrid(sp, q.floored(env))
				d := newDualSolver(g)
				for range 4 {
					d.run(0, 200)
					t.Log(g.nx, g.ny, d.best.sum, time.Since(start))
				}
			}
		}
	}
}
