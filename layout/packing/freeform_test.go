package packing

import (
	"context"
	"encoding/json"
	"os"
	"slices"
	"testing"
	"time"
)

// published is a row of testdata/packing/free_form_published.json.
type published struct {
	Name   string `json:"name"`
	Region struct {
		Outline  [][2]float64   `json:"outline"`
		KeepOuts [][][2]float64 `json:"keep_outs"`
	} `json:"region"`
	Module struct {
		Length float64 `json:"length"`
		Width  float64 `json:"width"`
	} `json:"module"`
	Optimum int     `json:"optimum"`
	Exact   bool    `json:"exact_for_real_positions"`
	Seconds float64 `json:"cbc_seconds"`
}

func readJSON(t testing.TB, path string, into any) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, into); err != nil {
		t.Fatal(err)
	}
}

func publishedInstances(t testing.TB) []instance {
	t.Helper()
	var rows []published
	readJSON(t, "../../testdata/packing/free_form_published.json", &rows)
	var out []instance
	for _, r := range rows {
		out = append(out, instance{Name: r.Name, Outline: r.Region.Outline, KeepOuts: r.Region.KeepOuts,
			Length: r.Module.Length, Width: r.Module.Width, Optimum: r.Optimum, Slanted: !r.Exact, Seconds: r.Seconds})
	}
	return out
}

func ownInstances(t testing.TB) []instance {
	t.Helper()
	var out []instance
	readJSON(t, ownPath, &out)
	return out
}

// settled is what became of a set of instances.
type settled struct {
	all, real, grid int // solved; proved for real positions; or at least on a grid
	times           []time.Duration
}

func (s *settled) median() time.Duration {
	slices.Sort(s.times)
	return s.times[len(s.times)/2]
}

// check solves an instance, verifies it, and compares it with the oracle: equal for
// bays whose optimum holds for real positions, at least as many for slanted ones.
func (s *settled) check(t testing.TB, in instance) Result {
	t.Helper()
	p := in.problem()
	p.Limit = time.Minute // ample, so that a busy machine changes nothing
	res, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	verify(t, p, res)
	switch {
	case in.Slanted && res.Count < in.Optimum:
		t.Errorf("%s: %d fit, whole positions alone allow %d", in.Name, res.Count, in.Optimum)
	case !in.Slanted && res.Count != in.Optimum:
		t.Errorf("%s: %d fit, the optimum is %d", in.Name, res.Count, in.Optimum)
	case res.Bound < in.Optimum:
		t.Errorf("%s: bound %d below the optimum %d", in.Name, res.Bound, in.Optimum)
	}
	s.all++
	s.times = append(s.times, res.Elapsed)
	if res.Proved {
		s.real++
	}
	if res.Proved || res.GridProved {
		s.grid++
	}
	return res
}

func TestPublishedFreeForm(t *testing.T) {
	var s settled
	for _, in := range publishedInstances(t) {
		if testing.Short() && in.Optimum > 100 {
			continue
		}
		r := s.check(t, in)
		t.Logf("%-26s %3d of at most %3d, proved %5v, on a grid %5v, %v", in.Name, r.Count, r.Bound, r.Proved, r.GridProved, r.Elapsed)
	}
	t.Logf("%d bays, %d proved, %d at least on a grid, median %v", s.all, s.real, s.grid, s.median())
	if s.grid*100 < s.all*95 {
		t.Errorf("only %d of %d proved", s.grid, s.all)
	}
}

// TestOwnFreeForm solves the bays of our own, of the slanted ones every third; the
// benchmark of free forms solves them all.
func TestOwnFreeForm(t *testing.T) {
	var s settled
	for k, in := range ownInstances(t) {
		if in.Slanted && k%3 != 0 {
			continue
		}
		r := s.check(t, in)
		t.Logf("%-22s %3d of at most %3d, proved %5v, on a grid %5v, %v (%s %.1f s)", in.Name, r.Count, r.Bound, r.Proved, r.GridProved, r.Elapsed, in.Tool, in.Seconds)
	}
	t.Logf("%d bays, %d proved, %d at least on a grid, median %v", s.all, s.real, s.grid, s.median())
	if s.grid*100 < s.all*95 {
		t.Errorf("only %d of %d proved", s.grid, s.all)
	}
}
