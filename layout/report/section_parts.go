package report

import (
	"fmt"
	"sort"

	"stowbay/layout/check"
	"stowbay/layout/report/page"
)

// part is one line of the parts list.
type part struct {
	kind, name, id string
	count          int
	kg, price      float64 // of one; 0: not stated
	note           string
}

// parts are what has to be bought or made for an arrangement: modules, gear, boxes, conductors, bolts.
func parts(e *check.Evaluation) []part {
	var out []part
	at := map[string]int{}
	add := func(p part) {
		key := p.kind + "\x00" + p.id + "\x00" + p.note
		if i, ok := at[key]; ok {
			out[i].count += p.count
			return
		}
		at[key] = len(out)
		out = append(out, p)
	}
	for _, box := range e.Scene.Boxes {
		for _, m := range box.Modules {
			add(part{kind: "module", name: m.Module.Name, id: m.Module.ID, count: 1, kg: m.Module.MassKg, price: m.Module.Price})
		}
	}
	for _, box := range e.Scene.Boxes {
		for _, g := range box.Gear {
			add(part{kind: words(g.Gear.Kind), name: g.Gear.Name, id: g.Gear.ID, count: 1, kg: g.Gear.MassKg, price: g.Gear.Price})
		}
	}
	for _, g := range e.Scene.Gear {
		add(part{kind: words(g.Gear.Kind), name: g.Gear.Name, id: g.Gear.ID, count: 1, kg: g.Gear.MassKg, price: g.Gear.Price})
	}
	for _, m := range e.Mass.Boxes {
		add(part{kind: "box", name: "sheet box with lid, feet and liner", id: m.ID, count: 1, kg: m.SheetKg, note: "see the cut list"})
	}
	for _, p := range conductorParts(e) {
		add(p)
	}
	for _, p := range boltParts(e) {
		add(p)
	}
	return out
}

// conductorParts are the lengths of cable by section.
func conductorParts(e *check.Evaluation) []part {
	type sum struct{ mm, kg float64 }
	by := map[[2]string]*sum{}
	for _, c := range e.Electric.Cables {
		k := [2]string{c.Kind, trim(c.SectionMM2)}
		if by[k] == nil {
			by[k] = &sum{}
		}
		by[k].mm += c.LengthMM
		by[k].kg += c.MassKg
	}
	var out []part
	for k, s := range by {
		name := "traction cable, orange"
		if k[0] == "links" {
			name = "links between modules"
		}
		out = append(out, part{kind: "conductor", name: name, id: k[1] + " mm² copper", count: 1, kg: s.kg, note: fmt.Sprintf("%.2f m along the computed routes", s.mm/1000)})
	}
	sort.Slice(out, func(i, j int) bool { return out[i].name+out[i].id < out[j].name+out[j].id })
	return out
}

// boltParts are the foot bolts by thread and class.
func boltParts(e *check.Evaluation) []part {
	var out []part
	for _, box := range e.Scene.Boxes {
		for i := range box.Box.Feet {
			f := &box.Box.Feet[i]
			out = append(out, part{kind: "bolt", name: "foot bolt with nut and washers", id: f.Bolt + " " + f.Class, count: max(f.Bolts, 1)})
		}
	}
	return out
}

// partsList sets the list of parts with what they weigh and cost.
func (b *book) partsList() {
	ps := parts(b.e)
	if len(ps) == 0 {
		b.Para("Nothing is placed in this arrangement yet.")
		return
	}
	money := or(b.plan.Settings.Money, "money")
	t := page.Table{Total: true, Columns: []page.Column{{Head: "kind"}, {Head: "part"}, {Head: "id"}, {Head: "pieces", Right: true}, {Head: b.unit("kg") + " each", Right: true}, {Head: b.unit("kg"), Right: true}, {Head: money + " each", Right: true}, {Head: money, Right: true}, {Head: "note"}}}
	kg, price, unpriced := 0.0, 0.0, 0
	for _, p := range ps {
		n := float64(p.count)
		kg, price = kg+n*p.kg, price+n*p.price
		if p.price == 0 {
			unpriced++
		}
		t.Rows = append(t.Rows, page.Row(p.kind, p.name, p.id, fmt.Sprint(p.count), b.orNothing(p.kg, "kg"), b.orNothing(n*p.kg, "kg"), b.orNothing(p.price, ""), b.orNothing(n*p.price, ""), p.note))
	}
	t.Rows = append(t.Rows, page.Row("all", "", "", "", "", b.mass1(kg), "", b.orNothing(price, ""), ""))
	b.Table(t)
	if unpriced > 0 {
		b.Small(fmt.Sprintf("%d lines have no price; the sum leaves them out. Small parts (lugs, covers, seal, glands, sealant) are not listed.", unpriced))
	}
}

// orNothing is a figure, or nothing where it is not stated.
func (b *book) orNothing(v float64, unit string) string {
	if v == 0 {
		return ""
	}
	return fixed(b.value(v, unit), 2)
}
