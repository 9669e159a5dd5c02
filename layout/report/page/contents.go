package page

import "strconv"

// Entry is a line of the contents: a chapter that will come.
type Entry struct {
	Title, Anchor string
	Level         int
}

// contents are the lines of the contents and the places kept for their page numbers.
type contents struct {
	places []place
	pages  map[string]int
}

type place struct {
	anchor string
	page   int // index
	x, y   float64
}

func (c *contents) found(anchor string, page int) {
	if c.pages == nil {
		c.pages = map[string]int{}
	}
	if _, had := c.pages[anchor]; !had {
		c.pages[anchor] = page
	}
}

const contentsPt = 8.5

// Contents sets the list of chapters to come; page numbers are put in at the end.
func (d *Doc) Contents(entries []Entry) {
	h := lineHeight(contentsPt) + 0.3
	for _, e := range entries {
		if e.Level == 0 {
			d.Space(1.2)
		}
		d.Need(h)
		d.contentsLine(e, h)
	}
}

func (d *Doc) contentsLine(e Entry, h float64) {
	style := ""
	if e.Level == 0 {
		style = "B"
	}
	d.font(style, contentsPt)
	d.grey(0)
	x, right := leftEdge+5*float64(e.Level), d.w-rightEdge
	s := d.cut(e.Title, right-x-16)
	d.put(x, d.y, contentsPt, s)
	d.dots(x+d.width(s)+1.5, right-9, d.y+base(contentsPt)-0.4)
	d.link(x, d.y, right-x, h, e.Anchor)
	d.contents.places = append(d.contents.places, place{e.Anchor, len(d.pages) - 1, right, d.y})
	d.y += h
}

// dots lead the eye to the page number.
func (d *Doc) dots(from, to, y float64) {
	if to <= from {
		return
	}
	d.pdf.SetDrawColor(150, 150, 150)
	d.pdf.SetLineWidth(0.2)
	d.pdf.SetDashPattern([]float64{0.2, 1.2}, 0)
	d.pdf.Line(from, y, to, y)
	d.pdf.SetDashPattern([]float64{}, 0)
}

func (d *Doc) fillContents() {
	for _, p := range d.contents.places {
		up := d.reopen(p.page)
		d.font("", contentsPt)
		d.grey(0)
		s := strconv.Itoa(d.contents.pages[p.anchor])
		d.put(p.x-d.width(s), p.y+up, contentsPt, s)
	}
}
