package pdf

import (
	"bytes"
	"strings"
	"unicode"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"

	"stowbay/layout/drawing"
)

// Sans is the font family that AddFonts makes known, with the styles "", "B" and "I".
const Sans = "sans"

// AddFonts embeds the UTF-8 fonts that drawings and the report are set in; only the letters used end up in the
// file. Each document gets its own copy of the fonts: the library writes into what it is given.
func AddFonts(doc *fpdf.Fpdf) {
	doc.AddUTF8FontFromBytes(Sans, "", bytes.Clone(goregular.TTF))
	doc.AddUTF8FontFromBytes(Sans, "B", bytes.Clone(gobold.TTF))
	doc.AddUTF8FontFromBytes(Sans, "I", bytes.Clone(goitalic.TTF))
}

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
	t.S = b.shortened(Clean(t.S), max(b.field.W, b.field.H))
	size, w := pt*mmPerPt, b.doc.GetStringWidth(t.S)
	q := b.at.ToPage(t.At)
	x, y := q.X-t.Anchor.Left()*w, q.Y+t.Anchor.Drop()*size
	if t.Deg == 0 {
		t.S = b.shortened(t.S, b.field.W)
		w = b.doc.GetStringWidth(t.S)
		x = max(b.field.X, min(x, b.field.X+b.field.W-w))
	}
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

// Clean replaces what a line of text cannot hold: controls and line ends by a space, letters beyond the basic plane,
// which the fonts lack and the library cannot number, by a square.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r > 0xFFFF || r == unicode.ReplacementChar:
			return '□'
		case unicode.IsControl(r) || r == '\u2028' || r == '\u2029':
			return ' '
		}
		return r
	}, s)
}

// shortened cuts a text that is wider than w in the current font, with an ellipsis.
func (b *brush) shortened(s string, w float64) string {
	if b.doc.GetStringWidth(s) <= w {
		return s
	}
	rs := []rune(s)
	for len(rs) > 0 && b.doc.GetStringWidth(string(rs)+"…") > w {
		rs = rs[:len(rs)-1]
	}
	return string(rs) + "…"
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

// Caption is the words that go under a drawing: its title and its scale, as "Plan, seen from above, 1:20"; without the scale where it is not a standard one.
func Caption(l *drawing.List, p Placed) string {
	if p.Free {
		return l.Title
	}
	return l.Title + ", 1:" + number(p.Scale)
}
