package packing

import (
	"context"
	"testing"
	"time"
)

// BenchmarkCancel is how long the solver goes on after it was told to stop, at different moments of problems that take it
// longer than that: the real boxes and an open pallet. ms-worst is the longest.
func BenchmarkCancel(b *testing.B) {
	_, boxes := realBoxes(b)
	problems := append([]Problem{pallet{56, 43, 6, 5}.problem()}, boxes...)
	worst, sum, n := time.Duration(0), time.Duration(0), 0
	for b.Loop() {
		for i, p := range problems {
			p.Limit = time.Minute
			late := stopAfter(b, p, time.Duration(40+97*((n+i)%9))*time.Millisecond)
			worst, sum = max(worst, late), sum+late
			n++
		}
	}
	b.ReportMetric(float64(worst.Microseconds())/1000, "ms-worst")
	b.ReportMetric(float64(sum.Microseconds())/1000/float64(n), "ms-mean")
}

// stopAfter cancels a run after a time and returns how late it ended.
func stopAfter(b *testing.B, p Problem, after time.Duration) time.Duration {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var told time.Time
	timer := time.AfterFunc(after, func() { told = time.Now(); cancel() })
	if _, err := Solve(ctx, p, nil); err != nil {
		b.Fatal(err)
	}
	done := time.Now()
	if timer.Stop() {
		return 0 // done before
	}
	<-ctx.Done()
	return done.Sub(told)
}
