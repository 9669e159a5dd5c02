package page

import (
	"fmt"
	"strconv"

	"stowbay/layout/drawing"
	"stowbay/layout/report/pdf"
)

// Figure says how a drawing is set.
type Figure struct {
	Anchor  string
	Caption string  // besides the drawing's own title
	MM      float64 // height; 0: what is left of the page
	Scale   float64 // n of 1:n; 0: the largest standard scale that fits
	Fill    bool    // charts and pictures: any size that fills the field, no scale stated
	Border  bool
	Bare    bool // no caption: charts carry their own title
}

const captionHeight = 5.0

// Figure sets a drawing over the width of the page with its title and scale under it, and returns where it lies.
func (d *Doc) Figure(l *drawing.List, f Figure) pdf.Placed {
	under := captionHeight
	if f.Bare {
		under = 2
	}
	if f.MM > 0 {
		d.Need(f.MM + under)
	}
	h := f.MM
	if h == 0 {
		h = d.Room() - under
	}
	d.Anchor(f.Anchor)
	field := pdf.Rect{X: leftEdge, Y: d.y, W: d.Width(), H: h}
	p := pdf.Paint(d.pdf, l, field, pdf.Options{Scale: f.Scale, Fill: f.Fill, Border: f.Border})
	d.y += h
	if f.Bare {
		d.y += under
		return p
	}
	d.caption(figureWords(l.Title, f, p))
	return p
}

// Best starts a page that stands or lies on its side, whichever shows a list at the larger standard scale.
func (d *Doc) Best(l *drawing.List) {
	w, h, _ := d.pdf.PageSize(0)
	across, up := leftEdge+rightEdge, topEdge+bottomEdge+captionHeight
	stands := drawing.StandardScale(l.Bounds, w-across, h-up)
	lies := drawing.StandardScale(l.Bounds, h-across, w-up)
	d.start(lies < stands)
}

// OneScale is the n of the largest standard scale 1:n at which every list fits what is left of the page.
func (d *Doc) OneScale(lists []*drawing.List) float64 {
	n := 0.0
	for _, l := range lists {
		n = max(n, drawing.StandardScale(l.Bounds, d.Width(), d.Room()-captionHeight))
	}
	return n
}

func figureWords(title string, f Figure, p pdf.Placed) string {
	s := title
	if f.Caption != "" {
		s += "; " + f.Caption
	}
	switch {
	case f.Fill:
	default:
		s += ", scale 1:" + strconv.FormatFloat(p.Scale, 'f', -1, 64)
	}
	if p.Clipped {
		s += fmt.Sprintf(" (larger than the sheet at 1:%g: the edges are cut off)", p.Scale)
	}
	return s
}

func (d *Doc) caption(s string) {
	d.font("I", smallPt)
	d.grey(40)
	d.put(leftEdge, d.y+1, smallPt, d.cut(s, d.Width()))
	d.y += captionHeight
}
