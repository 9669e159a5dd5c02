package packing

import (
	"context"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"
)

func rectangle(x0, y0, x1, y1 float64) []Point {
	return []Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

func mustSolve(t testing.TB, p Problem) Result {
	t.Helper()
	res, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	verify(t, p, res)
	return res
}

func wantCount(t *testing.T, res Result, count int, proved bool) {
	t.Helper()
	if res.Count != count || res.Proved != proved {
		t.Errorf("%d fit (proved %v), want %d (%v): %s", res.Count, res.Proved, count, proved, res.Argument)
	}
}

func TestOneUprightPostureStacks(t *testing.T) {
	p := oneBay(Region{Outline: rectangle(0, 0, 620, 310)}, Posture{Name: "flat", LengthMM: 300, WidthMM: 150, HeightMM: 100, Gaps: Gaps{TopMM: 5}})
	p.Bays[0].Levels[0].CeilingMM = 330
	// Four to a layer, three layers of 105 mm under 330 mm.
	wantCount(t, mustSolve(t, p), 12, true)
}

// A module wider than the bay: nothing fits, and the sentence says so rather than count.
func TestNothingFits(t *testing.T) {
	res := mustSolve(t, oneBay(Region{Outline: rectangle(0, 0, 620, 140)}, Posture{Name: "flat", LengthMM: 300, WidthMM: 150, HeightMM: 100}))
	wantCount(t, res, 0, true)
	if !strings.HasPrefix(res.Argument, "no module fits, which is proved: ") {
		t.Errorf("it says %q", res.Argument)
	}
}

func TestLayersOfTwoHeights(t *testing.T) {
	// Under 260 mm stand one layer 150 high and one 100 high; on edge (150 high,
	// 100 wide) six fit, flat (100 high, 150 wide) four.
	p := oneBay(Region{Outline: rectangle(0, 0, 300, 600)}, Posture{Name: "flat", LengthMM: 300, WidthMM: 150, HeightMM: 100})
	p.Postures = append(p.Postures, Posture{Name: "on edge", LengthMM: 300, WidthMM: 100, HeightMM: 150})
	p.Bays[0].Levels[0].CeilingMM = 260
	res := mustSolve(t, p)
	if res.Count != 10 {
		t.Errorf("%d fit, want 10: %s", res.Count, res.Argument)
	}
	// 300 x 600 x 260 mm over 4.5 litres a module is 10.4: eleven cannot fit.
	if !res.Proved || res.Bound != 10 {
		t.Errorf("bound %d, the volume allows 10: %s", res.Bound, res.Argument)
	}
}

func TestSteppedFloorKeepsModulesOnOneFloor(t *testing.T) {
	p := oneBay(Region{Outline: rectangle(0, 0, 500, 200)}, Posture{Name: "m", LengthMM: 200, WidthMM: 100, HeightMM: 100})
	p.Bays[0].Levels = []Level{
		{Region: Region{Outline: rectangle(0, 0, 300, 200)}, FloorMM: 0, CeilingMM: 100},
		{Region: Region{Outline: rectangle(300, 0, 500, 200)}, FloorMM: 50, CeilingMM: 150},
	}
	// Three in 300 x 200 and two in 200 x 200; five would also fit 500 x 200.
	wantCount(t, mustSolve(t, p), 5, true)
}

func TestLevelsOfOneFloorJoinUnderUnequalCeilings(t *testing.T) {
	low := Posture{Name: "m", LengthMM: 400, WidthMM: 100, HeightMM: 100}
	p := oneBay(Region{}, low)
	p.Bays[0].Levels = []Level{
		{Region: Region{Outline: rectangle(0, 0, 200, 100)}, CeilingMM: 120},
		{Region: Region{Outline: rectangle(200, 0, 400, 100)}, CeilingMM: 180},
	}
	wantCount(t, mustSolve(t, p), 1, true)
	p.Postures[0].HeightMM = 150
	wantCount(t, mustSolve(t, p), 0, true)
}

func TestForbiddenRegionsCountAtTheirHeights(t *testing.T) {
	p := oneBay(Region{Outline: rectangle(0, 0, 300, 100)}, Posture{Name: "m", LengthMM: 100, WidthMM: 100, HeightMM: 50})
	p.Bays[0].Levels[0].CeilingMM = 60
	p.Bays[0].Forbidden = []Forbidden{{Region: Region{Outline: rectangle(110, 10, 190, 90)}}}
	wantCount(t, mustSolve(t, p), 2, true)
	p.Bays[0].Forbidden[0].FromMM, p.Bays[0].Forbidden[0].ToMM = 55, 60
	wantCount(t, mustSolve(t, p), 3, true)
}

func TestStripsMayShareSpace(t *testing.T) {
	// Two modules facing each other over one strip of 50 mm: 250 + 50 + 250.
	q := Posture{Name: "m", LengthMM: 250, WidthMM: 100, HeightMM: 10, EndsDiffer: true, Strips: []Strip{{Face: PlusX, DepthMM: 50}}}
	wantCount(t, mustSolve(t, oneBay(Region{Outline: rectangle(0, 0, 550, 100)}, q)), 2, true)
	wantCount(t, mustSolve(t, oneBay(Region{Outline: rectangle(0, 0, 549, 100)}, q)), 1, true)
	// Alone it needs its strip inside the bay.
	wantCount(t, mustSolve(t, oneBay(Region{Outline: rectangle(0, 0, 299, 100)}, q)), 0, true)
}

func TestLargerOfTwoGapsHolds(t *testing.T) {
	// Two lying end to end keep 30 mm, a lying and a standing one also.
	q := Posture{Name: "m", LengthMM: 200, WidthMM: 100, HeightMM: 10, Gaps: Gaps{SideMM: 10, EndMM: 30}, Turns: []int{0}}
	wantCount(t, mustSolve(t, oneBay(Region{Outline: rectangle(0, 0, 430, 100)}, q)), 2, true)
	wantCount(t, mustSolve(t, oneBay(Region{Outline: rectangle(0, 0, 429, 100)}, q)), 1, true)
	// Beside a fixed lying one a standing one keeps 30 mm too, 20 at its own sides.
	q.Turns, q.Gaps.SideMM = nil, 20
	for width, count := range map[float64]int{330: 2, 329: 1} {
		p := oneBay(Region{Outline: rectangle(0, 0, width, 200)}, q)
		p.Fixed = []Placement{{Bay: "bay", Posture: "m"}}
		wantCount(t, mustSolve(t, p), count, true)
	}
}

func TestSeveralBaysAndATarget(t *testing.T) {
	q := Posture{Name: "m", LengthMM: 100, WidthMM: 100, HeightMM: 10}
	p := oneBay(Region{Outline: rectangle(0, 0, 300, 100)}, q)
	p.Bays = append(p.Bays, Bay{ID: "rear", Levels: []Level{{Region: Region{Outline: rectangle(500, 0, 700, 200)}, CeilingMM: 10}}})
	res := mustSolve(t, p)
	wantCount(t, res, 7, true)
	if len(res.Bays) != 2 || res.Bays[0].Count != 3 || res.Bays[1].Count != 4 {
		t.Errorf("by bay: %+v", res.Bays)
	}
	p.Target = 5
	wantCount(t, mustSolve(t, p), 5, true)
	p.Target = 8
	wantCount(t, mustSolve(t, p), 7, true)
}

func TestFixedModulesCountAndStandInTheWay(t *testing.T) {
	q := Posture{Name: "m", LengthMM: 100, WidthMM: 100, HeightMM: 10}
	p := oneBay(Region{Outline: rectangle(0, 0, 400, 100)}, q)
	p.Fixed = []Placement{{Bay: "bay", X: 50, Posture: "m"}}
	res := mustSolve(t, p)
	wantCount(t, res, 3, true)
	if !res.Placements[0].Fixed || res.Placements[0].X != 50 {
		t.Errorf("the fixed module moved: %+v", res.Placements[0])
	}
}

func TestPushGoals(t *testing.T) {
	q := Posture{Name: "m", LengthMM: 100, WidthMM: 90, HeightMM: 10, Turns: []int{0}}
	p := oneBay(Region{Outline: rectangle(0, 0, 370, 100)}, q)
	least := func(r Result) float64 {
		x := math.Inf(1)
		for _, a := range r.Placements {
			x = math.Min(x, a.X)
		}
		return x
	}
	p.Goal = Goal{Forward: true}
	if x := least(mustSolve(t, p)); x != 0 {
		t.Errorf("pushed forward, the first stands at %v", x)
	}
	p.Goal = Goal{Rearward: true}
	if x := least(mustSolve(t, p)); x != 70 {
		t.Errorf("pushed rearward, the first stands at %v, want 70", x)
	}
	p.Goal = Goal{Centre: true, MirrorYMM: 50}
	for _, a := range mustSolve(t, p).Placements {
		if a.Y != 5 {
			t.Errorf("pushed to the centre, one stands at y %v, want 5", a.Y)
		}
	}
}

func TestTerminalsFaceEachOther(t *testing.T) {
	q := Posture{Name: "m", LengthMM: 200, WidthMM: 100, HeightMM: 10, EndsDiffer: true, Terminals: []Face{PlusX}}
	p := oneBay(Region{Outline: rectangle(0, 0, 400, 100)}, q)
	p.Goal = Goal{FacingTerminals: true}
	res := mustSolve(t, p)
	turns := map[float64]int{}
	for _, a := range res.Placements {
		turns[a.X] = a.Turn
	}
	if turns[0] != 0 || turns[200] != 180 {
		t.Errorf("turns by x: %v, want 0 at 0 and 180 at 200", turns)
	}
}

func TestMirrorMakesLeftAndRightAlike(t *testing.T) {
	q := Posture{Name: "m", LengthMM: 100, WidthMM: 90, HeightMM: 10, Turns: []int{0}}
	p := oneBay(Region{Outline: rectangle(0, -100, 100, 100)}, q)
	p.Goal = Goal{Mirror: true}
	res := mustSolve(t, p)
	wantCount(t, res, 2, true)
	if a, b := res.Placements[0].Y, res.Placements[1].Y; a+b+90 != 0 {
		t.Errorf("modules at y %v and %v are no mirror images", a, b)
	}
}

func TestSameProblemSameAnswer(t *testing.T) {
	p := publishedInstances(t)[5].problem()
	p.Limit = time.Minute
	first := mustSolve(t, p)
	for range 3 {
		again := mustSolve(t, p)
		if !reflect.DeepEqual(first.Placements, again.Placements) || first.Bound != again.Bound {
			t.Fatal("two runs differ")
		}
	}
}

func TestCancelKeepsTheBestSoFar(t *testing.T) {
	p := pallet{56, 43, 6, 5}.problem() // open for many seconds
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(80*time.Millisecond, cancel)
	res, err := Solve(ctx, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	verify(t, p, res)
	if !res.Stopped || res.Proved || res.Count < 78 {
		t.Errorf("stopped %v, proved %v, count %d", res.Stopped, res.Proved, res.Count)
	}
}

func TestProgressOnlyRises(t *testing.T) {
	p := publishedInstances(t)[5].problem()
	best, calls := 0, 0
	_, err := Solve(context.Background(), p, func(g Progress) {
		calls++
		if g.Count < best || g.Count > g.Bound || len(g.Placements) != g.Count {
			t.Errorf("progress %d of at most %d after %d", g.Count, g.Bound, best)
		}
		best = g.Count
	})
	if err != nil || calls == 0 {
		t.Errorf("%d reports, error %v", calls, err)
	}
}

func TestEveryFaultIsReported(t *testing.T) {
	p := Problem{
		Bays: []Bay{
			{ID: "a", Levels: []Level{{Region: Region{Outline: []Point{{5, 7}, {15, 17}, {15, 7}, {5, 27}}}, CeilingMM: 10}}},
			{ID: "a", Levels: []Level{{Region: Region{Outline: []Point{{0, 0}, {10, 0}, {20, 0}}}, FloorMM: 5, CeilingMM: 5}}},
			{ID: "b"},
		},
		Postures: []Posture{{Name: "m", LengthMM: math.NaN(), WidthMM: -1, HeightMM: math.Inf(1), Turns: []int{45}, Strips: []Strip{{Face: 9, DepthMM: -1, FromMM: 5, ToMM: 2}}}},
		Fixed:    []Placement{{Bay: "c", Posture: "n", Turn: 1, X: math.NaN()}},
		Target:   -1,
	}
	_, err := Solve(context.Background(), p, nil)
	if err == nil {
		t.Fatal("no error")
	}
	for _, want := range []string{"crosses itself between (5, 7) and (15, 7)", "used twice", "has no area", "not above floor", "bays[2].levels", "length_mm", "width_mm",
		"height_mm", "turns: 45", "no such face", "depth_mm", "from 5 to 2", "no bay", "no posture", "fixed[0].turn", "fixed[0].x", "target"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not reported in\n%v", want, err)
		}
	}
}

func TestLimitsOnCorners(t *testing.T) {
	var ring []Point
	for i := range 1_000_000 {
		a := float64(i) * 2 * math.Pi / 1_000_000
		ring = append(ring, Point{1000 * math.Cos(a), 1000 * math.Sin(a)})
	}
	p := oneBay(Region{Outline: ring}, Posture{Name: "m", LengthMM: 100, WidthMM: 50, HeightMM: 10})
	if _, err := Solve(context.Background(), p, nil); err == nil || !strings.Contains(err.Error(), "at most 2000") {
		t.Errorf("error %v", err)
	}
}

func TestCircularBay(t *testing.T) {
	var ring []Point
	for i := range 300 {
		a := float64(i) * 2 * math.Pi / 300
		ring = append(ring, Point{500 * math.Cos(a), 500 * math.Sin(a)})
	}
	p := oneBay(Region{Outline: ring}, Posture{Name: "m", LengthMM: 355, WidthMM: 152, HeightMM: 10, Gaps: Gaps{WallMM: 5, SideMM: 3, EndMM: 3}})
	p.Limit = 3 * time.Second
	if res := mustSolve(t, p); res.Count < 9 {
		t.Errorf("only %d of at most %d", res.Count, res.Bound)
	}
}
