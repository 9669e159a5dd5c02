package packing

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
)

func soundProblem() Problem {
	return Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: Region{Outline: rectangleMM(0, 0, 100, 60)}, CeilingMM: 10}}}},
		Postures: []Posture{{Name: "m", LengthMM: 20, WidthMM: 10, HeightMM: 5}}}
}

// polygonOfCorners has so many corners, on a circle of squares.
func polygonOfCorners(n int) []Point {
	var out []Point
	for i := range n / 2 {
		out = append(out, Point{float64(i), float64(i % 2)})
	}
	for i := n/2 - 1 + n%2; i >= 0; i-- {
		out = append(out, Point{float64(i), 10 + float64(i%2)})
	}
	return out
}

// Each limit just holds, and is broken by the next value beyond it, with the path and nothing else in the message.
func TestEachLimitHoldsToItsEdge(t *testing.T) {
	const far, step = 100_000.0, 0.01
	at := func(set func(*Problem, float64)) func(float64) Problem {
		return func(v float64) Problem {
			p := soundProblem()
			set(&p, v)
			return p
		}
	}
	forbid := func(p *Problem, from, to float64) {
		p.Bays[0].Forbidden = []Forbidden{{Region: Region{Outline: rectangleMM(0, 0, 5, 5)}, FromMM: from, ToMM: to}}
	}
	fix := func(p *Problem, f Placement) {
		f.Bay, f.Posture = "bay", "m"
		p.Fixed = []Placement{f}
	}
	strip := func(p *Problem, s Strip) { p.Postures[0].Strips = []Strip{s} }
	for _, c := range []struct {
		path         string
		set          func(*Problem, float64)
		good, broken []float64
	}{
		{"postures[0].length_mm", func(p *Problem, v float64) { p.Postures[0].LengthMM = v }, []float64{0.01, far}, []float64{0, 0.009, far + step}},
		{"postures[0].width_mm", func(p *Problem, v float64) { p.Postures[0].WidthMM = v }, []float64{0.01, far}, []float64{0, 0.009, far + step}},
		{"postures[0].height_mm", func(p *Problem, v float64) { p.Postures[0].HeightMM = v }, []float64{0.01, far}, []float64{0, 0.009, far + step}},
		{"postures[0].gaps.side_mm", func(p *Problem, v float64) { p.Postures[0].Gaps.SideMM = v }, []float64{0, 0.5, far}, []float64{-step, far + step}},
		{"postures[0].gaps.end_mm", func(p *Problem, v float64) { p.Postures[0].Gaps.EndMM = v }, []float64{0, 0.5, far}, []float64{-step, far + step}},
		{"postures[0].gaps.top_mm", func(p *Problem, v float64) { p.Postures[0].Gaps.TopMM = v }, []float64{0, 0.5, far}, []float64{-step, far + step}},
		{"postures[0].gaps.wall_mm", func(p *Problem, v float64) { p.Postures[0].Gaps.WallMM = v }, []float64{0, 0.5, far}, []float64{-step, far + step}},
		{"postures[0].turns", func(p *Problem, v float64) { p.Postures[0].Turns = []int{int(v)} }, []float64{0, 90, 180, 270}, []float64{-90, 1, 45, 91, 179, 181, 271, 360}},
		{"postures[0].strips[0].face", func(p *Problem, v float64) { strip(p, Strip{Face: Face(v), DepthMM: 1}) }, []float64{0, 1, 2, 3, 4}, []float64{-1, 5}},
		{"postures[0].strips[0].depth_mm", func(p *Problem, v float64) { strip(p, Strip{DepthMM: v}) }, []float64{0, 0.5, far}, []float64{-step, far + step}},
		{"postures[0].strips[0]: from", func(p *Problem, v float64) { strip(p, Strip{DepthMM: 1, FromMM: v, ToMM: 10}) }, []float64{0, 0.5, 9.99}, []float64{-step, 10, 11}},
		{"postures[0].strips[0]: from", func(p *Problem, v float64) { strip(p, Strip{DepthMM: 1, ToMM: v}) }, []float64{0, 0.5, 10}, []float64{-1, 10.01, 20}},
		{"postures[0].strips[0]: from", func(p *Problem, v float64) { strip(p, Strip{Face: MinusX, DepthMM: 1, FromMM: 1, ToMM: v}) }, []float64{1.5, 10}, []float64{0, 1, 10.01}},
		{"postures[0].strips[0]: from", func(p *Problem, v float64) { strip(p, Strip{Face: PlusY, DepthMM: 1, FromMM: 11, ToMM: v}) }, []float64{12, 20}, []float64{11, 20.01}},
		{"postures[0].strips[0]: from", func(p *Problem, v float64) { strip(p, Strip{Face: MinusY, DepthMM: 1, FromMM: 11, ToMM: v}) }, []float64{12, 20}, []float64{11, 20.01}},
		{"postures[0].terminals[0]", func(p *Problem, v float64) { p.Postures[0].Terminals = []Face{Face(v)} }, []float64{0, 1, 2, 3, 4}, []float64{-1, 5}},
		{"bays[0].levels[0].floor_mm", func(p *Problem, v float64) { p.Bays[0].Levels[0].FloorMM = v }, []float64{-far, 9.99}, []float64{-far - step}},
		{"bays[0].levels[0]: ceiling", func(p *Problem, v float64) { p.Bays[0].Levels[0].FloorMM = v }, []float64{9.99}, []float64{10, 11}},
		{"bays[0].levels[0].ceiling_mm", func(p *Problem, v float64) { p.Bays[0].Levels[0].CeilingMM = v }, []float64{0.01, far}, []float64{far + step}},
		{"bays[0].levels[0].region.outline[1].x", func(p *Problem, v float64) { p.Bays[0].Levels[0].Region.Outline[1].X = v }, []float64{far, 50}, []float64{far + step}},
		{"bays[0].levels[0].region.outline[0].y", func(p *Problem, v float64) { p.Bays[0].Levels[0].Region.Outline[0].Y = v }, []float64{-far, 1}, []float64{-far - step}},
		{"bays[0].levels[0].region.keep_outs[0][2].x", func(p *Problem, v float64) {
			p.Bays[0].Levels[0].Region.KeepOuts = [][]Point{{{0, 0}, {1, 0}, {v, 1}}}
		}, []float64{1, far}, []float64{far + step, -far - step}},
		{"bays[0].forbidden[0].from_mm", func(p *Problem, v float64) { forbid(p, v, far) }, []float64{-far, far}, []float64{-far - step}},
		{"bays[0].forbidden[0].to_mm", func(p *Problem, v float64) { forbid(p, 0, v) }, []float64{0, far}, []float64{far + step}},
		{"bays[0].forbidden[0]: to", func(p *Problem, v float64) { forbid(p, 3, v) }, []float64{3, 4}, []float64{2.99}},
		{"fixed[0].turn", func(p *Problem, v float64) { fix(p, Placement{Turn: int(v)}) }, []float64{0, 90, 180, 270}, []float64{-90, 1, 45, 91, 179, 181, 271, 360}},
		{"fixed[0].x", func(p *Problem, v float64) { fix(p, Placement{X: v}) }, []float64{-far, far}, []float64{-far - step, far + step}},
		{"fixed[0].y", func(p *Problem, v float64) { fix(p, Placement{Y: v}) }, []float64{-far, far}, []float64{-far - step, far + step}},
		{"fixed[0].z", func(p *Problem, v float64) { fix(p, Placement{Z: v}) }, []float64{-far, far}, []float64{-far - step, far + step}},
		{"goal.mirror_y_mm", func(p *Problem, v float64) { p.Goal.MirrorYMM = v }, []float64{-far, far}, []float64{-far - step, far + step}},
		{"target", func(p *Problem, v float64) { p.Target = int(v) }, []float64{0, 7}, []float64{-1}},
		{"limit", func(p *Problem, v float64) { p.Limit = time.Duration(v) }, []float64{0, 1}, []float64{-1}},
		{"postures: 13 given", func(p *Problem, v float64) {
			for i := 1; i < int(v); i++ {
				q := p.Postures[0]
				q.Name = strings.Repeat("m", i+1)
				p.Postures = append(p.Postures, q)
			}
		}, []float64{1, 12}, []float64{13}},
		{"fixed: 2001 given", func(p *Problem, v float64) {
			for range int(v) {
				p.Fixed = append(p.Fixed, Placement{Bay: "bay", Posture: "m"})
			}
		}, []float64{2000}, []float64{2001}},
		{"bays[0]: 501 rings", func(p *Problem, v float64) {
			for k := range int(v) - 1 { // the outline is one, a forbidden region with a keep-out two
				ring := rectangleMM(0, 0, 1, 1)
				if k%3 == 0 {
					p.Bays[0].Levels[0].Region.KeepOuts = append(p.Bays[0].Levels[0].Region.KeepOuts, ring)
				} else if k%3 == 2 {
					p.Bays[0].Forbidden = append(p.Bays[0].Forbidden, Forbidden{Region: Region{Outline: ring, KeepOuts: [][]Point{ring}}})
				}
			}
			if n := int(v) - 1; n%3 == 2 {
				p.Bays[0].Forbidden = append(p.Bays[0].Forbidden, Forbidden{Region: Region{Outline: rectangleMM(0, 0, 1, 1)}})
			}
		}, []float64{500}, []float64{501}},
		{"bays[0].levels[0].region.outline: 2001 corners", func(p *Problem, v float64) { p.Bays[0].Levels[0].Region.Outline = polygonOfCorners(int(v)) }, []float64{2000}, []float64{2001}},
	} {
		problem := at(c.set)
		for _, v := range c.good {
			p := problem(v)
			if err := p.Validate(); err != nil && c.path != "bays[0].levels[0].region.outline: 2001 corners" {
				t.Errorf("%s of %g: %v", c.path, v, err)
			} else if err != nil {
				t.Errorf("%s of %g: %.100s", c.path, v, err)
			}
		}
		for _, v := range c.broken {
			p := problem(v)
			err, _ := p.Validate().(Errors)
			if len(err) != 1 || !strings.HasPrefix(err[0], c.path) {
				t.Errorf("%s of %g: %.200v", c.path, v, err)
			}
		}
	}
}

// The least triangle of the lattice has an area; three corners in line have none.
func TestTheLeastArea(t *testing.T) {
	p := soundProblem()
	p.Bays[0].Levels[0].Region.KeepOuts = [][]Point{{{5, 5}, {5.01, 5}, {5, 5.01}}}
	if err := p.Validate(); err != nil {
		t.Error(err)
	}
	p.Bays[0].Levels[0].Region.KeepOuts = [][]Point{{{5, 5}, {5.01, 5}, {5.02, 5}}}
	if p.Validate() == nil {
		t.Error("corners in line have an area")
	}
}

// crossesItself tells whether two edges of a ring meet other than at a shared corner, edge by edge by the sides on which
// their ends lie.
func crossesItself(r []vec) bool {
	n := len(r)
	on := func(a, b, c vec) bool { // c lies on the edge a-b
		return (b.x-a.x)*(c.y-a.y) == (b.y-a.y)*(c.x-a.x) && min(a.x, b.x) <= c.x && c.x <= max(a.x, b.x) && min(a.y, b.y) <= c.y && c.y <= max(a.y, b.y)
	}
	side := func(a, b, c vec) int64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }
	for i := range n {
		a, b := r[i], r[(i+1)%n]
		for k, c := range r { // a corner on an edge that is not its own
			if k != i && k != (i+1)%n && on(a, b, c) {
				return true
			}
		}
		for j := range n {
			c, d := r[j], r[(j+1)%n]
			if p, q, u, v := side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b); (p < 0 && q > 0 || p > 0 && q < 0) && (u < 0 && v > 0 || u > 0 && v < 0) {
				return true
			}
		}
	}
	return false
}

// Random rings on a small lattice: three to seven corners, many of them in line, on edges of others or twice.
func TestRingsThatCrossThemselves(t *testing.T) {
	r := rand.New(rand.NewPCG(101, 102))
	seen := map[bool]int{}
	for range 8000 {
		var ps []Point
		for range 3 + r.IntN(5) {
			ps = append(ps, Point{float64(r.IntN(6)), float64(r.IntN(6))})
		}
		given := lattice{1}.ring(ps)
		if len(given) < 3 {
			continue
		}
		ring := cleanRing(given)
		if len(ring) < 3 || twiceArea(ring) == 0 {
			continue
		}
		for i, q := range ring {
			p, s := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
			if q == p || cross(p, q, s) == 0 && (q.x-p.x)*(s.x-q.x) >= 0 && (q.y-p.y)*(s.y-q.y) >= 0 {
				t.Fatalf("%v is cleaned to %v, where %v is in line with its neighbours", given, ring, q)
			}
			if !slices.Contains(given, q) {
				t.Fatalf("%v is cleaned to %v", given, ring)
			}
		}
		if twiceArea(ring) != twiceArea(given) {
			t.Fatalf("%v of area %d is cleaned to %v of area %d", given, twiceArea(given), ring, twiceArea(ring))
		}
		_, _, got := selfCrossing(ring)
		want := crossesItself(ring)
		if seen[want]++; got != want {
			t.Fatalf("%v crosses itself: %v, want %v", ring, got, want)
		}
	}
	if min(seen[true], seen[false]) < 500 {
		t.Errorf("drawn too one-sidedly: %v", seen)
	}
}

// The two edges named are those that cross: by hand, a square and a bow tie whose long edges cross, after corners without one.
func TestTheEdgesThatCrossAreNamed(t *testing.T) {
	for _, c := range []struct {
		ring []vec
		i, j int
	}{
		{[]vec{{0, 0}, {4, 4}, {4, 0}, {0, 4}}, 0, 2},
		{[]vec{{0, 0}, {2, -3}, {4, 0}, {0, 4}, {4, 4}}, 2, 4},
		{[]vec{{0, 0}, {6, 0}, {6, 6}, {3, 0}, {0, 6}}, 0, 2}, // a corner on an edge
	} {
		if i, j, found := selfCrossing(c.ring); !found || i != c.i || j != c.j {
			t.Errorf("%v: %d and %d (%v), want %d and %d", c.ring, i, j, found, c.i, c.j)
		}
	}
}
