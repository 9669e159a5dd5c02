package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stowbay/layout"
	"stowbay/layout/restraint"
)

const boltCode = "EN 1993-1-8 table 3.4 with ISO 898-1 strengths; the accelerations' source as named"

// restraintRules ask whether every box stays where it is. They say nothing about the vehicle's own structure.
var restraintRules = []Rule{
	{"restraint.set", "boxes held against nothing in particular", "the local vehicle code as the designer names it", accelerationsChosen},
	{"restraint.feet", "a box that can turn or slide on its feet", "statics of a rigid body", feetHold},
	{"restraint.bolt", "a box that shears or pulls its bolts", boltCode, weakest(restraint.Bolt)},
	{"restraint.bearing", "bolts that tear through the foot or the frame", boltCode, weakest(restraint.BearingPlate, restraint.BearingFrame, restraint.TearOut)},
	{"restraint.bending", "a foot that bends off", "EN 1993-1-1 6.2.5, plastic; the foot as a cantilever is an assumption on the safe side", weakest(restraint.Bending)},
	{"restraint.weld", "a foot that breaks off its box", "EN 1993-1-8 4.5.3.3", weakest(restraint.Weld)},
	{"restraint.torque", "bolts left loose or stretched by their tightening", "T = K d F with K 0.20 (plain dry threads) and the proof load of ISO 898-1; keeping the joint shut is common practice", torques},
	{"restraint.frame", "feet bolted to metal that nobody has looked at", "donor survey", frameKnown},
}

// accelerationsChosen notes where nothing says what to hold the boxes against; it never puts a number in.
func accelerationsChosen(e *Evaluation) []Finding {
	if len(e.Scene.Boxes) == 0 {
		return nil
	}
	f := Finding{Severity: Notes, Subject: "plan"}
	r, want := e.Restraint, e.Plan.Settings.Restraint.Set
	switch {
	case !r.Chosen && want != "" && want != restraint.Own:
		f.Severity = Fails
		f.Text = fmt.Sprintf("There is no set of accelerations %q; the sets are %s, and %s with numbers of your own.", want, setNames(), restraint.Own)
	case !r.Chosen:
		f.Text = "No set of accelerations is chosen, so the mounts are not checked. Choose the set that your local vehicle code names, or enter its numbers; none is assumed."
	default:
		f.Severity, f.Text = e.setText(r.Set)
		f.Source = r.Set.Source
	}
	return []Finding{f}
}

func setNames() string {
	var out []string
	for _, s := range restraint.Sets() {
		out = append(out, s.ID)
	}
	return strings.Join(out, ", ")
}

// setText says what is checked against, and what weakens it.
func (e *Evaluation) setText(s restraint.Set) (Severity, string) {
	text := fmt.Sprintf("Boxes are held against %s.", s.Name)
	severity := Passes
	add := func(more string) { severity, text = Notes, text+" "+more }
	if d := e.Scene.Donor; d != nil && len(s.Categories) > 0 && !slices.Contains(s.Categories, d.Category) {
		add(fmt.Sprintf("It is written for %s; the donor's category is %s.", strings.Join(s.Categories, " and "), orNone(d.Category)))
	}
	if s.Known == restraint.FromMemory || s.Known == restraint.Restated {
		add(fmt.Sprintf("Its numbers are %s: compare them with the text in force before you rely on them.", s.Known))
	}
	if few := e.fewPoints(s.Points); few != "" {
		add(few)
	}
	if silent := s.Silent(); len(silent) > 0 {
		var words []string
		for _, d := range silent {
			words = append(words, string(d))
		}
		add(fmt.Sprintf("It states nothing for %s, so nothing is checked there.", strings.Join(words, ", ")))
	}
	return severity, text
}

// fewPoints names the boxes with fewer bolts than a set wants.
func (e *Evaluation) fewPoints(points int) string {
	var ids []string
	for _, b := range e.Restraint.Boxes {
		if b.Bolts() < points {
			ids = append(ids, fmt.Sprintf("%s has %d", b.Scene.Box.ID, b.Bolts()))
		}
	}
	if len(ids) == 0 {
		return ""
	}
	return fmt.Sprintf("It wants at least %d points of attachment a box: %s.", points, strings.Join(ids, ", "))
}

func orNone(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

func feetHold(e *Evaluation) []Finding {
	var out []Finding
	for _, b := range e.Restraint.Boxes {
		id, bolts := b.Scene.Box.ID, b.Bolts()
		at := b.CG
		f := Finding{Severity: Fails, Subject: id, Refs: []string{id}, Place: &at}
		switch {
		case bolts == 0:
			f.Text = fmt.Sprintf("Box %s has no feet: nothing holds it. Add feet.", id)
		case !b.Held:
			f.Text = fmt.Sprintf("The %d bolts of box %s leave it a way to turn: add feet until at least three bolts are not on one line.", bolts, id)
		default:
			f.Severity = Passes
			f.Text = fmt.Sprintf("The %d bolts in %d feet of box %s leave it no way to move.", bolts, len(b.Feet), id)
		}
		out = append(out, f)
	}
	return out
}

// weakest returns a run that looks, box by box, at the worst of some ways in which a foot gives.
func weakest(ms ...restraint.Mode) func(*Evaluation) []Finding {
	return func(e *Evaluation) []Finding {
		var out []Finding
		for _, b := range e.Restraint.Boxes {
			var worst restraint.Peak
			for _, m := range ms {
				if p, ok := b.Peak(m); ok && (worst.Load == nil || p.Use.Ratio > worst.Use.Ratio) {
					worst = p
				}
			}
			if worst.Load != nil {
				out = append(out, e.used(b, worst))
			}
		}
		return out
	}
}

func (e *Evaluation) used(b *restraint.Box, p restraint.Peak) Finding {
	box, foot := b.Scene.Box.ID, p.Load.Foot
	at := foot.At
	pct := 100 * p.Use.Ratio
	if math.IsInf(pct, 0) {
		pct = 9999 // nothing is there to carry the load
	}
	f := Finding{Severity: Fails, Subject: layout.FootRef(box, foot.ID), Refs: []string{box, layout.FootRef(box, foot.ID)}, Place: &at, Required: 100, Actual: pct, Unit: "%", Compare: "at most",
		Source: ruleSource(p.Mode) + "; " + e.Restraint.Set.Source}
	text := fmt.Sprintf("Box %s, %.0f kg, thrown %s at %g g: foot %s is %s with %.1f kN and sheared with %.1f kN, which uses %.0f %% of what its %s.",
		box, b.Kg, p.Case.Direction, p.Case.G, foot.ID, pulled(p.Load.PullN), math.Abs(p.Load.PullN)/1000, p.Load.ShearN/1000, pct, bears(p.Mode))
	f = f.judge(text)
	if f.Severity == Fails {
		f.Text += " " + b.Remedy(p)
	}
	return f
}

func pulled(n float64) string {
	if n < 0 {
		return "pressed"
	}
	return "pulled"
}

func bears(m restraint.Mode) string {
	return map[restraint.Mode]string{
		restraint.Bolt: "bolt holds", restraint.BearingPlate: "hole bears", restraint.BearingFrame: "hole in the frame bears",
		restraint.TearOut: "edge holds", restraint.Bending: "plate bears in bending", restraint.Weld: "weld holds",
	}[m]
}

func ruleSource(m restraint.Mode) string {
	switch m {
	case restraint.Bending:
		return "EN 1993-1-1 6.2.5"
	case restraint.Weld:
		return "EN 1993-1-8 4.5.3.3"
	case restraint.TearOut:
		return "shear-out along two planes, common practice"
	}
	return "EN 1993-1-8 table 3.4"
}

// torques looks at every foot's preload: not beyond the proof load, and no less than the pull on a bolt.
func torques(e *Evaluation) []Finding {
	var out []Finding
	for _, b := range e.Restraint.Boxes {
		for i := range b.Feet {
			f := &b.Feet[i]
			if proof := f.Class.ProofMPa(f.Thread) * f.Thread.AreaMM2; f.PreloadN > 0.9*proof {
				out = append(out, torqueFinding(b, f, 100*f.PreloadN/proof, 90, "at most",
					fmt.Sprintf("%.0f N m on %s %s stretch it to %.0f %% of its proof load (the most that leaves no lasting stretch) with dry threads; %.0f N m give 75 %%.",
						f.TorqueNm, f.Thread.Name, f.Class.Name, 100*f.PreloadN/proof, restraint.TorqueNm(f.Thread, restraint.PreloadN(f.Thread, f.Class), restraint.NutFactor))))
			}
		}
		out = append(out, opening(b)...)
	}
	return notPassing(out)
}

func torqueFinding(b *restraint.Box, f *restraint.Foot, actual, required float64, compare, text string) Finding {
	id, at := b.Scene.Box.ID, f.At
	return Finding{Severity: Warns, Subject: layout.FootRef(id, f.ID), Refs: []string{id, layout.FootRef(id, f.ID)}, Place: &at, Unit: "%", Required: required, Actual: actual, Compare: compare,
		Text: fmt.Sprintf("Box %s, foot %s: %s", id, f.ID, text)}
}

// opening is about the bolt of a box that the loads pull hardest, against its preload.
func opening(b *restraint.Box) []Finding {
	var worst *restraint.FootLoad
	ratio := func(l *restraint.FootLoad) float64 { return 100 * l.BoltPullN / l.Foot.PreloadN }
	for i := range b.Cases {
		for k := range b.Cases[i].Feet {
			if l := &b.Cases[i].Feet[k]; worst == nil || ratio(l) > ratio(worst) {
				worst = l
			}
		}
	}
	if worst == nil {
		return nil
	}
	f := torqueFinding(b, worst.Foot, ratio(worst), 100, "at most",
		fmt.Sprintf("the hardest pull on a bolt is %.1f kN, its preload at %.0f N m %.1f kN.", worst.BoltPullN/1000, worst.Foot.TorqueNm, worst.Foot.PreloadN/1000))
	if f.Margin() >= 0 {
		f.Severity = Passes
	} else {
		f.Text += " The joint opens under it: tighten it more if the bolt allows, or take a larger bolt."
	}
	return []Finding{f}
}

// frameKnown notes the feet under which no frame member is surveyed.
func frameKnown(e *Evaluation) []Finding {
	var out []Finding
	for _, b := range e.Restraint.Boxes {
		var bare []string
		var first *restraint.Foot
		for i := range b.Feet {
			if f := &b.Feet[i]; f.FrameMM == 0 {
				bare = append(bare, f.ID)
				if first == nil {
					first = f
				}
			}
		}
		id := b.Scene.Box.ID
		switch {
		case len(bare) > 0:
			at := first.At
			out = append(out, Finding{Severity: Notes, Subject: id, Refs: []string{id}, Place: &at,
				Text: fmt.Sprintf("Box %s: no surveyed frame member lies at the bolts of %s, so the vehicle's metal there is not checked. Bolt to a rail or cross-member, or state the thickness.", id, feetWords(bare))})
		case len(b.Feet) > 0:
			out = append(out, Finding{Severity: Passes, Subject: id, Text: fmt.Sprintf("Box %s: the vehicle's metal is known at every foot.", id)})
		}
	}
	return out
}

func feetWords(ids []string) string {
	if len(ids) == 1 {
		return "foot " + ids[0]
	}
	return "feet " + strings.Join(ids[:len(ids)-1], ", ") + " and " + ids[len(ids)-1]
}
