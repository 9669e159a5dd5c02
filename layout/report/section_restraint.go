package report

import (
	"fmt"

	"stowbay/layout/report/page"
	"stowbay/layout/restraint"
)

// mounting sets what holds each box: the accelerations it is compared with, and the load of each foot against what
// its bolts, plate, frame and weld bear.
func (b *book) mounting() {
	r := b.e.Restraint
	if !r.Chosen {
		b.Para("The plan's settings choose no set of accelerations, and none is assumed: what the feet carry is not computed. Choose the set that the local code or the inspector asks for.")
	} else {
		b.Facts([][2]string{{"Set of accelerations", r.Set.Name}, {"Source", r.Set.Source}, {"How well its numbers are known", string(r.Set.Known)}}, 1)
	}
	for _, x := range r.Boxes {
		b.boxMounting(x)
	}
	b.Small("A rigid box on elastic bolts; contact, friction and preload are not counted on. Resistances of EN 1993-1-8 with its recommended partial factors. " +
		"Used: load over resistance, 100 % is all of it. A qualified person has to judge welds, frame and structure.")
}

func (b *book) boxMounting(x *restraint.Box) {
	b.Section(boxTitle(x.Scene.Box), "", 2, 30)
	if !x.Held {
		b.Para("The feet drawn leave the box a way to move: it takes three bolts or more that are not on one line.")
	}
	b.footTable(x)
	if p, ok := x.Governing(); ok {
		b.Para(fmt.Sprintf("Used up most: the %s of foot %s, thrown %s at %s g: %s %%. %s", p.Mode, p.Load.Foot.ID, p.Case.Direction, trim(p.Case.G), fixed(100*p.Use.Ratio, 0), x.Remedy(p)))
	}
	b.caseTable(x)
}

func (b *book) footTable(x *restraint.Box) {
	if len(x.Feet) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "foot"}, {Head: "bolts"}, {Head: "torque, " + b.unit("N m"), Right: true}, {Head: "torque from"}, {Head: "preload, " + b.unit("kN"), Right: true}, {Head: "bolted to"}, {Head: "metal there, " + b.unit("mm"), Right: true}}}
	for i := range x.Feet {
		f := &x.Feet[i]
		t.Rows = append(t.Rows, page.Row(f.ID, boltWords(f.Foot), b.torque(f.TorqueNm), torqueFrom(f), b.num(f.PreloadN/1000, "kN"), railWords(f), b.orNothing(f.FrameMM, "mm")))
	}
	b.Table(t)
}

func torqueFrom(f *restraint.Foot) string {
	if f.Stated {
		return "the plan"
	}
	return "75 % of the proof load, plain dry threads (K 0.20)"
}

func railWords(f *restraint.Foot) string {
	if f.Rail == nil {
		return "no surveyed frame member"
	}
	return or(f.Rail.Name, f.Rail.ID)
}

// caseTable sets, for each direction, what each foot carries and what is used up most of it.
func (b *book) caseTable(x *restraint.Box) {
	if len(x.Cases) == 0 {
		return
	}
	n := ", " + b.unit("kN")
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "thrown"}, {Head: "g", Right: true}, {Head: "foot"}, {Head: "pull" + n, Right: true}, {Head: "shear" + n, Right: true}, {Head: "bolt's pull" + n, Right: true}, {Head: "bolt's shear" + n, Right: true}, {Head: "used up most"}, {Head: "used, %", Right: true}}}
	for i := range x.Cases {
		c := &x.Cases[i]
		for k := range c.Feet {
			l := &c.Feet[k]
			m, u := l.Worst()
			used := page.Cell{S: fixed(100*u.Ratio, 0)}
			if u.Ratio > 1 {
				used.S, used.Tone, used.Bold = used.S+", over", page.Bad, true
			}
			row := page.Row(string(c.Direction), trim(c.G), l.Foot.ID, b.kn(l.PullN), b.kn(l.ShearN), b.kn(l.BoltPullN), b.kn(l.BoltShearN), m.String())
			t.Rows = append(t.Rows, append(row, used))
		}
	}
	b.Table(t)
}

func (b *book) kn(newton float64) string { return fixed(b.value(newton/1000, "kN"), 2) }
