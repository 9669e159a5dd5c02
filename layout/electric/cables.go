package electric

import (
	"fmt"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// cableCover is the mass of insulation, lugs and clips on top of a cable's copper (an estimate).
const cableCover = 0.3

// Run is a length of conductor for the mass ledger and the cut list.
type Run struct {
	ID         string // the plan's cable id where it has one
	Kind       string // "cable" between boxes and gear, "links" for all links of a string in one box
	From, To   string // boxes or gear
	Path       []r3.Vector
	LengthMM   float64
	SectionMM2 float64
	MassKg     float64
	Centre     r3.Vector // centre of mass
}

// runs lists the strings' cables, the plan's other cables and the links by box.
func (r *Result) runs() {
	named := map[string]bool{}
	for i := range r.Strings {
		s := &r.Strings[i]
		s.eachLink(func(l *Link) {
			if l.Between() {
				r.Cables = append(r.Cables, r.stringRun(s, l, named))
			}
		})
		for _, p := range s.Passes {
			if run, ok := s.linkRun(p); ok {
				r.Cables = append(r.Cables, run)
			}
		}
	}
	for i := range r.Scene.Arrangement.Cables {
		if c := &r.Scene.Arrangement.Cables[i]; !named[c.ID] {
			r.otherRun(c)
		}
	}
}

func (r *Result) stringRun(s *String, l *Link, named map[string]bool) Run {
	run := Run{ID: fmt.Sprintf("%s: %s to %s", s.ID, l.endFrom(), l.endTo()), Kind: "cable", From: l.endFrom(), To: l.endTo(),
		Path: l.Path, LengthMM: l.LengthMM, SectionMM2: l.SectionMM2}
	if c, _ := r.cable(l.endFrom(), l.endTo()); c != nil {
		run.ID = c.ID
		named[c.ID] = true
	}
	run.weigh(1 + cableCover)
	return run
}

func (run *Run) weigh(cover float64) {
	run.MassKg = CopperKg(run.LengthMM, run.SectionMM2) * cover
	run.Centre = pathCentre(run.Path)
}

// pathCentre is the centre of a line of even weight.
func pathCentre(path []r3.Vector) r3.Vector {
	var sum r3.Vector
	length := 0.0
	for i := 1; i < len(path); i++ {
		d := path[i].Sub(path[i-1]).Norm()
		sum = sum.Add(path[i].Add(path[i-1]).Mul(d / 2))
		length += d
	}
	if length == 0 {
		if len(path) > 0 {
			return path[0]
		}
		return sum
	}
	return sum.Mul(1 / length)
}

// linkRun is all the links of a string inside a box on one passage.
func (s *String) linkRun(p Passage) (Run, bool) {
	run := Run{ID: fmt.Sprintf("%s: links in %s", s.ID, p.Box.Box.ID), Kind: "links", From: p.Box.Box.ID, To: p.Box.Box.ID}
	var sum r3.Vector
	for _, l := range s.Links[p.From : p.To-1] {
		run.LengthMM += l.LengthMM
		run.SectionMM2 = l.SectionMM2
		run.MassKg += CopperKg(l.LengthMM, l.SectionMM2)
		sum = sum.Add(pathCentre(l.Path).Mul(l.LengthMM))
	}
	if run.LengthMM == 0 {
		return run, false
	}
	run.Centre = sum.Mul(1 / run.LengthMM)
	return run, true
}

// otherRun is a cable of the plan that no string uses: inverter to charger, say.
func (r *Result) otherRun(c *layout.Cable) {
	a, okA := r.endPlace(c.From)
	b, okB := r.endPlace(c.To)
	for _, end := range []struct {
		id string
		ok bool
	}{{c.From, okA}, {c.To, okB}} {
		if !end.ok {
			r.problem(UnknownEnd, c.ID, nil, fmt.Sprintf("Cable %s ends at %s, which is neither a box nor gear in this arrangement.", c.ID, end.id))
		}
	}
	if !okA || !okB {
		return
	}
	mid := alongAxesPath(a, b)
	if len(c.Via) > 0 {
		mid = via(c, false)
	}
	run := Run{ID: c.ID, Kind: "cable", From: c.From, To: c.To, SectionMM2: c.SectionMM2, Path: append(append([]r3.Vector{a}, mid...), b)}
	if run.SectionMM2 == 0 {
		run.SectionMM2 = r.Sections.Cable.SectionMM2
	}
	run.LengthMM = pathLength(run.Path)
	run.weigh(1 + cableCover)
	r.Cables = append(r.Cables, run)
}

func (r *Result) endPlace(id string) (r3.Vector, bool) {
	if b := r.Scene.Box(id); b != nil {
		return centreOf(b), true
	}
	for _, g := range r.allGear() {
		if g.ID == id {
			return g.CG, true
		}
	}
	return r3.Vector{}, false
}
