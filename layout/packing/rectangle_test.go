package packing

import (
	"context"
	"encoding/csv"
	"os"
	"runtime"
	"slices"
	"strconv"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// palletRow is a row of the published set: Dowsland (1984), Scheithauer and Terno
// (1996), Martins and Dell (2008), Birgin, Lobato and Morabito (2010); see
// testdata/packing/README.md.
type palletRow struct {
	pallet
	optimum int
	simple  bool // closed by Barnes' or the area bound
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
		out = append(out, palletRow{pallet{v[0], v[1], v[2], v[3]}, v[4], len(r[5]) < 60})
	}
	return out
}

func (m pallet) problem() Problem {
	X, Y := float64(m.X), float64(m.Y)
	outline := []Point{{0, 0}, {X, 0}, {X, Y}, {0, Y}}
	return Problem{
		Bays:     []Bay{{ID: "board", Levels: []Level{{Region: Region{Outline: outline}, CeilingMM: 1}}}},
		Postures: []Posture{{Name: "block", LengthMM: float64(m.a), WidthMM: float64(m.b), HeightMM: 1}},
		Workers:  1,
	}
}

// tally is how a set of rows came out.
type tally struct {
	rows, right, proved int
	times               []time.Duration
	total               time.Duration
}

// solveRows solves rows side by side, one a core, and checks every answer.
func solveRows(t testing.TB, rows []palletRow) tally {
	t.Helper()
	start := time.Now()
	out := tally{rows: len(rows), times: make([]time.Duration, len(rows))}
	var mu sync.Mutex
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for k := range next {
				p := rows[k].problem()
				res, err := Solve(context.Background(), p, nil)
				mu.Lock()
				out.add(t, k, rows[k], p, res, err)
				mu.Unlock()
			}
		})
	}
	for k := range rows {
		next <- k
	}
	close(next)
	wg.Wait()
	out.total = time.Since(start)
	slices.Sort(out.times)
	return out
}

func (s *tally) add(t testing.TB, k int, row palletRow, p Problem, res Result, err error) {
	if err != nil {
		t.Error(err)
		return
	}
	verify(t, p, res)
	s.times[k] = res.Elapsed
	if res.Count == row.optimum {
		s.right++
	} else {
		t.Errorf("%+v: %d fit", row, res.Count)
	}
	if res.Bound < row.optimum {
		t.Errorf("%+v: bound %d is wrong", row, res.Bound)
	}
	if res.Proved {
		s.proved++
	}
}

// TestPublishedRectangles solves a sample of the published rows: every twentieth,
// and every eighth of those that simple bounds leave open. The benchmark of the
// same name solves all of them.
func TestPublishedRectangles(t *testing.T) {
	var sample []palletRow
	open := 0
	for k, r := range palletRows(t) {
		if !r.simple {
			open++
		}
		if k%20 == 0 || (!r.simple && open%8 == 0) {
			sample = append(sample, r)
		}
	}
	s := solveRows(t, sample)
	t.Logf("%d rows, %d equal, %d proved, median %v, slowest %v", s.rows, s.right, s.proved, s.times[s.rows/2], s.times[s.rows-1])
	if s.proved*1000 < s.rows*995 {
		t.Errorf("only %d of %d proved", s.proved, s.rows)
	}
}

// TestBoardsWhereFiveBlocksFallShort has the boards of Cover II on which the
// five-block recursion is one short; the optima were proved by two solvers.
func TestBoardsWhereFiveBlocksFallShort(t *testing.T) {
	rows := []palletRow{
		{pallet{43, 26, 7, 3}, 53, false}, {pallet{49, 28, 8, 3}, 57, false}, {pallet{57, 34, 7, 4}, 69, false},
		{pallet{63, 44, 8, 5}, 69, false}, {pallet{61, 35, 10, 3}, 71, false}, {pallet{67, 37, 11, 3}, 75, false},
		{pallet{67, 40, 11, 3}, 81, false}, {pallet{74, 49, 11, 4}, 82, false},
	}
	if s := solveRows(t, rows); s.proved < len(rows) {
		t.Errorf("%d of %d proved", s.proved, len(rows))
	}
}

// TestRelaxationOneTooHigh has boards whose linear relaxation is one above the
// optimum, so that only a search can prove it.
func TestRelaxationOneTooHigh(t *testing.T) {
	rows := []palletRow{{pallet{32, 22, 5, 4}, 34, false}, {pallet{32, 27, 5, 4}, 42, false},
		{pallet{37, 30, 8, 3}, 45, false}, {pallet{40, 26, 7, 4}, 36, false}, {pallet{40, 33, 7, 4}, 46, false},
		{pallet{83, 46, 11, 7}, 48, false}}
	if s := solveRows(t, rows); s.proved < len(rows) {
		t.Errorf("%d of %d proved", s.proved, len(rows))
	}
}

// TestRandomBoards draws boards of the two covers: up to 100 blocks, sides of
// ratio up to 2 for the board and 4 for the block. Count and bound must agree.
func TestRandomBoards(t *testing.T) {
	proved, all := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		b := rapid.IntRange(2, 9).Draw(rt, "b")
		a := rapid.IntRange(b+1, 4*b).Draw(rt, "a")
		y := rapid.IntRange(a, 7*b+3).Draw(rt, "y")
		x := rapid.IntRange(y, 2*y).Draw(rt, "x")
		if x*y > 100*a*b || y < a {
			rt.Skip("more than 100 blocks")
		}
		p := pallet{x, y, a, b}.problem()
		p.Limit = 5 * time.Second
		res, err := Solve(context.Background(), p, nil)
		if err != nil {
			rt.Fatal(err)
		}
		verify(t, p, res)
		all++
		if res.Proved {
			proved++
		}
	})
	t.Logf("%d of %d proved", proved, all)
	if proved*100 < all*98 {
		t.Errorf("only %d of %d proved", proved, all)
	}
}

func BenchmarkPublishedRectangles(b *testing.B) {
	rows := palletRows(b)
	for b.Loop() {
		s := solveRows(b, rows)
		b.ReportMetric(float64(s.right), "equal")
		b.ReportMetric(float64(s.proved)/float64(s.rows)*100, "%proved")
		b.ReportMetric(float64(s.times[s.rows/2].Microseconds())/1000, "median-ms")
		b.ReportMetric(float64(s.times[s.rows*99/100].Microseconds())/1000, "p99-ms")
		b.ReportMetric(s.total.Seconds(), "total-s")
	}
}
