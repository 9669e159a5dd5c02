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

func TestReadDXFFaults(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "the file ends without EOF"},
		{"no DXF", "hello\nworld\n", `1: "hello" is not a group code`},
		{"binary", "0\n\x00\x01\n", "2: binary data"},
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
