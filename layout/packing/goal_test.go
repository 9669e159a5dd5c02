package packing

import (
	"math"
	"testing"
	"time"
)

// By hand: modules of 40 mm x 20 mm; one in line with another of the same turn costs a tenth of its mean side, 3 mm, less for each.
func TestCostsOfGoals(t *testing.T) {
	p := planeOf(t, Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: Region{Outline: rectangleMM(0, 0, 300, 200)}, CeilingMM: 10}}}},
		Postures: []Posture{{Name: "m", LengthMM: 40, WidthMM: 20, HeightMM: 10}}})
	lying, standing := 0, 1
	if p.options[0].w < p.options[0].h {
		lying, standing = 1, 0
	}
	at := func(opt int, x, y float64) spot { return spot{opt, vec{int64(100 * x), int64(100 * y)}} }
	others := []spot{at(lying, 100, 60), at(lying, 140, 10), at(standing, 200, 60), at(lying, 10, 100), at(lying, 11, 101)}
	for name, c := range map[string]struct {
		goal Goal
		at   spot
		want float64
	}{
		"none":                  {Goal{}, at(lying, 10, 60), 0},
		"forward":               {Goal{Forward: true}, at(lying, 10, 60), 30},
		"forward, standing":     {Goal{Forward: true}, at(standing, 10, 60), 20},
		"rearward":              {Goal{Rearward: true}, at(lying, 10, 60), -30},
		"centre":                {Goal{Centre: true, MirrorYMM: 100}, at(lying, 10, 60), 30},
		"centre, beyond it":     {Goal{Centre: true, MirrorYMM: 50}, at(standing, 10, 60), 30},
		"rows, two in line":     {Goal{Rows: true}, at(lying, 10, 60), -6},
		"rows, one in line":     {Goal{Rows: true}, at(standing, 10, 60), -3},
		"rows, none in line":    {Goal{Rows: true}, at(standing, 100, 10), 0},
		"rows, and forward":     {Goal{Rows: true, Forward: true}, at(lying, 140, 100), 160 - 6},
		"rows, along both axes": {Goal{Rows: true}, at(lying, 10, 10), -6},
	} {
		s := newSession(t.Context(), &Problem{}, nil, time.Now(), time.Minute)
		a := s.arranger(p, nil, &c.goal)
		if got := a.cost(c.at, others); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", name, got, c.want)
		}
	}
}
