package view

import (
	"fmt"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// Stage is one of the five steps from the donor to the report: what it is about, whether it is done in the arrangement
// shown, how it stands, and what can be done about it.
type Stage struct {
	Name, Text, Stands string
	Done               bool
	Acts               []StageAct
}

// StageAct is something to do in a stage: a key that stands for it and its name.
type StageAct struct{ Key, Name string }

// Stages are the five steps for the arrangement shown; reported says whether a report of it was written.
func (m *Model) Stages(reported bool) []Stage {
	a := m.Arrangement()
	counts := m.eval.Counts()
	gear := len(a.Gear)
	for _, b := range a.Boxes {
		gear += len(b.Gear)
	}
	return []Stage{
		{"Survey", "Bays, keep-outs and wheel loads of the donor. Draw over a photograph what is missing, or measure.",
			fmt.Sprintf("%s, %s", many(len(a.Bays), "bay"), many(len(m.scene.KeepOuts), "keep-out")), len(a.Bays) > 0,
			[]StageAct{{"bay", "Draw a bay"}, {"keepout", "Draw a keep-out"}, {"underlay", "Lay a picture under a view"}, {"donor", "Look at the donor"}}},
		{"Boxes", "A box for each bay, at the bay's clearance, or one drawn by hand.",
			many(len(a.Boxes), "box"), len(a.Boxes) > 0,
			[]StageAct{{"boxbay", "Box for the bay picked"}, {"drawbox", "Draw a box"}}},
		{"Modules and gear", "The most modules that fit, with proof, or placed by hand; then fuses, contactors, disconnects.",
			fmt.Sprintf("%s, %s", many(m.scene.Count(), "module"), many(gear, "piece")+" of gear"), m.scene.Count() > 0,
			[]StageAct{{"pack", "Pack modules"}, {"stores", "Choose from the stores"}, {"strings", "Series and parallel"}, {"settings", "Inverter, charger, limits"}}},
		{"Readings and findings", "What fails first. Every reading and finding opens; duplicate the arrangement to try another way.",
			fmt.Sprintf("%d fail, %d warn", counts[check.Fails], counts[check.Warns]), m.scene.Count() > 0 && counts[check.Fails] == 0,
			[]StageAct{{"gravest", "Go to the gravest finding"}, {"duparr", "Duplicate the arrangement"}, {"compare", "Compare arrangements"}}},
		{"Report", "For the fabricator, the assembler, the inspector and the owner, with the cautions.",
			map[bool]string{true: "written", false: "not written yet"}[reported], reported,
			[]StageAct{{"report", "Write the report"}, {"print", "Print it"}, {"play", "Go through the steps of assembly"}}},
	}
}

// Guide sets the guide: the five steps, those done ticked, the first one open set off. A row's key is that of an act.
func (m *Model) Guide(width float64, fonts *paint.Fonts, reported bool) *Page {
	w := newWriter(width, fonts)
	w.y = 8
	open := false
	for i, s := range m.Stages(reported) {
		next := !s.Done && !open
		open = open || next
		w.stage(i+1, s, next)
	}
	w.y += 6
	w.wrapped(w.pad, w.w-w.pad, RoleFaint, 10.5, Caution, 0)
	w.y += 8
	return w.done()
}

// stage sets one of the five steps; what can be done is listed for the one that comes next and left short for others.
func (w *writer) stage(n int, s Stage, next bool) {
	top, at := w.y, len(w.page.Items)
	left := w.pad + 30
	w.y += 6
	role := RoleFaint
	if next {
		role = RoleNear
	}
	if s.Done {
		role = RoleGood
		w.line(RoleGood, 2.4, spot(w.pad+3, w.y+10), spot(w.pad+8, w.y+15), spot(w.pad+18, w.y+2))
	} else {
		w.text(w.pad+10, w.y+9, role, 18, drawing.Middle, fmt.Sprint(n))
	}
	w.text(left, w.y+8, RoleName, 13, drawing.West, s.Name)
	w.y += 20
	w.wrapped(left, w.w-w.pad, RoleFaint, 11, s.Stands, 0)
	if next {
		w.wrapped(left, w.w-w.pad, RoleBody, 12, s.Text, 0)
	}
	w.y += 3
	for _, a := range s.Acts {
		from := w.y
		w.text(left, w.y+8, RoleNote, 12, drawing.West, "› "+a.Name)
		w.y += 18
		w.row(from, a.Key, a.Name)
	}
	w.y += 6
	if next {
		w.under(at, top, RoleUnder)
	}
	w.fill(w.pad, w.y-1, w.w-w.pad, w.y, RoleRule)
}
