package packing

import (
	"fmt"
	"math"
	"testing"
)

// The verifier below is slow and plain on purpose, works on the public types in
// floating point, and shares no code with the solver. Every placement that a test
// or a benchmark produces goes through it.

// tol is well below the lattice step of 0.01 mm and well above rounding.
const tol = 1e-3

type box struct{ x0, y0, x1, y1 float64 }

func (b box) meets(c box) bool {
	return b.x0 < c.x1-tol && c.x0 < b.x1-tol && b.y0 < c.y1-tol && c.y0 < b.y1-tol
}

// verify fails the test for every rule of the model that a result breaks.
func verify(t testing.TB, p Problem, r Result) {
	t.Helper()
	for _, fault := range faultsOf(p, r) {
		t.Error(fault)
	}
}

func faultsOf(p Problem, r Result) []string {
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if r.Count != len(r.Placements) {
		add("count %d, placements %d", r.Count, len(r.Placements))
	}
	if r.Count > r.Bound {
		add("count %d above bound %d", r.Count, r.Bound)
	}
	for i, a := range r.Placements {
		if a.Fixed {
			continue
		}
		if why := standing(p, r, a); why != "" {
			add("placement %d %+v: %s", i, a, why)
		}
		for j, b := range r.Placements {
			if i != j && a.Bay == b.Bay && (j > i || b.Fixed) {
				if why := clash(p, a, b); why != "" {
					add("placements %d and %d: %s: %+v %+v", i, j, why, a, b)
				}
			}
		}
	}
	return out
}

func postureOf(p Problem, a Placement) Posture {
	for _, q := range p.Postures {
		if q.Name == a.Posture {
			return q
		}
	}
	panic("no posture " + a.Posture)
}

func footprint(p Problem, a Placement) box {
	q := postureOf(p, a)
	l, w := q.LengthMM, q.WidthMM
	if a.Turn == 90 || a.Turn == 270 {
		l, w = w, l
	}
	return box{a.X, a.Y, a.X + l, a.Y + w}
}

// facing gives the gaps of a placement along x and along y.
func facing(p Problem, a Placement) (gx, gy float64) {
	g := postureOf(p, a).Gaps
	if a.Turn == 90 || a.Turn == 270 {
		return g.SideMM, g.EndMM
	}
	return g.EndMM, g.SideMM
}

// stripBoxes turns corners of the strips about the middle of the module.
func stripBoxes(p Problem, a Placement) []box {
	q := postureOf(p, a)
	f := footprint(p, a)
	cx, cy := (f.x0+f.x1)/2, (f.y0+f.y1)/2
	l, w := q.LengthMM/2, q.WidthMM/2
	s, c := math.Sincos(float64(a.Turn) * math.Pi / 180)
	var out []box
	for _, st := range q.Strips {
		if st.Face == Top || st.DepthMM == 0 {
			continue
		}
		var x0, y0, x1, y1 float64
		from, to := st.FromMM, st.ToMM
		switch st.Face {
		case PlusX, MinusX:
			if to == 0 {
				to = q.WidthMM
			}
			x0, x1, y0, y1 = l, l+st.DepthMM, from-w, to-w
			if st.Face == MinusX {
				x0, x1 = -l-st.DepthMM, -l
			}
		default:
			if to == 0 {
				to = q.LengthMM
			}
			x0, x1, y0, y1 = from-l, to-l, w, w+st.DepthMM
			if st.Face == MinusY {
				y0, y1 = -w-st.DepthMM, -w
			}
		}
		ax, ay := cx+x0*c-y0*s, cy+x0*s+y0*c
		bx, by := cx+x1*c-y1*s, cy+x1*s+y1*c
		out = append(out, box{math.Min(ax, bx), math.Min(ay, by), math.Max(ax, bx), math.Max(ay, by)})
	}
	return out
}

func tall(p Problem, a Placement) float64 {
	q := postureOf(p, a)
	up := q.Gaps.TopMM
	for _, s := range q.Strips {
		if s.Face == Top {
			up = math.Max(up, s.DepthMM)
		}
	}
	return q.HeightMM + up
}

// clash says why two modules cannot stand together.
func clash(p Problem, a, b Placement) string {
	if a.Z >= b.Z+tall(p, b)-tol || b.Z >= a.Z+tall(p, a)-tol {
		return ""
	}
	fa, fb := footprint(p, a), footprint(p, b)
	ax, ay := facing(p, a)
	bx, by := facing(p, b)
	dx := math.Max(fb.x0-fa.x1, fa.x0-fb.x1)
	dy := math.Max(fb.y0-fa.y1, fa.y0-fb.y1)
	if dx < math.Max(ax, bx)-tol && dy < math.Max(ay, by)-tol {
		return fmt.Sprintf("apart by %v and %v", dx, dy)
	}
	for _, s := range stripBoxes(p, a) {
		if s.meets(fb) {
			return "body in strip"
		}
	}
	for _, s := range stripBoxes(p, b) {
		if s.meets(fa) {
			return "body in strip"
		}
	}
	return ""
}

// standing says why a module cannot stand where it does.
func standing(p Problem, r Result, a Placement) string {
	for _, b := range p.Bays {
		if b.ID == a.Bay {
			return standingIn(p, r, b, a)
		}
	}
	return "no such bay"
}

func standingIn(p Problem, r Result, b Bay, a Placement) string {
	f := footprint(p, a)
	if !rests(p, r, b, a) {
		return "rests on nothing"
	}
	for _, x := range b.Forbidden {
		always := x.FromMM == 0 && x.ToMM == 0
		if (always || (a.Z < x.ToMM-tol && x.FromMM < a.Z+postureOf(p, a).HeightMM-tol)) && touchesArea(f, x.Region) {
			return "in a forbidden region"
		}
	}
	if len(b.Levels) > 1 {
		return inLevels(p, b, a)
	}
	l := b.Levels[0]
	if a.Z+tall(p, a) > l.CeilingMM+tol {
		return "through the ceiling"
	}
	if why := inRegion(f, l.Region, postureOf(p, a).Gaps.WallMM); why != "" {
		return why
	}
	for _, s := range stripBoxes(p, a) {
		if why := inRegion(s, l.Region, 0); why != "" {
			return "strip " + why
		}
	}
	return ""
}

// inLevels samples the body on a raster: each sample lies in a level tall enough.
func inLevels(p Problem, b Bay, a Placement) string {
	f := footprint(p, a)
	const n = 40
	for i := range n {
		for j := range n {
			x := f.x0 + (f.x1-f.x0)*(float64(i)+0.5)/n
			y := f.y0 + (f.y1-f.y0)*(float64(j)+0.5)/n
			ok := false
			for _, l := range b.Levels {
				if l.FloorMM <= a.Z+tol && a.Z+tall(p, a) <= l.CeilingMM+tol && inArea(x, y, l.Region) {
					ok = true
				}
			}
			if !ok {
				return fmt.Sprintf("in no level at %v, %v", x, y)
			}
		}
	}
	return ""
}

// rests reports whether a module stands on a floor or over a module whose top, with what stays free above it, it touches.
func rests(p Problem, r Result, b Bay, a Placement) bool {
	for _, l := range b.Levels {
		if math.Abs(l.FloorMM-a.Z) < tol {
			return true
		}
	}
	for _, q := range r.Placements {
		f, g := footprint(p, a), footprint(p, q)
		over := f.x0 < g.x1-tol && g.x0 < f.x1-tol && f.y0 < g.y1-tol && g.y0 < f.y1-tol
		if q.Bay == a.Bay && over && math.Abs(q.Z+tall(p, q)-a.Z) < tol {
			return true
		}
	}
	return false
}

func inArea(x, y float64, r Region) bool {
	if !inPolygon(x, y, r.Outline) {
		return false
	}
	for _, k := range r.KeepOuts {
		if inPolygon(x, y, k) {
			return false
		}
	}
	return true
}

// inPolygon sums the angles at which the edges are seen.
func inPolygon(x, y float64, ps []Point) bool {
	var sum float64
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		ux, uy, vx, vy := a.X-x, a.Y-y, b.X-x, b.Y-y
		sum += math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
	}
	return math.Abs(sum) > 1
}

// inRegion says how a rectangle fails to lie in a region with a gap to its walls.
func inRegion(f box, r Region, gap float64) string {
	if !inPolygon((f.x0+f.x1)/2, (f.y0+f.y1)/2, r.Outline) {
		return "outside"
	}
	rings := append([][]Point{r.Outline}, r.KeepOuts...)
	for k, ring := range rings {
		if k > 0 && inPolygon((f.x0+f.x1)/2, (f.y0+f.y1)/2, ring) {
			return "in a keep-out"
		}
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if segmentMeets(a, b, f) {
				return "through a wall"
			}
			if gap > 0 && distance(a, b, f) < gap-tol {
				return fmt.Sprintf("%v mm from a wall", distance(a, b, f))
			}
		}
		// A keep-out wholly inside the body.
		if k > 0 && f.x0+tol < ring[0].X && ring[0].X < f.x1-tol && f.y0+tol < ring[0].Y && ring[0].Y < f.y1-tol {
			return "over a keep-out"
		}
	}
	return ""
}

func touchesArea(f box, r Region) bool {
	if inArea((f.x0+f.x1)/2, (f.y0+f.y1)/2, r) {
		return true
	}
	for _, ring := range append([][]Point{r.Outline}, r.KeepOuts...) {
		for i, a := range ring {
			if segmentMeets(a, ring[(i+1)%len(ring)], f) {
				return true
			}
		}
	}
	return false
}

// segmentMeets clips a segment to the rectangle less a hair's breadth (Liang-Barsky).
func segmentMeets(a, b Point, f box) bool {
	t0, t1 := 0.0, 1.0
	clip := func(d, lo, hi, at float64) bool {
		if math.Abs(d) < 1e-12 {
			return lo < at && at < hi
		}
		u, v := (lo-at)/d, (hi-at)/d
		t0, t1 = math.Max(t0, math.Min(u, v)), math.Min(t1, math.Max(u, v))
		return t0 < t1
	}
	return clip(b.X-a.X, f.x0+tol, f.x1-tol, a.X) && clip(b.Y-a.Y, f.y0+tol, f.y1-tol, a.Y) && t0 < t1
}

// distance is from a segment to a rectangle that it does not cross.
func distance(a, b Point, f box) float64 {
	least := math.Min(pointToBox(a, f), pointToBox(b, f))
	for _, c := range []Point{{f.x0, f.y0}, {f.x1, f.y0}, {f.x0, f.y1}, {f.x1, f.y1}} {
		least = math.Min(least, pointToSegment(c, a, b))
	}
	return least
}

func pointToBox(p Point, f box) float64 {
	dx := math.Max(0, math.Max(f.x0-p.X, p.X-f.x1))
	dy := math.Max(0, math.Max(f.y0-p.Y, p.Y-f.y1))
	return math.Hypot(dx, dy)
}

func pointToSegment(p, a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := ((p.X-a.X)*dx + (p.Y-a.Y)*dy) / (dx*dx + dy*dy)
	t = math.Max(0, math.Min(1, t))
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}
