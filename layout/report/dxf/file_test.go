package dxf

import (
	"bytes"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// groups writes a list at 1:20 and gives the file's groups in a section, each "code value".
func groups(t *testing.T, section string, bounds r2.Rect, items ...drawing.Item) string {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(write(t, &drawing.List{Bounds: bounds, Items: items})), "\r\n"), "\r\n")
	var all []string
	for i := 0; i+1 < len(lines); i += 2 {
		all = append(all, strings.TrimSpace(lines[i])+" "+lines[i+1])
	}
	if len(lines)%2 != 0 || all[len(all)-1] != "0 EOF" {
		t.Fatalf("the file ends with %q", all[len(all)-1])
	}
	_, rest, ok := strings.Cut(strings.Join(all, "\n"), "0 SECTION\n2 "+section+"\n")
	rest, _, end := strings.Cut(rest, "\n0 ENDSEC\n")
	if !ok || !end {
		t.Fatalf("no section %s", section)
	}
	return rest
}

// same compares groups with those written by hand, the groups of an entity or table entry in a line.
func same(t *testing.T, got, want string) {
	t.Helper()
	if got != strings.NewReplacer(" | ", "\n", "\t", "").Replace(strings.Trim(want, "\n\t")) {
		t.Errorf("got\n%s\nwant\n%s", strings.ReplaceAll(got, "\n0 ", "\n\n0 "), want)
	}
}

var square = r2.RectFromPoints(r2.Point{X: -1, Y: -2}, r2.Point{X: 101, Y: 52})

func tag(r drawing.Role) drawing.Tag { return drawing.Tag{Role: r} }

// What stands in these files, group by group, was written by hand by the reference of release 12 (AutoCAD, 1992; from memory,
// not checked against the text; an independent library reads the same groups, see TestAuditFindsNothingToFix).
func TestHeaderHasTheExtent(t *testing.T) {
	same(t, groups(t, "HEADER", square), `
		9 $ACADVER | 1 AC1009
		9 $DWGCODEPAGE | 3 ANSI_1252
		9 $EXTMIN | 10 -1.0000 | 20 -2.0000 | 30 0.0000
		9 $EXTMAX | 10 101.0000 | 20 52.0000 | 30 0.0000`)
	if got := groups(t, "HEADER", r2.EmptyRect()); !strings.HasSuffix(got, "10 1.0000\n20 1.0000\n30 0.0000") {
		t.Errorf("a list without bounds: %s", got)
	}
}

// Dashes are in millimetres of the view: a point at 1:20 is 25.4/72 x 20 = 7.0556 mm.
func TestTablesOfLinesLayersAndLetters(t *testing.T) {
	got := groups(t, "TABLES", square, drawing.Stroke{Of: tag(drawing.RoleCable)}, drawing.Hatch{Of: tag(drawing.RoleBay)}, drawing.Stroke{Of: tag(drawing.RoleBay)}, drawing.Stroke{Of: tag(drawing.RoleBendUp)}, drawing.Stroke{Of: tag(drawing.RoleBox)})
	same(t, got, `
		0 TABLE | 2 LTYPE | 70 3
		0 LTYPE | 2 CONTINUOUS | 70 0 | 3 Solid | 72 65 | 73 0 | 40 0.0000
		0 LTYPE | 2 CHAIN | 70 0 | 3 __ . __ . __ | 72 65 | 73 4 | 40 134.0556 | 49 84.6667 | 49 -17.6389 | 49 14.1111 | 49 -17.6389
		0 LTYPE | 2 DASHED | 70 0 | 3 __ __ __ | 72 65 | 73 2 | 40 56.4444 | 49 35.2778 | 49 -21.1667
		0 ENDTAB
		0 TABLE | 2 LAYER | 70 6
		0 LAYER | 2 0 | 70 0 | 62 7 | 6 CONTINUOUS
		0 LAYER | 2 BAY | 70 0 | 62 3 | 6 DASHED
		0 LAYER | 2 BAY_HATCH | 70 0 | 62 3 | 6 CONTINUOUS
		0 LAYER | 2 BEND_UP | 70 0 | 62 5 | 6 CHAIN
		0 LAYER | 2 BOX | 70 0 | 62 7 | 6 CONTINUOUS
		0 LAYER | 2 TRACTION_CABLE | 70 0 | 62 30 | 6 CONTINUOUS
		0 ENDTAB
		0 TABLE | 2 STYLE | 70 1
		0 STYLE | 2 STANDARD | 70 0 | 40 0.0000 | 41 1.0000 | 50 0.0000 | 71 0 | 42 2.5000 | 3 txt | 4 
		0 ENDTAB`)
}

// The numbers of the colour index: 1 red, 2 yellow, 3 green, 4 cyan, 5 blue, 6 magenta, 7 black or white, 8 grey, 9 light grey,
// 30 orange. What is alike has the same colour, so that a drawing office can set a pen for it.
func TestColoursOfLayers(t *testing.T) {
	for number, roles := range map[int][]drawing.Role{
		1: {drawing.RolePositive, drawing.RoleBreach, drawing.RoleBendDown}, 2: {drawing.RoleWarning, drawing.RoleGear}, 3: {drawing.RoleBay, drawing.RoleClearance},
		4: {drawing.RoleHose, drawing.RolePort}, 5: {drawing.RoleModule, drawing.RoleNegative, drawing.RoleBendUp}, 6: {drawing.RoleKeepOut}, 7: {drawing.RoleBox, drawing.RoleSheet, drawing.RoleHole},
		8: {drawing.RoleZone, drawing.RoleRail, drawing.RoleWheel, drawing.RoleAxle, drawing.RoleCentre, drawing.RoleDimension}, 9: {drawing.RoleGrid, drawing.RoleStrip}, 30: {drawing.RoleCable},
	} {
		for _, r := range roles {
			if got := colourOf(r); got != number {
				t.Errorf("%s has colour %d, want %d", r, got, number)
			}
		}
	}
}

func TestLinesAndCircles(t *testing.T) {
	box := tag(drawing.RoleBox)
	ps := []r2.Point{{X: 0, Y: 0.12345}, {X: 100}, {X: 100, Y: -1e-9}}
	same(t, groups(t, "ENTITIES", square, drawing.Stroke{Of: box, Points: ps[:2]}, drawing.Stroke{Of: box, Points: ps[:1]}, drawing.Stroke{Of: box, Points: ps, Closed: true}, drawing.Stroke{Of: box, Points: ps},
		drawing.Stroke{Of: box, Points: ps, Centre: r2.Point{X: 7, Y: 8}, Radius: 0.5}), `
		0 LINE | 8 BOX | 10 0.0000 | 20 0.1235 | 30 0.0000 | 11 100.0000 | 21 0.0000 | 31 0.0000
		0 POLYLINE | 8 BOX | 66 1 | 10 0.0000 | 20 0.0000 | 30 0.0000 | 70 1
		0 VERTEX | 8 BOX | 10 0.0000 | 20 0.1235 | 30 0.0000
		0 VERTEX | 8 BOX | 10 100.0000 | 20 0.0000 | 30 0.0000
		0 VERTEX | 8 BOX | 10 100.0000 | 20 0.0000 | 30 0.0000
		0 SEQEND | 8 BOX
		0 POLYLINE | 8 BOX | 66 1 | 10 0.0000 | 20 0.0000 | 30 0.0000 | 70 0
		0 VERTEX | 8 BOX | 10 0.0000 | 20 0.1235 | 30 0.0000
		0 VERTEX | 8 BOX | 10 100.0000 | 20 0.0000 | 30 0.0000
		0 VERTEX | 8 BOX | 10 100.0000 | 20 0.0000 | 30 0.0000
		0 SEQEND | 8 BOX
		0 CIRCLE | 8 BOX | 10 7.0000 | 20 8.0000 | 30 0.0000 | 40 0.5000`)
}

// A filled quadrangle names its corners in the order of a Z, a triangle its last one twice. Areas whose outline is drawn anyway
// are left out.
func TestFilledAreas(t *testing.T) {
	ring := geometry.Ring{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 3}, {X: 0, Y: 3}, {X: -1, Y: 1}}
	fill := func(role drawing.Role, n int) drawing.Item {
		return drawing.Fill{Of: tag(role), Area: geometry.Polygon{Outer: ring[:n]}}
	}
	same(t, groups(t, "ENTITIES", square, fill(drawing.RolePort, 3), fill(drawing.RolePort, 4), fill(drawing.RoleBox, 4), fill(drawing.RolePort, 5)), `
		0 SOLID | 8 COOLANT_PORT | 10 0.0000 | 20 0.0000 | 30 0.0000 | 11 4.0000 | 21 0.0000 | 31 0.0000 | 12 4.0000 | 22 3.0000 | 32 0.0000 | 13 4.0000 | 23 3.0000 | 33 0.0000
		0 SOLID | 8 COOLANT_PORT | 10 0.0000 | 20 0.0000 | 30 0.0000 | 11 4.0000 | 21 0.0000 | 31 0.0000 | 12 0.0000 | 22 3.0000 | 32 0.0000 | 13 4.0000 | 23 3.0000 | 33 0.0000
		0 POLYLINE | 8 COOLANT_PORT | 66 1 | 10 0.0000 | 20 0.0000 | 30 0.0000 | 70 1
		0 VERTEX | 8 COOLANT_PORT | 10 0.0000 | 20 0.0000 | 30 0.0000
		0 VERTEX | 8 COOLANT_PORT | 10 4.0000 | 20 0.0000 | 30 0.0000
		0 VERTEX | 8 COOLANT_PORT | 10 4.0000 | 20 3.0000 | 30 0.0000
		0 VERTEX | 8 COOLANT_PORT | 10 0.0000 | 20 3.0000 | 30 0.0000
		0 VERTEX | 8 COOLANT_PORT | 10 -1.0000 | 20 1.0000 | 30 0.0000
		0 SEQEND | 8 COOLANT_PORT`)
}

// Hatch lines have a layer of their own and lie as far apart on paper as said: 7.2 points are 50.8 mm at 1:20, 0.9 are 6.35 mm,
// the 3 points of cut metal 21.1667 mm.
func TestHatchLines(t *testing.T) {
	for pt, want := range map[float64]string{
		7.2: "0 LINE | 8 CUT_BY_THE_SECTION_HATCH | 10 0.0000 | 20 0.0000 | 30 0.0000 | 11 100.0000 | 21 0.0000 | 31 0.0000\n0 LINE | 8 CUT_BY_THE_SECTION_HATCH | 10 0.0000 | 20 50.8000 | 30 0.0000 | 11 100.0000 | 21 50.8000 | 31 0.0000",
		0:   "0 LINE | 8 CUT_BY_THE_SECTION_HATCH | 10 0.0000 | 20 0.0000 | 30 0.0000 | 11 100.0000 | 21 0.0000 | 31 0.0000\n0 LINE | 8 CUT_BY_THE_SECTION_HATCH | 10 0.0000 | 20 21.1667 | 30 0.0000 | 11 100.0000 | 21 21.1667 | 31 0.0000\n0 LINE | 8 CUT_BY_THE_SECTION_HATCH | 10 0.0000 | 20 42.3333 | 30 0.0000 | 11 100.0000 | 21 42.3333 | 31 0.0000",
	} {
		same(t, groups(t, "ENTITIES", square, drawing.Hatch{Of: tag(drawing.RoleCut), Area: geometry.NewRect(0, -0.001, 100, 51), PitchPt: pt}), want)
	}
	got := groups(t, "ENTITIES", square, drawing.Hatch{Of: tag(drawing.RoleCut), Area: geometry.NewRect(0, -0.001, 100, 51), PitchPt: 0.9})
	if n := strings.Count(got, "0 LINE"); n != 9 { // 51 / 6.35 = 8.03
		t.Errorf("%d lines of a pitch of 0.9 pt", n)
	}
}

// The height of DXF's letters is that of capitals, 0.72 of their size; a place is where the anchor says: 72 across, 73 upward.
func TestTexts(t *testing.T) {
	at := r2.Point{X: 3, Y: 4}
	text := func(s string, pt, mm, deg float64, a drawing.Anchor) drawing.Item {
		return drawing.Text{Of: tag(drawing.RoleLabel), At: at, S: s, Pt: pt, InMM: mm, Deg: deg, Anchor: a}
	}
	same(t, groups(t, "ENTITIES", square, text("own", 0, 0, 0, drawing.Middle), text("Größe", 10, 0, -30, drawing.West), text("a\tb", 1, 0, 400, drawing.East), text("~\U0001F50B", 0, 50, 90, drawing.North), text("\x7f", 0, 1, 359, drawing.South)), `
		0 TEXT | 8 LABEL | 10 3.0000 | 20 4.0000 | 30 0.0000 | 40 40.6400 | 1 own | 50 0.0000 | 7 STANDARD | 72 1 | 11 3.0000 | 21 4.0000 | 31 0.0000 | 73 2
		0 TEXT | 8 LABEL | 10 3.0000 | 20 4.0000 | 30 0.0000 | 40 50.8000 | 1 Gr\U+00F6\U+00DFe | 50 330.0000 | 7 STANDARD | 72 0 | 11 3.0000 | 21 4.0000 | 31 0.0000 | 73 2
		0 TEXT | 8 LABEL | 10 3.0000 | 20 4.0000 | 30 0.0000 | 40 5.0800 | 1 a b | 50 40.0000 | 7 STANDARD | 72 2 | 11 3.0000 | 21 4.0000 | 31 0.0000 | 73 2
		0 TEXT | 8 LABEL | 10 3.0000 | 20 4.0000 | 30 0.0000 | 40 36.0000 | 1 ~? | 50 90.0000 | 7 STANDARD | 72 1 | 11 3.0000 | 21 4.0000 | 31 0.0000 | 73 3
		0 TEXT | 8 LABEL | 10 3.0000 | 20 4.0000 | 30 0.0000 | 40 0.7200 | 1 \U+007F | 50 359.0000 | 7 STANDARD | 72 1 | 11 3.0000 | 21 4.0000 | 31 0.0000 | 73 1`)
}

// Without a scale letters are as large as on paper at full size: 10 points are 3.5278 mm, their capitals 2.54.
func TestScaleOfLetters(t *testing.T) {
	l := &drawing.List{Bounds: square, Items: []drawing.Item{drawing.Text{Of: tag(drawing.RoleLabel), S: "x", Pt: 10}}}
	for scale, want := range map[float64]string{0: "2.5400", 0.5: "1.2700", 1: "2.5400", 2: "5.0800"} {
		var b bytes.Buffer
		if err := Write(&b, l, Sheet{Scale: scale}); err != nil || !strings.Contains(b.String(), " 40\r\n"+want+"\r\n  1\r\nx\r\n") {
			t.Errorf("at 1:%g: %v, no height %s", scale, err, want)
		}
	}
}
