package report_test

import (
	"bytes"
	"context"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/report"
	"stowbay/layout/report/page"
	"stowbay/vehicles"
)

func TestSamePlanSameBytes(t *testing.T) {
	p, es := demonstration(t)
	if !bytes.Equal(pdfOf(t, p, es, report.Options{}), pdfOf(t, p, evaluated(p), report.Options{})) {
		t.Error("two reports of the same plan differ")
	}
}

// An independent reader finds every reading's value and every finding's sentence and source in the text.
func TestReadingsAndFindingsAreInTheText(t *testing.T) {
	p, es := demonstration(t)
	for _, e := range es {
		got := words(t, pdfOf(t, p, []*check.Evaluation{e}, report.Options{}))
		for _, r := range e.Readings {
			if !strings.Contains(got, solid(r.Label)) || !strings.Contains(got, solid(report.Value(r))) {
				t.Errorf("%s: %q with %q is not in the text", e.Arrangement.ID, r.Label, report.Value(r))
			}
		}
		for _, f := range e.Findings {
			if !strings.Contains(got, solid(f.Text)) || !strings.Contains(got, solid(f.Source)) {
				t.Errorf("%s: %q (%s) is not in the text", e.Arrangement.ID, f.Text, f.Source)
			}
		}
	}
}

// The table of findings gives rule, subject, figures and unit side by side.
func TestFindingsHaveTheirFiguresBesideThem(t *testing.T) {
	p, es := demonstration(t)
	e := es[0]
	got := words(t, pdfOf(t, p, es[:1], report.Options{Sections: []string{"findings"}}))
	checked := 0
	for _, f := range e.Findings {
		if f.Compare == "" {
			continue
		}
		checked++
		r, a := layout.Reading{Value: f.Required}, layout.Reading{Value: f.Actual}
		row := f.Rule + f.Subject + f.Text + f.Compare + report.Value(r) + report.Value(a)
		if !strings.Contains(got, solid(row)) {
			t.Errorf("no row %q", row)
		}
	}
	if checked < 20 {
		t.Errorf("only %d findings with figures to look at", checked)
	}
}

func TestNothingIsCalledApproved(t *testing.T) {
	p, es := demonstration(t)
	got := strings.ToLower(tool(t, "pdftotext", saved(t, pdfOf(t, p, es, report.Options{})), "-"))
	got = strings.ReplaceAll(got, "component-approved", "") // UN R100's own word for packs tested apart from a vehicle
	for _, w := range []string{"approved", "certified", "guarantee"} {
		if strings.Contains(got, w) {
			t.Errorf("the report says %q", w)
		}
	}
	if !strings.Contains(solid(got), strings.ToLower(solid(report.Caution))) {
		t.Error("the standing caution is missing")
	}
}

func TestDocumentIsSound(t *testing.T) {
	p, es := demonstration(t)
	for _, paper := range []page.Paper{report.A4, report.Letter} {
		out := tool(t, "qpdf", "--check", saved(t, pdfOf(t, p, es, report.Options{Paper: paper, Units: "in_lb"})))
		if !strings.Contains(out, "No syntax or stream encoding errors found") {
			t.Errorf("%s: %s", paper, out)
		}
	}
}

// Every word lies on its page, inside the paper's edges that a printer needs.
func TestNoWordLeavesThePage(t *testing.T) {
	p, _ := demonstration(t)
	p = long(p)
	es := evaluated(p)
	out := tool(t, "pdftotext", "-bbox", saved(t, pdfOf(t, p, es, report.Options{Paper: report.Letter})), "-")
	size := regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)"`)
	word := regexp.MustCompile(`<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)</word>`)
	var w, h float64
	n := 0
	for _, l := range strings.Split(out, "\n") {
		if m := size.FindStringSubmatch(l); m != nil {
			w, h = parse(m[1]), parse(m[2])
		}
		m := word.FindStringSubmatch(l)
		if m == nil {
			continue
		}
		n++
		const edge = 8.0
		if parse(m[1]) < edge || parse(m[3]) > w-edge || parse(m[2]) < edge || parse(m[4]) > h-edge {
			t.Errorf("%q lies at %v on a page of %g x %g", m[5], m[1:5], w, h)
		}
	}
	if n < 1000 {
		t.Errorf("only %d words were found", n)
	}
}

func parse(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

// long is a plan with names and notes as long as the file format allows.
func long(p *layout.Plan) *layout.Plan {
	q := *p
	q.Name = strings.Repeat("Langes Wort_ohne/Ende-", 9)
	q.Note = strings.Repeat("A long note that goes on. ", 700)
	q.Author = strings.Repeat("W", 200)
	q.Revision = strings.Repeat("9", 40)
	a := *p.Arrangements[0]
	a.Name = strings.Repeat("x", 200)
	b := *a.Boxes[0]
	b.Name = strings.Repeat("Größe ", 33)
	a.Boxes = append([]*layout.Box{&b}, a.Boxes[1:]...)
	q.Arrangements = append([]*layout.Arrangement{&a}, p.Arrangements[1:]...)
	return &q
}

// Letters that the embedded fonts lack, controls and mixed directions must neither stop the report nor break it.
func TestStrangeLettersAreSet(t *testing.T) {
	p, _ := demonstration(t)
	for _, s := range []string{"\U0001F50B battery \U0010FFFF", "שלום עולם", "電池ボックス", "a\x00b\x1bc\u2028d", "\ufffd\ufeff", "(((\\)))", strings.Repeat("\u0301", 50)} {
		q := *p
		q.Name, q.Note, q.Author = s, s, s
		a := *p.Arrangements[0]
		a.Name = s
		b := *a.Boxes[0]
		b.Name = s
		a.Boxes = append([]*layout.Box{&b}, a.Boxes[1:]...)
		q.Arrangements = []*layout.Arrangement{&a}
		doc, err := report.PDF(&q, evaluated(&q), report.Options{Source: []byte("source"), Sections: []string{"summary", "drawings", "boxes"}})
		if err != nil {
			t.Errorf("%q: %v", s, err)
			continue
		}
		tool(t, "qpdf", "--check", saved(t, doc))
	}
}

// Plans with nothing in them say so in words, whatever the donor.
func TestEmptyPlansSayWhatIsMissing(t *testing.T) {
	for _, d := range vehicles.Catalogue().Donors() {
		p := layout.NewPlan(d, "Nothing yet")
		got := words(t, pdfOf(t, p, evaluated(p), report.Options{}))
		for _, s := range []string{"No string: the arrangement has no wired modules", "Nothing is placed in this arrangement yet", "No modules are placed"} {
			if !strings.Contains(got, solid(s)) {
				t.Errorf("%s: the report does not say %q", d.ID, s)
			}
		}
	}
	p := &layout.Plan{Format: 1, Name: "Lost", Donor: "nowhere", Arrangements: []*layout.Arrangement{{ID: "a", Name: "A"}}}
	if got := words(t, pdfOf(t, p, evaluated(p), report.Options{})); !strings.Contains(got, solid("No load cases")) {
		t.Error("a plan without a donor does not say that there are no load cases")
	}
}

// A box of 1200 mm is as long on the page as its stated scale says: measured in the page's own drawing orders, in
// units of 1/72 inch (ISO 32000-1, 8.3.2.3).
func TestScaleMeasuredOnThePage(t *testing.T) {
	p := layout.NewPlan(vehicles.Catalogue().Donors()[0], "Scale")
	p.Arrangements[0].Boxes = []*layout.Box{{ID: "b", At: vehicles.XYZ{700, -400, 300}, Levels: []vehicles.Level{{
		Outline: []vehicles.XY{{0, 0}, {1200, 0}, {1200, 777}, {0, 777}}, FloorMM: 0, CeilingMM: 150}}}}
	file := saved(t, pdfOf(t, p, evaluated(p), report.Options{Sections: []string{"drawings"}}))
	text := tool(t, "pdftotext", file, "-")
	m := regexp.MustCompile(`Plan, seen from above, scale 1:(\d+)`).FindStringSubmatch(text)
	if m == nil {
		t.Fatal("no scale is stated under the plan")
	}
	n := parse(m[1])
	plain := tool(t, "qpdf", "--qdf", "--object-streams=disable", file, "-")
	want := [2]float64{1200 / n / 25.4 * 72, 777 / n / 25.4 * 72}
	path := regexp.MustCompile(`([\d.]+) ([\d.]+) m\s+([\d.]+) ([\d.]+) l\s+([\d.]+) ([\d.]+) l\s+([\d.]+) ([\d.]+) l\s+h`)
	for _, m := range path.FindAllStringSubmatch(plain, -1) {
		if math.Abs(math.Abs(parse(m[3])-parse(m[1]))-want[0]) < 0.03 && math.Abs(math.Abs(parse(m[6])-parse(m[4]))-want[1]) < 0.03 {
			return
		}
	}
	t.Errorf("no outline of %.2f x %.2f units at 1:%g", want[0], want[1], n)
}

// Contents, bookmarks and page numbers are there, and every link of the contents leads to the chapter's page.
func TestContentsAndBookmarks(t *testing.T) {
	p, es := demonstration(t)
	file := saved(t, pdfOf(t, p, es, report.Options{}))
	first := tool(t, "pdftotext", "-layout", "-l", "1", file, "-")
	line := regexp.MustCompile(`(?m)^\s*(Mass ledger: .*?)\s{2,}(\d+)\s*$`)
	ms := line.FindAllStringSubmatch(first, -1)
	if len(ms) != len(es) {
		t.Fatalf("%d mass ledgers in the contents, want %d:\n%s", len(ms), len(es), first)
	}
	for _, m := range ms {
		at := tool(t, "pdftotext", "-f", m[2], "-l", m[2], file, "-")
		if !strings.Contains(at, m[1]) {
			t.Errorf("page %s does not begin %q", m[2], m[1])
		}
	}
	plain := tool(t, "qpdf", "--qdf", "--object-streams=disable", file, "-")
	if n := strings.Count(plain, "/Subtype /Link"); n < 100 {
		t.Errorf("only %d links", n)
	}
	if !strings.Contains(plain, "/Outlines") {
		t.Error("no bookmarks")
	}
}

func TestOnlySections(t *testing.T) {
	p, es := demonstration(t)
	for _, s := range report.SectionList() {
		doc := pdfOf(t, p, es, report.Options{Sections: []string{s.Key}})
		if got := words(t, doc); !strings.Contains(got, solid(s.Title)) {
			t.Errorf("--only %s has no heading %q", s.Key, s.Title)
		}
	}
}

func TestWrongOptionsAreNamed(t *testing.T) {
	p, es := demonstration(t)
	_, err := report.PDF(p, es, report.Options{Sections: []string{"soup"}, Paper: "foolscap", Units: "ells"})
	for _, s := range []string{"soup", "foolscap", "ells"} {
		if err == nil || !strings.Contains(err.Error(), s) {
			t.Errorf("the error does not name %s: %v", s, err)
		}
	}
}

func TestPoundsAndInches(t *testing.T) {
	p, es := demonstration(t)
	got := words(t, pdfOf(t, p, es[:1], report.Options{Units: "in_lb", Sections: []string{"summary"}}))
	kg, _ := es[0].Reading("mass_kg")
	want := strconv.FormatFloat(math.Round(kg.Value/0.45359237), 'f', 0, 64)
	if !strings.Contains(got, want) || !strings.Contains(got, "lb") {
		t.Errorf("%s lb is not in the summary", want)
	}
}

// The order of assembly stands in the report step by step, and in the table with a line for each.
func TestAssemblyIsSetStepByStep(t *testing.T) {
	p, es := demonstration(t)
	got := words(t, pdfOf(t, p, es[1:2], report.Options{Sections: []string{"assembly"}}))
	q, err := assembly.Plan(context.Background(), es[1].Assembly.Model)
	if err != nil || len(q.Steps) < 50 {
		t.Fatalf("%d steps, %v", len(q.Steps), err)
	}
	at := 0
	for i, s := range q.Steps {
		k := strings.Index(got[at:], solid(s.Text))
		if k < 0 {
			t.Fatalf("step %d, %q, is missing or out of order", i+1, s.Text)
		}
		at += k
	}
	dir := t.TempDir()
	if _, err := report.WriteAll(context.Background(), dir, p, es[1:2], report.Options{Sections: []string{"cautions"}}); err != nil {
		t.Fatal(err)
	}
	if n := len(table(t, dir, "tables/assembly.csv")) - 1; n != len(q.Steps) {
		t.Errorf("%d lines in the table for %d steps", n, len(q.Steps))
	}
}

// What the build record says stands in the check sheets and the register.
func TestBuildRecordIsInThePapers(t *testing.T) {
	p, _ := demonstration(t)
	q := *p
	a := q.Arrangements[0]
	slot := a.Boxes[0].ID + "/" + a.Boxes[0].Modules[0].ID
	q.Build = &layout.Build{
		Received: []layout.Received{{Shop: "W-17", Serial: "SN-0815", Module: a.Boxes[0].Modules[0].Module, CellsV: []float64{3.281, 3.279, 3.284}}},
		Slots:    []layout.Slot{{Arrangement: a.ID, Slot: slot, Shop: "W-16", By: "old"}, {Arrangement: a.ID, Slot: slot, Shop: "W-17", By: "Ada"}},
		Signed:   []layout.Signed{{Joint: slot + "/+", Tightened: "Bo", Checked: "Cy", Date: "2026-11-20"}},
		Tests:    []layout.Test{{Box: a.Boxes[0].ID, Kind: "insulation", Value: 500, Unit: "megohm", Passed: true, By: "Di"}},
	}
	es := evaluated(&q)
	got := words(t, pdfOf(t, &q, es[:1], report.Options{Sections: []string{"checks", "register"}}))
	for _, s := range []string{"W-17", "SN-0815", "Ada", "3.279", "3.284", "Bo", "Cy", "500 megohm, called passed", "Di"} {
		if !strings.Contains(got, solid(s)) {
			t.Errorf("%q is not in the papers", s)
		}
	}
	if strings.Contains(got, "W-16") {
		t.Error("the module that was replaced still stands in its slot")
	}
}

// Reports may be set side by side.
func TestReportsSideBySide(t *testing.T) {
	p, es := demonstration(t)
	o := report.Options{Sections: []string{"summary", "boxes"}}
	want := pdfOf(t, p, es, o)
	var all sync.WaitGroup
	for range 3 {
		all.Go(func() {
			if got, err := report.PDF(p, es, o); err != nil || !bytes.Equal(got, want) {
				t.Errorf("a report set beside others differs, %v", err)
			}
		})
	}
	all.Wait()
}
