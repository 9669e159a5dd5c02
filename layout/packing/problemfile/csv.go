package problemfile

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"time"

	"stowbay/layout/packing"
)

// Row is one problem of a table: how many rectangles a by b, turned by 90 degrees
// or not, fit a rectangle X by Y, all in mm.
type Row struct{ X, Y, A, B float64 }

// RowLimit bounds the time of one row.
const RowLimit = 10 * time.Second

// RunCSV reads a table with the columns X, Y, a, b (in any order; others are
// passed over) and writes X,Y,a,b,count,bound,proved,seconds, one row for each,
// in the order read. Rows are solved side by side, one a core.
func RunCSV(ctx context.Context, r io.Reader, w io.Writer) error {
	table, err := ReadCSV(r)
	if err != nil {
		return err
	}
	results, err := solveRows(ctx, table)
	if err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.Write([]string{"X", "Y", "a", "b", "count", "bound", "proved", "seconds"})
	for i, row := range table {
		res := results[i]
		out.Write([]string{number(row.X), number(row.Y), number(row.A), number(row.B),
			strconv.Itoa(res.Count), strconv.Itoa(res.Bound), strconv.FormatBool(res.Proved),
			strconv.FormatFloat(res.Elapsed.Seconds(), 'f', 6, 64)})
	}
	out.Flush()
	return out.Error()
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func solveRows(ctx context.Context, table []Row) ([]packing.Result, error) {
	results := make([]packing.Result, len(table))
	failed := make([]error, len(table))
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				results[i], failed[i] = packing.Solve(ctx, table[i].Problem(), nil)
			}
		}()
	}
	for i := range table {
		next <- i
	}
	close(next)
	wg.Wait()
	return results, errors.Join(failed...)
}

// Problem is the row as a problem of one flat bay.
func (r Row) Problem() packing.Problem {
	outline := []packing.Point{{X: 0, Y: 0}, {X: r.X, Y: 0}, {X: r.X, Y: r.Y}, {X: 0, Y: r.Y}}
	return flat(packing.Region{Outline: outline}, r.A, r.B, RowLimit, 1)
}

// flat is a planar problem: one posture of height 1 mm in a bay of that height.
func flat(region packing.Region, length, width float64, limit time.Duration, workers int) packing.Problem {
	return packing.Problem{
		Bays:     []packing.Bay{{ID: "region", Levels: []packing.Level{{Region: region, CeilingMM: 1}}}},
		Postures: []packing.Posture{{Name: "module", LengthMM: length, WidthMM: width, HeightMM: 1}},
		Limit:    limit, Workers: workers,
	}
}

var columns = [4]string{"X", "Y", "a", "b"}

// ReadCSV reads the table of [RunCSV].
func ReadCSV(r io.Reader) ([]Row, error) {
	in := csv.NewReader(io.LimitReader(r, maxBytes))
	in.FieldsPerRecord = -1
	var f faults
	header, err := in.Read()
	if err != nil {
		return nil, Errors{fmt.Sprintf("1:1: header: %v, the columns X,Y,a,b are needed", err)}
	}
	at, ok := columnsOf(in, header, &f)
	var out []Row
	for ok {
		record, err := in.Read()
		if err == io.EOF {
			break
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			f.addf(bad.Line, bad.Column, "row: %v", bad.Err)
			continue
		}
		if err != nil {
			return nil, err
		}
		out = append(out, readRow(in, record, at, &f))
	}
	if f.list != nil {
		return nil, f.list
	}
	return out, nil
}

func columnsOf(in *csv.Reader, header []string, f *faults) (at [4]int, ok bool) {
	ok = true
	for k, name := range columns {
		at[k] = -1
		for i, h := range header {
			if strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")) == name {
				at[k] = i
			}
		}
		if at[k] < 0 {
			f.addf(1, 1, "header: no column %s, the columns X,Y,a,b are needed", name)
			ok = false
		}
	}
	return at, ok
}

func readRow(in *csv.Reader, record []string, at [4]int, f *faults) Row {
	var v [4]float64
	for k, name := range columns {
		if at[k] >= len(record) {
			line, column := in.FieldPos(len(record) - 1)
			f.addf(line, column, "%s: missing, the row has only %d fields", name, len(record))
			continue
		}
		line, column := in.FieldPos(at[k])
		text := strings.TrimSpace(record[at[k]])
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || !(x >= 0.01 && x <= packing.MaxMM) {
			f.addf(line, column, "%s: %q, a length from 0.01 to %d mm is allowed", name, text, packing.MaxMM)
		}
		v[k] = x
	}
	return Row{v[0], v[1], v[2], v[3]}
}
