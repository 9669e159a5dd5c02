package packing

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawBay draws a small rectilinear bay on whole numbers: a rectangle with up to
// two corners cut out and up to two islands.
func drawBay(t *rapid.T) Region {
	w, h := float64(rapid.IntRange(8, 20).Draw(t, "w")), float64(rapid.IntRange(6, 14).Draw(t, "h"))
	a, b := math.Floor(w*float64(rapid.IntRange(1, 6).Draw(t, "a"))/8), math.Floor(h*float64(rapid.IntRange(1, 6).Draw(t, "b"))/8)
	a, b = math.Max(a, 1), math.Max(b, 1)
	r := Region{Outline: []Point{{0, 0}, {w, 0}, {w, b}, {a, b}, {a, h}, {0, h}}}
	if rapid.Bool().Draw(t, "plain") {
		r.Outline = []Point{{0, 0}, {w, 0}, {w, h}, {0, h}}
	}
	for range rapid.IntRange(0, 2).Draw(t, "islands") {
		r.KeepOuts = append(r.KeepOuts, drawIsland(t, w, h))
	}
	return r
}

func drawIsland(t *rapid.T, w, h float64) []Point {
	x := float64(rapid.IntRange(0, int(w)-2).Draw(t, "x"))
	y := float64(rapid.IntRange(0, int(h)-2).Draw(t, "y"))
	a, b := float64(rapid.IntRange(1, 3).Draw(t, "ia")), float64(rapid.IntRange(1, 3).Draw(t, "ib"))
	return []Point{{x, y}, {x + a, y}, {x + a, y + b}, {x, y + b}}
}

func drawPosture(t *rapid.T) Posture {
	w := float64(rapid.IntRange(2, 4).Draw(t, "width"))
	q := Posture{Name: "m", WidthMM: w, LengthMM: w + float64(rapid.IntRange(1, 5).Draw(t, "more")), HeightMM: 10}
	switch rapid.IntRange(0, 3).Draw(t, "trait") {
	case 1:
		q.Gaps = Gaps{SideMM: 1, EndMM: 1, WallMM: float64(rapid.IntRange(0, 2).Draw(t, "wall"))}
	case 2:
		q.Gaps = Gaps{SideMM: float64(rapid.IntRange(0, 1).Draw(t, "side")), EndMM: float64(rapid.IntRange(0, 2).Draw(t, "end"))}
	case 3:
		q.Strips = []Strip{{Face: Face(rapid.IntRange(0, 3).Draw(t, "face")), DepthMM: 1}}
		q.EndsDiffer = true
	}
	return q
}

func oneBay(r Region, q Posture) Problem {
	return Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: r, CeilingMM: 10}}}}, Postures: []Posture{q}}
}

// solved solves, verifies and demands count <= bound.
func solved(t *rapid.T, tt *testing.T, p Problem) Result {
	res, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faultsOf(p, res) {
		t.Error(f)
	}
	return res
}

// neverMore demands that b cannot hold more than a, in counts where a is proved,
// and in any case that b's count stays within a's bound.
func neverMore(t *rapid.T, a, b Result, what string) {
	if b.Count > a.Bound || (a.Proved && b.Count > a.Count) {
		t.Errorf("%s raised the count from %d (bound %d) to %d", what, a.Count, a.Bound, b.Count)
	}
}

func TestAKeepOutNeverRaisesTheMaximum(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r, q := drawBay(rt), drawPosture(rt)
		before := solved(rt, t, oneBay(r, q))
		b := boundsMM(r)
		r.KeepOuts = append(append([][]Point{}, r.KeepOuts...), drawIsland(rt, b.X, b.Y))
		neverMore(rt, before, solved(rt, t, oneBay(r, q)), "a keep-out")
	})
}

func boundsMM(r Region) Point {
	var p Point
	for _, q := range r.Outline {
		p = Point{math.Max(p.X, q.X), math.Max(p.Y, q.Y)}
	}
	return p
}

func TestScalingAndMirroringLeaveTheMaximum(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r, q := drawBay(rt), drawPosture(rt)
		before := solved(rt, t, oneBay(r, q))
		k := rapid.SampledFrom([]float64{0.5, 3, 12.5}).Draw(rt, "scale")
		scaled := solved(rt, t, oneBay(mapped(r, func(p Point) Point { return Point{p.X * k, p.Y * k} }), scaledPosture(q, k)))
		mirrored := solved(rt, t, oneBay(mapped(r, func(p Point) Point { return Point{100 - p.X, p.Y} }), mirroredPosture(q)))
		for _, after := range []Result{scaled, mirrored} {
			if before.Proved && after.Proved && before.Count != after.Count {
				rt.Errorf("%d before, %d after", before.Count, after.Count)
			}
			neverMore(rt, before, after, "scaling or mirroring")
			neverMore(rt, after, before, "undoing it")
		}
	})
}

func mapped(r Region, f func(Point) Point) Region {
	ring := func(ps []Point) (out []Point) {
		for _, p := range ps {
			out = append(out, f(p))
		}
		return out
	}
	out := Region{Outline: ring(r.Outline)}
	for _, k := range r.KeepOuts {
		out.KeepOuts = append(out.KeepOuts, ring(k))
	}
	return out
}

func scaledPosture(q Posture, k float64) Posture {
	q.LengthMM, q.WidthMM = q.LengthMM*k, q.WidthMM*k
	q.Gaps = Gaps{SideMM: q.Gaps.SideMM * k, EndMM: q.Gaps.EndMM * k, WallMM: q.Gaps.WallMM * k, TopMM: q.Gaps.TopMM * k}
	q.Strips = append([]Strip{}, q.Strips...)
	for i := range q.Strips {
		q.Strips[i].DepthMM *= k
	}
	return q
}

// mirroredPosture is the module seen in a mirror across x; whole-face strips only.
func mirroredPosture(q Posture) Posture {
	q.Strips = append([]Strip{}, q.Strips...)
	for i, s := range q.Strips {
		switch s.Face {
		case PlusX:
			q.Strips[i].Face = MinusX
		case MinusX:
			q.Strips[i].Face = PlusX
		}
	}
	return q
}

func TestFixingNeverRaisesTheMaximum(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r, q := drawBay(rt), drawPosture(rt)
		p := oneBay(r, q)
		before := solved(rt, t, p)
		if before.Count == 0 {
			rt.Skip("nothing fits")
		}
		for range rapid.IntRange(1, 2).Draw(rt, "fixed") {
			f := rapid.SampledFrom(before.Placements).Draw(rt, "which")
			if !contains(p.Fixed, f) {
				p.Fixed = append(p.Fixed, f)
			}
		}
		after := solved(rt, t, p)
		neverMore(rt, before, after, "fixing")
		if before.Proved && after.Proved && after.Count != before.Count {
			rt.Errorf("modules fixed where an optimum has them: %d before, %d after", before.Count, after.Count)
		}
	})
}

func contains(ps []Placement, q Placement) bool {
	for _, p := range ps {
		if p == q {
			return true
		}
	}
	return false
}

func TestGoalsLeaveTheCount(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := oneBay(drawBay(rt), drawPosture(rt))
		before := solved(rt, t, p)
		b := rapid.Bool()
		p.Goal = Goal{Low: b.Draw(rt, "low"), Forward: b.Draw(rt, "forward"), Centre: b.Draw(rt, "centre"),
			Rows: b.Draw(rt, "rows"), FacingTerminals: b.Draw(rt, "facing"), Mirror: b.Draw(rt, "mirror"), MirrorYMM: 5}
		p.Postures[0].Terminals = []Face{PlusX}
		if after := solved(rt, t, p); after.Count != before.Count {
			rt.Errorf("%d without goals, %d with", before.Count, after.Count)
		}
	})
}
