package report

import (
	"stowbay/layout/mass"
	"stowbay/layout/report/page"
)

// loadCases sets wheel and axle loads, stability and payload for each load case, the donor's beneath.
func (b *book) loadCases() {
	cs := b.e.Mass.Cases
	if len(cs) == 0 {
		b.Para("No load cases: the plan's donor is not known or its survey cannot be used.")
		return
	}
	b.stateTable(cs)
	b.stabilityTable(cs)
	if c := b.axleChart(); c != nil {
		b.Figure(c, page.Figure{MM: 30, Fill: true, Bare: true})
	}
	b.loadLists(cs)
}

func (b *book) stateTable(cs []mass.Case) {
	b.Heading("Loads on wheels and axles, " + b.unit("kg"))
	t := page.Table{Columns: []page.Column{{Head: "load case"}, {Head: "vehicle"}, {Head: "mass", Right: true}, {Head: "front left", Right: true}, {Head: "front right", Right: true}, {Head: "rear left", Right: true}, {Head: "rear right", Right: true},
		{Head: "front axle", Right: true}, {Head: "rear axle", Right: true}, {Head: "front %", Right: true}, {Head: "right of even, points", Right: true}, {Head: "payload left", Right: true}}}
	for _, c := range cs {
		row := append(page.Row(c.Name, "converted"), b.stateCells(c.Now)...)
		t.Rows = append(t.Rows, append(row, page.Cell{S: b.pm(c.PayloadLeft)}))
		t.Rows = append(t.Rows, append(page.Row("", "donor"), b.stateCells(c.Donor)...))
	}
	b.Table(t)
	if d := b.e.Scene.Donor; d != nil {
		b.Small("Ratings: front axle " + b.text(d.Ratings.FrontAxleKg, "kg") + ", rear axle " + b.text(d.Ratings.RearAxleKg, "kg") + ", gross mass " + b.text(d.Ratings.GrossKg, "kg") + ".")
	}
}

func (b *book) stateCells(s mass.State) []page.Cell {
	var out []page.Cell
	for _, f := range []mass.Figure{s.Body.Kg, s.FrontLeft, s.FrontRight, s.RearLeft, s.RearRight, s.Front, s.Rear} {
		out = append(out, page.Cell{S: b.pm(f)})
	}
	return append(out, page.Row(fixed(s.FrontSharePct.Value, 1), fixed(s.SidePct.Value, 1))...)
}

// pm is a mass with its uncertainty, without the unit.
func (b *book) pm(f mass.Figure) string {
	return fixed(b.value(f.Value, "kg"), 0) + " ± " + fixed(b.value(f.PlusMinus, "kg"), 0)
}

func (b *book) stabilityTable(cs []mass.Case) {
	b.Heading("Centre of gravity and stability")
	mm := ", " + b.unit("mm")
	t := page.Table{Columns: []page.Column{{Head: "load case"}, {Head: "vehicle"}, {Head: "x" + mm, Right: true}, {Head: "y" + mm, Right: true}, {Head: "z" + mm, Right: true}, {Head: "static stability factor", Right: true},
		{Head: "tips on a side slope of, °", Right: true}, {Head: "climbs, °", Right: true}, {Head: "descends, °", Right: true}, {Head: "braking front, " + b.unit("kg"), Right: true}, {Head: "braking rear, " + b.unit("kg"), Right: true}, {Head: "at g", Right: true}}}
	for _, c := range cs {
		t.Rows = append(t.Rows, append(page.Row(c.Name, "converted"), b.stabilityCells(c.Now)...), append(page.Row("", "donor"), b.stabilityCells(c.Donor)...))
	}
	b.Table(t)
}

func (b *book) stabilityCells(s mass.State) []page.Cell {
	return page.Row(b.place0(s.Body.X.Value), b.place0(s.Body.Y.Value), b.place0(s.Body.Z.Value), fixed(s.SSF.Value, 2)+" ± "+fixed(s.SSF.PlusMinus, 2),
		fixed(s.TiltDeg.Value, 1), fixed(s.ClimbDeg.Value, 1), fixed(s.DescendDeg.Value, 1),
		fixed(b.value(s.BrakingFront.Value, "kg"), 0), fixed(b.value(s.BrakingRear.Value, "kg"), 0), trim(s.BrakingG))
}

// loadLists says what each load case carries.
func (b *book) loadLists(cs []mass.Case) {
	b.Heading("What is on board")
	kg, mm := ", "+b.unit("kg"), ", "+b.unit("mm")
	t := page.Table{Columns: []page.Column{{Head: "load case"}, {Head: "load"}, {Head: "mass" + kg, Right: true}, {Head: "x" + mm, Right: true}, {Head: "y" + mm, Right: true}, {Head: "z" + mm, Right: true}, {Head: "remark"}}}
	for _, c := range cs {
		if len(c.Loads) == 0 {
			t.Rows = append(t.Rows, page.Row(c.Name, "nothing", "", "", "", "", c.Remark))
		}
		for i, l := range c.Loads {
			name, remark := "", ""
			if i == 0 {
				name, remark = c.Name, c.Remark
			}
			t.Rows = append(t.Rows, page.Row(name, l.Name, b.mass1(l.Kg), b.place0(l.At.X), b.place0(l.At.Y), b.place0(l.At.Z), remark))
		}
	}
	b.Table(t)
}
