package outline

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"stowbay/geometry"
	"stowbay/internal/inputs"
)

// The files were written by the general-purpose library ezdxf 0.18 from a
// rectangle 100 by 50 with a half circle of bulge 1 for one short side, a
// circle of radius 20, the same rectangle with its half circle as three lines
// and an arc, a stray line and a text. The areas are those of the shapes.
func TestReadDXFOfALibrary(t *testing.T) {
	for _, c := range []struct{ file, note string }{
		{"bay-r12.dxf", "names no unit"},
		{"bay-2000.dxf", "the unit of the file is millimetres"},
	} {
		f, err := os.Open(filepath.Join("testdata", c.file))
		if err != nil {
			t.Fatal(err)
		}
		d, err := ReadDXF(f)
		f.Close()
		if err != nil {
			t.Errorf("%s: %v", c.file, err)
			continue
		}
		wantOutlines(t, c.file, d, map[string]float64{
			"bay":  5000 + math.Pi*625/2,
			"hole": math.Pi * 400,
			"loop": 5000 + math.Pi*625/2,
		})
		notes := strings.Join(d.Notes, "\n")
		for _, w := range []string{c.note, `layer "stray": 1 open pieces left out`, "1 of the kind TEXT left out"} {
			if !strings.Contains(notes, w) {
				t.Errorf("%s: the notes %q do not say %q", c.file, notes, w)
			}
		}
	}
}

func wantOutlines(t *testing.T, name string, d Drawing, want map[string]float64) {
	t.Helper()
	if len(d.Outlines) != len(want) {
		t.Errorf("%s: %d outlines, want %d", name, len(d.Outlines), len(want))
	}
	for _, o := range d.Outlines {
		if got := math.Abs(o.Ring.Area()); math.Abs(got-want[o.Layer]) > ChordTolerance*o.Ring.Perimeter() {
			t.Errorf("%s: layer %s has area %v, want %v", name, o.Layer, got, want[o.Layer])
		}
		if faults := (geometry.Polygon{Outer: o.Ring}).Validate(); faults != nil {
			t.Errorf("%s: layer %s: %v", name, o.Layer, faults)
		}
		if o.Line == 0 {
			t.Errorf("%s: layer %s has no line", name, o.Layer)
		}
	}
}

// dxf puts groups, written "code value", into the entities of a file.
func dxf(unit int, groups ...string) string {
	var b strings.Builder
	pair := func(g string) {
		code, value, _ := strings.Cut(g, " ")
		fmt.Fprintf(&b, "%3s\n%s\n", code, value)
	}
	for _, g := range []string{"0 SECTION", "2 HEADER", "9 $INSUNITS", fmt.Sprintf("70 %d", unit), "0 ENDSEC", "0 SECTION", "2 ENTITIES"} {
		pair(g)
	}
	for _, g := range groups {
		pair(g)
	}
	pair("0 ENDSEC")
	pair("0 EOF")
	return b.String()
}

func square(size float64) []string {
	n := fmt.Sprint(size)
	return []string{"0 LWPOLYLINE", "8 a", "90 4", "70 1", "10 0", "20 0", "10 " + n, "20 0", "10 " + n, "20 " + n, "10 0", "20 " + n}
}

func TestReadDXFUnits(t *testing.T) {
	for unit, mm := range map[int]float64{0: 1, 1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000} {
		d, err := ReadDXF(strings.NewReader(dxf(unit, square(10)...)))
		if err != nil || d.MMPerUnit != mm || len(d.Outlines) != 1 || math.Abs(d.Outlines[0].Ring.Area()-100*mm*mm) > 1e-6 {
			t.Errorf("unit %d: %+v, %v", unit, d, err)
		}
	}
}

func TestReadDXFMirrorsUndersides(t *testing.T) {
	over := []string{"0 LWPOLYLINE", "8 a", "70 1", "10 0", "20 0", "10 10", "20 0", "42 0.5", "10 10", "20 10", "210 0", "220 0", "230 -1"}
	d, err := ReadDXF(strings.NewReader(dxf(4, over...)))
	if err != nil || len(d.Outlines) != 1 {
		t.Fatal(d, err)
	}
	plain, err := ReadDXF(strings.NewReader(dxf(4, over[:len(over)-3]...)))
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range d.Outlines[0].Ring {
		if q := plain.Outlines[0].Ring[i]; math.Abs(p.X+q.X) > 1e-9 || math.Abs(p.Y-q.Y) > 1e-9 {
			t.Errorf("corner %d: %v, plain is %v", i, p, q)
		}
	}
}

// An arc on the underside, closed by a line. By the DXF reference's arbitrary axis the x axis of its own system points the other
// way, that of a line does not: the half disc of radius 5 about x = 10 lies about x = -10, and is as high as before.
func TestReadDXFMirrorsArcsOfUndersides(t *testing.T) {
	d, err := ReadDXF(strings.NewReader(dxf(4, "0 ARC", "8 a", "10 10", "20 0", "40 5", "50 0", "51 180", "210 0", "220 0", "230 -1",
		"0 LINE", "8 a", "10 -15", "20 0", "11 -5", "21 0")))
	if err != nil || len(d.Outlines) != 1 {
		t.Fatal(d, err)
	}
	ring := d.Outlines[0].Ring
	if area := math.Abs(ring.Polygon().Area()); math.Abs(area-math.Pi*12.5) > 0.5 {
		t.Errorf("area %v, want about that of half a disc", area)
	}
	if b := ring.Bounds(); math.Abs(b.X.Lo+15) > 0.02 || math.Abs(b.X.Hi+5) > 0.02 || math.Abs(b.Y.Lo) > 0.02 || math.Abs(b.Y.Hi-5) > 0.02 {
		t.Errorf("it lies at %v", b)
	}
}

// A quarter of a ring on the underside, that begins and ends off the axes of its centre: it lies mirrored, as high as before.
func TestReadDXFMirrorsWhereAnArcBegins(t *testing.T) {
	arc := []string{"0 ARC", "8 a", "10 10", "20 0", "40 5", "50 90", "51 180", "210 0", "220 0", "230 -1"}
	groups := append(append(arc, line("a", -10, 0, -10, 5)...), line("a", -10, 0, -5, 0)...)
	d, err := ReadDXF(strings.NewReader(dxf(4, groups...)))
	if err != nil || len(d.Outlines) != 1 {
		t.Fatal(d, err)
	}
	if b := d.Outlines[0].Ring.Bounds(); math.Abs(b.X.Lo+10) > 1e-9 || math.Abs(b.X.Hi+5) > 1e-9 || math.Abs(b.Y.Lo) > 1e-9 || math.Abs(b.Y.Hi-5) > 1e-9 {
		t.Errorf("it lies at %v", b)
	}
}

// The way an entity faces: only what is level within a millionth can be read (the extrusion direction, DXF reference, groups 210, 220, 230).
func TestFacing(t *testing.T) {
	for _, c := range []struct {
		x, y, z string
		want    facing
	}{
		{"0", "0", "1", upward}, {"0", "0", "0.5", upward}, {"0", "0", "-1", downward}, {"0", "0", "0", tilted},
		{"0.95e-6", "0", "1", upward}, {"1.05e-6", "0", "1", tilted}, {"-1", "0", "1", tilted},
		{"0", "0.95e-6", "1", upward}, {"0", "1.05e-6", "1", tilted}, {"0", "-1", "-1", tilted},
	} {
		f := fields{body: []pair{{code: 210, value: c.x}, {code: 220, value: c.y}, {code: 230, value: c.z}}}
		if got := f.facing(); got != c.want || f.err != nil {
			t.Errorf("(%s, %s, %s) faces %v, want %v (%v)", c.x, c.y, c.z, got, c.want, f.err)
		}
	}
	if got := (&fields{}).facing(); got != upward {
		t.Errorf("without a direction: %v", got)
	}
}

func TestCircleInInches(t *testing.T) {
	d, err := ReadDXF(strings.NewReader(dxf(1, "0 CIRCLE", "8 a", "10 4", "20 3", "40 2")))
	if err != nil || len(d.Outlines) != 1 {
		t.Fatal(d, err)
	}
	b := d.Outlines[0].Ring.Bounds()
	for side, off := range map[string]float64{"left": b.X.Lo - 2*25.4, "right": b.X.Hi - 6*25.4, "below": b.Y.Lo - 25.4, "above": b.Y.Hi - 5*25.4} {
		if math.Abs(off) > ChordTolerance {
			t.Errorf("%s it is %v mm off", side, off)
		}
	}
}

// Flag 16 marks a control point of a spline, which is not on the line; flag 1 one that fitting a curve has put in, which is.
func TestVerticesOfASplineFrameAreLeftOut(t *testing.T) {
	groups := []string{"0 POLYLINE", "8 a", "70 1"}
	for _, v := range [][3]string{{"0", "0", "0"}, {"40", "0", "1"}, {"90", "90", "16"}, {"0", "30", "0"}} {
		groups = append(groups, "0 VERTEX", "10 "+v[0], "20 "+v[1], "70 "+v[2])
	}
	d, err := ReadDXF(strings.NewReader(dxf(4, append(groups, "0 SEQEND")...)))
	if err != nil || len(d.Outlines) != 1 || math.Abs(d.Outlines[0].Ring.Area()) != 600 {
		t.Errorf("got %v, %v", d, err)
	}
}

// What stands before the first vertex, as a thickness of group 42 elsewhere might, belongs to none.
func TestFirstVertexKeepsItsHeightAndBulge(t *testing.T) {
	f := fields{body: []pair{{code: 20, value: "9"}, {code: 42, value: "9"}, {code: 10, value: "1"}, {code: 20, value: "2"}, {code: 42, value: "0.5"}, {code: 10, value: "3"}}}
	got := f.vertices()
	if len(got) != 2 || got[0] != (vertex{r2.Point{X: 1, Y: 2}, 0.5}) || got[1] != (vertex{at: r2.Point{X: 3}}) {
		t.Errorf("%v", got)
	}
}

func TestMissingGroupsAreNought(t *testing.T) {
	open := []string{"0 LWPOLYLINE", "8 a", "10 0", "20 0", "10 10", "20 0", "10 10", "20 10"}
	d, err := ReadDXF(strings.NewReader(dxf(4, append(open, "0 LINE", "8 a", "11 10", "21 10")...)))
	if err != nil || len(d.Outlines) != 1 || math.Abs(d.Outlines[0].Ring.Area()) != 50 {
		t.Errorf("not closed by the line from (0, 0): %v, %v", d, err)
	}
	if d, err = ReadDXF(strings.NewReader(dxf(4, open...))); err != nil || len(d.Outlines) != 0 {
		t.Errorf("closed without a flag: %v, %v", d, err)
	}
}

// Outlines closed in themselves come first, whether a flag says so or their ends.
func TestClosedOutlinesComeBeforeThoseJoinedUp(t *testing.T) {
	groups := append(append(line("joined", 0, 0, 9, 0), line("joined", 9, 0, 9, 9)...), line("joined", 9, 9, 0, 0)...)
	groups = append(groups, "0 LWPOLYLINE", "8 itself", "10 0", "20 0", "10 30", "20 0", "10 0", "20 40", "10 0", "20 0")
	d, err := ReadDXF(strings.NewReader(dxf(4, groups...)))
	if err != nil || len(d.Outlines) != 2 || d.Outlines[0].Layer != "itself" || d.Outlines[1].Layer != "joined" {
		t.Errorf("got %v, %v", d, err)
	}
}

func TestKindsLeftOutAreCountedUpToAHundred(t *testing.T) {
	var groups []string
	for range 2 {
		for i := range 103 {
			groups = append(groups, fmt.Sprintf("0 KIND%03d", i))
		}
	}
	for n, want := range map[int]string{100: "1 of the kind KIND099 left out", 101: "1 of other kinds left out"} {
		if d, err := ReadDXF(strings.NewReader(dxf(4, groups[:n]...))); err != nil || d.Notes[len(d.Notes)-1] != want {
			t.Errorf("%d kinds: the last note is %q, want %q, %v", n, d.Notes[len(d.Notes)-1], want, err)
		}
	}
	d, err := ReadDXF(strings.NewReader(dxf(4, groups...)))
	if err != nil || len(d.Notes) != 102 || d.Notes[100] != "2 of the kind KIND099 left out" || d.Notes[101] != "6 of other kinds left out" {
		t.Errorf("%d notes, the last %q, %v", len(d.Notes), d.Notes[len(d.Notes)-2:], err)
	}
	if d, err = ReadDXF(strings.NewReader(dxf(4, "0 "+strings.Repeat("K", 41)))); err != nil || d.Notes[1] != "1 of the kind "+strings.Repeat("K", 40)+" left out" {
		t.Errorf("%q, %v", d.Notes, err)
	}
}

// A hundred circles of 1999 chords have 200000 points with both ends; a line more is too much.
func TestDrawingMayHaveTwoHundredThousandPoints(t *testing.T) {
	var circles []string
	for range 100 {
		circles = append(circles, "0 CIRCLE", "40 40467")
	}
	if d, err := ReadDXF(strings.NewReader(dxf(4, circles...))); err != nil || len(d.Outlines) != 100 || len(d.Outlines[0].Ring) != 1999 {
		t.Errorf("%d outlines, %v", len(d.Outlines), err)
	}
	_, err := ReadDXF(strings.NewReader(dxf(4, append(circles, line("a", 0, 0, 1, 1)...)...)))
	if err == nil || !strings.Contains(err.Error(), "more than 200000 points") {
		t.Errorf("a line more: %v", err)
	}
}

func TestDXFMayBeAsLongAsTheLimit(t *testing.T) {
	for more, want := range map[int]string{0: "ends without EOF", 1: "greater than 64 MB"} {
		r := newPairReader(strings.NewReader("999\n"+strings.Repeat("x", 96+more)), 100)
		d := drawer{pairs: r, skipped: map[string]int{}}
		if err := d.file(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%d bytes more than allowed: %v, want %q", more, err, want)
		}
	}
}

func TestEndsNearerThanAJointShareAKnot(t *testing.T) {
	for _, from := range []r2.Point{{X: 0, Y: 0}, {X: 7.0049, Y: -3.0051}} {
		for _, c := range []struct {
			dx, dy float64
			shared bool
		}{
			{0.009, 0, true}, {-0.009, 0, true}, {0, 0.009, true}, {0, -0.009, true}, {0.006, 0.006, true}, {-0.006, -0.006, true}, {0.006, -0.006, true},
			{0.011, 0, false}, {-0.011, 0, false}, {0, 0.011, false}, {0, -0.011, false}, {0.008, 0.008, false}, {-0.008, 0.008, false},
		} {
			k := knots{cells: map[knotCell][]int{}}
			first := k.number("a", from)
			if got := k.number("a", from.Add(r2.Point{X: c.dx, Y: c.dy})) == first; got != c.shared {
				t.Errorf("(%v, %v) from %v: shared is %v", c.dx, c.dy, from, got)
			}
			if k.number("b", from) == first {
				t.Error("two layers share a knot")
			}
		}
	}
}

func TestReadDXFFaults(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "the file ends without EOF"},
		{"no DXF", "hello\nworld\n", `1: "hello" is not a group code`},
		{"binary", "0\nA\x00\n", "2: binary data"},
		{"cut short", "0\nSECTION\n2\n", "3: the file ends after a group code"},
		{"bad numbers", dxf(4, "0 LWPOLYLINE", "70 1", "10 x", "20 0", "0 LINE", "10 y"), "20: \"x\" is not a number (group code 10)\n26: \"y\" is not"},
		{"infinite", dxf(4, "0 LINE", "10 Inf"), "\"Inf\" is not a number"},
		{"unknown unit", dxf(20, square(1)...), "$INSUNITS 20"},
		{"bad unit", strings.Replace(dxf(4), "70\n4", "70\nfour", 1), "8: \"four\" is not a whole number"},
		{"too far", dxf(6, square(1e4)...), "too far out"},
		{"huge circle", dxf(4, "0 CIRCLE", "40 1e6"), "more than 2000 chords"},
		{"within a polyline", "0\nSECTION\n2\nENTITIES\n0\nPOLYLINE\n0\nVERTEX\n10\n1\n", "the file ends within the polyline"},
		{"long line", "0\n" + strings.Repeat("x", maxLine+1), "2: the line is longer than 64 kB"},
	} {
		_, err := ReadDXF(strings.NewReader(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v does not say %q", c.name, err, c.want)
		}
		var f *Fault
		if !errors.As(err, &f) {
			t.Errorf("%s: %T holds no *Fault", c.name, err)
		}
	}
}

func line(layer string, x0, y0, x1, y1 float64) []string {
	return []string{"0 LINE", "8 " + layer, fmt.Sprint("10 ", x0), fmt.Sprint("20 ", y0), fmt.Sprint("11 ", x1), fmt.Sprint("21 ", y1)}
}

func TestReadDXFJoinsLines(t *testing.T) {
	var groups []string
	add := func(g []string) { groups = append(groups, g...) }
	// A triangle drawn in no order, with ends half a lattice step apart.
	add(line("a", 0, 0, 100, 0))
	add(line("a", 0, 100, 0.004, 0.004))
	add(line("a", 0.003, 100, 99.996, 0))
	// The same on another layer, with a fork: ambiguous, so left out.
	add(line("b", 0, 0, 100, 0))
	add(line("b", 0, 100, 0, 0))
	add(line("b", 0, 100, 100, 0))
	add(line("b", 0, 100, 50, 200))
	// A gap of a millimetre.
	add(line("c", 0, 0, 100, 0))
	add(line("c", 100, 0, 0, 100))
	add(line("c", 0, 100, 0, 1))
	// Joined across layers it would close; it must not.
	add(line("d", 0, 0, 100, 0))
	add(line("e", 100, 0, 0, 100))
	add(line("d", 0, 100, 0, 0))
	d, err := ReadDXF(strings.NewReader(dxf(4, groups...)))
	if err != nil {
		t.Fatal(err)
	}
	wantOutlines(t, "lines", d, map[string]float64{"a": 5000})
	notes := strings.Join(d.Notes, "\n")
	for _, w := range []string{`"b": 4 open`, `"c": 3 open`, `"d": 2 open`, `"e": 1 open`} {
		if !strings.Contains(notes, w) {
			t.Errorf("the notes %q do not say %q", notes, w)
		}
	}
}

// Long open ways and many forks are done with in good time: the benchmark's
// figure per piece does not grow.
func BenchmarkJoin(b *testing.B) {
	for _, n := range []int{1000, 10000} {
		var groups []string
		for i := range n {
			groups = append(groups, line("a", float64(i), 0, float64(i+1), 0)...)
		}
		text := dxf(4, groups...)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := ReadDXF(strings.NewReader(text)); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/piece")
		})
	}
}

// The units of lengths by their definitions: the international yard of 0.9144 m (agreement of 1959), its foot and inch, and the
// metre's parts. The numbers of $INSUNITS are from memory of the DXF reference, not checked against the text.
func TestUnitsByDefinition(t *testing.T) {
	const yard = 914.4
	for code, want := range map[int]float64{
		1: yard / 36, 2: yard / 3, 4: 1, 5: 10, 6: 1000, 8: yard / 36 / 1e6, 9: yard / 36 / 1e3, 10: yard, 13: 1e-3, 14: 100,
	} {
		size := 50 / want
		d, err := ReadDXF(strings.NewReader(dxf(code, square(size)...)))
		if err != nil || len(d.Outlines) != 1 || math.Abs(d.Outlines[0].Ring.Area()-2500) > 1e-6 || math.Abs(d.MMPerUnit/want-1) > 1e-12 {
			t.Errorf("unit %d: %v a unit, want %v; %v", code, d.MMPerUnit, want, err)
		}
	}
}

// Three corners and the first one again make an outline, though no flag says that they are closed.
func TestOpenPolylineThatEndsAtItsStart(t *testing.T) {
	triangle := []string{"0 LWPOLYLINE", "8 a", "90 4", "70 0", "10 0", "20 0", "10 30", "20 0", "10 0", "20 40", "10 0", "20 0"}
	d, err := ReadDXF(strings.NewReader(dxf(4, triangle...)))
	if err != nil || len(d.Outlines) != 1 || math.Abs(d.Outlines[0].Ring.Area()) != 600 {
		t.Errorf("got %v, %v", d, err)
	}
}

// An arc of more than a turn ends where its last part does: half a disc of radius 10 and the line that closes it.
func TestArcBeyondATurn(t *testing.T) {
	for _, to := range []string{"180", "540"} {
		groups := append([]string{"0 ARC", "8 a", "10 0", "20 0", "40 10", "50 0", "51 " + to}, line("a", -10, 0, 10, 0)...)
		d, err := ReadDXF(strings.NewReader(dxf(4, groups...)))
		if err != nil || len(d.Outlines) != 1 {
			t.Errorf("to %s: %v, %v", to, d, err)
			continue
		}
		// By its chords a half disc loses up to the tolerance along its arc.
		if got, want := math.Abs(d.Outlines[0].Ring.Area()), math.Pi*50; got > want || got < want-ChordTolerance*math.Pi*10 {
			t.Errorf("to %s: area %v, want %v", to, got, want)
		}
	}
}

// A narrow sector, half a degree of a circle of 1000 mm: its area is r² times half the angle.
func TestArcOfHalfADegree(t *testing.T) {
	angle := 0.5 * math.Pi / 180
	groups := append([]string{"0 ARC", "8 a", "10 0", "20 0", "40 1000", "50 0", "51 0.5"}, line("a", 1000, 0, 0, 0)...)
	groups = append(groups, line("a", 0, 0, 1000*math.Cos(angle), 1000*math.Sin(angle))...)
	d, err := ReadDXF(strings.NewReader(dxf(4, groups...)))
	if err != nil || len(d.Outlines) != 1 {
		t.Fatal(d, err)
	}
	if got, want := math.Abs(d.Outlines[0].Ring.Area()), 1e6*angle/2; math.Abs(got-want) > 12 { // the lattice moves corners by up to 0.005 mm
		t.Errorf("area %v, want %v", got, want)
	}
}

// Group codes go from -5 to 1071 (DXF reference, group codes in numerical order; from memory, not checked against the text).
func TestGroupCodes(t *testing.T) {
	for code, good := range map[string]bool{"-5": true, "-6": false, "1071": true, "1072": false} {
		_, err := ReadDXF(strings.NewReader(dxf(4, append(square(10), code+" 1")...)))
		if (err == nil) != good {
			t.Errorf("code %s: %v", code, err)
		}
	}
}

func FuzzReadDXF(f *testing.F) {
	for _, b := range dxfFiles(f) {
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) { _ = tryDXF(t, b) })
}

func TestFloodOfDXF(t *testing.T) {
	inputs.Flood{Target: "FuzzReadDXF", Words: inputs.DXFWords, Examples: dxfFiles(t), Read: tryDXF}.Run(t)
}

func dxfFiles(t testing.TB) (out [][]byte) {
	files, err := filepath.Glob("testdata/*.dxf")
	if err != nil || len(files) == 0 {
		t.Fatal("no seeds", err)
	}
	for _, name := range files {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, b)
	}
	return append(out, []byte(dxf(4, square(10)...)), []byte(dxf(1, append(line("a", 0, 0, 1, 1), line("a", 1, 1, 0, 0)...)...)))
}

func tryDXF(t inputs.T, b []byte) error {
	d, err := ReadDXF(bytes.NewReader(b))
	if err != nil && len(d.Outlines) > 0 {
		t.Error("outlines beside an error")
	}
	for _, o := range d.Outlines {
		checkRing(t, o.Ring)
	}
	return err
}
