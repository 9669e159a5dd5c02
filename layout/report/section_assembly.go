package report

import (
	"context"
	"fmt"
	"strings"

	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/report/page"
)

// sequence is the order in which an arrangement's pack is best put together.
func sequence(e *check.Evaluation) (*assembly.Sequence, error) {
	return assembly.Plan(context.Background(), e.Assembly.Model)
}

// assemblySteps sets the order of assembly, what can be bridged in each box, and what stays live.
func (b *book) assemblySteps() {
	r := b.e.Assembly
	if len(b.e.Electric.Strings) == 0 {
		b.Para("No string: there is nothing to put together yet.")
		return
	}
	b.Caution("For people trained and equipped for the voltages stated. Cover whatever is not being worked on; no one works alone; stop when the pack in hand differs from this sheet.")
	l := r.Model.Limits
	b.Facts([][2]string{
		{"Length of a dropped tool or part", b.text(l.ToolMM, "mm")},
		{"Hazardous above", trim(l.TouchV) + " V DC"},
	}, 2)
	b.bridges(r)
	b.liveParts(r)
	b.Figure(livePlan(b.e, b.imperial), page.Figure{MM: 90})
	b.buried(r)
	b.sequence()
	b.service(r.Model)
}

// bridges sets what a dropped part can lie across in each box with its lid off and nothing covered.
func (b *book) bridges(r *assembly.Result) {
	if len(r.Bridges) == 0 {
		return
	}
	b.Heading("What a dropped part can bridge, lid off and nothing covered")
	t := page.Table{Columns: []page.Column{{Head: "box"}, {Head: "pairs within reach", Right: true}, {Head: "of them hazardous", Right: true}, {Head: "covers that remove them", Right: true}, {Head: "at least", Right: true}, {Head: "worst pair"}, {Head: "V", Right: true}, {Head: "apart, " + b.unit("mm"), Right: true}}}
	for i := range r.Bridges {
		x := &r.Bridges[i]
		row := page.Row(x.Box.Box.ID, fmt.Sprint(len(x.Pairs)), fmt.Sprint(x.Hazards), fmt.Sprint(x.Covers), fmt.Sprint(x.LeastCovers), "none", "", "")
		if len(x.Pairs) > 0 {
			p := &x.Pairs[0]
			other := p.Metal
			if p.B != nil {
				other = p.B.ID
			}
			row[5].S, row[6].S, row[7].S = p.A.ID+" and "+other, fixed(p.V, 0), b.place0(p.MM)
		}
		t.Rows = append(t.Rows, row)
	}
	b.Table(t)
}

// liveParts sets the parts into which the pack falls for service and in a crash.
func (b *book) liveParts(r *assembly.Result) {
	b.Heading("Parts that stay joined with contactors open, service links out and box connectors unplugged")
	t := page.Table{Columns: []page.Column{{Head: "string"}, {Head: "boxes"}, {Head: "modules", Right: true}, {Head: "V", Right: true}, {Head: "MJ", Right: true}, {Head: "rule"}, {Head: "removable links it asks for"}}}
	for _, set := range [][]assembly.Breaks{r.Touch, r.Segments} {
		for i := range set {
			x := &set[i]
			t.Rows = append(t.Rows, page.Row(x.Segment.String, boxIDs(x.Segment), fmt.Sprint(len(x.Segment.Members)), fixed(x.Segment.V, 0), fixed(x.Segment.J/1e6, 1), x.Rule.Name, breakWords(x)))
		}
	}
	b.Table(t)
	inertia := "Nothing drops the contactors in a crash: the whole pack stays switched on."
	if r.Crash.Inertia != nil {
		inertia = "In a crash " + r.Crash.Inertia.ID + " drops every contactor; service links stay closed."
	}
	var live []string
	for _, s := range r.Crash.Live {
		live = append(live, fmt.Sprintf("%s in %s at %.0f V", s.String, boxIDs(s), s.V))
	}
	b.Para(inertia + " What stays live then: " + or(strings.Join(live, "; "), "nothing") + ".")
}

func boxIDs(s assembly.Segment) string {
	var ids []string
	for _, x := range s.Boxes {
		ids = append(ids, x.Box.ID)
	}
	return strings.Join(ids, ", ")
}

func breakWords(x *assembly.Breaks) string {
	switch {
	case x.Cannot:
		return "cannot: a single module breaks the rule"
	case x.Holds():
		return "none, it holds"
	case x.Heavy && len(x.After) == 0:
		return "none for the voltage; a single module holds more energy than the rule allows"
	}
	var after []string
	for _, m := range x.After {
		after = append(after, m.Body.ID)
	}
	out := fmt.Sprintf("after %s; then at most %.0f V", strings.Join(after, ", "), x.WorstV)
	if x.Heavy {
		out += "; a single module holds more energy than the rule allows"
	}
	return out
}

func (b *book) buried(r *assembly.Result) {
	if len(r.Buried) == 0 {
		return
	}
	var out []string
	for _, x := range r.Buried {
		out = append(out, x.Conductor.ID+" is made before "+x.Under.ID+" goes in over it, and is out of reach after that.")
	}
	b.Heading("Joints out of reach later")
	b.Bullets(out)
}

// sequence sets the jobs in their order, each with its steps.
func (b *book) sequence() {
	q, err := sequence(b.e)
	if err != nil {
		b.Para("No order of assembly was found: " + err.Error())
		return
	}
	b.Wide()
	b.Section("Order of assembly", "", 2, 30)
	b.Facts([][2]string{
		{"Jobs / steps", fmt.Sprintf("%d / %d", len(q.Jobs), len(q.Steps))},
		{"Steps at a bare hazardous voltage", fmt.Sprintf("%d; no order has fewer than %d", q.HazardSteps, q.LeastSteps)},
		{"Covers taken off and put on", fmt.Sprintf("%d; no order needs fewer than %d", q.CoverChanges, q.LeastCovers)},
		{"Highest voltage between something bare and anything else of its circuit", fixed(q.HighestV, 0) + " V"},
		{"How good the order is", q.How},
	}, 1)
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "job", Right: true, MM: 9}, {Head: "box", MM: 19}, {Head: "steps"}, {Head: "circuit, V", Right: true, MM: 14}, {Head: "bare to bare or metal, V", Right: true, MM: 17}, {Head: "class", MM: 12}, {Head: "gloves and tools", MM: 52}, {Head: "done by", MM: 18}}}
	for i, j := range q.Jobs {
		t.Rows = append(t.Rows, b.jobRow(i, j, q.Steps[j.From:j.To]))
	}
	b.Table(t)
	b.Small("Class A is up to 60 V DC, B above it. The voltage to metal is that after a first fault. Each step alone, with what is bare in it, is in the table assembly.csv.")
	b.stepPictures(b.e.Assembly.Model, q)
}

func (b *book) jobRow(i int, j assembly.Job, steps []assembly.Step) []page.Cell {
	var texts []string
	volts, high, class, kit := 0.0, 0.0, "A", ""
	hazard := false
	for _, s := range steps {
		texts = append(texts, s.Text)
		volts, high = max(volts, s.CircuitV), max(high, s.HighestV)
		hazard = hazard || s.Hazard
		if kit == "" || s.Class == "B" && class == "A" {
			class, kit = s.Class, s.Gloves+"; "+s.Tools
		}
	}
	row := page.Row(fmt.Sprint(i+1), j.Box, strings.Join(texts, " "), fixed(volts, 0), fixed(high, 0), class, kit, "")
	if hazard {
		row[5] = page.Cell{S: class + ", live", Bold: true, Tone: page.Poor}
	}
	return row
}

// stepRows has a line for each step.
func stepRows(e *check.Evaluation) [][]string {
	out := [][]string{{"step", "job", "box", "kind", "text", "bare", "circuit_v", "highest_v", "worst_pair", "worst_pair_v", "worst_pair_mm", "current_a", "class", "hazard", "gloves", "tools"}}
	q, err := sequence(e)
	if err != nil {
		return out
	}
	for i, s := range q.Steps {
		var bare []string
		for _, x := range s.Bare {
			bare = append(bare, x.ID)
		}
		pair, v, mm := "", "", ""
		if r := s.WithinReach; r != nil {
			pair, v, mm = r.A+" to "+r.B, round3(r.V), round3(r.DistanceMM)
		}
		out = append(out, []string{fmt.Sprint(i + 1), fmt.Sprint(s.Job + 1), s.Box, string(s.Kind), s.Text, strings.Join(bare, " "), round3(s.CircuitV), round3(s.HighestV), pair, v, mm, round3(s.CurrentA), s.Class, fmt.Sprint(s.Hazard), s.Gloves, s.Tools})
	}
	return out
}
