package fabricate

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// Where the outer faces beside a bend would meet, by the textbook's outside setback: (r + s) tan of half the angle.
func TestSetbackOfAnyAngle(t *testing.T) {
	for deg, tan := range map[float64]float64{60: 0.577350269, 90: 1, 120: 1.732050808} {
		if got := (Bend{Deg: deg, RadiusMM: 3, ThicknessMM: 2}).Setback(); math.Abs(got-5*tan) > 1e-6 {
			t.Errorf("%g degrees: %g, want %g", deg, got, 5*tan)
		}
	}
}

// A bend line lies in the middle of its bend: half a deduction short of the outside length from the edge, as bend charts have it. Here a
// tray's flange of 20 and its wall of 158 with the flange on it.
func TestBendLinesLieHalfADeductionIn(t *testing.T) {
	b := box(layout.Shell{WallMM: 1.5, LidMM: 2, BendMM: 2.5, FlangeMM: 20}, oblong)
	tray := of(t, Flatten(b, mass.Panels(b), layout.Sheet{}), "tray")
	v := Bend{Deg: 90, RadiusMM: 2.5, ThicknessMM: 1.5, K: KFactor(2.5, 1.5)}
	flange := 20 + 1.5 - v.Deduction()/2
	wall := flange + 158 - v.Deduction()
	size := tray.Size()
	for _, l := range tray.Bends {
		at, want := min(l.A.X, size.X-l.A.X), flange
		if l.A.Y == l.B.Y {
			at = min(l.A.Y, size.Y-l.A.Y)
		}
		if at > 100 {
			want = wall
		}
		if math.Abs(at-want) > 0.011 {
			t.Errorf("from %v to %v: %g from the edge, want %g", l.A, l.B, at, want)
		}
	}
}

// A box with its lid below has the blanks of one with its lid on top that is its mirror image.
func TestLidBelowHasTheSameBlanks(t *testing.T) {
	blanks := func(side string) []string {
		var out []string
		b := &layout.Box{ID: "b", Levels: []vehicles.Level{oblong}, Shell: layout.Shell{WallMM: 1.5, LidMM: 2, BendMM: 2.5, FlangeMM: 20, LidSide: side}}
		for _, k := range Flatten(b, mass.Panels(b), layout.Sheet{}).Blanks {
			size := k.Size()
			out = append(out, strings.Join([]string{k.Kind, plain(max(size.X, size.Y)), plain(min(size.X, size.Y)), plain(float64(k.Pieces)), plain(float64(len(k.Holes))), plain(float64(len(k.Bends)))}, " "))
		}
		slices.Sort(out)
		return out
	}
	if a, b := blanks(""), blanks("bottom"); !slices.Equal(a, b) {
		t.Errorf("lid on top: %q, below: %q", a, b)
	}
}

// Where lines cross at any angle, by their equations; alike ones give the second one's point.
func TestWhereLinesCross(t *testing.T) {
	at := func(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }
	for _, c := range []struct{ p, d, q, e, want r2.Point }{
		{at(0, 0), at(1, 0), at(10, 5), at(0.6, 0.8), at(6.25, 0)},             // y = 0 and y = 5 + 4/3 (x - 10)
		{at(0, 2), at(0.8, 0.6), at(4, 0), at(0.6, 0.8), at(88.0/7, 2+66.0/7)}, // 2 + 3x/4 = 4/3 (x - 4): x = 88/7
		{at(1, 1), at(1, 0), at(7, 3), at(1, 0), at(7, 3)},
	} {
		if got := meet(c.p, c.d, c.q, c.e); got.Sub(c.want).Norm() > 1e-9 {
			t.Errorf("%v along %v and %v along %v: %v, want %v", c.p, c.d, c.q, c.e, got, c.want)
		}
	}
}

// A cut-out in a wall turns with the wall when that is laid out beside the floor.
func TestCutOutsTurnWithTheirWalls(t *testing.T) {
	for face, want := range map[string]r2.Point{"left": {X: 30, Y: 12}, "right": {X: 30, Y: 12}, "front": {X: 12, Y: 30}, "rear": {X: 12, Y: 30}} {
		b := box(layout.Shell{}, oblong)
		at := map[string]vehicles.XYZ{"left": {200, 0, 80}, "right": {200, 300, 80}, "front": {0, 150, 80}, "rear": {600, 150, 80}}[face]
		b.Openings, b.Feet = []layout.Opening{{ID: "slot", Kind: "connector", Face: face, At: at, WidthMM: 30, HeightMM: 12}}, nil
		tray := of(t, Flatten(b, mass.Panels(b), layout.Sheet{}), "tray")
		i := slices.IndexFunc(tray.Holes, func(h Hole) bool { return h.For == "slot" })
		if i < 0 {
			t.Fatalf("%s: no cut-out among %v", face, tray.Holes)
		}
		if got := (geometry.Polygon{Outer: tray.Holes[i].Outline()}).Bounds().Size(); got.Sub(want).Norm() > 1e-6 {
			t.Errorf("%s: %v, want %v", face, got, want)
		}
	}
}

// A wall cut alone, which stands on the floor, is as high as its panel, with the flange of 20 and a sheet's thickness less a deduction.
func TestWallCutAloneIsAsHighAsItsPanel(t *testing.T) {
	b := box(layout.Shell{WallMM: 1.5, LidMM: 2, FloorMM: 3, FlangeMM: 20, BendMM: 2.5}, oblong)
	b.Openings, b.Feet = nil, nil
	v := Bend{Deg: 90, RadiusMM: 2.5, ThicknessMM: 1.5, K: KFactor(2.5, 1.5)}
	got := Flatten(b, mass.Panels(b), layout.Sheet{})
	n := 0
	for _, k := range got.Blanks {
		if k.Kind != "wall" {
			continue
		}
		for _, p := range got.Panels {
			if p.ID != k.Panels[0] {
				continue
			}
			n++
			if want := p.Outline.Bounds().Size().Y + 20 + 1.5 - v.Deduction(); math.Abs(min(k.Size().X, k.Size().Y)-want) > 0.011 {
				t.Errorf("%s is %v, want it %g high", k.ID, k.Size(), want)
			}
		}
	}
	if n == 0 {
		t.Error("no walls")
	}
}

// The mitred ends of a flange run on from the wall's outer face to its edge in one line, of which the flat part shows what is left beyond
// the bend.
func TestMitresOfAFlangeAreStraight(t *testing.T) {
	p := &mass.Panel{ThicknessMM: 1.5, Outline: geometry.NewRect(0, 0, 300, 100)}
	w := &wall{panel: p, bend: Bend{Deg: 90, RadiusMM: 2.5, ThicknessMM: 1.5, K: 0.4}}
	f := flangeStrip{z: 100, base: [2]float64{0, 300}, top: [2]float64{0, 300}, tip: [2]float64{-20, 280}, width: 20}
	ring := w.flange(nil, f)
	edge := ring[3].Y // where the flange ends
	for i, c := range []struct {
		flat, tip r2.Point
		base, end float64
	}{{ring[2], ring[3], 0, -20}, {ring[5], ring[4], 300, 280}} {
		d := 20 - (edge - c.flat.Y) // how far from the wall's outer face the flat begins
		if math.Abs(d-2.5) > 1e-9 || math.Abs(c.tip.X-c.end) > 1e-9 || math.Abs(c.flat.X-(c.base+(c.end-c.base)*d/20)) > 1e-9 {
			t.Errorf("end %d: from %v to %v", i, c.flat, c.tip)
		}
	}
}

// Corners that are level but for the lattice: the one furthest to the right is the lower right one, whichever comes first.
func TestLowerRightCornerOfLevelOnes(t *testing.T) {
	ring := geometry.Ring{{X: 10, Y: 0.01}, {X: 10, Y: 5}, {X: 0, Y: 5}, {X: 0, Y: 0}}
	for i := range ring {
		r := slices.Concat(ring[i:], ring[:i])
		if got := r[lowerRight(r)]; got != ring[0] {
			t.Errorf("from corner %d: %v", i, got)
		}
	}
}

// A side of which half a millimetre is left between its bends is not spent, one whose bends overlap is.
func TestSideThatIsSpent(t *testing.T) {
	sides := sidesOf(geometry.NewRect(0, 0, 100, 8.5).Outer)
	for in, want := range map[float64]bool{4: false, 4.3: true} {
		if got := spent(sides, corners(sides, map[int]float64{0: in, 2: in})); got != want {
			t.Errorf("bends of %g on both sides of 8.5: spent %v", in, got)
		}
	}
}

// Bolts of feet are named as such, other holes by what they are for.
func TestHolesAreNamedByWhatTheyAreFor(t *testing.T) {
	for kind, want := range map[mass.PanelKind]string{mass.FootPanel: "foot bolt", mass.WallPanel: "plug"} {
		if got := holesOf(&mass.Panel{Kind: kind, Holes: []mass.Hole{{ID: "plug", DiameterMM: 10}}}); got[0].For != want {
			t.Errorf("%s: %q", kind, got[0].For)
		}
	}
}

// Two blanks of a kind are numbered; what is said twice is said once, of both.
func TestTwoOfAKind(t *testing.T) {
	f := flattener{box: &layout.Box{ID: "b"}}
	f.out.Blanks = []Blank{{Kind: "wall"}, {Kind: "lid"}, {Kind: "wall"}}
	f.number()
	for i, want := range []string{"b/wall-1", "b/lid", "b/wall-2"} {
		if f.out.Blanks[i].ID != want {
			t.Errorf("%q, want %q", f.out.Blanks[i].ID, want)
		}
	}
	f.remark("Too narrow", "a")
	f.remark("Too large", "b")
	f.remark("Too narrow", "c")
	if f.remarks(); !slices.Equal(f.out.Remarks, []string{"Too narrow: a, c.", "Too large: b."}) {
		t.Errorf("%q", f.out.Remarks)
	}
}

// The larger floor is laid out first.
func TestLargeFloorsAreLaidFirst(t *testing.T) {
	f := flattener{box: &layout.Box{}, up: 1, out: Box{Panels: []mass.Panel{{ID: "small", Kind: mass.FloorPanel, AreaMM2: 10}, {ID: "large", Kind: mass.FloorPanel, AreaMM2: 30}, {ID: "middle", Kind: mass.FloorPanel, AreaMM2: 20}}}}
	f.sort()
	for i, want := range []string{"large", "middle", "small"} {
		if f.floors[i].ID != want {
			t.Errorf("floor %d is the %s one", i, f.floors[i].ID)
		}
	}
}

// By area: thirty pieces that fill what may be used of a sheet need thirty, one needs one and takes what its share of the whole sheet is.
// A square piece is not turned.
func TestFullSheets(t *testing.T) {
	b := oblongBlank("a", 180, 130)
	for _, n := range []int{1, 30} {
		b.Pieces = n
		got := NestAll([]*Blank{b}, 200, 150)[0]
		if got.Least != n || len(got.Sheets) != n || math.Abs(got.UsedPct-100*180*130/(200.0*150)) > 1e-9 {
			t.Errorf("%d pieces: at least %d sheets, %d used, %g %%", n, got.Least, len(got.Sheets), got.UsedPct)
		}
	}
	for _, p := range NestAll([]*Blank{oblongBlank("a", 50, 50)}, 200, 150)[0].Sheets[0] {
		if p.Turned {
			t.Error("a square piece is turned")
		}
	}
}

// A piece's name is nine tenths as wide as the piece, or eight tenths as high, whichever is less, and 30 mm high at most.
func TestNamesFitTheirPieces(t *testing.T) {
	for _, c := range []struct{ w, h, want float64 }{{40, 100, 0.9 * 40 / 2.7}, {100, 20, 16}, {500, 500, 30}} {
		for _, turned := range []bool{false, true} {
			b := oblongBlank("WWW", c.w, c.h) // each W of 0.9 em
			if turned {
				b = oblongBlank("WWW", c.h, c.w)
			}
			items := Piece{Blank: b, Turned: turned}.items()
			if got := items[len(items)-1].(drawing.Text).InMM; math.Abs(got-c.want) > 1e-9 {
				t.Errorf("%g x %g, turned %v: %g mm, want %g", c.w, c.h, turned, got, c.want)
			}
		}
	}
}

// Free rectangles that lie in others go, of two alike one stays.
func TestFreeRectanglesLieInNoOther(t *testing.T) {
	rect := func(x0, y0, x1, y1 float64) r2.Rect {
		return r2.RectFromPoints(r2.Point{X: x0, Y: y0}, r2.Point{X: x1, Y: y1})
	}
	all := []r2.Rect{rect(0, 0, 10, 10), rect(2, 2, 5, 5), rect(0, 0, 20, 5), rect(0, 0, 10, 10), rect(0, 0, 20, 5), rect(19, 4, 20, 5)}
	if got := maximal(all); !slices.Equal(got, []r2.Rect{all[0], all[2]}) {
		t.Errorf("%v", got)
	}
}

// Small round holes are round in both drawings; a note on a line a little past upright is turned to be read from the right.
func TestSmallThingsAreDrawnToo(t *testing.T) {
	h := Hole{At: r2.Point{X: 20, Y: 10}, DiameterMM: 0.8}
	if s := holeStroke(h); s.Radius != 0.4 || s.Centre != h.At {
		t.Errorf("%+v", s)
	}
	b := oblongBlank("WWW", 40, 30)
	b.Holes = []Hole{h}
	round := false
	for _, it := range (Piece{Blank: b}).items() {
		switch v := it.(type) {
		case drawing.Stroke:
			round = round || v.Radius == 0.4 && v.Centre == h.At
		case drawing.Text:
		}
	}
	if !round {
		t.Error("a hole of 0.8 mm is not round on the sheet")
	}
	for deg, want := range map[float64]float64{90.5: 90.5, 91.5: -88.5, -88.5: -88.5, -90: 90} {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		if got := bendNote(BendLine{B: r2.Point{X: 100 * cos, Y: 100 * sin}}, plain).Deg; math.Abs(got-want) > 1e-9 {
			t.Errorf("a line at %g degrees: its note at %g, want %g", deg, got, want)
		}
	}
}
