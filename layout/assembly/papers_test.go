package assembly

import (
	"context"
	"encoding/csv"
	"errors"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/vehicles/record"
)

func TestReceivedThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 5).Draw(t, "n")
		var in []layout.Received
		for i := range n {
			words := rapid.StringMatching(`[a-zA-Z0-9,;"'=äß-]{0,12}`)
			in = append(in, layout.Received{Shop: "W" + string(rune('a'+i)), Serial: words.Draw(t, "serial"), Module: "four", Note: words.Draw(t, "note"),
				CellsV:   rapid.SliceOfN(rapid.Float64Range(0, 6), 1, 4).Draw(t, "cells"),
				MilliOhm: rapid.Float64Range(0, 100).Draw(t, "mohm"), Refused: rapid.Bool().Draw(t, "refused")})
		}
		data, err := ExportReceived(in)
		if err != nil {
			t.Fatal(err)
		}
		out, err := ImportReceived("x.csv", data, nil)
		if err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
		if !reflect.DeepEqual(in, out) {
			t.Fatalf("%+v came back as %+v", in, out)
		}
	})
}

func TestImportNamesEveryProblem(t *testing.T) {
	data := "shop_number,module,cells_v,milliohm,refused\n" +
		"W1,four,3.3 3.x,5,no\n" +
		"W2,four,3.3,five,maybe\n" +
		"W3,four\n" +
		"W4,four,9.5,5,no\n" +
		",four,3.3,5,no\n" +
		"W9,four,3.3,5,no\n" +
		"W5,four,3.3,5,no\n" +
		"W5,four,3.3,5,no\n"
	have := &layout.Build{Received: []layout.Received{{Shop: "W9", Module: "four"}}}
	got, err := ImportReceived("in.csv", []byte(data), have)
	if got != nil || err == nil {
		t.Fatalf("read %v, error %v", got, err)
	}
	var ps record.Problems
	if !errors.As(err, &ps) {
		t.Fatalf("%T is no list of problems", err)
	}
	want := []string{
		"in.csv:2:9: cells_v:", "in.csv:3:13: milliohm:", "in.csv:3:18: refused:", "in.csv:4:1: 2 fields",
		"in.csv:5:9: cells_v[0]:", "in.csv:6:1: shop_number:", "in.csv:7:1: shop_number:", "in.csv:9:1: shop_number:",
	}
	if len(ps) != len(want) {
		t.Fatalf("%d problems, want %d:\n%v", len(ps), len(want), err)
	}
	for i, w := range want {
		if !strings.HasPrefix(ps[i].String(), w) {
			t.Errorf("problem %d is %q, want it to begin %q", i, ps[i], w)
		}
	}
}

func TestImportOddFiles(t *testing.T) {
	for name, data := range map[string]string{"empty": "", "only blank lines": "\n\n", "unknown column": "shop_number,module,colour\n", "column twice": "shop_number,module,module\n",
		"no shop number": "module\nfour\n", "open quote": "shop_number,module\n\"W1,four\n", "zero bytes": "\x00\x00"} {
		if got, err := ImportReceived("x.csv", []byte(data), nil); err == nil {
			t.Errorf("%s: read as %v", name, got)
		}
	}
	if got, err := ImportReceived("x.csv", []byte("\xef\xbb\xbfmodule,shop_number\r\nfour, W1 \r\n"), nil); err != nil || len(got) != 1 || got[0].Shop != "W1" {
		t.Errorf("mark at the start, other order, CRLF: %v, %v", got, err)
	}
}

// No joint can be forgotten: rows are as many as terminals and bolts in the plan, and both ends of every joint of the
// model have one.
func TestEveryJointHasATorqueRow(t *testing.T) {
	one, two := boxWith("b1", "eight", 5, "fuse", "contactor", "link"), boxWith("b2", "four", 3, "connector")
	one.Feet = []layout.Foot{{ID: "f1", Bolt: "M10", Class: "8.8", Bolts: 2}, {ID: "f2", Bolt: "M8", Class: "10.9", TorqueNm: 30}}
	m := modelOf(one, two)
	sheets := CheckSheets(m.Scene, func(box string, foot int) (float64, string) { return 40 + float64(foot), "computed" })
	rows := map[string]TorqueRow{}
	n := 0
	for _, s := range sheets {
		for _, r := range append(s.Mechanical, s.Electrical...) {
			rows[r.ID] = r
			n++
		}
	}
	if want := 2*(5+3) + 2*4 + 3; n != want || len(rows) != want {
		t.Errorf("%d rows, %d ids; the plan has %d terminals and bolts", n, len(rows), want)
	}
	ends := 0
	for _, j := range m.Joints {
		for _, i := range [2]int{j.A, j.B} {
			if _, ok := rows[m.Conductors[i].ID]; !ok {
				t.Errorf("%s has no row", m.Conductors[i].ID)
			}
			ends++
		}
	}
	if ends != 2*len(m.Joints) || len(m.Joints) == 0 {
		t.Errorf("%d ends of %d joints", ends, len(m.Joints))
	}
	if _, ok := rows["b1/f1/1"]; !ok {
		t.Error("the first bolt of f1 has no row")
	}
	if r := rows["b1/f1/2"]; r.Thread != "M10 8.8" || r.TorqueNm != 40 || r.Source != "computed" {
		t.Errorf("second bolt of f1: %+v", r)
	}
	if r := rows["b1/f2"]; r.TorqueNm != 30 || r.Source != "plan" {
		t.Errorf("bolt of f2: %+v", r)
	}
}

func TestSheetsShowTheRecord(t *testing.T) {
	s := sceneOf(boxWith("b", "eight", 1))
	s.Plan.Build = &layout.Build{
		Signed: []layout.Signed{{Joint: "b/m1/+", TorqueNm: 8, Tightened: "Ann", Checked: "Bo", Date: "2026-01-02"}},
		Tests:  []layout.Test{{Box: "b", Kind: "insulation", Value: 12, Unit: "Mohm", Passed: true, By: "Bo"}},
		Photos: []layout.Photo{{Box: "b", File: "b.jpg"}, {File: "whole.jpg"}, {Box: "c", File: "c.jpg"}},
	}
	c := CheckSheets(s, nil)[0]
	for _, r := range c.Electrical {
		if (r.Tightened == "Ann" && r.Checked == "Bo") != (r.ID == "b/m1/+") {
			t.Errorf("row %+v", r)
		}
	}
	if c.Tests[0].Result != "12 Mohm, called passed" || len(c.Photos) != 1 || c.Photos[0].File != "b.jpg" {
		t.Errorf("test %+v, photos %v", c.Tests[0], c.Photos)
	}
}

// The classes of IEC 60903 with their highest direct voltage in use.
func TestGloveClasses(t *testing.T) {
	for v, want := range map[float64]string{60: "00", 750: "00", 751: "0", 1500: "0", 1501: "1", 11250: "1", 11251: "2", 25500: "2", 25501: "3", 39750: "3", 39751: "4", 54000: "4"} {
		if got, ok := GloveClass(v); !ok || got != want {
			t.Errorf("%v V: class %s, want %s", v, got, want)
		}
	}
	if _, ok := GloveClass(54001); ok {
		t.Error("54 001 V has a class")
	}
}

func TestPlanStopsWhenTold(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Plan(ctx, modelOf(boxWith("b", "eight", 12))); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}

func TestPlanIsTheSameEachTime(t *testing.T) {
	a, _ := Plan(context.Background(), modelOf(sixteen()...))
	b, _ := Plan(context.Background(), modelOf(sixteen()...))
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}

// Fuse and contactor come first: no link between modules is fitted before every lead to gear of its box.
func TestFuseAndContactorFirst(t *testing.T) {
	m := modelOf(boxWith("b1", "eight", 6, "contactor", "link"), boxWith("b2", "eight", 6, "fuse", "contactor"))
	q, err := Plan(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	linked := map[string]bool{}
	for _, s := range q.Steps {
		switch {
		case s.Kind == FitLink && strings.Contains(s.Text, "the link from"):
			linked[s.Box] = true
		case s.Kind == FitLink && strings.Contains(s.Text, "the lead from") && linked[s.Box]:
			t.Errorf("after a link: %s", s.Text)
		case s.Kind == FitFuse && linked[s.Box]:
			t.Errorf("after a link: %s", s.Text)
		}
	}
	if last := q.Steps[len(q.Steps)-1]; last.Kind != CloseService || len(last.Bare) != 0 || last.Class != "B" {
		t.Errorf("the last step is %+v; the service link closes last, with nothing bare", last)
	}
}

// At the end of a build nothing is bare and every joint has been made once.
func TestPlanMakesEveryJointOnce(t *testing.T) {
	m := modelOf(sixteen()...)
	q, err := Plan(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	made, bare := map[string]int{}, map[string]bool{}
	for _, s := range q.Steps {
		switch s.Kind {
		case FitLink:
			made[strings.Join(s.Refs, " to ")]++
		case Uncover:
			bare[s.Refs[0]] = true
		case Cover:
			delete(bare, s.Refs[0])
		}
		if len(s.Bare) > 2 {
			t.Errorf("%d conductors bare at once: %s", len(s.Bare), s.Text)
		}
	}
	for _, j := range m.Joints {
		if n := made[m.ID(j)]; n != 1 {
			t.Errorf("%s made %d times", m.ID(j), n)
		}
	}
	if len(made) != len(m.Joints) || len(bare) != 0 {
		t.Errorf("%d of %d joints, %d conductors left bare", len(made), len(m.Joints), len(bare))
	}
}

// A torque that is stated, however small, is the plan's or the maker's; where none is stated no source is named.
func TestSourcesOfTorques(t *testing.T) {
	b := boxWith("b", "eight", 1)
	b.Feet = []layout.Foot{{ID: "f1", Bolt: "M6", TorqueNm: 1}, {ID: "f2", Bolt: "M6"}}
	s := sceneOf(b)
	for i := range s.Boxes[0].Modules[0].Terminals {
		x := *s.Boxes[0].Modules[0].Terminals[i].Terminal
		x.TorqueNm = float64(i)
		s.Boxes[0].Modules[0].Terminals[i].Terminal = &x
	}
	c := CheckSheets(s, nil)[0]
	for i, want := range []TorqueRow{{TorqueNm: 1, Source: "plan"}, {}} {
		if r := c.Mechanical[i]; r.TorqueNm != want.TorqueNm || r.Source != want.Source {
			t.Errorf("foot %+v", r)
		}
	}
	for i, want := range []TorqueRow{{}, {TorqueNm: 1, Source: "module maker's data as entered"}} {
		if r := c.Electrical[i]; r.TorqueNm != want.TorqueNm || r.Source != want.Source {
			t.Errorf("terminal %+v", r)
		}
	}
}

// What is wrong is told with its place: of a number twice the line on which its entry began, of a file that cannot be read its
// line, of an empty one its beginning.
func TestImportSaysWhere(t *testing.T) {
	have := &layout.Build{Received: []layout.Received{{Shop: "W9"}}}
	for data, want := range map[string]string{
		"": "x.csv:1:1: the file is empty",
		"note,shop_number,module\n\"a\nb\",W1,four\n\"c\",W1,four\n": "x.csv:4:5: shop_number: \"W1\" is in line 2 already",
		"shop_number,module\nW9,four\n":                              "x.csv:2:1: shop_number: \"W9\" is in the build record already",
		"shop_number,module\nW1,fo\"ur\n":                            "x.csv:2:6: bare",
	} {
		if _, err := ImportReceived("x.csv", []byte(data), have); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", data, err, want)
		}
	}
	for _, err := range []error{errors.New("bad"), &csv.ParseError{Line: 1, Err: errors.New("bad")}} {
		in := importer{file: "x.csv"}
		if in.broken(err); in.problems[0].String() != "x.csv:1:1: bad" {
			t.Errorf("without a place: %s", in.problems[0])
		}
	}
}

// What is wrong in a field that the file has no column for is told at its line's beginning.
func TestFieldWithoutAColumn(t *testing.T) {
	in := importer{columns: []*column{find("module"), find("cells_v")}}
	for path, want := range map[string]int{"cells_v[1]": 1, "module": 0, "serial": 0} {
		if got := in.fieldOf(path); got != want {
			t.Errorf("%s is field %d, want %d", path, got, want)
		}
	}
}

// A table by hand: figures in full, nothing where nothing was measured, fields with commas in quotes and lines that end as RFC 4180 has it.
func TestReceivedAsATable(t *testing.T) {
	got, err := ExportReceived([]layout.Received{{Shop: "W1", Module: "four", CellsV: []float64{1, 3.281}, MilliOhm: 1, CapacityAh: 0.5, Note: "a, b", Refused: true}, {Shop: "W2", Module: "four"}})
	want := "shop_number,serial,module,date,by,cells_v,milliohm,capacity_ah,note,refused\r\nW1,,four,,,1 3.281,1,0.5,\"a, b\",yes\r\nW2,,four,,,,,,,\r\n"
	if err != nil || string(got) != want {
		t.Errorf("%q, %v; want %q", got, err, want)
	}
}
