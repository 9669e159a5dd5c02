package page

import "fmt"

// blockHeight is the height of the title block at a page's foot.
const blockHeight = 10.0

// titleBlock writes the head line and the title block of a page that is already there.
func (d *Doc) titleBlock(i int) {
	s := d.pages[i]
	up := d.reopen(i)
	d.pdf.SetDrawColor(0, 0, 0)
	d.headLine(s, up)
	y := s.h - 19 + up
	cells := d.cells(i)
	d.pdf.SetLineWidth(0.35)
	d.pdf.Rect(leftEdge, y, s.w-leftEdge-rightEdge, blockHeight, "D")
	d.pdf.SetLineWidth(0.15)
	x := leftEdge
	whole := s.w - leftEdge - rightEdge
	for k, c := range cells {
		w := c.share * whole
		if k > 0 {
			d.pdf.Line(x, y, x, y+blockHeight)
		}
		d.font("", 5.5)
		d.grey(90)
		d.pdf.Text(x+1.2, y+3, c.name)
		d.font(c.style, 8)
		d.grey(0)
		d.pdf.Text(x+1.2, y+7.6, d.cut(c.text, w-2))
		x += w
	}
	d.font("I", 6)
	d.grey(60)
	d.pdf.Text(leftEdge, y+blockHeight+3.2, d.cut(d.head.Caution, whole))
}

func (d *Doc) headLine(s sheet, up float64) {
	d.font("", 7)
	d.grey(60)
	y := 11.0 + up
	d.pdf.Text(leftEdge, y, d.cut(s.running, s.w-leftEdge-rightEdge-40))
	right := "Stowbay " + d.head.Title
	d.pdf.Text(s.w-rightEdge-d.width(right), y, right)
	d.pdf.SetLineWidth(0.15)
	d.pdf.Line(leftEdge, y+1.6, s.w-rightEdge, y+1.6)
}

type blockCell struct {
	name, text, style string
	share             float64
}

func (d *Doc) cells(i int) []blockCell {
	return []blockCell{
		{"plan", d.head.Plan, "B", 0.29},
		{"donor", d.head.Donor, "", 0.23},
		{"revision", d.head.Revision, "B", 0.08},
		{"date", d.head.Date, "", 0.12},
		{"plan file, SHA-256", short(d.head.Hash), "", 0.16},
		{"page", fmt.Sprintf("%d of %d", i+1, len(d.pages)), "B", 0.12},
	}
}

func short(hash string) string {
	if len(hash) > 12 {
		return hash[:12]
	}
	return hash
}

// reopen makes a page the current one for writing. The library measures heights from the foot of the page that
// was added last; what it returns has to be added to every y.
func (d *Doc) reopen(i int) (up float64) {
	d.pdf.SetPage(i + 1)
	_, last := d.pdf.GetPageSize()
	return last - d.pages[i].h
}
