package report_test

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/golang/geo/r2"
	"github.com/google/go-cmp/cmp"

	"stowbay/layout"
	"stowbay/layout/goldentest"
	"stowbay/layout/report"
	"stowbay/vehicles"
)

var (
	onPage   = regexp.MustCompile(`<page |<word xMin="([-\d.]+)" yMin="([-\d.]+)"`)
	bookmark = regexp.MustCompile(`(?s)/Title \((.*?[^\\])\)\n?/Parent`)
)

// Where the words stand, page by page, in points from the page's corner: how wide columns and how large figures are shows in it.
// It proves nothing about looks but that nobody changes them unawares; run it with -update where a change is meant.
func TestNoPlaceOnThePapersChangesUnnoticed(t *testing.T) {
	p, _ := demonstration(t)
	p.Settings.Restraint.Set = "racing-40g"
	es := evaluated(p)
	open := openPlan()
	for name, doc := range map[string][]byte{
		"places":          pdfOf(t, p, es[:1], report.Options{}),
		"places-compared": pdfOf(t, p, es, report.Options{Sections: []string{"compare", "register", "summary"}}),
		"places-cooled":   pdfOf(t, cooled(), evaluated(cooled()), report.Options{Sections: []string{"cooling", "assembly"}}),
		"places-open":     pdfOf(t, open, evaluated(open), report.Options{Sections: []string{"boxes", "assumptions", "range"}}),
	} {
		if lines := wordPlaces(tool(t, "pdftotext", "-bbox", saved(t, doc), "-")); len(lines) < 2 {
			t.Errorf("%s: only %d pages with words", name, len(lines))
		} else {
			goldentest.Compare(t, name, nil, lines)
		}
	}
}

// wordPlaces are the means of where the words of each page begin.
func wordPlaces(pages string) []string {
	var lines []string
	n, x, y := 0, 0.0, 0.0
	flush := func() {
		if n > 0 {
			lines = append(lines, fmt.Sprintf("%d words about %.1f, %.0f", n, x/float64(n), y/float64(n)))
		}
		n, x, y = 0, 0, 0
	}
	for _, m := range onPage.FindAllStringSubmatch(pages, -1) {
		if m[1] == "" {
			flush()
			continue
		}
		n, x, y = n+1, x+parse(m[1]), y+parse(m[2])
	}
	flush()
	return lines
}

// openPlan is a plan that leaves nearly everything open: one box with an opening in an invented donor.
func openPlan() *layout.Plan {
	p := layout.NewPlan(vehicles.Catalogue().Donors()[0], "Connector")
	p.Arrangements[0].Boxes = []*layout.Box{{ID: "b", At: vehicles.XYZ{700, -400, 300}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {900, 0}, {900, 700}, {0, 700}}, CeilingMM: 150}},
		Openings: []layout.Opening{{ID: "plug", Kind: "connector", Face: "front", At: vehicles.XYZ{0, 150, 80}, DiameterMM: 40}}}}
	return p
}

// Bookmarks are for chapters and for what stands in a chapter of its own; the tables inside one have none.
func TestTablesHaveNoBookmarks(t *testing.T) {
	p, es := demonstration(t)
	titles, words := map[string]bool{}, ""
	open := openPlan()
	for _, doc := range [][]byte{pdfOf(t, p, es[:1], report.Options{}), pdfOf(t, cooled(), evaluated(cooled()), report.Options{}), pdfOf(t, open, evaluated(open), report.Options{Sections: []string{"boxes", "assumptions"}})} {
		for _, m := range bookmark.FindAllSubmatch(doc, -1) {
			titles[plain(m[1])] = true
		}
		words += solid(tool(t, "pdftotext", "-raw", saved(t, doc), "-"))
	}
	if len(titles) < 25 {
		t.Errorf("only %d bookmarks: %v", len(titles), titles)
	}
	for _, s := range []string{
		"Contents", "Modules", "Gear", "Feet", "Openings", "Clearance and creepage", "Findings that fail or warn here", "What the conversion changes, at kerb mass",
		"By how much moving a box 100 mm changes readings at kerb mass", "Centre of gravity and stability", "What is on board", "Strings", "Voltage under load", "Conductors", "Fuses", "Contactors",
		"Precharge and isolation", "Disconnects, pilot loop and monitoring", "Cables and links", "What a dropped part can bridge, lid off and nothing covered",
		"Parts that stay joined with contactors open, service links out and box connectors unplugged", "Branches", "Modules in the order in which coolant passes them", "Hoses", "Where temperature sensors belong",
		"Taken where nothing is stated", "Steady driving on the level", "Driving cycles, over and over", "How the readings were computed", "Mechanical", "Electrical", "Tests of the closed box",
		"Settings that the plan leaves open, and what is taken instead",
	} {
		if titles[s] {
			t.Errorf("the table %q has a bookmark", s)
		}
		if !strings.Contains(words, solid(s)) {
			t.Errorf("%q stands nowhere: it proves nothing here", s)
		}
	}
}

// outlined is a bookmark as an independent program reads it, with those under it.
type outlined struct {
	Title string
	Kids  []outlined
}

// deep is how many levels of bookmarks are under one.
func deep(o outlined) int {
	n := 0
	for _, k := range o.Kids {
		n = max(n, 1+deep(k))
	}
	return n
}

// Each arrangement has one bookmark at the top, its summary, with its other chapters under it; what belongs to the plan stands
// at the top, too.
func TestBookmarksAreNested(t *testing.T) {
	p, es := demonstration(t)
	var got struct{ Outlines []outlined }
	out := tool(t, "qpdf", "--json=1", "--json-key=outlines", saved(t, pdfOf(t, p, es, report.Options{})))
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	want := []string{p.Name, "Comparison of arrangements"}
	for _, e := range es {
		want = append(want, "Summary: "+e.Arrangement.Name)
	}
	want = append(want, "Module register", "Assumptions and estimates", "Rules and their sources", "Cautions")
	var tops []string
	for _, o := range got.Outlines {
		name, ok := strings.CutPrefix(o.Title, "Summary: ")
		tops = append(tops, o.Title)
		if !ok {
			if deep(o) > 1 {
				t.Errorf("%s has bookmarks %d deep under it", o.Title, deep(o))
			}
			continue
		}
		if deep(o) != 2 { // chapters, and parts of chapters
			t.Errorf("%s has bookmarks %d deep under it", o.Title, deep(o))
		}
		var chapters []string
		for _, k := range o.Kids {
			chapters = append(chapters, k.Title)
		}
		for _, s := range []string{"General arrangement drawings: ", "Boxes: ", "Findings: ", "Parts list: "} {
			if !slices.Contains(chapters, s+name) {
				t.Errorf("%s has under it %q, not %q", o.Title, chapters, s+name)
			}
		}
	}
	if d := cmp.Diff(want, tops); d != "" {
		t.Error(d)
	}
}

var sized = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)"|<word xMin="[-\d.]+" yMin="([-\d.]+)" xMax="[-\d.]+" yMax="([-\d.]+)">(.*)</word>`)

// A heading never stands alone at the foot of a page: what is lowest over the title block is no line of its size, 10.5 points.
func TestNoHeadingStandsAlone(t *testing.T) {
	p, es := demonstration(t)
	for name, doc := range map[string][]byte{"A4": pdfOf(t, p, es, report.Options{}), "Letter": pdfOf(t, p, es, report.Options{Paper: report.Letter, Units: "in_lb"}), "cooled": pdfOf(t, cooled(), evaluated(cooled()), report.Options{})} {
		page, height := 0, 0.0
		lowest, size, word := 0.0, 0.0, ""
		headings := 0
		look := func() {
			if size > 11 && size < 14 {
				t.Errorf("%s, page %d ends in the heading %q", name, page, word)
			}
		}
		for _, m := range sized.FindAllStringSubmatch(tool(t, "pdftotext", "-bbox", saved(t, doc), "-"), -1) {
			if m[2] != "" {
				look()
				page, height, lowest, size = page+1, parse(m[2]), 0, 0
				continue
			}
			y, h := parse(m[4]), parse(m[4])-parse(m[3])
			if h > 11 && h < 14 {
				headings++
			}
			if y > lowest && y < height-22/25.4*72 {
				lowest, size, word = y, h, m[5]
			}
		}
		look()
		if headings < 20 {
			t.Errorf("%s: only %d words of headings", name, headings)
		}
	}
}

// Plans at one scale are as large on the second page as on the first, one plan as large as two: cells of 87 x 52 mm, two of which
// are with 4 mm beside each 182 mm wide, set on the 178 mm between the edges of A4.
func TestPlansAtOneScaleAreAsLargeOnEveryPage(t *testing.T) {
	p := layout.NewPlan(vehicles.Catalogue().Donors()[0], "Many")
	first := p.Arrangements[0]
	p.Arrangements = nil
	for i := range 11 {
		a := *first
		a.ID, a.Name = fmt.Sprint("a", i+1), fmt.Sprint("Variant ", i+1)
		if i == 3 { // it reaches far behind the vehicle
			a.Boxes = []*layout.Box{{ID: "far", At: vehicles.XYZ{9000, 0, 300}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {100, 0}, {100, 80}, {0, 80}}, CeilingMM: 50}}}}
		}
		p.Arrangements = append(p.Arrangements, &a)
	}
	const wide, high = 87. * 178 / 182 / 25.4 * 72, 52. * 178 / 182 / 25.4 * 72
	path := regexp.MustCompile(`([\d.]+) ([\d.]+) m\s+([\d.]+) ([\d.]+) l\s+([\d.]+) ([\d.]+) l\s+([\d.]+) ([\d.]+) l\s+h`)
	for _, n := range []int{2, 3, 8, 9, 11} {
		file := saved(t, pdfOf(t, p, evaluated(p)[:n], report.Options{Sections: []string{"compare"}}))
		cells := 0
		for _, m := range path.FindAllStringSubmatch(tool(t, "qpdf", "--qdf", "--object-streams=disable", file, "-"), -1) {
			r := r2.RectFromPoints(r2.Point{X: parse(m[1]), Y: parse(m[2])}, r2.Point{X: parse(m[5]), Y: parse(m[6])}).Size()
			if math.Abs(r.X-wide) < 0.03 && math.Abs(r.Y-high) < 0.03 {
				cells++
			}
		}
		if pages := strings.Count(tool(t, "pdftotext", file, "-"), "Plans at one scale"); pages != (n+7)/8 {
			t.Errorf("the plans of %d arrangements on %d pages", n, pages)
		}
		if cells != n {
			t.Errorf("%d cells of 87 x 52 mm for %d arrangements", cells, n)
		}
	}
}

// plain decodes a text of a PDF that is in UTF-16 with a mark at its beginning (ISO 32000-1, 7.9.2.2), or leaves it.
func plain(b []byte) string {
	s := strings.NewReplacer(`\(`, "(", `\)`, ")", `\\`, `\`).Replace(string(b))
	if !strings.HasPrefix(s, "\xfe\xff") {
		return s
	}
	var u []uint16
	for i := 2; i+1 < len(s); i += 2 {
		u = append(u, uint16(s[i])<<8|uint16(s[i+1]))
	}
	return string(utf16.Decode(u))
}
