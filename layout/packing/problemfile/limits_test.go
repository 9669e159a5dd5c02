package problemfile

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"stowbay/layout/packing"
)

// boardJSON is a problem with one of its parts given.
func boardJSON(corner, length, width, rest string) string {
	return fmt.Sprintf(`{"region":{"outline":[[0,0],[%s,0],[0,50]]},"module":{"length":%s,"width":%s}%s}`, corner, length, width, rest)
}

// Lengths from 0.01 mm to 100 m are read and those beyond are refused with the place where they stand.
func TestLengthsAtTheirLimits(t *testing.T) {
	for text, want := range map[string]float64{"0.01": 0.01, "1e-2": 0.01, "100000": 100_000, "2.5": 2.5} {
		rows, err := ReadCSV(strings.NewReader("X,Y,a,b\n" + strings.Join([]string{text, text, text, text}, ",") + "\n"))
		if err != nil || len(rows) != 1 || rows[0] != (Row{want, want, want, want}) {
			t.Errorf("%s: %v, %v", text, rows, err)
		}
		p, err := ReadJSON(strings.NewReader(boardJSON(text, text, text, "")))
		if err != nil || p.Postures[0].LengthMM != want || p.Postures[0].WidthMM != want || p.Bays[0].Levels[0].Region.Outline[1].X != want {
			t.Errorf("%s: %+v, %v", text, p, err)
		}
	}
	for _, text := range []string{"0.00999", "100000.1", "-1", "0", "1e999"} {
		csvFails(t, "X,Y,a,b\n1,1,1,"+text+"\n", `2:7: b: "`+text+`", a length from 0.01 to 100000 mm is allowed`)
		csvFails(t, "X,Y,a,b\n "+text+",1,1,1\n", `2:1: X: "`+text+`"`)
		jsonFails(t, boardJSON("50", text, "1", ""), "module.length: "+text+", from 0.01 to 100000 is allowed")
		jsonFails(t, boardJSON("50", "1", text, ""), "module.width: "+text+", from 0.01 to 100000 is allowed")
	}
	for _, text := range []string{"100001", "-100000.5"} {
		jsonFails(t, boardJSON(text, "1", "1", ""), "1:30: region.outline[1][0]: "+text+", from -100000 to 100000 is allowed")
		jsonFails(t, fmt.Sprintf(`{"region":{"outline":[[0,%s],[1,0],[1,1]]},"module":{"length":2,"width":1}}`, text), "1:26: region.outline[0][1]: "+text+", from -100000 to 100000 is allowed")
	}
}

// A problem may take a thousandth of a second to a day, ten seconds where it does not say; a row of a table ten seconds, and one core.
func TestTimesAtTheirLimits(t *testing.T) {
	for rest, want := range map[string]time.Duration{"": 10 * time.Second, `,"limit_s":0.001`: time.Millisecond, `,"limit_s":86400`: 24 * time.Hour, `,"limit_s":2.5`: 2500 * time.Millisecond} {
		if p, err := ReadJSON(strings.NewReader(boardJSON("50", "2", "1", rest))); err != nil || p.Limit != want || p.Workers != 0 {
			t.Errorf("%s: %v on %d cores (nought: all), %v", rest, p.Limit, p.Workers, err)
		}
	}
	for _, limit := range []string{"0.00099", "86400.1", "-1", "0"} {
		jsonFails(t, boardJSON("50", "2", "1", `,"limit_s":`+limit), "limit_s: "+limit+", from 0.001 to 86400 is allowed")
	}
	p := Row{4, 3, 2, 1}.Problem()
	if p.Limit != 10*time.Second || p.Workers != 1 {
		t.Errorf("a row may take %v on %d cores", p.Limit, p.Workers)
	}
	b := p.Bays[0].Levels[0]
	if fmt.Sprint(b.Region.Outline) != "[{0 0} {4 0} {4 3} {0 3}]" || b.FloorMM != 0 || b.CeilingMM != p.Postures[0].HeightMM || p.Postures[0].LengthMM != 2 || p.Postures[0].WidthMM != 1 {
		t.Errorf("%+v", p)
	}
}

// Times are written in seconds to the microsecond.
func TestTimesAreWrittenToTheMicrosecond(t *testing.T) {
	var out strings.Builder
	if err := RunCSV(t.Context(), strings.NewReader("X,Y,a,b\n4,4,2,1\n"), &out); err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`\n4,4,2,1,8,8,true,\d+\.\d{6}\n$`).MatchString(out.String()) {
		t.Errorf("got %q", out.String())
	}
}

// Eight levels of nesting are read, nine are refused before anything else is said about them.
func TestNestingAtItsLimit(t *testing.T) {
	nested := func(n int) string {
		return `{"deep":` + strings.Repeat("[", n) + "0" + strings.Repeat("]", n) + "}"
	}
	jsonFails(t, nested(7), "1:9: deep: unknown field")
	jsonFails(t, nested(8), "file: not valid JSON: nested deeper than 8")
}

// A file of 64 MiB is read, and one with a byte more is refused.
func TestFileAtItsGreatestLength(t *testing.T) {
	text := append([]byte(boardJSON("50", "2", "1", "")), bytes.Repeat([]byte(" "), 64<<20)...)
	if _, err := ReadJSON(bytes.NewReader(text[:64<<20])); err != nil {
		t.Error(err)
	}
	if _, err := ReadJSON(bytes.NewReader(text[:64<<20+1])); err == nil || err.Error() != "1:1: file: too long, at most 64 MiB is allowed" {
		t.Errorf("a byte too long: %v", err)
	}
}

func TestCornersAtTheirGreatestNumber(t *testing.T) {
	fan := func(n int) string {
		var corners []string
		for i := range n { // on a parabola, so that no three lie on a line
			corners = append(corners, fmt.Sprintf("[%d,%.2f]", i-n/2, float64((i-n/2)*(i-n/2))/1000))
		}
		return fmt.Sprintf(`{"region":{"outline":[%s]},"module":{"length":2,"width":1}}`, strings.Join(corners, ","))
	}
	if _, err := ReadJSON(strings.NewReader(fan(packing.MaxCorners))); err != nil {
		t.Error(err)
	}
	jsonFails(t, fan(packing.MaxCorners+1), fmt.Sprintf("1:22: region.outline: %d corners, at most %d are allowed", packing.MaxCorners+1, packing.MaxCorners))
	jsonFails(t, `{"region":{"outline":[[0,0],[10,0],[10,10]],"keep_outs":[[[1,1],[2,1],[2,2]],[[3,1],[4,1,0]]]},"module":{"length":2,"width":1}}`,
		"1:85: region.keep_outs[1][1]: 3 values, a corner is [x, y]")
}

// Lines and columns count from one, blanks and line ends before a value are passed over.
func TestPlacesOfFaults(t *testing.T) {
	jsonFails(t, "{\n\t\"region\" :\n\n  7,\r\n \"module\": {\"length\":2,\"width\":1}}", "4:3: region: an object {...} is needed")
	jsonFails(t, "{\"region\":{\"outline\":\n 5},\"module\":{\"length\":2,\"width\":1}}", "2:2: region.outline: a list [...] is needed")
	jsonFails(t, "{\"region\":{},\n\"module\":{\"length\":2, \"width\":1,\n \"height\": 3}}", "1:11: region.outline: missing", "3:12: module.height: unknown field, allowed are length, width")
	jsonFails(t, "{\"region\"\n:{]", "2:3: file: not valid JSON")
	jsonFails(t, boardJSON("50", "2", "1", "")+"\n  {}", "2:4: file: more text after the object")
	csvFails(t, "Y,a,b\n1,1,1\n", "1:1: header: no column X, the columns X,Y,a,b are needed")
	csvFails(t, "X,Y,a,b\n1,2,3,4\n1,2,\n", `3:5: a: ""`, "3:5: b: missing, the row has only 3 fields")
}
