package report

import (
	"fmt"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/report/page"
)

// joint is one bolted joint of a check sheet.
type joint struct {
	id, what, thread string
	torqueNm         float64 // 0: not stated
	source           string
}

// mechanicalJoints are the bolts that hold a box in the vehicle. A torque that the plan leaves open is computed
// from the bolt.
func mechanicalJoints(e *check.Evaluation, box *layout.BoxScene) []joint {
	var out []joint
	held := e.Restraint.Of(box.Box.ID)
	for i := range box.Box.Feet {
		f := &box.Box.Feet[i]
		torque, from := f.TorqueNm, "plan"
		if held != nil && i < len(held.Feet) && torque == 0 {
			torque, from = held.Feet[i].TorqueNm, torqueFrom(&held.Feet[i])
		}
		for k := range max(f.Bolts, 1) {
			id := fmt.Sprintf("%s/%s", box.Box.ID, f.ID)
			if f.Bolts > 1 {
				id += fmt.Sprintf("/%d", k+1)
			}
			out = append(out, joint{id, "foot bolt", f.Bolt + " " + f.Class, torque, from})
		}
	}
	return out
}

// electricalJoints are the power terminals in a box.
func electricalJoints(box *layout.BoxScene) []joint {
	var out []joint
	for _, m := range box.Modules {
		for _, t := range m.Terminals {
			out = append(out, joint{m.ID + "/" + t.ID, "module terminal, " + t.Polarity, t.Bolt, t.TorqueNm, "module maker"})
		}
	}
	for _, g := range box.Gear {
		for _, t := range g.Terminals {
			out = append(out, joint{g.ID + "/" + t.ID, words(g.Gear.Kind) + " terminal", t.Bolt, t.TorqueNm, "gear maker"})
		}
	}
	return out
}

// checkSheets sets a sheet a box to be filled in at the bench.
func (b *book) checkSheets() {
	done := signed(b.plan)
	for i, box := range b.e.Scene.Boxes {
		if i > 0 {
			b.Upright()
		}
		b.Section(boxTitle(box.Box), "", 2, 40)
		b.Para("Filled in at the bench: who tightened and who checked are two people. A torque that is not stated has to come from the maker's data before the joint is made.")
		b.Section("Mechanical", "", -1, 20)
		b.joints(mechanicalJoints(b.e, box), done, "no feet are drawn for this box")
		b.Small("Torques that the plan leaves open are for 75 % of the proof load with plain dry threads. The threads' state in hand decides: oil or plating asks for less.")
		b.Section("Electrical", "", -1, 20)
		b.joints(electricalJoints(box), done, "nothing with power terminals is in this box")
		b.boxTests(box.Box.ID)
	}
}

// signed are the joints that the plan's build record has, by their ids; a later entry replaces the one before.
func signed(p *layout.Plan) map[string]layout.Signed {
	out := map[string]layout.Signed{}
	if p.Build != nil {
		for _, s := range p.Build.Signed {
			out[s.Joint] = s
		}
	}
	return out
}

func (b *book) joints(js []joint, signed map[string]layout.Signed, none string) {
	if len(js) == 0 {
		b.Para("No joints: " + none + ".")
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "joint", MM: 42}, {Head: "what"}, {Head: "thread", MM: 16}, {Head: "torque, " + b.unit("N m"), Right: true, MM: 20}, {Head: "tightened by", MM: 24}, {Head: "checked by", MM: 24}, {Head: "date", MM: 20}}}
	for _, j := range js {
		s := signed[j.id]
		t.Rows = append(t.Rows, page.Row(j.id, j.what, or(j.thread, "not stated"), b.torque(j.torqueNm), s.Tightened, s.Checked, s.Date))
	}
	b.Table(t)
}

func (b *book) torque(nm float64) string {
	if nm <= 0 {
		return "not stated"
	}
	return b.num(nm, "N m")
}

// tests are what is checked on a closed box. Common practice, no source.
var tests = []struct{ kind, words string }{
	{"insulation", "Insulation resistance between each pole and the box"},
	{"bonding", "Bonding of lid and box to the chassis"},
	{"seal", "Lid seal whole, all lid bolts in"},
	{"vent", "Vent clear and led outside"},
	{"drain", "Drain clear"},
	{"pilot", "Pilot loop opens with the lid and with each connector"},
}

func (b *book) boxTests(box string) {
	b.Section("Tests of the closed box", "", -1, 30)
	t := page.Table{Columns: []page.Column{{Head: "test"}, {Head: "result", MM: 30}, {Head: "tested by", MM: 30}, {Head: "date", MM: 22}}}
	for _, k := range tests {
		row := page.Row(k.words, "", "", "")
		if b.plan.Build != nil {
			for _, d := range b.plan.Build.Tests {
				if d.Box == box && d.Kind == k.kind {
					row = page.Row(k.words, trim(d.Value)+" "+d.Unit+resultWords(d.Passed), d.By, d.Date)
				}
			}
		}
		t.Rows = append(t.Rows, row)
	}
	b.Table(t)
}

func resultWords(passed bool) string {
	if passed {
		return ", called passed"
	}
	return ", not passed"
}
