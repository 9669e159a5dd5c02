package page

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"stowbay/layout/drawing"
)

func text(t testing.TB, d *Doc) []string {
	t.Helper()
	b, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	path, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed")
	}
	file := filepath.Join(t.TempDir(), "page.pdf")
	if err := os.WriteFile(file, b, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(path, "-raw", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
}

func start() *Doc {
	d := New(A4, Head{Title: "test", Plan: "Plan", Date: "2026-01-02"})
	d.Chapter("Chapter", "chapter", 0, false)
	return d
}

func TestTableRepeatsItsHeadAndLosesNoRow(t *testing.T) {
	d := start()
	tab := Table{Columns: []Column{{Head: "first column"}, {Head: "second", Right: true}}}
	for i := range 200 {
		tab.Rows = append(tab.Rows, Row(fmt.Sprintf("row-%03d", i), fmt.Sprint(i)))
	}
	d.Table(tab)
	pages := text(t, d)
	if len(pages) < 3 {
		t.Fatalf("200 rows on %d pages", len(pages))
	}
	all := strings.Join(pages, "")
	for i := range 200 {
		if n := strings.Count(all, fmt.Sprintf("row-%03d", i)); n != 1 {
			t.Errorf("row %d is there %d times", i, n)
		}
	}
	for i, p := range pages {
		if strings.Count(p, "first column") != 1 {
			t.Errorf("page %d has no head", i+1)
		}
		if !strings.Contains(p, fmt.Sprintf("%d of %d", i+1, len(pages))) {
			t.Errorf("page %d has no number", i+1)
		}
	}
}

// A row higher than a page is set in parts; every word of it is there, in order.
func TestRowHigherThanAPage(t *testing.T) {
	d := start()
	var long strings.Builder
	for i := range 3000 {
		fmt.Fprintf(&long, "w%04d ", i)
	}
	d.Table(Table{Columns: []Column{{Head: "a", MM: 60}, {Head: "b"}}, Rows: [][]Cell{Row(long.String(), "short"), Row("after", "x")}})
	all := strings.Join(text(t, d), "")
	at := 0
	for i := range 3000 {
		k := strings.Index(all[at:], fmt.Sprintf("w%04d", i))
		if k < 0 {
			t.Fatalf("word %d is missing or out of order", i)
		}
		at += k
	}
}

// No line that wrap gives is wider than asked for, unless it is a single letter; and none of the text is lost.
func TestWrapKeepsTheTextAndTheWidth(t *testing.T) {
	d := start()
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`([a-zäößA-Z0-9/_.-]{1,40} ){0,12}[a-z/]{0,80}`).Draw(t, "text")
		w := rapid.Float64Range(2, 120).Draw(t, "width")
		d.font("", 8)
		ls := d.wrap(s, w)
		for _, l := range ls {
			if d.width(l) > w+1e-9 && len([]rune(l)) > 1 {
				t.Fatalf("%q is %g wide, more than %g", l, d.width(l), w)
			}
		}
		if got, want := strings.ReplaceAll(strings.Join(ls, ""), " ", ""), strings.ReplaceAll(s, " ", ""); got != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
}

func TestColumnsFillTheWidth(t *testing.T) {
	d := start()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "columns")
		tab := Table{Pt: 7, Columns: make([]Column, n), Rows: [][]Cell{make([]Cell, n)}}
		for i := range n {
			tab.Rows[0][i].S = strings.Repeat("word ", rapid.IntRange(0, 60).Draw(t, "length"))
			tab.Columns[i].Right = rapid.Bool().Draw(t, "right")
		}
		sum := 0.0
		for _, w := range d.columns(tab) {
			if w < 0 {
				t.Fatalf("a column is %g wide", w)
			}
			sum += w
		}
		if sum > d.Width()+1e-6 {
			t.Fatalf("columns of %g mm on %g", sum, d.Width())
		}
	})
}

func TestLinkToNowhereIsAnError(t *testing.T) {
	d := start()
	d.Table(Table{Columns: []Column{{Head: "a"}}, Rows: [][]Cell{{{S: "x", Link: "nowhere"}}}})
	if _, err := d.Bytes(); err == nil || !strings.Contains(err.Error(), "nowhere") {
		t.Errorf("error %v", err)
	}
}

func TestContentsHaveThePagesOfTheirChapters(t *testing.T) {
	d := New(Letter, Head{Title: "test"})
	d.Chapter("Cover", "cover", 0, false)
	d.Contents([]Entry{{"Lying", "lying", 0}, {"Standing", "standing", 1}})
	d.Chapter("Lying", "lying", 0, true)
	d.Upright()
	d.Chapter("Standing", "standing", 1, false)
	d.Wide()
	first := text(t, d)[0]
	for _, s := range []string{"Lying", "Standing"} {
		if !strings.Contains(first, s) {
			t.Errorf("no line for %s", s)
		}
	}
	if fs := strings.Fields(first); !strings.Contains(strings.Join(fs, " "), "2") || !strings.Contains(strings.Join(fs, " "), "4") {
		t.Errorf("page numbers 2 and 4 are not in %q", first)
	}
}

func TestBestWayUp(t *testing.T) {
	d := start()
	for _, c := range []struct {
		w, h float64
		wide bool
	}{{2000, 900, true}, {900, 2000, false}} {
		d.Best(&drawing.List{Bounds: r2.RectFromPoints(r2.Point{}, r2.Point{X: c.w, Y: c.h})})
		if d.wide != c.wide {
			t.Errorf("%g x %g: lies %v", c.w, c.h, d.wide)
		}
	}
}
