package page

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// mark is what a page's orders put on it (ISO 32000-1, 8.5 and 9.4): a text, a rectangle or a line, in mm from the top left corner.
type mark struct {
	page       int // from 1
	x, y, w, h float64
	s, style   string // the text and how it is painted: its font, or f or S
	ink        string // what it is painted with: the letters' colour, or that of areas or lines
	pt         float64
	pen        string // of a line or frame: its width, and its dashes where it has any
}

// marks ends a document and reads what is on its pages.
func marks(t *testing.T, d *Doc) []mark {
	t.Helper()
	d.pdf.SetCompression(false)
	b, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	var out []mark
	for i, s := range d.pages {
		_, rest, _ := bytes.Cut(b, []byte("stream\n"))
		page, rest, ok := bytes.Cut(rest, []byte("\nendstream"))
		if !ok {
			t.Fatalf("page %d has no orders", i+1)
		}
		b = rest
		out = append(out, marksOn(i+1, s.h, string(page))...)
	}
	return out
}

func marksOn(page int, height float64, orders string) []mark {
	var out []mark
	now := mark{page: page}
	fill, draw, wide, dash := "", "", "", ""
	for line := range strings.Lines(orders) {
		if i := strings.Index(line, " Td ("); i >= 0 {
			v := numbers(line[strings.Index(line, "BT ")+3 : i])
			s := line[i+5 : strings.LastIndex(line, ") Tj")]
			now.ink = strings.TrimSuffix(strings.TrimPrefix(line[:strings.Index(line, "BT ")], "q "), " ")
			if now.ink == "" { // letters are areas, too
				now.ink = fill
			}
			now.x, now.y, now.w, now.h = mm(v[0]), height-mm(v[1]), 0, 0
			now.s = strings.NewReplacer("\x00", "", `\(`, "(", `\)`, ")", `\\`, `\`).Replace(s)
			out = append(out, now)
			continue
		}
		fs := strings.Fields(line)
		ink := map[bool]string{true: fill, false: draw}
		switch {
		case len(fs) > 1 && (fs[len(fs)-1] == "g" || fs[len(fs)-1] == "rg"):
			fill = strings.TrimSpace(line)
		case len(fs) > 1 && (fs[len(fs)-1] == "G" || fs[len(fs)-1] == "RG"):
			draw = strings.TrimSpace(line)
		case len(fs) == 2 && fs[1] == "w":
			wide = fs[0]
		case len(fs) > 2 && fs[len(fs)-1] == "d":
			dash = strings.TrimPrefix(" "+strings.TrimSpace(line), " [] 0.00 d")
		case len(fs) > 3 && fs[0] == "BT" && fs[3] == "Tf":
			now.style, now.pt = fs[1], numbers(fs[2])[0]
		case len(fs) == 6 && fs[4] == "re":
			v := numbers(strings.Join(fs[:4], " "))
			out = append(out, mark{page: page, x: mm(v[0]), y: height - mm(v[1]), w: mm(v[2]), h: -mm(v[3]), style: fs[5], ink: ink[fs[5] == "f"], pen: map[bool]string{false: wide + dash}[fs[5] == "f"]})
		case len(fs) == 7 && fs[2] == "m" && fs[5] == "l":
			v := numbers(strings.Join(slices.Concat(fs[:2], fs[3:5]), " "))
			out = append(out, mark{page: page, x: mm(v[0]), y: height - mm(v[1]), w: mm(v[2] - v[0]), h: mm(v[1] - v[3]), style: "line", ink: draw, pen: wide + dash})
		}
	}
	return out
}

func numbers(s string) []float64 {
	var out []float64
	for _, f := range strings.Fields(s) {
		v, _ := strconv.ParseFloat(f, 64)
		out = append(out, v)
	}
	return out
}

func mm(units float64) float64 { return units * 25.4 / 72 }

func texts(ms []mark, s string) []mark {
	return slices.DeleteFunc(slices.Clone(ms), func(m mark) bool { return m.s != s })
}

func the(t *testing.T, ms []mark, s string) mark {
	t.Helper()
	got := texts(ms, s)
	if len(got) != 1 {
		t.Fatalf("%q stands %d times on the pages", s, len(got))
	}
	return got[0]
}

func about(a, b float64) bool { return math.Abs(a-b) < 0.011 }

// Lines of 10 points lie 1.32 of that apart, 4.657 mm, and the letters of a line, which reach 0.95 of their size up and 0.21 down
// (Go's font, hhea table; from memory, not checked against the font), lie in it.
func TestLinesLieInTheirRows(t *testing.T) {
	if got := lineHeight(10); !about(got, 10*25.4/72*1.32) {
		t.Errorf("lines of 10 points lie %.3f mm apart", got)
	}
	d := start()
	top := d.y
	d.Para("first\nsecond")
	if want := top + 2*lineHeight(bodyPt) + 1.6; math.Abs(d.y-want) > 1e-9 {
		t.Errorf("two lines end at %g, want %g", d.y, want)
	}
	ms := marks(t, d)
	a, b := the(t, ms, "first"), the(t, ms, "second")
	if !about(b.y-a.y, lineHeight(bodyPt)) || a.x != b.x || !about(a.x, leftEdge) || a.pt != bodyPt {
		t.Errorf("%+v, %+v", a, b)
	}
	size := bodyPt * 25.4 / 72
	if a.y-0.95*size < top || a.y+0.21*size > top+lineHeight(bodyPt) {
		t.Errorf("letters of %.2f mm on a base line %.2f below the top of their row", size, a.y-top)
	}
}

// Each bullet has its dot, and its words beside it.
func TestBullets(t *testing.T) {
	d := start()
	d.Bullets([]string{"one", "two"})
	ms := marks(t, d)
	one, two := the(t, ms, "one"), the(t, ms, "two")
	if one.x <= leftEdge+2 || one.x != two.x || two.y-one.y <= lineHeight(bodyPt)-1 {
		t.Errorf("%+v, %+v", one, two)
	}
}

// The frame of a caution is as wide as the page and all round its words.
func TestCautionIsInAFrame(t *testing.T) {
	d := start()
	top := d.y
	d.Caution("first\nsecond\nthird")
	end := d.y
	ms := marks(t, d)
	frame := ms[slices.IndexFunc(ms, func(m mark) bool { return m.style == "S" && about(m.y, top) })]
	if !about(frame.x, leftEdge) || !about(frame.w, d.Width()) || frame.y+frame.h > end {
		t.Errorf("the frame %+v, %.2f wide", frame, d.Width())
	}
	for i, s := range []string{"first", "second", "third"} {
		m := the(t, ms, s)
		if m.x < frame.x+1 || m.y-0.95*mm(m.pt) < frame.y+1 || m.y+0.21*mm(m.pt) > frame.y+frame.h-1 {
			t.Errorf("line %d at %g, %g in %+v", i, m.x, m.y, frame)
		}
	}
	if !strings.Contains(the(t, ms, "first").style, "/F") || the(t, ms, "first").style == the(t, ms, "plan").style {
		t.Error("a caution is not set in bold letters")
	}
}

// The fields of the title block share out its width, and the line under it is inside the page.
func TestTitleBlock(t *testing.T) {
	d := New(A4, Head{Title: "t", Plan: "The plan", Donor: "The donor", Revision: "7", Date: "2026-01-02", Hash: "0123456789abcdef", Caution: "Foot"})
	d.Chapter("One", "one", 0, false)
	d.Chapter("Two", "two", 0, true)
	sum := 0.0
	for _, c := range d.cells(0) {
		sum += c.share
	}
	if math.Abs(sum-1) > 1e-12 {
		t.Errorf("the fields take %g of the block", sum)
	}
	ms := marks(t, d)
	for page, height := range map[int]float64{1: 297, 2: 210} {
		var on []mark
		for _, m := range ms {
			if m.page == page {
				on = append(on, m)
			}
		}
		block := on[slices.IndexFunc(on, func(m mark) bool { return m.style == "S" })]
		if !about(block.x, leftEdge) || !about(block.x+block.w, map[int]float64{1: 210, 2: 297}[page]-rightEdge) || block.y < height-bottomEdge || !about(block.h, blockHeight) {
			t.Errorf("page %d: the block %+v", page, block)
		}
		for _, s := range []string{"The plan", "The donor", "7", "2026-01-02", "0123456789ab", strconv.Itoa(page) + " of 2"} {
			m := the(t, on, s)
			if m.x < block.x || m.x > block.x+block.w || m.y-0.72*mm(m.pt) < block.y || m.y+0.21*mm(m.pt) > block.y+block.h {
				t.Errorf("page %d: %q at %g, %g in %+v", page, s, m.x, m.y, block)
			}
		}
		name := the(t, on, "plan")
		if text := the(t, on, "The plan"); text.x != name.x || name.y >= text.y-0.72*mm(text.pt) || name.y-0.72*mm(name.pt) < block.y {
			t.Errorf("page %d: the field's name %+v over %+v", page, name, text)
		}
		if foot := the(t, on, "Foot"); foot.y < block.y+block.h || foot.y > height-5 {
			t.Errorf("page %d: the caution at %g", page, foot.y)
		}
		if head := the(t, on, "Stowbay t"); head.y > topEdge-4 || head.y < 6 || head.x < 100 {
			t.Errorf("page %d: the head at %g", page, head.y)
		}
	}
	if short("0123456789ab") != "0123456789ab" || short("0123456789abc") != "0123456789ab" || short("x") != "x" {
		t.Error("hashes are not cut to twelve letters")
	}
}

// A long name is cut with an ellipsis, so that it stays in its field and out of the next one.
func TestLongNamesStayInTheirFields(t *testing.T) {
	d := New(A4, Head{Plan: strings.Repeat("long name ", 30), Donor: "The donor"})
	d.Chapter("One", "one", 0, false)
	ms := marks(t, d)
	i := slices.IndexFunc(ms, func(m mark) bool { return strings.HasPrefix(m.s, "long name") })
	d.font("B", 8)
	s := strings.TrimSuffix(ms[i].s, " \x26") + "…" // the ellipsis is U+2026
	if end, next := ms[i].x+d.width(s), the(t, ms, "The donor").x; end > next || end < next-8 {
		t.Errorf("%q ends at %g, the next field begins at %g", s, end, next)
	}
}

// Cut to the most letters that fit with an ellipsis; what fits is left.
func TestCut(t *testing.T) {
	d := start()
	d.font("", 8)
	const s = "Battery box"
	if got := d.cut(s, d.width(s)); got != s {
		t.Errorf("what fits became %q", got)
	}
	for n := 1; n < len(s)-2; n++ {
		if got := d.cut(s, d.width(s[:n]+"…")+1e-6); got != s[:n]+"…" {
			t.Errorf("%q, want %d letters", got, n)
		}
	}
	if got := d.cut(s, 0); got != "…" {
		t.Errorf("no room: %q", got)
	}
}

// A word that is too long is broken after its last joint that fits, or where it has to be.
func TestLongWordsAreBrokenAtTheirJoints(t *testing.T) {
	d := start()
	d.font("", 8)
	for _, c := range []struct {
		s, fits string
		want    []string
	}{
		{"front-left/up", "front-left", []string{"front-", "left/up"}},
		{"front-left/upper", "front-left/u", []string{"front-left/", "upper"}},
		{"iiiiiiii", "iii", []string{"iii", "iii", "ii"}},
		{"-iiiii", "-iii", []string{"-iii", "ii"}}, // a sign is not parted from its number
		{"i-iii", "i-i", []string{"i-", "iii"}},
		{"   ", "", []string{""}},
		{"one two three", "one two", []string{"one two", "three"}},
		{"one two three", "one tw", []string{"one", "two", "three"}},
		{"", "x", []string{""}},
	} {
		if got := d.wrap(c.s, d.width(c.fits)+0.05); !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.s, got, c.want)
		}
	}
	for _, s := range []string{"W", "WW"} {
		if got := d.wrap(s, 0.1); !slices.Equal(got, strings.Split(s, "")) {
			t.Errorf("no room for a letter: %q", got)
		}
	}
}

// A column asks for its longest line and its longest word, 30 mm of it at most, and a millimetre at each side.
func TestWhatAColumnAsksFor(t *testing.T) {
	d := start()
	d.font("", 8)
	need, least := 0.0, 0.0
	d.widen("one two\nthree", &need, &least)
	if want := d.width("one two"); math.Abs(need-want-2.2) > 1e-9 || math.Abs(least-d.width("three")-2.2) > 1e-9 {
		t.Errorf("%g and %g, want %g and %g", need, least, want+2.2, d.width("three")+2.2)
	}
	d.widen("short", &need, &least)
	if math.Abs(need-d.width("one two")-2.2) > 1e-9 {
		t.Error("a shorter line took from the width")
	}
	d.widen(strings.Repeat("m", 100), &need, &least)
	if math.Abs(need-d.width(strings.Repeat("m", 100))-2.2) > 1e-9 || math.Abs(least-32.2) > 1e-9 {
		t.Errorf("a long word: %g and %g", need, least)
	}
}

// Where there is room columns share what is over by what they need; where there is too little, narrow ones keep what they need
// and the others share the rest by the root of it, none less than its longest word.
func TestWidthIsSharedOut(t *testing.T) {
	d := start()
	share := func(need, least []float64, left float64) []float64 {
		open := map[int]bool{}
		for i := range need {
			open[i] = true
		}
		return d.share(make([]float64, len(need)), need, least, open, left)
	}
	for _, c := range []struct {
		need, least []float64
		left        float64
		want        []float64
	}{
		{[]float64{60, 40}, []float64{9, 9}, 100.5, []float64{60.3, 40.2}},
		{[]float64{60, 40}, []float64{9, 9}, 150, []float64{90, 60}},
		{[]float64{10, 100, 400}, []float64{9, 9, 9}, 160, []float64{10, 53, 97}},                   // 9 + (150 - 18) x 10/30 and 20/30
		{[]float64{10, 100, 400}, []float64{9, 90, 90}, 160, []float64{10, 50, 100}},                // 150 x 10/30 and 20/30: no room for the words
		{[]float64{50, 50, 400}, []float64{9, 9, 9}, 150, []float64{50, 50, 50}},                    // an even part is enough
		{[]float64{50, 51, 400}, []float64{9, 9, 9}, 150, nil},                                      // and a little less than needed
		{[]float64{0.3, 0.2}, []float64{0.1, 0.1}, 1, []float64{0.3 + 0.5*0.3, 0.2 + 0.5*0.2}},      // never blown up by a need of nearly nothing
		{[]float64{20, 20, 20, 200}, []float64{5, 5, 5, 5}, 100, []float64{20, 20, 20, 40}},         //
		{[]float64{20, 45, 200}, []float64{5, 5, 5}, 111, []float64{20, 45, 46}},                    // the second fits once the first has left its part
		{[]float64{100, 400, 100}, []float64{10, 10, 10}, 90, []float64{10 + 15, 10 + 30, 10 + 15}}, // 60 over, 1 : 2 : 1
	} {
		got := share(c.need, c.least, c.left)
		sum := 0.0
		for i, w := range got {
			sum += w
			if c.want != nil && math.Abs(w-c.want[i]) > 1e-9 {
				t.Errorf("needs %v on %g: %v, want %v", c.need, c.left, got, c.want)
				break
			}
		}
		if c.left > 1 && math.Abs(sum-c.left) > 1e-9 {
			t.Errorf("needs %v on %g: %v", c.need, c.left, got)
		}
	}
}

func oneRow() Table {
	return Table{Pt: 8, Columns: []Column{{Head: "what", MM: 60}, {Head: "mm", Right: true, MM: 50}, {Head: "remark", MM: 68}}, Rows: [][]Cell{Row("length", "1200", "outside")}}
}

// Figures end, and words begin, a millimetre inside their column; words after figures 2.2 mm more; rows have 0.7 mm above and below.
func TestCellsOfATable(t *testing.T) {
	d := start()
	top := d.y
	tab := oneRow()
	high := d.TableHeight(tab)
	d.Table(tab)
	if math.Abs(d.y-top-high) > 1e-9 || math.Abs(high-2*(lineHeight(8)+1.4)-3) > 1e-9 {
		t.Errorf("a table said to be %g high is %g", high, d.y-top)
	}
	d.font("", 8)
	w := d.width("1200")
	ms := marks(t, d)
	for s, x := range map[string]float64{"length": leftEdge + 1, "1200": leftEdge + 60 + 50 - 1 - w, "outside": leftEdge + 110 + 1 + 2.2, "what": leftEdge + 1} {
		if m := the(t, ms, s); !about(m.x, x) || m.pt != 8 {
			t.Errorf("%q begins at %.2f, want %.2f", s, m.x, x)
		}
	}
	if a, b := the(t, ms, "what"), the(t, ms, "length"); !about(b.y-a.y, lineHeight(8)+1.4) {
		t.Errorf("rows lie %g apart", b.y-a.y)
	}
	ground := ms[slices.IndexFunc(ms, func(m mark) bool { return m.style == "f" })]
	if !about(ground.y, top) || !about(ground.h, lineHeight(8)+1.4) || !about(ground.w, d.Width()) {
		t.Errorf("the ground of the head %+v", ground)
	}
}

// A head never stands alone at the foot of a page.
func TestHeadIsKeptWithTheFirstRow(t *testing.T) {
	for room, page := range map[float64]int{2 * (lineHeight(8) + 1.4): 1, 2*(lineHeight(8)+1.4) - 0.1: 2, lineHeight(8) + 1.5: 2} {
		d := start()
		d.y = d.h - bottomEdge - room - 1e-9
		d.Table(oneRow())
		ms := marks(t, d)
		if a, b := the(t, ms, "what"), the(t, ms, "length"); a.page != page || b.page != page {
			t.Errorf("on %g mm the head stands on page %d and its row on %d", room, a.page, b.page)
		}
	}
	d := start()
	d.y = d.h - bottomEdge - lineHeight(8) - 1.5
	tab := oneRow()
	tab.Rows = nil
	d.Table(tab)
	if m := the(t, marks(t, d), "what"); m.page != 1 {
		t.Error("a head without rows went to the next page")
	}
}

// A heading goes to the next page where less than it asks for is left beneath it.
func TestHeadingIsKeptWithWhatFollows(t *testing.T) {
	for _, c := range []struct {
		room float64
		page int
	}{{3 + lineHeight(sectionPt) + 20.1, 1}, {3 + lineHeight(sectionPt) + 19.9, 2}} {
		d := start()
		d.y = d.h - bottomEdge - c.room
		d.Section("Heading", "", -1, 20)
		d.Para("follows")
		if m := the(t, marks(t, d), "Heading"); m.page != c.page {
			t.Errorf("with %g mm left the heading stands on page %d", c.room, m.page)
		}
	}
}

// Frames of tallies fill the width in equal parts with a gap; number and words lie in their frame.
func TestTallies(t *testing.T) {
	d := start()
	top := d.y
	d.Tallies([]Tally{{Number: "31", Words: "findings fail", Tone: Bad}, {Number: "4", Words: "warn"}, {Number: "15", Words: "hold"}})
	end := d.y
	ms := marks(t, d)
	var frames []mark
	for _, m := range ms {
		if m.style == "S" && about(m.y, top) {
			frames = append(frames, m)
		}
	}
	if len(frames) != 3 || !about(frames[0].x, leftEdge) || !about(frames[2].x+frames[2].w, 210-rightEdge) || frames[0].y+frames[0].h >= end {
		t.Fatalf("%+v", frames)
	}
	for i, s := range []string{"31", "4", "15"} {
		f, number, words := frames[i], the(t, ms, s), the(t, ms, []string{"findings fail", "warn", "hold"}[i])
		if !about(f.w, frames[0].w) || i > 0 && f.x-frames[i-1].x-frames[i-1].w < 1 {
			t.Errorf("frame %d: %+v", i, f)
		}
		for _, m := range []mark{number, words} {
			if m.x < f.x+1 || m.x > f.x+5 || m.y-0.72*mm(m.pt) < f.y+1 || m.y+0.21*mm(m.pt) > f.y+f.h-1 {
				t.Errorf("%q at %g, %g in %+v", m.s, m.x, m.y, f)
			}
		}
		if number.y+0.21*mm(number.pt) > words.y-0.72*mm(words.pt) {
			t.Errorf("%q runs into its words", s)
		}
	}
}

// Facts run down the columns: five in two columns stand three and two, names in 0.4 of a column's width.
func TestFactsRunDownTheColumns(t *testing.T) {
	d := start()
	d.Facts([][2]string{{"a", "1"}, {"b", "2"}, {"c", "3"}, {"d", "4"}, {"e", "5"}}, 2)
	ms := marks(t, d)
	at := map[string]mark{}
	for _, s := range []string{"a", "b", "c", "d", "e", "1", "2", "3", "4", "5"} {
		at[s] = the(t, ms, s)
	}
	row := lineHeight(8) + 1.4
	for s, want := range map[string][2]float64{"a": {0, 0}, "1": {0.2, 0}, "b": {0, 1}, "c": {0, 2}, "3": {0.2, 2}, "d": {0.5, 0}, "4": {0.7, 0}, "e": {0.5, 1}} {
		if m := at[s]; !about(m.x, leftEdge+want[0]*d.Width()+1) || !about(m.y, at["a"].y+want[1]*row) {
			t.Errorf("%q at %.2f, %.2f", s, m.x, m.y)
		}
	}
	if at["a"].style == at["1"].style {
		t.Error("values are not set in bold letters")
	}
}

// Lines of the contents are moved in by their level and end in their page's number at the page's edge; titles are cut short of it.
func TestLinesOfTheContents(t *testing.T) {
	d := New(A4, Head{})
	d.Chapter("Cover", "cover", 0, false)
	d.Contents([]Entry{{"Top", "top", 0}, {"Below", "below", 1}, {strings.Repeat("long title ", 20), "long", 2}})
	for i, a := range []string{"top", "below", "long"} {
		d.Chapter("X", a, i, false)
	}
	ms := marks(t, d)
	i := slices.IndexFunc(ms, func(m mark) bool { return strings.HasPrefix(m.s, "long title") })
	top, below, long := the(t, ms, "Top"), the(t, ms, "Below"), ms[i]
	if !about(top.x, leftEdge) || !about(below.x-top.x, 5) || !about(long.x-top.x, 10) {
		t.Errorf("lines begin at %g, %g and %g", top.x, below.x, long.x)
	}
	if top.style == below.style || below.style != long.style {
		t.Error("the upper level is not set apart")
	}
	d.font("", contentsPt)
	for i, m := range []mark{top, below, long} {
		n := ms[slices.IndexFunc(ms, func(k mark) bool { return k.page == 1 && k.s == strconv.Itoa(i+2) && about(k.y, m.y) })]
		if !about(n.x+d.width(n.s), 210-rightEdge) {
			t.Errorf("page number %s ends at %g", n.s, n.x+d.width(n.s))
		}
		var dots *mark
		for k := range ms {
			if l := &ms[k]; l.page == 1 && l.style == "line" && l.y < m.y && l.y > m.y-1 {
				dots = l
			}
		}
		if m.s != long.s && (dots == nil || dots.x < m.x+d.width(m.s) || dots.x+dots.w > n.x-2) {
			t.Errorf("dots of %q: %+v", m.s, dots)
		}
	}
	if end := long.x + d.width(strings.TrimSuffix(long.s, " \x26")+"…"); end > 210-rightEdge-10 || end < 210-rightEdge-25 {
		t.Errorf("a long title ends at %g", end)
	}
}

func boundsOf(w, h float64) *drawing.List {
	return &drawing.List{Title: "List", Bounds: r2.RectFromPoints(r2.Point{}, r2.Point{X: w, Y: h})}
}

// On A4 a list has 178 x 248 mm standing (297 less 19, 25 and 5 for its caption) and 265 x 161 mm lying.
func TestBestWayUpByWhatFits(t *testing.T) {
	for _, c := range []struct {
		w, h float64
		wide bool
	}{{190, 160, true}, {190, 165, false}, {177.9, 247.9, false}, {264.9, 160.9, true}, {178.1, 160, true}, {177, 160, false}, {400, 100, false}} { // the last at 1:50 either way
		d := New(A4, Head{})
		d.Wide() // how the pages before lie does not count
		if d.Best(boundsOf(20*c.w, 20*c.h)); d.wide != c.wide {
			t.Errorf("%g x %g mm on paper: lies %v", c.w, c.h, d.wide)
		}
	}
}

// A figure without a height takes what is left of the page but for its caption.
func TestFigureFillsThePage(t *testing.T) {
	for _, bare := range []bool{false, true} {
		d := start()
		room, y := d.Room(), d.y
		p := d.Figure(boundsOf(10, 10000), Figure{Bare: bare, Fill: true})
		under := 5.0
		if bare {
			under = 2
		}
		if len(d.pages) != 1 || math.Abs(d.Room()) > 1e-9 || math.Abs(p.Scale-10000/(room-under)) > 1e-9 || math.Abs(p.ToPage(r2.Point{Y: 10000}).Y-y) > 1e-9 {
			t.Errorf("bare %v: %g left of %g, scale 1:%g", bare, d.Room(), room, p.Scale)
		}
	}
	d := start()
	y := d.y
	if p := d.Figure(boundsOf(100, 100), Figure{MM: 50, Fill: true}); p.Scale != 2 || math.Abs(d.y-y-55) > 1e-9 {
		t.Errorf("a figure of 50 mm takes %g, scale 1:%g", d.y-y, p.Scale)
	}
	y = d.y
	if d.Figure(boundsOf(100, 100), Figure{MM: 0.8, Fill: true}); math.Abs(d.y-y-5.8) > 1e-9 {
		t.Errorf("a figure of 0.8 mm takes %g", d.y-y)
	}
	d.y = d.h - bottomEdge - 54.9
	if d.Figure(boundsOf(100, 100), Figure{MM: 50}); len(d.pages) != 2 {
		t.Error("a figure higher than what is left stays on its page")
	}
	d = start()
	d.y = d.h - bottomEdge - 5.7
	if d.Figure(boundsOf(100, 100), Figure{MM: 0.8, Fill: true}); len(d.pages) != 2 {
		t.Error("a figure of 0.8 mm and its caption of 5 stay where 5.7 mm are left")
	}
}

// The scale of several lists is the largest at which all fit what is left above a caption.
func TestOneScale(t *testing.T) {
	d := start()
	h := d.Room() - 5
	for _, c := range []struct{ w, h, n float64 }{{178 * 20, 10, 20}, {178*20 + 1, 10, 25}, {10, h*20 - 1, 20}, {10, h*20 + 1, 25}} {
		if got := d.OneScale([]*drawing.List{boundsOf(10, 10), boundsOf(c.w, c.h), boundsOf(20, 20)}); got != c.n {
			t.Errorf("%g x %g: 1:%g, want 1:%g", c.w, c.h, got, c.n)
		}
	}
}

func TestWordsUnderAFigure(t *testing.T) {
	d := start()
	d.Figure(boundsOf(100, 100), Figure{MM: 50, Scale: 12.5, Caption: "of the box"})
	d.Figure(boundsOf(100, 100), Figure{MM: 50, Fill: true})
	d.Figure(boundsOf(1000, 100), Figure{MM: 50, Scale: 2})
	ms := marks(t, d)
	for _, s := range []string{"List; of the box, scale 1:12.5", "List", "List, scale 1:2 (larger than the sheet at 1:2: the edges are cut off)"} {
		the(t, ms, s)
	}
}

// A page that stands stands, whichever way the first one lay.
func TestPagesLieAsTold(t *testing.T) {
	d := New(A4, Head{})
	for _, wide := range []bool{true, false, true} {
		d.start(wide)
		if w, h := map[bool]float64{true: 297, false: 210}[wide], map[bool]float64{true: 210, false: 297}[wide]; !about(d.w, w) || !about(d.h, h) {
			t.Errorf("lying %v: %g x %g mm", wide, d.w, d.h)
		}
	}
	if l := New(Letter, Head{}); l != nil {
		if l.Upright(); !about(l.w, 215.9) || !about(l.h, 279.4) {
			t.Errorf("letter paper of %g x %g mm", l.w, l.h)
		}
	}
}

// everything is a document with each kind of thing on its pages.
func everything(t *testing.T) []mark {
	d := New(A4, Head{Title: "title", Plan: "Plan", Date: "2026-01-02", Caution: "foot"})
	d.Running("running")
	d.Chapter("Chapter", "chapter", 0, false)
	d.Contents([]Entry{{"Chapter", "chapter", 0}, {"Lower", "chapter", 1}})
	d.Section("Section", "", -1, 0)
	d.Para("body")
	d.Small("small")
	d.Bullets([]string{"bullet"})
	d.Caution("caution")
	d.Tallies([]Tally{{Number: "31", Words: "fail", Tone: Bad}, {Number: "4", Words: "warn"}})
	d.Facts([][2]string{{"name", "value"}}, 1)
	d.Table(Table{Total: true, Columns: []Column{{Head: "head"}}, Rows: [][]Cell{{{S: "bad", Tone: Bad, Link: "chapter"}}, {{S: "poor", Tone: Poor}}, {{S: "faint", Tone: Faint}}, {{S: "plain"}}, {{S: "linked", Link: "chapter"}}, {{S: "total"}}}})
	d.Figure(boundsOf(100, 100), Figure{MM: 20, Fill: true})
	return marks(t, d)
}

// Words are black, or grey where they stand back; on the darkest ground they are white; what leads somewhere is blue. Grounds of
// rows differ in lightness, so that a grey printer tells them apart.
func TestInksOfThePages(t *testing.T) {
	const black, white, blue = "0.000 g", "1.000 g", "0.000 0.196 0.510 rg"
	grey := map[string]string{"running": "0.235 g", "Stowbay title": "0.235 g", "foot": "0.235 g", "plan": "0.353 g", "donor": "0.353 g", "revision": "0.353 g", "date": "0.353 g", "plan file, SHA-256": "0.353 g", "page": "0.353 g",
		"small": "0.353 g", "List": "0.157 g", "bad": white, "31": white, "fail": white, "linked": blue}
	grounds, lines := map[string]int{}, map[string]int{}
	for _, m := range everything(t) {
		switch {
		case m.style != "f" && m.style != "S" && m.style != "line":
			want, ok := grey[m.s]
			if !ok {
				want = black
			}
			if m.ink != want {
				t.Errorf("%q is set in %s, want %s", m.s, m.ink, want)
			}
		case m.style == "f":
			grounds[m.ink]++
		default:
			lines[m.ink]++
		}
	}
	for ink, n := range map[string]int{"0.894 g": 1, "0.275 0.078 0.078 rg": 2, "0.843 0.784 0.627 rg": 1, "0.941 g": 1} { // of 228, (70, 20, 20), (215, 200, 160) and 240
		if grounds[ink] != n {
			t.Errorf("%d grounds of %s, want %d: %v", grounds[ink], ink, n, grounds)
		}
	}
	for ink := range lines {
		if ink != "0.000 G" && ink != "0.235 G" && ink != "0.588 G" { // black, rules of 60 and dots of 150
			t.Errorf("a line in %s", ink)
		}
	}
}

// Letters have the sizes of the report's style, in points; the least are the names in the title block.
func TestSizesOfLetters(t *testing.T) {
	ms := everything(t)
	for s, pt := range map[string]float64{"Section": 10.5, "body": 8.5, "small": 7, "bullet": 8.5, "caution": 8.5, "31": 17, "fail": 7.5, "name": 8, "value": 8, "head": 7.2, "plain": 7.2, "List": 7,
		"running": 7, "Stowbay title": 7, "foot": 6, "donor": 5.5, "Plan": 8, "2026-01-02": 8, "1 of 1": 8, "Lower": 8.5} {
		if m := the(t, ms, s); m.pt != pt {
			t.Errorf("%q is set in %g points, want %g", s, m.pt, pt)
		}
	}
	if all := texts(ms, "Chapter"); len(all) != 2 || max(all[0].pt, all[1].pt) != 15 || min(all[0].pt, all[1].pt) != 8.5 {
		t.Errorf("%+v", all)
	}
}

// Words too long for their frame are cut in it.
func TestLongWordsStayInTheirFrames(t *testing.T) {
	d := start()
	d.Tallies([]Tally{{Number: "1", Words: strings.Repeat("long words ", 20)}, {Number: "2", Words: "next"}})
	d.Caution(strings.Repeat("Cautionary words that go on and on. ", 12))
	ms := marks(t, d)
	next := the(t, ms, "next")
	lines := 0
	for _, m := range ms {
		switch {
		case strings.HasPrefix(m.s, "long words"):
			d.font("", 7.5)
			if end := m.x + d.width(strings.TrimSuffix(m.s, " \x26")+"…"); end > next.x-3-3 || end < next.x-20 {
				t.Errorf("%q ends at %g, the next frame begins before %g", m.s, end, next.x)
			}
		case strings.Contains(m.s, "words that"):
			d.font("B", bodyPt)
			lines++
			if end := m.x + d.width(m.s); end > 210-rightEdge-1 {
				t.Errorf("%q ends at %g", m.s, end)
			}
		}
	}
	if lines < 3 {
		t.Errorf("%d lines of a caution", lines)
	}
}

// A plan without a date gives the same bytes each time: its document is of the beginning of 2000.
func TestUndatedDocument(t *testing.T) {
	for date, want := range map[string]string{"": "D:20000101000000", "soon": "D:20000101000000", "2026-11-20": "D:20261120000000"} {
		d := New(A4, Head{Date: date})
		d.Upright()
		b, err := d.Bytes()
		if err != nil || !bytes.Contains(b, []byte(want)) {
			t.Errorf("%q: no %s, %v", date, want, err)
		}
	}
}
