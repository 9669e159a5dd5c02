package report_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"unicode/utf16"

	"stowbay/layout/goldentest"
	"stowbay/layout/report"
)

var (
	onPage   = regexp.MustCompile(`<page |<word xMin="([-\d.]+)" yMin="([-\d.]+)"`)
	bookmark = regexp.MustCompile(`(?s)/Title \((.*?[^\\])\)\n?/Parent`)
)

// Where the words stand, page by page, in points from the page's corner: how large figures are shows in what follows them.
func TestNoPlaceOnThePapersChangesUnnoticed(t *testing.T) {
	p, es := demonstration(t)
	doc := pdfOf(t, p, es, report.Options{Sections: []string{"loads"}})
	var lines []string
	n, x, y := 0, 0.0, 0.0
	flush := func() {
		if n > 0 {
			lines = append(lines, fmt.Sprintf("%d words about %.0f, %.0f", n, x/float64(n), y/float64(n)))
		}
		n, x, y = 0, 0, 0
	}
	for _, m := range onPage.FindAllStringSubmatch(tool(t, "pdftotext", "-bbox", saved(t, doc), "-"), -1) {
		if m[1] == "" {
			flush()
			continue
		}
		n, x, y = n+1, x+parse(m[1]), y+parse(m[2])
	}
	flush()
	if len(lines) < 2 {
		t.Errorf("only %d pages with words", len(lines))
	}
	goldentest.Compare(t, "places", nil, lines)
}

// Bookmarks are for chapters and for what stands in a chapter of its own; the tables inside one have none.
func TestTablesHaveNoBookmarks(t *testing.T) {
	p, es := demonstration(t)
	doc := pdfOf(t, p, es[:1], report.Options{Sections: []string{"loads", "boxes", "electric", "assumptions", "cooling"}})
	titles := map[string]bool{}
	for _, m := range bookmark.FindAllSubmatch(doc, -1) {
		titles[plain(m[1])] = true
	}
	if len(titles) < 5 {
		t.Errorf("only %d bookmarks: %v", len(titles), titles)
	}
	for _, s := range []string{"Openings", "Strings", "Fuses", "Hoses", "What is on board", "Centre of gravity and stability", "What the donor's survey leaves in doubt"} {
		for title := range titles {
			if strings.Contains(title, s) {
				t.Errorf("the table %q has a bookmark", s)
			}
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
