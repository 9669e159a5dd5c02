package report

import (
	"fmt"
	"sort"

	"stowbay/layout"
	"stowbay/layout/report/page"
)

// register sets which received module sits in which slot, with room to write where none is entered.
func (b *book) register() {
	in := b.latestSlots()
	for i, e := range b.es {
		b.e, b.n = e, i+1
		b.Section(e.Arrangement.Name, "", 1, 30)
		if e.Scene.Count() == 0 {
			b.Para("No modules are placed.")
			continue
		}
		t := page.Table{Columns: []page.Column{{Head: "slot"}, {Head: "module type"}, {Head: "in the string"}, {Head: "workshop number", MM: 28}, {Head: "maker's serial number", MM: 36}, {Head: "put in by", MM: 22}, {Head: "date", MM: 19}}}
		at := stringPlaces(e.Electric)
		e.Scene.Bodies(func(_ *layout.BoxScene, m *layout.Body) {
			s := in[e.Arrangement.ID+" "+m.ID]
			t.Rows = append(t.Rows, page.Row(m.ID, m.Module.ID, at[m.ID], s.Shop, b.serial(s.Shop), s.By, s.Date))
		})
		b.Table(t)
	}
	b.e = nil
	b.received()
}

// latestSlots are the slots' modules; a later entry replaces the one before.
func (b *book) latestSlots() map[string]layout.Slot {
	out := map[string]layout.Slot{}
	if b.plan.Build != nil {
		for _, s := range b.plan.Build.Slots {
			out[s.Arrangement+" "+s.Slot] = s
		}
	}
	return out
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
