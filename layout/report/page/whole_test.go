package page

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"stowbay/layout/goldentest"
)

// whole is a document in which everything is set, most of it over several lines.
func whole() *Doc {
	long := func(s string, n int) string { return strings.TrimSpace(strings.Repeat(s+" ", n)) }
	d := New(A4, Head{Title: "fit report", Plan: "Plan of a van", Donor: "Invented van", Revision: "3", Date: "2026-01-02", Hash: "0123456789abcdef", Caution: long("Computed, not approved.", 12)})
	d.Running(long("Arrangement with three boxes,", 8))
	d.Chapter(long("Chapter with a title over two lines", 2), "first", 0, false)
	d.Contents([]Entry{{"First", "first", 0}, {"Middle", "first", 1}, {long("Lower with a long title", 8), "second", 2}, {"Second", "second", 0}})
	d.Section(long("Section with a heading over two lines", 4), "section", 1, 20)
	d.Para(long("A paragraph runs on.", 12))
	d.Small(long("Small words say where a figure is from.", 8))
	d.Bullets([]string{long("An item of more than a line.", 8), "and a short one"})
	d.Caution(long("Words that cannot be overlooked.", 9))
	d.Tallies([]Tally{{Number: "31", Words: long("findings fail", 9), Tone: Bad, Link: "second"}, {Number: "4", Words: "warn", Tone: Poor}, {Number: "15", Words: "hold"}})
	d.Facts([][2]string{{"donor", "Invented van"}, {"remark", long("a value of several lines", 6)}, {"mass", "1234 kg"}, {"wheelbase", "2400 mm"}, {"boxes", "3"}}, 2)
	d.Figure(boundsOf(1000, 200), Figure{Anchor: "figure", MM: 20, Caption: "of nothing", Border: true})
	t := Table{Total: true, Columns: []Column{{Head: "what"}, {Head: "kg", Right: true}, {Head: "remark"}}, Anchors: []string{"row"}}
	for i, tone := range []Tone{Plain, Bad, Poor, Faint, Plain, Plain} {
		t.Rows = append(t.Rows, []Cell{{S: fmt.Sprint("row ", i), Tone: tone, Link: "section", Bold: i == 2}, {S: fmt.Sprint(100 * i)}, {S: long("words about it", 3+5*i)}})
	}
	d.Table(t)
	d.Chapter("Second", "second", 0, true)
	d.Mark("Marked", "mark", 1)
	d.Table(t)
	return d
}

// Every mark, link and bookmark of the pages, in hundredths of a millimetre, so that none changes unnoticed. What they have to be
// the other tests say.
func TestNoPageChangesUnnoticed(t *testing.T) {
	d := whole()
	var lines, fonts []string
	for _, m := range marks(t, d) {
		if m.s != "" && !slices.Contains(fonts, m.style) {
			fonts = append(fonts, m.style)
		}
		if m.s != "" {
			m.style = fmt.Sprintf("%g points of font %d", m.pt, slices.Index(fonts, m.style)+1)
		}
		lines = append(lines, fmt.Sprintf("page %d: %.2f %.2f, %.2f x %.2f %s %s %s %q", m.page, m.x, m.y, m.w, m.h, m.style, m.ink, m.pen, m.s))
	}
	d = whole()
	for _, l := range links(t, d) {
		lines = append(lines, fmt.Sprintf("link on page %d: %.2f %.2f, %.2f x %.2f to page %d, %.2f", l.page, l.x, l.y, l.w, l.h, l.toPage, l.toY))
	}
	d = whole()
	for _, b := range bookmarks(t, d) {
		lines = append(lines, fmt.Sprintf("bookmark %d of page %d, %.2f: %s", b.depth, b.page, b.y, b.title))
	}
	goldentest.Compare(t, "pages", nil, lines)
}

// link is a field of a page that leads elsewhere (ISO 32000-1, 12.5.6.5), in mm from the top left corner.
type link struct {
	page       int
	x, y, w, h float64
	toPage     int
	toY        float64
}

var (
	annotation = regexp.MustCompile(`/Subtype /Link /Rect \[([^\]]*)\] /Border \[0 0 0\] /Dest \[(\d+) 0 R /XYZ 0 (\S+) null\]`)
	outline    = regexp.MustCompile(`(?s)(\d+) 0 obj\n<</Title \((.*?)\)\n/Parent (\d+) 0 R.*?/Dest \[(\d+) 0 R /XYZ 0 (\S+) null\]`)
)

// written is the document's file, and the number of its pages by that of their objects.
func written(t *testing.T, d *Doc) (file []byte, pages map[string]int) {
	t.Helper()
	d.pdf.SetCompression(false)
	b, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	pages = map[string]int{}
	for i, m := range regexp.MustCompile(`(\d+) 0 obj\n<</Type /Page\n`).FindAllSubmatch(b, -1) {
		pages[string(m[1])] = i + 1
	}
	if len(pages) != d.Pages() {
		t.Fatalf("%d pages in the file, want %d", len(pages), d.Pages())
	}
	return b, pages
}

func links(t *testing.T, d *Doc) []link {
	t.Helper()
	b, pages := written(t, d)
	var out []link
	for i, object := range bytes.Split(b, []byte("<</Type /Page\n"))[1:] {
		object, _, _ = bytes.Cut(object, []byte("endobj"))
		h := d.pages[i].h
		for _, m := range annotation.FindAllSubmatch(object, -1) {
			r, y := numbers(string(m[1])), numbers(string(m[3]))[0]
			to := pages[string(m[2])]
			out = append(out, link{i + 1, mm(r[0]), h - mm(r[1]), mm(r[2] - r[0]), mm(r[1] - r[3]), to, d.pages[to-1].h - mm(y)})
		}
	}
	return out
}

type bookmark struct {
	title       string
	depth, page int
	y           float64
}

// bookmarks reads the outline (ISO 32000-1, 12.3.3); titles are UTF-16 of letters below 256.
func bookmarks(t *testing.T, d *Doc) []bookmark {
	t.Helper()
	b, pages := written(t, d)
	depth := map[string]int{}
	var out []bookmark
	for _, m := range outline.FindAllSubmatch(b, -1) {
		up, below := depth[string(m[3])]
		k := bookmark{title: string(bytes.ReplaceAll(m[2][2:], []byte{0}, nil)), page: pages[string(m[4])]}
		if below {
			k.depth = up + 1
		}
		depth[string(m[1])] = k.depth
		y, _ := strconv.ParseFloat(string(m[5]), 64)
		k.y = d.pages[k.page-1].h - mm(y)
		out = append(out, k)
	}
	return out
}

// An outline goes down one level at a time, whatever is asked for, and up as far as it likes; a bookmark leads to 2 mm above its
// heading, so that this is seen, and no bookmark is made for a level below nought.
func TestBookmarksSkipNoLevel(t *testing.T) {
	d := New(A4, Head{})
	var tops []float64
	levels := []int{0, 1, 0, 1, 1, 1, 0}
	for i, level := range []int{3, 3, 0, 2, 1, -1, 0} {
		if i > 0 && d.level != levels[i-1] {
			t.Errorf("bookmark %d is of level %d, want %d", i-1, d.level, levels[i-1])
		}
		if i == 0 {
			d.Chapter("heading 0", "", level, false)
			tops = append(tops, topEdge)
			continue
		}
		d.Section(fmt.Sprint("heading ", i), "", level, 0)
		tops = append(tops, d.y-1-lineHeight(sectionPt))
	}
	got := bookmarks(t, d)
	want := map[string]int{"heading 0": 0, "heading 1": 1, "heading 2": 0, "heading 3": 1, "heading 4": 1, "heading 6": 0}
	for _, b := range got {
		depth, ok := want[b.title]
		i, _ := strconv.Atoi(strings.TrimPrefix(b.title, "heading "))
		if !ok || b.depth != depth || b.page != 1 || !about(b.y, tops[i]-2) {
			t.Errorf("%+v, want depth %d at %.2f", b, depth, tops[i]-2)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d bookmarks, want %d", len(got), len(want))
	}
}

// A link covers its cell, frame or line, and leads to 2 mm above what it names, on the page where that stands first.
func TestLinksCoverTheirWordsAndLeadToTheirPlaces(t *testing.T) {
	d := start()
	d.Contents([]Entry{{"Below", "there", 1}})
	d.Tallies([]Tally{{Number: "1", Words: "first"}, {Number: "2", Words: "second", Link: "there"}})
	d.Table(Table{Pt: 8, Columns: []Column{{MM: 30}, {MM: 40}}, Rows: [][]Cell{Row("a", "b"), {{S: "c"}, {S: "linked", Link: "there"}}}})
	d.Upright()
	d.Space(5) // nothing: the page is just begun
	d.Para("before")
	at := d.y
	d.Anchor("there")
	d.Para("there")
	d.Anchor("there")
	ls := links(t, d)
	if len(ls) != 3 {
		t.Fatalf("%d links", len(ls))
	}
	for _, l := range ls {
		if l.page != 1 || l.toPage != 2 || !about(l.toY, at-2) {
			t.Errorf("%+v, want to page 2, %.2f", l, at-2)
		}
	}
	if c := ls[0]; !about(c.x, leftEdge+5) || !about(c.x+c.w, 210-rightEdge) || !about(c.h, lineHeight(contentsPt)+0.3) {
		t.Errorf("of the contents: %+v", c)
	}
	if c := ls[1]; !about(c.x, leftEdge+178/2+1.5) || !about(c.w, 178/2-1.5) || !about(c.h, 15) {
		t.Errorf("of the frame: %+v", c)
	}
	if c := ls[2]; !about(c.x, leftEdge+30) || !about(c.w, 40) || !about(c.h, lineHeight(8)+1.4) {
		t.Errorf("of the cell: %+v", c)
	}
}

// What belongs together stays on its page where there is just room for it, and goes to the next where there is not.
func TestFramesAreNotPartedByTheEndOfAPage(t *testing.T) {
	for name, c := range map[string]struct {
		room float64 // with the gap that follows, but for 1 mm of a caution's
		set  func(d *Doc)
	}{
		"tallies": {15 + 4, func(d *Doc) { d.Tallies([]Tally{{Number: "1", Words: "one"}}) }},
		"caution": {2*lineHeight(bodyPt) + 5 + 2, func(d *Doc) { d.Caution("one\ntwo") }},
		"row of facts": {2*lineHeight(8) + 1.4, func(d *Doc) {
			d.Facts([][2]string{{"one", "two\nthree"}}, 1)
		}},
	} {
		for _, over := range []float64{0.01, -0.01} {
			d := start()
			d.y = d.h - bottomEdge - c.room - over
			if c.set(d); d.Pages() != map[bool]int{true: 1, false: 2}[over > 0] {
				t.Errorf("%s with %g mm of %g left: %d pages", name, c.room+over, c.room, d.Pages())
			}
		}
	}
}

// A first row that fits a page keeps its head with it; one that fits none begins under its head where 50 mm are left for it.
func TestLongFirstRowBeginsUnderItsHead(t *testing.T) {
	for lines, room := range map[int]float64{30: 30*lineHeight(8) + 1.4, 200: 50} {
		for _, over := range []float64{0.01, -0.01} {
			d := start()
			d.y = d.h - bottomEdge - lineHeight(8) - 1.4 - room - over
			d.Table(Table{Pt: 8, Columns: []Column{{Head: "head"}}, Rows: [][]Cell{Row(strings.Repeat("x\n", lines-1) + "x")}})
			ms := marks(t, d)
			want := map[bool]int{true: 1, false: 2}[over > 0]
			if head, row := texts(ms, "head")[0], texts(ms, "x")[0]; head.page != want || row.page != want {
				t.Errorf("%d lines with %g mm left: the head is on page %d, the first line on %d", lines, room+over, head.page, row.page)
			}
		}
	}
}

// What is said to be measured is measured without starting another page, and it is what the table takes: a total is set in bold
// letters, which need more lines.
func TestTableTakesWhatIsMeasured(t *testing.T) {
	d := start()
	d.font("", 8)
	narrow := d.width("total words") + 2.05 // of plain letters, 1 mm at each side
	for _, total := range []bool{false, true} {
		d := start()
		tab := Table{Pt: 8, Total: total, Columns: []Column{{MM: narrow}}, Rows: [][]Cell{Row("total words"), Row("total words"), Row("x"), Row("total words")}}
		lines := 5 // with the head's
		if total {
			lines = 6
		}
		want := float64(lines)*lineHeight(8) + 5*1.4 + 3
		y := d.y
		got := d.TableHeight(tab)
		if d.Table(tab); !about(got, want) || !about(d.y-y, want) {
			t.Errorf("total %v: said to be %g, is %g, want %g", total, got, d.y-y, want)
		}
		d.y = d.h - bottomEdge + 1
		if d.TableHeight(tab); d.Pages() != 1 {
			t.Error("measuring started a page")
		}
	}
	none := New(A4, Head{})
	if h := none.TableHeight(Table{Pt: 8, Columns: []Column{{}}}); !about(h, lineHeight(8)+1.4+3) {
		t.Errorf("measured before the first page: %g", h)
	}
}

// partsOf sets a table whose second row has n lines where room is left for the first row and k lines of the second; it gives how
// many lines of the second stand on each page.
func partsOf(t *testing.T, n int, room float64) []int {
	t.Helper()
	d := start()
	row := lineHeight(8) + 1.4
	d.y = d.h - bottomEdge - 2*row - room - 1e-6
	d.Table(Table{Pt: 8, Columns: []Column{{Head: "head"}}, Rows: [][]Cell{Row("first"), Row(strings.TrimSuffix(strings.Repeat("x\n", n), "\n"))}})
	parts := make([]int, d.Pages())
	for _, m := range texts(marks(t, d), "x") {
		parts[m.page-1]++
	}
	return parts
}

// A row that fits a page under a repeated head is never parted; a longer one fills what is left first, if that is a line at least.
// A4 has 297 - 19 - 25 = 253 mm of height.
func TestRowsArePartedOnlyWhereTheyFitNoPage(t *testing.T) {
	row, lh := lineHeight(8)+1.4, lineHeight(8)
	most := int((253 - row - 1.4) / lh)
	for _, c := range []struct {
		lines int
		room  float64
		want  []int
	}{
		{most, 100, []int{0, most}},
		{most + 1, 1.4 + 3*lh, []int{3, most - 2}},
		{most + 1, 1.4 + 3*lh - 0.01, []int{2, most - 1}},
		{most + 1, 1.4 + lh, []int{1, most}},
		{most + 1, 1.4 + lh - 0.01, []int{0, most, 1}},
		{2*most + 5, 1.4 + 5*lh, []int{5, most, most}},
		{3, 1.4 + 3*lh, []int{3}},
		{3, 1.4 + 3*lh - 0.01, []int{0, 3}},
	} {
		if got := partsOf(t, c.lines, c.room); !slices.Equal(got, c.want) {
			t.Errorf("%d lines with %.2f mm left: %v, want %v", c.lines, c.room, got, c.want)
		}
	}
}

// Facts have no head: a value longer than a page goes on at the top of the next, none of it below the foot.
func TestLongFactsStayOnTheirPages(t *testing.T) {
	d := start()
	d.Facts([][2]string{{"name", strings.Repeat("x\n", 100) + "end"}}, 1)
	ms := marks(t, d)
	onPage := map[int]int{}
	for _, m := range slices.Concat(texts(ms, "x"), texts(ms, "end")) {
		onPage[m.page]++
		if m.y < topEdge || m.y > 297-bottomEdge {
			t.Errorf("%+v", m)
		}
	}
	lh := lineHeight(8)
	first := int((253 - lineHeight(chapterPt) - 2.5 - 1.4) / lh)
	if onPage[1] != first || onPage[2] != 101-first || the(t, ms, "end").page != 2 {
		t.Errorf("lines on the pages: %v, want %d on the first", onPage, first)
	}
}

// The width that a table asks for in each column: its head is bold, so are cells marked and the total; what follows figures is
// moved in.
func TestWidthsThatATableAsksFor(t *testing.T) {
	d := start()
	wide := func(style, s string) float64 {
		d.font(style, 8)
		return d.width(s) + 2.2
	}
	tab := Table{Pt: 8, Total: true, Columns: []Column{{Head: "kg", Right: true}, {Head: "heading here"}, {Head: "x"}},
		Rows: [][]Cell{Row("1", "none", "middling text"), {{S: "1250", Bold: true}}, Row("1250"), Row("1250", "some", "the sum in total")}}
	tab.Rows[0][0].S = "12.5"
	need, least := d.needs(tab)
	word := func(i int, want float64) {
		if !about(least[i], want) {
			t.Errorf("column %d: its longest word asks for %g, want %g", i, least[i], want)
		}
	}
	for i, want := range []float64{wide("B", "1250"), wide("B", "heading here") + 2.2, max(wide("", "middling text"), wide("B", "the sum in total"))} {
		if !about(need[i], want) {
			t.Errorf("column %d asks for %g, want %g", i, need[i], want)
		}
	}
	word(0, wide("B", "1250"))
	word(1, wide("B", "heading")+2.2)
	word(2, max(wide("", "middling"), wide("B", "total")))
	tab.Rows = [][]Cell{Row("1250"), Row("1")} // the last, not the first, is the total
	if need, _ := d.needs(tab); !about(need[0], max(wide("", "1250"), wide("B", "kg"))) {
		t.Errorf("a plain row asks for %g", need[0])
	}
}

// Columns of a stated width get it, to a fraction of a millimetre; the others share the rest.
func TestStatedWidths(t *testing.T) {
	d := start()
	w := d.columns(Table{Pt: 8, Columns: []Column{{MM: 60}, {}, {MM: 0.5}, {}}, Rows: [][]Cell{Row("", "some words", "", "other words")}})
	if w[0] != 60 || w[2] != 0.5 || math.Abs(w[1]+w[3]-d.Width()+60.5) > 1e-9 {
		t.Errorf("widths %v of 178 mm", w)
	}
}

// Words after figures are moved in, in the second column too, and broken where they would leave their column.
func TestWordsAfterFigures(t *testing.T) {
	d := start()
	d.font("", 8)
	room := d.width("two words") + 2*1 + 2.2
	for over, want := range map[float64][]string{0.01: {"two words"}, -0.01: {"two", "words"}} {
		d := start()
		d.Table(Table{Pt: 8, Columns: []Column{{Right: true, MM: 20}, {MM: room + over}}, Rows: [][]Cell{Row("12", "two words")}})
		ms := marks(t, d)
		for _, s := range want {
			if m := the(t, ms, s); !about(m.x, leftEdge+20+1+2.2) {
				t.Errorf("%q begins at %.2f", s, m.x)
			}
		}
	}
}
