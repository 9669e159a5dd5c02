package view

import (
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/layout/search"
	"stowbay/ui/paint"
)

// texts are the words on a page.
func texts(p *Page) []string {
	var out []string
	for _, it := range p.Items {
		if t, ok := it.(drawing.Text); ok {
			out = append(out, t.S)
		}
	}
	return out
}

// compareTable has two arrangements: the second holds more energy and is heavier, and warns of something new.
func compareTable() *search.Table {
	row := func(key, label, unit string, better search.Better, a, b float64, best int) search.Row {
		r := search.Row{Key: key, Label: label, Unit: unit, Better: better, Differs: a != b, Cells: []search.Cell{{Has: true, Value: a}, {Has: true, Value: b, Diff: b - a}}}
		if best >= 0 {
			r.Cells[best].Best = true
		}
		return r
	}
	return &search.Table{
		Columns: []search.Column{{Name: "One"}, {Name: "Two", Counts: map[check.Severity]int{check.Warns: 1}}},
		Rows: []search.Row{
			row("count", "Modules placed", "", search.NoBetter, 14, 16, -1),
			row("energy_kwh", "Energy", "kWh", search.More, 30, 40, 1),
			row("mass_kg", "Mass at kerb", "kg", search.Less, 1700, 1800, 0),
			row("ssf", "Static stability factor", "", search.More, 1.1801, 1.1802, 1),
			row("odd", "A reading of the rest", "V", search.NoBetter, 1, 2, -1),
		},
		Findings:      []search.FindingRow{{Rule: "mass.axle", Subject: "rear", Severities: []check.Severity{check.Passes, check.Warns}, Texts: []string{"fine", "near"}, Change: "appears in 2"}},
		Sensitivities: []search.Sensitivity{{Box: "mid", Module: "brick", FrontKg: -6, RearKg: 26, HeightMM: -2, EnergyKWh: 1.8, Text: "One more"}},
	}
}

func TestComparisonMarksDifferencesAndBest(t *testing.T) {
	fonts, table := paint.NewFonts(), compareTable()
	got := texts(Comparison(900, fonts, Metric, table, false))
	for _, s := range []string{"1  One", "2  Two", "14", "16", "+2", "+10.0", "+100", "1800 kg"} {
		if !slices.Contains(got, s) {
			t.Errorf("%q is not on the page: %q", s, got)
		}
	}
	best := 0
	for _, s := range got {
		if s == "best" {
			best++
		}
	}
	if best != 2 { // energy and mass; figures that read alike are not told apart
		t.Errorf("%d marks of the best, want 2", best)
	}
	if slices.Contains(got, "A reading of the rest") {
		t.Error("a reading that tells little is shown unasked")
	}
	if !slices.Contains(texts(Comparison(900, fonts, Metric, table, true)), "A reading of the rest") {
		t.Error("a reading is missing though every one was asked for")
	}
}

func TestComparisonInPounds(t *testing.T) {
	got := texts(Comparison(900, paint.NewFonts(), Imperial, compareTable(), false))
	if !slices.Contains(got, "3748 lb") { // 1700 kg over 0.45359237 kg, the pound of 1959
		t.Errorf("1700 kg is not in pounds: %q", got)
	}
}

// A difference has as many decimals as the figures it is between, and is left out where these read alike.
func TestDifferencesOfFiguresWithoutAUnit(t *testing.T) {
	table := compareTable()
	for b, want := range map[float64]string{1.25: "+0.07", 1.1: "−0.08", 1.1802: ""} {
		ssf := table.Row("ssf", "")
		ssf.Cells[1].Value, ssf.Cells[1].Diff = b, b-ssf.Cells[0].Value
		got := texts(Comparison(900, paint.NewFonts(), Metric, table, false))
		if want != "" && !slices.Contains(got, want) || slices.ContainsFunc(got, func(s string) bool { return strings.HasPrefix(s, "±") }) {
			t.Errorf("%g against 1.18: %q", b, got)
		}
	}
}

// Sentences of findings and tips are in the units shown, too. 50.8 mm are 2 in, 100 kg 220 lb.
func TestComparedFindingsInInches(t *testing.T) {
	fonts, table := paint.NewFonts(), compareTable()
	table.Findings[0].Texts[1] = "50.8 mm are left"
	if got := texts(ComparedFindings(900, fonts, Imperial, table)); !slices.Contains(got, "2 warns: 2 in are left") {
		t.Errorf("%q", got)
	}
	table.Sensitivities[0].Text = "One more puts 100 kg on the rear axle."
	if got := OneMorePage(900, fonts, Imperial, table).Rows[0].Tip; got != "One more puts 220 lb on the rear axle." {
		t.Errorf("%q", got)
	}
}

func TestComparedFindingsAndOneMore(t *testing.T) {
	fonts, table := paint.NewFonts(), compareTable()
	got := texts(ComparedFindings(900, fonts, Metric, table))
	for _, s := range []string{"An axle loaded beyond its rating. Against the first: appears in 2.", "1 passes: fine", "2 warns: near"} {
		if !slices.Contains(got, s) {
			t.Errorf("%q is not on the page: %q", s, got)
		}
	}
	got = texts(OneMorePage(900, fonts, Metric, table))
	for _, s := range []string{"1  One", "−6", "+26", "−2.0", "1.8"} {
		if !slices.Contains(got, s) {
			t.Errorf("%q is not on the page: %q", s, got)
		}
	}
}

func TestScatterChoices(t *testing.T) {
	keys, names := ScatterChoices(compareTable())
	if want := []string{"mass_kg", "count", "ssf", "odd"}; !slices.Equal(keys, want) || len(names) != len(keys) {
		t.Errorf("energy can be set against %v, want %v", keys, want)
	}
	if l := Scattered(compareTable(), "mass_kg"); len(l.Items) < 4 {
		t.Errorf("the chart has %d items", len(l.Items))
	}
}

// Pictures stand abreast so that they come out large: two wide ones under each other in a square pane, side by side in
// a flat one; six in two or three columns.
func TestPictureColumns(t *testing.T) {
	cell := r2.Point{X: 90, Y: 45}
	for _, c := range []struct {
		n      int
		aspect float64
		want   int
	}{{2, 1, 1}, {2, 4, 2}, {6, 1.5, 2}, {6, 3, 3}, {1, 1, 1}, {0, 1, 1}} {
		if got := pictureColumns(c.n, cell, c.aspect); got != c.want {
			t.Errorf("%d pictures at %g: %d columns, want %d", c.n, c.aspect, got, c.want)
		}
	}
}
