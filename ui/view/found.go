package view

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/layout/search"
	"stowbay/ui/paint"
)

// objectiveHeads are the objectives as the heads of narrow columns: two lines, the second a unit or what stands for it.
var objectiveHeads = map[search.Objective][2]string{
	search.Energy:    {"Energy", "kWh"},
	search.Mass:      {"Kerb mass", "kg"},
	search.FrontOff:  {"Front share", "points off"},
	search.Height:    {"CG height", "mm"},
	search.Side:      {"Side", "points off"},
	search.Cable:     {"Cable", "m, about"},
	search.Boxes:     {"Boxes", ""},
	search.LiveSteps: {"Live joints", ""},
	search.Cost:      {"Cost", ""},
}

// ObjectiveName is an objective as a choice in a dialog.
func ObjectiveName(o search.Objective) string { return firstUpper(o.Label()) }

// mostFound bounds how many arrangements found are listed.
const mostFound = 200

// FoundPage lists the arrangements that a search found in an order given by their indices. A click's key is
// "found 3", counted from 0 in the search's own order; those chosen are ticked. A click on the head of a column has the
// key "rank mass_kg". money is the currency of the plan's prices, as it stands over the costs.
func FoundPage(width float64, fonts *paint.Fonts, u Units, money string, r *search.Result, order []int, chosen map[int]bool) *Page {
	w := newWriter(width, fonts)
	f := foundPage{w, u, money, r, min(520, width*0.4), 0}
	f.col = (width - f.left - 10) / float64(max(len(r.Objectives), 1))
	w.y = 8
	f.heads()
	for rank, i := range order[:min(len(order), mostFound)] {
		f.found(rank, i, chosen[i])
	}
	if len(order) > mostFound {
		w.wrapped(w.pad, w.w-w.pad, RoleFaint, 11.5, fmt.Sprintf("The first %d of %d. Other weights bring others up.", mostFound, len(order)), 0)
	}
	w.y += 8
	return w.done()
}

type foundPage struct {
	*writer
	u         Units
	money     string
	r         *search.Result
	left, col float64
}

func (f foundPage) heads() {
	for i, o := range f.r.Objectives {
		h := objectiveHeads[o]
		if o == search.Cost {
			h[1] = f.money
		}
		x := f.left + float64(i+1)*f.col - 4
		f.page.Rows = append(f.page.Rows, Row{Top: f.y, Bottom: f.y + 28, Left: x - f.col + 8, Right: x + 4, Key: "rank " + o.Key(),
			Tip: "Click: rank by " + o.Label() + " alone"})
		f.text(x, f.y+6, RoleHead, 10.5, drawing.East, h[0])
		f.text(x, f.y+20, RoleFaint, 10, drawing.East, shownUnit(f.u, h[1]))
	}
	f.y += 30
	f.fill(f.pad, f.y, f.w-f.pad, f.y+1, RoleRule)
	f.y += 4
}

func (f foundPage) found(rank, i int, chosen bool) {
	one, top := &f.r.Found[i], f.y
	x, wide := f.pad+22, f.left-f.pad-22
	how := f.fonts.Wrap(inBoxes(one), 11, wide, false)
	mid, bottom := top+11+7*float64(len(how)), top+22+14*float64(len(how))
	if chosen {
		f.fill(0, top, f.w, bottom, RoleChosen)
	}
	f.tick(f.pad+6, mid, chosen)
	f.text(x, top+10, RoleName, 12, drawing.West, f.fonts.Cut(fmt.Sprintf("%d. %s, %ds%dp", rank+1, one.Module.Name, one.Series, one.Parallel), 12, wide, true))
	for n, line := range how {
		f.text(x, top+26+14*float64(n), RoleFaint, 11, drawing.West, line)
	}
	for k, o := range f.r.Objectives {
		f.text(f.left+float64(k+1)*f.col-4, mid, RoleFigure, 12, drawing.East, f.value(o, one.Values[o]))
	}
	f.y = bottom + 1
	f.row(top, fmt.Sprintf("found %d", i), one.Name())
	f.fill(f.pad, f.y-1, f.w-f.pad, f.y, RoleRule)
}

// tick is a box with a mark in it where something is chosen.
func (f foundPage) tick(x, y float64, on bool) {
	f.add(drawing.Stroke{Of: tag(RoleFaint), Points: []r2.Point{spot(x-5, y-5), spot(x+5, y-5), spot(x+5, y+5), spot(x-5, y+5)}, Closed: true, Pt: 1})
	if on {
		f.line(RoleName, 1.8, spot(x-3, y), spot(x-1, y+3), spot(x+4, y-4))
	}
}

func inBoxes(f *search.Found) string {
	var out []string
	for i := range f.Boxes {
		out = append(out, f.Boxes[i].Words())
	}
	return strings.Join(out, "; ")
}

// value writes a figure of an objective in the units shown, its unit standing at the head.
func (f foundPage) value(o search.Objective, v float64) string {
	v, unit := f.u.Show(v, o.Unit())
	switch o {
	case search.FrontOff, search.Side, search.Cable:
		return Number(v, 1)
	}
	return Number(v, decimals(unit))
}

// ExcludedPage says which options a search left out and by which limit, and how far what it found is complete.
func ExcludedPage(width float64, fonts *paint.Fonts, u Units, r *search.Result) *Page {
	w := newWriter(width, fonts)
	w.y = 8
	w.wrapped(w.pad, w.w-w.pad, RoleName, 12.5, FoundSummary(r), 0)
	for _, s := range r.Remarks {
		w.wrapped(w.pad, w.w-w.pad, RoleBody, 12, u.Prose(s), 0)
	}
	w.head("Left out, and why")
	if len(r.Excluded) == 0 {
		w.wrapped(w.pad, w.w-w.pad, RoleFaint, 12, "No limit left anything out.", 0)
	}
	for _, e := range r.Excluded {
		y := w.y
		w.text(w.pad, y+8, RoleFigure, 11.5, drawing.West, string(e.Limit))
		w.wrapped(w.pad+120, w.w-w.pad, RoleBody, 12, u.Prose(e.Text), 0)
		w.y += 4
	}
	w.y += 8
	return w.done()
}

// FoundSummary says in a sentence or two what a search found and how sure it is. That one arrangement beats all others
// is said only where the search went through all choices.
func FoundSummary(r *search.Result) string {
	sure := r.Complete && !r.Stopped
	s := fmt.Sprintf("%d arrangements that no other one found beats in all of %d figures", len(r.Found), len(r.Objectives))
	switch {
	case len(r.Found) == 1 && sure:
		s = "One arrangement beats all others"
	case len(r.Found) == 1:
		s = "One arrangement beats the others looked at"
	case sure:
		s = fmt.Sprintf("%d arrangements that no other one beats in all of %d figures", len(r.Found), len(r.Objectives))
	}
	s += fmt.Sprintf(", out of %s in %.1f s.", search.Many(r.Tally.All), r.Elapsed.Seconds())
	switch {
	case r.Stopped:
		return s + " Stopped early: not all were looked at, and there may be better ones."
	case r.Complete:
		return s + " The list is proved complete for the choices searched."
	}
	return s + " Not proved complete: there may be better ones; see Left out."
}

// OpenFound puts arrangements that a search found into the plan as new ones, in one step, and shows the first.
func (m *Model) OpenFound(r *search.Result, chosen []int) error {
	first := ""
	err := m.Do(func(p *layout.Plan, _ string) (layout.Edit, error) {
		q := *p
		q.Arrangements = append([]*layout.Arrangement(nil), p.Arrangements...)
		for _, i := range chosen {
			a := r.Open(i)
			if q.Arrangement(a.ID) != nil {
				a.ID = layout.FreshID(a.ID+"-", func(id string) bool { return q.Arrangement(id) != nil })
			}
			if first == "" {
				first = a.ID
			}
			q.Arrangements = append(q.Arrangements, a)
		}
		return layout.Diff(p, &q, fmt.Sprintf("Open %d found", len(chosen)))
	})
	if err == nil && first != "" {
		m.SetArrangement(first)
	}
	return err
}
