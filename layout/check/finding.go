// Package check runs every engineering subject over an arrangement and holds the one table of rules that turns
// results into findings. It computes and compares; it never calls a layout safe or approved.
package check

import (
	"github.com/golang/geo/r3"
)

// Severity orders findings.
type Severity string

// The severities, gravest first.
const (
	Fails  Severity = "fails"
	Warns  Severity = "warns"
	Notes  Severity = "notes"
	Passes Severity = "passes"
)

// Finding is what a rule says about one subject.
type Finding struct {
	Rule     string // the rule's name
	Severity Severity
	Subject  string   // box/module id, box, bay, axle, load case, "pack", "vehicle"
	Refs     []string // everything concerned, for highlighting; includes the subject where it is drawn
	Required float64
	Actual   float64
	Compare  string // how actual has to stand to required: "at least", "at most", "" where there are no numbers
	Unit     string
	Text     string     // one sentence in plain words
	Source   string     // the rule's source; "common practice" or "from memory" where that is so
	Place    *r3.Vector // where in the vehicle
	To       *r3.Vector // other end where a distance is meant
}

// Margin returns how far actual is on the right side of required, in the finding's unit.
func (f Finding) Margin() float64 {
	if f.Compare == "at most" {
		return f.Required - f.Actual
	}
	return f.Actual - f.Required
}

// mending adds, to what does not hold, what would mend it.
func (f Finding) mending(how string) Finding {
	if f.Severity == Fails || f.Severity == Warns {
		f.Text += " " + how
	}
	return f
}

// Rule is one row of the table.
type Rule struct {
	Name   string // stable, as in JSON: "fit.overlap"
	Guards string // what it guards against, in a sentence
	Source string
	Run    func(*Evaluation) []Finding
}
