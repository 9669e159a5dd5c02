package layout

import (
	"fmt"
	"slices"

	"stowbay/vehicles/record"
)

// Edit is a change of a plan as a value. Plans are never changed in place: applying an edit gives another plan
// that shares everything that stayed the same with the first.
type Edit interface {
	// Apply gives the plan with the edit made. Where the plan is not in the state that the edit starts from, or
	// the result would break a rule of the plan's fields, it gives an error and no plan.
	Apply(*Plan) (*Plan, error)

	// Inverse is the edit that takes back this one. What an [Append] adds to the build record stays.
	Inverse() Edit

	// Label says what the edit does, for the history list: "Move 3 modules".
	Label() string

	// Merge gives one edit that does the work of this one and of next after it, where that can be told.
	Merge(next Edit) (Edit, bool)
}

// batch is several edits made one after the other as one step.
type batch struct {
	text  string
	edits []Edit
}

// Together makes several edits one step with the label given. Each starts from the plan that the one before it leaves.
func Together(label string, edits ...Edit) Edit {
	b := &batch{text: label}
	for _, e := range edits {
		if in, ok := e.(*batch); ok {
			b.edits = append(b.edits, in.edits...)
		} else if e != nil {
			b.edits = append(b.edits, e)
		}
	}
	return b
}

// IsEmpty tells whether an edit changes nothing.
func IsEmpty(e Edit) bool {
	b, ok := e.(*batch)
	return e == nil || ok && len(b.edits) == 0
}

func (b *batch) Label() string { return b.text }

func (b *batch) Apply(p *Plan) (*Plan, error) {
	for _, e := range b.edits {
		q, err := e.Apply(p)
		if err != nil {
			return nil, err
		}
		p = q
	}
	return p, nil
}

func (b *batch) Inverse() Edit {
	inv := &batch{text: b.text}
	for _, e := range slices.Backward(b.edits) {
		inv.edits = append(inv.edits, e.Inverse())
	}
	return inv
}

func (b *batch) Merge(next Edit) (Edit, bool) {
	n, ok := next.(*batch)
	if !ok || len(n.edits) != len(b.edits) || !b.apart() || !n.apart() {
		return nil, false
	}
	out := &batch{text: b.text}
	for i, e := range b.edits {
		m, ok := e.Merge(n.edits[i])
		if !ok {
			return nil, false
		}
		out.edits = append(out.edits, m)
	}
	return out, true
}

// apart tells whether the edits of a batch work on different lists each, so that they may change places.
func (b *batch) apart() bool {
	seen := map[where]bool{}
	for _, e := range b.edits {
		s, ok := e.(interface{ where() where })
		if !ok || seen[s.where()] {
			return false
		}
		if k := s.where().Kind; k == boxSlot.kind || k == arrangementSlot.kind {
			return false // what is inside these are lists of their own
		}
		seen[s.where()] = true
	}
	return true
}

// Append adds entries to the end of the build record. What stands in the record is never taken out or changed:
// the inverse of an Append changes nothing.
type Append struct {
	Text    string `json:"label,omitempty"`
	Entries Build  `json:"entries"`
}

// Label implements [Edit].
func (e *Append) Label() string { return e.Text }

// Inverse implements [Edit]: an edit that changes nothing.
func (e *Append) Inverse() Edit { return &batch{text: e.Text} }

// Merge implements [Edit].
func (e *Append) Merge(next Edit) (Edit, bool) {
	n, ok := next.(*Append)
	if !ok {
		return nil, false
	}
	return &Append{Text: e.Text, Entries: e.Entries.plus(n.Entries)}, true
}

// Apply implements [Edit].
func (e *Append) Apply(p *Plan) (*Plan, error) {
	if ps := record.Check(&e.Entries); len(ps) > 0 {
		return nil, fmt.Errorf("build record: %w", record.Problems(ps))
	}
	q := *p
	old := Build{}
	if p.Build != nil {
		old = *p.Build
	}
	sum := old.plus(e.Entries)
	q.Build = &sum
	return &q, nil
}

// plus gives the record with more entries at its end. Neither record is changed.
func (b Build) plus(more Build) Build {
	return Build{
		Received: slices.Concat(b.Received, more.Received),
		Slots:    slices.Concat(b.Slots, more.Slots),
		Signed:   slices.Concat(b.Signed, more.Signed),
		Photos:   slices.Concat(b.Photos, more.Photos),
		Tests:    slices.Concat(b.Tests, more.Tests),
	}
}

// withoutAppends gives an edit without what it adds to the build record, and whether it adds anything.
func withoutAppends(e Edit) (rest Edit, added bool) {
	switch e := e.(type) {
	case *Append:
		return &batch{text: e.Text}, true
	case *batch:
		out := &batch{text: e.text}
		for _, inner := range e.edits {
			r, a := withoutAppends(inner)
			if added = added || a; !IsEmpty(r) {
				out.edits = append(out.edits, r)
			}
		}
		if !added {
			return e, false
		}
		return out, true
	}
	return e, false
}
