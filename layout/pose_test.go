package layout

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	gonum "gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"stowbay/geometry"
	"stowbay/vehicles"
)

// rotated turns a vector with gonum's quaternions: the outside check of poses and frames.
func rotated(v r3.Vector, deg float64, axis gonum.Vec) r3.Vector {
	w := gonum.NewRotation(deg*math.Pi/180, axis).Rotate(gonum.Vec{X: v.X, Y: v.Y, Z: v.Z})
	return r3.Vector{X: w.X, Y: w.Y, Z: w.Z}
}

// posedByGonum stands a point up by rotations: a quarter about x for the side, a quarter about y for the end, then the turn about z.
func posedByGonum(q r3.Vector, posture vehicles.Posture, turn int) r3.Vector {
	switch posture {
	case vehicles.Side:
		q = rotated(q, 90, gonum.Vec{X: 1})
	case vehicles.End:
		q = rotated(q, 90, gonum.Vec{Y: 1})
	}
	return rotated(q, float64(turn), gonum.Vec{Z: 1})
}

func blockCorners(size r3.Vector) []r3.Vector {
	var out []r3.Vector
	for i := range 8 {
		out = append(out, r3.Vector{X: size.X * float64(i&1), Y: size.Y * float64(i>>1&1), Z: size.Z * float64(i>>2)})
	}
	return out
}

func TestPoseAgainstGonum(t *testing.T) {
	size := r3.Vector{X: 355, Y: 151, Z: 108}
	for _, posture := range []vehicles.Posture{vehicles.Flat, vehicles.Side, vehicles.End, ""} {
		for _, turn := range []int{0, 90, 180, 270} {
			p := Pose{Size: size, Posture: posture, Turn: turn, At: r3.Vector{X: 10, Y: -20, Z: 30}}
			lo, hi := r3.Vector{X: 1e9, Y: 1e9, Z: 1e9}, r3.Vector{X: -1e9, Y: -1e9, Z: -1e9}
			for _, c := range blockCorners(size) {
				e := extent{lo, hi}.with(extent{posedByGonum(c, posture, turn), posedByGonum(c, posture, turn)})
				lo, hi = e.lo, e.hi
			}
			if !near(p.Extent(), hi.Sub(lo)) {
				t.Errorf("%s %d: extent %v, want %v", posture, turn, p.Extent(), hi.Sub(lo))
			}
			for _, q := range append(blockCorners(size), r3.Vector{X: 12, Y: 34, Z: 56}) {
				want := posedByGonum(q, posture, turn).Sub(lo).Add(p.At)
				if got := p.Point(q); !near(got, want) {
					t.Errorf("%s %d: %v stands at %v, want %v", posture, turn, q, got, want)
				}
				if got, want := p.Direction(q), posedByGonum(q, posture, turn); !near(got, want) {
					t.Errorf("%s %d: direction %v becomes %v, want %v", posture, turn, q, got, want)
				}
			}
			for face, n := range map[vehicles.Face]r3.Vector{
				vehicles.Front: {X: -1}, vehicles.Back: {X: 1}, vehicles.Left: {Y: -1}, vehicles.Right: {Y: 1}, vehicles.Bottom: {Z: -1}, vehicles.Top: {Z: 1},
			} {
				if got, want := p.Normal(face), posedByGonum(n, posture, turn); !near(got, want) {
					t.Errorf("%s %d: %s looks to %v, want %v", posture, turn, face, got, want)
				}
			}
		}
	}
}

// As the docs of the postures say it: on its side the right side is up, on its end the front face is.
func TestPosturesInWords(t *testing.T) {
	size := r3.Vector{X: 355, Y: 151, Z: 108}
	for _, c := range []struct {
		posture vehicles.Posture
		up      vehicles.Face
	}{{vehicles.Flat, vehicles.Top}, {vehicles.Side, vehicles.Right}, {vehicles.End, vehicles.Front}} {
		p := Pose{Size: size, Posture: c.posture}
		if n := p.Normal(c.up); n != (r3.Vector{Z: 1}) {
			t.Errorf("%s: the %s face looks to %v, want up", c.posture, c.up, n)
		}
	}
}

func TestFrameAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(-5000, 5000)
		f := NewFrame(vehicles.XYZ{num.Draw(t, "x"), num.Draw(t, "y"), num.Draw(t, "z")}, rapid.Float64Range(-360, 360).Draw(t, "turn"))
		p := r3.Vector{X: num.Draw(t, "px"), Y: num.Draw(t, "py"), Z: num.Draw(t, "pz")}
		want := rotated(p, f.Turn.Degrees(), gonum.Vec{Z: 1}).Add(f.Origin)
		if got := f.ToVehicle(p); !near(got, want) {
			t.Fatalf("%v stands at %v, want %v", p, got, want)
		}
		if back := f.FromVehicle(f.ToVehicle(p)); !near(back, p) {
			t.Fatalf("%v comes back as %v", p, back)
		}
		if d := f.DirectionFrom(f.Direction(p)); !near(d, p) {
			t.Fatalf("direction %v comes back as %v", p, d)
		}
	})
}

func TestQuarterTurnsAreExact(t *testing.T) {
	for _, c := range []struct {
		deg  float64
		x, y float64
	}{{0, 3, 5}, {90, -5, 3}, {180, -3, -5}, {270, 5, -3}, {-90, 5, -3}, {-180, -3, -5}, {360, 3, 5}, {-360, 3, 5}, {-270, -5, 3}} {
		f := NewFrame(vehicles.XYZ{}, c.deg)
		if got := f.ToVehicle(r3.Vector{X: 3, Y: 5, Z: 7}); got != (r3.Vector{X: c.x, Y: c.y, Z: 7}) {
			t.Errorf("%v degrees: %v, want (%v, %v, 7)", c.deg, got, c.x, c.y)
		}
	}
}

// The worked example: a box at (1000, 200, 300) turned by 90 degrees, a module at (10, 20, 5) in it. Box points (x, y)
// stand at (1000 - y, 200 + x) in the vehicle.
func TestSceneByHand(t *testing.T) {
	p := NewPlan(testDonor(), "By hand")
	box := &Box{ID: "b", At: vehicles.XYZ{1000, 200, 300}, TurnDeg: 90, Levels: []vehicles.Level{{Outline: rectangle(0, 0, 600, 400), CeilingMM: 250}},
		Modules: []Placement{
			{ID: "flat", Module: "brick", At: vehicles.XYZ{10, 20, 5}, Posture: vehicles.Flat},
			{ID: "end", Module: "brick", At: vehicles.XYZ{0, 0, 0}, Posture: vehicles.End, Turn: 180},
		}}
	p.Arrangements[0].Boxes = []*Box{box}
	s := Resolve(p, p.Arrangements[0], testLibrary(), nil)

	flat := s.Body("b/flat")
	wantPrism(t, "body", flat.Prism, geometry.NewBox(r3.Vector{X: 829, Y: 210, Z: 305}, r3.Vector{X: 980, Y: 565, Z: 413}))
	wantPrism(t, "rect", geometry.Prism{Base: flat.Rect.Polygon(), Bottom: 305, Top: 413}, flat.Prism)
	wantPoint(t, "+", flat.Terminals[0].Place, r3.Vector{X: 950, Y: 210, Z: 385})
	wantPoint(t, "+ looks to", flat.Terminals[0].Out, r3.Vector{Y: -1})
	wantPoint(t, "sense", flat.Ports[0].Place, r3.Vector{X: 829, Y: 510, Z: 355})
	wantPoint(t, "sense looks to", flat.Ports[0].Out, r3.Vector{X: -1})
	wantPoint(t, "centre of gravity", flat.CG, r3.Vector{X: 904.5, Y: 387.5, Z: 359})
	if len(flat.Strips) != 3 {
		t.Fatalf("%d strips, want 3", len(flat.Strips))
	}
	wantPrism(t, "strip of +", flat.Strips[0].Prism, geometry.NewBox(r3.Vector{X: 829, Y: 170, Z: 305}, r3.Vector{X: 980, Y: 210, Z: 413}))
	wantPrism(t, "strip of sense", flat.Strips[2].Prism, geometry.NewBox(r3.Vector{X: 814, Y: 210, Z: 305}, r3.Vector{X: 829, Y: 565, Z: 413}))

	// On its end the block is 108 by 151 by 355; (x, y, z) goes to (z, y, 355 - x), and half a turn to (108 - z, 151 - y, 355 - x).
	end := s.Body("b/end")
	wantPrism(t, "body on its end", end.Prism, geometry.NewBox(r3.Vector{X: 849, Y: 200, Z: 300}, r3.Vector{X: 1000, Y: 308, Z: 655}))
	wantPoint(t, "+ on its end", end.Terminals[0].Place, r3.Vector{X: 1000 - 121, Y: 228, Z: 655})
	wantPoint(t, "+ on its end looks to", end.Terminals[0].Out, r3.Vector{Z: 1})
	wantPrism(t, "strip on its end", end.Strips[0].Prism, geometry.NewBox(r3.Vector{X: 849, Y: 200, Z: 655}, r3.Vector{X: 1000, Y: 308, Z: 695}))

	// Walls, floor and lid are 1.5 mm where nothing is said.
	if v := s.Boxes[0].Inner.Volume(); math.Abs(v-597*397*247) > 1 {
		t.Errorf("interior of %v mm3, want %v", v, 597*397*247)
	}
}

func wantPoint(t *testing.T, what string, got, want r3.Vector) {
	t.Helper()
	if !near(got, want) {
		t.Errorf("%s: at %v, want %v", what, got, want)
	}
}

// wantPrism compares upright blocks whose sides follow the axes.
func wantPrism(t *testing.T, what string, got, want geometry.Prism) {
	t.Helper()
	g, w := planExtent(got.Base.Bounds(), got.Bottom, got.Top), planExtent(want.Base.Bounds(), want.Bottom, want.Top)
	if !near(g.lo, w.lo) || !near(g.hi, w.hi) || math.Abs(got.Volume()-want.Volume()) > 1e-3 {
		t.Errorf("%s: %v, want %v", what, g, w)
	}
}

func TestStripsAreWhatTheyAreInTheBox(t *testing.T) {
	p := testPlan()
	s := Resolve(p, p.Arrangements[0], testLibrary(), nil)
	s.Bodies(func(b *BoxScene, m *Body) {
		for i, st := range ModuleStrips(m.Module, m.Pose) {
			if got := m.Strips[i]; got.Of != st.Of || math.Abs(got.Prism.Volume()-st.Prism.Volume()) > 1e-3 ||
				!near(got.Prism.Centroid(), b.Frame.ToVehicle(st.Prism.Centroid())) {
				t.Errorf("%s: strip of %s at %v, in the box at %v", m.ID, st.Of, got.Prism, st.Prism)
			}
		}
	})
}

func TestSceneNamesWhatIsMissing(t *testing.T) {
	p := testPlan()
	s := Resolve(p, p.Arrangements[0], &vehicles.Library{}, nil)
	// The donor, 10 modules, a relay in a box and one outside.
	if len(s.Missing) != 13 || s.Count() != 0 {
		t.Errorf("%d missing, %d modules: %q", len(s.Missing), s.Count(), s.Missing)
	}
	again := Resolve(p, p.Arrangements[0], s.Library, s)
	if len(again.Missing) != 13 {
		t.Errorf("%d missing when the scene before is taken over, want 13", len(again.Missing))
	}
}

// Whatever is replaced, the scene that takes over the rest is the one made afresh.
func TestSceneNoticesEveryKindOfChange(t *testing.T) {
	lib := testLibrary()
	bare := testDonor()
	bare.ID, bare.KeepOuts = "bare", nil
	lib = lib.With(vehicles.Records{Donors: []*vehicles.Donor{bare}})
	p := testPlan()
	before := Resolve(p, p.Arrangements[0], lib, nil)
	box := func(f func(*Box)) func() (Edit, error) {
		return func() (Edit, error) { return ChangeBox(p, "a", "one", "x", func(b *Box) error { f(b); return nil }) }
	}
	for name, make := range map[string]func() (Edit, error){
		"donor":   func() (Edit, error) { return ChooseDonor(p, "bare") },
		"shell":   box(func(b *Box) { b.Shell.WallMM = 3 }),
		"liner":   box(func(b *Box) { b.Shell.LinerMM = 3 }),
		"levels":  box(func(b *Box) { b.Levels = []vehicles.Level{{Outline: rectangle(0, 0, 1150, 950), CeilingMM: 260}} }),
		"place":   box(func(b *Box) { b.At[2]++ }),
		"turn":    box(func(b *Box) { b.TurnDeg = 1 }),
		"gear":    box(func(b *Box) { b.Gear = nil }),
		"module":  box(func(b *Box) { b.Modules = append([]Placement{}, b.Modules...); b.Modules[2].Module = "slab" }),
		"posture": box(func(b *Box) { b.Modules = append([]Placement{}, b.Modules...); b.Modules[2].Posture = "end" }),
		"order":   box(func(b *Box) { b.Modules = append([]Placement{b.Modules[3]}, b.Modules...); b.Modules[0].ID = "m9" }),
		"fewer":   box(func(b *Box) { b.Modules = b.Modules[1:] }),
		"unknown": box(func(b *Box) { b.Modules = append([]Placement{}, b.Modules...); b.Modules[0].Module = "what" }),
		"bay":     func() (Edit, error) { return RemoveBay(p, "a", "rear") },
		"keep-out": func() (Edit, error) {
			return PutKeepOut(p, "a", vehicles.KeepOut{ID: "k", Outline: rectangle(0, 0, 9, 9), CeilingMM: 9})
		},
		"box gone": func() (Edit, error) { return Remove(p, "a", "one") },
		"outside":  func() (Edit, error) { return Remove(p, "a", "inv") },
	} {
		e, err := make()
		if err != nil {
			t.Fatal(name, err)
		}
		_, q, err := Settle(p, e, lib)
		if err != nil {
			t.Fatal(name, err)
		}
		fresh := Resolve(q, q.Arrangements[0], lib, nil)
		if d := sceneDiff(fresh, Resolve(q, q.Arrangements[0], lib, before)); d != "" {
			t.Errorf("%s: %s", name, d)
		}
		if sceneDiff(fresh, before) == "" {
			t.Errorf("%s: the scene is as before; this shows nothing", name)
		}
		// And back again, from a scene in which some modules may have been missing.
		if d := sceneDiff(before, Resolve(p, p.Arrangements[0], lib, fresh)); d != "" {
			t.Errorf("back from %s: %s", name, d)
		}
	}
	heavier := testModule()
	heavier.LengthMM = 400
	other := lib.With(recordsOf(heavier))
	if d := sceneDiff(Resolve(p, p.Arrangements[0], other, nil), Resolve(p, p.Arrangements[0], other, before)); d != "" {
		t.Errorf("another library: %s", d)
	}
}
