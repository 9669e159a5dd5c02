package report_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowbay/geometry"
	"stowbay/geometry/outline"
	"stowbay/layout"
	"stowbay/layout/mass"
	"stowbay/layout/report"
	"stowbay/layout/report/fabricate"
)

func written(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			rel, _ := filepath.Rel(dir, path)
			out = append(out, filepath.ToSlash(rel))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	sort.Strings(out)
	return out
}

// The folder holds what was said to be written and nothing else, the same bytes each time.
func TestFolderHoldsWhatWasWritten(t *testing.T) {
	p, es := demonstration(t)
	a, b := t.TempDir(), t.TempDir()
	names, err := report.WriteAll(context.Background(), a, p, es, report.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := report.WriteAll(context.Background(), b, p, evaluated(p), report.Options{}); err != nil {
		t.Fatal(err)
	}
	sort.Strings(names)
	if d := cmp.Diff(names, written(t, a)); d != "" {
		t.Errorf("named and written differ:\n%s", d)
	}
	for _, n := range names {
		x, _ := os.ReadFile(filepath.Join(a, n))
		y, _ := os.ReadFile(filepath.Join(b, n))
		if !bytes.Equal(x, y) {
			t.Errorf("%s differs between two runs", n)
		}
		if len(x) == 0 {
			t.Errorf("%s is empty", n)
		}
	}
	back, err := layout.Load(filepath.Join(a, "plan.yaml"))
	if err != nil || back.Name != p.Name {
		t.Errorf("the plan in the folder: %v", err)
	}
}

func TestWritingStopsWhenAsked(t *testing.T) {
	p, es := demonstration(t)
	ctx, stop := context.WithCancel(context.Background())
	dir := t.TempDir()
	o := report.Options{Sections: []string{"cautions"}, Progress: func(_ float64, s string) {
		if s == "readings.json" {
			stop()
		}
	}}
	done, err := report.WriteAll(ctx, dir, p, es, o)
	if !errors.Is(err, context.Canceled) || len(done) != 3 {
		t.Errorf("%v written, error %v", done, err)
	}
	if d := cmp.Diff([]string{"plan.yaml", "readings.json", "report.pdf"}, written(t, dir)); d != "" {
		t.Error(d)
	}
}

// A link in the folder that leads outside is not followed.
func TestNothingIsWrittenOutsideTheFolder(t *testing.T) {
	p, es := demonstration(t)
	dir, outside := t.TempDir(), t.TempDir()
	if err := os.Symlink(outside, filepath.Join(dir, "drawings")); err != nil {
		t.Skip("links cannot be made here")
	}
	_, err := report.WriteAll(context.Background(), dir, p, es[:1], report.Options{Sections: []string{"cautions"}})
	if err == nil {
		t.Error("writing through a link that leads outside gave no error")
	}
	if got := written(t, outside); len(got) > 0 {
		t.Errorf("written outside: %v", got)
	}
}

// What stands is replaced as a whole, or left where the folder cannot be written.
func TestFolderThatCannotBeMade(t *testing.T) {
	p, es := demonstration(t)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, []byte("kept"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := report.WriteAll(context.Background(), file, p, es, report.Options{}); err == nil {
		t.Error("a file in the folder's place gave no error")
	}
	if b, _ := os.ReadFile(file); string(b) != "kept" {
		t.Error("the file was changed")
	}
}

func table(t *testing.T, dir, name string) [][]string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// column is a column of a table by its head, as numbers.
func column(t *testing.T, rows [][]string, head string) []float64 {
	t.Helper()
	for i, h := range rows[0] {
		if h != head {
			continue
		}
		var out []float64
		for _, r := range rows[1:] {
			v, err := strconv.ParseFloat(r[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, v)
		}
		return out
	}
	t.Fatalf("no column %s in %v", head, rows[0])
	return nil
}

func total(vs []float64) float64 {
	s := 0.0
	for _, v := range vs {
		s += v
	}
	return s
}

// The cut list weighs what the mass ledger's sheet and liner lines do, and the ledger adds up to the vehicle.
func TestCutListWeighsWhatTheLedgerDoes(t *testing.T) {
	p, es := demonstration(t)
	dir := t.TempDir()
	if _, err := report.WriteAll(context.Background(), dir, p, es[:1], report.Options{Sections: []string{"cautions"}}); err != nil {
		t.Fatal(err)
	}
	e := es[0]
	ledger := 0.0
	for _, l := range e.Mass.Ledger() {
		if l.Group == mass.Sheet || l.Group == mass.Liner {
			ledger += l.Kg
		}
	}
	cut := total(column(t, table(t, dir, "tables/cut-list.csv"), "mass_kg"))
	if math.Abs(cut-ledger) > 1e-9*ledger || cut == 0 {
		t.Errorf("cut list %.9f kg, ledger %.9f kg", cut, ledger)
	}
	kg, _ := e.Reading("mass_kg")
	if got := total(column(t, table(t, dir, "tables/ledger.csv"), "mass_kg")); math.Abs(got-kg.Value) > 1e-6 {
		t.Errorf("the ledger adds up to %.6f kg, the vehicle weighs %.6f", got, kg.Value)
	}
	if n := len(table(t, dir, "tables/modules.csv")) - 1; n != e.Scene.Count() {
		t.Errorf("%d modules in the table, %d in the plan", n, e.Scene.Count())
	}
}

func TestReadingsJSON(t *testing.T) {
	p, es := demonstration(t)
	dir := t.TempDir()
	if _, err := report.WriteAll(context.Background(), dir, p, es, report.Options{Sections: []string{"cautions"}}); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(filepath.Join(dir, "readings.json"))
	if err != nil {
		t.Fatal(err)
	}
	var got []map[string]any
	if err := json.Unmarshal(b, &got); err != nil || len(got) != len(es) {
		t.Fatalf("%d arrangements, %v", len(got), err)
	}
	if v := got[1]["count"]; v != float64(es[1].Scene.Count()) {
		t.Errorf("count %v", v)
	}
}

// A flat pattern read back from DXF has the blank's outline to a hundredth of a millimetre.
func TestFlatPatternsComeBackFromDXF(t *testing.T) {
	p, es := demonstration(t)
	dir := t.TempDir()
	if _, err := report.WriteAll(context.Background(), dir, p, es[:1], report.Options{Sections: []string{"cautions"}}); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, m := range es[0].Mass.Boxes {
		x := fabricate.Flatten(es[0].Scene.Box(m.ID).Box, m.Panels, p.Settings.Sheet)
		for _, b := range x.Blanks {
			file, err := os.Open(filepath.Join(dir, "flat", strings.ReplaceAll(b.ID, "/", "-")+".dxf"))
			if err != nil {
				t.Fatal(err)
			}
			d, err := outline.ReadDXF(file)
			file.Close()
			if err != nil {
				t.Fatalf("%s: %v", b.ID, err)
			}
			if !hasRing(d, b.Outline.Outer) {
				t.Errorf("%s: its outline is not among the %d read back", b.ID, len(d.Outlines))
			}
			n++
		}
	}
	if n < 20 {
		t.Errorf("only %d blanks", n)
	}
}

func hasRing(d outline.Drawing, want geometry.Ring) bool {
	for _, o := range d.Outlines {
		if sameRing(o.Ring, want) {
			return true
		}
	}
	return false
}

func sameRing(a, b geometry.Ring) bool {
	if len(a) != len(b) {
		return false
	}
	for shift := range a {
		same := true
		for i := range a {
			if a[(i+shift)%len(a)].Sub(b[i]).Norm() > 0.01 {
				same = false
				break
			}
		}
		if same {
			return true
		}
	}
	return false
}

// A cell that a spreadsheet would run as a formula is written as words.
func TestTablesRunNothing(t *testing.T) {
	b, err := report.CSV([][]string{{"=1+1", "-3.5", "@x", "a,\"b\"", "−"}})
	if err != nil || string(b) != "'=1+1,-3.5,'@x,\"a,\"\"b\"\"\",−\r\n" {
		t.Errorf("%q, %v", b, err)
	}
}

func TestListingIsShort(t *testing.T) {
	got := report.Listing([]string{"report.pdf", "a/flat/1.dxf", "a/flat/2.dxf", "a/tables/x.csv"})
	if d := cmp.Diff([]string{"report.pdf", "a/flat/ (files: 2)", "a/tables/ (files: 1)"}, got); d != "" {
		t.Error(d)
	}
}

func TestFileIsReplacedWhole(t *testing.T) {
	name := filepath.Join(t.TempDir(), "x.pdf")
	for _, s := range []string{"first and longer", "second"} {
		if err := report.WriteFile(name, []byte(s)); err != nil {
			t.Fatal(err)
		}
		if b, _ := os.ReadFile(name); string(b) != s {
			t.Errorf("%q, want %q", b, s)
		}
	}
	if got := written(t, filepath.Dir(name)); len(got) != 1 {
		t.Errorf("left behind: %v", got)
	}
}

func BenchmarkFullReport(b *testing.B) {
	p, _ := demonstration(b)
	four := fourBoxes(p)
	all := evaluated(four)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := report.PDF(four, all[:1], report.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// fourBoxes is the demonstration with a fourth box, a copy of the last one further to the rear.
func fourBoxes(p *layout.Plan) *layout.Plan {
	q := *p
	a := *p.Arrangements[0]
	more := *a.Boxes[len(a.Boxes)-1]
	more.ID, more.Name = "fourth", "Fourth box"
	more.At[0] += 2000
	a.Boxes = append(append([]*layout.Box(nil), a.Boxes...), &more)
	a.Series = 0
	q.Arrangements = []*layout.Arrangement{&a}
	return &q
}
