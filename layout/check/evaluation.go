package check

import (
	"fmt"
	"slices"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/cooling"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
	"stowbay/layout/restraint"
	"stowbay/layout/roadload"
	"stowbay/vehicles"
)

// Evaluation is one arrangement with every subject computed, every reading and every finding. It is never
// changed once made; readings and findings depend on the arrangement alone, not on the order of edits.
type Evaluation struct {
	Plan        *layout.Plan
	Arrangement *layout.Arrangement
	Scene       *layout.Scene
	Electric    *electric.Result
	Assembly    *assembly.Result
	Mass        *mass.Result
	Restraint   *restraint.Result
	Cooling     *cooling.Result
	Road        *roadload.Result
	Readings    []layout.Reading
	Findings    []Finding

	fits fitCache
}

// Evaluate computes an arrangement. What prev, the evaluation before an edit, already worked out for boxes that
// are the same is taken over, which keeps readings live during a drag; prev may be nil.
func Evaluate(p *layout.Plan, a *layout.Arrangement, lib *vehicles.Library, prev *Evaluation) *Evaluation {
	e := &Evaluation{Plan: p, Arrangement: a}
	e.Scene = layout.Resolve(p, a, lib, prev.scene())
	e.fits = fitAll(e.Scene, prev.fitted(lib))
	e.Electric = electric.Evaluate(e.Scene, prev.electric())
	e.Assembly = assembly.Evaluate(e.Scene, circuit(e.Electric), prev.assembly())
	e.Mass = mass.Evaluate(e.Scene, conductors(e.Electric), prev.mass())
	e.Restraint = restraint.Evaluate(e.Scene, weights(e.Mass), prev.restraint())
	e.Cooling = cooling.Evaluate(e.Scene, e.moduleHeat())
	e.Road = e.road()
	e.Readings = e.readings()
	e.Findings = make([]Finding, 0, prev.count()+8)
	for _, r := range Table() {
		for _, f := range r.Run(e) {
			e.Findings = append(e.Findings, r.complete(f))
		}
	}
	e.Findings = gravestFirst(e.Findings)
	return e
}

// gravestFirst puts findings in the order of their severity, and those of one severity in the order of the table.
func gravestFirst(fs []Finding) []Finding {
	out := make([]Finding, 0, len(fs))
	for _, s := range severities {
		for i := range fs {
			if fs[i].Severity == s {
				out = append(out, fs[i])
			}
		}
	}
	return out
}

// count is how many findings there are, none where there is no evaluation.
func (e *Evaluation) count() int {
	if e == nil {
		return 0
	}
	return len(e.Findings)
}

func (e *Evaluation) scene() *layout.Scene {
	if e == nil {
		return nil
	}
	return e.Scene
}

func (e *Evaluation) electric() *electric.Result {
	if e == nil {
		return nil
	}
	return e.Electric
}

func (e *Evaluation) assembly() *assembly.Result {
	if e == nil {
		return nil
	}
	return e.Assembly
}

func (e *Evaluation) mass() *mass.Result {
	if e == nil {
		return nil
	}
	return e.Mass
}

func (e *Evaluation) restraint() *restraint.Result {
	if e == nil {
		return nil
	}
	return e.Restraint
}

// weights hands the boxes' masses and centres of gravity to their mounts.
func weights(r *mass.Result) []restraint.Weight {
	out := make([]restraint.Weight, len(r.Boxes))
	for i := range r.Boxes {
		b := &r.Boxes[i]
		out[i] = restraint.Weight{Box: b.ID, Kg: b.Body.Kg.Value, CG: b.Body.CG()}
	}
	return out
}

// conductors hands the links and cables that the electrics routed to the mass ledger.
func conductors(r *electric.Result) []mass.Entry {
	out := make([]mass.Entry, 0, len(r.Cables))
	for i, c := range r.Cables {
		e := mass.Entry{ID: fmt.Sprintf("cables/%d", i+1), Group: mass.Cables, Name: fmt.Sprintf("cable %s to %s, %.0f mm²", c.From, c.To, c.SectionMM2)}
		if c.Kind == "links" {
			e.Group, e.Of, e.Name = mass.Links, c.From, fmt.Sprintf("links in %s, %.0f mm²", c.From, c.SectionMM2)
		}
		e.Count, e.Kg, e.PlusMinus, e.Known, e.At, e.PlaceMM = 1, c.MassKg, c.MassKg/4, mass.Estimate, c.Centre, 50
		e.Note = fmt.Sprintf("%.2f m along the computed route", c.LengthMM/1000)
		out = append(out, e)
	}
	return out
}

// complete fills in what a finding takes from its rule.
func (r Rule) complete(f Finding) Finding {
	f.Rule = r.Name
	if f.Source == "" {
		f.Source = r.Source
	}
	return f
}

// severities are all there are, the gravest first.
var severities = []Severity{Fails, Warns, Notes, Passes}

func (s Severity) rank() int { return slices.Index(severities, s) }

// Reading returns the reading with that key of the whole arrangement, and whether there is one.
func (e *Evaluation) Reading(key string) (layout.Reading, bool) {
	i := slices.IndexFunc(e.Readings, func(r layout.Reading) bool { return r.Key == key && r.Of == "" })
	if i < 0 {
		return layout.Reading{}, false
	}
	return e.Readings[i], true
}

// Value returns a reading's value, or 0.
func (e *Evaluation) Value(key string) float64 {
	r, _ := e.Reading(key)
	return r.Value
}

// Counts returns how many findings there are of each severity.
func (e *Evaluation) Counts() map[Severity]int {
	n := map[Severity]int{}
	for _, f := range e.Findings {
		n[f.Severity]++
	}
	return n
}

// Marks returns the gravest severity of the findings at each thing concerned, for highlighting.
func (e *Evaluation) Marks() map[string]Severity {
	m := map[string]Severity{}
	for _, f := range slices.Backward(e.Findings) {
		if f.Severity != Fails && f.Severity != Warns {
			continue
		}
		for _, ref := range f.Refs {
			m[ref] = f.Severity
		}
	}
	return m
}

func (e *Evaluation) readings() []layout.Reading {
	var out []layout.Reading
	out = append(out, e.fitReadings()...)
	out = append(out, e.Electric.Readings()...)
	out = append(out, e.Assembly.Readings()...)
	out = append(out, e.Mass.Readings()...)
	out = append(out, e.Restraint.Readings()...)
	out = append(out, e.Cooling.Readings()...)
	return append(out, e.Road.Readings()...)
}
