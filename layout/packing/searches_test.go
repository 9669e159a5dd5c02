package packing

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "write the golden file of searches anew; look at the difference before it is committed")

const searchesPath = "../../testdata/packing/searches.golden"

// searched are small problems of every kind, some with so little work allowed that it ends in the midst of a search.
func searched(t *testing.T) (names []string, problems []Problem, work []time.Duration) {
	add := func(name string, p Problem, w time.Duration) {
		names, problems, work = append(names, name), append(problems, p), append(work, w)
	}
	wanted := map[string]int{"L": 1, "T": 1, "taper": 2, "cut corners": 2, "island": 1, "gaps": 2, "strips": 2, "steps": 1, "wall": 1, "islands with strips": 1, "gaps at steps": 1, "gaps at walls": 1}
	for _, in := range append(publishedInstances(t), ownInstances(t)...) {
		if in.Optimum < 26 && wanted[in.Kind] > 0 {
			wanted[in.Kind]--
			add(in.Name, in.problem(), 20*time.Millisecond)
		}
	}
	for _, m := range []pallet{{32, 22, 5, 4}, {43, 26, 7, 3}, {40, 26, 7, 4}} {
		add(fmt.Sprint("board ", m), m.problem(), 25*time.Millisecond)
	}
	r := rand.New(rand.NewPCG(171, 172))
	for k := range 8 {
		p := heightsProblem(r, 1+k%3)
		if k%2 == 0 {
			p.Goal = Goal{Forward: true, Rows: true, FacingTerminals: true, Mirror: true, MirrorYMM: 4}
			p.Postures[0].Terminals = []Face{PlusX}
		}
		if k == 7 {
			p.Target = 3
		}
		if p.Fixed = nil; k < 2 || k == 4 {
			continue // too many modules
		}
		add(fmt.Sprint("heights ", k), p, 15*time.Millisecond)
	}
	flat := Posture{Name: "flat", LengthMM: 30, WidthMM: 15, HeightMM: 10}
	edge := Posture{Name: "on edge", LengthMM: 30, WidthMM: 10, HeightMM: 15}
	for k, high := range []float64{26, 41} {
		p := oneBay(Region{Outline: []Point{{0, 0}, {62, 0}, {62, 41}, {30, 47}, {0, 41}}}, flat)
		p.Postures = append(p.Postures, edge)
		p.Bays[0].Levels[0].CeilingMM = high
		if k == 1 {
			p.Bays[0].Levels = append(p.Bays[0].Levels, Level{Region: Region{Outline: rectangleMM(62, 0, 97, 41)}, CeilingMM: 31}, Level{Region: Region{Outline: rectangleMM(97, 0, 140, 41)}, FloorMM: 5, CeilingMM: 31})
		}
		add(fmt.Sprint("slanted under ", high), p, 60*time.Millisecond)
	}
	return names, problems, work
}

// What searches come to, and the work they take to it, stays as it is: how long is searched and in what order. The file proves nothing
// about either; where a change of them is meant, run the test with -update and look at what became of the counts, bounds and work.
// Work is estimated nanoseconds, counted and not measured. Other processors may round sums otherwise.
func TestSearchesChangeUnnoticed(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("written on amd64")
	}
	var out strings.Builder
	names, problems, work := searched(t)
	for i, p := range problems {
		p.Workers = 1
		if err := p.Validate(); err != nil {
			t.Fatalf("%s: %v", names[i], err)
		}
		var steps strings.Builder
		s := newSession(t.Context(), &p, func(g Progress) { fmt.Fprintf(&steps, " %d/%d", g.Count, g.Bound) }, time.Now(), time.Minute)
		whole := &budget{Context: s.ctx, limit: int64(work[i])}
		s.ctx = whole
		res := s.solve()
		if faults := faultsOf(p, res); len(faults) > 0 {
			t.Errorf("%s: %v", names[i], faults)
		}
		for _, b := range res.Bays {
			if b.Proved != (b.Count == b.Bound) {
				t.Errorf("%s: %d of at most %d in bay %s are proved: %v", names[i], b.Count, b.Bound, b.ID, b.Proved)
			}
		}
		fmt.Fprintf(&out, "%s: work %d, by way of%s\n  %s\n  layered %d %v, grid %v %g\n", names[i], whole.spent.Load(), steps.String(), res.Argument, res.LayeredBound, res.Layered, res.GridProved, res.GridMM)
		for _, a := range res.Placements {
			fmt.Fprintf(&out, "  %g %g %g %s %d %d\n", a.X, a.Y, a.Z, a.Posture, a.Turn, a.Layer)
		}
	}
	if *update {
		if err := os.WriteFile(searchesPath, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(searchesPath)
	if err != nil {
		t.Fatal(err)
	}
	old, now := strings.Split(string(want), "\n"), strings.Split(out.String(), "\n")
	for i := range min(len(old), len(now)) {
		if old[i] != now[i] {
			t.Fatalf("line %d is\n%s\nand was\n%s", i+1, now[i], old[i])
		}
	}
	if len(old) != len(now) {
		t.Errorf("%d lines, there were %d", len(now), len(old))
	}
}
