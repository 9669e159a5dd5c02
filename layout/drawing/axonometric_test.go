package drawing

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

// Parallel projections used in technical drawing, ISO 5456-3: the isometric one looks along the space diagonal,
// so that the three axes are foreshortened alike, by the square root of two thirds, 120 degrees apart.
func TestIsometricEyeForeshortensAlike(t *testing.T) {
	e := Eye{YawDeg: 45, PitchDeg: math.Atan(1/math.Sqrt2) * 180 / math.Pi}
	var dirs [3]r2.Point
	for i, v := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		dirs[i] = e.Point(v)
		if got := dirs[i].Norm(); math.Abs(got-math.Sqrt(2.0/3)) > 1e-12 {
			t.Errorf("axis %d has length %v", i, got)
		}
	}
	for i := range dirs {
		if got := math.Abs(dirs[i].Dot(dirs[(i+1)%3])); math.Abs(got-1.0/3) > 1e-12 {
			t.Errorf("axes %d and %d: %v, want cos 120 or cos 60 of the length's square", i, (i+1)%3, got)
		}
	}
}

// Of a prism with any base the side's cosine to the eye is that of the normal by the cross product of two of its edges in space; it
// turns with the ring's sense in no way, however small the base.
func TestFacesLookAsTheirNormals(t *testing.T) {
	ring := geometry.Ring{{X: 0, Y: 0}, {X: 0.9, Y: 0.1}, {X: 0.7, Y: 0.8}, {X: 0.2, Y: 0.6}}
	for _, e := range []Eye{{30, 20}, {-100, 45}, {170, 70}} {
		a := newAxo(&Options{}, e)
		for _, base := range []geometry.Ring{ring, ring.Reversed()} {
			fs := a.faces(geometry.Prism{Base: geometry.Polygon{Outer: base}, Bottom: 2, Top: 5})
			for i, f := range fs[2:] {
				b, c := ring[i], ring[(i+1)%4]
				edge, up := r3.Vector{X: c.X - b.X, Y: c.Y - b.Y}, r3.Vector{Z: 1}
				want := edge.Cross(up).Normalize().Dot(a.towards)
				if base.Area() < 0 {
					f = fs[2+indexOf(a, fs[2:], b, c)]
				}
				if math.Abs(f.facing-want) > 1e-9 {
					t.Errorf("eye %v, side %d: %g, want %g", e, i, f.facing, want)
				}
			}
		}
	}
}

// indexOf is the face whose lower edge runs between two corners.
func indexOf(a *axo, fs []face, b, c r2.Point) int {
	from, to := a.at(r3.Vector{X: b.X, Y: b.Y, Z: 2}), a.at(r3.Vector{X: c.X, Y: c.Y, Z: 2})
	for i, f := range fs {
		if f.ring[0].Sub(from).Norm()+f.ring[1].Sub(to).Norm() < 1e-9 {
			return i
		}
	}
	return 0
}

// Solids that each hide the next are painted from the farthest on, none twice.
func TestRingOfSolidsIsPainted(t *testing.T) {
	bs := make([]axoBody, 3)
	for i := range bs {
		bs[i].prism.Top = float64(i + 1)
	}
	for i, q := range ordered(bs, []int{1, 1, 1}, [][]int{{1}, {2}, {0}}) {
		if q.prism.Top != float64(i+1) {
			t.Errorf("%g is painted as number %d", q.prism.Top, i+1)
		}
	}
}

// Of two that touch, the one on the eye's side can hide the other, along any axis; middles count for the depth.
func TestTouchingBlocksAreParted(t *testing.T) {
	a := newAxo(&Options{}, Eye{30, 20})
	block := func(lo r3.Vector) geometry.Prism {
		return geometry.NewBox(lo, lo.Add(r3.Vector{X: 100, Y: 100, Z: 100}))
	}
	p := block(r3.Vector{})
	for _, step := range []r3.Vector{{X: 100}, {X: -100}, {Y: 100}, {Y: -100}, {Z: 100}, {Z: -100}} {
		q := block(step)
		near := step.Dot(a.towards) > 0
		if hides, parted := a.hides(q, p); hides != near || !parted {
			t.Errorf("one %v farther: hides %v, parted %v", step, hides, parted)
		}
		if d := a.depth(q) - a.depth(p) - step.Dot(a.towards); math.Abs(d) > 1e-9 {
			t.Errorf("one %v farther is %g too deep", step, d)
		}
	}
	if d := a.depth(geometry.NewBox(r3.Vector{Z: 100}, r3.Vector{Z: 300})) - 200*a.towards.Z; math.Abs(d) > 1e-9 {
		t.Errorf("the middle of 100 to 300 is %g off", d)
	}
}

// A side that is seen on its edge is drawn neither with the far walls nor with the near edges of its box.
func TestWallsOnEdgeAreNotDrawn(t *testing.T) {
	for e, want := range map[Eye][2]int{{0, 30}: {2, 2}, {30, 20}: {3, 3}, {0, 0}: {1, 1}} {
		s := geometry.Space{Solids: []geometry.Prism{geometry.NewBox(r3.Vector{}, r3.Vector{X: 100, Y: 80, Z: 60})}}
		a, b := newAxo(&Options{}, e), newAxo(&Options{}, e)
		a.farWalls(Tag{}, s)
		b.nearEdges(Tag{}, s)
		if far, near := len(a.p.items)/2, len(b.p.items); far != want[0] || near != want[1] {
			t.Errorf("eye %v: %d far walls and %d near ones, want %v", e, far, near, want)
		}
	}
	box := geometry.NewBox(r3.Vector{}, r3.Vector{X: 1, Y: 1, Z: 1})
	if a, b := farPt(geometry.Space{Solids: []geometry.Prism{box}}), farPt(geometry.Space{Solids: []geometry.Prism{box, box}}); a != 0 || b != 0.5 {
		t.Errorf("far edges of one level %g and of two %g points", a, b)
	}
}

// A number is half as high as the top's lesser side as it is seen and half as wide, 60 mm at most, and left out where it would be less than 6 or the
// top is seen at less than 14.5 degrees (a quarter of it).
func TestNumbersOnTops(t *testing.T) {
	for _, c := range []struct {
		id                string
		side, pitch, want float64
	}{{"1", 40, 90, 20}, {"1", 40, 30, 10}, {"1", 500, 90, 60}, {"1", 12.2, 90, 6.1}, {"1", 11.8, 90, 0}, {"1", 200, 14.6, 25.2069}, {"1", 200, 14.3, 0}, {"1234", 50, 90, 25 / 2.28}} {
		a := newAxo(&Options{}, Eye{0, c.pitch})
		a.number(Tag{}, &layout.Body{Placement: &layout.Placement{ID: c.id}, Prism: geometry.NewBox(r3.Vector{}, r3.Vector{X: c.side, Y: 2 * c.side, Z: 50})})
		got := 0.0
		if len(a.p.items) > 0 {
			got = a.p.items[0].(Text).InMM
		}
		if math.Abs(got-c.want) > 1e-3 {
			t.Errorf("a side of %g under %g degrees: %g, want %g", c.side, c.pitch, got, c.want)
		}
	}
}

// Round bodies, of more than twelve corners, have no upright lines.
func TestRoundBodiesAreDrawnAsTwoRings(t *testing.T) {
	for n, want := range map[int]int{12: 14, 13: 2} {
		a := newAxo(&Options{}, Eye{30, 20})
		if a.wire(Tag{}, geometry.Prism{Base: a.p.disc(pt(0, 0), 50, n), Top: 10}); len(a.p.items) != want {
			t.Errorf("%d corners: %d lines, want %d", n, len(a.p.items), want)
		}
	}
}

// The three views are eyes too.
func TestEyesAgreeWithTheViews(t *testing.T) {
	v := r3.Vector{X: 12, Y: -7, Z: 3}
	for view, e := range map[View]Eye{SideView: {0, 0}, RearView: {-90, 0}} {
		if d := e.Point(v).Sub(view.Point(v)).Norm(); d > 1e-9 {
			t.Errorf("%v: %v against %v", view, e.Point(v), view.Point(v))
		}
	}
	above := Eye{0, 90}.Point(v)
	if d := above.Sub(PlanView.Point(v)).Norm(); d > 1e-9 {
		t.Errorf("from above: %v against %v", above, PlanView.Point(v))
	}
}

// Where a ray from the eye meets two blocks, the nearer one is painted later: checked by casting rays through
// a pile of blocks, which the ordering does not do.
func TestNearBlocksArePaintedOverFarOnes(t *testing.T) {
	var pile []geometry.Prism
	for i := range 4 {
		for j := range 3 {
			for k := range 2 {
				lo := r3.Vector{X: float64(i) * 110, Y: float64(j) * 60, Z: float64(k) * 45}
				pile = append(pile, geometry.NewBox(lo, lo.Add(r3.Vector{X: 100 + 300*float64((j+k)%2), Y: 50, Z: 40})))
			}
		}
		if i == 1 {
			break
		}
	}
	pile = append(pile, geometry.NewBox(r3.Vector{X: -40, Y: -200, Z: 0}, r3.Vector{X: -20, Y: 400, Z: 300}))
	for yaw := -170.0; yaw < 180; yaw += 35 {
		a := newAxo(&Options{}, Eye{yaw, 30})
		var bodies []axoBody
		for _, q := range disjoint(pile) {
			bodies = append(bodies, a.body(q, nil))
		}
		order := a.farToNear(bodies)
		for x := -300.0; x < 600; x += 7 {
			for y := -300.0; y < 400; y += 7 {
				checkRay(t, a, order, pt(x, y), yaw)
			}
		}
	}
}

func disjoint(qs []geometry.Prism) []geometry.Prism {
	var out []geometry.Prism
	for _, q := range qs {
		free := true
		for _, p := range out {
			free = free && !p.Overlaps(q)
		}
		if free {
			out = append(out, q)
		}
	}
	return out
}

// checkRay walks along the sight line of a place of the picture: the block met last in painting has to be the
// first met from the eye.
func checkRay(t *testing.T, a *axo, order []axoBody, q r2.Point, yaw float64) {
	t.Helper()
	painted, nearest, best := -1, -1, math.Inf(-1)
	for i, b := range order {
		if d, ok := a.meets(b.prism, q); ok {
			painted = i
			if d > best {
				nearest, best = i, d
			}
		}
	}
	if painted != nearest {
		t.Fatalf("yaw %v: at %v block %d is painted over the nearer block %d", yaw, q, painted, nearest)
	}
}

// meets gives how near to the eye the sight line through q leaves a block, by the slab method.
func (a *axo) meets(p geometry.Prism, q r2.Point) (float64, bool) {
	o := a.right.Mul(q.X).Add(a.up.Mul(q.Y))
	b := p.Base.Bounds()
	lo, hi := math.Inf(-1), math.Inf(1)
	for _, s := range [3][4]float64{{o.X, a.towards.X, b.X.Lo, b.X.Hi}, {o.Y, a.towards.Y, b.Y.Lo, b.Y.Hi}, {o.Z, a.towards.Z, p.Bottom, p.Top}} {
		if math.Abs(s[1]) < 1e-12 {
			if s[0] < s[2] || s[0] > s[3] {
				return 0, false
			}
			continue
		}
		t0, t1 := (s[2]-s[0])/s[1], (s[3]-s[0])/s[1]
		lo, hi = max(lo, min(t0, t1)), min(hi, max(t0, t1))
	}
	return hi, lo < hi-1e-9
}

func TestAxonometricShowsEveryTopModule(t *testing.T) {
	s := inventedScene(3, 2)
	l := Axonometric(s, fullOptions(), -35, 30)
	seen := map[string]bool{}
	for _, it := range l.Items {
		seen[it.Tag().Ref] = true
	}
	for _, b := range s.Boxes {
		for _, m := range b.Modules {
			if !seen[m.ID] {
				t.Errorf("module %s is not drawn", m.ID)
			}
		}
	}
}

func BenchmarkAxonometric400(b *testing.B) {
	s := inventedScene(10, 10)
	b.ReportAllocs()
	for b.Loop() {
		Axonometric(s, Options{}, -35, 30)
	}
}
