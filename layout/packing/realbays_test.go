package packing

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Boxes of the demonstration donors as the desktop hands them over: stepped levels, gear that stands on the floor,
// free strips of gear (forbidden to bodies, not to strips), two postures, several layers. This is what designers
// press the button on, so that the solver has to obey its limit here, return a good count fast and a bound that is
// worth reading. Every placement goes through the verifier.
func realBoxes(t testing.TB) (names []string, problems []Problem) {
	t.Helper()
	files, err := filepath.Glob("../../testdata/packing/real/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no problems in testdata/packing/real: ", err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var p Problem
		if err := json.Unmarshal(data, &p); err != nil {
			t.Fatal(err)
		}
		p.Hundredths = true
		names = append(names, strings.TrimSuffix(filepath.Base(f), ".json"))
		problems = append(problems, p)
	}
	return names, problems
}

func TestRealBoxes(t *testing.T) {
	names, problems := realBoxes(t)
	for i, p := range problems {
		t.Run(names[i], func(t *testing.T) {
			p.Limit = time.Second
			ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
			defer cancel()
			r, err := Solve(ctx, p, nil)
			if err != nil {
				t.Fatal(err)
			}
			verify(t, p, r)
			t.Logf("%d, bound %d, proved %v, %v: %s", r.Count, r.Bound, r.Proved, r.Elapsed.Round(time.Millisecond), r.Argument)
		})
	}
}

// BenchmarkRealBoxes is what becomes of all those boxes within the work of one second
// each and of ten, however long a busy machine takes for that: modules, modules still
// not refuted, and boxes proved.
func BenchmarkRealBoxes(b *testing.B) {
	names, problems := realBoxes(b)
	for _, limit := range []time.Duration{time.Second, 10 * time.Second} {
		b.Run(fmt.Sprint(limit), func(b *testing.B) {
			for b.Loop() {
				modules, open, proved := 0, 0, 0
				var table strings.Builder
				for i, p := range problems {
					r := newSession(context.Background(), &p, nil, time.Now(), limit).solve()
					verify(b, p, r)
					fmt.Fprintf(&table, "%s %d of at most %d, %v; ", names[i], r.Count, r.Bound, r.Elapsed.Round(time.Millisecond))
					modules, open = modules+r.Count, open+r.Bound-r.Count
					if r.Proved {
						proved++
					}
				}
				b.Log(table.String())
				b.ReportMetric(float64(modules), "modules")
				b.ReportMetric(float64(open), "open")
				b.ReportMetric(float64(proved), "proved")
			}
		})
	}
}
