package pdf

import "codeberg.org/go-pdf/fpdf"

// ink is the part of a document's state that painting changes.
type ink struct {
	draw, fill, text [3]int
	width, alpha     float64
	blend            string
	family, style    string
	size             float64
}

func inkOf(doc *fpdf.Fpdf) ink {
	var k ink
	k.draw[0], k.draw[1], k.draw[2] = doc.GetDrawColor()
	k.fill[0], k.fill[1], k.fill[2] = doc.GetFillColor()
	k.text[0], k.text[1], k.text[2] = doc.GetTextColor()
	k.width = doc.GetLineWidth()
	k.alpha, k.blend = doc.GetAlpha()
	k.family, k.style = doc.GetFontFamily(), doc.GetFontStyle()
	k.size, _ = doc.GetFontSize()
	return k
}

// restore sets everything again, in the file too: the end of a clipped part takes the file's state back
// without the document's noticing.
func (k ink) restore(doc *fpdf.Fpdf) {
	doc.SetDrawColor(k.draw[0], k.draw[1], k.draw[2])
	doc.SetFillColor(k.fill[0], k.fill[1], k.fill[2])
	doc.SetTextColor(k.text[0], k.text[1], k.text[2])
	doc.SetLineWidth(k.width)
	doc.SetAlpha(k.alpha, k.blend)
	if k.family != "" {
		doc.SetFont(k.family, k.style, k.size)
	}
}
