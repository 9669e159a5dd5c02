package page

// Sizes of text in points.
const (
	chapterPt = 15.0
	sectionPt = 10.5
	bodyPt    = 8.5
	smallPt   = 7.0
)

// Chapter starts a page with a heading, a bookmark of the level given (from 0) and a line in the contents.
func (d *Doc) Chapter(title, anchor string, level int, wide bool) {
	d.start(wide)
	d.Anchor(anchor)
	d.bookmark(title, level)
	d.contents.found(anchor, len(d.pages))
	d.font("B", chapterPt)
	d.grey(0)
	for _, l := range d.wrap(title, d.Width()) {
		d.put(leftEdge, d.y, chapterPt, l)
		d.y += lineHeight(chapterPt)
	}
	d.y += 2.5
}

// Section sets a heading inside a chapter, with a bookmark of the level given where it is not negative. It is
// kept with at least keep mm of what follows.
func (d *Doc) Section(title, anchor string, level int, keep float64) {
	h := lineHeight(sectionPt)
	d.Space(3)
	d.Need(h + keep)
	d.Anchor(anchor)
	if level >= 0 {
		d.bookmark(title, level)
	}
	d.font("B", sectionPt)
	d.grey(0)
	for _, l := range d.wrap(title, d.Width()) {
		d.put(leftEdge, d.y, sectionPt, l)
		d.y += h
	}
	d.y += 1
}

// Heading sets a heading inside a chapter without an anchor and without a bookmark. It is kept with what a table's head and its
// first rows take.
func (d *Doc) Heading(title string) { d.Section(title, "", -1, underHeading) }

// underHeading is how much of what follows stays with a heading, in mm.
const underHeading = 25

// Para sets a paragraph.
func (d *Doc) Para(s string) { d.lines(s, "", bodyPt, 0, 0) }

// Small sets a paragraph in small grey letters: remarks, sources.
func (d *Doc) Small(s string) { d.lines(s, "", smallPt, 0, 90) }

// Bullets sets short items, each behind a dot.
func (d *Doc) Bullets(items []string) {
	for _, s := range items {
		d.Need(lineHeight(bodyPt))
		d.font("", bodyPt)
		d.grey(0)
		d.put(leftEdge+0.8, d.y, bodyPt, "•")
		d.lines(s, "", bodyPt, 4, 0)
		d.y -= 0.8
	}
	d.y += 1.2
}

func (d *Doc) lines(s, style string, pt, indent float64, grey int) {
	d.begin()
	d.font(style, pt)
	for _, l := range d.wrap(s, d.Width()-indent) {
		d.Need(lineHeight(pt))
		d.font(style, pt)
		d.grey(grey)
		d.put(leftEdge+indent, d.y, pt, l)
		d.y += lineHeight(pt)
	}
	d.y += 1.6
}

// Caution sets words in a frame that cannot be overlooked.
func (d *Doc) Caution(s string) {
	d.begin()
	d.font("B", bodyPt)
	const pad = 2.5
	ls := d.wrap(s, d.Width()-2*pad-2)
	h := float64(len(ls))*lineHeight(bodyPt) + 2*pad
	d.Need(h + 2)
	d.pdf.SetDrawColor(0, 0, 0)
	d.pdf.SetLineWidth(0.7)
	d.pdf.Rect(leftEdge, d.y, d.Width(), h, "D")
	d.font("B", bodyPt)
	d.grey(0)
	for i, l := range ls {
		d.put(leftEdge+pad+1, d.y+pad+float64(i)*lineHeight(bodyPt), bodyPt, l)
	}
	d.y += h + 3
}

// Mark makes the current place a target with a bookmark, without words on the page.
func (d *Doc) Mark(title, anchor string, level int) {
	d.Anchor(anchor)
	d.bookmark(title, level)
}
