package assembly

import (
	"context"
	"fmt"

	"stowbay/layout"
)

// writer writes a sequence down while it is carried out on the bench.
type writer struct {
	ctx   context.Context
	b     *bench
	q     Sequence
	exact bool // every order so far was found exactly
	layed bool // some joints had to be made before others because modules stand on top
}

func newWriter(ctx context.Context, m *Model, title string) *writer {
	return &writer{ctx: ctx, b: newBench(m), q: Sequence{Title: title}, exact: true}
}

func (w *writer) job(title, box string) {
	w.endJob()
	w.q.Jobs = append(w.q.Jobs, Job{Title: title, Box: box, From: len(w.q.Steps), To: len(w.q.Steps)})
}

func (w *writer) endJob() {
	if n := len(w.q.Jobs); n > 0 {
		w.q.Jobs[n-1].To = len(w.q.Steps)
	}
}

// step writes a step as things stand on the bench.
func (w *writer) step(k Kind, box *layout.BoxScene, volts float64, text string, refs ...string) {
	s := Step{Kind: k, Job: len(w.q.Jobs) - 1, Text: text, Refs: refs, CircuitV: volts}
	if box != nil {
		s.Box = box.Box.ID
	}
	w.b.look(&s)
	w.q.Steps = append(w.q.Steps, s)
	if s.Hazard {
		w.q.HazardSteps++
	}
	if k == Cover || k == Uncover {
		w.q.CoverChanges++
	}
	w.q.HighestV = max(w.q.HighestV, s.HighestV)
}

func (w *writer) uncover(i int) {
	c := &w.b.m.Conductors[i]
	w.b.uncover(i)
	w.step(Uncover, c.Box, 0, fmt.Sprintf("Take the cover off %s.", c.ID), c.ID)
}

func (w *writer) cover(i int) {
	c := &w.b.m.Conductors[i]
	w.step(Cover, c.Box, 0, fmt.Sprintf("Cover %s and its bolt head.", c.ID), c.ID)
	w.b.cover(i)
}

// sides are the two ends of a joint, the one in the circuit of lower voltage first.
func (w *writer) sides(j Joint) (first, second int) {
	a, b := &w.b.m.Conductors[j.A], &w.b.m.Conductors[j.B]
	if w.b.volts(w.b.around(a.String, a.piece)) <= w.b.volts(w.b.around(b.String, b.piece)) {
		return j.A, j.B
	}
	return j.B, j.A
}

// join makes a bolted joint.
func (w *writer) join(str, at int) {
	m := w.b.m
	j := m.Joints[m.tracks[str].seams[at].joint]
	first, second := w.sides(j)
	w.job(jobTitle(j, m), boxOf(j, m))
	w.uncover(first)
	w.uncover(second)
	w.b.made[str][at] = true
	w.step(FitLink, j.Box, 0, fmt.Sprintf("Fit the %s from %s.", j.Kind, m.ID(j)), m.Conductors[j.A].ID, m.Conductors[j.B].ID)
	for _, i := range [2]int{first, second} {
		c := &m.Conductors[i]
		w.step(Torque, c.Box, 0, fmt.Sprintf("Tighten %s%s.", c.ID, torqueWords(c)), c.ID)
	}
	w.cover(first)
	w.cover(second)
	w.q.LeastCovers += 4
}

// part opens a bolted joint.
func (w *writer) part(str, at int) {
	m := w.b.m
	j := m.Joints[m.tracks[str].seams[at].joint]
	w.job("Open the joint "+m.ID(j), boxOf(j, m))
	w.uncover(j.A)
	w.uncover(j.B)
	for _, i := range [2]int{j.A, j.B} {
		w.step(Loosen, m.Conductors[i].Box, 0, fmt.Sprintf("Loosen %s.", m.Conductors[i].ID), m.Conductors[i].ID)
	}
	w.step(TakeOffLink, j.Box, 0, fmt.Sprintf("Take off the %s from %s.", j.Kind, m.ID(j)), m.Conductors[j.A].ID, m.Conductors[j.B].ID)
	w.b.made[str][at] = false
	first, second := w.sides(j)
	w.cover(second)
	w.cover(first)
	w.q.LeastCovers += 4
}

func jobTitle(j Joint, m *Model) string { return fmt.Sprintf("Join %s", m.ID(j)) }

func boxOf(j Joint, m *Model) string {
	if j.Box != nil {
		return j.Box.Box.ID
	}
	return m.Conductors[j.A].Box.Box.ID
}

func torqueWords(c *Conductor) string {
	switch {
	case c.TorqueNm > 0 && c.Bolt != "":
		return fmt.Sprintf(" (%s) to %g N m", c.Bolt, c.TorqueNm)
	case c.TorqueNm > 0:
		return fmt.Sprintf(" to %g N m", c.TorqueNm)
	}
	return ": the torque is not stated; take it from the maker's data first"
}

// end closes the sequence.
func (w *writer) end() (*Sequence, error) {
	w.endJob()
	w.q.Proved = w.exact && !w.layed
	switch {
	case w.q.Proved:
		w.q.How = "proved: no other order of the joints has fewer steps at a bare hazardous voltage, or as few at a lower voltage, with fuse and contactor first, what lies under a module before that module, and cables from box to box last"
	case w.exact:
		w.q.How = fmt.Sprintf("best within each layer of modules; no order at all has fewer than %d hazardous steps", w.q.LeastSteps)
	default:
		w.q.How = fmt.Sprintf("a good order, not proved; no order at all has fewer than %d hazardous steps", w.q.LeastSteps)
	}
	return &w.q, w.ctx.Err()
}
