package layout

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/vehicles"
)

// Whatever the posture and turn, the end gap lies where the module's length lies, the swelling where its axis has turned to
// (gonum's rotations) and the top gap above.
func TestGapsTurnWithTheModule(t *testing.T) {
	m := testModule()
	m.Gaps = vehicles.Gaps{EndMM: 30, SideMM: 4, TopMM: 11, WallMM: 6}
	m.Swelling.MM = 7
	axes := map[string]r3.Vector{"length": {X: 1}, "width": {Y: 1}, "height": {Z: 1}, "": {}}
	for _, posture := range []vehicles.Posture{vehicles.Flat, vehicles.Side, vehicles.End} {
		for _, turn := range []int{0, 90, 180, 270} {
			for name, axis := range axes {
				m.Swelling.Axis = name
				g := GapsOf(m, Pose{Size: r3.Vector{X: 355, Y: 151, Z: 108}, Posture: posture, Turn: turn})
				along := posedByGonum(r3.Vector{X: 1}, posture, turn).Abs()
				want := r3.Vector{X: 4 + 26*math.Round(along.X), Y: 4 + 26*math.Round(along.Y), Z: 11}
				if !near(g.Between, want) || g.Wall != 6 {
					t.Errorf("%s %d: gaps %v, want %v", posture, turn, g.Between, want)
				}
				if want := posedByGonum(axis, posture, turn).Abs().Mul(7); !near(g.Swell, want) {
					t.Errorf("%s %d: swells by %v along its %s, want %v", posture, turn, g.Swell, name, want)
				}
			}
		}
	}
	if (GapsOf(nil, Pose{}) != BodyGaps{}) {
		t.Error("gear keeps gaps")
	}
}

// By hand: a flange of 20 mm where nothing is said, as the format says; the densities of EN 1993-1-1 (steel), EN 10088-1
// (stainless, grade 1.4301) and EN 573 (aluminium as a whole), from memory.
func TestShellDefaults(t *testing.T) {
	if (Shell{}).Flange() != 20 || (Shell{FlangeMM: 1}).Flange() != 1 {
		t.Error("flange")
	}
	for material, want := range map[string]float64{"": 7850, "steel": 7850, "stainless": 7900, "aluminium": 2700} {
		if got := (Shell{Material: material}).DensityKgM3(); got != want {
			t.Errorf("%s: %v kg/m3", material, got)
		}
	}
	for bolt, want := range map[string]float64{"M1": 1, "M8": 8, "M12": 12, "": 8, "M0": 8, "Mx": 8, "M-3": 8} {
		if got := (&Foot{Bolt: bolt}).BoltMM(); got != want {
			t.Errorf("%q: %v mm", bolt, got)
		}
	}
}

// By hand: a box of 600 by 400 by 250 mm with walls of 2, a floor of 3, a lid of 4 and a liner of 5 mm on walls and floor;
// upside down the liner lies on the lid's side, which is the floor then.
func TestInteriorWithLinerByHand(t *testing.T) {
	b := &Box{ID: "b", Levels: []vehicles.Level{{Outline: rectangle(0, 0, 600, 400), CeilingMM: 250}}, Shell: Shell{WallMM: 2, FloorMM: 3, LidMM: 4, LinerMM: 5}}
	for side, want := range map[string][2]float64{"top": {8, 246}, "": {8, 246}, "bottom": {9, 247}} {
		b.Shell.LidSide = side
		in, err := BoxInterior(b)
		if err != nil {
			t.Fatal(err)
		}
		lo, hi := in.Bounds()
		if !near(lo, r3.Vector{X: 7, Y: 7, Z: want[0]}) || !near(hi, r3.Vector{X: 593, Y: 393, Z: want[1]}) {
			t.Errorf("lid %q: from %v to %v", side, lo, hi)
		}
	}
}

// A keep-out grows by its margin on all sides, however small the margin; without one it stays as it is.
func TestKeepOutGrowsByItsMargin(t *testing.T) {
	for _, margin := range []float64{0, 0.5, 25} {
		k := &vehicles.KeepOut{ID: "k", Outline: rectangle(100, 200, 300, 500), FloorMM: 50, CeilingMM: 90, MarginMM: margin}
		wantPrism(t, "keep-out", KeepOutPrism(k), geometry.NewBox(r3.Vector{X: 100 - margin, Y: 200 - margin, Z: 50 - margin}, r3.Vector{X: 300 + margin, Y: 500 + margin, Z: 90 + margin}))
	}
}

// Strips in front of terminals and ports are there however thin; those of no depth are not.
func TestThinStripsCount(t *testing.T) {
	m := testModule()
	m.Terminals[0].StripMM, m.Terminals[1].StripMM, m.Ports[0].StripMM = 0.5, 0, 0.5
	var of []string
	for _, s := range ModuleStrips(m, Pose{Size: r3.Vector{X: 355, Y: 151, Z: 108}, Posture: vehicles.Flat}) {
		of = append(of, s.Of)
	}
	if !slices.Equal(of, []string{"+", "sense"}) {
		t.Errorf("strips of %v", of)
	}
	p := NewPlan(testDonor(), "Strips")
	b := plainBox("b", vehicles.XYZ{}, 1)
	b.Modules[0].Module = m.ID
	p.Arrangements[0].Boxes = []*Box{b}
	s := Resolve(p, p.Arrangements[0], testLibrary().With(recordsOf(m)), nil)
	if s.Count() != 1 || len(s.Boxes[0].Modules[0].Strips) != 2 {
		t.Errorf("%d modules; strips %v", s.Count(), s.Boxes[0].Modules)
	}
}

// The scene counts the modules of all boxes and finds a bay by its id; by hand, a relay of 80 by 60 by 70 mm on its side and
// turned by 90 degrees, placed outside, has its centre of gravity at its middle.
func TestSceneCountsAndFinds(t *testing.T) {
	p := testPlan()
	s := Resolve(p, p.Arrangements[0], testLibrary(), nil)
	if s.Count() != 10 {
		t.Errorf("%d modules", s.Count())
	}
	if b := s.Bay("rear"); b == nil || b.Bay.ID != "rear" || s.Bay("none") != nil {
		t.Errorf("%v", b)
	}
	e := s.Gear[0].Pose.Extent()
	wantPoint(t, "centre of gravity", s.Gear[0].CG, r3.Vector{X: 100, Y: 0, Z: 700}.Add(e.Mul(0.5)))
}

// What is taken over from the scene before is the body of the same record in the same place, and the id of the same module
// of the same box.
func TestOnlyWhatStandsAsItStoodIsTakenOver(t *testing.T) {
	p := testPlan()
	lib := testLibrary()
	b := Resolve(p, p.Arrangements[0], lib, nil).Boxes[0]
	pl := b.Box.Modules[0]
	moved := pl
	moved.At[0]++
	if b.same(0, &pl, lib.Module("brick"), b.Frame) != b.Modules[0] {
		t.Error("the same module is not taken over")
	}
	for what, got := range map[string]*Body{
		"another place":  b.same(0, &moved, lib.Module("brick"), b.Frame),
		"another record": b.same(0, &pl, lib.Module("slab"), b.Frame),
		"another frame":  b.same(0, &pl, lib.Module("brick"), NewFrame(vehicles.XYZ{1}, 0)),
		"beyond the end": b.same(6, &pl, lib.Module("brick"), b.Frame),
		"no scene":       (*BoxScene)(nil).same(0, &pl, lib.Module("brick"), b.Frame),
	} {
		if got != nil {
			t.Errorf("%s: taken over", what)
		}
	}
	short := *b
	short.Modules = b.Modules[1:]
	if short.same(0, &pl, lib.Module("brick"), b.Frame) != nil {
		t.Error("a box of which a module was missing is taken over")
	}
	for _, c := range [][3]string{{"one", "m1", "one/m1"}, {"two", "m1", "two/m1"}, {"one", "m2", "one/m2"}} {
		if got := b.bodyID(0, c[0], c[1]); got != c[2] {
			t.Errorf("%v: %s", c, got)
		}
	}
}

// The message lists what there is: nothing, all of up to twelve, or twelve and dots.
func TestUnknownSaysWhatThereIs(t *testing.T) {
	known := strings.Split("a b c d e f g h i j k l m n", " ")
	for n, want := range map[int]string{0: "catalogue", 1: "catalogue; there are a", 12: "k, l", 13: "k, l ...", 14: "k, l ..."} {
		u := &unknown{}
		u.add("here", "module", "x", known[:n])
		if got := u.found[0].Msg; !strings.HasSuffix(got, want) {
			t.Errorf("%d known: %s", n, got)
		}
	}
}

// Ids in use: the first and the last of each list, and none that is not.
func TestTakenIDs(t *testing.T) {
	p := testPlan()
	a := p.Arrangements[0]
	a.KeepOuts = []vehicles.KeepOut{{ID: "k"}}
	for id, want := range map[string]bool{"one": true, "two": true, "inv": true, "k": false, "m1": false, "none": false} {
		if a.Taken(id) != want {
			t.Errorf("%s taken: %v", id, !want)
		}
	}
	for id, want := range map[string]bool{"one": true, "inv": true, "k": true, "rear": true, "none": false} {
		if a.Named(id) != want {
			t.Errorf("%s named: %v", id, !want)
		}
	}
	for id, want := range map[string]bool{"m1": true, "m6": true, "k1": true, "m7": false, "f1": false} {
		if a.Boxes[0].Taken(id) != want {
			t.Errorf("%s in the box: %v", id, !want)
		}
	}
	if got := idPrefix("Ä Box/1 " + strings.Repeat("x", 60)); len(got) != 50 || !strings.HasPrefix(got, "-box1-x") {
		t.Errorf("%q of %d bytes", got, len(got))
	}
}

// Prisms share a face where one lies on the other or both stand side by side at a common height; not where they meet in an
// edge or a corner, or not at all.
func TestWhichPrismsShareAFace(t *testing.T) {
	a := geometry.NewBox(r3.Vector{X: 100, Y: 100, Z: 100}, r3.Vector{X: 200, Y: 200, Z: 200})
	for _, c := range []struct {
		what   string
		lo, hi r3.Vector
		want   bool
	}{
		{"behind", r3.Vector{X: 200, Y: 120, Z: 120}, r3.Vector{X: 300, Y: 180, Z: 300}, true},
		{"in front", r3.Vector{X: 0, Y: 120, Z: 50}, r3.Vector{X: 100, Y: 180, Z: 150}, true},
		{"to the right", r3.Vector{X: 120, Y: 200, Z: 120}, r3.Vector{X: 180, Y: 300, Z: 150}, true},
		{"to the left", r3.Vector{X: 120, Y: 0, Z: 120}, r3.Vector{X: 180, Y: 100, Z: 150}, true},
		{"above", r3.Vector{X: 150, Y: 150, Z: 200}, r3.Vector{X: 300, Y: 300, Z: 250}, true},
		{"below", r3.Vector{X: 0, Y: 0, Z: 0}, r3.Vector{X: 150, Y: 150, Z: 100}, true},
		{"above, by an edge", r3.Vector{X: 200, Y: 100, Z: 200}, r3.Vector{X: 300, Y: 200, Z: 250}, false},
		{"behind, by an edge", r3.Vector{X: 200, Y: 200, Z: 100}, r3.Vector{X: 300, Y: 300, Z: 200}, false},
		{"1 mm behind", r3.Vector{X: 201, Y: 100, Z: 100}, r3.Vector{X: 300, Y: 200, Z: 200}, false},
		{"0.52 mm behind", r3.Vector{X: 200.52, Y: 100, Z: 100}, r3.Vector{X: 300, Y: 200, Z: 200}, false},
		{"1 mm above", r3.Vector{X: 100, Y: 100, Z: 201}, r3.Vector{X: 200, Y: 200, Z: 300}, false},
		{"behind and above", r3.Vector{X: 200, Y: 100, Z: 250}, r3.Vector{X: 300, Y: 200, Z: 300}, false},
	} {
		b := geometry.NewBox(c.lo, c.hi)
		if shareFace(a, b) != c.want || shareFace(b, a) != c.want {
			t.Errorf("%s: %v", c.what, !c.want)
		}
	}
}

// Of groups that do not touch, the largest by volume comes first; by hand of three cubes' volumes 8, 1 and 27, where the
// second and another of 27 touch: 28, 27, 8.
func TestLargestGroupComesFirst(t *testing.T) {
	cube := func(x, side float64) geometry.Prism {
		return geometry.NewBox(r3.Vector{X: x}, r3.Vector{X: x + 10*side, Y: 10 * side, Z: 10 * side})
	}
	groups := connected([]geometry.Prism{cube(0, 2), cube(100, 1), cube(200, 3), cube(110, 3)})
	var got []float64
	for _, g := range groups {
		got = append(got, math.Round(volume(g)/1000))
	}
	if !slices.Equal(got, []float64{28, 27, 8}) {
		t.Errorf("%v", got)
	}
}

// By hand: feet 60 mm from both ends and no more than 600 mm apart; on a short side a quarter of it from its ends.
func TestFeetAlongASide(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   []float64
	}{
		{0, 1000, []float64{60, 500, 940}}, {0, 720, []float64{60, 660}}, {0, 722, []float64{60, 361, 662}}, {0, 100, []float64{25, 75}},
		{-50, 50, []float64{-25, 25}}, {-500, 140, []float64{-440, 80}}, {0, 240, []float64{60, 180}}, {0, 1320, []float64{60, 660, 1260}},
	} {
		if got := footRow(c.lo, c.hi); !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
			t.Errorf("%v to %v: %v, want %v", c.lo, c.hi, got, c.want)
		}
	}
	for i, f := range SuggestFeet(plainBox("b", vehicles.XYZ{}, 0)) {
		if want := "f" + string(rune('1'+i)); f.ID != want {
			t.Errorf("foot %s, want %s", f.ID, want)
		}
	}
}

// A base with a hole is no base that two prisms have in common, even where both have the same one.
func TestBasesWithHolesAreNotTheSame(t *testing.T) {
	plain := geometry.NewRect(0, 0, 100, 100)
	holed := geometry.Polygon{Outer: plain.Outer, Holes: []geometry.Ring{{{X: 40, Y: 40}, {X: 40, Y: 60}, {X: 60, Y: 60}, {X: 60, Y: 40}}}}
	if !sameBase(plain, plain) || sameBase(holed, holed) || sameBase(plain, holed) || sameBase(holed, plain) {
		t.Error("holes do not count")
	}
}

// A box in a bay keeps out of what the arrangement and the other bays and the donor keep free; the bay's own keep-outs are
// part of its space already.
func TestKeepOutsBesideABay(t *testing.T) {
	a := &Arrangement{KeepOuts: []vehicles.KeepOut{{ID: "own"}}, Bays: []vehicles.Bay{{ID: "x", KeepOuts: []vehicles.KeepOut{{ID: "in x"}}}, {ID: "y", KeepOuts: []vehicles.KeepOut{{ID: "in y"}}}}}
	donor := &vehicles.Donor{KeepOuts: []vehicles.KeepOut{{ID: "donor"}}}
	ids := func(d *vehicles.Donor) (out []string) {
		for _, k := range a.keepOutsBeside(&a.Bays[0], d) {
			out = append(out, k.ID)
		}
		return out
	}
	if got := ids(donor); !slices.Equal(got, []string{"donor", "own", "in y"}) {
		t.Errorf("%v", got)
	}
	if got := ids(nil); !slices.Equal(got, []string{"own", "in y"}) {
		t.Errorf("without a donor: %v", got)
	}
}

// The pose of the two whose terminals come nearest to the mirrored ones, also where no face tells them apart: terminals on
// top, near one end or one corner. Without terminals the mirrored turn stands.
func TestMirrorKeepsTerminalsNear(t *testing.T) {
	size := r3.Vector{X: 355, Y: 151, Z: 108}
	out := func(p, q Pose, ts []vehicles.Terminal) (sum float64) {
		for i := range ts {
			sum += flipY(p.Point(ts[i].At.Vector())).Sub(q.Point(ts[i].At.Vector())).Norm()
		}
		return sum
	}
	for _, at := range []vehicles.XYZ{{30, 75.5, 108}, {330, 75.5, 108}, {177.5, 20, 108}, {177.5, 130, 108}, {30, 20, 108}, {300, 140, 108}} {
		ts := []vehicles.Terminal{{ID: "t", Face: vehicles.Top, At: at}}
		for _, turn := range []int{0, 90, 180, 270} {
			p := Pose{Size: size, Posture: vehicles.Flat, Turn: turn, At: r3.Vector{X: 10, Y: 20, Z: 30}}
			got := mirrorPose(p, ts)
			other := got
			other.Turn = (got.Turn + 180) % 360
			if out(p, got, ts) > out(p, other, ts)+1e-9 {
				t.Errorf("terminal at %v, turn %d: turned to %d", at, turn, got.Turn)
			}
			if bare := mirrorPose(p, nil); bare.Turn != mirrorTurn(turn) {
				t.Errorf("no terminals, turn %d: turned to %d", turn, bare.Turn)
			}
		}
	}
}

// Nought is never negative in a file.
func TestNoughtHasNoSign(t *testing.T) {
	for _, v := range []float64{snap(-0.001), snap(math.Copysign(0, -1)), halfTurns(-360), halfTurns(-0.0001)} {
		if v != 0 || math.Signbit(v) {
			t.Errorf("%v, negative %v", v, math.Signbit(v))
		}
	}
}
