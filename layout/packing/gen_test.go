package packing

import (
	"context"
	"testing"
	"time"
)

func TestG(t *testing.T) {
	L := Region{Outline: []Point{{0, 0}, {1200, 0}, {1200, 500}, {700, 500}, {700, 900}, {0, 900}}}
	T := Region{Outline: []Point{{0, 0}, {1500, 0}, {1500, 400}, {1000, 400}, {1000, 1100}, {500, 1100}, {500, 400}, {0, 400}}, KeepOuts: [][]Point{{{700, 600}, {800, 600}, {800, 700}, {700, 700}}}}
	for _, reg := range []Region{L, T} {
		for _, pos := range []Posture{
			{Name: "m", LengthMM: 300, WidthMM: 100, HeightMM: 100},
			{Name: "m", LengthMM: 300, WidthMM: 100, HeightMM: 100, Gaps: Gaps{SideMM: 5, EndMM: 5, WallMM: 10}},
			{Name: "m", LengthMM: 240, WidthMM: 80, HeightMM: 100, Gaps: Gaps{SideMM: 5, EndMM: 20, WallMM: 10}},
			{Name: "m", LengthMM: 180, WidthMM: 60, HeightMM: 100, Gaps: Gaps{SideMM: 5, EndMM: 20, WallMM: 10}},
			{Name: "m", LengthMM: 240, WidthMM: 80, HeightMM: 100, Strips: []Strip{{Face: PlusX, DepthMM: 50}}, EndsDiffer: true},
			{Name: "m", LengthMM: 240, WidthMM: 100, HeightMM: 100, Strips: []Strip{{Face: PlusX, DepthMM: 50}, {Face: MinusX, DepthMM: 30, FromMM: 20, ToMM: 60}}, EndsDiffer: true},
			{Name: "m", LengthMM: 190, WidthMM: 60, HeightMM: 100, Strips: []Strip{{Face: PlusX, DepthMM: 50}, {Face: MinusX, DepthMM: 50}}, Gaps: Gaps{SideMM: 5, EndMM: 20, WallMM: 10}},
		} {
			p := Problem{Bays: []Bay{{ID: "a", Levels: []Level{{Region: reg, CeilingMM: 150}}}}, Postures: []Posture{pos}, Limit: 10 * time.Second}
			start := time.Now()
			r, err := Solve(context.Background(), p, func(q Progress) {})
			if err != nil {
				t.Fatal(err)
			}
			verify(t, p, r)
			t.Log(pos, r.Count, r.Bound, r.Proved, time.Since(start), r.Argument)
		}
	}
}
