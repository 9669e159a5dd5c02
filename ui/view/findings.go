package view

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// FindingFilter says which findings are listed.
type FindingFilter struct {
	Severities map[check.Severity]bool // nil: fails, warns and notes
	Picked     bool                    // only those about what is picked
	Words      string                  // only those whose sentence, rule or subject holds these words
}

// shows reports whether a finding is listed.
func (f FindingFilter) shows(x check.Finding, s *Selection) bool {
	if f.Severities == nil && x.Severity == check.Passes || f.Severities != nil && !f.Severities[x.Severity] {
		return false
	}
	if !holds(strings.Fields(strings.ToLower(f.Words)), x.Text, x.Rule, x.Subject) {
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
		f.Text = m.Units().Prose(f.Text)
		w.finding(f, m.Display.Focus == i+1, strconv.Itoa(i+1))
	}
	if n > maxFindings {
		w.wrapped(w.pad, w.w-w.pad, RoleFaint, 11, fmt.Sprintf("and %d more", n-maxFindings), 0)
	}
	if n == 0 {
		w.nothing(m, filter)
	}
	return w.done()
}

// nothing says why no finding is listed, and what to do about it.
func (w *writer) nothing(m *Model, f FindingFilter) {
	text := "Nothing to show here. Switch + on above to list the rules that hold."
	switch {
	case f.Picked && m.Selection.Len() == 0:
		text = "Only findings about what is picked are listed, and nothing is picked. Pick something in a view, or switch Picked off above."
	case f.Picked:
		text = "No finding of these kinds is about what is picked. Switch Picked off above to see the others."
	case f.Words != "":
		text = "No finding of these kinds holds the words typed."
	case m.scene.Count() == 0:
		text = "No modules yet, so there is little to check. Place some from the stores, or press P to pack a bay."
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
	lines, small := 4, 2
	if chosen {
		lines, small = 0, 0
	}
	w.wrapped(w.pad+24, w.w-w.pad, RoleBody, 12, f.Text, lines)
	w.wrapped(w.pad+24, w.w-w.pad, RoleFaint, 10.5, string(f.Severity)+" · "+f.Rule+" · "+f.Source, small)
	w.y += 5
	w.fill(w.pad+24, w.y-1, w.w-w.pad, w.y, RoleRule)
	if chosen {
		w.under(at, top, RoleChosen)
	}
	w.row(top, key, "Click to go to the place, again to see the rule and its source; secondary button: more")
}

// under puts a fill under items already set, from a top down to the next line.
func (w *writer) under(at int, top float64, role drawing.Role) {
	rest := slices.Clone(w.page.Items[at:])
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

// FindingOf is the number, from 1, of the finding that shows the place of a reading; 0 where there is none.
func (m *Model) FindingOf(reading string) int {
	r, ok := m.eval.Reading(reading)
	if !ok || reading != "worst_gap_mm" {
		return 0
	}
	for i, f := range m.eval.Findings {
		if f.Rule == "fit.gap" && f.Place != nil && math.Abs(f.Actual-r.Value) < 1e-6 {
			return i + 1
		}
	}
	return 0
}

// FindingPage lays a finding open: the sentence, what was required and found, what the rule guards against, its source.
func FindingPage(width float64, fonts *paint.Fonts, u Units, f check.Finding) *Page {
	w := newWriter(width, fonts)
	w.y = 10
	s := severitySigns[f.Severity]
	w.badge(w.pad+8, w.y+9, s.role, s.sign)
	w.text(w.pad+26, w.y+9, RoleFigure, 13, drawing.West, firstUpper(string(f.Severity)))
	w.y += 24
	w.wrapped(w.pad, w.w-w.pad, RoleBody, 13, u.Prose(f.Text), 0)
	w.section("Required and found", findingFigures(u, f))
	w.section("What the rule "+f.Rule+" guards against", firstUpper(u.Prose(guards(f.Rule)))+".")
	w.section("Source", f.Source)
	w.y += 4
	w.wrapped(w.pad, w.w-w.pad, RoleFaint, 10.5, Caution, 0)
	w.y += 8
	return w.done()
}

// FindingText is a finding as plain text, for the clipboard.
func FindingText(u Units, f check.Finding) string {
	s := firstUpper(string(f.Severity)) + ", " + f.Subject + ": " + u.Prose(f.Text)
	if figures := findingFigures(u, f); figures != "" {
		s += "\n" + figures
	}
	return s + "\nRule " + f.Rule + ", which guards against " + guards(f.Rule) + ". Source: " + f.Source
}

func findingFigures(u Units, f check.Finding) string {
	if f.Compare == "" {
		return ""
	}
	return fmt.Sprintf("Required: %s %s. Found: %s.", f.Compare, u.Text(f.Required, f.Unit), u.Text(f.Actual, f.Unit))
}

// guards is what a rule guards against.
func guards(rule string) string {
	for _, r := range check.Table() {
		if r.Name == rule {
			return r.Guards
		}
	}
	return ""
}

func firstUpper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
