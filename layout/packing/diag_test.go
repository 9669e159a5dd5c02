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
	if err := json.Unmarshal(b, &cs); err != nil { t.Fatal(err) }
	for _, c := range cs[10:11] {
		t.Log(c.Region)
		p := ffProblem(c)
		ses := newSession(context.Background(), &p, nil, time.Now())
		fl := ses.floors(&p.Bays[0])
		bl := planeBuilder{s: ses, bay: &p.Bays[0], f: &fl[0]}
		pl, _ := bl.layer(0, []int{0}, nil)
		env, _ := pl.envelopes()
		spots := candidates(pl)
		g := newGrid(spots, env)
		d := newDualSolver(g)
		start := time.Now()
		for range 8 { d.run(0, 500); t.Log(d.iterations, d.best.sum, time.Since(start)) }
		stop := func() bool { return false }
		var best []int32
		g.greedy(func(f []int32) { if len(f) > len(best) { best = append([]int32{}, f...) } })
		t.Log("greedy", len(best))
		for v := range 8 {
			for _, w := range []int{30, 90, 270} {
			start = time.Now()
			f := g.beam(v, d.best, c.Optimum, w, stop)
			t.Log("beam", v, w, len(f), time.Since(start))
			if len(f) > len(best) { best = f }
			}
		}
		for seed := range 3 {
			start = time.Now()
			w := newWindows(g, best, uint64(seed), stop)
			for range 6 { w.run(c.Optimum, 200)
			t.Log("lns", seed, len(w.best), time.Since(start)) }
		}
	}
}
