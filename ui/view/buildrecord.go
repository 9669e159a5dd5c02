package view

import (
	"fmt"
	"slices"
	"strings"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// received are the modules of the build record as they arrived.
func received(p *layout.Plan) []layout.Received {
	if p.Build == nil {
		return nil
	}
	return p.Build.Received
}

// ReceivedPage lists what the incoming inspection has to say, and every module received.
func (m *Model) ReceivedPage(width float64, fonts *paint.Fonts) *Page {
	w := newWriter(width, fonts)
	w.y = 8
	rs := received(m.plan)
	if len(rs) == 0 {
		w.wrapped(w.pad, width-w.pad, RoleFaint, 12.5, "No module was received yet. Import a table of them (CSV): its first line names the columns. Needed are shop_number and module; serial, date, by, cells_v (voltages with blanks between), milliohm, capacity_ah, note and refused (yes or no) may be there too.", 0)
		return w.done()
	}
	w.remarks(assembly.Inspect(m.scene))
	w.head("Modules received")
	cols := []gridColumn{{"shop number", 10, false}, {"maker's serial", 14, false}, {"type", 14, false}, {"cells, V", 13, true}, {"spread, mV", 9, true},
		{"mΩ", 7, true}, {"Ah", 7, true}, {"inspected", 14, false}, {"remark", 20, false}}
	w.gridHeads(cols)
	for _, r := range rs {
		top := w.y
		note, role := r.Note, RoleBody
		if r.Refused {
			note, role = "× REFUSED. "+note, RoleBad
		}
		cells, spread := cellWords(r.CellsV)
		w.grid(cols, role, r.Shop, r.Serial, r.Module, cells, spread, measured(r.MilliOhm), measured(r.CapacityAh), strings.TrimSpace(r.Date+" "+r.By), note)
		w.row(top, "received "+r.Shop, note)
	}
	w.y += 8
	return w.done()
}

// remarks sets what the inspection has to say, the gravest first.
func (w *writer) remarks(rs []assembly.Remark) {
	w.head("What the inspection and the register say")
	if len(rs) == 0 {
		w.wrapped(w.pad, w.w-w.pad, RoleGood, 12, "+ Nothing stands out against limits and spread.", 0)
		return
	}
	for _, grade := range []check.Severity{check.Fails, check.Warns, check.Notes} {
		for _, r := range rs {
			if r.Grade != string(grade) {
				continue
			}
			s := severitySigns[grade]
			w.text(w.pad, w.y+9, s.role, 12, drawing.West, s.sign)
			w.wrapped(w.pad+16, w.w-w.pad, RoleBody, 12, r.Text, 0)
			w.wrapped(w.pad+16, w.w-w.pad, RoleFaint, 11, string(grade)+" · "+r.Of+" · "+r.Source, 0)
			w.y += 4
		}
	}
}

func cellWords(vs []float64) (cells, spread string) {
	if len(vs) == 0 {
		return "not measured", ""
	}
	lo, hi := slices.Min(vs), slices.Max(vs)
	return fmt.Sprintf("%.3f to %.3f", lo, hi), fmt.Sprintf("%.0f", 1000*(hi-lo))
}

func measured(v float64) string {
	if v == 0 {
		return "–"
	}
	return Number(v, 2)
}

// MatchingPage shows which received module is proposed for which slot; nil stands for one not known yet.
func (m *Model) MatchingPage(width float64, fonts *paint.Fonts, x *assembly.Matching) *Page {
	if x == nil {
		return Note(width, fonts, "Bringing like modules together …")
	}
	w := newWriter(width, fonts)
	w.y = 8
	for _, s := range matchingWords(x) {
		w.wrapped(w.pad, width-w.pad, RoleBody, 12, s, 0)
	}
	w.head("Strings")
	cols := []gridColumn{{"string", 14, false}, {"least Ah", 10, true}, {"most Ah", 10, true}, {"least mΩ", 10, true}, {"most mΩ", 10, true}, {"sum mΩ", 10, true}, {"", 30, false}}
	w.gridHeads(cols)
	for _, g := range x.Groups {
		w.grid(cols, "", g.String, measured(g.LeastAh), measured(g.MostAh), measured(g.LeastMilliOhm), measured(g.MostMilliOhm), measured(g.SumMilliOhm), "")
	}
	w.head("Slots")
	cols = []gridColumn{{"slot", 20, false}, {"proposed", 14, false}, {"sits there now", 14, false}, {"", 50, false}}
	w.gridHeads(cols)
	now, warned := assembly.Register(m.plan.Build, m.arrangement), m.warned()
	for _, s := range x.Slots {
		is, what := now[s.Slot].Shop, "to be put in"
		switch is {
		case s.Shop:
			what = "as it is"
		case "":
			is = "empty"
		default:
			what = "another one than it holds"
		}
		role := RoleBody
		if text := warned[s.Shop]; text != "" {
			what, role = what+"; ! "+text, RoleNear
		}
		w.grid(cols, role, s.Slot, s.Shop, is, what)
	}
	w.y += 8
	return w.done()
}

// warned is what the inspection warns of, by shop number or slot.
func (m *Model) warned() map[string]string {
	out := map[string]string{}
	for _, r := range assembly.Inspect(m.scene) {
		if r.Grade == string(check.Warns) {
			out[r.Of] = r.Text
		}
	}
	return out
}

// matchingWords say how good a proposal is, and what it leaves open.
func matchingWords(x *assembly.Matching) []string {
	out := []string{"Each string gets modules of like capacity, and in it of like resistance."}
	if x.Proved() {
		out[0] += fmt.Sprintf(" Proved: squared deviations from the strings' means %.4g, and no other assignment to these means has less.", x.Cost)
	} else {
		out[0] += fmt.Sprintf(" Best found: squared deviations from the strings' means %.4g; no assignment to these means has less than %.4g.", x.Cost, x.Bound)
	}
	if x.Blind > 0 {
		out = append(out, fmt.Sprintf("%d with neither capacity nor resistance measured: counted as the mean.", x.Blind))
	}
	if len(x.Spare) > 0 {
		out = append(out, "Left over: "+strings.Join(x.Spare, ", ")+".")
	}
	return out
}

// Proposed are the entries that a proposal adds to the register; what sits where it is proposed stays as it is.
// others counts the slots that hold another module: those get a later entry, which replaces the one before.
func Proposed(x *assembly.Matching, b *layout.Build, date, by string) (more []layout.Slot, others int) {
	if len(x.Slots) == 0 {
		return nil, 0
	}
	now := assembly.Register(b, x.Slots[0].Arrangement)
	for _, s := range x.Slots {
		have, is := now[s.Slot]
		if is && have.Shop == s.Shop {
			continue
		}
		if is {
			others++
			s.Reason = "matched anew; held " + have.Shop + " before"
		}
		s.Date, s.By = date, by
		more = append(more, s)
	}
	return more, others
}

// RegisterPage shows which module sits in which slot, and what sat there before. A row's key is "slot " and the slot.
func (m *Model) RegisterPage(width float64, fonts *paint.Fonts) *Page {
	w := newWriter(width, fonts)
	w.y = 8
	in, all := m.filled(), m.entries()
	w.wrapped(w.pad, width-w.pad, RoleBody, 12, fmt.Sprintf("%d of %d slots of %s filled. Click one to enter a module; entries are appended, and none is ever overwritten.", len(in), m.scene.Count(), m.Arrangement().Name), 0)
	w.y += 4
	cols := []gridColumn{{"slot", 18, false}, {"module type", 18, false}, {"shop number", 14, false}, {"maker's serial", 16, false}, {"put in by", 14, false}, {"date", 12, false}, {"entries", 8, true}}
	w.gridHeads(cols)
	m.scene.Bodies(func(_ *layout.BoxScene, b *layout.Body) {
		top, s := w.y, in[b.ID]
		w.grid(cols, "", b.ID, b.Module.Name, or(s.Shop, "empty"), m.serial(s.Shop), s.By, s.Date, fmt.Sprint(len(all[b.ID])))
		w.row(top, "slot "+b.ID, b.ID+": click to enter a module")
	})
	w.replaced(m.scene, all)
	w.y += 8
	return w.done()
}

// filled are the entries that count, by the slots there are; slots that were taken out of the plan since are not among them.
func (m *Model) filled() map[string]layout.Slot {
	in, out := assembly.Register(m.plan.Build, m.arrangement), map[string]layout.Slot{}
	m.scene.Bodies(func(_ *layout.BoxScene, b *layout.Body) {
		if s, ok := in[b.ID]; ok {
			out[b.ID] = s
		}
	})
	return out
}

// entries are those of the register by slot, in their order.
func (m *Model) entries() map[string][]layout.Slot {
	if m.plan.Build == nil {
		return nil
	}
	out := map[string][]layout.Slot{}
	for _, s := range m.plan.Build.Slots {
		if s.Arrangement == m.arrangement {
			out[s.Slot] = append(out[s.Slot], s)
		}
	}
	return out
}

func (m *Model) serial(shop string) string {
	for _, r := range received(m.plan) {
		if r.Shop == shop && shop != "" {
			return r.Serial
		}
	}
	return ""
}

// replaced sets the entries that took the place of others.
func (w *writer) replaced(scene *layout.Scene, entries map[string][]layout.Slot) {
	var cols []gridColumn
	scene.Bodies(func(_ *layout.BoxScene, b *layout.Body) {
		for i, s := range entries[b.ID] {
			if i == 0 {
				continue
			}
			if cols == nil {
				w.head("Replacements")
				cols = []gridColumn{{"slot", 18, false}, {"shop number", 14, false}, {"in place of", 14, false}, {"put in by", 14, false}, {"date", 12, false}, {"why", 30, false}}
				w.gridHeads(cols)
			}
			w.grid(cols, "", s.Slot, s.Shop, entries[b.ID][i-1].Shop, s.By, s.Date, or(s.Reason, "not stated"))
		}
	})
}

// FreeFor are the shop numbers of the modules that can go into a slot: received, of its type, not refused, and sitting
// in no slot of the arrangement.
func (m *Model) FreeFor(slot string) []string {
	body := m.scene.Body(slot)
	if body == nil {
		return nil
	}
	sits := map[string]bool{}
	for _, s := range m.filled() {
		sits[s.Shop] = true
	}
	var out []string
	for _, r := range received(m.plan) {
		if r.Module == body.Module.ID && !r.Refused && !sits[r.Shop] {
			out = append(out, r.Shop)
		}
	}
	return out
}

// Sits is the entry that counts for a slot, and whether there is one.
func (m *Model) Sits(slot string) (layout.Slot, bool) {
	s, ok := assembly.Register(m.plan.Build, m.arrangement)[slot]
	return s, ok
}

// AppendToBuild adds entries to the end of the build record in one step.
func (m *Model) AppendToBuild(text string, more layout.Build) error {
	return m.Do(func(*layout.Plan, string) (layout.Edit, error) { return &layout.Append{Text: text, Entries: more}, nil })
}
