package view

import (
	"fmt"

	"stowbay/layout/assembly"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// Player goes through the steps of a sequence, forward and back. It never changes the plan.
type Player struct {
	Model *assembly.Model
	Order *assembly.Sequence
	Units Units
	at    int
}

// At is the index of the step shown.
func (p *Player) At() int { return p.at }

// Go shows a step, or the nearest one there is.
func (p *Player) Go(i int) { p.at = min(max(i, 0), len(p.Order.Steps)-1) }

// GoJob shows the first step of the job after this one, or the first step of this one or the one before.
func (p *Player) GoJob(by int) {
	js, now := p.Order.Jobs, p.Step().Job
	if by < 0 && p.at > js[now].From {
		by++
	}
	p.Go(js[min(max(now+by, 0), len(js)-1)].From)
}

// Step is the one shown.
func (p *Player) Step() *assembly.Step { return &p.Order.Steps[p.at] }

// Hazards counts the steps up to and with the one shown that are done at a bare hazardous voltage.
func (p *Player) Hazards() int {
	n := 0
	for _, s := range p.Order.Steps[:p.at+1] {
		if s.Hazard {
			n++
		}
	}
	return n
}

// Picture draws the box at the step shown; for a step that is in no box, the vehicle with what is worked on picked.
func (p *Player) Picture() *drawing.List {
	if l := drawing.Step(p.Model, p.Order, p.at); len(l.Items) > 0 {
		return l
	}
	marks := map[string]drawing.Mark{}
	for _, ref := range p.Step().Refs {
		marks[ref] |= drawing.Selected
	}
	return drawing.Plan(p.Model.Scene, drawing.Options{Marks: marks, Imperial: p.Units == Imperial,
		Off: drawing.LayerDimensions | drawing.LayerLabels | drawing.LayerLoads | drawing.LayerZones})
}

// StepKey is the key of a step's row in the list of steps.
func StepKey(i int) string { return fmt.Sprintf("step %d", i) }

// StepList lists the jobs and their steps; a row's key is [StepKey].
func (p *Player) StepList(width float64, fonts *paint.Fonts) *Page {
	w := newWriter(width, fonts)
	w.y = 4
	for _, j := range p.Order.Jobs {
		w.head(fonts.Cut(j.Title, 11, width-2*w.pad, true))
		for i := j.From; i < j.To; i++ {
			w.playStep(i, &p.Order.Steps[i], i == p.at)
		}
	}
	w.y += 8
	return w.done()
}

// stepRow is the height of a step's row in the list.
const stepRow = 22

func (w *writer) playStep(i int, s *assembly.Step, now bool) {
	top, role := w.y, RoleBody
	if now {
		w.fill(0, top, w.w, top+stepRow, RoleChosen)
		role = RoleName
	}
	w.text(w.pad+24, top+stepRow/2, RoleFaint, 11, drawing.East, fmt.Sprint(i+1))
	if s.Hazard {
		w.text(w.pad+36, top+stepRow/2, RoleBad, 12, drawing.Middle, "!")
	}
	w.text(w.pad+46, top+stepRow/2, role, 11.5, drawing.West, w.fonts.Cut(s.Text, 11.5, w.w-w.pad-54, now))
	w.y += stepRow
	w.row(top, StepKey(i), s.Text)
}

// LiveCaution stands beside every step of work on a pack.
const LiveCaution = "A pack is never off. Live work is for licensed people trained and equipped for the voltages stated. Cover whatever is not being worked on; no one works alone; stop when the pack in hand differs from what is shown. Local codes and the makers' data decide."

// StepFacts says what the step shown is, what is bare in it and what it calls for.
func (p *Player) StepFacts(width float64, fonts *paint.Fonts) *Page {
	w := newWriter(width, fonts)
	s := p.Step()
	w.y = 10
	w.text(w.pad, w.y+6, RoleFaint, 11.5, drawing.West, fmt.Sprintf("Step %d of %d", p.at+1, len(p.Order.Steps)))
	w.y += 18
	w.wrapped(w.pad, width-w.pad, RoleName, 14, s.Text, 0)
	w.y += 4
	w.danger(s, p.Model.Limits.TouchV)
	w.bareList(s)
	w.head("Voltages")
	w.fact("Highest, bare to bare or metal", fmt.Sprintf("%.0f V", s.HighestV), figure(s.HighestV > p.Model.Limits.TouchV))
	w.fact("Circuit worked on", fmt.Sprintf("%.0f V", s.CircuitV), figure(s.Hazard))
	w.reach(s, p.Units, p.Model.Limits.ToolMM)
	w.head("Gloves and tools")
	w.wrapped(w.pad, width-w.pad, RoleBody, 12, firstUpper(or(s.Gloves, "none called for by the voltage")), 0)
	w.wrapped(w.pad, width-w.pad, RoleBody, 12, "Tools: "+or(s.Tools, "any; nothing is bare"), 0)
	p.soFar(w)
	w.y += 4
	w.wrapped(w.pad, width-w.pad, RoleNear, 11.5, LiveCaution, 0)
	w.y += 8
	return w.done()
}

func figure(bad bool) drawing.Role {
	if bad {
		return RoleBad
	}
	return RoleFigure
}

func or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

// danger says in a word how the step stands to the hazardous voltage.
func (w *writer) danger(s *assembly.Step, limit float64) {
	switch {
	case s.Hazard:
		w.wrapped(w.pad, w.w-w.pad, RoleBad, 12.5, fmt.Sprintf("! Class %s: bare in a circuit above %.0f V DC", s.Class, limit), 0)
	case len(s.Bare) > 0:
		w.wrapped(w.pad, w.w-w.pad, RoleNear, 12.5, fmt.Sprintf("Class %s: bare, in no circuit above %.0f V DC", s.Class, limit), 0)
	default:
		w.wrapped(w.pad, w.w-w.pad, RoleGood, 12.5, fmt.Sprintf("Class %s: nothing is bare", s.Class), 0)
	}
}

func (w *writer) bareList(s *assembly.Step) {
	if len(s.Bare) == 0 {
		return
	}
	w.head("Bare, and the highest voltage from it")
	for _, b := range s.Bare {
		w.fact(b.ID, fmt.Sprintf("%.0f V", b.WorstV), RoleFigure)
	}
}

// fact sets a name at the left and what belongs to it at the right.
func (w *writer) fact(name, value string, role drawing.Role) {
	room := w.w - 2*w.pad - 8 - w.fonts.Width(value, 12, true)
	w.text(w.pad, w.y+8, RoleBody, 12, drawing.West, w.fonts.Cut(name, 12, room, false))
	w.text(w.w-w.pad, w.y+8, role, 12, drawing.East, value)
	w.y += 18
}

// reach says what a dropped tool can lie across.
func (w *writer) reach(s *assembly.Step, u Units, tool float64) {
	if s.WithinReach == nil {
		w.wrapped(w.pad, w.w-w.pad, RoleFaint, 11.5, fmt.Sprintf("No pair lies within %s, the length of a dropped tool.", u.Text(tool, "mm")), 0)
		return
	}
	r := s.WithinReach
	w.head(fmt.Sprintf("Within reach of a dropped tool of %s", u.Text(tool, "mm")))
	w.wrapped(w.pad, w.w-w.pad, RoleBody, 12, r.A+" and "+r.B, 0)
	w.fact("Apart", u.Text(r.DistanceMM, "mm"), RoleFigure)
	w.fact("Voltage", fmt.Sprintf("%.0f V", r.V), RoleFigure)
	amps := "not known"
	if s.CurrentA > 0 {
		amps = fmt.Sprintf("about %.1f kA", s.CurrentA/1000)
	}
	w.fact("Current through it", amps, RoleFigure)
}

// soFar counts the hazardous steps against the fewest that any order has.
func (p *Player) soFar(w *writer) {
	q := p.Order
	w.head("Steps at a bare hazardous voltage")
	w.fact("So far", fmt.Sprintf("%d of %d", p.Hazards(), q.HazardSteps), RoleFigure)
	w.fact("No order has fewer than", fmt.Sprint(q.LeastSteps), RoleFigure)
	w.fact("Highest in any step", fmt.Sprintf("%.0f V", q.HighestV), RoleFigure)
	w.fact("Covers off and on, of at least", fmt.Sprintf("%d of %d", q.CoverChanges, q.LeastCovers), RoleFigure)
	w.wrapped(w.pad, w.w-w.pad, RoleFaint, 11, firstUpper(q.How)+".", 0)
}
