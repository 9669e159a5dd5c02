package report

import (
	"fmt"
	"sort"
	"strings"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/report/page"
)

// register sets which received module sits in which slot, with room to write where none is entered.
func (b *book) register() {
	for i, e := range b.es {
		b.e, b.n = e, i+1
		in := assembly.Register(b.plan.Build, e.Arrangement.ID)
		b.Section(e.Arrangement.Name, "", 1, 30)
		if e.Scene.Count() == 0 {
			b.Para("No modules are placed.")
			continue
		}
		t := page.Table{Columns: []page.Column{{Head: "slot"}, {Head: "module type"}, {Head: "in the string"}, {Head: "workshop number", MM: 28}, {Head: "maker's serial number", MM: 36}, {Head: "put in by", MM: 22}, {Head: "date", MM: 19}}}
		at := stringPlaces(e.Electric)
		e.Scene.Bodies(func(_ *layout.BoxScene, m *layout.Body) {
			s := in[m.ID]
			t.Rows = append(t.Rows, page.Row(m.ID, m.Module.ID, at[m.ID], s.Shop, b.serial(s.Shop), s.By, s.Date))
		})
		b.Table(t)
		b.replaced()
		b.matching()
	}
	b.e = nil
	b.received()
}

// replaced sets the entries that a later one for the same slot took the place of. Nothing is ever overwritten.
func (b *book) replaced() {
	t := page.Table{Columns: []page.Column{{Head: "slot"}, {Head: "workshop number"}, {Head: "put in by"}, {Head: "date"}, {Head: "why it replaced the one before"}}}
	seen := map[string]int{}
	if b.plan.Build != nil {
		for _, s := range b.plan.Build.Slots {
			if s.Arrangement != b.e.Arrangement.ID {
				continue
			}
			if seen[s.Slot]++; seen[s.Slot] > 1 {
				t.Rows = append(t.Rows, page.Row(s.Slot, s.Shop, s.By, s.Date, or(s.Reason, "not stated")))
			}
		}
	}
	if len(t.Rows) > 0 {
		b.Section("Replacements", "", 2, 25)
		b.Table(t)
	}
}

// matching proposes which received module goes where, as long as no slot is filled.
func (b *book) matching() {
	build := b.plan.Build
	if build == nil || len(build.Received) == 0 || len(assembly.Register(build, b.e.Arrangement.ID)) > 0 {
		return
	}
	b.Section("Proposal: like modules together", "", 2, 30)
	m, err := assembly.Match(b.e.Assembly.Model)
	if err != nil {
		b.Para("No proposal: " + err.Error() + ".")
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "string"}, {Head: "least Ah", Right: true}, {Head: "most Ah", Right: true}, {Head: "least milliohm", Right: true}, {Head: "most milliohm", Right: true}}}
	for _, g := range m.Groups {
		t.Rows = append(t.Rows, page.Row(g.String, b.orNothing(g.LeastAh, ""), b.orNothing(g.MostAh, ""), b.orNothing(g.LeastMilliOhm, ""), b.orNothing(g.MostMilliOhm, "")))
	}
	b.Table(t)
	t = page.Table{Columns: []page.Column{{Head: "slot"}, {Head: "workshop number"}}}
	for _, s := range m.Slots {
		t.Rows = append(t.Rows, page.Row(s.Slot, s.Shop))
	}
	b.Table(t)
	b.Small(matchWords(m))
}

func matchWords(m *assembly.Matching) string {
	how := "No other choice brings the modules nearer to their strings' means of capacity and resistance."
	if !m.Proved() {
		how = fmt.Sprintf("Sum of squared deviations %.3f, no less than %.3f.", m.Cost, m.Bound)
	}
	if m.Blind > 0 {
		how += fmt.Sprintf(" %d modules have neither a measured capacity nor a resistance and count as average.", m.Blind)
	}
	if len(m.Spare) > 0 {
		how += " Left over: " + strings.Join(m.Spare, ", ") + "."
	}
	return how
}

func (b *book) serial(shop string) string {
	if b.plan.Build != nil && shop != "" {
		for _, r := range b.plan.Build.Received {
			if r.Shop == shop {
				return r.Serial
			}
		}
	}
	return ""
}

// received sets the incoming inspection.
func (b *book) received() {
	b.Section("Modules received", "", 1, 25)
	if b.plan.Build == nil || len(b.plan.Build.Received) == 0 {
		b.Para("No received modules are entered in the plan's build record.")
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "workshop number"}, {Head: "serial number"}, {Head: "type"}, {Head: "cells, V least"}, {Head: "V most"}, {Head: "milliohm", Right: true}, {Head: "Ah", Right: true}, {Head: "inspected"}, {Head: "remark"}}}
	for _, r := range b.plan.Build.Received {
		lo, hi := spread(r.CellsV)
		note := r.Note
		if r.Refused {
			note = "REFUSED. " + note
		}
		t.Rows = append(t.Rows, page.Row(r.Shop, r.Serial, r.Module, lo, hi, b.orNothing(r.MilliOhm, ""), b.orNothing(r.CapacityAh, ""), fmt.Sprint(r.Date, " ", r.By), note))
	}
	b.Table(t)
}

func spread(vs []float64) (least, most string) {
	if len(vs) == 0 {
		return "", ""
	}
	s := append([]float64(nil), vs...)
	sort.Float64s(s)
	return fixed(s[0], 3), fixed(s[len(s)-1], 3)
}
