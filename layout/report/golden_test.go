package report_test

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/layout/goldentest"
	"stowbay/layout/report"
)

var (
	figure = regexp.MustCompile(`\d+(\.\d+)?`)
	// measured is a figure that is no page, chapter or step: one with decimals, with a unit or a large one.
	measured = regexp.MustCompile(`\d+\.\d+|\d{4,}|\d+ (mm|mm²|kg|V|A|W|kW|%|kN|km|m|J|K|ms|s|Ah|lb|in|MPa|µF|L)\b`)
	digest   = regexp.MustCompile(`\b[0-9a-f]{8,}\b`)
)

// figures are the figures of a table, row by row; of rows without any nothing is kept.
func figures(text string) []string {
	var out []string
	for line := range strings.Lines(text) {
		if fs := figure.FindAllString(line, -1); len(fs) > 0 {
			out = append(out, strings.Join(fs, " "))
		}
	}
	return out
}

// measures are the figures of a text wherever its lines and pages break.
func measures(text string) []string {
	text = strings.Join(strings.Fields(digest.ReplaceAllString(text, "")), " ")
	var out []string
	for fs := range slices.Chunk(measured.FindAllString(text, -1), 8) {
		out = append(out, strings.Join(fs, ", "))
	}
	return out
}

// cooled is the invented van with cooling, its boxes in two branches.
func cooled() *layout.Plan {
	p := demo.Cooled()
	p.Arrangements[0].Loop.Branches = []layout.LoopBranch{{ID: "f", Boxes: []string{"one"}, Modules: "parallel"}, {ID: "r", Boxes: []string{"two"}}}
	return p
}

// Every figure of the papers, read back from the document by an independent program, so that none changes unnoticed. That
// they are the plan's figures, other tests check. Where a change is meant, run the test with -update and look at what changed.
func TestNoFigureOfThePapersChangesUnnoticed(t *testing.T) {
	p, _ := demonstration(t)
	p.Settings.Restraint.Set = "racing-40g"
	for name, doc := range map[string][]byte{
		"demonstration": pdfOf(t, p, evaluated(p), report.Options{}),
		"imperial":      pdfOf(t, p, evaluated(p)[:1], report.Options{Units: "in_lb", Sections: []string{"summary", "readings", "mass", "boxes", "loads", "parts"}}),
		"cooled":        pdfOf(t, cooled(), evaluated(cooled()), report.Options{}),
	} {
		goldentest.Compare(t, name, nil, measures(tool(t, "pdftotext", "-raw", saved(t, doc), "-")))
	}
}

// The tables that are written beside the report, but for names of drawings.
func TestNoTableChangesUnnoticed(t *testing.T) {
	p, es := demonstration(t)
	dir := t.TempDir()
	if _, err := report.WriteAll(context.Background(), dir, p, es[:1], report.Options{Sections: []string{"cautions"}}); err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, name := range written(t, dir) {
		if filepath.Ext(name) != ".csv" {
			continue
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		lines = append(append(lines, name), figures(string(data))...)
	}
	if len(lines) < 50 {
		t.Errorf("only %d lines of tables", len(lines))
	}
	goldentest.Compare(t, "tables", nil, lines)
}
