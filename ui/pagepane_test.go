package ui

import (
	"testing"

	"stowbay/ui/view"
)

// A row brought into sight is seen whole, or from its beginning where the pane is lower than it.
func TestRowBroughtIntoSight(t *testing.T) {
	for _, high := range []float64{60, 120, 150, 400} {
		for _, from := range []float64{0, 350, 900} {
			p := &pagePane{page: &view.Page{Rows: []view.Row{{Key: "a", Top: 0, Bottom: 300}, {Key: "b", Top: 300, Bottom: 420}}}, wanted: "b", scroll: from}
			p.bring(high)
			if p.scroll > 300 || p.scroll+min(high, 120) > 300+high || p.scroll+high < 300+min(high, 120) {
				t.Errorf("in a pane %v high, scrolled by %v before, the row from 300 to 420 is seen from %v to %v", high, from, p.scroll, p.scroll+high)
			}
		}
	}
}
