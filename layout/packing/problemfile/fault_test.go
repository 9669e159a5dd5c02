package problemfile

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"stowbay/internal/inputs"
)

// mustFail runs an input that is to be refused and checks the faults reported.
func mustFail(t *testing.T, run func(out *strings.Builder) error, want ...string) {
	t.Helper()
	var out strings.Builder
	err := run(&out)
	if err == nil {
		t.Fatal("no error")
	}
	if out.Len() > 0 {
		t.Errorf("wrote %q", out.String())
	}
	for _, w := range want {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%q is not in\n%v", w, err)
		}
	}
}

func csvFails(t *testing.T, in string, want ...string) {
	t.Helper()
	mustFail(t, func(out *strings.Builder) error { return RunCSV(context.Background(), strings.NewReader(in), out) }, want...)
}

func jsonFails(t *testing.T, in string, want ...string) {
	t.Helper()
	mustFail(t, func(out *strings.Builder) error { return RunJSON(context.Background(), strings.NewReader(in), out) }, want...)
}

func TestCSVFaults(t *testing.T) {
	csvFails(t, "", "1:1: header")
	csvFails(t, "X,Y,a\n1,2,3\n", "1:1: header: no column b")
	csvFails(t, "X,Y,a,b\n4,x,2,1\n4,4,-1,NaN\n4,4\n", `2:3: Y: "x"`, `3:5: a: "-1"`, `3:8: b: "NaN"`, "4:3: a: missing", "4:3: b: missing")
	csvFails(t, "X,Y,a,b\n\"4,4,2,1\n", "row:")
}

func TestCSVTakesOtherColumnsInAnyOrder(t *testing.T) {
	var out strings.Builder
	if err := RunCSV(context.Background(), strings.NewReader("b,note,a,Y,X\n1,hello,2,2,2.5\n"), &out); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "\n2.5,2,2,1,2,2,true,") {
		t.Errorf("got\n%s", out.String())
	}
}

func TestJSONFaults(t *testing.T) {
	jsonFails(t, "", "1:1: file: not valid JSON")
	jsonFails(t, "[]", "1:1: file: an object")
	jsonFails(t, "{\"region\":\n {]}", "2:", "not valid JSON")
	jsonFails(t, "{} {}", "more text")
	jsonFails(t, "{}", "1:1: module: missing", "1:1: region: missing")
	jsonFails(t, "{\"region\": {\"outline\": [[0,0],[1],[\"a\",0]], \"holes\": []},\n \"module\": {\"length\": -2, \"width\": 1e9},\n \"limit_s\": true}",
		"1:31: region.outline[1]: 1 values", "1:36: region.outline[2][0]: a number", "region.holes: unknown field, allowed are keep_outs, outline",
		"2:23: module.length: -2, from 0.01", "2:36: module.width: 1e9", "3:13: limit_s: a number")
	jsonFails(t, `{"region":{"outline":[[0,0],[10,10],[10,0],[0,20]]},"module":{"length":2,"width":1}}`, "1:11: region.outline: crosses itself")
	jsonFails(t, `{"region":{"outline":[[0,0],[10,0],[5,0]]},"module":{"length":2,"width":1}}`, "has no area")
	jsonFails(t, `{"region":{"outline":[[[[[[[[[[[[0]]]]]]]]]]]]},"module":{"length":2,"width":1}}`, "nested deeper")
	jsonFails(t, `{"region":{"outline":[[0,0],[10,0],[5,5]]},"region":{},"module":{"length":2,"width":1}}`, "region: given twice")
}

func FuzzReadJSON(f *testing.F) {
	f.Add(packingProblem)
	f.Add(`{"region":`)
	f.Fuzz(func(t *testing.T, in string) { _ = tryJSON(t, []byte(in)) })
}

const packingProblem = `{"region":{"outline":[[0,0],[4,0],[4,2]],"keep_outs":[[[1,1],[2,1],[2,2]]]},"module":{"length":2,"width":1},"limit_s":5}`

func TestFloodOfPackingProblems(t *testing.T) {
	words := append(inputs.JSONWords, []byte(`"region":`), []byte(`"keep_outs":`), []byte(`"outline":`), []byte(`"module":`))
	inputs.Flood{Target: "FuzzReadJSON", Words: words, Examples: [][]byte{[]byte(packingProblem)}, Read: tryJSON}.Run(t)
}

func tryJSON(t inputs.T, in []byte) error {
	p, err := ReadJSON(bytes.NewReader(in))
	if err == nil && p.Validate() != nil {
		t.Error("a problem that is read must be valid")
	}
	return err
}
