package packing

import (
	"context"
	"encoding/json"
	"os"
	"testing"
)

type ffCase struct {
	Name, Kind string
	Region     struct {
		Outline  [][2]float64
		KeepOuts [][][2]float64 `json:"keep_outs"`
	}
	Module  struct{ Length, Width float64 }
	Optimum int
	Exact   bool `json:"exact_for_real_positions"`
}

func pts(in [][2]float64) []Point {
	var o []Point
	for _, p := range in {
		o = append(o, Point{p[0], p[1]})
	}
	return o
}

func ffProblem(c ffCase) Problem {
	r := Region{Outline: pts(c.Region.Outline)}
	for _, k := range c.Region.KeepOuts {
		r.KeepOuts = append(r.KeepOuts, pts(k))
	}
	return Problem{Bays: []Bay{{ID: "a", Levels: []Level{{Region: r, CeilingMM: 1}}}},
		Postures: []Posture{{Name: "m", LengthMM: c.Module.Length, WidthMM: c.Module.Width, HeightMM: 1}}}
}

func TestFF(t *testing.T) {
	b, _ := os.ReadFile("/work/shared/benchmarks/free_form.json")
	var cs []ffCase
	if err := json.Unmarshal(b, &cs); err != nil {
		t.Fatal(err)
	}
	for _, c := range cs {
		p := ffProblem(c)
		r, err := Solve(context.Background(), p, nil)
		t.Log(c.Name, c.Optimum, r.Count, r.Bound, r.Proved, r.Elapsed, r.Argument, err)
	}
}
