package drawing

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
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
