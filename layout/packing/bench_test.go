package packing

import (
	"context"
	"fmt"
	"testing"
	"time"
)

// repackBay is a bay of about thirty modules with gaps, round two fixed ones.
func repackBay() Problem {
	q := Posture{Name: "module", LengthMM: 355, WidthMM: 152, HeightMM: 110, Gaps: Gaps{SideMM: 3, EndMM: 3, WallMM: 8}}
	p := oneBay(Region{Outline: []Point{{0, 0}, {2100, 0}, {2100, 700}, {1700, 700}, {1700, 1150}, {240, 1150}, {240, 700}, {0, 700}}}, q)
	p.Bays[0].Levels[0].CeilingMM = 130
	p.Fixed = []Placement{{Bay: "bay", X: 700, Y: 320, Posture: "module"}, {Bay: "bay", X: 1300, Y: 400, Posture: "module", Turn: 90}}
	return p
}

func TestRepackRoundFixedModules(t *testing.T) {
	p := repackBay()
	p.Limit = time.Minute
	res := mustSolve(t, p)
	if res.Count < 28 || !res.Proved {
		t.Errorf("%d of at most %d round two fixed ones", res.Count, res.Bound)
	}
}

// BenchmarkRepack is a drag of two fixed modules through a bay of thirty: time to
// the first answer, the share of the final count that it has, and time to the end.
func BenchmarkRepack(b *testing.B) {
	var first, whole time.Duration
	share, n := 0.0, 0
	for b.Loop() {
		p := repackBay()
		p.Fixed[0].X += float64(n % 40)
		p.Fixed[1].Y += float64(n % 30)
		var at time.Duration
		count := 0
		res, err := Solve(context.Background(), p, func(g Progress) {
			if at == 0 {
				at, count = g.Elapsed, g.Count
			}
		})
		if err != nil {
			b.Fatal(err)
		}
		verify(b, p, res)
		first, whole = first+at, whole+res.Elapsed
		share += float64(count) / float64(res.Count)
		n++
	}
	b.ReportMetric(float64(first.Microseconds())/1000/float64(n), "first-ms")
	b.ReportMetric(100*share/float64(n), "%first")
	b.ReportMetric(float64(whole.Microseconds())/1000/float64(n), "end-ms")
}

// BenchmarkGrowth packs an L of growing size with modules of 9 by 4 and of 355 by
// 152 mm: from 5 modules to 300.
func BenchmarkGrowth(b *testing.B) {
	for _, m := range [][2]float64{{9, 4}, {355, 152}} {
		for _, n := range []int{5, 10, 20, 40, 80, 150, 300} {
			b.Run(fmt.Sprintf("%gx%g/%d", m[0], m[1], n), func(b *testing.B) { growth(b, m, n) })
		}
	}
}

func growth(b *testing.B, m [2]float64, n int) {
	q := Posture{Name: "m", LengthMM: m[0], WidthMM: m[1], HeightMM: 10}
	w, h := largeEll(m, n)
	p := oneBay(Region{Outline: []Point{{0, 0}, {w, 0}, {w, h / 2}, {w / 2, h / 2}, {w / 2, h}, {0, h}}}, q)
	var res Result
	for b.Loop() {
		var err error
		if res, err = Solve(context.Background(), p, nil); err != nil {
			b.Fatal(err)
		}
		verify(b, p, res)
	}
	b.ReportMetric(float64(res.Count), "modules")
	b.ReportMetric(float64(res.Bound-res.Count), "gap")
}

// largeEll is the size of an L whose area is that of n modules and a twentieth.
func largeEll(m [2]float64, n int) (w, h float64) {
	for h = m[1]; ; h++ {
		w = float64(int(h * 1.5))
		if 0.75*w*h >= 1.05*m[0]*m[1]*float64(n) {
			return 2 * float64(int(w/2)), 2 * float64(int(h/2))
		}
	}
}

func BenchmarkFreeForm(b *testing.B) {
	set := append(publishedInstances(b), ownInstances(b)...)
	for b.Loop() {
		var s settled
		for _, in := range set {
			if r := s.check(b, in); r.Elapsed > time.Second || !r.Proved {
				b.Logf("%s: %d of at most %d, on a grid %v, %v", in.Name, r.Count, r.Bound, r.GridProved, r.Elapsed)
			}
		}
		b.ReportMetric(float64(s.real)/float64(s.all)*100, "%proved")
		b.ReportMetric(float64(s.grid)/float64(s.all)*100, "%at-least-on-grid")
		b.ReportMetric(float64(s.median().Microseconds())/1000, "median-ms")
		b.ReportMetric(s.times[len(s.times)-1].Seconds(), "slowest-s")
	}
}

// BenchmarkAgainstCBC solves every tenth bay of our own with CBC and here in the
// same run and reports the median ratio of the times.
func BenchmarkAgainstCBC(b *testing.B) {
	needCBC(b)
	for b.Loop() {
		var ours, theirs settled
		for k, in := range ownInstances(b) {
			if k%10 != 3 {
				continue
			}
			a := runCBC(b, in, time.Minute)
			if a.proved && a.optimum != in.Optimum {
				b.Errorf("%s: CBC now finds %d, the file says %d", in.Name, a.optimum, in.Optimum)
			}
			theirs.times = append(theirs.times, time.Duration(a.seconds*float64(time.Second)))
			ours.check(b, in)
		}
		b.ReportMetric(ours.median().Seconds()*1000, "median-ms")
		b.ReportMetric(theirs.median().Seconds()*1000, "cbc-median-ms")
		b.ReportMetric(theirs.median().Seconds()/ours.median().Seconds(), "times-faster")
	}
}

// TestAgainstCBC lets CBC solve one small bay anew, where it is installed, so that
// the oracle itself is run now and then.
func TestAgainstCBC(t *testing.T) {
	needCBC(t)
	if testing.Short() {
		t.Skip("short run")
	}
	in := instance{Name: "notched", Outline: [][2]float64{{0, 0}, {14, 0}, {14, 6}, {10, 6}, {10, 9}, {0, 9}}, Length: 5, Width: 2}
	a := runCBC(t, in, 20*time.Second)
	if !a.proved {
		t.Skip("CBC did not finish in time")
	}
	in.Optimum = a.optimum
	var s settled
	s.check(t, in)
	if s.real != 1 {
		t.Error("not proved")
	}
}
