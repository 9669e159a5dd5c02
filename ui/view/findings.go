package view

import (
	"fmt"
	"strconv"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// FindingFilter says which findings are listed.
type FindingFilter struct {
	Severities map[check.Severity]bool // nil: fails, warns and notes
	Picked     bool                    // only those about what is picked
}

// Shows reports whether a finding is listed.
func (f FindingFilter) shows(x check.Finding, s *Selection) bool {
	if f.Severities == nil && x.Severity == check.Passes || f.Severities != nil && !f.Severities[x.Severity] {
		return false
	}
	if !f.Picked {
		return true
	}
	for _, ref := range x.Refs {
		if s.Has(ref) {
			return true
		}
	}
	return s.Has(x.Subject)
}

// maxFindings bounds the list; what lies beyond is counted.
const maxFindings = 300

// FindingList sets the findings pane. A row's key is the finding's index, from 1.
func (m *Model) FindingList(width float64, fonts *paint.Fonts, filter FindingFilter) *Page {
	w := newWriter(width, fonts)
	w.y = 6
	n := 0
	for i, f := range m.eval.Findings {
		if !filter.shows(f, &m.Selection) {
			continue
		}
		if n++; n > maxFindings {
			continue
		}
		w.finding(f, m.Display.Focus == i+1, strconv.Itoa(i+1))
	}
	if n > maxFindings {
		w.wrapped(w.pad, w.w-w.pad, RoleFaint, 11, fmt.Sprintf("and %d more", n-maxFindings), 0)
	}
	if n == 0 {
		w.nothing(m)
	}
	return w.done()
}

func (w *writer) nothing(m *Model) {
	text := "Nothing to show here. Rules that hold are listed when Passes is switched on."
	if m.scene.Count() == 0 {
		text = "No modules yet, so there is little to check. Place some, or pack a bay."
	}
	w.y += 6
	w.wrapped(w.pad, w.w-w.pad, RoleFaint, 12, text, 0)
}

var severitySigns = map[check.Severity]struct {
	role drawing.Role
	sign string
}{
	check.Fails:  {RoleBad, "×"},
	check.Warns:  {RoleNear, "!"},
	check.Notes:  {RoleNote, "i"},
	check.Passes: {RoleGood, "+"},
}

func (w *writer) finding(f check.Finding, chosen bool, key string) {
	top := w.y
	at := len(w.page.Items)
	w.y += 5
	s := severitySigns[f.Severity]
	w.badge(w.pad+8, w.y+8, s.role, s.sign)
	w.wrapped(w.pad+24, w.w-w.pad, RoleBody, 12, f.Text, 4)
	w.wrapped(w.pad+24, w.w-w.pad, RoleFaint, 10.5, string(f.Severity)+" · "+f.Rule+" · "+f.Source, 2)
	w.y += 5
	w.fill(w.pad+24, w.y-1, w.w-w.pad, w.y, RoleRule)
	if chosen {
		w.under(at, top, RoleChosen)
	}
	w.row(top, key, "Click to go to the place; click again to see the rule")
}

// under puts a fill under items already set, from a top down to the next line.
func (w *writer) under(at int, top float64, role drawing.Role) {
	rest := append([]drawing.Item(nil), w.page.Items[at:]...)
	w.page.Items = w.page.Items[:at]
	w.fill(0, top, w.w, w.y, role)
	w.add(rest...)
}

// badge sets a sign on a shape of its own for each severity.
func (w *writer) badge(x, y float64, role drawing.Role, sign string) {
	var ps [][2]float64
	switch role {
	case RoleBad:
		ps = [][2]float64{{-3, -8}, {3, -8}, {8, -3}, {8, 3}, {3, 8}, {-3, 8}, {-8, 3}, {-8, -3}}
	case RoleNear:
		ps = [][2]float64{{0, -8}, {8, 7}, {-8, 7}}
	case RoleNote:
		ps = [][2]float64{{-7, -7}, {7, -7}, {7, 7}, {-7, 7}}
	default:
		ps = [][2]float64{{0, -8}, {8, 0}, {0, 8}, {-8, 0}}
	}
	w.shape(x, y, role, ps)
	if role == RoleNear {
		y++
	}
	w.text(x, y, RolePane, 12, drawing.Middle, sign)
}
