package view

import (
	"cmp"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
)

// Display is how the views are shown.
type Display struct {
	Off    drawing.Layer // layers that are hidden
	Snap   bool
	GridMM float64 // pitch of the grid to snap to
	Focus  int     // index of the finding shown in the views, from 1; 0: none
}

// severityMarks are the marks of findings.
var severityMarks = map[check.Severity]drawing.Mark{check.Fails: drawing.Breached, check.Warns: drawing.Warned}

// Marks returns the state of everything shown. Breaches of the fit rules are always marked, since they are about
// places; other findings mark what they are about only while they are looked at.
func (m *Model) Marks() map[string]drawing.Mark {
	out := map[string]drawing.Mark{}
	for i, f := range m.eval.Findings {
		if mark := severityMarks[f.Severity]; mark != 0 && (strings.HasPrefix(f.Rule, "fit.") || i+1 == m.Display.Focus) {
			for _, ref := range f.Refs {
				out[ref] |= mark
			}
		}
	}
	for _, ref := range m.Selection.refs {
		out[ref] |= drawing.Selected
	}
	if m.hover != "" {
		out[m.hover] |= drawing.Hovered
	}
	m.scene.Bodies(func(_ *layout.BoxScene, b *layout.Body) {
		if b.Placement.Locked {
			out[b.ID] |= drawing.Locked
		}
	})
	for _, b := range m.scene.Boxes {
		if b.Box.Locked {
			out[b.Box.ID] |= drawing.Locked
		}
	}
	if t, ok := m.tool.(*Array); ok {
		t.ghostMarks(out)
	}
	return out
}

// Places returns the distances of the findings that fail or warn, for the views: during a drag those of what is
// dragged, else the one that was clicked. The worst few are worded; more counts the others.
func (m *Model) Places() (places []drawing.Place, more int) {
	for _, i := range m.placesByGravity() {
		if len(places) == maxPlaces {
			more++
			continue
		}
		p := m.place(i)
		if len(places) >= maxWorded {
			p.Text = ""
		}
		if p.Text == "" {
			more++
		}
		places = append(places, p)
	}
	return places, more
}

// placesByGravity are the findings with a place that are shown: the one looked at, then what fails before what warns, the
// worse distance first, those without a distance last.
func (m *Model) placesByGravity() []int {
	var out []int
	for i, f := range m.eval.Findings {
		if f.Place != nil && m.shows(i, f) {
			out = append(out, i)
		}
	}
	rank := func(i int) (focus, warns, silent bool, margin float64) {
		f := m.eval.Findings[i]
		return i+1 == m.Display.Focus, f.Severity != check.Fails, !m.worded(i), f.Margin()
	}
	slices.SortStableFunc(out, func(i, j int) int {
		fi, wi, si, mi := rank(i)
		fj, wj, sj, mj := rank(j)
		return cmp.Or(boolCompare(fj, fi), boolCompare(si, sj), boolCompare(wi, wj), cmp.Compare(mi, mj))
	})
	return out
}

// boolCompare puts false before true.
func boolCompare(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// worded tells whether a distance can be said of a finding.
func (m *Model) worded(i int) bool {
	f := m.eval.Findings[i]
	return f.Compare != "" && (f.Unit == "mm" || i+1 == m.Display.Focus)
}

func (m *Model) place(i int) drawing.Place {
	f := m.eval.Findings[i]
	p := drawing.Place{A: *f.Place, B: *f.Place, Mark: severityMarks[f.Severity], Ref: f.Rule}
	if f.To != nil {
		p.B = *f.To
	}
	if m.worded(i) {
		p.Text = placeText(f, m.Units())
	}
	return p
}

// refound is the number, from 1, that the finding of a number has in a later evaluation; 0 where it is gone. Of several about
// the same things it is the one with as many before it.
func refound(number int, was, now *check.Evaluation) int {
	if number > len(was.Findings) || was.Arrangement.ID != now.Arrangement.ID {
		return 0
	}
	f := was.Findings[number-1]
	same := func(g check.Finding) bool {
		return g.Rule == f.Rule && g.Subject == f.Subject && slices.Equal(g.Refs, f.Refs)
	}
	before := 0
	for _, g := range was.Findings[:number-1] {
		if same(g) {
			before++
		}
	}
	found := 0
	for i, g := range now.Findings {
		if !same(g) {
			continue
		}
		if found = i + 1; before == 0 {
			break
		}
		before--
	}
	return found
}

// placeText words a distance against its limit: "12 mm, needs 15 mm", "18 mm too far in", "30 mm, at most 25 mm".
func placeText(f check.Finding, u Units) string {
	actual := u.Text(f.Actual, f.Unit)
	switch {
	case f.Compare != "at most":
		return actual + ", needs " + u.Text(f.Required, f.Unit)
	case f.Required == 0:
		return actual + " too far in"
	}
	return actual + ", at most " + u.Text(f.Required, f.Unit)
}

// At most so many distances are lit up at once, and so many of them worded.
const (
	maxPlaces = 24
	maxWorded = 3
)

func (m *Model) shows(i int, f check.Finding) bool {
	if i+1 == m.Display.Focus {
		return true
	}
	if severityMarks[f.Severity] == 0 {
		return false
	}
	for _, ref := range f.Refs {
		if m.Selection.Has(ref) {
			return true
		}
	}
	return false
}

// Options returns what a view shows besides the scene.
func (m *Model) Options() drawing.Options {
	o := drawing.Options{
		Off: m.Display.Off, Marks: m.Marks(), Imperial: m.Units() == Imperial,
		Dimensions: m.Selection.Len() > 0 && m.Selection.Len() <= 2,
	}
	o.Places, o.MorePlaces = m.Places()
	m.balance(&o)
	return o
}

// balance fills in centres of gravity and wheel loads from the readings, where they are there.
func (m *Model) balance(o *drawing.Options) {
	o.CG = m.point("cg_mm.x", "cg_mm.y", "cg_mm.z")
	o.CGDonor = m.donorPoint()
	var w [4]float64
	for i, key := range WheelKeys {
		r, ok := m.eval.Reading(key)
		if !ok {
			return
		}
		w[i] = r.Value
	}
	o.WheelKg = &w
}

// WheelKeys are the readings of the wheel loads: front left, front right, rear left, rear right.
var WheelKeys = [4]string{"wheels_kg.front_left", "wheels_kg.front_right", "wheels_kg.rear_left", "wheels_kg.rear_right"}

// donorPoint is the donor's centre of gravity, where its survey gives one.
func (m *Model) donorPoint() *r3.Vector {
	if m.eval == nil || m.eval.Mass == nil || m.eval.Mass.Donor.Kg.Value <= 0 {
		return nil
	}
	at := m.eval.Mass.Donor.CG()
	return &at
}

func (m *Model) point(x, y, z string) *r3.Vector {
	rx, ok := m.eval.Reading(x)
	if !ok {
		return nil
	}
	return &r3.Vector{X: rx.Value, Y: m.eval.Value(y), Z: m.eval.Value(z)}
}
