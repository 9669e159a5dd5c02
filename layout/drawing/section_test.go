package drawing

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"stowbay/geometry"
)

// The lengths cut out of a polygon, summed over x, come to its area (Cavalieri).
func TestCutsMeasureTheArea(t *testing.T) {
	area := geometry.Polygon{Outer: geometry.Ring{{X: 0, Y: 0}, {X: 400, Y: -30}, {X: 500, Y: 200}, {X: 250, Y: 120}, {X: 60, Y: 300}},
		Holes: []geometry.Ring{geometry.NewRect(150, 40, 260, 90).Outer}}
	sum := 0.0
	for x := -10.0; x < 510; x += 0.25 {
		for _, y := range cutAt(area, x) {
			sum += y.Length() * 0.25
		}
	}
	if want := area.Area(); math.Abs(sum-want) > 0.002*want {
		t.Errorf("cut %v, want %v", sum, want)
	}
}

// A place inside an interval is inside the polygon by the exact predicate, and one outside all is not.
func TestCutsAgreeWithTheExactPredicate(t *testing.T) {
	area := geometry.Polygon{Outer: geometry.Ring{{X: 0, Y: 0}, {X: 400, Y: -30}, {X: 500, Y: 200}, {X: 250, Y: 120}, {X: 60, Y: 300}}}
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(-20, 520).Draw(t, "x"), rapid.Float64Range(-50, 320).Draw(t, "y")
		in := false
		for _, iv := range cutAt(area, x) {
			if math.Abs(y-iv.Lo) < 0.1 || math.Abs(y-iv.Hi) < 0.1 {
				t.Skip()
			}
			in = in || iv.InteriorContains(y)
		}
		where := area.Contains(r2.Point{X: x, Y: y})
		if where != geometry.Boundary && in != (where == geometry.Inside) {
			t.Fatalf("at %v, %v: cut says %v, predicate %v", x, y, in, where)
		}
	})
}

// The section 700 mm behind the front axle cuts both side boxes and not the rear one.
func TestSectionShowsWhatItCuts(t *testing.T) {
	s := inventedScene(3, 2)
	cut := map[string]int{}
	for _, it := range Section(s, 700, Options{}).Items {
		if f, ok := it.(Fill); ok && f.Of.Role == RoleModule {
			cut[f.Of.Ref[:4]]++
			if got, want := f.Area.Area(), 152.0*108; math.Abs(got-want) > 1e-6 {
				t.Errorf("%s is cut with %v mm2, want %v", f.Of.Ref, got, want)
			}
		}
	}
	if cut["left"] != 4 || cut["righ"] != 4 || cut["rear"] != 0 {
		t.Errorf("modules cut: %v", cut)
	}
}

// The wall's hatch has the area of the outer less the inner rectangle.
func TestSectionHatchesTheWall(t *testing.T) {
	s := inventedScene(3, 2)
	outer, inner := s.Boxes[0].Outer.Solids[0], s.Boxes[0].Inner.Solids[0]
	want := outer.Base.Bounds().Size().Y*outer.Height() - inner.Base.Bounds().Size().Y*inner.Height()
	got := 0.0
	for _, it := range Section(s, 700, Options{}).Items {
		if h, ok := it.(Hatch); ok && h.Of.Role == RoleCut && h.Of.Ref == "left" {
			got += h.Area.Area()
		}
	}
	if math.Abs(got-want) > 0.01*want {
		t.Errorf("wall %v mm2, want %v", got, want)
	}
}
