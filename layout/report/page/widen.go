package page

import "strings"

// longestWord bounds what a single word can ask of a column; longer ones are broken.
const longestWord = 30.0

// widen raises a column's width to that of a text's longest line, and its least width to that of its longest word.
func (d *Doc) widen(s string, need, least *float64) {
	for _, l := range strings.Split(s, "\n") {
		l = clean(l)
		*need = max(*need, d.width(l)+2*cellPad+0.2)
		for _, word := range strings.Fields(l) {
			*least = max(*least, min(d.width(word), longestWord)+2*cellPad+0.2)
		}
	}
}
