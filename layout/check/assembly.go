package check

import (
	"fmt"
	"strings"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/electric"
)

const (
	touchLimit   = "UN Regulation 100; 49 CFR 571.305 S3 (60 V DC); length of the part: common practice"
	segmentLimit = "race-car rule EV.5.1.2 (below 120 V DC, at most 6 MJ)"
)

var assemblyRules = []Rule{
	{"assembly.bridge", "a dropped tool that welds itself across live parts and throws metal", touchLimit, bridgeable},
	{"assembly.leaves", "a conductor that leaves its box live, with nothing in the box to open it", "common practice; race-car rule EV.5.4", leavesLive},
	{"assembly.segment", "a part of the pack too large to be worked on as a piece", segmentLimit, maintenanceSegments},
	{"assembly.break_link", "work in a box that cannot be brought below a hazardous voltage", "UN Regulation 100; 49 CFR 571.305 S3 (60 V DC)", breakLinks},
	{"assembly.reach", "a joint that cannot be reached when its turn comes, or ten years on", practice, buriedJoints},
	{"assembly.crash", "conductors that stay live between boxes after a crash", practice, liveAfterCrash},
	{"assembly.torque", "a joint tightened by guess", practice, torquesStated},
}

// circuit hands the strings that the electrics routed to the assembly.
func circuit(r *electric.Result) assembly.Circuit {
	c := assembly.Circuit{Inertia: r.Protection.Inertia}
	used := map[*layout.GearBody]bool{}
	for _, p := range r.Protection.Poles {
		used[p.Contactor] = true
	}
	for i := range r.Strings {
		s := &r.Strings[i]
		out := assembly.Chain{ID: s.ID, Members: make([]assembly.Member, len(s.Modules))}
		for k, m := range s.Modules {
			out.Members[k] = assembly.Member{Body: m.Body, Neg: m.Neg, Pos: m.Pos}
		}
		for _, p := range s.Passes {
			out.Passages = append(out.Passages, passage(r, i, p, used))
		}
		poles(r, i, &out)
		for _, d := range r.Protection.Disconnects {
			if d.String == i && d.Gear != nil && d.After > 0 {
				out.Disconnect, out.After = d.Gear, d.After
			}
		}
		c.Strings = append(c.Strings, out)
	}
	return c
}

// passage is a string's way through one box: its fuse at the positive end unless its role says otherwise, and the box's
// own contactors at the ends that have none.
func passage(r *electric.Result, i int, p electric.Passage, used map[*layout.GearBody]bool) assembly.Passage {
	out := assembly.Passage{Box: p.Box, From: p.From, To: p.To}
	for _, f := range r.Fuses {
		if f.Box == p.Box && f.String == i && f.Fuse != nil && !used[f.Fuse] {
			used[f.Fuse] = true
			hang(&out, f.Fuse, f.Fuse.Placed.Role == "negative")
		}
	}
	negative := true
	for _, g := range p.Box.Gear {
		if g.Gear.Kind == "contactor" && g.Placed.Role == "box" && !used[g] {
			used[g] = true
			hang(&out, g, negative)
			negative = !negative
		}
	}
	return out
}

func hang(p *assembly.Passage, g *layout.GearBody, negative bool) {
	if negative {
		p.Negative = append(p.Negative, g)
		return
	}
	p.Positive = append(p.Positive, g)
}

// poles hangs a string's own contactors on its two ends, and connectors outermost on every end.
func poles(r *electric.Result, i int, c *assembly.Chain) {
	for _, p := range r.Protection.Poles {
		switch {
		case p.String != i || p.Contactor == nil:
		case p.Pole == "negative":
			hang(&c.Passages[0], p.Contactor, true)
		default:
			hang(&c.Passages[len(c.Passages)-1], p.Contactor, false)
		}
	}
	taken := map[*layout.GearBody]bool{}
	for k := range c.Passages {
		p := &c.Passages[k]
		for _, g := range p.Box.Gear {
			if g.Gear.Kind == "connector" && !taken[g] && i == 0 {
				taken[g] = true
				hang(p, g, true)
				hang(p, g, false)
				break
			}
		}
	}
}

func bridgeable(e *Evaluation) []Finding {
	var out []Finding
	for i := range e.Assembly.Bridges {
		out = append(out, bridgeFinding(&e.Assembly.Bridges[i], e.Assembly.Model.Limits))
	}
	return out
}

func bridgeFinding(b *assembly.BoxBridges, l assembly.Limits) Finding {
	id := b.Box.Box.ID
	f := Finding{Severity: Passes, Subject: id, Refs: []string{id}, Required: l.TouchV, Compare: "at most", Unit: "V"}
	if len(b.Pairs) == 0 {
		f.Text = fmt.Sprintf("Open and uncovered, nothing in box %s is within %g mm of something at another voltage.", id, l.ToolMM)
		return f
	}
	w := &b.Pairs[0]
	from, to := w.Ends()
	f.Actual, f.Place, f.To, f.Refs = w.V, &from, &to, append(f.Refs, w.A.Of)
	other := "the box's " + w.Metal + ", once some other fault has put the far end of the string on it"
	if w.Metal == "case" {
		other = "the module's own case, once some other fault has put the far end of the string on it"
	}
	if w.B != nil {
		other, f.Refs = w.B.ID, append(f.Refs, w.B.Of)
	}
	f.Text = fmt.Sprintf("With the lid of box %s off and nothing covered, a loose metal part of %g mm can bridge %s; the worst is %s to %s: %.0f V, %.0f mm apart%s. %s %s all of them.",
		id, l.ToolMM, counted(len(b.Pairs), "bare pair"), w.A.ID, other, w.V, w.MM, currentWords(w), coverWords(b), verb(b.Covers, "removes", "remove"))
	if b.Hazards > 0 {
		f.Severity = Notes
		f.Text += fmt.Sprintf(" Of the pairs %d %s above %g V: take the covers off only at the joint in hand, and cap the bolt heads.", b.Hazards, verb(b.Hazards, "is", "are"), l.TouchV)
	}
	return f
}

func coverWords(b *assembly.BoxBridges) string {
	if b.Proved {
		return counted(b.Covers, "cover")
	}
	return fmt.Sprintf("%s (no fewer than %d)", counted(b.Covers, "cover"), b.LeastCovers)
}

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func currentWords(w *assembly.Bridge) string {
	if w.CurrentA() <= 0 {
		return ""
	}
	return fmt.Sprintf(", up to about %.1f kA", w.CurrentA()/1000)
}

// leavesLive looks at both ends of every passage that leads on to another box or to the vehicle.
func leavesLive(e *Evaluation) []Finding {
	var out []Finding
	for _, c := range e.Assembly.Model.Circuit.Strings {
		for i := range c.Passages {
			p := &c.Passages[i]
			out = append(out, leaving(e, &c, p, "negative", p.Negative)...)
			out = append(out, leaving(e, &c, p, "positive", p.Positive)...)
		}
	}
	if len(out) == 0 && len(e.Assembly.Model.Circuit.Strings) > 0 {
		out = append(out, Finding{Severity: Passes, Subject: "pack", Text: "Every conductor that leaves a box passes a fuse or a contactor in that box first."})
	}
	return out
}

func leaving(e *Evaluation, c *assembly.Chain, p *assembly.Passage, pole string, gear []*layout.GearBody) []Finding {
	for _, g := range gear {
		if g.Gear.Kind == "fuse" || g.Gear.Kind == "contactor" {
			return nil
		}
	}
	v := 0.0
	for _, m := range c.Members[p.From:p.To] {
		v += m.Body.Module.MaxV()
	}
	centre := centreOfBox(p.Box)
	f := Finding{Severity: Notes, Subject: p.Box.Box.ID, Refs: []string{p.Box.Box.ID}, Place: &centre, Actual: v, Unit: "V",
		Text: fmt.Sprintf("The %s end of string %s leaves box %s with neither a fuse nor a contactor in the box: nothing in the box can cut off what is connected there. This box alone puts up to %.0f V on it against its other end. Keep that end covered, and connect it last.", pole, c.ID, p.Box.Box.ID, v)}
	return []Finding{f}
}

func maintenanceSegments(e *Evaluation) []Finding {
	return segmentFindings(e.Assembly.Segments, Notes, func(b *assembly.Breaks) string {
		return fmt.Sprintf("%.0f V and %.1f MJ stay in one piece", b.Segment.V, b.Segment.J/1e6)
	})
}

func breakLinks(e *Evaluation) []Finding {
	return segmentFindings(e.Assembly.Touch, Notes, func(b *assembly.Breaks) string {
		return fmt.Sprintf("%.0f V stay in one piece", b.Segment.V)
	})
}

func segmentFindings(list []assembly.Breaks, bad Severity, what func(*assembly.Breaks) string) []Finding {
	var out []Finding
	for i := range list {
		b := &list[i]
		boxes := segmentBoxes(b.Segment)
		f := Finding{Severity: Passes, Subject: boxes, Refs: b.Segment.Refs, Required: b.Rule.V, Actual: b.Segment.V, Compare: "at most", Unit: "V"}
		centre := centreOfBox(b.Segment.Boxes[0])
		f.Place = &centre
		f.Text = fmt.Sprintf("With contactors open, service links out and box connectors unplugged, %s in %s (string %s).", what(b), boxes, b.Segment.String)
		if !b.Holds() {
			f.Severity = bad
			f.Text += " " + breakWords(b)
		}
		out = append(out, f)
	}
	return out
}

func segmentBoxes(s assembly.Segment) string {
	ids := make([]string, len(s.Boxes))
	for i, b := range s.Boxes {
		ids[i] = b.Box.ID
	}
	if len(ids) == 1 {
		return "box " + ids[0]
	}
	return "boxes " + strings.Join(ids, ", ")
}

func breakWords(b *assembly.Breaks) string {
	limit := fmt.Sprintf("at most %g V", b.Rule.V)
	if b.Rule.Below {
		limit = fmt.Sprintf("less than %g V", b.Rule.V)
	}
	if b.Rule.J > 0 {
		limit += fmt.Sprintf(" and at most %g MJ", b.Rule.J/1e6)
	}
	if b.Cannot {
		return fmt.Sprintf("A single module has more than the limit (%s), so no link can help.", limit)
	}
	heavy := ""
	if b.Heavy {
		limit = fmt.Sprintf("less than %g V", b.Rule.V)
		heavy = fmt.Sprintf(" A single module holds more than %g MJ, so that part of the rule cannot be met.", b.Rule.J/1e6)
	}
	if len(b.After) == 0 {
		return "That is " + limit + "." + heavy
	}
	var after []string
	for _, m := range b.After {
		after = append(after, m.Body.ID)
	}
	return fmt.Sprintf("For %s it takes %s, after %s; the largest part then has %.0f V and %.1f MJ.%s", limit, counted(len(after), "removable link"), strings.Join(after, ", "), b.WorstV, b.WorstJ/1e6, heavy)
}

func buriedJoints(e *Evaluation) []Finding {
	var out []Finding
	list := e.Assembly.Buried
	for from := 0; from < len(list); {
		to := from
		for to < len(list) && list[to].Conductor.Box == list[from].Conductor.Box {
			to++
		}
		out = append(out, buriedIn(list[from:to]))
		from = to
	}
	if len(out) == 0 && len(e.Assembly.Model.Joints) > 0 {
		out = append(out, Finding{Severity: Passes, Subject: "pack", Text: "No module stands over a joint of another one."})
	}
	return out
}

func buriedIn(list []assembly.Buried) Finding {
	at, id := list[0].Conductor.At, list[0].Conductor.Box.Box.ID
	f := Finding{Severity: Warns, Subject: id, Refs: []string{id}, Place: &at, Actual: float64(len(list)), Compare: "at most"}
	var first []string
	for i, b := range list {
		f.Refs = append(f.Refs, b.Conductor.Of)
		if i < 3 {
			first = append(first, b.Conductor.ID+" under "+b.Under.ID)
		}
	}
	more := ""
	if len(list) > 3 {
		more = fmt.Sprintf(" and %d more", len(list)-3)
	}
	f.Text = fmt.Sprintf("In box %s %s under modules of the layer above: %s%s. These joints have to be made before the upper modules go in, and an upper module has to come out again to reach them.",
		id, counted(len(list), "bolted end")+verb(len(list), " lies", " lie"), strings.Join(first, ", "), more)
	return f
}

func liveAfterCrash(e *Evaluation) []Finding {
	var out []Finding
	for _, s := range e.Assembly.Crash.Live {
		out = append(out, crashFinding(e, s))
	}
	return out
}

func crashFinding(e *Evaluation, s assembly.Segment) Finding {
	centre := centreOfBox(s.Boxes[0])
	f := Finding{Severity: Notes, Subject: segmentBoxes(s), Refs: s.Refs, Place: &centre, Actual: s.V, Unit: "V"}
	chain := "After the inertia switch has opened the contactors"
	if e.Assembly.Crash.Inertia == nil {
		chain = "Should something open the contactors (no inertia switch is placed)"
	}
	f.Text = fmt.Sprintf("%s, string %s stays live in %s, up to %.0f V.", chain, s.String, segmentBoxes(s), s.V)
	var bad []string
	for _, c := range s.Cables {
		bad = append(bad, fmt.Sprintf("the cable from box %s to box %s", c.From.Box.ID, c.To.Box.ID))
	}
	if s.OpenNeg {
		bad = append(bad, "the lead at its negative end, which no contactor holds")
	}
	if s.OpenPos {
		bad = append(bad, "the lead at its positive end, which no contactor holds")
	}
	if len(bad) > 0 && s.V > classAV {
		f.Severity = Warns
		f.Text += " Live outside the boxes then: " + strings.Join(bad, "; ") + ". A contactor at each end of every box leaves the cables dead."
	}
	return f
}

// torquesStated counts the bolted ends of joints for which no torque is known.
func torquesStated(e *Evaluation) []Finding {
	m := e.Assembly.Model
	n, all := 0, 0
	var first []string
	for _, j := range m.Joints {
		for _, i := range [2]int{j.A, j.B} {
			if all++; m.Conductors[i].TorqueNm <= 0 {
				if n++; len(first) < 3 {
					first = append(first, m.Conductors[i].ID)
				}
			}
		}
	}
	if all == 0 {
		return nil
	}
	if n > len(first) {
		first = append(first, "and so on")
	}
	if n == 0 {
		return []Finding{{Severity: Passes, Subject: "pack", Text: fmt.Sprintf("The torque of every bolted end is stated (%d).", all)}}
	}
	return []Finding{{Severity: Warns, Subject: "pack", Required: 0, Actual: float64(n), Compare: "at most",
		Text: fmt.Sprintf("No torque is stated for %d of %d bolted ends (%s): take it from the maker's data before anything is tightened.", n, all, strings.Join(first, ", "))}}
}
