package page

import (
	"strings"

	"stowbay/layout/report/pdf"
)

const mmPerPt = 25.4 / 72

// leading is the distance between lines, in sizes of the letters.
const leading = 1.32

// clean makes a text fit for a line.
func clean(s string) string { return pdf.Clean(s) }

func (d *Doc) font(style string, pt float64) { d.pdf.SetFont(pdf.Sans, style, pt) }

// grey sets the colour of the text that follows: 0 black, 255 white.
func (d *Doc) grey(v int) { d.pdf.SetTextColor(v, v, v) }

// lineHeight is the distance between two lines of a size in points.
func lineHeight(pt float64) float64 { return pt * mmPerPt * leading }

// base is how far the base line of a line lies below its top.
func base(pt float64) float64 { return pt * mmPerPt * (0.5*(leading-1) + 0.93) }

// put sets a line whose top is at y.
func (d *Doc) put(x, y, pt float64, s string) { d.pdf.Text(x, y+base(pt)-0.1*pt*mmPerPt, s) }

// width is the width of a text in the current font.
func (d *Doc) width(s string) float64 { return d.pdf.GetStringWidth(s) }

// wrap breaks a text into lines no wider than w in the current font. Line ends in the text are kept. A word that
// is too long is broken after a sign that joins its parts, or where it has to be.
func (d *Doc) wrap(s string, w float64) []string {
	var out []string
	for _, para := range strings.Split(s, "\n") {
		out = append(out, d.wrapLine(clean(para), w)...)
	}
	return out
}

func (d *Doc) wrapLine(s string, w float64) []string {
	if d.width(s) <= w {
		return []string{s}
	}
	space := d.width(" ")
	var out []string
	var line string
	var used float64
	for _, word := range strings.Fields(s) {
		ww := d.width(word)
		if line != "" && used+space+ww <= w {
			line, used = line+" "+word, used+space+ww
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for ww > w {
			n := d.fitting(word, w)
			out = append(out, word[:n])
			word = word[n:]
			ww = d.width(word)
		}
		line, used = word, ww
	}
	if line != "" || len(out) == 0 {
		out = append(out, line)
	}
	return out
}

// fitting is the number of bytes of a word's start that fit a width, at least one letter's.
func (d *Doc) fitting(word string, w float64) int {
	var n, joint int
	var used float64
	for i, r := range word {
		used += d.width(string(r))
		if used > w && i > 0 {
			break
		}
		n = i + len(string(r))
		if strings.ContainsRune("/-_.,:;", r) {
			joint = n
		}
	}
	if joint > 1 && joint < len(word) { // a first sign, as that of a negative number, stays with what follows
		return joint
	}
	return n
}

// cut shortens a text with an ellipsis so that it fits a width.
func (d *Doc) cut(s string, w float64) string {
	s = clean(s)
	if d.width(s) <= w {
		return s
	}
	rs := []rune(s)
	for len(rs) > 0 && d.width(string(rs)+"…") > w {
		rs = rs[:len(rs)-1]
	}
	return string(rs) + "…"
}
