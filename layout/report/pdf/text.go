package pdf

import (
	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"

	"stowbay/layout/drawing"
)

// The font families that AddFonts makes known.
const (
	Sans = "sans" // styles "", "B" and "I"
	Mono = "mono"
)

// AddFonts embeds the UTF-8 fonts that drawings and the report are set in; only the letters used end up in the
// file.
func AddFonts(doc *fpdf.Fpdf) {
	doc.AddUTF8FontFromBytes(Sans, "", goregular.TTF)
	doc.AddUTF8FontFromBytes(Sans, "B", gobold.TTF)
	doc.AddUTF8FontFromBytes(Sans, "I", goitalic.TTF)
	doc.AddUTF8FontFromBytes(Mono, "", gomono.TTF)
}

// halfCap is half the height of the font's capitals, in sizes: what lowers a text so that it is centred.
const halfCap = 0.36

// leastPt is the size below which a text on paper cannot be read and is left out.
const leastPt = 2.5

func (b *brush) text(t drawing.Text, st drawing.Style) {
	pt := sizePt(t, st, b.at.Scale)
	if pt < leastPt || t.S == "" {
		return
	}
	style := ""
	if st.Bold {
		style = "B"
	}
	b.doc.SetFont(Sans, style, pt)
	size, w := pt*mmPerPt, b.doc.GetStringWidth(t.S)
	q := b.at.ToPage(t.At)
	x, y := q.X-left(t.Anchor)*w, q.Y+drop(t.Anchor)*size
	if t.Deg != 0 {
		b.doc.TransformBegin()
		b.doc.TransformRotate(t.Deg, q.X, q.Y)
	}
	if t.Halo {
		b.halo(x, y, w, size)
	}
	b.opacity(0xff)
	b.doc.SetTextColor(int(st.Text.R), int(st.Text.G), int(st.Text.B))
	b.doc.Text(x, y, t.S)
	if t.Deg != 0 {
		b.doc.TransformEnd()
	}
}

func sizePt(t drawing.Text, st drawing.Style, scale float64) float64 {
	switch {
	case t.InMM > 0:
		return t.InMM / scale / mmPerPt
	case t.Pt > 0:
		return t.Pt
	}
	return st.Size
}

// halo clears the ground under a text. The text itself is set once, so that it is found once by a search.
func (b *brush) halo(x, y, w, size float64) {
	c := b.palette.Paper()
	b.opacity(0xd0)
	b.doc.SetFillColor(int(c.R), int(c.G), int(c.B))
	edge := 0.08 * size
	b.doc.Rect(x-edge, y-0.74*size-edge, w+2*edge, 0.78*size+2*edge, "F")
}

// left is the part of a text's width that lies left of its place.
func left(a drawing.Anchor) float64 {
	switch a {
	case drawing.West:
		return 0
	case drawing.East:
		return 1
	}
	return 0.5
}

// drop is how far the base line lies under a text's place, in sizes.
func drop(a drawing.Anchor) float64 {
	switch a {
	case drawing.North:
		return 2 * halfCap
	case drawing.South:
		return 0
	}
	return halfCap
}

// Caption is the words that go under a drawing: its title and its scale, as "Plan, seen from above, 1:20"; without the scale where it is not a standard one.
func Caption(l *drawing.List, p Placed) string {
	if p.Free {
		return l.Title
	}
	return l.Title + ", 1:" + number(p.Scale)
}
