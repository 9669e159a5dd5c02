package packing

import (
	"math"
	"slices"
	"testing"
	"time"
)

// planeOf is the planar problem of the lowest floor of a problem's first bay.
func planeOf(t *testing.T, p Problem) *plane {
	t.Helper()
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	s := newSession(t.Context(), &p, nil, time.Now(), time.Minute)
	floors := s.floors(&p.Bays[0])
	build := planeBuilder{s: s, bay: &p.Bays[0], f: &floors[0]}
	all := make([]int, len(p.Postures))
	for i := range all {
		all[i] = i
	}
	plane, _ := build.layer(floors[0].z, all, nil)
	return plane
}

func rectangleMM(x0, y0, x1, y1 float64) []Point {
	return []Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// A plain rectangle is a board. A gap g between modules and w to walls is the same as modules larger by g on a board
// longer by g and shorter by 2w.
func TestPlainRectanglesAreBoards(t *testing.T) {
	module := func(l, w, gap, wall float64) Posture {
		return Posture{Name: "m", LengthMM: l, WidthMM: w, HeightMM: 10, Gaps: Gaps{SideMM: gap, EndMM: gap, WallMM: wall}}
	}
	for name, c := range map[string]struct {
		r          Region
		q          Posture
		X, Y, a, b float64 // mm; nought: no board
	}{
		"no gaps":    {Region{Outline: rectangleMM(0, 0, 97, 61)}, module(12, 5, 0, 0), 97, 61, 12, 5},
		"wall gap":   {Region{Outline: rectangleMM(0, 0, 97, 61)}, module(12, 5, 0, 3), 91, 55, 12, 5},
		"all gaps":   {Region{Outline: rectangleMM(-40, -7, 57, 54)}, module(12, 5, 2, 3), 93, 57, 14, 7},
		"squares":    {Region{Outline: rectangleMM(0, 0, 97, 61)}, module(8, 8, 0, 0), 97, 61, 8, 8},
		"too small":  {Region{Outline: rectangleMM(0, 0, 5, 61)}, module(12, 8, 0, 3), 0, 0, 0, 0},
		"five sides": {Region{Outline: []Point{{0, 0}, {97, 0}, {97, 61}, {20, 61}, {0, 41}}}, module(12, 5, 0, 0), 0, 0, 0, 0},
		"four sides": {Region{Outline: []Point{{0, 0}, {97, 0}, {97, 61}, {20, 61}}}, module(12, 5, 0, 0), 0, 0, 0, 0},
		"lozenge":    {Region{Outline: []Point{{50, 0}, {100, 30}, {50, 60}, {0, 30}}}, module(12, 5, 0, 0), 0, 0, 0, 0},
		"keep-out":   {Region{Outline: rectangleMM(0, 0, 97, 61), KeepOuts: [][]Point{rectangleMM(30, 30, 33, 33)}}, module(12, 5, 0, 0), 0, 0, 0, 0},
	} {
		p := planeOf(t, Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: c.r, CeilingMM: 10}}}}, Postures: []Posture{c.q}})
		if p == nil {
			if c.X != 0 {
				t.Errorf("%s: no plane", name)
			}
			continue
		}
		m, at, unit, ok := asPallet(p)
		if ok != (c.X > 0) {
			t.Errorf("%s: a board: %t", name, ok)
		}
		if !ok {
			continue
		}
		// Sides of the board are rounded down to the unit, a common divisor of the module's sides.
		step := float64(p.options[0].w) / c.q.LengthMM
		if c.q.LengthMM != c.q.WidthMM && p.options[0].w < p.options[0].h {
			step = float64(p.options[0].h) / c.q.LengthMM
		}
		whole := func(mm float64) int { return int(math.Floor(mm * step / float64(unit))) }
		want := pallet{whole(c.X), whole(c.Y), whole(c.a), whole(c.b)}
		if m != want {
			t.Errorf("%s: %+v, want %+v", name, m, want)
		}
		if float64(want.a)*float64(unit) != c.a*step || float64(want.b)*float64(unit) != c.b*step {
			t.Errorf("%s: %d is no common divisor", name, unit)
		}
		lo := c.r.Outline[0]
		if x, y := float64(at.x)/step, float64(at.y)/step; x != lo.X+c.q.Gaps.WallMM || y != lo.Y+c.q.Gaps.WallMM {
			t.Errorf("%s: begins at %g, %g", name, x, y)
		}
	}
}

func TestFourCornersOfARectangle(t *testing.T) {
	square := []vec{{2, 3}, {9, 3}, {9, 8}, {2, 8}}
	if !isRectangle(square) {
		t.Error("a rectangle is none")
	}
	for i := range square {
		for _, by := range []vec{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			moved := slices.Clone(square)
			moved[i] = vec{moved[i].x + by.x, moved[i].y + by.y}
			if isRectangle(moved) {
				t.Errorf("%v is none", moved)
			}
		}
		if isRectangle(slices.Delete(slices.Clone(square), i, i+1)) {
			t.Error("three corners are none")
		}
	}
}

// No more modules than the area of the bay holds, the area by the trapezoid rule and less for no hole: 1000 mm x 400 mm and
// 600 mm x 200 mm hold 52 bodies of 100 mm x 100 mm.
func TestAreaBoundIsAreaOverArea(t *testing.T) {
	ell := []Point{{0, 0}, {1000, 0}, {1000, 400}, {600, 400}, {600, 600}, {0, 600}}
	for _, c := range []struct {
		l, w float64
		want int
	}{{100, 100, 52}, {200, 100, 26}, {210, 100, 24}, {1000, 40, 13}} {
		p := planeOf(t, Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: Region{Outline: ell}, CeilingMM: 10}}}},
			Postures: []Posture{{Name: "m", LengthMM: c.l, WidthMM: c.w, HeightMM: 10}}})
		if got := p.areaBound(); got != c.want {
			t.Errorf("%g x %g: %d, want %d", c.l, c.w, got, c.want)
		}
	}
}

// Beside a fixed module another stands one gap away, on either side, whatever its own turn.
func TestContactsBesideAFixedModule(t *testing.T) {
	const gap, at, length, width = 3.0, 400.0, 120.0, 50.0
	p := planeOf(t, Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: Region{Outline: rectangleMM(0, 0, 1000, 500)}, CeilingMM: 10}}}},
		Postures: []Posture{{Name: "m", LengthMM: length, WidthMM: width, HeightMM: 10, Gaps: Gaps{SideMM: gap, EndMM: gap}}},
		Fixed:    []Placement{{Bay: "bay", X: at, Y: 200, Posture: "m"}}})
	if len(p.fixed) != 1 {
		t.Fatalf("%d fixed", len(p.fixed))
	}
	step := float64(p.fixed[0].x) / at
	for opt := range p.usable {
		wide := float64(p.options[opt].w) / step
		if got := wallContacts(p, opt, 1); !slices.Contains(got, int64(math.Round((at+length+gap)*step))) {
			t.Errorf("option %d: no contact right of the fixed module in %v", opt, got)
		}
		if got := wallContacts(p, opt, -1); !slices.Contains(got, int64(math.Round((at-gap-wide)*step))) {
			t.Errorf("option %d: no contact left of the fixed module in %v", opt, got)
		}
	}
}

// A narrowed grid keeps the lines marked with 1, numbered from 0 on; a line that is left out takes the number of the next kept.
func TestKeptLinesAreNumberedOn(t *testing.T) {
	marks := []int32{0, 1, 1, 0, 0, 1, 0}
	if n := renumber(marks); n != 3 || !slices.Equal(marks, []int32{0, 0, 1, 2, 2, 2, 3}) {
		t.Errorf("%d kept, numbered %v", n, marks)
	}
}

// By hand: 60 mm x 40 mm hold the area of twelve modules of 20 mm x 10 mm. If one way of turning is worth twice the other, all of that
// area is worth 24 at most; of two sizes the dearer by its area counts, 3 for 400 mm2 rather than 1 for 200 mm2.
func TestAreaWorthIsThatOfTheDearestByArea(t *testing.T) {
	bay := Bay{ID: "bay", Levels: []Level{{Region: Region{Outline: rectangleMM(0, 0, 60, 40)}, CeilingMM: 10}}}
	small, large := Posture{Name: "s", LengthMM: 20, WidthMM: 10, HeightMM: 10}, Posture{Name: "l", LengthMM: 40, WidthMM: 10, HeightMM: 10}
	p := planeOf(t, Problem{Bays: []Bay{bay}, Postures: []Posture{small}})
	for _, c := range []struct {
		worth []float64
		want  float64
	}{{[]float64{1, 1}, 12}, {[]float64{1, 2}, 24}, {[]float64{0.5, 0}, 6}} {
		if got := p.areaWorth(c.worth); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("worths %v: %g at most, want %g", c.worth, got, c.want)
		}
	}
	p = planeOf(t, Problem{Bays: []Bay{bay}, Postures: []Posture{small, large}})
	worth := p.worths(func(posture int) float64 { return []float64{1, 3}[posture] })
	if got := p.areaWorth(worth); math.Abs(got-18) > 1e-9 {
		t.Errorf("of two sizes %g at most, want 18", got)
	}
}

// A level cut bounds soundly only where it lets in all that can stand: no gap is kept between a strip and a wall, so that 250 mm and a
// strip of 50 mm fill a bay of 300 mm exactly, seen from either end; a hundredth more does not go in.
func TestAStripMayReachAWallInACut(t *testing.T) {
	for length, want := range map[float64][]spot{250: {{0, vec{0, 0}}, {0, vec{5000, 0}}}, 250.01: nil} {
		p := planarProblem(t, instance{Outline: [][2]float64{{0, 0}, {300, 0}, {300, 100}, {0, 100}}, Length: length, Width: 100, FrontStrip: 50})
		spots, ok := candidates(p)
		if !ok || len(spots) != len(want) {
			t.Errorf("%g mm long: places %v, want %d", length, spots, len(want))
			continue
		}
		for i, s := range spots {
			if o := p.options[s.opt]; s.vec != want[i].vec || o.turn != 180*i {
				t.Errorf("%g mm long: at %v turned by %d°, want %v by %d°", length, s.vec, o.turn, want[i].vec, 180*i)
			}
		}
	}
}
