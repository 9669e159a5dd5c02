package page

import "math"

// Tone is the ground of a cell. What it means is always said in words too.
type Tone uint8

// The tones.
const (
	Plain Tone = iota
	Bad        // dark ground, white letters
	Poor       // grey ground
	Faint      // light ground
)

// Cell is one cell of a table.
type Cell struct {
	S    string
	Link string // anchor it leads to
	Bold bool
	Tone Tone
}

// Column is a column of a table.
type Column struct {
	Head  string
	Right bool    // figures: set to the right
	MM    float64 // fixed width; 0: from what is in it
}

// Table is a table with a head that is repeated on every page.
type Table struct {
	Columns []Column
	Rows    [][]Cell
	Anchors []string // places of the rows for links; may be shorter
	Total   bool     // the last row is a total
	Pt      float64
}

const (
	cellPad = 1.0 // at each side
	apart   = 2.2 // more, left of a text that follows figures set to the right
	rowPad  = 0.7 // above and below

	partedFrom = 50.0 // height that a first row needs under its head where it has to be parted in any case
)

// Row makes cells of plain texts.
func Row(texts ...string) []Cell {
	out := make([]Cell, len(texts))
	for i, s := range texts {
		out[i].S = s
	}
	return out
}

// Table sets a table over the width of the page.
func (d *Doc) Table(t Table) {
	if t.Pt == 0 {
		t.Pt = 7.2
	}
	d.begin()
	s := setter{d: d, t: t, w: d.columns(t)}
	head := s.head()
	first := 0.0
	if len(t.Rows) > 0 {
		first = s.height(s.wrapped(t.Rows[0], false))
	}
	if first > s.whole() {
		first = partedFrom
	}
	d.Need(s.height(head) + first)
	s.put(head, true, false)
	for i, r := range t.Rows {
		s.row(r, i)
	}
	d.rule(0.3)
	d.y += 3
}

// TableHeight is the height that a table takes on a page of its own.
func (d *Doc) TableHeight(t Table) float64 {
	d.begin()
	s := setter{d: d, t: t, w: d.columns(t)}
	h := s.height(s.head()) + 3
	for i, r := range t.Rows {
		h += s.height(s.wrapped(r, t.Total && i == len(t.Rows)-1))
	}
	return h
}

// setter sets one table.
type setter struct {
	d    *Doc
	t    Table
	w    []float64
	bare bool // has no head
}

// line is a row with its texts broken into lines.
type line struct {
	cells []Cell
	texts [][]string
}

func (s *setter) head() line {
	cells := make([]Cell, len(s.t.Columns))
	for i, c := range s.t.Columns {
		cells[i] = Cell{S: c.Head, Bold: true}
	}
	return s.wrapped(cells, true)
}

func (s *setter) wrapped(cells []Cell, bold bool) line {
	l := line{cells, make([][]string, len(s.w))}
	for i := range s.w {
		if i >= len(cells) {
			l.texts[i] = []string{""}
			continue
		}
		s.d.font(style(bold || cells[i].Bold), s.t.Pt)
		l.texts[i] = s.d.wrap(cells[i].S, s.w[i]-2*cellPad-s.t.indent(i))
	}
	return l
}

// indent is what a column's texts are moved in: they would seem to belong to the figures before them.
func (t Table) indent(i int) float64 {
	if i > 0 && t.Columns[i-1].Right && !t.Columns[i].Right {
		return apart
	}
	return 0
}

func style(bold bool) string {
	if bold {
		return "B"
	}
	return ""
}

func (l line) count() int {
	n := 1
	for _, t := range l.texts {
		n = max(n, len(t))
	}
	return n
}

func (s *setter) height(l line) float64 { return float64(l.count())*lineHeight(s.t.Pt) + 2*rowPad }

// whole is the height of the highest row that a page holds.
func (s *setter) whole() float64 {
	h := s.d.h - bottomEdge - topEdge
	if !s.bare {
		h -= s.height(s.head())
	}
	return h
}

// row sets a row, on the next page where it does not fit this one, in parts from here on where it fits none.
func (s *setter) row(cells []Cell, i int) {
	total := s.t.Total && i == len(s.t.Rows)-1
	l := s.wrapped(cells, total)
	if h := s.height(l); s.d.Room() < h && h <= s.whole() {
		s.next()
	}
	if i < len(s.t.Anchors) {
		s.d.Anchor(s.t.Anchors[i])
	}
	for s.height(l) > s.d.Room() {
		n := int((s.d.Room() - 2*rowPad) / lineHeight(s.t.Pt))
		if n < 1 {
			s.next()
			continue
		}
		var part line
		part, l = l.split(n)
		s.put(part, false, total)
		s.next()
	}
	s.put(l, false, total)
}

func (l line) split(n int) (first, rest line) {
	first, rest = line{l.cells, nil}, line{l.cells, nil}
	for _, t := range l.texts {
		k := min(n, len(t))
		first.texts, rest.texts = append(first.texts, t[:k]), append(rest.texts, t[k:])
	}
	return first, rest
}

// next goes to the next page and repeats the head there, if there is one.
func (s *setter) next() {
	s.d.rule(0.3)
	s.d.start(s.d.wide)
	if !s.bare {
		s.put(s.head(), true, false)
	}
}

func (s *setter) put(l line, head, total bool) {
	d, h := s.d, s.height(l)
	if head {
		d.pdf.SetFillColor(228, 228, 228)
		d.pdf.Rect(leftEdge, d.y, d.Width(), h, "F")
		d.rule(0.3)
	} else {
		d.rule(0.08)
	}
	if total {
		d.rule(0.4)
	}
	x := leftEdge
	for i, w := range s.w {
		if i < len(l.cells) {
			s.cell(l.cells[i], l.texts[i], x, w, h, i, head || total)
		}
		x += w
	}
	d.y += h
	if head {
		d.rule(0.2)
	}
}

func (s *setter) cell(c Cell, texts []string, x, w, h float64, i int, bold bool) {
	d := s.d
	s.ground(c.Tone, x, w, h)
	d.font(style(bold || c.Bold), s.t.Pt)
	if c.Link != "" && c.Tone != Bad {
		d.pdf.SetTextColor(0, 50, 130)
	}
	for k, t := range texts {
		at := x + cellPad + s.t.indent(i)
		if s.t.Columns[i].Right {
			at = x + w - cellPad - d.width(t)
		}
		d.put(at, d.y+rowPad+float64(k)*lineHeight(s.t.Pt), s.t.Pt, t)
	}
	d.link(x, d.y, w, h, c.Link)
}

func (s *setter) ground(t Tone, x, w, h float64) {
	d := s.d
	d.grey(0)
	switch t {
	case Bad:
		d.pdf.SetFillColor(70, 20, 20)
		d.grey(255)
	case Poor:
		d.pdf.SetFillColor(215, 200, 160)
	case Faint:
		d.pdf.SetFillColor(240, 240, 240)
	default:
		return
	}
	d.pdf.Rect(x, d.y, w, h, "F")
}

// rule draws a line over the width of the page.
func (d *Doc) rule(pt float64) {
	d.pdf.SetDrawColor(60, 60, 60)
	d.pdf.SetLineWidth(pt)
	d.pdf.Line(leftEdge, d.y, d.w-rightEdge, d.y)
}

// columns shares out the width: every column gets what its longest text needs, or, where that is too much, the
// wide ones share what the narrow ones leave.
func (d *Doc) columns(t Table) []float64 {
	need, least := d.needs(t)
	left := d.Width()
	w := make([]float64, len(need))
	open := map[int]bool{}
	for i, c := range t.Columns {
		if c.MM > 0 {
			w[i] = c.MM
			left -= c.MM
			continue
		}
		open[i] = true
	}
	return d.share(w, need, least, open, left)
}

// share gives the open columns their widths. A column that needs less than an even part gets what it needs.
func (d *Doc) share(w, need, least []float64, open map[int]bool, left float64) []float64 {
	total := sumOver(need, open)
	if total <= left {
		return spread(w, need, open, total, left)
	}
	for again := true; again; {
		again = false
		part := left / float64(len(open))
		for i := range need {
			if open[i] && need[i] <= part {
				w[i] = need[i]
				left -= need[i]
				delete(open, i)
				again = true
			}
		}
	}
	return squeeze(w, need, least, open, left)
}

// sumOver adds up what the open columns need, always in the same order, so that the sum is the same to the last bit.
func sumOver(need []float64, open map[int]bool) float64 {
	total := 0.0
	for i := range need {
		if open[i] {
			total += need[i]
		}
	}
	return total
}

// spread gives every open column what it needs and shares what is left over the total by need.
func spread(w, need []float64, open map[int]bool, total, left float64) []float64 {
	for i := range need {
		if open[i] {
			w[i] = need[i] + (left-total)*need[i]/math.Max(total, 1)
		}
	}
	return w
}

// squeeze shares too little width by the root of the need, so that long texts do not starve short ones, and gives
// no column less than its longest word where that is possible.
func squeeze(w, need, least []float64, open map[int]bool, left float64) []float64 {
	sum, floor := 0.0, 0.0
	for i := range need {
		if open[i] {
			sum += math.Sqrt(need[i])
			floor += least[i]
		}
	}
	for i := range need {
		switch {
		case !open[i]:
		case floor < left:
			w[i] = least[i] + (left-floor)*math.Sqrt(need[i])/sum
		default:
			w[i] = left * math.Sqrt(need[i]) / sum
		}
	}
	return w
}

// needs are the widths of each column's longest line and longest word.
func (d *Doc) needs(t Table) (need, least []float64) {
	need, least = make([]float64, len(t.Columns)), make([]float64, len(t.Columns))
	for i, c := range t.Columns {
		d.font("B", t.Pt)
		d.widen(c.Head, &need[i], &least[i])
	}
	for k, r := range t.Rows {
		for i := range t.Columns {
			if i < len(r) {
				d.font(style(r[i].Bold || t.Total && k == len(t.Rows)-1), t.Pt)
				d.widen(r[i].S, &need[i], &least[i])
			}
		}
	}
	for i := range need {
		need[i], least[i] = need[i]+t.indent(i), least[i]+t.indent(i)
	}
	return need, least
}
