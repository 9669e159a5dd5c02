package ui

import (
	"testing"

	"stowbay/layout/check"
	"stowbay/ui/view"
)

// Two at least and six at most stand side by side; the first is what the others are compared with.
func TestChooseArrangementsToCompare(t *testing.T) {
	w := demoWindow(t)
	for len(w.model.Plan().Arrangements) < view.MostCompared+1 {
		w.duplicate()
	}
	c := &comparing{w: w, plan: w.model.Document().Plan(), known: map[string]*check.Evaluation{}}
	for _, a := range c.plan.Arrangements {
		c.known[a.ID] = w.model.Eval() // as if known, so that nothing goes on in the background
	}
	c.tabs()
	as := c.plan.Arrangements
	c.chosen = []string{as[1].ID, as[0].ID}
	c.workOut()
	if c.choose(as[0].ID, false) {
		t.Error("one arrangement alone is compared")
	}
	for i := 2; i < view.MostCompared; i++ {
		if !c.choose(as[i].ID, true) {
			t.Errorf("arrangement %d is refused", i+1)
		}
	}
	if c.choose(as[view.MostCompared].ID, true) || len(c.table.Columns) != view.MostCompared {
		t.Errorf("%d columns", len(c.table.Columns))
	}
	if !c.choose(as[1].ID, false) || c.chosen[0] != as[0].ID || len(c.table.Columns) != view.MostCompared-1 {
		t.Errorf("compared are %v", c.chosen)
	}
}
