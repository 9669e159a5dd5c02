package packing

import (
	"context"
	"encoding/csv"
	"os"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

type palletRow struct {
	pallet
	optimum int
}

func palletRows(t testing.TB) []palletRow {
	t.Helper()
	f, err := os.Open("../../testdata/packing/identical_rectangles.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []palletRow
	for _, r := range records[1:] {
		var v [5]int
		for k := range v {
			if v[k], err = strconv.Atoi(r[k]); err != nil {
				t.Fatal(err)
			}
		}
		out = append(out, palletRow{pallet{v[0], v[1], v[2], v[3]}, v[4]})
	}
	return out
}

func TestX(t *testing.T) {
	rows := palletRows(t)
	start := time.Now()
	times := make([]time.Duration, len(rows))
	var short, open atomic.Int32
	var wg sync.WaitGroup
	for w := range 2 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := w; k < len(rows); k += 2 {
				r := rows[k]
				outline := []Point{{0, 0}, {float64(r.X), 0}, {float64(r.X), float64(r.Y)}, {0, float64(r.Y)}}
				p := Problem{Bays: []Bay{{ID: "a", Levels: []Level{{Region: Region{Outline: outline}, CeilingMM: 1}}}},
					Postures: []Posture{{Name: "m", LengthMM: float64(r.a), WidthMM: float64(r.b), HeightMM: 1}}, Workers: 1}
				res, err := Solve(context.Background(), p, nil)
				if err != nil {
					t.Error(err)
				}
				times[k] = res.Elapsed
				if res.Count != r.optimum {
					short.Add(1)
					t.Log("short", r, res.Count, res.Bound, res.Elapsed)
				}
				if res.Bound > r.optimum {
					open.Add(1)
					t.Log("open", r, res.Count, res.Bound, res.Elapsed)
				}
				if res.Bound < r.optimum {
					t.Error("bound", r, res.Bound)
				}
				if res.Elapsed > 500*time.Millisecond {
					t.Log("slow", r, res.Count, res.Bound, res.Elapsed)
				}
			}
		}()
	}
	wg.Wait()
	slices.Sort(times)
	t.Log(short.Load(), open.Load(), time.Since(start), "median", times[1500], "p99", times[2970], times[2999])
}
