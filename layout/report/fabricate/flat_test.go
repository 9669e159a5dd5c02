package fabricate

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

func box(shell layout.Shell, levels ...vehicles.Level) *layout.Box {
	return &layout.Box{ID: "b", Levels: levels, Shell: shell,
		Openings: []layout.Opening{{ID: "plug", Kind: "connector", Face: "front", At: vehicles.XYZ{0, 150, 80}, DiameterMM: 40},
			{ID: "drain", Kind: "drain", Face: "bottom", At: vehicles.XYZ{40, 40, 0}, DiameterMM: 12}},
		Feet: []layout.Foot{{ID: "f1", At: vehicles.XYZ{100, -25, 0}, Bolt: "M10", Class: "8.8"}}}
}

func level(floor, ceiling float64, xy ...float64) vehicles.Level {
	l := vehicles.Level{FloorMM: floor, CeilingMM: ceiling}
	for i := 0; i < len(xy); i += 2 {
		l.Outline = append(l.Outline, vehicles.XY{xy[i], xy[i+1]})
	}
	return l
}

var oblong = level(0, 160, 0, 0, 600, 0, 600, 300, 0, 300)

func of(t *testing.T, b Box, kind string) *Blank {
	t.Helper()
	for i := range b.Blanks {
		if b.Blanks[i].Kind == kind {
			return &b.Blanks[i]
		}
	}
	t.Fatalf("no blank of kind %s among %d", kind, len(b.Blanks))
	return nil
}

// A tray of 600 x 300 outside, 158 high up to the flange's face, with a flange of 20: two bends on each side, so
// that its flat length is the sum of the outside lengths less four deductions, as the handbook's example adds up.
func TestOblongTrayIsAsLongAsTheHandbookSays(t *testing.T) {
	b := box(layout.Shell{WallMM: 1.5, LidMM: 2, BendMM: 2.5, FlangeMM: 20}, oblong)
	got := Flatten(b, mass.Panels(b), layout.Sheet{})
	if len(got.Remarks) > 0 {
		t.Error(got.Remarks)
	}
	tray := of(t, got, "tray")
	v := Bend{Deg: 90, RadiusMM: 2.5, ThicknessMM: 1.5, K: KFactor(2.5, 1.5)}
	for i, side := range []float64{600, 300} {
		want := FlatLength([]float64{20 + 1.5, 158, side, 158, 20 + 1.5}, v)
		if size := tray.Size(); math.Abs([]float64{size.X, size.Y}[i]-want) > 0.011 {
			t.Errorf("flat size %v, want %.3f along axis %d", size, want, i)
		}
	}
	if len(tray.Bends) != 8 {
		t.Errorf("%d bend lines, want 8", len(tray.Bends))
	}
	if len(of(t, got, "lid").Holes) == 0 {
		t.Error("the lid has no bolt holes")
	}
}

// The metal of a tray bent with the neutral line in the middle is that of its panels, but for the corners.
func TestBlankHasTheMetalOfItsPanels(t *testing.T) {
	b := box(layout.Shell{WallMM: 1.5, BendMM: 1.5}, oblong)
	b.Openings = nil
	got := Flatten(b, mass.Panels(b), layout.Sheet{KFactor: 0.5})
	tray := of(t, got, "tray")
	sum := 0.0
	for _, id := range tray.Panels {
		for _, p := range got.Panels {
			if p.ID == id {
				sum += p.AreaMM2
			}
		}
	}
	if d := tray.AreaMM2/sum - 1; math.Abs(d) > 0.015 {
		t.Errorf("blank %.0f mm², panels %.0f: %.2f %% apart", tray.AreaMM2, sum, 100*d)
	}
}

// Every panel of every box is in exactly one blank; blanks are valid shapes, holes lie inside them, bend lines too.
func TestEveryPanelIsCutOnce(t *testing.T) {
	for name, b := range boxes(t) {
		t.Run(name, func(t *testing.T) { checkBlanks(t, Flatten(b, mass.Panels(b), layout.Sheet{})) })
	}
}

func boxes(t *testing.T) map[string]*layout.Box {
	out := map[string]*layout.Box{
		"oblong":   box(layout.Shell{}, oblong),
		"welded":   box(layout.Shell{Join: "weld"}, oblong),
		"lid low":  box(layout.Shell{LidSide: "bottom"}, oblong),
		"cut":      box(layout.Shell{}, level(0, 160, 0, 0, 600, 0, 600, 200, 500, 300, 0, 300)),
		"re-entry": box(layout.Shell{}, level(0, 160, 0, 0, 600, 0, 600, 150, 300, 150, 300, 300, 0, 300)),
		"stepped":  box(layout.Shell{}, level(0, 160, 0, 0, 300, 0, 300, 300, 0, 300), level(50, 160, 300, 0, 600, 0, 600, 300, 300, 300)),
		"long":     box(layout.Shell{}, level(0, 300, 0, 0, 1990, 0, 1990, 400, 0, 400)),
		"thick":    box(layout.Shell{FloorMM: 3}, oblong),
		"ring":     box(layout.Shell{}, level(0, 160, 0, 0, 900, 0, 900, 200, 0, 200), level(0, 160, 0, 500, 900, 500, 900, 700, 0, 700), level(0, 160, 0, 200, 300, 200, 300, 500, 0, 500), level(0, 160, 600, 200, 900, 200, 900, 500, 600, 500)),
	}
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range p.Arrangements {
		for _, b := range a.Boxes {
			out[a.ID+" "+b.ID] = b
		}
	}
	return out
}

func checkBlanks(t *testing.T, got Box) {
	t.Helper()
	seen := map[string]int{}
	for i := range got.Blanks {
		b := &got.Blanks[i]
		for _, id := range b.Panels {
			seen[id]++
		}
		if faults := b.Outline.Validate(); len(faults) > 0 {
			t.Errorf("%s: %v", b.ID, faults)
		}
		grown, err := b.Outline.Inset(-0.1)
		if err != nil || len(grown) != 1 {
			t.Fatalf("%s: %d pieces, %v", b.ID, len(grown), err)
		}
		for _, h := range b.Holes {
			if !grown[0].ContainsPolygon(geometry.Polygon{Outer: h.Outline()}) {
				t.Errorf("%s: the hole for %s at %v is not inside", b.ID, h.For, h.At)
			}
		}
		for _, l := range b.Bends {
			if !grown[0].ContainsSegment(l.A, l.B) {
				t.Errorf("%s: the bend from %v to %v is not inside", b.ID, l.A, l.B)
			}
		}
	}
	for _, p := range got.Panels {
		if seen[p.ID] != 1 {
			t.Errorf("panel %s is cut %d times", p.ID, seen[p.ID])
		}
	}
	kg := 0.0
	for _, b := range got.Blanks {
		kg += float64(b.Pieces) * b.Kg
	}
	if d := kg/got.Kg() - 1; math.Abs(d) > 0.03 {
		t.Errorf("blanks weigh %.3f kg, panels %.3f: %.1f %% apart", kg, got.Kg(), 100*d)
	}
	t.Log(len(got.Blanks), "blanks", got.Remarks)
}

// Pieces lie on their sheets, apart by the gap, and no fewer sheets are used than the area allows.
func TestNestedPiecesLieApart(t *testing.T) {
	var bs []*Blank
	for _, b := range boxes(t) {
		got := Flatten(b, mass.Panels(b), layout.Sheet{})
		for i := range got.Blanks {
			bs = append(bs, &got.Blanks[i])
		}
	}
	placed := 0
	for _, n := range NestAll(bs, 2000, 1000) {
		if n.Least > len(n.Sheets) {
			t.Errorf("%d sheets where %d are the least", len(n.Sheets), n.Least)
		}
		placed += len(n.Large)
		for _, s := range n.Sheets {
			placed += len(s)
			checkSheet(t, s)
		}
	}
	pieces := 0
	for _, b := range bs {
		pieces += b.Pieces
	}
	if placed != pieces {
		t.Errorf("%d of %d pieces are laid", placed, pieces)
	}
}

func checkSheet(t *testing.T, s []Piece) {
	t.Helper()
	inside := r2.RectFromPoints(r2.Point{X: sheetMargin, Y: sheetMargin}, r2.Point{X: 2000 - sheetMargin, Y: 1000 - sheetMargin}).ExpandedByMargin(1e-6)
	for i, p := range s {
		r := rectOf(p)
		if !inside.Contains(r) {
			t.Errorf("%s lies at %v", p.Blank.ID, r)
		}
		for _, q := range s[:i] {
			if rectOf(q).ExpandedByMargin(partGap - 1e-6).InteriorIntersects(r) {
				t.Errorf("%s and %s are too close", p.Blank.ID, q.Blank.ID)
			}
		}
	}
}

func rectOf(p Piece) r2.Rect {
	size := p.Blank.Size()
	if p.Turned {
		size.X, size.Y = size.Y, size.X
	}
	return r2.RectFromPoints(p.At, p.At.Add(size))
}

// Where two walls meet that are bent up from one floor, each ends where its inner face meets the other's, so that neither stands in the
// other: t tan(turn / 2) from the floor's corner along its side. Worked out for corners of 90 and 135 degrees, sheet of 2 mm.
func TestWallsEndWhereTheirInnerFacesMeet(t *testing.T) {
	b := box(layout.Shell{WallMM: 2, FlangeMM: 20}, level(0, 160, 0, 0, 600, 0, 600, 200, 500, 300, 0, 300))
	f := flattener{box: b, up: 1, out: Box{Box: b, Panels: mass.Panels(b)}}
	f.sort()
	sides := sidesOf(f.floors[0].Outline.Normalised().Outer)
	square, blunt := 2.0, 2*(math.Sqrt2-1) // tan 22.5° = √2 - 1
	want := map[r2.Point][2]float64{       // by the side's direction, in whole hundreds of mm
		{X: 6}: {square, 600 - square}, {Y: 2}: {square, 200 - blunt}, {X: -1, Y: 1}: {blunt, 100*math.Sqrt2 - blunt},
		{X: -5}: {blunt, 500 - square}, {Y: -3}: {square, 300 - square},
	}
	folds := f.folds(f.floors[0], sides)
	f.trayOutline(f.floors[0], sides, folds)
	for _, c := range folds {
		s := sides[c.side]
		d := s.dir.Mul(s.length / 100)
		ends, ok := want[r2.Point{X: math.Round(d.X), Y: math.Round(d.Y)}]
		chain := c.wall.chain()
		lo, hi := chain[0].X+c.shift, chain[len(chain)-1].X+c.shift
		if !ok || math.Abs(lo-ends[0]) > 0.02 || math.Abs(hi-ends[1]) > 0.02 {
			t.Errorf("the wall along %v runs from %.3f to %.3f, want %.3f", d, lo, hi, ends)
		}
	}
	if len(folds) != len(want) {
		t.Errorf("%d walls can be bent up, want %d", len(folds), len(want))
	}
}

// On a sheet of 680 x 500 mm there is room for one long wall of a floor of 600 x 300 beside it, as long across as the outside lengths of
// floor, wall and flange less two deductions, and as wide as the flange's mitred outer edge, 20 mm more at each end. The other three
// walls are cut on their own.
func TestTrayWithASingleWall(t *testing.T) {
	b := box(layout.Shell{WallMM: 1.5, LidMM: 2, BendMM: 2.5, FlangeMM: 20}, oblong)
	got := Flatten(b, mass.Panels(b), layout.Sheet{LengthMM: 680, WidthMM: 500})
	tray := of(t, got, "tray")
	v := 3.2 // mm, the deduction tabled for a radius of 2.5 and a thickness of 1.5 mm, to the tenth: see TestDeductionsOfTheTable
	if size := tray.Size(); math.Abs(size.X-640) > 0.02 || math.Abs(size.Y-(300+158+21.5-2*v)) > 0.12 {
		t.Errorf("the flat is %.2f x %.2f mm", size.X, size.Y)
	}
	if len(tray.Bends) != 2 || len(tray.Panels) != 3 {
		t.Errorf("%d bends, panels %v", len(tray.Bends), tray.Panels)
	}
	walls := 0
	for _, k := range got.Blanks {
		if k.Kind == "wall" {
			walls += k.Pieces
		}
	}
	if walls != 3 || len(got.Remarks) == 0 {
		t.Errorf("%d walls on their own, remarks %v", walls, got.Remarks)
	}
}

// From where along a wall its panel is measured changes nothing: with every wall measured from another place the blanks are the same,
// to the hundredth of a millimetre.
func TestWallsMeasuredFromElsewhereAreCutAlike(t *testing.T) {
	for name, b := range boxes(t) {
		moved := mass.Panels(b)
		for i := range moved {
			p := &moved[i]
			if p.Kind != mass.WallPanel {
				continue
			}
			by := 37.5 + 10*float64(i)
			p.Origin = p.Origin.Add(p.U.Mul(by))
			p.Outline = p.Outline.Translate(r2.Point{X: -by})
			p.Holes = slices.Clone(p.Holes)
			for k := range p.Holes {
				p.Holes[k].At.X -= by
			}
		}
		want, got := Flatten(b, mass.Panels(b), layout.Sheet{}), Flatten(b, moved, layout.Sheet{})
		if len(got.Blanks) != len(want.Blanks) {
			t.Errorf("%s: %d blanks, not %d", name, len(got.Blanks), len(want.Blanks))
			continue
		}
		for i := range want.Blanks {
			w, g := &want.Blanks[i], &got.Blanks[i]
			if w.ID != g.ID || w.Pieces != g.Pieces || len(w.Bends) != len(g.Bends) || !samePlaces(marksOf(w), marksOf(g)) {
				t.Errorf("%s: %s %v, not %s %v", name, g.ID, marksOf(g), w.ID, marksOf(w))
			}
		}
	}
}

// marksOf are a blank's corners, holes and ends of bends.
func marksOf(b *Blank) []r2.Point {
	out := slices.Clone(b.Outline.Outer)
	for _, h := range b.Holes {
		out = append(out, h.At)
	}
	for _, l := range b.Bends {
		out = append(out, l.A, l.B)
	}
	return out
}

func samePlaces(a, b []r2.Point) bool {
	return slices.EqualFunc(a, b, func(p, q r2.Point) bool { return p.Sub(q).Norm() < 0.03 })
}
