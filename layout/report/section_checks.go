package report

import (
	"fmt"

	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/report/page"
)

// sheetsOf are the check sheets of an arrangement. A foot's torque that the plan leaves open is computed from the bolt.
func sheetsOf(e *check.Evaluation) []assembly.CheckSheet {
	return assembly.CheckSheets(e.Scene, func(box string, foot int) (float64, string) {
		held := e.Restraint.Of(box)
		if held == nil || foot >= len(held.Feet) {
			return 0, ""
		}
		return held.Feet[foot].TorqueNm, torqueFrom(&held.Feet[foot])
	})
}

// checkSheets sets a sheet a box to be filled in at the bench.
func (b *book) checkSheets() {
	for i, s := range sheetsOf(b.e) {
		if i > 0 {
			b.Upright()
		}
		b.Section(boxTitle(s.Box.Box), "", 2, 40)
		b.Para("Filled in at the bench: who tightened and who checked are two people. A torque that is not stated has to come from the maker's data before the joint is made.")
		b.Heading("Mechanical")
		b.joints(s.Mechanical, "no feet are drawn for this box")
		b.Small("Torques that the plan leaves open are for 75 % of the proof load with plain dry threads. The threads' state in hand decides: oil or plating asks for less.")
		b.Heading("Electrical")
		b.joints(s.Electrical, "nothing with power terminals is in this box")
		b.boxTests(s.Tests)
		b.photos(s)
		b.Facts([][2]string{{"Finished and checked by, with date", ""}, {"Signed", ""}}, 2)
	}
}

func (b *book) joints(rows []assembly.TorqueRow, none string) {
	if len(rows) == 0 {
		b.Para("No joints: " + none + ".")
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "joint", MM: 42}, {Head: "what"}, {Head: "thread", MM: 16}, {Head: "torque, " + b.unit("N m"), Right: true, MM: 20}, {Head: "tightened by", MM: 24}, {Head: "checked by", MM: 24}, {Head: "date", MM: 20}}}
	for _, r := range rows {
		t.Rows = append(t.Rows, page.Row(r.ID, r.What, or(r.Thread, "not stated"), b.torque(r.TorqueNm), b.doneWords(r), r.Checked, r.Date))
	}
	b.Table(t)
}

// doneWords say who tightened a joint, and to what where that differs from what was asked.
func (b *book) doneWords(r assembly.TorqueRow) string {
	if r.DoneNm <= 0 || r.DoneNm == r.TorqueNm {
		return r.Tightened
	}
	return fmt.Sprintf("%s, to %s", r.Tightened, b.text(r.DoneNm, "N m"))
}

func (b *book) torque(nm float64) string {
	if nm <= 0 {
		return "not stated"
	}
	return b.num(nm, "N m")
}

func (b *book) boxTests(rows []assembly.TestRow) {
	b.Heading("Tests of the closed box")
	t := page.Table{Columns: []page.Column{{Head: "test"}, {Head: "result", MM: 30}, {Head: "tested by", MM: 30}, {Head: "date", MM: 22}}}
	for _, r := range rows {
		t.Rows = append(t.Rows, page.Row(r.Words, r.Result, r.By, r.Date))
	}
	b.Table(t)
}

// photos lists the photographs that go with a box by their files.
func (b *book) photos(s assembly.CheckSheet) {
	if len(s.Photos) == 0 {
		b.Para("Photographs: none entered for this box.")
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "photograph"}, {Head: "shows"}}}
	for _, p := range s.Photos {
		t.Rows = append(t.Rows, page.Row(p.File, p.Note))
	}
	b.Table(t)
}
