package fabricate

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

func oblongBlank(id string, w, h float64) *Blank {
	return &Blank{ID: id, Material: "steel", ThicknessMM: 1.5, Outline: geometry.NewRect(0, 0, w, h)}
}

// Sheets of 1020 x 520 mm have 1000 x 500 mm to lay on. Five pieces of 400 x 400 mm have 1.6 times that area, so that two sheets
// are the least, and go two on a sheet: three sheets, of which 5 x 400² / (3 x 1020 x 520) = 50.28 % are used.
func TestSheetsNeededAndUsed(t *testing.T) {
	b := oblongBlank("a", 400, 400)
	b.Pieces = 5
	n := NestAll([]*Blank{b}, 1020, 520)
	if len(n) != 1 || len(n[0].Sheets) != 3 || n[0].Least != 2 || math.Abs(n[0].UsedPct-50.28) > 0.005 {
		t.Fatalf("%+v", n)
	}
	if got := n[0].Words(); got != "3 sheets found; by area at least 2" {
		t.Errorf("%q", got)
	}
	full := NestAll([]*Blank{oblongBlank("a", 1000, 500), oblongBlank("b", 500, 1000), oblongBlank("c", 1000.1, 10), oblongBlank("d", 501, 501)}, 1020, 520)[0]
	if full.Least != 2 || len(full.Sheets) != 2 || full.Words() != "2 sheets; fewer are impossible by area" {
		t.Errorf("two full sheets: %s", full.Words())
	}
	if len(full.Large) != 2 || full.Large[0].ID != "c" || full.Large[1].ID != "d" {
		t.Errorf("too large: %v", full.Large)
	}
	for i, turned := range []bool{false, true} {
		if p := full.Sheets[i][0]; p.Turned != turned || p.At != (r2.Point{X: 10, Y: 10}) {
			t.Errorf("sheet %d: turned %v at %v", i+1, p.Turned, p.At)
		}
	}
}

// Each material and thickness has its own sheets; the gap of 6 mm lies between pieces, not at the sheet's edge.
func TestPiecesOnASheet(t *testing.T) {
	thick := oblongBlank("thick", 100, 100)
	thick.ThicknessMM = 2
	ns := NestAll([]*Blank{oblongBlank("a", 497, 500), oblongBlank("b", 497, 244), oblongBlank("c", 497, 250), thick}, 1020, 520)
	if len(ns) != 2 || len(ns[0].Sheets) != 1 || len(ns[1].Sheets) != 1 {
		t.Fatalf("%+v", ns)
	}
	at := map[string]r2.Point{}
	for _, p := range ns[0].Sheets[0] {
		at[p.Blank.ID] = p.At
	}
	if a := at["a"]; a != (r2.Point{X: 10, Y: 10}) || at["b"].X != 10+497+6 || at["c"].X != 10+497+6 || math.Abs(at["b"].Y-at["c"].Y) < 250 {
		t.Errorf("%v", at)
	}
}

// The sizes that the plan's field reference names: 2000 x 1000 mm, the longer first.
func TestSizeOfSheets(t *testing.T) {
	for _, c := range []struct {
		s    layout.Sheet
		l, w float64
	}{{layout.Sheet{}, 2000, 1000}, {layout.Sheet{LengthMM: 1250, WidthMM: 2500}, 2500, 1250}, {layout.Sheet{WidthMM: 1}, 2000, 1}, {layout.Sheet{LengthMM: 1}, 1000, 1}} {
		if l, w := SheetSize(c.s); l != c.l || w != c.w {
			t.Errorf("%+v: %g x %g", c.s, l, w)
		}
	}
}

// A slot of 40 x 20 mm turned by 30 degrees has its corners at ±20 and ±10 along (cos 30, sin 30) and (-sin 30, cos 30).
func TestOutlinesOfHoles(t *testing.T) {
	slot := Hole{At: r2.Point{X: 100, Y: 50}, WidthMM: 40, HeightMM: 20, TurnDeg: 30}
	c, s := math.Sqrt(3)/2, 0.5
	for i, k := range [][2]float64{{-20, -10}, {20, -10}, {20, 10}, {-20, 10}} {
		want := r2.Point{X: 100 + k[0]*c - k[1]*s, Y: 50 + k[0]*s + k[1]*c}
		if got := slot.Outline()[i]; got.Sub(want).Norm() > 1e-9 {
			t.Errorf("corner %d at %v, want %v", i, got, want)
		}
	}
	round := Hole{At: r2.Point{X: 7, Y: 8}, DiameterMM: 0.8}
	for _, p := range round.Outline() {
		if math.Abs(p.Sub(round.At).Norm()-0.4) > 1e-12 {
			t.Errorf("%v does not lie on the circle", p)
		}
	}
	if a := round.Outline().Area(); math.Abs(a-0.16*math.Pi) > 0.002 {
		t.Errorf("corners about %g mm²", a)
	}
	if slot.AreaMM2() != 800 || math.Abs(round.AreaMM2()-0.16*math.Pi) > 1e-12 {
		t.Errorf("areas %g and %g", slot.AreaMM2(), round.AreaMM2())
	}
}

// A blank of 200 x 100 x 2 mm less a slot of 800 mm² has 19,200 mm² and, of 7850 kg/m³, 0.30144 kg; what is drilled stays in it.
func TestBlankIsMovedToItsCornerAndWeighed(t *testing.T) {
	b := Blank{Outline: geometry.NewRect(100, 50, 300, 150), ThicknessMM: 2,
		Holes: []Hole{{At: r2.Point{X: 110, Y: 70}, WidthMM: 40, HeightMM: 20}, {At: r2.Point{X: 120, Y: 80}, DiameterMM: 10, Drilled: true}},
		Bends: []BendLine{{A: r2.Point{X: 100, Y: 60}, B: r2.Point{X: 300, Y: 60}}}}
	b.finish(7850)
	if b.Size() != (r2.Point{X: 200, Y: 100}) || b.Outline.Bounds().Lo() != (r2.Point{}) {
		t.Errorf("%v", b.Outline.Bounds())
	}
	if b.Holes[0].At != (r2.Point{X: 10, Y: 20}) || b.Holes[1].At != (r2.Point{X: 20, Y: 30}) || b.Bends[0].A != (r2.Point{Y: 10}) || b.Bends[0].B != (r2.Point{X: 200, Y: 10}) {
		t.Errorf("holes %+v, bends %+v", b.Holes, b.Bends)
	}
	if math.Abs(b.AreaMM2-19200) > 1e-9 || math.Abs(b.Kg-0.30144) > 1e-9 {
		t.Errorf("%g mm², %g kg", b.AreaMM2, b.Kg)
	}
}

// Blanks are cut from one pattern where nothing tells them apart.
func TestAlike(t *testing.T) {
	make := func() *Blank {
		return &Blank{Kind: "wall", Material: "steel", ThicknessMM: 1.5, Outline: geometry.NewRect(0, 0, 200, 100),
			Holes: []Hole{{For: "plug", At: r2.Point{X: 10, Y: 20}, DiameterMM: 5}, {For: "vent", At: r2.Point{X: 50, Y: 20}, WidthMM: 40, HeightMM: 20, TurnDeg: 5}},
			Bends: []BendLine{{A: r2.Point{Y: 10}, B: r2.Point{X: 200, Y: 10}, Up: true, Bend: Bend{Deg: 90, RadiusMM: 2}}}}
	}
	if a := make(); !a.alike(make()) {
		t.Error("a blank is not like itself")
	}
	bare := func() *Blank { b := make(); b.Holes, b.Bends = nil, nil; return b }
	if a := bare(); !a.alike(bare()) || a.alike(make()) || make().alike(a) {
		t.Error("a blank without holes and bends")
	}
	for name, change := range map[string]func(*Blank){
		"kind": func(b *Blank) { b.Kind = "lid" }, "material": func(b *Blank) { b.Material = "aluminium" }, "thickness": func(b *Blank) { b.ThicknessMM = 2 },
		"corner": func(b *Blank) { b.Outline.Outer[2].X++ }, "corners": func(b *Blank) { b.Outline.Outer = append(b.Outline.Outer, r2.Point{Y: 50}) },
		"cut": func(b *Blank) { b.Outline.Holes = []geometry.Ring{geometry.NewRect(80, 40, 90, 50).Outer} },
		"way": func(b *Blank) { b.Bends[0].Up = false }, "radius": func(b *Blank) { b.Bends[0].RadiusMM = 3 }, "bend from": func(b *Blank) { b.Bends[0].A.Y = 11 }, "bend to": func(b *Blank) { b.Bends[0].B.X = 190 }, "bends": func(b *Blank) { b.Bends = nil },
		"hole": func(b *Blank) { b.Holes[0].At.Y++ }, "diameter": func(b *Blank) { b.Holes[0].DiameterMM = 6 }, "width": func(b *Blank) { b.Holes[1].WidthMM = 41 }, "height": func(b *Blank) { b.Holes[1].HeightMM = 21 },
		"turn": func(b *Blank) { b.Holes[1].TurnDeg = 6 }, "purpose": func(b *Blank) { b.Holes[1].For = "drain" }, "holes": func(b *Blank) { b.Holes = b.Holes[:1] },
	} {
		b := make()
		change(b)
		if a := make(); a.alike(b) || b.alike(a) {
			t.Errorf("another %s, and still alike", name)
		}
	}
}

// Clearance holes of ISO 273, medium fit (from memory, not checked against the text).
func TestClearanceHoles(t *testing.T) {
	for bolt, want := range map[string]float64{"M5": 5.5, "M6": 6.6, "M8": 9, "M10": 11, "M12": 13.5, "M14": 15.5, "M16": 17.5, "M20": 22} {
		if got := clearanceHole(bolt); got != want {
			t.Errorf("%s: %g mm, want %g", bolt, got, want)
		}
	}
}

// Bolts begin 25 mm from the ends of a strip at half its width and stand evenly, no more than 100 mm apart; a strip too short for
// two has one in its middle.
func TestPlacesOfLidBolts(t *testing.T) {
	strip := func(ps ...r2.Point) *mass.Panel { return &mass.Panel{Outline: geometry.Polygon{Outer: ps}} }
	mitred := func(l float64) *mass.Panel { // 600 long at its foot: ends 10 in at half its width of 20
		return strip(r2.Point{}, r2.Point{X: 20, Y: -20}, r2.Point{X: l - 20, Y: -20}, r2.Point{X: l})
	}
	for _, c := range []struct {
		p        *mass.Panel
		n        int
		from, to float64
	}{
		{mitred(600), 7, 35, 565}, {mitred(670), 7, 35, 635}, {mitred(671), 8, 35, 636}, {mitred(170), 2, 35, 135}, {mitred(71), 2, 35, 36}, {mitred(70), 1, 35, 35}, {mitred(60), 1, 30, 30},
		{strip(r2.Point{}, r2.Point{X: 20, Y: -20}, r2.Point{X: 300, Y: -20}, r2.Point{X: 580, Y: -20}, r2.Point{X: 600}), 7, 25, 575},
	} {
		got := boltPlaces(c.p)
		if len(got) != c.n || math.Abs(got[0]-c.from) > 1e-9 || math.Abs(got[len(got)-1]-c.to) > 1e-9 {
			t.Errorf("%v: %v, want %d from %g to %g", c.p.Outline.Outer, got, c.n, c.from, c.to)
			continue
		}
		for i := 1; i < len(got); i++ {
			if d := got[i] - got[i-1]; math.Abs(d-(c.to-c.from)/float64(c.n-1)) > 1e-9 || d > 100+1e-6 {
				t.Errorf("%v: not even", got)
			}
		}
	}
}

// The K-factor is half from five thicknesses on and never below a quarter; in between, (0.65 + 0.5 log10(r/s)) / 2.
func TestKFactorAtItsEnds(t *testing.T) {
	for _, c := range []struct{ r, s, want float64 }{{10, 2, 0.5}, {50, 2, 0.5}, {1, 0, 0.5}, {0, 2, 0.25}, {0.1, 2, 0.25}, {2, 2, 0.325}, {0.5, 0.25, (0.65 + 0.5*math.Log10(2)) / 2}, {9.99, 2, 0.49964}} {
		if got := KFactor(c.r, c.s); math.Abs(got-c.want) > 2e-4 {
			t.Errorf("r %g, s %g: %.4f, want %.4f", c.r, c.s, got, c.want)
		}
	}
}

// A wall stands on a side of the floor where its outer face lies on the side's line and both run the same way.
func TestWallsThatStandOnASide(t *testing.T) {
	p := &mass.Panel{Origin: r3.Vector{X: 10, Y: 5, Z: 70}, U: r3.Vector{X: 1}, V: r3.Vector{Z: 1}, Normal: r3.Vector{Y: -1}}
	for _, c := range []struct {
		a, dir r2.Point
		shift  float64
		ok     bool
	}{
		{r2.Point{X: 2, Y: 4}, r2.Point{X: 1}, 8, true},
		{r2.Point{X: 2, Y: 4.01}, r2.Point{X: 1}, 8, true},
		{r2.Point{X: 2, Y: 3.5}, r2.Point{X: 1}, 0, false},
		{r2.Point{X: 2, Y: 5}, r2.Point{X: 1}, 0, false}, // its middle, not its face
		{r2.Point{X: 2, Y: 4}, r2.Point{X: -1}, 0, false},
		{r2.Point{X: 10, Y: 4}, r2.Point{Y: 1}, 0, false},
		{r2.Point{X: 10, Y: 4}, r2.Point{X: 0.8, Y: 0.6}, 0, false},
	} {
		if shift, ok := along(p, 1, c.a, c.dir); ok != c.ok || math.Abs(shift-c.shift) > 1e-9 {
			t.Errorf("from %v along %v: %g, %v", c.a, c.dir, shift, ok)
		}
	}
}

// The lower right corner is the lowest, of those that are level the furthest to the right; to stand on a floor a wall's lower edge
// has to be straight over its whole length.
func TestLowerEdgesOfWalls(t *testing.T) {
	for _, c := range []struct {
		ring   geometry.Ring
		x      float64
		footed bool
	}{
		{geometry.Ring{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 5}, {X: 0, Y: 5}}, 10, true},
		{geometry.Ring{{X: 0, Y: 5}, {X: 0, Y: 0}, {X: 10, Y: 0.001}, {X: 10, Y: 5}}, 10, true},
		{geometry.Ring{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 12, Y: 1}, {X: 0, Y: 5}}, 10, false},
		{geometry.Ring{{X: 0, Y: 1}, {X: 10, Y: 0}, {X: 10, Y: 5}, {X: 0, Y: 5}}, 10, false},
		{geometry.Ring{{X: 0, Y: 0}, {X: 10, Y: 1}, {X: 10, Y: 5}, {X: 0, Y: 5}}, 0, false},
		{geometry.Ring{{X: -2, Y: 1}, {X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 5}}, 10, false},
	} {
		if got := c.ring[lowerRight(c.ring)].X; got != c.x {
			t.Errorf("%v: lower right at %g", c.ring, got)
		}
		if got := footed(&mass.Panel{Outline: geometry.Polygon{Outer: c.ring}}); got != c.footed {
			t.Errorf("%v: footed %v", c.ring, got)
		}
	}
}

func plain(mm float64) string { return fmt.Sprintf("%.1f", mm) }

// A pattern for reading has its overall sizes outside it, bend notes along their lines that nobody has to stand on the head to
// read, and beside each cut-out what it is for, its size and its place. What is drilled later has no note.
func TestPatternForReading(t *testing.T) {
	b := oblongBlank("b/tray", 400, 300)
	line := func(ax, ay, bx, by float64, up bool) {
		b.Bends = append(b.Bends, BendLine{A: r2.Point{X: ax, Y: ay}, B: r2.Point{X: bx, Y: by}, Up: up, Bend: Bend{Deg: 90, RadiusMM: 2.5}})
	}
	line(0, 40, 400, 40, true)
	line(400, 260, 0, 260, false)
	line(40, 0, 40, 300, true)
	line(360, 300, 360, 0, true)
	line(200, 0, 300, 100, true)
	line(200, 0, 100, 100, true)
	b.Holes = []Hole{{For: "plug", At: r2.Point{X: 100, Y: 80}, DiameterMM: 40}, {For: "vent", At: r2.Point{X: 200, Y: 150}, WidthMM: 60, HeightMM: 30}, {For: "lid bolt", At: r2.Point{X: 10, Y: 10}, DiameterMM: 6.6, Drilled: true}}
	l := Pattern(b, true, plain)
	var dims []drawing.Dimension
	notes := map[string]drawing.Text{}
	turns := map[r2.Point]float64{}
	circles, lines := 0, 0
	for _, it := range l.Items {
		switch v := it.(type) {
		case drawing.Dimension:
			dims = append(dims, v)
		case drawing.Text:
			notes[v.S] = v
			turns[v.At] = v.Deg
		case drawing.Stroke:
			if v.Radius > 0 {
				circles++
				if h := b.Holes[0]; v.Of.Role != drawing.RoleHole || (v.Radius == 20 && v.Centre != h.At) || (v.Radius != 20 && math.Abs(v.Radius-3.3) > 1e-9) {
					t.Errorf("circle %+v", v)
				}
			}
			if len(v.Points) == 2 {
				lines++
			}
		}
	}
	if circles != 2 || lines != 6 || len(turns) != 8 {
		t.Errorf("%d circles, %d bend lines, %d notes", circles, lines, len(turns))
	}
	for at, want := range map[r2.Point]float64{{X: 200, Y: 40}: 0, {X: 200, Y: 260}: 0, {X: 40, Y: 150}: 90, {X: 360, Y: 150}: 90, {X: 250, Y: 50}: 45, {X: 150, Y: 50}: -45} {
		if got, ok := turns[at]; !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("the bend note at %v is turned by %g, want %g (%v)", at, got, want, ok)
		}
	}
	if n := notes["down 90° r 2.5"]; n.Of.Role != drawing.RoleBendDown || n.At != (r2.Point{X: 200, Y: 260}) {
		t.Errorf("the bend down: %+v", n)
	}
	if n := notes["up 90° r 2.5"]; n.Of.Role != drawing.RoleBendUp {
		t.Errorf("the bends up: %+v", n)
	}
	for s, edge := range map[string]r2.Point{"plug, dia 40.0 at 100.0, 80.0": {X: 120, Y: 80}, "vent, 60.0 x 30.0 at 200.0, 150.0": {X: 230, Y: 150}} {
		if n, ok := notes[s]; !ok || n.Anchor != drawing.West || n.At.Y != edge.Y || n.At.X <= edge.X || n.At.X > edge.X+8 {
			t.Errorf("%q: %+v, want it beside %v", s, n, edge)
		}
	}
	if len(dims) != 2 || dims[0].S != "400.0" || dims[1].S != "300.0" {
		t.Fatalf("%+v", dims)
	}
	for _, d := range dims { // outside, and inside what the list shows
		strokes, _ := d.Parts(1, drawing.Style{Size: 0.1})
		for _, s := range strokes {
			for _, p := range s.Points {
				if (p.X > 2 && p.Y > 2) || !l.Bounds.ContainsPoint(p) {
					t.Errorf("a dimension line at %v in %v", p, l.Bounds)
				}
			}
		}
	}
	if !l.Bounds.ContainsPoint(r2.Point{X: 400, Y: 300}) || l.Bounds.Size().X > 2*400 {
		t.Errorf("bounds %v", l.Bounds)
	}
	if cut := Pattern(b, false, nil); cut.Bounds != r2.RectFromPoints(r2.Point{}, r2.Point{X: 400, Y: 300}) || len(cut.Items) != 1+3+6 {
		t.Errorf("for cutting: %v, %d items", cut.Bounds, len(cut.Items))
	}
}

// On a sheet a piece turned by a quarter has what was its left edge below: a place (x, y) of a piece of 200 x 100 mm comes to
// lie at (100 - y, x) from its least corner.
func TestPiecesAreDrawnWhereTheyLie(t *testing.T) {
	b := oblongBlank("b/lid", 200, 100)
	b.Holes = []Hole{{At: r2.Point{X: 30, Y: 20}, DiameterMM: 10}, {At: r2.Point{X: 50, Y: 60}, WidthMM: 8, HeightMM: 4}}
	b.Bends = []BendLine{{A: r2.Point{Y: 10}, B: r2.Point{X: 200, Y: 10}, Up: true}}
	for turned, want := range map[bool][5]r2.Point{
		false: {{X: 40, Y: 35}, {X: 10, Y: 25}, {X: 210, Y: 25}, {X: 110, Y: 65}, {X: 60, Y: 75}},
		true:  {{X: 90, Y: 45}, {X: 100, Y: 15}, {X: 100, Y: 215}, {X: 60, Y: 115}, {X: 50, Y: 65}},
	} {
		l := Layout(Nest{Material: "steel", ThicknessMM: 1.5, Length: 1020, Wide: 520, Sheets: [][]Piece{nil, {{Blank: b, At: r2.Point{X: 10, Y: 15}, Turned: turned}}}}, 1)
		if l.Title != "steel 1.5 mm, sheet 2 of 2" || l.Bounds.Size() != (r2.Point{X: 1020, Y: 520}) {
			t.Errorf("%q, %v", l.Title, l.Bounds)
		}
		var found [5]bool
		for _, it := range l.Items {
			switch v := it.(type) {
			case drawing.Stroke:
				found[0] = found[0] || v.Radius == 5 && v.Centre == want[0]
				found[1] = found[1] || v.Of.Role == drawing.RoleBendUp && slices.Equal(v.Points, want[1:3])
				if v.Of.Role == drawing.RoleSheet {
					size := r2.RectFromPoints(v.Points...).Size()
					found[2] = (size == r2.Point{X: 200, Y: 100}) != turned && (size == r2.Point{X: 100, Y: 200}) == turned
				}
				if v.Of.Role == drawing.RoleHole && v.Radius == 0 {
					found[3] = r2.RectFromPoints(v.Points...).Center().Sub(want[4]).Norm() < 1e-9
				}
			case drawing.Text:
				wide := 200.0
				if turned {
					wide = 100
				}
				// 0.6 of their size is as wide as letters of a sans-serif face are on average
				found[4] = v.S == "b/lid" && v.At == want[3] && v.InMM <= 30 && v.InMM > 10 && 0.6*v.InMM*5 <= wide
			}
		}
		if found != [5]bool{true, true, true, true, true} {
			t.Errorf("turned %v: circle, bend, outline, cut-out, name: %v", turned, found)
		}
	}
}

// A kind of which there is one has no number.
func TestNamesOfBlanks(t *testing.T) {
	b := box(layout.Shell{Join: "weld"}, oblong)
	var ids []string
	for _, k := range Flatten(b, mass.Panels(b), layout.Sheet{}).Blanks {
		ids = append(ids, k.ID)
	}
	for _, want := range []string{"b/floor", "b/wall-1", "b/wall-2", "b/lid"} {
		if !slices.Contains(ids, want) {
			t.Errorf("no blank %s among %v", want, ids)
		}
	}
}

// Beside a side of 4 mm with walls bent up at both ends, bends of 4 mm sheet would take up more than there is of it: one of the
// walls is cut on its own, and no bend line leaves its blank.
func TestBendsTakeUpNoMoreThanThereIs(t *testing.T) {
	b := &layout.Box{ID: "b", Shell: layout.Shell{WallMM: 4, FlangeMM: 40, BendMM: 3}, Levels: []vehicles.Level{
		level(0, 50, 0, 0, 80, 0, 80, 44, 44, 80, 40, 80, 40, 62, 32, 62, 32, 80, 0, 80), level(20, 50, -40, 0, 0, 0, 0, 64, -40, 64)}}
	got := Flatten(b, mass.Panels(b), layout.Sheet{KFactor: 0.4})
	if len(got.Remarks) == 0 {
		t.Error("no remark on walls cut on their own")
	}
	for i := range got.Blanks {
		k := &got.Blanks[i]
		grown, err := k.Outline.Inset(-0.1)
		if err != nil || len(grown) != 1 {
			t.Fatalf("%s: %v", k.ID, err)
		}
		for _, l := range k.Bends {
			if !grown[0].ContainsSegment(l.A, l.B) {
				t.Errorf("%s: the bend from %v to %v is not inside", k.ID, l.A, l.B)
			}
		}
	}
}

// A flat pattern goes onto a sheet of 1000 x 500 mm where it leaves 10 mm at each edge, either way round.
func TestPatternsThatFitTheSheet(t *testing.T) {
	f := flattener{sheet: layout.Sheet{LengthMM: 1000, WidthMM: 500}}
	for _, c := range []struct {
		w, h float64
		fits bool
	}{{980, 480, true}, {480, 980, true}, {981, 480, false}, {980, 481, false}, {985, 10, false}, {490, 490, false}} {
		if why := f.fits(geometry.NewRect(0, 0, c.w, c.h).Outer); (why == "") != c.fits {
			t.Errorf("%g x %g mm: %q", c.w, c.h, why)
		}
	}
}

// Where a side of a floor of 100 x 100 mm is folded, its bend begins 4 mm inside; both ends move along the sides beside it.
func TestCornersWhereBendsBegin(t *testing.T) {
	sides := sidesOf(geometry.Ring{{}, {X: 60}, {X: 100}, {X: 100, Y: 100}, {Y: 100}}) // the first two run on in one line
	for _, c := range []struct {
		in   map[int]float64
		want []r2.Point
	}{
		{nil, []r2.Point{{}, {X: 60}, {X: 100}, {X: 100, Y: 100}, {Y: 100}}},
		{map[int]float64{2: 4}, []r2.Point{{}, {X: 60}, {X: 96}, {X: 96, Y: 100}, {Y: 100}}},
		{map[int]float64{0: 4, 1: 4, 2: 4, 3: 5, 4: 6}, []r2.Point{{X: 6, Y: 4}, {X: 60, Y: 4}, {X: 96, Y: 4}, {X: 96, Y: 95}, {X: 6, Y: 95}}},
	} {
		for i, p := range corners(sides, c.in) {
			if p.Sub(c.want[i]).Norm() > 1e-9 {
				t.Errorf("moved in by %v: corner %d at %v, want %v", c.in, i, p, c.want[i])
			}
		}
	}
}

// Long walls are bent up first: where not all can be, it is short ones that are cut alone.
func TestLongWallsAreBentFirst(t *testing.T) {
	b := box(layout.Shell{}, oblong)
	f := flattener{box: b, up: 1, out: Box{Box: b, Panels: mass.Panels(b)}}
	f.sort()
	sides := sidesOf(f.floors[0].Outline.Normalised().Outer)
	var got []float64
	for _, c := range f.folds(f.floors[0], sides) {
		got = append(got, math.Round(sides[c.side].length/100))
	}
	if !slices.Equal(got, []float64{6, 6, 3, 3}) {
		t.Errorf("walls of %v hundred mm in this order", got)
	}
}

// Where the floor is of other sheet than the walls, each wall is cut alone with its flange bent from it, however thick, so that the flange's
// mitre sticks out by half of that; welded boxes have no bends.
func TestWallsCutAloneKeepTheirFlanges(t *testing.T) {
	for join, bends := range map[string]int{"fold": 1, "weld": 0} {
		for _, thick := range []float64{0.8, 1.5, 4} {
			b := box(layout.Shell{WallMM: thick, FloorMM: 3, FlangeMM: 20, BendMM: thick, Join: join}, oblong)
			walls, flanges := 0, 0
			for _, k := range Flatten(b, mass.Panels(b), layout.Sheet{}).Blanks {
				switch k.Kind {
				case "wall":
					walls += k.Pieces
					if len(k.Bends) != bends || len(k.Panels) != k.Pieces*(1+bends) {
						t.Errorf("%s, %g mm: %s has %d bends and the panels %v", join, thick, k.ID, len(k.Bends), k.Panels)
					}
				case "flange":
					flanges += k.Pieces
				}
			}
			if walls != 4 || flanges != 4*(1-bends) {
				t.Errorf("%s, %g mm: %d walls, %d flanges", join, thick, walls, flanges)
			}
		}
	}
}

// The lid's bolts lie in the middle of a flange bent from a tray, 10 mm from its edge of 20.
func TestLidBoltsLieInTheMiddleOfTheFlange(t *testing.T) {
	b := box(layout.Shell{WallMM: 1.5, BendMM: 2.5, FlangeMM: 20}, oblong)
	tray := of(t, Flatten(b, mass.Panels(b), layout.Sheet{}), "tray")
	size := tray.Size()
	n := 0
	for _, h := range tray.Holes {
		if !h.Drilled {
			continue
		}
		n++
		if edge := min(h.At.X, h.At.Y, size.X-h.At.X, size.Y-h.At.Y); math.Abs(edge-10) > 0.02 || h.DiameterMM != 6.6 {
			t.Errorf("a bolt at %v lies %g mm from the edge", h.At, edge)
		}
	}
	if n < 2*(7+4) { // 600 and 300 mm long
		t.Errorf("%d bolts", n)
	}
}
